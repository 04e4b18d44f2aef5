package spelling

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	names := []string{"demo", "new", "predict", "wind"}
	for given, want := range map[string]string{"predcit": "predict", "Predict": "predict", "wnd": "wind", "x": "", "": "", "report": "", strings.Repeat("predict", 1000): ""} {
		if got := Nearest(given, names); got != want {
			t.Errorf("%.20q: %q, want %q", given, got, want)
		}
	}
	for given, want := range map[string]string{"predcit": `did you mean "predict"? there are four`, "report": "there are four"} {
		if got := Meant(given, names, "there are four"); got != want {
			t.Errorf("%s: %q, want %q", given, got, want)
		}
	}
	// Levenshtein's distance is a metric.
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringN(0, 12, -1)
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		if Distance(a, b) != Distance(b, a) || (Distance(a, b) == 0) != (a == b) || Distance(a, c) > Distance(a, b)+Distance(b, c) {
			t.Fatal("not a metric")
		}
	})
	if got := Distance("kitten", "sitting"); got != 3 { // the textbook example
		t.Error(got)
	}
}
