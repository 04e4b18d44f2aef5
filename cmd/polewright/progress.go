package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"
	"unicode/utf8"
)

// progress is one line on a terminal, rewritten in place. On anything else it is silent.
type progress struct {
	w    io.Writer
	now  func() time.Time
	quit chan struct{}
	gone sync.WaitGroup

	mu    sync.Mutex
	start time.Time
	what  string
	done  float64   // share of the work
	at    time.Time // when done was told
	shown int       // columns of the line on the screen
}

// newProgress starts the line if w is a terminal.
func newProgress(w io.Writer, quiet bool) *progress {
	p := &progress{now: time.Now, quit: make(chan struct{})}
	f, ok := w.(*os.File)
	if quiet || !ok || os.Getenv("TERM") == "dumb" {
		return p
	}
	if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return p
	}
	p.w = w
	p.start = p.now()
	p.at = p.start
	p.gone.Go(func() {
		tick := time.NewTicker(200 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-p.quit:
				return
			case <-tick.C:
				p.show()
			}
		}
	})
	return p
}

// report takes how far the work has come, from 0 to 1.
func (p *progress) report(what string, done float64) {
	if p.w == nil {
		return
	}
	p.mu.Lock()
	p.what, p.done, p.at = what, done, p.now()
	p.mu.Unlock()
}

func (p *progress) show() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.what == "" {
		return
	}
	line := p.line()
	n := utf8.RuneCountInString(line)
	fmt.Fprint(p.w, "\r"+line+strings.Repeat(" ", max(0, p.shown-n)))
	p.shown = n
}

// line is what, per cent and the time left by the pace so far or, where that says nothing, the time spent.
func (p *progress) line() string {
	const room = 46
	what := p.what
	if r := []rune(what); len(r) > room {
		what = string(r[:room])
	}
	s := fmt.Sprintf("%s, %.0f %%, ", what, 100*p.done)
	now := p.now()
	paced := p.at.Sub(p.start)
	if p.done >= 0.05 && paced >= 300*time.Millisecond {
		if left := time.Duration(float64(paced)*(1-p.done)/p.done) - now.Sub(p.at); left > 0 {
			return s + "about " + roughly(left) + " left"
		}
	}
	return s + roughly(now.Sub(p.start)) + " so far"
}

func roughly(d time.Duration) string {
	if d < 90*time.Second {
		return fmt.Sprintf("%.0f s", max(1, d.Seconds()))
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}

// stop wipes the line away.
func (p *progress) stop() {
	if p.w == nil {
		return
	}
	close(p.quit)
	p.gone.Wait()
	if p.shown > 0 {
		fmt.Fprint(p.w, "\r"+strings.Repeat(" ", p.shown)+"\r")
	}
}
