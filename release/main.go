// Command release builds what is published of a version: programs for six systems in archives, with manual pages and completions, Debian packages, a
// bill of what they are made of (CycloneDX), the licences of all of that, and the checksums. Nothing is published of which a check fails (check.go).
// It is a module of its own, so that its tools are none of the program's.
//
//	go -C release run . -version v0.1.0        writes ../dist
//	go -C release run . -licences              writes ../LICENSES/third-party.txt anew
//
// Nothing of the machine goes into them, so the same commit and the same release of Go give the same bytes.
package main

import (
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"
)

// systems are what the program is built for, as GOOS/GOARCH.
var systems = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

const thirdParty = "LICENSES/third-party.txt"

func main() {
	version := flag.String("version", "", "of the release, such as v0.1.0")
	out := flag.String("o", "dist", "folder to write, within the repository or anywhere; it must not be there yet")
	only := flag.String("only", "", "build for these systems alone, such as linux/amd64,windows/arm64")
	licences := flag.Bool("licences", false, "only write "+thirdParty+" anew")
	flag.Parse()
	signal.Notify(make(chan os.Signal, 1), os.Interrupt) // Ctrl-C ends the commands that run, and their error takes the half-filled folder away
	err := func() error {
		if flag.NArg() > 0 {
			return fmt.Errorf("there is no argument %q: see -help", flag.Arg(0))
		}
		root, err := repository()
		if err != nil {
			return err
		}
		if *licences {
			modules, err := linked(root, systems)
			if err != nil {
				return err
			}
			text, err := listing(root, modules)
			if err != nil {
				return err
			}
			if err := os.MkdirAll(filepath.Join(root, filepath.Dir(thirdParty)), 0o777); err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(root, thirdParty), text, 0o666)
		}
		build := systems
		if *only != "" {
			build = strings.Split(*only, ",")
		}
		return publish(root, *version, *out, build)
	}()
	if err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

// repository is the folder of the program's go.mod: the one above this module's.
func repository() (string, error) {
	here, err := command("", nil, "go", "env", "GOMOD")
	if err != nil {
		return "", err
	}
	root := filepath.Dir(filepath.Dir(here))
	if _, err := os.Stat(filepath.Join(root, "cmd", "polewright")); err != nil {
		return "", errors.New("run it in the folder release of the repository: go -C release run .")
	}
	return root, nil
}

// command runs a program in a folder and returns what it prints.
func command(folder string, env []string, name string, args ...string) (string, error) {
	c := exec.Command(name, args...)
	c.Dir, c.Env = folder, append(os.Environ(), env...)
	out, err := c.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return "", fmt.Errorf("%s %s: %s", name, strings.Join(args, " "), strings.TrimSpace(string(exit.Stderr)))
	}
	return strings.TrimSpace(string(out)), err
}

// edition is what one release is made of.
type edition struct {
	root    string // of the repository
	version string // "v0.1.0"
	commit  string // its first 12 digits, "+dirty" behind them where files differ from it
	at      time.Time
	modules []module
	folder  string            // that is filled
	program map[string]string // the built program of each system, and that of this machine
	papers  string            // folder of manual pages and completions
	pages   []string          // of the manual, in it
}

var versions = regexp.MustCompile(`^v\d+\.\d+\.\d+(-[0-9A-Za-z.-]+)?$`)

