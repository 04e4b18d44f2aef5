package web

import (
	"cmp"
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"polewright"
	"polewright/design"
	"polewright/measurement"
	"polewright/papers"
	"polewright/result"
)

// This file compares readings of a built magnet with its design. The log of a design is kept beside it, and stays there when the page goes.

// Readings is the log of readings that lies beside a design.
type Readings struct {
	Name    string `json:"name"` // of its file: that of the design, with .readings.csv
	Text    string `json:"text"`
	Version string `json:"version"` // "" where there is none yet
	Count   int    `json:"count"`   // of readings
	Probe   string `json:"probe"`   // that its notes name, "point" without one
	// Problems are the mistakes in it; then Count is 0.
	Problems []Problem `json:"problems"`
}

// logName is the file of a design's readings.
func logName(designName string) string {
	return strings.TrimSuffix(designName, filepath.Ext(designName)) + ".readings.csv"
}

func readingsOf(f *File) *Readings {
	r := &Readings{Name: f.Name, Text: f.Text, Version: f.Version, Problems: []Problem{}}
	log, probe, err := readLog(f.Text, f.Name)
	if err != nil {
		r.Problems = faultOf(err).Problems
		return r
	}
	r.Count, r.Probe = len(log.Readings), probe.String()
	return r
}

func readLog(text, name string) (*measurement.Log, measurement.Probe, error) {
	log, err := measurement.ReadLog(strings.NewReader(text), name)
	if err != nil {
		return nil, measurement.Probe{}, err
	}
	probe, err := log.Probe()
	return log, probe, err
}

func (b *Bench) readings(name string) (*Readings, error) {
	if err := fileName(name); err != nil {
		return nil, err
	}
	f, err := b.loadText(logName(name))
	switch {
	case missing(err):
		return &Readings{Name: logName(name), Problems: []Problem{}}, nil
	case err != nil:
		return nil, err
	}
	return readingsOf(f), nil
}

func (b *Bench) keepReadings(name string, s *Saving) (*Readings, error) {
	if err := fileName(name); err != nil {
		return nil, err
	}
	saved, err := b.keep(logName(name), s)
	if err != nil {
		return nil, err
	}
	return readingsOf(&File{Name: logName(name), Text: s.Text, Version: saved.Version}), nil
}

// Verifying asks what readings say of a built magnet. A number that is zero stands for what is usual.
type Verifying struct {
	Asked
	Log        string  `json:"log"`                  // its text
	LogName    string  `json:"log_name,omitempty"`   // that messages give it
	Probe      string  `json:"probe,omitempty"`      // active area, "disc 2 mm"; by the log's notes without it
	Noise      float64 `json:"noise,omitempty"`      // standard uncertainty of readings, a share
	PlaceM     float64 `json:"place_m,omitempty"`    // standard uncertainty of each place
	Confidence float64 `json:"confidence,omitempty"` // 0.5 to 0.999
	Accuracy   string  `json:"accuracy"`
}

// options checks what is asked for, and reads the log.
func (q *Verifying) options() (o polewright.VerifyOptions, log *measurement.Log, err error) {
	if o.Accuracy, err = accuracyNamed(q.Accuracy); err != nil {
		return o, nil, err
	}
	switch {
	case !(q.Noise >= 0 && q.Noise <= polewright.MostNoise):
		return o, nil, bad("no such uncertainty of readings", "a share above 0 and up to 50 %")
	case !(q.PlaceM >= 0 && q.PlaceM <= polewright.MostPlaceM):
		return o, nil, bad("no such uncertainty of places", "above 0 and up to 10 mm")
	case q.Confidence != 0 && !(q.Confidence >= polewright.LeastConfidence && q.Confidence <= polewright.MostConfidence):
		return o, nil, bad("no such confidence", "50 to 99.9 per cent; 95 is usual")
	}
	if q.LogName == "" {
		q.LogName = "readings.csv"
	}
	if log, o.Probe, err = readLog(q.Log, q.LogName); err != nil && (q.Probe == "" || log == nil) {
		return o, nil, err
	}
	if q.Probe != "" {
		if o.Probe, err = probeNamed(q.Probe); err != nil {
			return o, nil, err
		}
	}
	o.Noise, o.PlaceM, o.Confidence = q.Noise, q.PlaceM, q.Confidence
	return o, log, nil
}

func probeNamed(text string) (measurement.Probe, error) {
	p, err := measurement.ParseProbe(text)
	if err != nil {
		err = bad(fmt.Sprintf("the probe %q: %v", text, err), `for example "point", "disc 2 mm" or "rectangle 1 mm x 2 mm"`)
	}
	return p, err
}

// sensed is a design with what its deviations change, for one question at a time.
type sensed struct {
	key key
	s   *polewright.Sensitivity
}

// mostSensed is how many of them are kept: each holds some twenty fields.
const mostSensed = 2

// sensitivities are the last of them. Whoever takes them out of the channel has them alone.
type sensitivities chan []sensed

func newSensitivities() sensitivities {
	s := make(sensitivities, 1)
	s <- nil
	return s
}

