package web

import (
	"bufio"
	"bytes"
	"cmp"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright"
	"polewright/design"
	"polewright/material"
	"polewright/result"
	"polewright/stock"
)

var update = flag.Bool("update", false, "write openapi.json anew")

// pair is two magnets without steel, which are solved soonest.
const pair = "format = 1\ntitle = \"pair\"\n[layout]\nkind = \"facing-pair\"\n[[probe]]\nname = \"centre\"\nat = [\"0 mm\", \"0 mm\", \"0 mm\"]\n"

const framed = "format = 1\n[layout]\nkind = \"framed-pair\"\n"

// served is a bench on a folder of its own, at a loopback address.
func served(t testing.TB) (*Bench, *httptest.Server) {
	t.Helper()
	s := httptest.NewUnstartedServer(nil)
	b, err := New(Options{Folder: t.TempDir(), Version: "test", Addr: s.Listener.Addr().String()})
	if err != nil {
		t.Fatal(err)
	}
	s.Config.Handler = b
	s.Start()
	t.Cleanup(func() { s.Close(); b.Close() })
	return b, s
}

// put asks and reads the answer, whatever its status.
func put(t testing.TB, s *httptest.Server, method, path string, body any, answer any) int {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequest(method, s.URL+path, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	w, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Body.Close()
	if answer != nil {
		if err := json.NewDecoder(w.Body).Decode(answer); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
	}
	return w.StatusCode
}

// heard reads a stream to its last event.
func heard(t testing.TB, s *httptest.Server, path string, body any, answer any) (events []string) {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	w, err := s.Client().Post(s.URL+path, "application/json", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	defer w.Body.Close()
	if w.StatusCode != http.StatusOK {
		said, _ := io.ReadAll(w.Body)
		t.Fatalf("%s: %d %s", path, w.StatusCode, said)
	}
	lines := bufio.NewReader(w.Body)
	var data string
	for {
		line, err := lines.ReadString('\n')
		if name, ok := strings.CutPrefix(line, "event: "); ok {
			events = append(events, strings.TrimSpace(name))
		}
		if d, ok := strings.CutPrefix(line, "data: "); ok {
			data = d
		}
		if err != nil {
			break
		}
	}
	if len(events) == 0 || events[len(events)-1] != "answer" {
		t.Fatalf("%s: the last of %v says %s", path, events, data)
	}
	if err := json.Unmarshal([]byte(data), answer); err != nil {
		t.Fatal(err)
	}
	return events
}

func TestStrangersAreRefused(t *testing.T) {
	local, err := New(Options{Folder: t.TempDir(), Addr: "127.0.0.1:7461"})
	if err != nil {
		t.Fatal(err)
	}
	defer local.Close()
	open, err := New(Options{Folder: t.TempDir(), Addr: "0.0.0.0:7461"})
	if err != nil {
		t.Fatal(err)
	}
	defer open.Close()
	if local.Token != "" || len(open.Token) != 32 || !strings.HasSuffix(open.URL(), "/#token="+open.Token) || local.URL() != "http://127.0.0.1:7461/" {
		t.Fatalf("tokens %q and %q, addresses %s and %s", local.Token, open.Token, local.URL(), open.URL())
	}
	cases := []struct {
		name   string
		bench  *Bench
		path   string
		host   string
		header map[string]string
		want   int
	}{
		{"own page", local, "/", "127.0.0.1:7461", nil, 200},
		{"own question", local, "/api/files", "localhost:7461", map[string]string{"Origin": "http://localhost:7461", "Sec-Fetch-Site": "same-origin"}, 200},
		{"IPv6", local, "/api/files", "[::1]:7461", nil, 200},
		{"a name that leads here", local, "/api/files", "evil.example:7461", nil, 403},
		{"a name that leads here, page", local, "/", "evil.example:7461", nil, 403},
		{"another port", local, "/api/files", "127.0.0.1:80", nil, 403},
		{"another address", local, "/api/files", "192.0.2.7:7461", nil, 403},
		{"another origin", local, "/api/files", "127.0.0.1:7461", map[string]string{"Origin": "http://evil.example"}, 403},
		{"the origin of another port", local, "/api/files", "127.0.0.1:7461", map[string]string{"Origin": "http://127.0.0.1:8080"}, 403},
		{"no origin at all", local, "/api/files", "127.0.0.1:7461", map[string]string{"Origin": "null"}, 403},
		{"another site", local, "/api/files", "127.0.0.1:7461", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		{"page without the token", open, "/", "192.0.2.7:7461", nil, 200},
		{"question without the token", open, "/api/files", "192.0.2.7:7461", nil, 401},
		{"a wrong token", open, "/api/files", "192.0.2.7:7461", map[string]string{"Authorization": "Bearer " + strings.Repeat("0", 32)}, 401},
		{"the token", open, "/api/files", "192.0.2.7:7461", map[string]string{"Authorization": "Bearer " + open.Token}, 200},
		{"the token, another origin", open, "/api/files", "192.0.2.7:7461", map[string]string{"Authorization": "Bearer " + open.Token, "Origin": "http://evil.example"}, 403},
		{"no such question", local, "/api/nothing", "127.0.0.1:7461", nil, 404},
		{"a folder above", local, "/api/files/..%2f..%2fetc%2fpasswd", "127.0.0.1:7461", nil, 400},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := httptest.NewRequest("GET", c.path, nil)
			r.Host = c.host
			for k, v := range c.header {
				r.Header.Set(k, v)
			}
			w := httptest.NewRecorder()
			c.bench.ServeHTTP(w, r)
			if w.Code != c.want {
				t.Errorf("%d, want %d: %s", w.Code, c.want, w.Body)
			}
			if w.Header().Get("Content-Security-Policy") != policy || w.Header().Get("Set-Cookie") != "" || w.Header().Get("Access-Control-Allow-Origin") != "" {
				t.Errorf("headers %v", w.Header())
			}
		})
	}
}

func TestFiles(t *testing.T) {
	b, s := served(t)
	var saved Saved
	if code := put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair}, &saved); code != 200 {
		t.Fatal(code)
	}
	var f File
	if put(t, s, "GET", "/api/files/a.toml", nil, &f); f.Text != pair || f.Version != saved.Version {
		t.Fatalf("%+v", f)
	}
	// Two tabs have read the same version: the second one to save hears of the first.
	var first, second Saved
	if code := put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair + "# one\n", Base: f.Version}, &first); code != 200 {
		t.Fatal(code)
	}
	var no Refusal
	if code := put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair + "# two\n", Base: f.Version}, &no); code != 409 || no.File == nil || no.File.Text != pair+"# one\n" || no.File.Version != first.Version {
		t.Fatalf("%d %+v", code, no)
	}
	if code := put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair + "# two\n", Base: no.File.Version}, &second); code != 200 {
		t.Fatal(code)
	}
	// A new file does not take the place of one that is there.
	if code := put(t, s, "PUT", "/api/files/a.toml", Saving{Text: framed}, &no); code != 409 {
		t.Fatal(code)
	}
	// One that was taken away does not come back unasked.
	if err := os.Remove(filepath.Join(b.o.Folder, "a.toml")); err != nil {
		t.Fatal(err)
	}
	if code := put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair, Base: second.Version}, &no); code != 409 {
		t.Fatal(code)
	}
	for _, name := range []string{"a.txt", ".hidden.toml", "..%2fa.toml", "a%2fb.toml", "a%5cb.toml", "a%00.toml", strings.Repeat("a", 200) + ".toml"} {
		if code := put(t, s, "PUT", "/api/files/"+name, Saving{Text: pair}, &no); code != 400 || len(no.Problems) == 0 {
			t.Errorf("%s: %d", name, code)
		}
	}
	// No way out of the folder, by a link either.
	outside := filepath.Join(t.TempDir(), "secret.toml")
	if err := os.WriteFile(outside, []byte("secret"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(b.o.Folder, "link.toml")); err == nil {
		if code := put(t, s, "GET", "/api/files/link.toml", nil, &no); code != 400 {
			t.Errorf("a link out of the folder: %d", code)
		}
	}
	if code := put(t, s, "PUT", "/api/files/long.toml", Saving{Text: strings.Repeat("#", design.MaxFileBytes+1)}, &no); code != 400 {
		t.Errorf("a long file: %d", code)
	}
	if code := put(t, s, "POST", "/api/look", Asked{Text: strings.Repeat("#", mostBytes)}, &no); code != 413 {
		t.Errorf("a long question: %d", code)
	}
	entries, err := os.ReadDir(b.o.Folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".part") {
			t.Errorf("%s is left", e.Name())
		}
	}
}

