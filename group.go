package polewright

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/mistake"
	"polewright/result"
	"polewright/spelling"
)

// Group names parts whose force and torque are wanted together: what one jig, stop or hand holds.
type Group struct {
	Parts []string
	// AboutM is the point, m, that the torque is about; nil for the middle of the group.
	AboutM *r3.Vec
}

// membersOf finds the parts of a group.
func (a *assembly) membersOf(g Group) (members []int, err error) {
	var names []string
	for _, p := range a.parts {
		names = append(names, p.Name)
	}
	for _, name := range g.Parts {
		i := slices.Index(names, name)
		switch {
		case i >= 0 && slices.Contains(members, i):
			return nil, mistake.Of(fmt.Sprintf("the group names %q twice", name), "name each part of a group once")
		case i >= 0:
			members = append(members, i)
			continue
		}
		if slices.ContainsFunc(a.design.Spacers, func(s design.Spacer) bool { return s.Name == name }) {
			return nil, mistake.Of(fmt.Sprintf("%q is a spacer: no magnetic force acts on it", name), "name magnets, steel, wound yokes and coils; a spacer bears what they press on it")
		}
		hint := "the parts are " + strings.Join(names[:min(len(names), mostNamed)], ", ")
		if len(names) > mostNamed {
			hint += fmt.Sprintf(" and %d more", len(names)-mostNamed)
		}
		if best := spelling.Nearest(name, names); best != "" {
			hint = fmt.Sprintf("did you mean %q?", best)
		}
		return nil, mistake.Of(fmt.Sprintf("there is no part %q for a group", name), hint)
	}
	if len(members) == 0 {
		return nil, mistake.Of("the group names no part", "name its parts, as in \"upper, top back\"")
	}
	return members, nil
}

// mostNamed is how many parts a message lists.
const mostNamed = 12

// group sums the forces on the parts of a group, whose parts have theirs: forces between its members cancel.
func (a *assembly) group(g Group, parts []result.Part) (result.Group, error) {
	members, err := a.membersOf(g)
	if err != nil {
		return result.Group{}, err
	}
	about := boxOf(a.parts, g.Parts).Center()
	if g.AboutM != nil {
		about = *g.AboutM
	}
	out := result.Group{Parts: g.Parts, AboutM: array(about)}
	var force, torque r3.Vec
	for _, i := range members {
		f, t := vector(parts[i].Force), vector(parts[i].Torque)
		force = r3.Add(force, f)
		torque = r3.Add(torque, r3.Add(t, r3.Cross(r3.Sub(a.parts[i].Place.Center, about), f)))
	}
	out.Force, out.Torque = array(force), array(torque)
	return out, nil
}

func vector(v [3]float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }
