package design

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// This file reads designs that are meant to take all memory or all time, each in a process of its own whose use is measured.

const hostileKey = "DESIGN_HOSTILE" // set in a child process: the file that it reads

func TestMain(m *testing.M) {
	if path := os.Getenv(hostileKey); path != "" {
		_, err := ReadFile(path)
		fmt.Println(err)
		os.Exit(0)
	}
	os.Exit(m.Run())
}

const hostileMagnet = "[[magnet]]\nname = \"m\"\nshape = \"block\"\nsize = %s\ncenter = [\"0 mm\",\"0 mm\",\"0 mm\"]\nmagnetized = [0,0,1]\ngrade = \"N42\"\n"

const hostileSteel = "[[steel]]\nname = \"s\"\nshape = \"block\"\nsize = [\"9 mm\",\"9 mm\",\"9 mm\"]\ncenter = [\"0 mm\",\"0 mm\",\"0 mm\"]\ncurve_file = \"curve.csv\"\n"

func hostileWinding(turns string) string {
	return "[[wound]]\nname = \"w\"\ncore = { size = [\"60 mm\",\"56 mm\",\"58 mm\"] }\naxis = \"x\"\nwidth = \"60 mm\"\nturns = " + turns + "\nwire = { gauge = \"16 SWG\" }\npacking = 0.72\nmaterial = \"annealed-wire\"\n"
}

// parts is n magnets, those of one place when apart is 0.
func hostileParts(n int, apart float64) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "[[magnet]]\nname=\"%d\"\nshape=\"block\"\nsize=[\"1 mm\",\"1 mm\",\"1 mm\"]\ncenter=[\"%g mm\",\"0 mm\",\"0 mm\"]\nmagnetized=[0,0,1]\ngrade=\"N42\"\n", i, apart*float64(i))
	}
	return b.String()
}

