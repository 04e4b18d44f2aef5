package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"polewright/design"
)

// TestServe starts the bench as a user does, asks it for a solve, and holds its answer against what predict --json prints: the same object but
// for the time that it took.
func TestServe(t *testing.T) {
	folder := t.TempDir()
	text, err := design.Template("facing-pair")
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "magnet.toml")
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	reader, stdout := io.Pipe()
	var stderr bytes.Buffer
	root := commands(strings.NewReader(""), stdout, &stderr)
	root.SetArgs([]string{"serve", folder, "--addr", "127.0.0.1:0"})
	done := make(chan error, 1)
	go func() {
		done <- root.ExecuteContext(ctx)
		stdout.Close()
	}()
	lines := bufio.NewReader(reader)
	url, err := lines.ReadString('\n')
	if err != nil || !strings.HasPrefix(url, "http://127.0.0.1:") || !strings.HasSuffix(url, "/\n") {
		t.Fatalf("the first line is %q (%v)", url, err)
	}
	url = strings.TrimSpace(url)
	page, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	if body, _ := io.ReadAll(page.Body); page.StatusCode != http.StatusOK || !bytes.Contains(body, []byte("polewright bench")) {
		t.Errorf("the page: %d %.200s", page.StatusCode, body)
	}
	page.Body.Close()

	question, _ := json.Marshal(map[string]any{"file": "magnet.toml", "text": text, "accuracy": "standard"})
	answer, err := http.Post(url+"api/solve", "application/json", bytes.NewReader(question))
	if err != nil {
		t.Fatal(err)
	}
	events, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	_, data, ok := bytes.Cut(events, []byte("event: answer\ndata: "))
	if err != nil || !ok {
		t.Fatalf("%v: %s", err, events)
	}
	var printed, said bytes.Buffer
	if code := run([]string{"predict", file, "--json", "--quiet"}, strings.NewReader(""), &printed, &said); code != solved {
		t.Fatalf("predict: %d %s", code, said.String())
	}
	if a, b := untimed(t, data), untimed(t, printed.Bytes()); a != b {
		t.Errorf("the bench answers\n%s\npredict prints\n%s", a, b)
	}

	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Errorf("the bench ends with %v", err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("the bench does not end")
	}
	if rest, _ := io.ReadAll(lines); len(rest) > 0 || stderr.Len() > 0 {
		t.Errorf("it also printed %q and %q", rest, stderr.String())
	}
}

// untimed is a result without its seconds, keys in order.
func untimed(t *testing.T, text []byte) string {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	delete(v["solver"].(map[string]any), "seconds")
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
