package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"debug/buildinfo"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	cdx "github.com/CycloneDX/cyclonedx-go"
)

const here = runtime.GOOS + "/" + runtime.GOARCH

// small is a release of a program of a few lines, which knows as much of the commands as the release asks of it.
func small(t *testing.T, source string) *edition {
	t.Helper()
	root, folder := t.TempDir(), t.TempDir()
	for name, text := range map[string]string{
		"go.mod":                 "module polewright\n\ngo 1.26\n",
		"cmd/polewright/main.go": source,
		"LICENSE":                "licence", "README.md": "read", "CHANGELOG.md": "changes", "NOTATION.md": "signs", thirdParty: "of others",
	} {
		path := filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	e := &edition{root: root, version: "v0.1.0", commit: "0123456789ab", at: time.Unix(1_800_000_000, 0).UTC(), folder: folder,
		program: map[string]string{}, papers: filepath.Join(folder, "papers")}
	if err := e.build(here, filepath.Join(t.TempDir(), "programs")); err != nil {
		t.Fatal(err)
	}
	return e
}

const source = `package main

import (
	"fmt"
	"os"
)

var release, commit string

func main() {
	if len(os.Args) > 3 && os.Args[1] == "man" {
		os.MkdirAll(os.Args[3], 0o777)
		os.WriteFile(os.Args[3]+"/polewright.1", []byte("page of "+release+" "+commit), 0o666)
		return
	}
	fmt.Println(os.Args)
}
`

// An archive holds the program, which may be run, and all that goes with it, with the time of the commit and nobody's name; and so twice.
func TestArchives(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the release is not built on Windows") // the program here has the ending .exe
	}
	e := small(t, source)
	if err := e.writePapers(here); err != nil {
		t.Fatal(err)
	}
	common := []string{"CHANGELOG.md", "LICENSE", "NOTATION.md", "README.md", "third-party.txt"}
	shells := []string{"completion/_polewright", "completion/polewright.bash", "completion/polewright.fish", "man/man1/polewright.1"}
	for _, c := range []struct {
		system, ending string
		want           []string
	}{
		{"linux/amd64", ".tar.gz", slices.Concat(common, shells, []string{"polewright"})},
		{"darwin/arm64", ".tar.gz", slices.Concat(common, shells, []string{"polewright"})},
		{"windows/amd64", ".zip", slices.Concat(common, []string{"polewright"})},
	} {
		e.program[c.system] = e.program[here]
		if err := e.archive(c.system); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(e.name(c.system, c.ending))
		if err != nil {
			t.Fatal(err)
		}
		list := map[string][]byte{}
		unpacked := func(name string, mode os.FileMode, at time.Time, r io.Reader) {
			short, ok := strings.CutPrefix(name, "polewright_v0.1.0/")
			want := os.FileMode(0o644)
			if short == "polewright" {
				want = 0o755
			}
			if !ok || mode != want || !at.Equal(e.at) {
				t.Errorf("%s: %s has mode %o, time %v", c.system, name, mode, at)
			}
			if list[short], err = io.ReadAll(r); err != nil {
				t.Fatal(err)
			}
		}
		if c.ending == ".zip" {
			z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range z.File {
				r, err := f.Open()
				if err != nil {
					t.Fatal(err)
				}
				unpacked(f.Name, f.Mode(), f.Modified, r)
			}
		} else {
			g, err := gzip.NewReader(bytes.NewReader(data))
			if err != nil {
				t.Fatal(err)
			}
			if g.Name != "" || !g.ModTime.IsZero() {
				t.Errorf("%s: gzip holds %q, %v", c.system, g.Name, g.ModTime)
			}
			for r := tar.NewReader(g); ; {
				h, err := r.Next()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatal(err)
				}
				if h.Uid != 0 || h.Gid != 0 || h.Uname != "" || h.Gname != "" {
					t.Errorf("%s: %s belongs to %d %q, %d %q", c.system, h.Name, h.Uid, h.Uname, h.Gid, h.Gname)
				}
				unpacked(h.Name, h.FileInfo().Mode(), h.ModTime, r)
			}
		}
		if got := slices.Sorted(maps.Keys(list)); !slices.Equal(got, slices.Sorted(slices.Values(c.want))) {
			t.Errorf("%s holds %v", c.system, got)
		}
		if program, err := os.ReadFile(e.program[here]); err != nil || !bytes.Equal(list["polewright"], program) {
			t.Errorf("%s: another program, %v", c.system, err)
		}
		if page, ok := list["man/man1/polewright.1"]; ok && string(page) != "page of v0.1.0 0123456789ab" {
			t.Errorf("%s: the manual says %q", c.system, page)
		}
		if err := e.archive(c.system); err != nil {
			t.Fatal(err)
		}
		if again, err := os.ReadFile(e.name(c.system, c.ending)); err != nil || !bytes.Equal(again, data) {
			t.Errorf("%s: packed twice, the bytes differ (%v)", c.system, err)
		}
	}
}