// Many pages save over the same version at once: one gets through.
func TestOneSaveWins(t *testing.T) {
	_, s := served(t)
	var saved Saved
	put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair}, &saved)
	var codes sync.Map
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			codes.Store(i, put(t, s, "PUT", "/api/files/a.toml", Saving{Text: fmt.Sprintf("%s# %d\n", pair, i), Base: saved.Version}, nil))
		})
	}
	all.Wait()
	won := 0
	codes.Range(func(_, code any) bool {
		if code == 200 {
			won++
		} else if code != 409 {
			t.Errorf("status %d", code)
		}
		return true
	})
	if won != 1 {
		t.Errorf("%d of 20 were saved", won)
	}
}

func TestFolderThatIsGone(t *testing.T) {
	b, s := served(t)
	if err := os.RemoveAll(b.o.Folder); err != nil {
		t.Fatal(err)
	}
	var no Refusal
	if code := put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair}, &no); code != http.StatusInsufficientStorage || !strings.Contains(no.Problems[0].Hint, "stays in the page") {
		t.Errorf("%d %+v", code, no)
	}
}

// Every layout begins well in both its forms, and the parts' meshes are closed surfaces of the parts' volumes (by the divergence theorem).
func TestLookAtLayouts(t *testing.T) {
	_, s := served(t)
	var c Catalogue
	put(t, s, "GET", "/api/catalogue", nil, &c)
	if len(c.Layouts) != len(design.Layouts()) || len(c.Grades) == 0 || len(c.Palette) < 16 {
		t.Fatalf("%d layouts, %d grades", len(c.Layouts), len(c.Grades))
	}
	for _, kind := range c.Layouts {
		for form, text := range map[string]string{"short": kind.Short, "written": kind.Written} {
			var l Look
			put(t, s, "POST", "/api/look", Looking{Asked: Asked{Text: text}}, &l)
			if len(l.Problems) > 0 || len(l.Parts) == 0 || len(l.Parameters) < 5 {
				t.Errorf("%s, %s: %+v, %d parts, %d parameters", kind.Kind, form, l.Problems, len(l.Parts), len(l.Parameters))
				continue
			}
			d, err := design.Read(strings.NewReader(text), "")
			if err != nil {
				t.Fatal(err)
			}
			solids := map[string]design.Part{}
			for _, p := range d.Parts() {
				solids[p.Name] = p
			}
			for _, p := range l.Parts {
				q, ok := solids[p.Name]
				if !ok || p.Mesh < 0 {
					t.Errorf("%s, %s: part %s has no solid or no mesh", kind.Kind, form, p.Name)
					continue
				}
				v, m := 0.0, l.Meshes[p.Mesh].Corners
				for i := 0; i+9 <= len(m); i += 9 {
					v += (m[i]*(m[i+4]*m[i+8]-m[i+5]*m[i+7]) - m[i+1]*(m[i+3]*m[i+8]-m[i+5]*m[i+6]) + m[i+2]*(m[i+3]*m[i+7]-m[i+4]*m[i+6])) / 6
				}
				if v *= 1e-9; math.Abs(v/q.Solid.Volume()-1) > 0.01 { // chords cut the rims of round parts
					t.Errorf("%s, %s: the mesh of %s encloses %g m3, not %g", kind.Kind, form, p.Name, v, q.Solid.Volume())
				}
			}
		}
	}
}

