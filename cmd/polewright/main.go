package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"time"

	"polewright"
	"polewright/design"
)

func main() {
	for _, l := range os.Args[1:] {
		text, err := design.Template(l)
		if err != nil {
			b, _ := os.ReadFile(l)
			text = string(b)
		}
		d, err := design.Read(strings.NewReader(text), l)
		if err != nil {
			fmt.Println(err)
			continue
		}
		start := time.Now()
		s, err := polewright.Run(context.Background(), d, polewright.Options{Halves: []polewright.Plane{{Axis: 2}}, Progress: func(w string, f float64) { fmt.Fprintln(os.Stderr, w, f, time.Since(start)) }})
		if err != nil {
			fmt.Println("error:", err)
			continue
		}
		j, _ := json.MarshalIndent(s.Result, "", " ")
		fmt.Println(string(j))
	}
}
