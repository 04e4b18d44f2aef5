package wholefile

import (
	"bytes"
	"os"
	"os/exec"
	"os/signal"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// Set in a child process: the most bytes of a file; that it may no more than anybody.
const (
	limitKey  = "WHOLEFILE_LIMIT"
	nobodyKey = "WHOLEFILE_NOBODY"
)

// limitFiles lets no file of this process grow beyond the limit: what a full disk does at that byte (setrlimit(2), RLIMIT_FSIZE).
func limitFiles() {
	if most, err := strconv.ParseUint(os.Getenv(limitKey), 10, 64); err == nil {
		signal.Ignore(syscall.SIGXFSZ)
		syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: most, Max: most})
	}
	if os.Getenv(nobodyKey) != "" && os.Geteuid() == 0 { // root may write everywhere
		const nobody = 65534
		if err := syscall.Setuid(nobody); err != nil {
			panic(err)
		}
	}
}

// A disk that is full at any byte leaves the old file, nothing beside it, and an error.
func TestFullDisk(t *testing.T) {
	for _, most := range []int{0, 1, len(newText) / 2, len(newText) - 1} {
		folder := folderWithOld(t)
		c := start(t, folder, limitKey+"="+strconv.Itoa(most))
		said, ok := "", true
		for ok {
			if said, ok = c.next(); ok {
				c.goOn()
			}
		}
		err := c.cmd.Wait()
		if _, failed := err.(*exec.ExitError); !failed || !strings.Contains(said, "file too large") {
			t.Errorf("full at byte %d: %v, %q", most, err, said)
		}
		if !bytes.Equal(content(t, folder), oldText) || len(names(t, folder)) != 1 {
			t.Errorf("full at byte %d: %q", most, names(t, folder))
		}
	}
}

// A folder in which nothing may be made leaves the old file and gives an error.
func TestNoPermission(t *testing.T) {
	folder := folderWithOld(t)
	if err := os.Chmod(folder, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(folder, 0o755) })
	c := start(t, folder, nobodyKey+"=1")
	said, ok := "", true
	for ok {
		if said, ok = c.next(); ok {
			c.goOn()
		}
	}
	if c.cmd.Wait() == nil || !strings.Contains(said, "permission denied") || !bytes.Equal(content(t, folder), oldText) || len(names(t, folder)) != 1 {
		t.Errorf("%q, %q", said, names(t, folder))
	}
}