// Each is refused with what is wrong, in bounded memory and time: 182 MB and 0.8 s of one processor were measured at most. The bounds leave room for
// another machine and another garbage collector.
func TestHostileDesigns(t *testing.T) {
	deep := func(open, close string, n int) string {
		return "x = " + strings.Repeat(open, n) + strings.Repeat(close, n) + "\n"
	}
	size := func(x string) string {
		return fmt.Sprintf(hostileMagnet, `["`+x+`","10 mm","10 mm"]`)
	}
	cases := []struct {
		name, text string
		want       string
		curve      func(path string) error // makes the curve file
		sparse     int64                   // length of the file, holes behind the text
	}{
		{name: "a million parts", text: hostileParts(40_000, 2), want: "MiB long"}, // the length refuses it: a million are 100 MiB
		{name: "a file of 1 GB", text: "format = 1\n", sparse: 1 << 30, want: "1024 MiB long"},
		{name: "all the parts that a file can hold", text: hostileParts(29_000, 2), want: "over 10000 parts"},
		{name: "all in one place", text: hostileParts(9_000, 0), want: `magnet.1: overlaps magnet "0" (line 2)`},
		{name: "all in one name", text: strings.Repeat(fmt.Sprintf(hostileMagnet, `["1 mm","1 mm","1 mm"]`), 9_000), want: "is used twice"},
		{name: "deep arrays", text: deep("[", "]", 1_000_000), want: "x"},
		{name: "deep arrays without an end", text: deep("[", "", 3_000_000), want: "hostile.toml:2"},
		{name: "deep tables", text: deep("{a=", "", 1_000_000), want: "hostile.toml:2"},
		{name: "deep keys", text: strings.Repeat("a.", 1_000_000) + "a = 1\n", want: "hostile.toml:2: a.a.a"},
		{name: "deep headers", text: "[" + strings.Repeat("a.", 1_000_000) + "a]\n", want: "hostile.toml:2: a.a.a"},
		{name: "many headers", text: strings.Repeat("[[magnet]]\n", 300_000), want: "magnet"},
		{name: "many keys", text: func() string {
			var b strings.Builder
			for i := range 300_000 {
				fmt.Fprintf(&b, "k%d=1\n", i)
			}
			return b.String()
		}(), want: "k0"},
		{name: "a name of 3 MB", text: strings.Replace(size("9 mm"), `"m"`, `"`+strings.Repeat("m", 3_000_000)+`"`, 1), want: "hostile.toml:3: magnet.mmm"},
		{name: "a title of 3 MB that is no text", text: "title = [" + strings.Repeat(`"a",`, 700_000) + "]\n", want: "title"},
		{name: "a size of 3 MB", text: size(strings.Repeat("9", 3_000_000) + " mm"), want: "hostile.toml:5: magnet.m.size"},
		{name: "a size of 1e308", text: size("1e308 mm"), want: "hostile.toml:5: magnet.m.size.x"},
		{name: "a size of 1e999", text: size("1e999 mm"), want: "hostile.toml:5: magnet.m.size.x"},
		{name: "a size of 1e-308", text: size("1e-308 mm"), want: "hostile.toml:5: magnet.m.size.x"},
		{name: "no number", text: size("nan mm"), want: "hostile.toml:5: magnet.m.size.x"},
		{name: "infinite", text: size("inf mm"), want: "hostile.toml:5: magnet.m.size.x"},
		{name: "1e9 turns", text: hostileWinding("1000000000"), want: "hostile.toml:7: wound.w.turns"},
		{name: "1e30 turns", text: hostileWinding("1" + strings.Repeat("0", 30)), want: "hostile.toml:7"},
		{name: "turns of 3 MB", text: hostileWinding(strings.Repeat("9", 3_000_000)), want: "hostile.toml:7"},
		{name: "a comment of 3 MB", text: "#" + strings.Repeat("x", 3_000_000) + "\n", want: "no magnet"},
		{name: "many probes", text: size("9 mm") + strings.Repeat("[[probe]]\nname=\"a\"\nat=[\"0 mm\",\"0 mm\",\"0 mm\"]\n", 80_000), want: "is used twice"},
		{name: "many joints", text: size("9 mm") + strings.Repeat("[[joint]]\nbetween=[\"m\",\"n\"]\nthickness=\"1 um\"\n", 60_000), want: "joint"},
		{name: "a curve of 1 GB", text: hostileSteel, want: "hostile.toml:7: steel.s.curve_file: ", curve: func(path string) error { return sparse(path, nil, 1<<30) }},
		{name: "a curve of 4 MB of one line", text: hostileSteel, want: "hostile.toml:7: steel.s.curve_file: ", curve: func(path string) error { return sparse(path, []byte("H_A_per_m,B_T\n"), MaxFileBytes) }},
		{name: "a curve that is a pipe", text: hostileSteel, want: "hostile.toml:7: steel.s.curve_file: ", curve: pipe},
		{name: "a curve that is a folder", text: hostileSteel, want: "hostile.toml:7: steel.s.curve_file: ", curve: func(path string) error { return os.Mkdir(path, 0o755) }},
		{name: "a curve elsewhere", text: hostileSteel, want: "hostile.toml:7: steel.s.curve_file: ", curve: func(path string) error { return os.Symlink("/dev/zero", path) }},
	}
	var largest int64
	var longest time.Duration
	for _, c := range cases {
		folder := t.TempDir()
		path := filepath.Join(folder, "hostile.toml")
		text := []byte("format = 1\n" + c.text)
		if err := sparse(path, text, max(c.sparse, int64(len(text)))); err != nil {
			t.Fatal(err)
		}
		if c.curve != nil {
			if err := c.curve(filepath.Join(folder, "curve.csv")); err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
		}
		child := exec.Command(os.Args[0])
		child.Env = append(os.Environ(), hostileKey+"="+path)
		stop := time.AfterFunc(3*time.Minute, func() { child.Process.Kill() })
		out, err := child.CombinedOutput()
		stop.Stop()
		said := strings.ReplaceAll(string(out), folder+string(filepath.Separator), "")
		if err != nil || !strings.Contains(said, c.want) || len(said) > 20_000 {
			t.Errorf("%s: %v, want %q, got %.600q", c.name, err, c.want, said)
		}
		used, bytes := child.ProcessState.UserTime(), peakBytes(child.ProcessState)
		if bytes > 600<<20 || used > 10*time.Second {
			t.Errorf("%s: took %d MB and %v", c.name, bytes>>20, used)
		}
		largest, longest = max(largest, bytes), max(longest, used)
	}
	t.Logf("%d designs: at most %d MB and %v", len(cases), largest>>20, longest)
}

// sparse writes a file that begins with text and is long.
func sparse(path string, text []byte, long int64) error {
	if err := os.WriteFile(path, text, 0o644); err != nil {
		return err
	}
	return os.Truncate(path, long)
}
