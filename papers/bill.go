package papers

import (
	"cmp"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"polewright"
	"polewright/draw"
	"polewright/report"
	"polewright/stock"
	"polewright/winding"
)

// This file says what to buy, cut and wind, and where it goes.

func bill(_ context.Context, s Source) ([]Section, error) {
	d := s.Design
	parts := draw.Parts(d)
	items := draw.Items(parts)
	masses := map[string]float64{} // as the result has them
	for _, p := range s.Solved.Result.Parts {
		masses[p.Name] = p.MassKg
	}
	list := Table{Head: []string{"item", ">number", "part", "kind", "shape, size mm", "material", ">mass each kg", ">mass all kg"}}
	places := Table{Caption: "Where each part goes", Head: []string{"part", "item", ">x mm", ">y mm", ">z mm", "magnetized along"}}
	var total float64
	for _, it := range items {
		var mass float64
		for k, i := range it.Indexes {
			p := parts[i]
			m, ok := masses[p.Name]
			if !ok {
				m = p.MassKg
			}
			mass += m
			if len(places.Rows) < most {
				along := ""
				if dir := [3]float64{p.Direction.X, p.Direction.Y, p.Direction.Z}; size(dir) > 0 {
					along = report.Direction(dir)
				}
				c := p.Place.Center
				places.Rows = append(places.Rows, []string{it.Names[k], it.Letter, report.Millimetres(c.X), report.Millimetres(c.Y), report.Millimetres(c.Z), along})
			}
		}
		total += mass
		list.Rows = append(list.Rows, []string{it.Letter, fmt.Sprint(it.Number()), names(it.Names), it.Kind,
			draw.ShapeName(it.Solid) + " " + draw.Size(it.Solid), it.Material, kilograms(mass / float64(it.Number())), kilograms(mass)})
	}
	list.Rows = append(list.Rows, []string{"", fmt.Sprint(len(parts)), "all", "", "", "", "", kilograms(total)})
	blocks := []Block{list}
	var notes []string
	for _, m := range d.Magnets {
		if m.CoatingM > 0 {
			notes = append(notes, fmt.Sprintf("%s: coated, %s mm a side; its size is measured over the coating", m.Name, report.Decimals(1e3*m.CoatingM, 3)))
		}
	}
	if len(notes) > 0 {
		blocks = append(blocks, Text("Coatings: "+strings.Join(notes[:min(len(notes), 20)], "; ")+"."))
	}
	blocks = append(blocks, Text("Centres, from the origin of the design; the axes x, y, z are right-handed. An arrow from the south to the north pole shows the magnetization."), limited(places, len(parts)))
	films := Table{Caption: "Films of glue, paint or air between faces", Head: []string{"between", "and", ">thickness mm"}}
	for _, j := range d.Joints {
		films.Rows = append(films.Rows, []string{j.Between[0], j.Between[1], report.Decimals(1e3*j.ThicknessM, 3)})
	}
	purchases, err := purchases(s, items)
	if err != nil {
		return nil, err
	}
	blocks = append(blocks, films)
	blocks = append(blocks, purchases...)
	return []Section{{Title: "Bill of materials", NewPage: true, Blocks: append(blocks, materials(s))}}, nil
}

