//go:build unix

package design

import (
	"os"
	"runtime"
	"syscall"
)

func pipe(path string) error { return syscall.Mkfifo(path, 0o644) }

// peakBytes is the most memory that a process has had (getrusage(2): kilobytes, but bytes on macOS).
func peakBytes(p *os.ProcessState) int64 {
	r, ok := p.SysUsage().(*syscall.Rusage)
	switch {
	case !ok:
		return 0
	case runtime.GOOS == "darwin":
		return int64(r.Maxrss)
	}
	return int64(r.Maxrss) << 10
}