func TestLookChangesAndMistakes(t *testing.T) {
	_, s := served(t)
	var l Look
	if code := put(t, s, "POST", "/api/look", Looking{Asked{Text: framed + "gap = \"18 mm\" # mine\n"}, []Change{{"layout.gap", "0.75 in"}}}, &l); code != 200 {
		t.Fatal(code)
	}
	if l.Text != framed+"gap = \"0.75 in\" # mine\n" || len(l.Problems) > 0 || l.Lumped == nil {
		t.Errorf("%q %+v", l.Text, l.Problems)
	}
	for _, p := range l.Parameters {
		if p.Path == "layout.gap" && (p.SI == nil || math.Abs(*p.SI-0.01905) > 1e-12 || p.Meaning == "") {
			t.Errorf("%+v", p)
		}
	}
	l = Look{}
	put(t, s, "POST", "/api/look", Looking{Asked{Text: framed}, []Change{{"layout.leg", "9 mm"}, {"layout.gap", "18"}}}, &l)
	if len(l.Refused) != 1 || l.Refused[0].Key != "layout.gap" || l.Refused[0].Hint == "" || l.Text != framed {
		t.Errorf("%+v %q", l.Refused, l.Text)
	}
	l = Look{}
	put(t, s, "POST", "/api/look", Looking{Asked: Asked{Text: "format = 1\n[target]\nfield = \"0.3 T\"\ngap = \"20 mm\"\n"}}, &l)
	if !l.NoParts || len(l.Problems) > 0 || len(l.Parts) > 0 {
		t.Errorf("a target without parts: %+v", l)
	}
	l = Look{}
	put(t, s, "POST", "/api/look", Looking{Asked: Asked{Text: "format = 1\n[layout]\nkind = \"framed-pair\"\ngap = \"-3 mm\"\nbogus = 4\n"}}, &l)
	if len(l.Problems) != 2 || l.Problems[0].Line != 4 || l.Problems[0].Key != "layout.gap" || l.Problems[1].Line != 5 {
		t.Errorf("%+v", l.Problems)
	}
}

