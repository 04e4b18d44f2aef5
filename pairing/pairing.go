// Package pairing chooses which pieces go where, and how each is turned, so that a cost is least. It knows nothing of what pieces are.
package pairing

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Choice is the piece in a place and how it is turned, 0 … Turns-1.
type Choice struct{ Piece, Turn int }

// Problem says what can go where. Each piece goes into one place at most; there may be pieces left over.
type Problem struct {
	Places, Pieces int
	Turns          []int // ways in which a piece can be turned in each place, 1 or more
	Fits           func(piece, place int) bool
	Cost           func(arrangement []Choice) float64 // of one choice for each place; least is best
}

// Count is how many arrangements there are, where places draw on the same pieces or on none in common; else a guess at it.
func (p *Problem) Count() float64 {
	n := 1.0
	for place := range p.Places {
		fit := 0
		for piece := range p.Pieces {
			if p.Fits(piece, place) {
				fit++
			}
		}
		earlier := 0 // places before that draw on the same pieces
		for k := range place {
			if slices.ContainsFunc(indices(p.Pieces), func(piece int) bool { return p.Fits(piece, k) && p.Fits(piece, place) }) {
				earlier++
			}
		}
		n *= float64(max(fit-earlier, 0)) * float64(p.Turns[place])
	}
	return n
}

func indices(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// First is the arrangement that takes the pieces in their order, not turned. ok is false where a place stays empty.
func (p *Problem) First() (a []Choice, ok bool) {
	used := make([]bool, p.Pieces)
	for place := range p.Places {
		found := false
		for piece := range p.Pieces {
			if !used[piece] && p.Fits(piece, place) {
				a, used[piece], found = append(a, Choice{piece, 0}), true, true
				break
			}
		}
		if !found {
			return nil, false
		}
	}
	return a, true
}

// Exhaustive tries all arrangements and gives the best, the first of equals. It is for few: see Count. ok is false where there is none.
func (p *Problem) Exhaustive() (best []Choice, cost float64, ok bool) {
	cost = math.Inf(1)
	used := make([]bool, p.Pieces)
	a := make([]Choice, p.Places)
	var fill func(place int)
	fill = func(place int) {
		if place == p.Places {
			if c := p.Cost(a); best == nil || c < cost {
				best, cost = slices.Clone(a), c
			}
			return
		}
		for piece := range p.Pieces {
			if used[piece] || !p.Fits(piece, place) {
				continue
			}
			used[piece] = true
			for turn := range p.Turns[place] {
				a[place] = Choice{piece, turn}
				fill(place + 1)
			}
			used[piece] = false
		}
	}
	fill(0)
	return best, cost, best != nil
}

// Anneal looks for a good arrangement from a start by simulated annealing (S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, Science 220 (1983) 671,
// from memory), then takes single changes and exchanges while they help. The same seed gives the same answer. It finds the best of small sets
// (TestAnnealFindsTheBest) and promises nothing for large ones. start is left as it is.
func (p *Problem) Anneal(start []Choice, steps int, seed uint64) (best []Choice, cost float64) {
	rng := rand.New(rand.NewPCG(seed, 1))
	t := p.trial(start)
	now := p.Cost(t.a)
	best, cost = slices.Clone(t.a), now
	random := func() (undo func(), ok bool) {
		place := rng.IntN(p.Places)
		piece := rng.IntN(p.Pieces)
		if rng.IntN(2) == 0 {
			piece = t.a[place].Piece
		}
		return t.change(place, piece, rng.IntN(p.Turns[place]))
	}
	// The start's temperature is the usual size of a change.
	var sum, n float64
	for range 100 {
		if undo, ok := random(); ok {
			if c := math.Abs(p.Cost(t.a) - now); !math.IsInf(c, 0) && !math.IsNaN(c) {
				sum, n = sum+c, n+1
			}
			undo()
		}
	}
	hot := sum / math.Max(n, 1)
	for i := range steps {
		warm := hot * math.Pow(1e-5, float64(i)/float64(steps))
		undo, ok := random()
		if !ok {
			continue
		}
		c := p.Cost(t.a)
		if c <= now || rng.Float64() < math.Exp((now-c)/warm) {
			now = c
			if c < cost {
				best, cost = slices.Clone(t.a), c
			}
			continue
		}
		undo()
	}
	return p.improve(best, cost)
}

// improve takes single changes and exchanges while they help.
func (p *Problem) improve(best []Choice, cost float64) ([]Choice, float64) {
	t := p.trial(best)
	for better := true; better; {
		better = false
		for place := range p.Places {
			for piece := range p.Pieces {
				for turn := range p.Turns[place] {
					undo, ok := t.change(place, piece, turn)
					if !ok {
						continue
					}
					if c := p.Cost(t.a); c < cost-1e-12*math.Abs(cost) {
						best, cost, better = slices.Clone(t.a), c, true
					} else {
						undo()
					}
				}
			}
		}
	}
	return best, cost
}

// trial is an arrangement that is changed and changed back.
type trial struct {
	p  *Problem
	a  []Choice
	in []int // place of each piece, -1 for one left over
}

func (p *Problem) trial(start []Choice) *trial {
	t := &trial{p, slices.Clone(start), slices.Repeat([]int{-1}, p.Pieces)}
	for place, c := range t.a {
		t.in[c.Piece] = place
	}
	return t
}

func (t *trial) set(place int, c Choice) { t.a[place], t.in[c.Piece] = c, place }

// change puts a piece in a place, in exchange for what is there; undo takes it back.
func (t *trial) change(place, piece, turn int) (undo func(), ok bool) {
	old, other := t.a[place], t.in[piece]
	if !t.p.Fits(piece, place) || (other >= 0 && other != place && !t.p.Fits(old.Piece, other)) {
		return nil, false
	}
	if other == place || other < 0 {
		t.in[old.Piece] = -1
		t.set(place, Choice{piece, turn})
		return func() { t.in[piece] = -1; t.set(place, old) }, true
	}
	there := t.a[other]
	t.set(place, Choice{piece, turn})
	t.set(other, Choice{old.Piece, old.Turn % t.p.Turns[other]})
	return func() { t.set(place, old); t.set(other, there) }, true
}

// Few is the number of arrangements up to which Best tries all.
const Few = 100_000

// Best tries all arrangements where there are few, else anneals from several starts. exact says that all were tried; ok is false where a place
// stays empty.
func (p *Problem) Best() (best []Choice, cost float64, exact, ok bool) {
	if p.Count() <= Few {
		best, cost, ok = p.Exhaustive()
		return best, cost, true, ok
	}
	first, ok := p.First()
	if !ok {
		return nil, 0, false, false
	}
	cost = math.Inf(1)
	for seed := range uint64(4) {
		if a, c := p.Anneal(first, 20_000, seed+1); c < cost {
			best, cost = a, c
		}
	}
	return best, cost, false, true
}
