package web

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"polewright"
	"polewright/design"
	"polewright/jobs"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/report"
	"polewright/result"
	"polewright/stock"
	"polewright/study"
	"polewright/wholefile"
)

// This file runs studies: sweeps, searches and tolerances. A study is a file in a folder beside the designs, and its solves are jobs of a queue in
// the same folder, so that a study that was stopped, or whose server was killed, goes on where it was, and nothing is solved twice.

// studyFolder lies in the folder of the design files.
const studyFolder = "polewright-studies"

// Bounds of studies.
const (
	mostStudyDesigns = 5000 // of a sweep: its rows are shown
	mostSearchSolves = 500
	mostBuilds       = 5000 // solved one by one
	mostStudies      = 200  // in the folder
	mostAtOnce       = 8    // that run or wait
)

// Kinds of studies.
const (
	sweepStudy     = "sweep"
	searchStudy    = "search"
	toleranceStudy = "tolerance"
)

// Studying asks for a study. What varies is written as for polewright sweep: "layout.gap = 14..22 mm / 2 mm".
type Studying struct {
	Asked
	Kind     string   `json:"kind"` // sweep, search or tolerance
	Accuracy string   `json:"accuracy"`
	Vary     []string `json:"vary,omitempty"`
	Figures  []string `json:"figures,omitempty"` // of a sweep, by name; all that the design has without them
	Least    []string `json:"least,omitempty"`   // figures that a search makes small
	Most     []string `json:"most,omitempty"`    // and large; one or two in all
	Limits   []string `json:"limits,omitempty"`  // "gap field >= 0.8 T"; the target's wishes without them
	Solves   int      `json:"solves,omitempty"`  // most of a search; builds of a tolerance study that are solved one by one
	InStock  bool     `json:"in_stock,omitempty"`
	Stock    string   `json:"stock,omitempty"` // text of a list of stock, for costs
	Seed     uint64   `json:"seed,omitempty"`  // of the draw of builds
}

// States of a study.
const (
	studyWaits       = "waiting"
	studyRuns        = "running"
	studyDone        = "done"
	studyStopped     = "stopped"     // by the builder
	studyInterrupted = "interrupted" // its server has ended
	studyFailed      = "failed"
)

// Standing is how far a study is.
type Standing struct {
	Name     string  `json:"name"`
	Kind     string  `json:"kind"`
	File     string  `json:"file"` // the design
	Begun    string  `json:"begun"`
	State    string  `json:"state"`         // waiting, running, done, stopped, interrupted or failed
	Why      string  `json:"why,omitempty"` // it failed
	What     string  `json:"what"`          // it is at
	Share    float64 `json:"share"`         // of the work that is done
	Total    int     `json:"total"`         // designs to solve, as far as is known
	Done     int     `json:"done"`
	Failed   int     `json:"failed"`
	Known    int     `json:"known"`   // of both: solved before
	Running  int     `json:"running"` // being solved
	ElapsedS float64 `json:"elapsed_s"`
	LeftS    float64 `json:"left_s"` // by the pace so far; below 0 while that is not known
}

// Study is a study with its rows, in the order in which they ended.
type Study struct {
	Standing
	Asked   Studying       `json:"asked"`
	Title   string         `json:"title"`
	Paths   []string       `json:"paths"`   // of what varies; parameters that vary together count once
	Units   []string       `json:"units"`   // in which they are written; "" for words and plain numbers
	Figures []StudyFigure  `json:"figures"` // of the rows
	Goals   []string       `json:"goals"`   // of a search: "least mass"
	Limits  []string       `json:"limits"`
	Rows    []StudyRow     `json:"rows"`
	Found   *StudyFound    `json:"found,omitempty"`
	Spread  *ToleranceSeen `json:"spread,omitempty"`
}

// StudyFigure is a figure of the rows.
type StudyFigure struct {
	Name    string  `json:"name"`
	Show    string  `json:"show"` // unit in which people read it
	Times   float64 `json:"times"`
	Meaning string  `json:"meaning"`
}

// StudyRow is a design of a study, or a build of a tolerance study.
type StudyRow struct {
	Index    int                `json:"index"`
	Settings []study.Setting    `json:"settings"`
	Values   []*float64         `json:"values"`  // of what varies, in its unit; null for words
	Figures  map[string]float64 `json:"figures"` // by name, in SI units
	Error    string             `json:"error,omitempty"`
	Known    bool               `json:"known"` // solved before
	Seconds  float64            `json:"seconds"`
	Keeps    bool               `json:"keeps_limits"` // of a search
	Best     bool               `json:"best"`         // or on the front
}

