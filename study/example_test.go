package study_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"sync"

	"polewright/design"
	"polewright/jobs"
	"polewright/study"
)

// Three gaps of a pair in free space, solved by two workers of this process. A second run finds the answers in the folder of the queue.
func ExampleRun() {
	dir, err := os.MkdirTemp("", "")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	q, err := jobs.Open(ctx, jobs.Options{Dir: dir, Version: "example"})
	if err != nil {
		fmt.Println(err)
		return
	}
	var workers sync.WaitGroup
	workers.Go(func() { q.Work(ctx, 2, study.Solve) })
	defer func() { stop(); workers.Wait(); q.Close() }()

	text := []byte("format = 1\ntitle = \"pair (invented)\"\n[layout]\nkind = \"facing-pair\"\n")
	gaps, err := study.ParseVariation(text, "layout.gap = 14..22 mm / 4 mm")
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := design.Read(bytes.NewReader(text), "pair.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	space := &study.Space{Text: text, Accuracy: "draft", Vary: []study.Variation{gaps}, Figures: study.FiguresFor(d)}
	cases := func(yield func(study.Case) bool) {
		for i := range space.Size() {
			if !yield(space.Case(space.At(i))) {
				return
			}
		}
	}
	rows := make([]study.Row, space.Size())
	if err := study.Run(ctx, q, cases, study.Options{Total: space.Size(), Each: func(r study.Row) { rows[r.Index] = r }}); err != nil {
		fmt.Println(err)
		return
	}
	for i, r := range rows {
		fmt.Printf("%s: %.2f T\n", gaps.Values[i], r.Figures["gap field"])
	}
	// Output:
	// 14 mm: 0.57 T
	// 18 mm: 0.52 T
	// 22 mm: 0.47 T
}
