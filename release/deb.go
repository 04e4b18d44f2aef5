package main

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/goreleaser/nfpm/v2"
	_ "github.com/goreleaser/nfpm/v2/deb" // the packager that nfpm.Get finds
	"github.com/goreleaser/nfpm/v2/files"
)

const maintainer = "The polewright project <nobody@polewright.invalid>"

// debian writes the Debian package of a system (Debian Policy Manual, chapters 4, 5 and 12).
func (e *edition) debian(system string) error {
	_, arch, _ := strings.Cut(system, "/")
	info := &nfpm.Info{
		Name: "polewright", Arch: arch, Platform: "linux", Version: e.version, Section: "science", Priority: "optional",
		Maintainer: maintainer, MTime: e.at, DisableGlobbing: true,
		Description: "design, build and verify permanent-magnet gap assemblies\npolewright predicts the field, the forces, the stray field and the losses of an\nassembly of permanent magnets and a steel yoke round an air gap, from a design\nfile in which every length has its unit.",
	}
	add := func(source, to string, mode os.FileMode) {
		info.Contents = append(info.Contents, &files.Content{Source: source, Destination: to, FileInfo: &files.ContentFileInfo{Mode: mode, MTime: e.at, Owner: "root", Group: "root"}})
	}
	const documents = "/usr/share/doc/polewright/"
	add(e.program[system], "/usr/bin/polewright", 0o755)
	for _, name := range []string{"README.md", "CHANGELOG.md", "NOTATION.md", thirdParty} {
		add(filepath.Join(e.root, name), documents+filepath.Base(name), 0o644)
	}
	add(filepath.Join(e.papers, "copyright"), documents+"copyright", 0o644)
	add(filepath.Join(e.papers, "changelog.gz"), documents+"changelog.gz", 0o644)
	add(filepath.Join(e.papers, "overrides"), "/usr/share/lintian/overrides/polewright", 0o644)
	for _, page := range e.pages {
		add(filepath.Join(e.papers, page+".gz"), "/usr/share/man/man1/"+page+".gz", 0o644)
	}
	for _, c := range completions {
		add(filepath.Join(e.papers, c.file), c.debian, 0o644)
	}
	info.Suggests = []string{"bash-completion"}
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

// completions are the scripts by which shells complete commands: name in an archive, place in a Debian package.
var completions = []struct{ shell, file, debian string }{
	{"bash", "polewright.bash", "/usr/share/bash-completion/completions/polewright"},
	{"zsh", "_polewright", "/usr/share/zsh/vendor-completions/_polewright"},
	{"fish", "polewright.fish", "/usr/share/fish/vendor_completions.d/polewright.fish"},
}

// writePapers writes what goes with the programs. Manual pages and completions are what the program of this machine says.
func (e *edition) writePapers(here string) error {
	const copyright = `Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: polewright

Files: *
Copyright: %d the polewright project
License: Apache-2.0
 On Debian systems the text is in /usr/share/common-licenses/Apache-2.0.
Comment: what the program holds of others, with the texts of their licences, is in third-party.txt beside this file.
`
	const overrides = "# on purpose: the same program runs on every Linux\npolewright: statically-linked-binary [usr/bin/polewright]\n"
	changes := fmt.Sprintf("polewright (%s) unstable; urgency=medium\n\n  * What changed is in CHANGELOG.md beside this file.\n\n -- %s  %s\n",
		strings.Replace(e.version[1:], "-", "~", 1), maintainer, e.at.Format(time.RFC1123Z))
	program := e.program[here]
	if _, err := command("", nil, program, "man", "-o", e.papers); err != nil {
		return err
	}
	list, err := os.ReadDir(e.papers)
	if err != nil || len(list) == 0 {
		return fmt.Errorf("%d manual pages: %w", len(list), cmp.Or(err, errors.New("the program writes none")))
	}
	if err := errors.Join(
		os.WriteFile(filepath.Join(e.papers, "copyright"), fmt.Appendf(nil, copyright, e.at.Year()), 0o666),
		os.WriteFile(filepath.Join(e.papers, "overrides"), []byte(overrides), 0o666),
		writeGzip(filepath.Join(e.papers, "changelog.gz"), []byte(changes)),
	); err != nil {
		return err
	}
	for _, page := range list {
		path := filepath.Join(e.papers, page.Name())
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if err := writeGzip(path+".gz", text); err != nil {
			return err
		}
		e.pages = append(e.pages, page.Name())
	}
	for _, c := range completions {
		script, err := command("", nil, program, "completion", c.shell)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(e.papers, c.file), []byte(script+"\n"), 0o666); err != nil {
			return err
		}
	}
	return nil
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
