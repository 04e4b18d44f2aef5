package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"polewright"
	"polewright/design"
	"polewright/jobs"
	"polewright/magnetostatic"
	"polewright/mistake"
)

// This file takes questions and gives answers: JSON in, JSON or a stream of events out, every mistake in words.

// mostBytes is the largest question: a design file, quoted, and some more.
const mostBytes = 2*design.MaxFileBytes + 64<<10

// Problem is one thing that is wrong, as mistake.Error has it.
type Problem struct {
	File string `json:"file,omitempty"` // that it is in, where that is not the design
	Line int    `json:"line,omitempty"` // of the file, from 1; 0 when in no single line
	Key  string `json:"key,omitempty"`  // "magnet.upper.size.2", of a table its column
	What string `json:"what"`
	Hint string `json:"hint,omitempty"`
}

// Refusal is the answer to a question that has none.
type Refusal struct {
	Problems []Problem `json:"problems"`
	File     *File     `json:"file,omitempty"` // what the folder has, where that is the reason
}

// fault is a Refusal as an error, with its HTTP status.
type fault struct {
	Status   int
	Problems []Problem
	File     *File
}

func (f *fault) Error() string { return f.Problems[0].What }

func bad(what, hint string) *fault {
	return &fault{Status: http.StatusBadRequest, Problems: []Problem{{What: what, Hint: hint}}}
}

// faultOf finds the words for any error of the program.
func faultOf(err error) *fault {
	var known *fault
	var mistakes mistake.Errors
	var one *mistake.Error
	var memory *polewright.MemoryError
	var queue *jobs.Error
	wrong := func(what, hint string) *fault {
		return &fault{Status: http.StatusUnprocessableEntity, Problems: []Problem{{What: what, Hint: hint}}}
	}
	switch {
	case errors.As(err, &known):
		return known
	case errors.As(err, &mistakes):
		return &fault{Status: http.StatusUnprocessableEntity, Problems: problemsOf(mistakes)}
	case errors.As(err, &one):
		return &fault{Status: http.StatusUnprocessableEntity, Problems: problemsOf(mistake.Errors{one})}
	case errors.As(err, &queue):
		what := queue.What
		if queue.Err != nil {
			what += ": " + queue.Err.Error()
		}
		return wrong(what, queue.Hint)
	case errors.As(err, &memory):
		hint := "close other programs, or make the design simpler"
		if memory.Fits != "" {
			hint = "the accuracy " + memory.Fits + " would fit"
		}
		return &fault{Status: http.StatusInsufficientStorage, Problems: []Problem{{What: memory.Error(), Hint: hint}}}
	case errors.Is(err, magnetostatic.ErrNotConverged):
		return &fault{Status: http.StatusUnprocessableEntity, Problems: []Problem{{What: err.Error(), Hint: "look for parts far thinner than the rest and for a curve file with a kink"}}}
	case errors.Is(err, context.Canceled):
		return &fault{Status: http.StatusServiceUnavailable, Problems: []Problem{{What: "stopped before there was an answer"}}}
	}
	return &fault{Status: http.StatusUnprocessableEntity, Problems: []Problem{{What: err.Error()}}}
}

// problemsOf names the file of a mistake where it is not the design.
func problemsOf(list mistake.Errors) []Problem {
	out := []Problem{}
	for _, e := range list {
		p := Problem(*e)
		if p.File == "design" || strings.EqualFold(filepath.Ext(p.File), ".toml") {
			p.File = ""
		}
		out = append(out, p)
	}
	return out
}

func refuse(w http.ResponseWriter, err error) {
	f := faultOf(err)
	write(w, f.Status, Refusal{Problems: f.Problems, File: f.File})
}

// answer writes what there is, or why there is nothing.
func answer[Answer any](w http.ResponseWriter, r *http.Request, a Answer, err error) {
	if err != nil {
		refuse(w, err)
	} else if err := write(w, http.StatusOK, a); err != nil {
		unsaid(r, err)
	}
}

// unsaid tells the log of the server about an answer that could not be given: a fault of the program that its user alone would see.
func unsaid(r *http.Request, err error) {
	if s, ok := r.Context().Value(http.ServerContextKey).(*http.Server); ok && s.ErrorLog != nil {
		s.ErrorLog.Printf("%s: the answer cannot be sent: %v", r.URL.Path, err)
	}
}

