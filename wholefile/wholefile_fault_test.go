package wholefile

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// This file breaks off the writing of a file in every way and place, and looks at what is left: the old file or the new one.

const (
	folderKey = "WHOLEFILE_FOLDER" // set in a child process: where it writes
	pieces    = 5
)

var (
	oldText = bytes.Repeat([]byte("old\n"), 1000)
	newText = bytes.Repeat([]byte("new\n"), pieces*1000)
)

func TestMain(m *testing.M) {
	if folder := os.Getenv(folderKey); folder != "" {
		os.Exit(child(folder))
	}
	os.Exit(m.Run())
}

// child replaces the file piece by piece; after each it says so and waits to be told to go on.
func child(folder string) int {
	limitFiles()
	root, err := os.OpenRoot(folder)
	if err != nil {
		fmt.Println(err)
		return 1
	}
	answer := bufio.NewReader(os.Stdin)
	step := func() { fmt.Println("step"); answer.ReadString('\n') }
	step()
	err = Write(root, "file", true, func(w io.Writer) error {
		step()
		for i := range pieces {
			if _, err := w.Write(newText[i*len(newText)/pieces : (i+1)*len(newText)/pieces]); err != nil {
				return err
			}
			step()
		}
		return nil
	})
	if err != nil {
		fmt.Println(err)
		return 1
	}
	step()
	return 0
}

// started is a child that writes in a folder; next waits for its next step and is false, with what it said, when there is none.
type started struct {
	cmd *exec.Cmd
	in  io.Writer
	out *bufio.Reader
}

func start(t *testing.T, folder string, env ...string) *started {
	t.Helper()
	c := &started{cmd: exec.Command(os.Args[0])}
	c.cmd.Env = append(append(os.Environ(), folderKey+"="+folder), env...)
	in, err1 := c.cmd.StdinPipe()
	out, err2 := c.cmd.StdoutPipe()
	if err := errors.Join(err1, err2, c.cmd.Start()); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.cmd.Process.Kill(); c.cmd.Wait() })
	c.in, c.out = in, bufio.NewReader(out)
	return c
}

func (c *started) next() (said string, ok bool) {
	line, err := c.out.ReadString('\n')
	return strings.TrimSpace(line), err == nil && line == "step\n"
}

func (c *started) goOn() { io.WriteString(c.in, "\n") }

func folderWithOld(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "file"), oldText, 0o640); err != nil {
		t.Fatal(err)
	}
	return folder
}

func content(t *testing.T, folder string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(folder, "file"))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// names lists a folder.
func names(t *testing.T, folder string) (list []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

// Killed at any step, a program leaves the old file whole until the new one is, and at most a hidden file beside it.
func TestKilled(t *testing.T) {
	const steps = 1 + 1 + pieces + 1 // before, the hidden file made, each piece, after
	for kill := 1; kill <= steps; kill++ {
		folder := folderWithOld(t)
		c := start(t, folder)
		for i := 1; i <= kill; i++ {
			if said, ok := c.next(); !ok {
				t.Fatalf("step %d: %q", i, said)
			}
			if i < kill {
				c.goOn()
			}
		}
		c.cmd.Process.Kill()
		c.cmd.Wait()
		want := oldText
		if kill == steps {
			want = newText
		}
		if !bytes.Equal(content(t, folder), want) {
			t.Errorf("killed at step %d of %d: the file is neither the old nor, at the end, the new one", kill, steps)
		}
		list := names(t, folder)
		if hidden := len(list) - 1; hidden > 1 || (kill == 1 || kill == steps) && hidden > 0 {
			t.Errorf("killed at step %d of %d: %q", kill, steps, list)
		}
		if i := slices.IndexFunc(list, func(n string) bool {
			return n != "file" && !(strings.HasPrefix(n, ".file.") && strings.HasSuffix(n, ".part"))
		}); i >= 0 {
			t.Errorf("killed at step %d: %q", kill, list)
		}
	}
}

// An error while writing, whatever it is, leaves the old file and nothing beside it.
func TestWriterFails(t *testing.T) {
	broken := errors.New("broken")
	for done := 0; done <= pieces; done++ {
		folder := folderWithOld(t)
		root, err := os.OpenRoot(folder)
		if err != nil {
			t.Fatal(err)
		}
		err = Write(root, "file", true, func(w io.Writer) error {
			for i := range done {
				if _, err := w.Write(newText[:i*100]); err != nil {
					return err
				}
			}
			return broken
		})
		root.Close()
		if !errors.Is(err, broken) || !bytes.Equal(content(t, folder), oldText) || len(names(t, folder)) != 1 {
			t.Errorf("after %d pieces: %v, %q", done, err, names(t, folder))
		}
	}
}

// A new file keeps the permissions of the one that it replaces, and does not replace one that it may not.
func TestReplaces(t *testing.T) {
	folder := folderWithOld(t)
	root, err := os.OpenRoot(folder)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	write := func(w io.Writer) error { _, err := w.Write(newText); return err }
	if err := Write(root, "file", false, write); !errors.Is(err, fs.ErrExist) || !bytes.Equal(content(t, folder), oldText) {
		t.Errorf("over a file that is there: %v", err)
	}
	before, err := os.Stat(filepath.Join(folder, "file"))
	if err != nil {
		t.Fatal(err)
	}
	if err := Write(root, "file", true, write); err != nil || !bytes.Equal(content(t, folder), newText) {
		t.Errorf("replacing: %v", err)
	}
	if after, err := os.Stat(filepath.Join(folder, "file")); err != nil || after.Mode() != before.Mode() {
		t.Errorf("%v, %v before", after.Mode(), before.Mode())
	}
	if err := Write(root, "other", false, write); err != nil {
		t.Errorf("a new file: %v", err)
	}
	if list := names(t, folder); len(list) != 2 {
		t.Errorf("%q", list)
	}
	if err := Write(root, "../outside", false, write); err == nil {
		t.Error("a file outside of the folder")
	}
}