// purchases says what the parts are made from, what to buy for them and what it costs; nothing without a list of stock.
func purchases(s Source, items []draw.Item) ([]Block, error) {
	if s.Stock == nil {
		return nil, nil
	}
	b, err := stock.BillOf(s.Design, s.Stock)
	if err != nil {
		return nil, err
	}
	letters := map[string]string{}
	for _, it := range items {
		for _, name := range it.Names {
			letters[name] = it.Letter
		}
	}
	b.Mark(letters)
	from := Table{Caption: "What the parts are made from", Head: []string{"item", ">number", "shape, size mm", "material", "from stock", "work"}}
	for _, r := range b.Parts[:min(len(b.Parts), most)] {
		line := cmp.Or(r.Stock, "not in stock")
		from.Rows = append(from.Rows, []string{r.Letter, fmt.Sprint(len(r.Names)), strings.TrimSuffix(r.What, " mm"), r.Material, line, r.Work})
	}
	buy := Table{Caption: fmt.Sprintf("What to buy, by the prices of %s", filepath.Base(s.Stock.File)),
		Head: []string{">number", "unit", "name", "reference", ">price " + b.Currency, ">cost " + b.Currency, "cuts mm; what is left"}}
	money := func(amount float64) string { return strings.TrimSuffix(s.Stock.Money(amount).String(), " "+b.Currency) }
	for _, p := range b.Buy {
		buy.Rows = append(buy.Rows, []string{fmt.Sprint(p.Number), p.Unit(), p.Name, p.Reference, money(p.Price), money(p.Cost), cuts(p)})
	}
	buy.Rows = append(buy.Rows, []string{"", "", "all", "", "", money(b.Cost), ""})
	blocks := []Block{limited(from, len(b.Parts)), buy, Text(fmt.Sprintf("Cuts have %g mm for facing their ends and %g mm for the saw; wire has %g %% spare (common practice, no source). "+
		"Prices are those of the list and no offer.", 1e3*stock.FacingM, 1e3*stock.KerfM, 100*stock.WireSpare))}
	if len(b.Missing) > 0 {
		blocks = append(blocks, Box{Title: "Missing; what is not in stock is not in the cost", Texts: b.Missing[:min(len(b.Missing), most)]})
	}
	if b.Limit != nil && !b.Limit.Met {
		blocks = append(blocks, Text(fmt.Sprintf("The target allows %s: not met.", s.Stock.Money(b.Limit.Most))))
	}
	return blocks, nil
}

// cuts lists the cuts of each bar by length, and what is left.
func cuts(p stock.Purchase) string {
	var bars []string
	for _, bar := range p.Bars {
		var list []string
		for i := 0; i < len(bar.Cuts); {
			n := i + 1
			for n < len(bar.Cuts) && bar.Cuts[n].LengthM == bar.Cuts[i].LengthM {
				n++
			}
			list = append(list, fmt.Sprintf("%d of %s", n-i, report.Millimetres(bar.Cuts[i].LengthM)))
			i = n
		}
		bars = append(bars, fmt.Sprintf("%s (%s)", strings.Join(list, ", "), bar.Left()))
		if len(bars) == 20 && len(p.Bars) > 20 {
			bars = append(bars, fmt.Sprintf("and %d bars more", len(p.Bars)-20))
			break
		}
	}
	if len(bars) == 0 {
		return p.Offcuts()
	}
	return strings.Join(bars, "; ")
}

