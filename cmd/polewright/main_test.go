package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"polewright": main})
}

func TestScripts(t *testing.T) {
	scripts, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(scripts) < 5 {
		t.Fatalf("found %d scripts (%v)", len(scripts), err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits":       exits,
			"sparse":      sparse,
			"manyparts":   manyParts,
			"bytes":       writeBytes,
			"width":       width,
			"nothingleft": nothingLeft,
		},
	})
}

// exits CODE COMMAND ARGS... runs a command that must end with the exit status.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// sparse FILE BYTES makes a file of that length that takes no room on the disk.
func sparse(ts *testscript.TestScript, neg bool, args []string) {
	n, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Check(f.Truncate(n))
	ts.Check(f.Close())
}

// manyparts FROM TO N appends spacers to a design until it has n parts more.
func manyParts(ts *testscript.TestScript, neg bool, args []string) {
	n, err := strconv.Atoi(args[2])
	ts.Check(err)
	var b strings.Builder
	b.WriteString(ts.ReadFile(args[0]))
	for i := range n {
		fmt.Fprintf(&b, "\n[[spacer]]\nname=\"s%d\"\nshape=\"block\"\nsize=[\"1 mm\",\"1 mm\",\"1 mm\"]\ncenter=[\"%d mm\",\"%d mm\",\"0 mm\"]\nmaterial=\"brass\"\n", i, 200+3*(i%100), 3*(i/100))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(b.String()), 0o666))
}

// bytes FILE QUOTED writes bytes given as a Go string literal.
func writeBytes(ts *testscript.TestScript, neg bool, args []string) {
	s, err := strconv.Unquote(`"` + args[1] + `"`)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(s), 0o666))
}

// width FILE N checks that no line has more columns.
func width(ts *testscript.TestScript, neg bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	for i, line := range strings.Split(ts.ReadFile(args[0]), "\n") {
		if c := len([]rune(line)); c > n {
			ts.Fatalf("line %d has %d columns: %s", i+1, c, line)
		}
	}
}

// nothingleft checks that no temporary file is left in the working folder.
func nothingLeft(ts *testscript.TestScript, neg bool, args []string) {
	left, err := filepath.Glob(ts.MkAbs(".*.part"))
	ts.Check(err)
	if len(left) > 0 {
		ts.Fatalf("left over: %v", left)
	}
}
