package published

import (
	"context"
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
)

// fast are the checks of the default tests: closed forms, and of the others those that take a second or so.
func fast() []Check {
	return slices.DeleteFunc(Checks(), func(c Check) bool {
		return c.Long && c.Problem != "Solenoid" && c.Problem != "Ideal iron"
	})
}

func TestPublishedAnswers(t *testing.T) { passAll(t, fast()) }

func passAll(t *testing.T, checks []Check) {
	t.Helper()
	if len(checks) < 60 {
		t.Fatalf("only %d checks", len(checks))
	}
	outcomes, err := Run(context.Background(), checks, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range outcomes {
		switch {
		case o.Err != nil:
			t.Errorf("%s: %v", o.Name, o.Err)
		case !o.Passed():
			t.Errorf("%s: %.7g %s, published %g, tolerance %g (%s)", o.Name, o.Ours, o.Unit, o.Published, o.Tolerance, o.Source)
		}
	}
}

// Every check says where its value comes from and why its tolerance is what it is. Worked values have tolerances that a program that is
// wrong by 1 % does not pass; measured ones carry their assembly's own uncertainty.
func TestChecksAreComplete(t *testing.T) {
	names := map[string]bool{}
	for _, c := range Checks() {
		if c.Problem == "" || c.Name == "" || c.Source == "" || c.Why == "" || c.Solve == nil {
			t.Errorf("%+v lacks something", c)
		}
		if names[c.Source+c.Name] {
			t.Errorf("%q is there twice", c.Name)
		}
		names[c.Source+c.Name] = true
		if !slices.Contains([]Basis{Seen, Worked, FromMemory}, c.Basis) {
			t.Errorf("%q: basis %q", c.Name, c.Basis)
		}
		if !(c.Tolerance > 0) || math.IsNaN(c.Published) {
			t.Errorf("%q: published %v, tolerance %v", c.Name, c.Published, c.Tolerance)
		}
		if c.Basis == Worked && c.Tolerance > 0.008*math.Abs(c.Published) {
			t.Errorf("%q: a tolerance of %g lets an error of 1 %% of %g pass", c.Name, c.Tolerance, c.Published)
		}
	}
}

func made(published, ours, tolerance float64, err error) Outcome {
	return Outcome{Check{Problem: "A problem", Name: "a number", Source: "nobody, 2026", Basis: FromMemory, Published: published, Unit: "T", Tolerance: tolerance, Why: "made up"}, ours, err}
}

func TestOutcomes(t *testing.T) {
	for _, c := range []struct {
		o    Outcome
		pass bool
		row  string
	}{
		{made(0.5, 0.501, 0.002, nil), true, "| a number | 0.5 T | 0.50 T | +0.2 % | 0.4 % | pass |"},
		{made(-0.25, -0.24, 0.002, nil), false, "| a number | -0.25 T | -0.240 T | +4 % | 0.8 % | FAIL |"},
		{made(0, 0.001, 0.002, nil), true, "| a number | 0 T | 0.0 T | +0.001 T | 0.002 T | pass |"},
		{made(0.5, 0, 0.002, errors.New("no answer")), false, "| a number | 0.5 T | none |  | 0.4 % | FAIL: no answer |"},
	} {
		if c.o.Passed() != c.pass {
			t.Errorf("%+v: passed %v", c.o, !c.pass)
		}
		var b strings.Builder
		if err := Markdown(&b, []Outcome{c.o}); err != nil || !strings.Contains(b.String(), c.row) {
			t.Errorf("%v, want %q in:\n%s", err, c.row, &b)
		}
		if !strings.Contains(b.String(), "1 from memory") || !strings.Contains(b.String(), "Values: from memory.") {
			t.Errorf("the page hides that a value is from memory:\n%s", &b)
		}
		b.Reset()
		if err := Text(&b, []Outcome{c.o}); err != nil || !strings.Contains(b.String(), "nobody, 2026") || !strings.Contains(b.String(), "(from memory)") {
			t.Errorf("%v in:\n%s", err, &b)
		}
	}
	if got, want := Summary([]Outcome{made(1, 1, 0.1, nil), made(1, 2, 0.1, nil)}), "1 of 2 checks pass."; !strings.HasPrefix(got, want) {
		t.Errorf("%q", got)
	}
}

func TestRunStopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Run(ctx, Checks(), nil); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// Checks that share a solve share it once it succeeded; a solve that was cancelled is done again.
func TestSharedSolve(t *testing.T) {
	runs := 0
	solve := shared(func(ctx context.Context) (int, error) { runs++; return 7, ctx.Err() })(func(n int) (float64, error) { return float64(n), nil })
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := solve(ctx); err == nil {
		t.Error("a cancelled solve gives no error")
	}
	for range 3 {
		if got, err := solve(context.Background()); got != 7 || err != nil {
			t.Errorf("%v, %v", got, err)
		}
	}
	if runs != 2 {
		t.Errorf("%d runs, want 2", runs)
	}
}

// The manual's page has a row for every check: who adds one runs polewright check --markdown again.
func TestPageHasEveryCheck(t *testing.T) {
	page, err := os.ReadFile("../docs/validation.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range Checks() {
		text, _ := digits(c.Published)
		if c.Unit != "" {
			text += " " + c.Unit
		}
		if row := "| " + c.Name + " | " + text + " | "; !strings.Contains(string(page), row) {
			t.Errorf("docs/validation.md has no row %q: write it again with polewright check --markdown", row)
		}
	}
	if strings.Contains(string(page), "FAIL") {
		t.Error("docs/validation.md has a check that failed")
	}
}