// The answer is that of the pipeline, number for number; cmd/polewright compares it with what predict --json prints.
func TestSolve(t *testing.T) {
	_, s := served(t)
	var got map[string]any
	heard(t, s, "/api/solve", Solving{Asked{Text: framed}, Effort{Accuracy: "draft"}}, &got)
	d, err := design.Read(strings.NewReader(framed), "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(r.Result)
	if err != nil {
		t.Fatal(err)
	}
	var want map[string]any
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	for _, m := range []map[string]any{got, want} {
		delete(m["solver"].(map[string]any), "seconds")
	}
	a, _ := json.Marshal(got)
	b, _ := json.Marshal(want)
	if !bytes.Equal(a, b) {
		t.Errorf("the bench answers\n%s\nthe pipeline\n%s", a, b)
	}
}

// What JSON cannot say is said in words to who asked, and to the log of the server.
func TestUnsaid(t *testing.T) {
	for name, give := range map[string]func(w http.ResponseWriter, r *http.Request){
		"at once": func(w http.ResponseWriter, r *http.Request) { answer(w, r, math.NaN(), nil) },
		"stream": func(w http.ResponseWriter, r *http.Request) {
			stream(w, r, func(*events) (float64, error) { return math.Inf(1), nil })
		},
	} {
		var logged bytes.Buffer
		s := &http.Server{ErrorLog: log.New(&logged, "", 0)}
		r := httptest.NewRequest("POST", "/api/thing", nil)
		w := httptest.NewRecorder()
		give(w, r.WithContext(context.WithValue(r.Context(), http.ServerContextKey, s)))
		if text := w.Body.String(); !strings.Contains(text, "problems") || !strings.Contains(text, "unsupported value") {
			t.Errorf("%s: %q", name, text)
		}
		if text := logged.String(); !strings.Contains(text, "/api/thing") || !strings.Contains(text, "unsupported value") {
			t.Errorf("%s: the log has %q", name, text)
		}
	}
}

// What is asked of a kept field is that of the field.
func TestFieldQuestions(t *testing.T) {
	_, s := served(t)
	d, err := design.Read(strings.NewReader(pair), "")
	if err != nil {
		t.Fatal(err)
	}
	solved, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft})
	if err != nil {
		t.Fatal(err)
	}
	q := Solving{Asked{Text: pair}, Effort{Accuracy: "draft"}}
	var m Map
	events := heard(t, s, "/api/plane", Mapping{q, Plane{1, 0.003}, 40, nil}, &m)
	if !m.Last || m.Across != 0 || m.Up != 2 || len(m.B) != 3*m.Columns*m.Rows || !slices.Contains(events, "map") {
		t.Fatalf("%v: %d x %d, %d numbers", events, m.Columns, m.Rows, len(m.B))
	}
	for j := range m.Rows {
		for i := range m.Columns {
			b, _ := solved.Field(vector([3]float64{m.Corner[0] + float64(i)*m.StepM, 0.003, m.Corner[1] + float64(j)*m.StepM}))
			k := 3 * (j*m.Columns + i)
			// Six digits are kept of each component.
			if math.Hypot(math.Hypot(m.B[k]-b.X, m.B[k+1]-b.Y), m.B[k+2]-b.Z) > 1e-5 {
				t.Fatalf("point %d, %d: %v, not %v", i, j, m.B[k:k+3], b)
			}
		}
	}
	heard(t, s, "/api/plane", Mapping{q, Plane{2, 0.001}, 16, &Window{[2]float64{-0.004, -0.002}, [2]float64{0.004, 0.002}}}, &m)
	if m.StepM != 0.0005 || m.Columns != 17 || m.Rows != 9 || math.Abs(m.Corner[0]+0.004) > 1e-12 || math.Abs(m.Corner[1]+0.002) > 1e-12 {
		t.Errorf("the window has %d x %d points %g m apart from %v", m.Columns, m.Rows, m.StepM, m.Corner)
	}
	if b, _ := solved.Field(r3.Vec{X: 0.002, Y: 0.001, Z: 0.001}); math.Abs(m.B[3*(6*17+12)+2]/b.Z-1) > 1e-7 {
		t.Errorf("in the window %g T, not %g T", m.B[3*(6*17+12)+2], b.Z)
	}
	var l Trace
	heard(t, s, "/api/line", Tracing{q, [3]float64{0, 0, 0}, [3]float64{0, 0, 0.5}, 11}, &l)
	for i, x := range l.S {
		b, h := solved.Field(vector([3]float64{0, 0, x}))
		if numbers(b) != l.B[i] || numbers(h) != l.H[i] || math.Abs(x-0.05*float64(i)) > 1e-12 {
			t.Errorf("at %g m: %v", x, l.B[i])
		}
	}
	var f Fence
	heard(t, s, "/api/stray", Fencing{q, 5e-4}, &f)
	for i := range f.Points {
		b, _ := solved.Field(vector(f.Points[i]))
		if size := math.Hypot(math.Hypot(b.X, b.Y), b.Z); math.Abs(size/5e-4-1) > 1e-3 {
			t.Errorf("point %d of the surface of 0.5 mT has %g T", i, size)
		}
	}
	// Directions lie 2 degrees apart: the farthest of them is near the farthest of all.
	if far := solved.Result.Stray[0].Largest; math.Abs(f.FarthestM/far-1) > 0.001 {
		t.Errorf("0.5 mT reaches %g m, and %g m by the result", f.FarthestM, far)
	}
	var no Refusal
	if code := put(t, s, "POST", "/api/line", Tracing{q, [3]float64{}, [3]float64{}, 11}, &no); code != 400 {
		t.Errorf("a line without length: %d", code)
	}
	for _, w := range []Window{{}, {[2]float64{1, 0}, [2]float64{0, 1}}, {[2]float64{0, 0}, [2]float64{1, 1e-4}}, {[2]float64{0, 0}, [2]float64{1e9, 1e9}}} {
		if code := put(t, s, "POST", "/api/plane", Mapping{q, Plane{}, 8, &w}, &no); code != 400 {
			t.Errorf("the window %v: %d", w, code)
		}
	}
}