// StudyFound is what a search came to.
type StudyFound struct {
	Designs   int  `json:"designs"` // in the space
	Buildable int  `json:"buildable"`
	Finished  bool `json:"finished"` // nothing better is likely
	Nearest   *int `json:"nearest,omitempty"`
}

// ToleranceSeen is how builds spread, with its histograms as /api/chart takes them.
type ToleranceSeen struct {
	result.Tolerance
	Histograms []Charting `json:"histograms"`
}

// StudyList lists the studies of the folder, the newest first.
type StudyList struct {
	Folder  string     `json:"folder"`
	Studies []Standing `json:"studies"`
	// Figures are those that a search can aim at or keep.
	Figures []StudyFigure `json:"figures"`
}

// studies are those of a bench.
type studies struct {
	ctx  context.Context
	mu   sync.Mutex
	live map[string]*liveStudy
	turn chan struct{} // one at a time: each solve takes all cores that it can
	gone sync.WaitGroup
}

func (s *studies) start(ctx context.Context) {
	s.ctx, s.live, s.turn = ctx, map[string]*liveStudy{}, make(chan struct{}, 1)
}

// liveStudy is one that waits or runs.
type liveStudy struct {
	mu      sync.Mutex
	s       Study
	changed chan struct{} // closed at the next change
	cancel  context.CancelFunc
	stopped bool // by the builder
	kept    time.Time
}

// update changes the study and tells those who follow it.
func (l *liveStudy) update(change func(*Study)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	change(&l.s)
	close(l.changed)
	l.changed = make(chan struct{})
}

var studyName = regexp.MustCompile(`^[0-9]{8}-[0-9]{6}-[0-9]{3}-(sweep|search|tolerance)$`)

// recordOf is the file of a study in the folder.
func recordOf(name string) (string, error) {
	if !studyName.MatchString(name) {
		return "", &fault{Status: http.StatusNotFound, Problems: []Problem{{What: fmt.Sprintf("there is no study %.80q", name)}}}
	}
	return studyFolder + "/" + name + ".json", nil
}

// record writes a study whole into the folder.
func (b *Bench) record(s *Study) error {
	name, err := recordOf(s.Name)
	if err != nil {
		return err
	}
	text, err := encoded(s)
	if err != nil {
		return err
	}
	if err := b.folder.Mkdir(studyFolder, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("the folder %s cannot be made: %w", studyFolder, mistake.Cause(err))
	}
	folder, err := b.folder.OpenRoot(studyFolder)
	if err != nil {
		return fmt.Errorf("the folder %s cannot be opened: %w", studyFolder, mistake.Cause(err))
	}
	defer folder.Close()
	if err := wholefile.Write(folder, filepath.Base(name), true, func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
		return fmt.Errorf("the study cannot be kept: %w", mistake.Cause(err))
	}
	return nil
}

// recorded reads a study from the folder. One that was running then has been interrupted.
func (b *Bench) recorded(name string) (*Study, error) {
	file, err := recordOf(name)
	if err != nil {
		return nil, err
	}
	text, err := b.folder.ReadFile(file)
	if err != nil {
		return nil, &fault{Status: http.StatusNotFound, Problems: []Problem{{What: "there is no study " + name}}}
	}
	var s Study
	if err := json.Unmarshal(text, &s); err != nil || s.Name != name {
		return nil, bad(fmt.Sprintf("the study %s cannot be read", name), "it was changed or written by another version: take it away and start it anew; what is solved is kept")
	}
	if s.State == studyRuns || s.State == studyWaits {
		s.State, s.Running = studyInterrupted, 0
	}
	return &s, nil
}

// found is a study as it stands now.
func (b *Bench) found(name string) (*Study, error) {
	b.studies.mu.Lock()
	l := b.studies.live[name]
	b.studies.mu.Unlock()
	if l == nil {
		return b.recorded(name)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	s := l.s
	s.Rows = slices.Clone(s.Rows)
	return &s, nil
}

func (b *Bench) listStudies(string) (*StudyList, error) {
	out := &StudyList{Folder: filepath.Join(b.o.Folder, studyFolder), Studies: []Standing{}}
	for _, f := range study.FigureList {
		out.Figures = append(out.Figures, figureOf(f))
	}
	entries, _ := fs.ReadDir(b.folder.FS(), studyFolder) // none is no fault
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return cmp.Compare(b.Name(), a.Name()) })
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), ".json")
		if !ok || !studyName.MatchString(name) || len(out.Studies) >= mostStudies {
			continue
		}
		if s, err := b.found(name); err == nil {
			out.Studies = append(out.Studies, s.Standing)
		}
	}
	return out, nil
}

