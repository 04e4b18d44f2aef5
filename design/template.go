package design

import (
	"embed"
	"fmt"

	"polewright/mistake"
)

//go:embed template/*.toml
var templates embed.FS

// Template is a commented design file, every part written out, of a layout
// that Layouts lists. It reads without a mistake. The error names the layouts.
func Template(layout string) (string, error) {
	for _, kind := range Layouts() {
		if kind == layout {
			text, err := templates.ReadFile("template/" + kind + ".toml")
			return string(text), err
		}
	}
	return "", mistake.Of(fmt.Sprintf("no layout %q", shortened(layout)), meant(layout, Layouts(), "there are"))
}