// The curve of a magnet at its reference temperature begins at the grade's remanence, and the working point lies on curve and load line.
func TestMagnetCurves(t *testing.T) {
	_, s := served(t)
	var c Curves
	put(t, s, "POST", "/api/magnet", Warming{Asked{Text: pair}, "upper", 1.5}, &c)
	m, err := material.Grade("N42")
	if err != nil {
		t.Fatal(err)
	}
	var before float64
	for i, k := range c.Curves {
		n := len(k.H) - 1
		if k.DegC == m.ReferenceC && math.Abs(k.B[n]/m.RemanenceT-1) > 1e-12 {
			t.Errorf("B at H = 0 is %g T", k.B[n])
		}
		if math.Abs(k.B0+1.5*material.Mu0*k.H0) > 1e-9 {
			t.Errorf("%g degC: the working point is off the load line: %g T, %g A/m", k.DegC, k.B0, k.H0)
		}
		at := m.At(k.DegC)
		if curve, ok := at.Demagnetization(); ok {
			if b, _, _ := curve.Eval(k.H0); math.Abs(b-k.B0) > 1e-9 || k.Knee != at.KneeApm() {
				t.Errorf("%g degC: the working point is off the curve", k.DegC)
			}
		}
		if i > 0 && k.B0 >= before {
			t.Errorf("%g degC: a warmer magnet gives more", k.DegC)
		}
		before = k.B0
	}
	if len(c.Curves) < 40 {
		t.Errorf("%d curves", len(c.Curves))
	}
}

// Ten tabs ask for the same, and for different things: all get their answer, one solve serves those that ask alike, and nothing is left behind.
func TestTenTabs(t *testing.T) {
	b, s := served(t)
	var all sync.WaitGroup
	fields := make([]float64, 20)
	for i := range 20 {
		all.Go(func() {
			text := pair
			if i >= 10 {
				text = strings.Replace(pair, "[[probe]]", fmt.Sprintf("gap = \"%d mm\"\n[[probe]]", 10+i), 1)
			}
			var r struct {
				B [3]float64 `json:"gap_b_T"`
			}
			heard(t, s, "/api/solve", Solving{Asked{Text: text}, Effort{Accuracy: "draft", FieldOnly: true}}, &r)
			fields[i] = r.B[2]
		})
	}
	all.Wait()
	for i := 1; i < 20; i++ {
		if i < 10 && fields[i] != fields[0] || i > 10 && fields[i] >= fields[i-1] {
			t.Errorf("tab %d: %g T", i, fields[i])
		}
	}
	b.answers.mu.Lock()
	defer b.answers.mu.Unlock()
	if b.answers.busy != 0 || len(b.answers.list) > mostKept {
		t.Errorf("%d busy, %d kept", b.answers.busy, len(b.answers.list))
	}
}

