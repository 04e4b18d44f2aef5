package web

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"polewright/design"
	"polewright/mistake"
	"polewright/wholefile"
)

// This file keeps the design files of one folder: written whole, and never over what the page has not seen.

// File is a design file of the folder.
type File struct {
	Name    string `json:"name"`
	Text    string `json:"text"`
	Version string `json:"version"` // changes with the text
}

// Entry is a line of the folder.
type Entry struct {
	Name     string `json:"name"`
	Modified string `json:"modified"` // RFC 3339
	Bytes    int64  `json:"bytes"`
}

// Folder lists the design files.
type Folder struct {
	Folder string  `json:"folder"`
	Files  []Entry `json:"files"` // the newest first
}

// Saving is a text to be kept in place of a version, "" for a file that is not there yet.
type Saving struct {
	Text string `json:"text"`
	Base string `json:"base"`
}

// Saved is the version of a file just written.
type Saved struct {
	Version string `json:"version"`
}

func versionOf(text []byte) string {
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:16])
}

const mostEntries = 1000

// fileName refuses all but the plain name of a design file.
func fileName(name string) error {
	switch {
	case !strings.EqualFold(filepath.Ext(name), ".toml"):
		return bad(fmt.Sprintf("%q is not the name of a design file", name), "it ends in .toml: my-magnet.toml")
	case len(name) > 120 || strings.HasPrefix(name, ".") || strings.ContainsAny(name, `/\:*?"<>|`) || strings.ContainsFunc(name, func(c rune) bool { return c < ' ' }) || !filepath.IsLocal(name):
		return bad(fmt.Sprintf("%q cannot be the name of a file in the folder", name), "use letters, digits, spaces, - and _: my-magnet.toml")
	}
	return nil
}

func (b *Bench) list(string) (*Folder, error) {
	entries, err := fs.ReadDir(b.folder.FS(), ".")
	if err != nil {
		return nil, bad("the folder cannot be read: "+mistake.Cause(err).Error(), "check that it is still there")
	}
	name, err := filepath.Abs(b.o.Folder)
	if err != nil {
		name = b.o.Folder
	}
	out := &Folder{Folder: name, Files: []Entry{}}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !info.Mode().IsRegular() || fileName(e.Name()) != nil {
			continue
		}
		out.Files = append(out.Files, Entry{Name: e.Name(), Modified: info.ModTime().UTC().Format(time.RFC3339), Bytes: info.Size()})
	}
	slices.SortStableFunc(out.Files, func(a, b Entry) int { return cmp.Compare(b.Modified, a.Modified) })
	out.Files = out.Files[:min(len(out.Files), mostEntries)]
	return out, nil
}

func (b *Bench) open(name string) (*File, error) {
	if err := fileName(name); err != nil {
		return nil, err
	}
	return b.loadText(name)
}

// loadText is a file of the folder, whatever it holds.
func (b *Bench) loadText(name string) (*File, error) {
	r, err := b.folder.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &fault{Status: http.StatusNotFound, Problems: []Problem{{What: fmt.Sprintf("there is no file %s in the folder", name)}}}
	}
	if err != nil {
		return nil, bad(fmt.Sprintf("%s cannot be opened: %v", name, mistake.Cause(err)), "check who may read it")
	}
	defer r.Close()
	if info, err := r.Stat(); err == nil && !info.Mode().IsRegular() {
		return nil, bad(name+" is no ordinary file", "")
	}
	text, err := io.ReadAll(io.LimitReader(r, design.MaxFileBytes+1))
	if err != nil {
		return nil, bad(fmt.Sprintf("%s cannot be read: %v", name, mistake.Cause(err)), "check the disk")
	}
	if len(text) > design.MaxFileBytes {
		return nil, bad(name+" is over 4 MiB long", "a file may be 4 MiB long: is it the right one?")
	}
	return &File{Name: name, Text: string(text), Version: versionOf(text)}, nil
}

// missing tells whether an error is that there is no such file.
func missing(err error) bool {
	var f *fault
	return errors.As(err, &f) && f.Status == http.StatusNotFound
}

// writing lets one page write at a time, so that two that have seen the same version cannot both replace it.
var writing sync.Mutex

func (b *Bench) save(name string, s *Saving) (saved Saved, err error) {
	if err := fileName(name); err != nil {
		return saved, err
	}
	return b.keep(name, s)
}

// keep puts a text in the place of the version that it says, and of no other.
func (b *Bench) keep(name string, s *Saving) (saved Saved, err error) {
	if len(s.Text) > design.MaxFileBytes {
		return saved, bad("the text is over 4 MiB long", "it would not be read again")
	}
	writing.Lock()
	defer writing.Unlock()
	now, err := b.loadText(name)
	switch {
	case missing(err):
		if s.Base != "" { // somebody took it away: it comes back only when asked for
			return saved, &fault{Status: http.StatusConflict, Problems: []Problem{{What: name + " is not in the folder any more", Hint: "save it anew, or under another name"}}}
		}
	case err != nil:
		return saved, err
	case now.Version != s.Base && now.Text != s.Text:
		what, hint := name+" was changed elsewhere since this page has read it", "look at both, and keep one or save yours under another name"
		if s.Base == "" {
			what, hint = name+" is there already", "choose another name"
		}
		return saved, &fault{Status: http.StatusConflict, Problems: []Problem{{What: what, Hint: hint}}, File: now}
	}
	if err := wholefile.Write(b.folder, name, true, func(w io.Writer) error { _, err := io.WriteString(w, s.Text); return err }); err != nil {
		hint := "check the disk and who may write there; what you have stays in the page"
		if errors.Is(err, syscall.ENOSPC) {
			hint = "the disk is full: make room; what you have stays in the page"
		}
		return saved, &fault{Status: http.StatusInsufficientStorage, Problems: []Problem{{What: fmt.Sprintf("%s cannot be written: %v", name, mistake.Cause(err)), Hint: hint}}}
	}
	return Saved{Version: versionOf([]byte(s.Text))}, nil
}
