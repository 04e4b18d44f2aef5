package material

import (
	"fmt"
	"slices"
	"strings"

	"polewright/mistake"
)

// Plain is a non-magnetic material for spacers, jigs and formers.
type Plain struct {
	Name           string
	DensityKgPerM3 float64
	Source         string
}

const handbook = "handbook value, from memory"

var plains = []Plain{
	{"aluminium", 2700, handbook + " (6061, 6082)"},
	{"brass", 8500, handbook + " (free-cutting, 8440 to 8500)"},
	{"bronze", 8800, handbook + " (tin bronze)"},
	{"copper", 8960, handbook},
	{"stainless-316", 8000, handbook + "; annealed: cold work makes it a little magnetic"},
	{"titanium", 4430, handbook + " (Ti-6Al-4V)"},
	{"g10", 1850, handbook + " (glass-epoxy laminate, 1800 to 1900)"},
	{"acetal", 1410, handbook + "; creeps under a lasting load"},
	{"nylon", 1140, handbook + "; takes up water and swells"},
	{"peek", 1300, handbook},
	{"ptfe", 2170, handbook + "; creeps under a lasting load"},
	{"acrylic", 1190, handbook},
	{"polycarbonate", 1200, handbook},
	{"pla", 1240, handbook + " (printed solid); creeps under a lasting load"},
	{"epoxy", 1150, handbook + " (unfilled)"},
	{"wood", 700, handbook + " (beech, 650 to 750)"},
	{"plywood", 680, handbook + " (birch)"},
	{"alumina", 3900, handbook + " (99 %)"},
	{"glass", 2500, handbook + " (soda-lime)"},
}

// otherPlainNames are the other spellings in use.
var otherPlainNames = map[string]string{
	"aluminum": "aluminium", "stainless": "stainless-316", "316": "stainless-316", "316l": "stainless-316", "stainless316l": "stainless-316",
	"fr4": "g10", "pom": "acetal", "delrin": "acetal", "pmma": "acrylic",
}

// Plains lists the built-in plain materials.
func Plains() []Plain { return slices.Clone(plains) }

// PlainNamed finds a plain material, whatever the case, spaces and hyphens. The error names them all.
func PlainNamed(name string) (Plain, error) {
	key := plainName(name)
	if other, ok := otherPlainNames[key]; ok {
		key = plainName(other)
	}
	names := make([]string, len(plains))
	for i, p := range plains {
		if plainName(p.Name) == key {
			return p, nil
		}
		names[i] = p.Name
	}
	return Plain{}, mistake.Of(fmt.Sprintf("no plain material %q", mistake.Quote(name)), "there are "+strings.Join(names, ", ")+"; a steel belongs in [[steel]]")
}
