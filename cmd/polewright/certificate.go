package main

import (
	"io"
	"os"

	"github.com/spf13/cobra"

	"polewright/design"
	"polewright/mistake"
	"polewright/papers"
	"polewright/result"
)

// certifier checks what the flags say of a certificate and keeps both files as they are now; nil where none is wanted.
func (f *verifyFlags) certifier(c *cobra.Command, designFile, logFile string) (func(*design.Design, *result.Verification) error, error) {
	if f.certificate == "" {
		return nil, nil
	}
	size, err := papers.PaperNamed(f.paper)
	if err != nil {
		return nil, mistake.Of("--paper: "+err.Error(), "")
	}
	write, err := papersFormat("verify", f.certificate, size)
	if err != nil {
		return nil, err
	}
	if err := canWrite(f.certificate, f.force); err != nil {
		return nil, err
	}
	s := papers.CertificateSource{Version: version()}
	if s.Date, err = reportDate(f.date); err != nil {
		return nil, err
	}
	for path, text := range map[string]*[]byte{designFile: &s.DesignFile, logFile: &s.LogFile} {
		if path == "-" {
			return nil, mistake.Of("--certificate names the files by their hash: design and log cannot come from standard input", "save both as files first")
		}
		// What cannot be read, or is too long, is refused, in better words, by those who read it as a design or a log.
		if r, err := os.Open(path); err == nil {
			*text, _ = io.ReadAll(io.LimitReader(r, design.MaxFileBytes))
			r.Close()
		}
	}
	return func(d *design.Design, v *result.Verification) error {
		s.Design, s.Verification = d, v
		return writeTold(c, f.certificate, f.force, func(w io.Writer) error { return write(papers.Certificate(s), w) })
	}, nil
}
