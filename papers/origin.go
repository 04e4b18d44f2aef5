package papers

import (
	"context"
	"crypto/sha256"
	"fmt"

	"polewright/report"
	"polewright/result"
)

// This file says where the numbers come from: losses, solve, design, program.

func origin(_ context.Context, s Source) (all []Section, err error) {
	r := s.Solved.Result
	if r.Ledger != nil && len(r.Ledger.Rows) > 0 {
		all = append(all, Section{Title: "Loss ledger", Blocks: []Block{
			Text("From the remanence of the magnets to the field in the gap, one loss more at a time."), ledger(r.Ledger)}})
	}
	v := r.Solver
	solve := Table{Rows: [][]string{{"method", v.Method}, {"accuracy", v.Accuracy}, {"estimated error", errorOf(r)}, {"program", "polewright " + s.Version}}}
	if v.Method != "free-field" {
		solve.Rows = append(solve.Rows, []string{"unknowns", fmt.Sprint(v.Unknowns)}, []string{"Newton steps", fmt.Sprint(v.NewtonSteps)})
	}
	if s.Date != "" {
		solve.Rows = append(solve.Rows, []string{"date", s.Date})
	}
	all = append(all, Section{Title: "How it was solved", Blocks: []Block{solve}})
	return append(all, Section{Title: "Design file", NewPage: true, Blocks: []Block{
		Text(fmt.Sprintf("All that these papers say comes from this file. SHA-256: %x", sha256.Sum256(s.File))), Listing(s.File)}}), nil
}

func ledger(l *result.Ledger) Table {
	t := Table{Head: []string{"what", ">change mT", ">after mT", "why"}}
	for i, row := range l.Rows {
		change := ""
		if i > 0 {
			change = report.Decimals(1e3*row.Delta, 1)
			if row.Delta > 0 {
				change = "+" + change
			}
		}
		t.Rows = append(t.Rows, []string{row.What, change, report.Decimals(1e3*row.After, 1), report.Degrees(row.Why)})
	}
	return t
}
