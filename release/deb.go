package main

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/goreleaser/nfpm/v2"
	_ "github.com/goreleaser/nfpm/v2/deb" // the packager that nfpm.Get finds
	"github.com/goreleaser/nfpm/v2/files"
)

// debian writes the Debian package of a system (Debian Policy Manual, chapters 4, 5 and 12). Manual pages and the completion are what the
// program of this machine writes.
func (e *edition) debian(system, scratch string) error {
	papers := filepath.Join(scratch, "papers")
	if err := e.papers(papers); err != nil {
		return err
	}
	_, arch, _ := strings.Cut(system, "/")
	info := &nfpm.Info{
		Name: "polewright", Arch: arch, Platform: "linux", Version: e.version, Section: "science", Priority: "optional",
		Maintainer: "The polewright project <nobody@polewright.invalid>", License: "Apache-2.0", MTime: e.at, DisableGlobbing: true,
		Description: "design, build and verify permanent-magnet gap assemblies\npolewright predicts the field, the forces, the stray field and the losses of an assembly\nof permanent magnets and a steel yoke round an air gap, from a design file in which\nevery length has its unit.",
	}
	add := func(source, to string, mode os.FileMode) {
		info.Contents = append(info.Contents, &files.Content{Source: source, Destination: to, FileInfo: &files.ContentFileInfo{Mode: mode, MTime: e.at, Owner: "root", Group: "root"}})
	}
	const documents = "/usr/share/doc/polewright/"
	add(e.program[system], "/usr/bin/polewright", 0o755)
	for _, name := range []string{"README.md", "NOTATION.md", thirdParty} {
		add(filepath.Join(e.root, name), documents+filepath.Base(name), 0o644)
	}
	add(filepath.Join(papers, "copyright"), documents+"copyright", 0o644)
	add(filepath.Join(papers, "changelog.gz"), documents+"changelog.gz", 0o644)
	pages, err := filepath.Glob(filepath.Join(papers, "*.1.gz"))
	if err != nil {
		return err
	}
	for _, p := range pages {
		add(p, "/usr/share/man/man1/"+filepath.Base(p), 0o644)
	}
	add(filepath.Join(papers, "completion"), "/usr/share/bash-completion/completions/polewright", 0o644)
	info = nfpm.WithDefaults(info)
	packager, err := nfpm.Get("deb")
	if err != nil {
		return err
	}
	if err := nfpm.PrepareForPackager(info, "deb"); err != nil {
		return err
	}
	var out bytes.Buffer
	if err := packager.Package(info, &out); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(e.folder, packager.ConventionalFileName(info)), out.Bytes(), 0o666)
}

// papers writes what a package holds beside the program, once.
func (e *edition) papers(folder string) error {
	if _, err := os.Stat(folder); err == nil {
		return nil
	}
	if err := os.Mkdir(folder, 0o777); err != nil {
		return err
	}
	copyright := `Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: polewright

Files: *
Copyright: the polewright project
License: Apache-2.0
 On Debian systems the text is in /usr/share/common-licenses/Apache-2.0.
Comment: what the program holds of others, with the texts of their licences, is in third-party.txt beside this file.
`
	changes, err := os.ReadFile(filepath.Join(e.root, "CHANGELOG.md"))
	if err != nil {
		return err
	}
	if err := errors.Join(os.WriteFile(filepath.Join(folder, "copyright"), []byte(copyright), 0o666), writeGzip(filepath.Join(folder, "changelog.gz"), changes)); err != nil {
		return err
	}
	here := e.program[runtime.GOOS+"/"+runtime.GOARCH]
	if here == "" {
		return fmt.Errorf("the program writes its own manual pages: %s/%s must be among the systems", runtime.GOOS, runtime.GOARCH)
	}
	pages := filepath.Join(folder, "pages")
	if _, err := command("", nil, here, "man", "-o", pages); err != nil {
		return err
	}
	list, err := filepath.Glob(filepath.Join(pages, "*.1"))
	if err != nil || len(list) == 0 {
		return fmt.Errorf("%d manual pages: %w", len(list), err)
	}
	for _, page := range list {
		text, err := os.ReadFile(page)
		if err != nil {
			return err
		}
		if err := writeGzip(filepath.Join(folder, filepath.Base(page)+".gz"), text); err != nil {
			return err
		}
	}
	completion, err := command("", nil, here, "completion", "bash")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "completion"), []byte(completion+"\n"), 0o666)
}

// writeGzip packs a file as gzip -9n does, without a name or a time.
func writeGzip(path string, data []byte) error {
	var out bytes.Buffer
	g, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return err
	}
	_, err = g.Write(data)
	return errors.Join(err, g.Close(), os.WriteFile(path, out.Bytes(), 0o666))
}
