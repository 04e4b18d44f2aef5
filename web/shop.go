package web

import (
	"context"
	"strings"

	"polewright"
	"polewright/design"
	"polewright/draw"
	"polewright/papers"
	"polewright/report"
	"polewright/result"
	"polewright/safety"
	"polewright/stock"
)

// This file answers what a builder takes along to the saw and the bench: what to buy, in which order to put it together, what to beware of.

// stockName is the list of stock of the folder.
const stockName = "stock.csv"

// Shelf is the list of stock that lies in the folder.
type Shelf struct {
	Name     string    `json:"name"`
	Text     string    `json:"text"`
	Version  string    `json:"version"` // "" where there is none yet
	Count    int       `json:"count"`   // of lines
	Currency string    `json:"currency"`
	Problems []Problem `json:"problems"`
	Example  string    `json:"example"` // an invented list to begin one's own from
}

func shelfOf(f *File) Shelf {
	s := Shelf{Name: stockName, Problems: []Problem{}, Example: string(stock.Starter())}
	if f == nil {
		return s
	}
	s.Text, s.Version = f.Text, f.Version
	list, err := stock.Read(strings.NewReader(f.Text), stockName)
	if err != nil {
		s.Problems = faultOf(err).Problems
		return s
	}
	s.Count, s.Currency = len(list.Lines), list.Currency
	return s
}

func (b *Bench) shelf(string) (s Shelf, err error) {
	f, err := b.loadText(stockName)
	if err != nil && !missing(err) {
		return s, err
	}
	return shelfOf(f), nil
}

func (b *Bench) keepShelf(_ string, s *Saving) (kept Shelf, err error) {
	saved, err := b.keep(stockName, s)
	if err != nil {
		return kept, err
	}
	return shelfOf(&File{Text: s.Text, Version: saved.Version}), nil
}

// prices is the list of stock of the folder, nil where there is none.
func (b *Bench) prices(d *design.Design) (*stock.List, error) {
	f, err := b.loadText(stockName)
	if missing(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return pricesOf(d, f.Text)
}

// pricesOf is a list of stock whose prices are in the currency of a design's target.
func pricesOf(d *design.Design, text string) (*stock.List, error) {
	list, err := stock.Read(strings.NewReader(text), stockName)
	if err == nil {
		err = list.CheckCurrency(d)
	}
	return list, err
}

// judging is the list of stock by whose prices a target's limit of cost is judged, with the version of its file. It is nil where there is no such
// limit, or no list that can serve: the answer then says that prices are missing, and the page what is wrong with the list.
func (b *Bench) judging(d *design.Design) (*stock.List, string) {
	if d.Target == nil || d.Target.Cost == nil {
		return nil, ""
	}
	f, err := b.loadText(stockName)
	if err != nil {
		return nil, ""
	}
	list, err := pricesOf(d, f.Text)
	if err != nil {
		return nil, f.Version
	}
	return list, f.Version
}

// Billing asks what a design is made from and what to buy for it.
type Billing struct {
	Asked
	Stock string `json:"stock"` // text of the list
}

func (b *Bench) bill(_ string, q *Billing) (*stock.Bill, error) {
	d, err := b.design(q.Asked)
	if err != nil {
		return nil, err
	}
	list, err := stock.Read(strings.NewReader(q.Stock), stockName)
	if err != nil {
		return nil, err
	}
	bill, err := stock.BillOf(d, list)
	if err != nil {
		return nil, err
	}
	letters := map[string]string{}
	for _, it := range draw.Items(draw.Parts(d)) {
		for _, name := range it.Names {
			letters[name] = it.Letter
		}
	}
	bill.Mark(letters)
	return bill, nil
}

// Steps is an order of assembly: the object of polewright assemble --json, with two of the tables of its text, and the chart of the pull where a
// step has one.
type Steps struct {
	result.Assembly
	OrderRows  [][]string `json:"order_rows"`  // order, largest force N and where, largest energy J and where, verdict
	StrainRows [][]string `json:"strain_rows"` // state, magnet, distance mm, lowest H and knee kA/m, per cent left to the knee and kept
	Chart      *Charting  `json:"chart,omitempty"`
}

func (b *Bench) assemble(ctx context.Context, q *Asked, e *events) (*Steps, error) {
	return onDesign(ctx, b, *q, func(ctx context.Context, d *design.Design) (*Steps, error) {
		a, err := polewright.RunAssembly(ctx, d, polewright.AssemblyOptions{Accuracy: polewright.Draft, Distances: 8, Screws: 3, ScrewFactor: 2, Progress: e.progress})
		if err != nil {
			return nil, err
		}
		s := &Steps{Assembly: *a, OrderRows: append([][]string{}, report.OrderRows(a)...), StrainRows: append([][]string{}, report.AssemblyStrains(a)...)}
		if g, ok := report.AssemblyChart(a, false); ok {
			c := chartingOf(g)
			s.Chart = &c
		}
		return s, nil
	})
}

// Carding asks for the safety card.
type Carding struct{ Papering }

// Card is the safety card, and as a sheet to hang beside the magnet.
type Card struct {
	safety.Card
	Sheet Download `json:"sheet"`
}

func (b *Bench) card(ctx context.Context, q *Carding, e *events) (*Card, error) {
	return onDesign(ctx, b, q.Asked, func(ctx context.Context, d *design.Design) (*Card, error) {
		const solving = 0.5 // of the progress
		o := polewright.Options{Accuracy: q.accuracy, Halves: polewright.Halves(d), NoLedger: true, Progress: e.share(0, solving)}
		s, err := polewright.Run(ctx, d, o)
		if err != nil {
			return nil, err
		}
		c, err := s.SafetyCard(ctx, polewright.CardOptions{Progress: e.share(solving, 1)})
		if err != nil {
			return nil, err
		}
		source := papers.Source{Design: d, Solved: s, Card: c, File: []byte(q.Text), Version: b.o.Version, Date: b.today()}
		sheet, err := q.written("safety-card", papers.SafetyCard(source))
		if err != nil {
			return nil, err
		}
		return &Card{Card: *c, Sheet: *sheet}, nil
	})
}
