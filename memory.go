package polewright

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"strconv"
	"strings"

	"polewright/grid"
	"polewright/magnetostatic"
)

// MemoryError is a solve that would take more memory than there is. It was not begun.
type MemoryError struct {
	Accuracy    string
	Unknowns    int
	NeededBytes int64
	FreeBytes   int64
	Fits        string // an accuracy that would do, or ""
}

func (e *MemoryError) Error() string {
	hint := "leave out detail, or solve on a larger machine"
	if e.Fits != "" {
		hint = fmt.Sprintf("accuracy %s would fit", e.Fits)
	}
	return fmt.Sprintf("accuracy %s takes %d unknowns and about %.2g GB of memory, and %.2g GB are free: %s", e.Accuracy, e.Unknowns,
		float64(e.NeededBytes)/1e9, float64(e.FreeBytes)/1e9, hint)
}

// enoughMemory is the error of grids that would take more memory than the limit, bytes, or than the machine has free when the limit is 0.
func enoughMemory(g *grid.Grids, accuracy Accuracy, density float64, limit int64) error {
	if limit == 0 {
		limit = freeMemory(os.DirFS("/"))
	}
	need := magnetostatic.Memory(g)
	if limit == 0 || need <= limit {
		return nil
	}
	e := &MemoryError{Accuracy: accuracy.Name, Unknowns: g.Grid[len(g.Grid)-1].Unknowns(), NeededBytes: need, FreeBytes: limit}
	for _, a := range []Accuracy{Standard, Draft} { // eight times for a level, the cube of the density
		share := math.Pow(8, float64(a.levels-accuracy.levels)) * math.Pow(a.density/density, 3)
		if share < 1 && share*float64(need) <= float64(limit) {
			e.Fits = a.Name
			break
		}
	}
	return e
}

// freeMemory is what a program may still take, bytes: what Linux calls available, or less where a control group limits it. It is 0 where that is
// not known. (proc_meminfo(5); Linux, Documentation/admin-guide/cgroup-v2.rst, memory.max and memory.current.)
func freeMemory(root fs.FS) int64 {
	var free int64
	text, err := fs.ReadFile(root, "proc/meminfo")
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(text)) {
		if f := strings.Fields(line); len(f) == 3 && f[0] == "MemAvailable:" && f[2] == "kB" {
			if kb, err := strconv.ParseInt(f[1], 10, 54); err == nil {
				free = 1024 * kb
			}
		}
	}
	number := func(name string) (int64, bool) {
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return 0, false
		}
		n, err := strconv.ParseInt(strings.TrimSpace(string(text)), 10, 64)
		return n, err == nil
	}
	for _, names := range [][2]string{
		{"sys/fs/cgroup/memory.max", "sys/fs/cgroup/memory.current"},
		{"sys/fs/cgroup/memory/memory.limit_in_bytes", "sys/fs/cgroup/memory/memory.usage_in_bytes"},
	} {
		most, ok := number(names[0])
		used, known := number(names[1])
		if ok && known && most-used < free {
			free = max(most-used, 1)
		}
	}
	return free
}