// However late a field comes, no more are kept than the bounds say, and it is among them: a slow solve may end after many that were asked for later.
func TestTrim(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a answers
		for range rapid.IntRange(1, 20).Draw(t, "fields") {
			e := &kept{done: make(chan struct{}), solved: &polewright.Solved{Result: &result.Result{}}}
			e.solved.Result.Solver.Unknowns = rapid.IntRange(1, keptUnknowns).Draw(t, "unknowns")
			a.list = append(a.list, e)
		}
		order := rapid.Permutation(slices.Clone(a.list)).Draw(t, "order")
		for _, e := range order {
			close(e.done)
			a.trim(e)
			count, unknowns := 0, 0
			for _, e := range a.list {
				if e.ready() {
					count, unknowns = count+1, unknowns+e.solved.Result.Solver.Unknowns
				}
			}
			if count > mostKept || unknowns > keptUnknowns && count > 1 || !slices.Contains(a.list, e) {
				t.Fatalf("%d fields of %d unknowns are kept, the newest: %t", count, unknowns, slices.Contains(a.list, e))
			}
		}
	})
}

// A page that hangs up stops its solve; another that waits for the same goes on.
func TestHangingUp(t *testing.T) {
	b, s := served(t)
	text, err := json.Marshal(Solving{Asked{Text: framed}, Effort{Accuracy: "fine"}})
	if err != nil {
		t.Fatal(err)
	}
	ask := func(ctx context.Context) {
		r, _ := http.NewRequestWithContext(ctx, "POST", s.URL+"/api/solve", bytes.NewReader(text))
		r.Header.Set("Content-Type", "application/json")
		if w, err := s.Client().Do(r); err == nil {
			io.Copy(io.Discard, w.Body)
			w.Body.Close()
		}
	}
	state := func() (asking, busy int) {
		b.answers.mu.Lock()
		defer b.answers.mu.Unlock()
		for _, e := range b.answers.list {
			asking += e.asking
		}
		return asking, b.answers.busy
	}
	until := func(what string, ok func(asking, busy int) bool) {
		t.Helper()
		for range 3000 {
			if ok(state()) {
				return
			}
			time.Sleep(10 * time.Millisecond)
		}
		a, n := state()
		t.Fatalf("%s: %d ask, %d busy", what, a, n)
	}
	one, endOne := context.WithCancel(context.Background())
	two, endTwo := context.WithCancel(context.Background())
	defer endTwo()
	go ask(one)
	go ask(two)
	until("both wait for one solve", func(a, n int) bool { return a == 2 && n == 1 })
	endOne()
	until("one waits on", func(a, n int) bool { return a == 1 && n == 1 })
	endTwo()
	until("nobody waits", func(a, n int) bool { return a == 0 && n == 0 })
}