// with finds what the deviations of a design change, by a score of solves or from what is kept, and uses it.
func (s sensitivities) with(ctx context.Context, q Asked, d *design.Design, a polewright.Accuracy, progress func(string, float64), use func(*polewright.Sensitivity) error) error {
	progress("waiting for its turn", 0)
	var list []sensed
	select {
	case list = <-s:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { s <- list }()
	k := key(sha256.Sum256(fmt.Appendf(nil, "%s\x00%s\x00%s", a.Name, q.File, q.Text)))
	if i := slices.IndexFunc(list, func(e sensed) bool { return e.key == k }); i >= 0 {
		return use(list[i].s)
	}
	found, err := polewright.SensitivityOf(ctx, d, polewright.VerifiedDeviations(d), a, progress)
	if err != nil {
		return err
	}
	list = append(list[max(0, len(list)-mostSensed+1):], sensed{k, found})
	return use(found)
}

// judged is the verdict on a log.
func (b *Bench) judged(ctx context.Context, q *Verifying, e *events) (*design.Design, *result.Verification, error) {
	o, log, err := q.options()
	if err != nil {
		return nil, nil, err
	}
	d, err := b.design(q.Asked)
	if err != nil {
		return nil, nil, err
	}
	if err := polewright.Readable(d, log); err != nil {
		return nil, nil, err
	}
	v, err := apart(ctx, b, func(ctx context.Context) (v *result.Verification, err error) {
		err = b.sensed.with(ctx, q.Asked, d, o.Accuracy, e.progress, func(s *polewright.Sensitivity) error {
			v, err = s.Judge(log, o)
			return err
		})
		return v, err
	})
	return d, v, err
}

func (b *Bench) verify(ctx context.Context, q *Verifying, e *events) (*result.Verification, error) {
	_, v, err := b.judged(ctx, q, e)
	return v, err
}

// Page says how a paper is to be written.
type Page struct {
	Format string `json:"format"`          // pdf or html
	Paper  string `json:"paper,omitempty"` // A4 or letter
	size   papers.Paper
}

// check finds the paper.
func (p *Page) check() (err error) {
	if p.size, err = papers.PaperNamed(cmp.Or(p.Paper, papers.A4.Name)); err != nil {
		return bad(err.Error(), "")
	}
	if p.Format != "pdf" && p.Format != "html" {
		return bad(fmt.Sprintf("there are no papers as %q", p.Format), "pdf or html")
	}
	return nil
}

// written is a document as the page wants it.
func (p *Page) written(name string, d *papers.Document) (*Download, error) {
	if p.Format == "pdf" {
		return download(name+".pdf", "application/pdf", func(w io.Writer) error { return d.PDF(w, p.size) })
	}
	return download(name+".html", "text/html", d.HTML)
}

// today is the date on papers, "" for none.
func (b *Bench) today() string {
	if b.o.Today == nil {
		return ""
	}
	return b.o.Today()
}

// Certifying asks for the certificate of a measurement.
type Certifying struct {
	Verifying
	Page
}

func (b *Bench) certificate(ctx context.Context, q *Certifying, e *events) (*Download, error) {
	d, v, err := b.judged(ctx, &q.Verifying, e)
	if err != nil {
		return nil, err
	}
	c := papers.Certificate(papers.CertificateSource{Design: d, Verification: v, DesignFile: []byte(q.Text), LogFile: []byte(q.Log), Version: b.o.Version, Date: b.today()})
	return q.written("certificate", c)
}

// Sheeting asks for a measurement sheet.
type Sheeting struct {
	Asked
	Places   string `json:"places,omitempty"` // groups of places, "centre, axis 11"; all without it
	Probe    string `json:"probe,omitempty"`
	Accuracy string `json:"accuracy"`
	Format   string `json:"format"` // pdf, html, or csv: a log to fill in
	Paper    string `json:"paper,omitempty"`
	page     Page
	options  polewright.SheetOptions
}

func (q *Sheeting) check() (err error) {
	q.page = Page{Format: q.Format, Paper: q.Paper}
	if q.Format == "csv" {
		q.page.Format = "pdf"
	}
	if err = q.page.check(); err != nil {
		return err
	}
	if q.options.Groups, err = polewright.ParseSheetGroups(q.Places); err != nil {
		return err
	}
	if q.options.Accuracy, err = accuracyNamed(q.Accuracy); err != nil || q.Probe == "" {
		return err
	}
	q.options.Probe, err = probeNamed(q.Probe)
	return err
}

func (b *Bench) sheet(ctx context.Context, q *Sheeting, e *events) (*Download, error) {
	s, err := onDesign(ctx, b, q.Asked, func(ctx context.Context, d *design.Design) (s *result.Sheet, err error) {
		err = b.sensed.with(ctx, q.Asked, d, q.options.Accuracy, e.progress, func(known *polewright.Sensitivity) error {
			s = known.Sheet(q.options)
			return nil
		})
		return s, err
	})
	if err != nil {
		return nil, err
	}
	if q.Format == "csv" {
		return download("readings.csv", "text/csv", func(w io.Writer) error { return papers.BlankLog(w, s, []byte(q.Text), b.o.Version, b.today()) })
	}
	return q.page.written("measurement-sheet", papers.MeasurementSheet(s, []byte(q.Text), b.o.Version, b.today()))
}
