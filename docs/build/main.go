// Command build makes the handbook: it runs every command that the pages of docs/handbook show, compares what is printed with what they say, and
// writes them as one folder of HTML that needs no network. Run it at the root of the module:
//
//	go run ./docs/build -o handbook-html
//	go run ./docs/build -write         also puts the numbers that are printed now into the pages
//	go run ./docs/build -with PROGRAM  runs a polewright that is built already
package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"

	"polewright/handbook"
)

func main() {
	out := flag.String("o", "", "`FOLDER` for the HTML; made if it is not there; without it pages are only checked")
	write := flag.Bool("write", false, "put the numbers that are printed now into the pages")
	with := flag.String("with", "", "`PROGRAM` to run; without it polewright is built")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	faults, err := build(ctx, ".", *with, *out, *write, nil)
	for _, f := range faults {
		fmt.Fprintln(os.Stderr, f)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "build:", err)
		os.Exit(2)
	}
	if len(faults) > 0 {
		os.Exit(1)
	}
}

// program gives the runner of a binary's commands, which keep what they keep in a folder; without a binary it builds one there.
func program(ctx context.Context, root, binary, folder string) (handbook.Runner, error) {
	if binary == "" {
		binary = filepath.Join(folder, "polewright")
		build := exec.CommandContext(ctx, "go", "build", "-o", binary, "./cmd/polewright")
		build.Dir = root
		if text, err := build.CombinedOutput(); err != nil {
			return nil, fmt.Errorf("building polewright: %w\n%s", err, text)
		}
	}
	binary, err := filepath.Abs(binary)
	if err != nil {
		return nil, err
	}
	store := "XDG_CACHE_HOME=" + filepath.Join(folder, "cache") // studies keep their answers there
	return func(dir string, args []string) (string, int, error) {
		dir = cmp.Or(dir, folder)
		c := exec.CommandContext(ctx, binary, args[1:]...)
		c.Dir = dir
		c.Env = append(os.Environ(), store)
		var printed bytes.Buffer
		c.Stdout, c.Stderr = &printed, &printed
		err := c.Run()
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			return printed.String(), exit.ExitCode(), nil
		}
		return printed.String(), 0, err
	}, nil
}

// build checks the pages under root, those of which only says so (nil: all), and writes the site when out names a folder.
func build(ctx context.Context, root, binary, out string, write bool, only func(handbook.Page) bool) (faults []string, err error) {
	source := filepath.Join(root, "docs", "handbook")
	pages, err := handbook.Read(os.DirFS(source))
	if err != nil {
		return nil, err
	}
	work, err := os.MkdirTemp("", "handbook")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(work)
	run, err := program(ctx, root, binary, work)
	if err != nil {
		return nil, err
	}
	ran := map[string]handbook.Ran{}
	for i, p := range pages {
		if only != nil && !only(p) {
			continue
		}
		folder := filepath.Join(work, p.Name)
		if err := os.Mkdir(folder, 0o777); err != nil {
			return faults, err
		}
		r, err := handbook.Run(p, folder, run)
		if err != nil {
			return faults, err
		}
		faults = append(faults, r.Faults...)
		ran[p.Name] = r
		if text := r.Rewritten(); write && text != p.Text {
			if err := os.WriteFile(filepath.Join(source, p.Name+".md"), []byte(text), 0o666); err != nil {
				return faults, err
			}
			pages[i].Text = text
		}
	}
	if out == "" {
		return faults, nil
	}
	validation, err := os.ReadFile(filepath.Join(root, "docs", "validation.md"))
	if err != nil {
		return faults, err
	}
	commands, err := handbook.Commands("reference-commands", run)
	if err != nil {
		return faults, err
	}
	json, err := handbook.JSON("reference-json", os.DirFS(filepath.Join(root, "result")))
	if err != nil {
		return faults, err
	}
	pages = append(pages, handbook.DesignFile("reference-design-file"), commands, json, handbook.Glossary("glossary"), handbook.Page{Name: "validation", Text: string(validation)})
	if err := os.MkdirAll(out, 0o777); err != nil {
		return faults, err
	}
	return faults, handbook.Site(out, pages, ran)
}
