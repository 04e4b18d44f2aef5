package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// file is one file of an archive.
type file struct {
	name   string
	source string
	run    bool // a program
}

func (f file) mode() os.FileMode {
	if f.run {
		return 0o755
	}
	return 0o644
}

// files lists what the archive of a system holds.
func (e *edition) files(system string) []file {
	list := []file{{filepath.Base(e.program[system]), e.program[system], true}}
	for _, name := range []string{"LICENSE", thirdParty, "README.md", "CHANGELOG.md", "NOTATION.md"} {
		list = append(list, file{filepath.Base(name), filepath.Join(e.root, name), false})
	}
	if strings.HasPrefix(system, "windows/") {
		return list // it has neither man nor these shells
	}
	for _, c := range completions {
		list = append(list, file{"completion/" + c.file, filepath.Join(e.papers, c.file), false})
	}
	for _, page := range e.pages {
		list = append(list, file{"man/man1/" + page, filepath.Join(e.papers, page), false})
	}
	return list
}

// name is that of a file of the release: polewright_v0.1.0_linux_amd64.tar.gz.
func (e *edition) name(system, ending string) string {
	return filepath.Join(e.folder, "polewright_"+e.version+"_"+strings.ReplaceAll(system, "/", "_")+ending)
}

// archive packs the program of a system: a zip file for Windows, else a tar file. All in it bears the time of the commit and belongs to nobody.
func (e *edition) archive(system string) error {
	var out bytes.Buffer
	within := "polewright_" + e.version + "/"
	if strings.HasPrefix(system, "windows/") {
		z := zip.NewWriter(&out)
		for _, f := range e.files(system) {
			data, err := os.ReadFile(f.source)
			if err != nil {
				return err
			}
			h := &zip.FileHeader{Name: within + f.name, Method: zip.Deflate, Modified: e.at}
			h.SetMode(f.mode())
			w, err := z.CreateHeader(h)
			if err != nil {
				return err
			}
			if _, err := w.Write(data); err != nil {
				return err
			}
		}
		return errors.Join(z.Close(), os.WriteFile(e.name(system, ".zip"), out.Bytes(), 0o666))
	}
	g, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return err
	}
	t := tar.NewWriter(g)
	for _, f := range e.files(system) {
		if err := e.add(t, within, f); err != nil {
			return err
		}
	}
	return errors.Join(t.Close(), g.Close(), os.WriteFile(e.name(system, ".tar.gz"), out.Bytes(), 0o666))
}

func (e *edition) add(t *tar.Writer, within string, f file) error {
	data, err := os.ReadFile(f.source)
	if err != nil {
		return err
	}
	if err := t.WriteHeader(&tar.Header{Name: within + f.name, Mode: int64(f.mode()), Size: int64(len(data)), ModTime: e.at, Format: tar.FormatPAX}); err != nil {
		return err
	}
	_, err = io.Copy(t, bytes.NewReader(data))
	return err
}