// The description is that of the repository, is sound OpenAPI, and holds for real answers.
func TestOpenAPI(t *testing.T) {
	const name = "openapi.json"
	now := Specification()
	if *update {
		if err := os.WriteFile(name, now, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if kept, err := os.ReadFile(name); err != nil || !bytes.Equal(kept, now) {
		t.Errorf("openapi.json is stale (%v): go test ./web -run TestOpenAPI -update, then npm run types in web/page", err)
	}
	doc, err := openapi3.NewLoader().LoadFromData(now)
	if err != nil {
		t.Fatal(err)
	}
	if err := doc.Validate(context.Background()); err != nil {
		t.Fatal(err)
	}
	_, s := served(t)
	put(t, s, "PUT", "/api/files/a.toml", Saving{Text: pair}, nil)
	wound, err := design.Template("wound-pair")
	if err != nil {
		t.Fatal(err)
	}
	solving := Solving{Asked{Text: pair}, Effort{Accuracy: "draft"}}
	target := "format = 1\n[target]\nfield = \"0.3 T\"\ngap = \"20 mm\"\n"
	for _, c := range []struct {
		method, path, at string
		ask              any
	}{
		{"GET", "/api/catalogue", "", nil}, {"GET", "/api/files", "", nil}, {"GET", "/api/files/{name}", "/api/files/a.toml", nil},
		{"POST", "/api/look", "", Looking{Asked: Asked{Text: wound}}}, {"POST", "/api/solve", "", solving}, {"POST", "/api/solve", "", Solving{Asked{Text: wound}, Effort{Accuracy: "draft", FieldOnly: true}}}, {"POST", "/api/plane", "", Mapping{solving, Plane{}, 8, nil}},
		{"POST", "/api/line", "", Tracing{solving, [3]float64{}, [3]float64{0, 0, 1}, 3}}, {"POST", "/api/gap", "", Gauging{solving, 1e4, 1e-3}},
		{"POST", "/api/stray", "", Fencing{solving, 1e-3}}, {"POST", "/api/steel", "", Solving{Asked{Text: wound}, Effort{Accuracy: "draft", FieldOnly: true}}}, {"POST", "/api/magnet", "", Warming{Asked{Text: pair}, "lower", 1}},
		{"POST", "/api/approach", "", Closing{Asked{Text: pair}, Plane{2, 0}, 0.1, 4}}, {"POST", "/api/size", "", Sizing{Asked{Text: target}, 0}},
		{"GET", "/api/readings/{name}", "/api/readings/a.toml", nil}, {"PUT", "/api/readings/{name}", "/api/readings/a.toml", Saving{Text: "Bz_mT\n1\n"}}, {"GET", "/api/stock", "", nil}, {"GET", "/api/studies", "", nil},
		{"POST", "/api/bill", "", Billing{Asked{Text: wound}, string(stock.Starter())}}, {"POST", "/api/verify", "", Verifying{Asked: Asked{Text: pair}, Log: "z_mm,Bz_mT\n0,1\n", Accuracy: "draft"}},
		{"POST", "/api/wind", "", Winding{Asked{Text: wound}, "winding", false}}, {"POST", "/api/cut", "", Asked{Text: wound}},
		{"POST", "/api/chart", "", Charting{Title: "t", XName: "x, mm", YName: "B, T", Curves: []ChartCurve{{Name: "a", X: []float64{0, 1, 2}, Y: []*float64{new(float64), nil, new(float64)}}}}},
	} {
		item := doc.Paths.Find(c.path)
		if item == nil {
			t.Errorf("%s is not described", c.path)
			continue
		}
		op := item.GetOperation(c.method)
		if op == nil {
			t.Errorf("%s %s is not described", c.method, c.path)
			continue
		}
		schema := op.Responses.Value("200").Value.Content.Get("application/json")
		var got any
		if c.ask != nil {
			var asked any
			text, _ := json.Marshal(c.ask)
			json.Unmarshal(text, &asked)
			if err := op.RequestBody.Value.Content.Get("application/json").Schema.Value.VisitJSON(asked); err != nil {
				t.Errorf("%s: the question: %v", c.path, err)
			}
		}
		if schema == nil { // a stream
			heard(t, s, cmp.Or(c.at, c.path), c.ask, &got)
			text, _ := json.Marshal(op.Responses.Value("200").Value.Extensions["x-events"].(map[string]any)["answer"])
			var ref struct {
				Ref string `json:"$ref"`
			}
			if err := json.Unmarshal(text, &ref); err != nil {
				t.Fatal(err)
			}
			described := doc.Components.Schemas[strings.TrimPrefix(ref.Ref, "#/components/schemas/")]
			if err := described.Value.VisitJSON(got); err != nil {
				t.Errorf("%s: %v", c.path, err)
			}
			continue
		}
		if code := put(t, s, c.method, cmp.Or(c.at, c.path), c.ask, &got); code != 200 {
			t.Errorf("%s: %d %v", c.path, code, got)
		}
		if err := schema.Schema.Value.VisitJSON(got); err != nil {
			t.Errorf("%s: %v", c.path, err)
		}
	}
}

// The build papers come as a PDF, and as HTML with what to buy by the list of stock of the folder; a mistake in that is said.
func TestPapers(t *testing.T) {
	b, s := served(t)
	var d Download
	heard(t, s, "/api/papers", Papering{Asked: Asked{Text: pair}, Accuracy: "draft", Page: Page{Format: "pdf"}}, &d)
	data, err := base64.StdEncoding.DecodeString(d.Base64)
	if err != nil || !bytes.HasPrefix(data, []byte("%PDF-1.")) || !bytes.Contains(data[len(data)-16:], []byte("%%EOF")) || len(data) < 20_000 {
		t.Errorf("%v: %d bytes that begin with %.8q", err, len(data), data)
	}
	var shelf Shelf
	put(t, s, "PUT", "/api/stock", Saving{Text: string(stock.Starter())}, &shelf)
	asHTML := Papering{Asked: Asked{Text: pair}, Accuracy: "draft", Page: Page{Format: "html"}}
	heard(t, s, "/api/papers", asHTML, &d)
	if data, err = base64.StdEncoding.DecodeString(d.Base64); err != nil || !bytes.Contains(data, []byte("What to buy, by the prices of stock.csv")) {
		t.Errorf("%v: the list of stock is left out", err)
	}
	put(t, s, "PUT", "/api/stock", Saving{Text: "name,shape\na,b\n", Base: shelf.Version}, &shelf)
	if said := asked(t, b, "POST", "/api/papers", asHTML).Body.String(); !strings.Contains(said, "refusal") || !strings.Contains(said, "stock.csv") {
		t.Errorf("a list with mistakes: %.200s", said)
	}
}

// A build of the page that does not belong to its sources fails here, without Node. See page/seal.mjs.
func TestPageIsFresh(t *testing.T) {
	const again = "run npm ci and npm run build in web/page"
	list, err := os.ReadFile("dist/sources.txt")
	if err != nil {
		t.Fatalf("%v: %s", err, again)
	}
	said := map[string]string{}
	for line := range strings.Lines(string(list)) {
		hash, name, ok := strings.Cut(strings.TrimSpace(line), "  ")
		if !ok {
			t.Fatalf("dist/sources.txt: %q", line)
		}
		said[name] = hash
	}
	found := 0
	page := os.DirFS("page")
	err = fs.WalkDir(page, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			if err == nil && e.Name() == "node_modules" {
				return fs.SkipDir
			}
			return err
		}
		if name == ".gitignore" || name == "README.md" {
			return nil
		}
		text, err := fs.ReadFile(page, name)
		if err != nil {
			return err
		}
		found++
		if h := sha256.Sum256(text); said[name] != hex.EncodeToString(h[:]) {
			t.Errorf("the built page does not belong to page/%s: %s", name, again)
		}
		return nil
	})
	if err != nil || found != len(said) || found < 10 {
		t.Errorf("%d sources, %d in the build (%v): %s", found, len(said), err, again)
	}
}