// A package is an ar archive of three files (deb(5)). It holds the program, its documents, manual pages and completions, all root's; and so twice.
// That it installs, and what lintian says, is a person's to see.
func TestDebian(t *testing.T) {
	e := small(t, source)
	if err := e.writePapers(here); err != nil {
		t.Fatal(err)
	}
	e.program["linux/arm64"] = e.program[here]
	var before []byte
	for range 2 {
		if err := e.debian("linux/arm64"); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(filepath.Join(e.folder, "polewright_0.1.0_arm64.deb"))
		if err != nil {
			t.Fatal(err)
		}
		if before != nil && !bytes.Equal(data, before) {
			t.Error("packed twice, the bytes differ")
		}
		before = data
	}
	rest, ok := bytes.CutPrefix(before, []byte("!<arch>\n"))
	if !ok {
		t.Fatal("no ar archive")
	}
	parts := map[string][]byte{}
	for len(rest) >= 60 {
		var size int
		if _, err := fmt.Sscan(string(rest[48:58]), &size); err != nil || len(rest) < 60+size {
			t.Fatalf("%q: %v", rest[:60], err)
		}
		parts[strings.TrimRight(string(rest[:16]), " /")] = rest[60 : 60+size]
		rest = rest[min(len(rest), 60+size+size%2):]
	}
	if string(parts["debian-binary"]) != "2.0\n" || parts["control.tar.gz"] == nil {
		t.Errorf("holds %v", slices.Sorted(maps.Keys(parts)))
	}
	g, err := gzip.NewReader(bytes.NewReader(parts["data.tar.gz"]))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for r := tar.NewReader(g); ; {
		h, err := r.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if h.Uname != "root" || h.Gname != "root" || !h.ModTime.Equal(e.at) {
			t.Errorf("%s belongs to %s, %s, time %v", h.Name, h.Uname, h.Gname, h.ModTime)
		}
		if h.Typeflag == tar.TypeDir {
			continue
		}
		name := strings.TrimPrefix(h.Name, ".")
		if run := name == "/usr/bin/polewright"; h.Mode&0o777 != 0o644 && !run || h.Mode&0o777 != 0o755 && run {
			t.Errorf("%s has mode %o", name, h.Mode)
		}
		names = append(names, name)
	}
	slices.Sort(names)
	if want := []string{
		"/usr/bin/polewright",
		"/usr/share/bash-completion/completions/polewright",
		"/usr/share/doc/polewright/CHANGELOG.md",
		"/usr/share/doc/polewright/NOTATION.md",
		"/usr/share/doc/polewright/README.md",
		"/usr/share/doc/polewright/changelog.gz",
		"/usr/share/doc/polewright/copyright",
		"/usr/share/doc/polewright/third-party.txt",
		"/usr/share/fish/vendor_completions.d/polewright.fish",
		"/usr/share/lintian/overrides/polewright",
		"/usr/share/man/man1/polewright.1.gz",
		"/usr/share/zsh/vendor-completions/_polewright",
	}; !slices.Equal(names, want) {
		t.Errorf("holds %v", names)
	}
}

