package main

import (
	"debug/buildinfo"
	"debug/elf"
	"fmt"
	"os"
	"slices"
	"strings"
)

// largest is how many bytes a program may have: what somebody in a workshop fetches over a poor line, and a bound at which growth is looked at.
const largest = 40_000_000

// check reads a built program and refuses one that is not what the release says of it: for its system, without C, paths or shared libraries, small
// enough, and made of nothing but the modules whose licences were read.
func (e *edition) check(system string) error {
	program := e.program[system]
	fail := func(format string, args ...any) error {
		return fmt.Errorf("the program for "+system+" "+format, args...)
	}
	stat, err := os.Stat(program)
	if err != nil {
		return err
	}
	if stat.Size() > largest {
		return fail("has %d bytes, of %d: see what made it grow (go tool nm -size -sort size), or raise largest in release/check.go", stat.Size(), largest)
	}
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return fail("says nothing of how it was built: %w", err)
	}
	goos, goarch, _ := strings.Cut(system, "/")
	want := map[string]string{"GOOS": goos, "GOARCH": goarch, "CGO_ENABLED": "0", "-trimpath": "true"}
	for _, s := range info.Settings {
		if value, ok := want[s.Key]; ok && s.Value != value {
			return fail("was built with %s=%s, not %s", s.Key, s.Value, value)
		}
		delete(want, s.Key)
	}
	if len(want) > 0 {
		return fail("does not say that it was built with %v", want)
	}
	for _, dep := range info.Deps {
		if dep.Replace != nil {
			return fail("holds %s in place of %s: a release is made of published modules", dep.Replace.Path, dep.Path)
		}
		if !slices.ContainsFunc(e.modules, func(m module) bool { return m.path == dep.Path && m.version == dep.Version }) {
			return fail("holds %s %s, which is not in the bill", dep.Path, dep.Version)
		}
	}
	if len(info.Deps) < 10 {
		return fail("names only %d modules", len(info.Deps))
	}
	if goos != "linux" {
		return nil // libraries of macOS and Windows are the system's own interface
	}
	f, err := elf.Open(program)
	if err != nil {
		return fail("cannot be read: %w", err)
	}
	defer f.Close()
	if slices.ContainsFunc(f.Progs, func(p *elf.Prog) bool { return p.Type == elf.PT_INTERP || p.Type == elf.PT_DYNAMIC }) {
		return fail("is linked with shared libraries")
	}
	return nil
}