func (b *Bench) beginStudy(_ string, q *Studying) (*Study, error) {
	p, err := b.plan(*q)
	if err != nil {
		return nil, err
	}
	now := time.Now()
	s := p.study
	s.Name = now.UTC().Format("20060102-150405.000")
	s.Name = strings.ReplaceAll(s.Name, ".", "-") + "-" + q.Kind
	s.Begun = now.UTC().Format(time.RFC3339)
	return b.launch(p)
}

// Deed names a study to do something with.
type Deed struct {
	Study string `json:"study"`
}

func (b *Bench) resumeStudy(_ string, q *Deed) (*Study, error) {
	s, err := b.found(q.Study)
	if err == nil && (s.State == studyRuns || s.State == studyWaits) {
		err = bad("the study runs already", "")
	}
	var p *plan
	if err == nil {
		p, err = b.plan(s.Asked)
	}
	if err != nil {
		return nil, err
	}
	p.study.Name, p.study.Begun = s.Name, s.Begun
	return b.launch(p)
}

// launch starts a planned study.
func (b *Bench) launch(p *plan) (*Study, error) {
	a := &b.studies
	p.study.State, p.study.LeftS = studyWaits, -1
	if err := b.record(p.study); err != nil {
		return nil, &fault{Status: http.StatusInsufficientStorage, Problems: []Problem{{What: err.Error(), Hint: "check the disk and who may write there"}}}
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	_, runs := a.live[p.study.Name]
	if len(a.live) >= mostAtOnce || runs || a.ctx.Err() != nil {
		return nil, &fault{Status: http.StatusServiceUnavailable, Problems: []Problem{{What: "too many studies wait already", Hint: "wait for one to end, or stop one"}}}
	}
	ctx, cancel := context.WithCancel(a.ctx)
	l := &liveStudy{s: *p.study, changed: make(chan struct{}), cancel: cancel, kept: time.Now()}
	a.live[p.study.Name] = l
	a.gone.Go(func() { b.conduct(ctx, l, p) })
	return p.study, nil
}

func (b *Bench) stopStudy(_ string, q *Deed) (*Standing, error) {
	b.studies.mu.Lock()
	l := b.studies.live[q.Study]
	b.studies.mu.Unlock()
	if l != nil {
		l.mu.Lock()
		l.stopped = true
		l.mu.Unlock()
		l.cancel()
	}
	s, err := b.found(q.Study)
	if err != nil {
		return nil, err
	}
	return &s.Standing, nil
}

func (b *Bench) removeStudy(name string) (*Standing, error) {
	s, err := b.found(name)
	if err == nil && (s.State == studyRuns || s.State == studyWaits) {
		err = bad("the study runs", "stop it first")
	}
	var file string
	if err == nil {
		if file, err = recordOf(name); err == nil {
			err = b.folder.Remove(file)
		}
	}
	if err != nil {
		return nil, err
	}
	return &s.Standing, nil
}

// Following asks to hear of a study.
type Following struct {
	Study string `json:"study"`
	Rows  int    `json:"rows"` // that are known already
}

func (q *Following) check() error {
	if q.Rows < 0 {
		return bad("no such number of rows", "it is 0 or more")
	}
	return nil
}

func (b *Bench) followStudy(ctx context.Context, q *Following, e *events) (*Study, error) {
	b.studies.mu.Lock()
	l := b.studies.live[q.Study]
	b.studies.mu.Unlock()
	if l == nil {
		return b.recorded(q.Study)
	}
	for sent := q.Rows; ; {
		l.mu.Lock()
		s, changed := l.s, l.changed
		rows := slices.Clone(s.Rows[min(sent, len(s.Rows)):])
		l.mu.Unlock()
		if len(rows) > 0 {
			if err := e.send("rows", rows); err != nil {
				return nil, err
			}
			sent += len(rows)
		}
		if s.State != studyRuns && s.State != studyWaits {
			return b.found(q.Study)
		}
		if err := e.send("standing", s.Standing); err != nil {
			return nil, err
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-changed:
		}
		select { // a row in a while is soon enough
		case <-ctx.Done():
		case <-time.After(100 * time.Millisecond):
		}
	}
}

func (b *Bench) tableOfStudy(_ string, q *Deed) (*Download, error) {
	s, err := b.found(q.Study)
	if err != nil {
		return nil, err
	}
	p, err := b.plan(s.Asked)
	if err != nil {
		return nil, err
	}
	t, err := p.space.Table()
	if err != nil {
		return nil, err
	}
	if s.Kind == toleranceStudy {
		t.Figures = nil
		for _, f := range s.Figures {
			t.Figures = append(t.Figures, study.Figure{Name: f.Name})
		}
	}
	for _, row := range s.Rows {
		t.Add(study.Row{Index: row.Index, Settings: row.Settings, Figures: row.Figures, Error: row.Error})
	}
	return download(s.Name+".csv", "text/csv", t.CSV)
}

// plan is a study that was found sound.
type plan struct {
	study  *Study
	design *design.Design
	space  *study.Space
	search *study.Search
	kinds  []design.Parameter
}

// plan checks a study before anything is solved.
func (b *Bench) plan(q Studying) (*plan, error) {
	if q.Kind != sweepStudy && q.Kind != searchStudy && q.Kind != toleranceStudy {
		return nil, bad(fmt.Sprintf("there is no study called %.40q", q.Kind), "it is one of: sweep, search, tolerance")
	}
	a, err := accuracyNamed(q.Accuracy)
	if err != nil {
		return nil, err
	}
	d, err := b.design(q.Asked)
	if err != nil {
		return nil, err
	}
	p := &plan{design: d, space: &study.Space{Text: []byte(q.Text), Accuracy: a.Name}}
	if q.File != "" {
		p.space.File = filepath.Join(b.o.Folder, q.File)
	}
	if q.Stock != "" {
		if p.space.Stock, err = stock.Read(strings.NewReader(q.Stock), stockName); err != nil {
			return nil, err
		}
	}
	s := &Study{Standing: Standing{Kind: q.Kind, File: q.File}, Asked: q, Title: d.Title, Paths: []string{}, Units: []string{}, Figures: []StudyFigure{}, Goals: []string{},
		Limits: []string{}, Rows: []StudyRow{}}
	p.study = s
	if q.Kind == toleranceStudy {
		if len(q.Vary) > 0 {
			return nil, bad("a tolerance study varies what builds stray in", "give the spreads in the design, under [tolerance]")
		}
		if q.Solves == 1 || q.Solves < 0 || q.Solves > mostBuilds {
			return nil, bad(fmt.Sprintf("%d builds to solve", q.Solves), fmt.Sprintf("none, or 2 to %d", mostBuilds))
		}
		return p, nil
	}
	if len(q.Vary) == 0 {
		return nil, bad("the study does not say what to vary", "choose a parameter and its values")
	}
	if err := p.space.VaryBy(q.Vary); err != nil {
		return nil, err
	}
	if err := p.space.Want(d, q.Figures); err != nil {
		return nil, err
	}
	size := p.space.Size()
	s.Total = size
	if q.Kind == sweepStudy {
		if size > mostStudyDesigns {
			return nil, bad(fmt.Sprintf("%d designs are too many for a sweep in the page", size), fmt.Sprintf("it takes %d: take fewer values, or search", mostStudyDesigns))
		}
	} else if err := p.aim(q); err != nil {
		return nil, err
	}
	t, err := p.space.Table()
	if err != nil {
		return nil, err
	}
	p.kinds = t.Kinds
	for i, v := range p.space.Vary {
		s.Paths = append(s.Paths, strings.Join(v.Paths, " & "))
		s.Units = append(s.Units, unitOf(t.Kinds[i], v))
	}
	for _, f := range p.space.Figures {
		s.Figures = append(s.Figures, figureOf(f))
	}
	return p, nil
}

// aim makes the search.
func (p *plan) aim(q Studying) error {
	s := p.study
	if q.Solves < 0 || q.Solves > mostSearchSolves {
		return bad(fmt.Sprintf("%d solves", q.Solves), fmt.Sprintf("1 to %d, or 0 for as many as is usual", mostSearchSolves))
	}
	if n := p.space.Size(); n > study.MostSearched {
		return bad(fmt.Sprintf("%d designs are too many to search", n), fmt.Sprintf("it takes %d: take fewer values", study.MostSearched))
	}
	z := &study.Search{Space: p.space, Solves: q.Solves, InStock: q.InStock}
	if err := z.Aim(q.Least, q.Most); err != nil {
		return err
	}
	if err := z.Keep(p.design, q.Limits); err != nil {
		return err
	}
	if err := z.Price(); err != nil {
		return err
	}
	for _, g := range z.Goals {
		word := "least "
		if g.Most {
			word = "most "
		}
		s.Goals = append(s.Goals, word+g.Figure.Name)
		p.figure(g.Figure)
	}
	for _, l := range z.Limits {
		s.Limits = append(s.Limits, l.String())
		p.figure(l.Figure)
	}
	p.search = z
	s.Total = 0
	return nil
}

// figure adds a figure to those that are solved for.
func (p *plan) figure(f study.Figure) {
	if !slices.ContainsFunc(p.space.Figures, func(g study.Figure) bool { return g.Name == f.Name }) {
		p.space.Figures = append(p.space.Figures, f)
	}
}

func figureOf(f study.Figure) StudyFigure {
	return StudyFigure{Name: f.Name, Show: f.Show, Times: f.Times, Meaning: f.Meaning}
}

// unitOf is the unit in which a variation is written; "" for words and plain numbers.
func unitOf(p design.Parameter, v study.Variation) string {
	if p.Kind == design.Text {
		return ""
	}
	_, unit, _ := quantity.Split(v.Values[0])
	return unit
}

// row is a row of the queue as the page has it.
func (p *plan) row(r study.Row) StudyRow {
	out := StudyRow{Index: r.Index, Settings: r.Settings, Values: make([]*float64, len(p.kinds)), Figures: r.Figures, Error: r.Error, Known: r.Known, Seconds: r.Seconds}
	if out.Settings == nil {
		out.Settings = []study.Setting{}
	}
	at := 0
	for i, v := range p.space.Vary {
		if at < len(r.Settings) {
			if x, unit, ok := quantity.Split(r.Settings[at].Value); ok && unit == p.study.Units[i] && p.kinds[i].Kind != design.Text {
				out.Values[i] = &x
			}
		}
		at += len(v.Paths)
	}
	if p.search != nil {
		out.Keeps = r.Error == "" && p.search.Keeps(r)
	}
	return out
}

// keepEvery is how often the rows of a study that runs are written down; without its server they would come from the queue's store again.
const keepEvery = 5 * time.Second

// conduct runs a study when it is its turn, to its end.
func (b *Bench) conduct(ctx context.Context, l *liveStudy, p *plan) {
	a := &b.studies
	defer l.cancel()
	err := func() (err error) {
		select {
		case a.turn <- struct{}{}:
			defer func() { <-a.turn }()
		case <-ctx.Done():
			return ctx.Err()
		}
		defer func() {
			if x := recover(); x != nil {
				err = fmt.Errorf("the program has failed on this study: %v", x)
			}
		}()
		l.update(func(s *Study) { s.State = studyRuns })
		return b.run(ctx, l, p)
	}()
	l.mu.Lock()
	stopped := l.stopped
	l.mu.Unlock()
	l.update(func(s *Study) {
		s.Running, s.LeftS = 0, -1
		switch {
		case err == nil:
			s.State, s.Share, s.LeftS = studyDone, 1, 0
		case ctx.Err() != nil && stopped:
			s.State = studyStopped
		case ctx.Err() != nil:
			s.State = studyInterrupted
		default:
			f := faultOf(err)
			s.State, s.Why = studyFailed, f.Problems[0].What
			if h := f.Problems[0].Hint; h != "" {
				s.Why += ": " + h
			}
		}
	})
	l.mu.Lock()
	s := l.s
	l.mu.Unlock()
	if err := b.record(&s); err != nil { // it is told, and the queue has the answers
		l.update(func(s *Study) { s.Why = err.Error() })
	}
	a.mu.Lock()
	delete(a.live, s.Name)
	a.mu.Unlock()
}

// run opens the queue and lets workers solve.
func (b *Bench) run(ctx context.Context, l *liveStudy, p *plan) error {
	begun := time.Now()
	tell := func(what string, share float64) {
		l.update(func(s *Study) {
			s.What, s.Share, s.ElapsedS = what, share, time.Since(begun).Seconds()
			if s.LeftS = -1; share > 0.02 && share < 1 {
				s.LeftS = s.ElapsedS * (1 - share) / share
			}
		})
	}
	add := func(rows ...StudyRow) {
		l.update(func(s *Study) {
			s.Rows = append(s.Rows, rows...)
			for _, r := range rows {
				if r.Error != "" {
					s.Failed++
				} else {
					s.Done++
				}
				if r.Known {
					s.Known++
				}
			}
		})
		l.mu.Lock()
		due := time.Since(l.kept) > keepEvery
		var s Study
		if due {
			l.kept, s = time.Now(), l.s
		}
		l.mu.Unlock()
		if due {
			b.record(&s) // the end of the study writes it again, and says what is wrong
		}
	}
	queued := func(ctx context.Context, run func(context.Context, *jobs.Queue) error) error {
		q, err := jobs.Open(ctx, jobs.Options{Dir: filepath.Join(b.o.Folder, studyFolder, "answers"), Version: cmp.Or(b.o.Program, b.o.Version, "unreleased")})
		if err != nil {
			return err
		}
		defer q.Close()
		n := 1 // finer solves need the memory for themselves
		if p.space.Accuracy == polewright.Draft.Name {
			n = max(1, runtime.GOMAXPROCS(0)-1) // one is for the page
		}
		return study.Working(ctx, q, n, func(ctx context.Context) error { return run(ctx, q) })
	}
	counted := func(o study.Options) study.Options {
		o.Again = true
		o.Progress = func(j jobs.Progress) {
			l.update(func(s *Study) {
				s.Running, s.Total, s.ElapsedS, s.LeftS = j.Running, o.Total, j.Elapsed, j.Left
				s.Share, s.What = float64(j.Done+j.Failed)/float64(max(1, o.Total)), "solving"
			})
		}
		return o
	}
	switch p.study.Kind {
	case sweepStudy:
		return queued(ctx, func(ctx context.Context, q *jobs.Queue) error {
			return study.Run(ctx, q, p.space.Cases(), counted(study.Options{Total: p.space.Size(), Each: func(r study.Row) { add(p.row(r)) }}))
		})
	case searchStudy:
		return queued(ctx, func(ctx context.Context, q *jobs.Queue) error {
			evaluate, solved := study.Evaluator(q, true), 0
			found, err := p.search.Run(ctx, func(ctx context.Context, cases []study.Case) ([]study.Row, error) {
				l.update(func(s *Study) { s.Running = len(cases) })
				rows, err := evaluate(ctx, cases)
				for _, r := range rows {
					r.Index = solved // its number in the space comes with the end
					solved++
					add(p.row(r))
				}
				return rows, err
			}, tell)
			if err == nil {
				l.update(func(s *Study) { p.foundIn(s, found) })
			}
			return err
		})
	}
	o := polewright.Tolerances{Seed: p.study.Asked.Seed, Solves: p.study.Asked.Solves, Progress: tell}
	o.Accuracy, _ = polewright.AccuracyNamed(p.space.Accuracy)
	o.Solve = func(ctx context.Context, list []polewright.Build, each func(int, polewright.Built, error)) error {
		return queued(ctx, func(ctx context.Context, q *jobs.Queue) error {
			return study.RunBuilds(ctx, q, p.space.Case(nil), list, counted(study.Options{Total: len(list), Each: func(r study.Row) {
				if k := r.Label.(polewright.Build); k.Thin && !k.Values { // one of those asked for
					add(p.row(r))
				}
			}}), each)
		})
	}
	t, err := polewright.RunTolerance(ctx, p.design, o)
	if err != nil {
		return err
	}
	seen := &ToleranceSeen{Tolerance: *t, Histograms: []Charting{}}
	var figures []StudyFigure
	for i := range t.Figures {
		f := &t.Figures[i]
		seen.Histograms = append(seen.Histograms, chartingOf(report.Histogram(f.What, f)))
		figures = append(figures, StudyFigure{Name: f.Key(), Show: f.Unit, Times: 1, Meaning: f.What})
	}
	l.update(func(s *Study) { s.Spread, s.Figures = seen, figures })
	return nil
}

// foundIn puts the rows as the search knows them, the best marked, in the place of those that came one by one.
func (p *plan) foundIn(s *Study, f *study.Found) {
	best := map[int]bool{}
	for _, r := range f.Best {
		best[r.Index] = true
	}
	s.Rows = nil
	for _, r := range f.Rows {
		row := p.row(r)
		row.Best = best[r.Index]
		s.Rows = append(s.Rows, row)
	}
	s.Found = &StudyFound{Designs: f.Designs, Buildable: f.Buildable, Finished: f.Finished}
	if f.Nearest != nil && len(f.Best) == 0 {
		s.Found.Nearest = &f.Nearest.Index
	}
}