// The page stays small: 400 kB compressed are the wish.
func TestPageIsSmall(t *testing.T) {
	var size countingWriter
	z := gzip.NewWriter(&size)
	err := fs.WalkDir(built, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasSuffix(name, "sources.txt") {
			return err
		}
		text, err := built.ReadFile(name)
		z.Write(text)
		return err
	})
	if z.Close(); err != nil || size > 400_000 || size < 10_000 {
		t.Errorf("the page is %d bytes compressed (%v)", size, err)
	}
}

type countingWriter int

func (c *countingWriter) Write(p []byte) (int, error) {
	*c += countingWriter(len(p))
	return len(p), nil
}

// Whatever is sent, the answer is JSON or a stream, and no fault of the program.
func FuzzAsk(f *testing.F) {
	b, err := New(Options{Folder: f.TempDir(), Addr: "127.0.0.1:7461"})
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { b.Close() })
	ops := operations()
	for i, op := range ops {
		if op.asks == nil {
			f.Add(i, "null")
			continue
		}
		text, _ := json.Marshal(reflect.Zero(op.asks).Interface())
		f.Add(i, string(text))
	}
	f.Add(5, `{"text":"format = 1\n[layout]\nkind = \"round-pot\"\n","changes":[{"path":"layout.gap","value":"3 mm"}]}`)
	f.Add(5, `{"text":"format = 1\n[[magnet]]\nname=\"a\"\n"}`)
	f.Add(10, `{"text":"format = 1\n[layout]\nkind = \"facing-pair\"\n","part":"upper","permeance":1e-300}`)
	f.Add(16, `{"title":"","x_name":"","y_name":"","curves":[{"name":"a","x":[1,1],"y":[null,1e300]}],"log_y":true}`)
	f.Add(0, ``)
	f.Fuzz(func(t *testing.T, which int, body string) {
		op := ops[((which%len(ops))+len(ops))%len(ops)]
		ctx, cancel := context.WithCancel(context.Background())
		cancel() // solves are for other tests
		r := httptest.NewRequestWithContext(ctx, op.method, strings.Replace(op.path, "{name}", "fuzz.toml", 1), strings.NewReader(body))
		r.Host = "127.0.0.1:7461"
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		b.ServeHTTP(w, r)
		if w.Code == http.StatusInternalServerError || w.Code < 200 {
			t.Fatalf("%s: %d %s", op.path, w.Code, w.Body)
		}
		if strings.Contains(w.Body.String(), "the program has failed") {
			t.Fatalf("%s: %s", op.path, w.Body)
		}
		if w.Header().Get("Content-Type") == "application/json" && !json.Valid(w.Body.Bytes()) {
			t.Fatalf("%s: %s", op.path, w.Body)
		}
	})
}
