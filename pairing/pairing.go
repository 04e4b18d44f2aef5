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
	a := slices.Clone(start)
	now := p.Cost(a)
	best, cost = slices.Clone(a), now
	in := make([]int, p.Pieces) // place of each piece, -1 for one left over
	for i := range in {
		in[i] = -1
	}
	for place, c := range a {
		in[c.Piece] = place
	}
	// change tries one change of the arrangement; undo takes it back.
	change := func(place, piece, turn int) (undo func(), ok bool) {
		old, other := a[place], in[piece]
		if !p.Fits(piece, place) || (other >= 0 && other != place && !p.Fits(old.Piece, other)) {
			return nil, false
		}
		set := func(place int, c Choice) { a[place] = c; in[c.Piece] = place }
		if other == place || other < 0 {
			in[old.Piece] = -1
			set(place, Choice{piece, turn})
			return func() { in[piece] = -1; set(place, old) }, true
		}
		there := a[other]
		set(place, Choice{piece, turn})
		set(other, Choice{old.Piece, old.Turn % p.Turns[other]})
		return func() { set(place, old); set(other, there) }, true
	}
	random := func() (undo func(), ok bool) {
		place := rng.IntN(p.Places)
		piece := rng.IntN(p.Pieces)
		if rng.IntN(2) == 0 {
			piece = a[place].Piece
		}
		return change(place, piece, rng.IntN(p.Turns[place]))
	}
	// The start's temperature is the usual size of a change.
	var sum, n float64
	for range 100 {
		if undo, ok := random(); ok {
			if c := math.Abs(p.Cost(a) - now); !math.IsInf(c, 0) && !math.IsNaN(c) {
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
		c := p.Cost(a)
		if c <= now || rng.Float64() < math.Exp((now-c)/warm) {
			now = c
			if c < cost {
				best, cost = slices.Clone(a), c
			}
			continue
		}
		undo()
	}
	copy(a, best)
	for i := range in {
		in[i] = -1
	}
	for place, c := range a {
		in[c.Piece] = place
	}
	for better := true; better; {
		better = false
		for place := range p.Places {
			for piece := range p.Pieces {
				for turn := range p.Turns[place] {
					undo, ok := change(place, piece, turn)
					if !ok {
						continue
					}
					if c := p.Cost(a); c < cost-1e-12*math.Abs(cost) {
						best, cost, better = slices.Clone(a), c, true
					} else {
						undo()
					}
				}
			}
		}
	}
	return best, cost
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