// names lists some names, and how many more there are.
func names(list []string) string {
	const show = 6
	if len(list) <= show {
		return strings.Join(list, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(list[:show], ", "), len(list)-show)
}

// materials says what the parts are made of and where its numbers come from.
func materials(s Source) Table {
	t := Table{Caption: "Materials and the sources of their numbers", Head: []string{"material", "what", "numbers", "source"}}
	seen := map[string]bool{}
	add := func(name, what, numbers, source string, recalled bool) {
		if seen[name] {
			return
		}
		seen[name] = true
		if recalled && !strings.Contains(source, "memory") {
			source += " (from memory)"
		}
		t.Rows = append(t.Rows, []string{name, what, numbers, source})
	}
	for _, m := range s.Design.Magnets {
		k := m.Material
		numbers := fmt.Sprintf("Br %s T, recoil %s", report.Decimals(k.RemanenceT, 3), report.Decimals(k.RecoilPermeability, 3))
		if k.IntrinsicCoercivityApm > 0 {
			numbers += fmt.Sprintf(", HcJ %s kA/m", report.Figures(k.IntrinsicCoercivityApm/1e3, 4))
		}
		numbers += " at " + report.Celsius(k.ReferenceC)
		if k.MaxTemperatureC > 0 {
			numbers += ", up to " + report.Celsius(k.MaxTemperatureC)
		}
		add(k.Name, k.Family, numbers, k.Source, k.FromMemory)
	}
	density := func(d float64) string { return report.Figures(d, 4) + " kg/m³" }
	for _, p := range s.Design.Steels {
		add(p.Material.Name, p.Material.Use, density(p.Material.DensityKgPerM3), p.Material.Source, p.Material.FromMemory)
	}
	for _, p := range s.Design.Wounds {
		add(p.Material.Name, p.Material.Use, density(p.Material.DensityKgPerM3), p.Material.Source, p.Material.FromMemory)
	}
	for _, p := range s.Design.Spacers {
		add(p.Material.Name, "not magnetic", density(p.Material.DensityKgPerM3), p.Material.Source, false)
	}
	return t
}

func drawings(_ context.Context, s Source) ([]Section, error) {
	title := cmp.Or(strings.TrimSpace(s.Design.Title), "untitled")
	o := draw.Options{Projection: s.Projection, Date: s.Date}
	parts := draw.Parts(s.Design)
	var all []Section
	if len(parts) <= draw.MostParts {
		sheet, err := draw.Arrangement(title, parts, o)
		if err != nil {
			return nil, err
		}
		all = append(all, Section{Title: "General arrangement", Blocks: []Block{Drawing{sheet}}})
	}
	sheets := Section{Title: "Part drawings"}
	for _, it := range draw.Items(parts) {
		sheet, err := draw.PartSheet(title, it, o)
		if err != nil {
			return nil, err
		}
		sheets.Blocks = append(sheets.Blocks, Drawing{sheet})
	}
	return append(all, sheets), nil
}

func windingSheets(_ context.Context, s Source) (all []Section, err error) {
	for i := range s.Design.Wounds {
		w := &s.Design.Wounds[i]
		plan := polewright.WindingPlan(w)
		sheet, err := winding.Wind(plan)
		if err != nil {
			return nil, fmt.Errorf("winding %q: %w", w.Name, err)
		}
		all = append(all, windingSheet(w.Name, w.Wire, plan, sheet, s))
	}
	return all, nil
}

func windingSheet(name, wire string, p winding.Plan, w winding.Sheet, s Source) Section {
	mm := report.Millimetres
	t := Table{Rows: [][]string{
		{"core", fmt.Sprintf("%s x %s mm, corners of radius %s mm; %s mm between the flanges", mm(p.CoreX), mm(p.CoreY), mm(p.CornerRadius), mm(p.Width))},
		{"wire", fmt.Sprintf("%s, diameter %s mm, bare", wire, report.Decimals(1e3*p.WireDiameter, 3))},
		{"in all", fmt.Sprintf("%d turns, %s m, %s kg of wire", w.Turns, report.Decimals(w.WireLengthM, 1), kilograms(w.WireMassKg))},
		{"section", fmt.Sprintf("%s mm thick, packing %s, steel %s mm² a side", report.Decimals(1e3*w.BuildM, 2), report.Decimals(w.Packing, 3), report.Decimals(1e6*w.SteelAreaM2, 0))},
		{"outside", fmt.Sprintf("%s x %s mm when done", report.Decimals(1e3*w.OuterXM, 1), report.Decimals(1e3*w.OuterYM, 1))},
		{"time", fmt.Sprintf("%s to %s h by hand, at 10 to 6 turns a minute", report.Figures(w.HoursLow, 2), report.Figures(w.HoursHigh, 2))},
		{"pull", fmt.Sprintf("%s to %s while winding; the wire begins to stretch at %s", report.Force(w.TensionLowN), report.Force(w.TensionHighN), report.Force(w.YieldN))},
	}}
	for _, r := range s.Solved.Result.Windings {
		if r.Name == name && r.Sentence != "" {
			t.Rows = append(t.Rows, []string{"flux", r.Sentence})
		}
	}
	layers := Table{Caption: "Layer by layer; \"outside\" is over that layer along the core's longer side, as a caliper reads it",
		Head: []string{">layer", ">turns", ">wire m", ">outside mm", ">turns so far", ">wire so far m", ">mass so far kg", "done"}}
	for _, l := range w.Layers {
		layers.Rows = append(layers.Rows, []string{fmt.Sprint(l.Layer), fmt.Sprint(l.Turns), report.Decimals(l.LengthM, 2), report.Decimals(1e3*l.OuterM, 1),
			fmt.Sprint(l.RunningTurns), report.Decimals(l.RunningLengthM, 1), kilograms(l.RunningMassKg), "     "})
	}
	blocks := []Block{t, layers}
	if len(w.Notes) > 0 {
		blocks = append(blocks, Box{Title: "Notes for the winder", Texts: w.Notes})
	}
	return Section{Title: fmt.Sprintf("Winding sheet %q", name), NewPage: true, Blocks: blocks}
}
