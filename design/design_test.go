package design

import (
	"strings"
	"testing"
)

func TestTemplatesAreRead(t *testing.T) {
	for _, kind := range Layouts() {
		text, err := Template(kind)
		if err != nil {
			t.Fatal(err)
		}
		d, err := Read(strings.NewReader(text), kind+".toml")
		if err != nil {
			t.Fatalf("%s:\n%v", kind, err)
		}
		for _, w := range d.Wounds {
			t.Log(w.Racetrack(), w.Turns, w.Material.Name)
		}
	}
}