// The bill is read back by the library that wrote it, with each module, its version, licence and hash.
func TestBill(t *testing.T) {
	e := small(t, source)
	hash := strings.Repeat("A", 43) + "="
	if err := os.WriteFile(filepath.Join(e.root, "go.sum"), []byte("example.org/a v1.0.0 h1:"+hash+"\nexample.org/a v1.0.0/go.mod h1:"+hash+"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	e.modules = []module{
		{path: "example.org/a", version: "v1.0.0", licences: []licence{{id: "MIT"}, {id: "BSD-3-Clause"}}},
		{path: "std", version: "go1.26", licences: []licence{{id: "BSD-3-Clause"}}},
	}
	if err := e.bill(); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(filepath.Join(e.folder, "polewright_v0.1.0.cdx.json"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var b cdx.BOM
	if err := cdx.NewBOMDecoder(f, cdx.BOMFileFormatJSON).Decode(&b); err != nil {
		t.Fatal(err)
	}
	list := *b.Components
	if b.SpecVersion != cdx.SpecVersion1_6 || len(list) != 2 || list[0].PackageURL != "pkg:golang/example.org/a@v1.0.0" ||
		(*list[0].Licenses)[0].Expression != "BSD-3-Clause AND MIT" || (*list[0].Hashes)[0].Value != strings.Repeat("0", 64) || list[1].Hashes != nil {
		t.Errorf("%+v", b)
	}
	e.modules[0].version = "v1.0.1"
	if err := e.bill(); err == nil || !strings.Contains(err.Error(), "no hash of example.org/a v1.0.1") {
		t.Errorf("a module without a hash: %v", err)
	}
}

func TestChecksums(t *testing.T) {
	e := small(t, source)
	if err := os.WriteFile(filepath.Join(e.folder, "a.txt"), []byte("abc"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := e.checksums(); err != nil {
		t.Fatal(err)
	}
	// FIPS 180-4, the example "abc".
	want := "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  a.txt\n"
	if got, err := os.ReadFile(filepath.Join(e.folder, "SHA256SUMS")); err != nil || string(got) != want {
		t.Errorf("%q, %v", got, err)
	}
}

// Each fault of a program stops the release.
func TestCheck(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the faults are those of a program for Linux")
	}
	e := small(t, source)
	if err := e.check(here); err == nil || !strings.Contains(err.Error(), "names only 0 modules") {
		t.Errorf("a program without modules: %v", err)
	}
	if err := os.Truncate(e.program[here], largest+1); err != nil {
		t.Fatal(err)
	}
	if err := e.check(here); err == nil || !strings.Contains(err.Error(), "has 40000001 bytes") {
		t.Errorf("a large program: %v", err)
	}
	other := "linux/arm64"
	if here == other {
		other = "linux/amd64"
	}
	e = small(t, source)
	e.program[other] = e.program[here]
	if err := e.check(other); err == nil || !strings.Contains(err.Error(), "was built with GOARCH="+runtime.GOARCH) {
		t.Errorf("a program for another system: %v", err)
	}
	if err := os.WriteFile(e.program[here], []byte("no program"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := e.check(here); err == nil || !strings.Contains(err.Error(), "says nothing of how it was built") {
		t.Errorf("no program: %v", err)
	}
	// This test is a program with modules, and without -trimpath.
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if info, err := buildinfo.ReadFile(self); err != nil || len(info.Deps) == 0 {
		t.Fatalf("%v, %v", info, err)
	}
	e.program[here] = self
	if err := e.check(here); err == nil {
		t.Error("a program built otherwise is taken")
	}
}

// The same source in another folder, compiled anew, is the same program; so are other words in the environment.
func TestSameBytes(t *testing.T) {
	var sums []string
	for range 2 {
		t.Setenv("GOCACHE", t.TempDir())
		t.Setenv("GOFLAGS", "-race")
		e := small(t, source)
		data, err := os.ReadFile(e.program[here])
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte(e.root)) {
			t.Error("the program holds the folder in which it was built")
		}
		sums = append(sums, fmt.Sprintf("%x", sha256.Sum256(data)))
	}
	if sums[0] != sums[1] {
		t.Error("built twice, the programs differ")
	}
}