// write writes v, or a refusal when it holds what JSON cannot say; then it returns why.
func write(w http.ResponseWriter, status int, v any) error {
	text, fault := encoded(v)
	if fault != nil {
		status = http.StatusInternalServerError
		text, _ = encoded(Refusal{Problems: []Problem{{What: "the answer holds a value that is not a number: " + fault.Error()}}})
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(patience))
	w.WriteHeader(status)
	w.Write(text)
	return fault
}

func encoded(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// bounded is a question that can ask for what there is not: check says so before anything is done.
type bounded interface{ check() error }

// take reads a question and holds it to its bounds.
func take[Q any](w http.ResponseWriter, r *http.Request) (*Q, error) {
	q := new(Q)
	if err := read(w, r, q); err != nil {
		return nil, err
	}
	if c, ok := any(q).(bounded); ok {
		return q, c.check()
	}
	return q, nil
}

// read takes the body of a question.
func read(w http.ResponseWriter, r *http.Request, into any) error {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return &fault{Status: http.StatusUnsupportedMediaType, Problems: []Problem{{What: "the question is not said to be JSON", Hint: "send Content-Type: application/json"}}}
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostBytes))
	var long *http.MaxBytesError
	if errors.As(err, &long) {
		return &fault{Status: http.StatusRequestEntityTooLarge, Problems: []Problem{{What: fmt.Sprintf("the question is over %d MiB long", mostBytes>>20), Hint: "a design file may be 4 MiB long"}}}
	}
	if err != nil {
		return bad("the question broke off: "+err.Error(), "")
	}
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return bad("the question cannot be read: "+err.Error(), "GET /api/openapi.json says what it takes")
	}
	if d.More() {
		return bad("the question has something behind its end", "send one JSON object")
	}
	return nil
}

// events is a stream of server-sent events, as the HTML standard has them: a name and one line of JSON each.
type events struct {
	mu      sync.Mutex
	w       http.ResponseWriter
	control *http.ResponseController
	begun   time.Time
	shown   time.Time
}

// Progress is how far a computation has come.
type Progress struct {
	What        string  `json:"what"`
	Done        float64 `json:"done"`                   // share of the work
	SecondsLeft float64 `json:"seconds_left,omitempty"` // by the pace so far
}

func newEvents(w http.ResponseWriter) *events {
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	return &events{w: w, control: http.NewResponseController(w), begun: time.Now()}
}

func (e *events) send(name string, v any) error {
	text, err := encoded(v)
	if err != nil {
		return err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	e.control.SetWriteDeadline(time.Now().Add(patience))
	fmt.Fprintf(e.w, "event: %s\ndata: %s\n", name, text) // whoever has hung up needs no answer
	e.control.Flush()
	return nil
}

// progress sends what is done, ten times a second at most.
func (e *events) progress(what string, done float64) {
	const every = 100 * time.Millisecond
	e.mu.Lock()
	now := time.Now()
	late := now.Sub(e.shown) >= every
	if late {
		e.shown = now
	}
	e.mu.Unlock()
	if !late {
		return
	}
	p := Progress{What: what, Done: done}
	if spent := now.Sub(e.begun); done >= 0.05 && done < 1 && spent > 300*time.Millisecond {
		p.SecondsLeft = spent.Seconds() * (1 - done) / done
	}
	e.send("progress", p)
}

// share is progress through a part of the work.
func (e *events) share(from, to float64) func(what string, done float64) {
	return func(what string, done float64) { e.progress(what, from+(to-from)*done) }
}

// stream answers with progress and one last event, "answer" or "refusal".
func stream[Answer any](w http.ResponseWriter, r *http.Request, work func(e *events) (Answer, error)) {
	e := newEvents(w)
	a, err := work(e)
	if r.Context().Err() != nil {
		return
	}
	if err == nil {
		if err = e.send("answer", a); err == nil {
			return
		}
		unsaid(r, err)
		err = fmt.Errorf("the answer cannot be sent: %w", err)
	}
	f := faultOf(err)
	e.send("refusal", Refusal{Problems: f.Problems, File: f.File})
}
