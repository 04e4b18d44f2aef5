// Package web is the bench: a page in the browser in which a builder works on a design file, and the JSON interface behind it.
//
// The server keeps no design: every question carries the text of the design file, so that a page that is left open goes on after the server
// was started anew. What it keeps are the last few solved fields, by the text that they belong to. Files live in one folder.
package web

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"net/netip"
	"os"
	"polewright/mistake"
	"strings"
	"time"
)

// built is the page as Vite builds it from page/: see page/README.md.
//
//go:embed dist
var built embed.FS

// Options says what a Bench serves, and to whom.
type Options struct {
	Folder  string // of the design files
	Version string // of the program, on the build papers
	// Program tells programs apart whose answers may differ; answers of studies are kept by it. Version without it.
	Program string
	// Addr is the address that is listened at, "127.0.0.1:7461". Any other than a loopback address takes a token with each question.
	Addr  string
	Today func() string // the date on the build papers, 2006-01-02; nil for none
}

// Bench answers the page's questions. It is an http.Handler.
type Bench struct {
	Token string // "" on a loopback address

	o       Options
	folder  *os.Root
	answers answers
	sensed  sensitivities
	studies studies
	mux     *http.ServeMux
	stop    context.CancelFunc
}

// New opens the folder and makes the handler. Close ends what still computes.
func New(o Options) (*Bench, error) {
	folder, err := os.OpenRoot(o.Folder)
	if err != nil {
		return nil, fmt.Errorf("%s: the folder cannot be opened: %w", o.Folder, mistake.Cause(err))
	}
	b := &Bench{o: o, folder: folder, mux: http.NewServeMux(), sensed: newSensitivities()}
	if !loopback(o.Addr) {
		var token [16]byte
		rand.Read(token[:])
		b.Token = hex.EncodeToString(token[:])
	}
	var ctx context.Context
	ctx, b.stop = context.WithCancel(context.Background())
	b.answers.start(ctx)
	b.studies.start(ctx)
	for _, op := range operations() {
		b.mux.HandleFunc(op.method+" "+op.path, b.guarded(op))
	}
	b.mux.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) {
		refuse(w, &fault{Status: http.StatusNotFound, Problems: []Problem{{What: "there is no such question", Hint: "GET /api/openapi.json lists them all"}}})
	})
	page, err := fs.Sub(built, "dist")
	if err != nil {
		return nil, err
	}
	files := http.FileServerFS(page)
	b.mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			http.Error(w, "the page is only read", http.StatusMethodNotAllowed)
			return
		}
		if strings.HasPrefix(r.URL.Path, "/assets/") { // their names change with what is in them
			w.Header().Set("Cache-Control", "max-age=31536000, immutable")
		} else {
			w.Header().Set("Cache-Control", "no-cache")
		}
		files.ServeHTTP(w, r)
	})
	return b, nil
}

// Close stops all that computes and lets the folder go.
func (b *Bench) Close() error {
	b.stop()
	b.studies.gone.Wait()
	return b.folder.Close()
}

// policy lets the page load what came with it and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

func (b *Bench) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	if f := b.stranger(r); f != nil {
		refuse(w, f)
		return
	}
	b.mux.ServeHTTP(w, r)
}

// stranger refuses what does not come from the bench's own page: a name that leads here by somebody else's doing (DNS rebinding), or a page of
// another origin.
func (b *Bench) stranger(r *http.Request) *fault {
	deny := func(what string) *fault {
		return &fault{Status: http.StatusForbidden, Problems: []Problem{{What: what, Hint: "open the address that polewright serve has printed"}}}
	}
	host, port, err := net.SplitHostPort(r.Host)
	if err != nil {
		host, port = r.Host, "80"
	}
	_, ours, _ := net.SplitHostPort(b.o.Addr)
	if port != ours {
		return deny(fmt.Sprintf("the bench is not at the port %s", port))
	}
	if !b.knows(strings.ToLower(strings.Trim(host, "[]"))) {
		return deny(fmt.Sprintf("the bench does not go by the name %q", host))
	}
	if origin := r.Header.Get("Origin"); origin != "" && origin != "http://"+r.Host {
		return deny("a page of another origin asks")
	}
	if site := r.Header.Get("Sec-Fetch-Site"); strings.HasPrefix(r.URL.Path, "/api/") && site != "" && site != "same-origin" && site != "none" {
		return deny("a page of another origin asks")
	}
	return nil
}

// knows tells whether a host in a request means this bench.
func (b *Bench) knows(host string) bool {
	ip, err := netip.ParseAddr(host)
	if b.Token == "" {
		return host == "localhost" || err == nil && ip.IsLoopback()
	}
	if err == nil || host == "localhost" {
		return true
	}
	own, _, _ := net.SplitHostPort(b.o.Addr)
	name, _ := os.Hostname()
	short, _, _ := strings.Cut(host, ".")
	return host == strings.ToLower(own) || name != "" && (host == strings.ToLower(name) || short == strings.ToLower(name))
}

func loopback(addr string) bool {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return false
	}
	ip, err := netip.ParseAddr(host)
	return host == "localhost" || err == nil && ip.IsLoopback()
}

// allowed tells whether a question has the token, if it takes one.
func (b *Bench) allowed(r *http.Request) bool {
	given, _ := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	return b.Token == "" || subtle.ConstantTimeCompare([]byte(given), []byte(b.Token)) == 1
}

// URL is where the page is, with the token where there is one. It stands behind a #, which browsers keep to themselves.
func (b *Bench) URL() string {
	host, port, _ := net.SplitHostPort(b.o.Addr)
	if ip, err := netip.ParseAddr(host); host == "" || err == nil && ip.IsUnspecified() {
		if host, err = os.Hostname(); err != nil {
			host = "localhost"
		}
	}
	url := "http://" + net.JoinHostPort(host, port) + "/"
	if b.Token != "" {
		url += "#token=" + b.Token
	}
	return url
}

// patience is how long a page may take to take in a piece of an answer.
const patience = 20 * time.Second
