//go:build long

package web

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

var soak = flag.Duration("soak", 30*time.Second, "how long ten pages use the bench in TestSoak")

// Ten pages use a bench at once, each as a person does who drags a length, looks, solves and saves, and hang up in the midst of an answer now and
// then. When they are gone, so are their goroutines and open files, and the heap is that of the few solved fields that the bench keeps. For a
// long soak: go test -tags long -run TestSoak -timeout 1h -v ./web -soak 30m
func TestSoak(t *testing.T) {
	const clients = 10
	_, s := served(t)
	var asked, hungUp, refused atomic.Int64
	visit := func(client int, r *rand.Rand) {
		name := fmt.Sprintf("page-%d.toml", client)
		text := strings.Replace(pair, "kind = \"facing-pair\"\n", fmt.Sprintf("kind = \"facing-pair\"\ngap = \"%.2f mm\"\n", 10+10*r.Float64()), 1)
		ask := func(method, path string, body any) {
			said, err := json.Marshal(body)
			if err != nil {
				t.Error(err)
				return
			}
			ctx, hangUp := context.WithCancel(context.Background())
			defer hangUp()
			if r.IntN(8) == 0 {
				time.AfterFunc(time.Duration(r.IntN(200))*time.Millisecond, hangUp)
			}
			q, err := http.NewRequestWithContext(ctx, method, s.URL+path, bytes.NewReader(said))
			if err != nil {
				t.Error(err)
				return
			}
			q.Header.Set("Content-Type", "application/json")
			asked.Add(1)
			w, err := s.Client().Do(q)
			if err != nil {
				if ctx.Err() == nil {
					t.Errorf("%s %s: %v", method, path, err)
				}
				hungUp.Add(1)
				return
			}
			defer w.Body.Close()
			said, err = io.ReadAll(w.Body)
			switch {
			case err != nil && ctx.Err() != nil:
				hungUp.Add(1)
			case err != nil:
				t.Errorf("%s %s: %v", method, path, err)
			case w.StatusCode >= 500:
				t.Errorf("%s %s: %d %.300s", method, path, w.StatusCode, said)
			case w.StatusCode == http.StatusConflict, w.StatusCode == http.StatusNotFound:
				refused.Add(1) // a page that saved over what it had not seen, or whose first save was hung up
			case w.StatusCode >= 400:
				t.Errorf("%s %s: %d %.300s", method, path, w.StatusCode, said)
			}
		}
		a := Solving{Asked: Asked{Text: text}, Effort: Effort{Accuracy: "draft"}}
		for range 5 {
			ask("POST", "/api/look", Looking{Asked: a.Asked})
		}
		ask("POST", "/api/plane", Mapping{Solving: a, Plane: Plane{Axis: 1}, Cells: 32})
		ask("POST", "/api/solve", a)
		ask("GET", "/api/files", nil)
		ask("PUT", "/api/files/"+name, Saving{Text: text})
		ask("GET", "/api/files/"+name, nil)
		ask("POST", "/api/look", Looking{Asked: Asked{Text: "format = 1\nbogus"}})
	}
	run := func(long time.Duration) {
		var all sync.WaitGroup
		end := time.Now().Add(long)
		for client := range clients {
			all.Go(func() {
				r := rand.New(rand.NewPCG(uint64(client), 1))
				for time.Now().Before(end) && !t.Failed() {
					visit(client, r)
				}
			})
		}
		all.Wait()
	}
	run(*soak / 10) // what is made once, such as the tables of the closed forms, is no leak
	before := settled(t, s.Client())
	run(*soak)
	after := settled(t, s.Client())
	t.Logf("%d questions, %d hung up, %d refused; before %+v, after %+v", asked.Load(), hungUp.Load(), refused.Load(), before, after)
	if asked.Load() < 100 || hungUp.Load() == 0 {
		t.Errorf("only %d questions, %d hung up", asked.Load(), hungUp.Load())
	}
	if after.Goroutines > before.Goroutines+2 || after.Files > before.Files+2 {
		t.Errorf("before %+v, after %+v", before, after)
	}
	const kept = 256 << 20 // bytes; the fields that a bench keeps
	if after.Heap > before.Heap+kept {
		t.Errorf("the heap grew from %d to %d MB", before.Heap>>20, after.Heap>>20)
	}
}

// use is what a process holds.
type use struct {
	Goroutines, Files int
	Heap              uint64 // bytes
}

// settled waits until what was hung up has ended, half a minute at most, and counts.
func settled(t *testing.T, c *http.Client) (u use) {
	t.Helper()
	last := use{Goroutines: 1 << 30}
	for range 60 {
		c.CloseIdleConnections()
		time.Sleep(500 * time.Millisecond)
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		u = use{Goroutines: runtime.NumGoroutine(), Heap: m.HeapAlloc}
		if files, err := os.ReadDir("/proc/self/fd"); err == nil { // Linux; elsewhere files are not counted
			u.Files = len(files)
		}
		if u.Goroutines >= last.Goroutines && u.Files >= last.Files {
			return u
		}
		last = u
	}
	return u
}