// publish fills a folder; it takes its name when all is in it.
func publish(root, version, out string, build []string) error {
	if !versions.MatchString(version) {
		return fmt.Errorf("-version %q: write v and three numbers, such as v0.1.0 or v0.1.0-rc.1", version)
	}
	if i := slices.IndexFunc(build, func(s string) bool { return !slices.Contains(systems, s) }); i >= 0 {
		return fmt.Errorf("-only %q: there are %s", build[i], strings.Join(systems, ", "))
	}
	if !filepath.IsAbs(out) {
		out = filepath.Join(root, out)
	}
	if _, err := os.Lstat(out); err == nil {
		return fmt.Errorf("%s is there already: take it away, or name another folder with -o", out)
	}
	folder, err := os.MkdirTemp(filepath.Dir(out), ".release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	e := &edition{root: root, version: version, folder: filepath.Join(folder, "files"), program: map[string]string{}}
	if err := errors.Join(os.Mkdir(e.folder, 0o777), e.identify()); err != nil {
		return err
	}
	if e.modules, err = linked(root, systems); err != nil {
		return err
	}
	text, err := listing(root, e.modules)
	if err != nil {
		return err
	}
	if known, err := os.ReadFile(filepath.Join(root, thirdParty)); err != nil || string(known) != string(text) {
		return fmt.Errorf("%s is not that of the modules in use: go -C release run . -licences", thirdParty)
	}
	e.papers = filepath.Join(folder, "papers")
	if err := e.write(build, filepath.Join(folder, "programs")); err != nil {
		return err
	}
	if err := os.Rename(e.folder, out); err != nil {
		return err
	}
	fmt.Println(out)
	return nil
}

// write builds the programs, checks them, and fills the folder.
func (e *edition) write(build []string, programs string) error {
	here := runtime.GOOS + "/" + runtime.GOARCH
	for _, system := range build {
		fmt.Fprintln(os.Stderr, "release: building", system)
		if err := e.build(system, programs); err != nil {
			return err
		}
		if err := e.check(system); err != nil {
			return err
		}
	}
	if !slices.Contains(build, here) {
		if err := e.build(here, programs); err != nil {
			return err
		}
	}
	if err := e.writePapers(here); err != nil {
		return err
	}
	for _, system := range build {
		if err := e.archive(system); err != nil {
			return err
		}
		if strings.HasPrefix(system, "linux/") {
			if err := e.debian(system); err != nil {
				return err
			}
		}
	}
	return errors.Join(e.bill(), e.checksums())
}

// identify finds the commit and its time.
func (e *edition) identify() error {
	log, err := command(e.root, nil, "git", "log", "-1", "--format=%H %ct")
	if err != nil {
		return err
	}
	hash, seconds, _ := strings.Cut(log, " ")
	n, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil || len(hash) < 12 {
		return fmt.Errorf("git log says %q", log)
	}
	e.commit, e.at = hash[:12], time.Unix(n, 0).UTC()
	changed, err := command(e.root, nil, "git", "status", "--porcelain", "--untracked-files=no")
	if err != nil {
		return err
	}
	if changed != "" {
		e.commit += "+dirty"
		fmt.Fprintln(os.Stderr, "release: files differ from the commit, so the version says +dirty")
	}
	return nil
}

// build compiles the program for a system. Nothing of the machine goes into it: no C, no paths, no time.
func (e *edition) build(system, programs string) error {
	goos, goarch, _ := strings.Cut(system, "/")
	program := filepath.Join(programs, goos+"-"+goarch, "polewright")
	if goos == "windows" {
		program += ".exe"
	}
	e.program[system] = program
	_, err := command(e.root, []string{"CGO_ENABLED=0", "GOOS=" + goos, "GOARCH=" + goarch, "GOFLAGS=", "GOAMD64=v1", "GOARM64=v8.0", "GOEXPERIMENT="},
		"go", "build", "-trimpath", "-buildvcs=false", "-ldflags", fmt.Sprintf("-s -w -buildid= -X main.release=%s -X main.commit=%s", e.version, e.commit),
		"-o", program, "./cmd/polewright")
	return err
}

// checksums writes SHA256SUMS in the form of sha256sum.
func (e *edition) checksums() error {
	entries, err := os.ReadDir(e.folder)
	if err != nil {
		return err
	}
	var lines strings.Builder
	for _, f := range entries {
		data, err := os.ReadFile(filepath.Join(e.folder, f.Name()))
		if err != nil {
			return err
		}
		fmt.Fprintf(&lines, "%x  %s\n", sha256.Sum256(data), f.Name())
	}
	return os.WriteFile(filepath.Join(e.folder, "SHA256SUMS"), []byte(lines.String()), 0o666)
}
