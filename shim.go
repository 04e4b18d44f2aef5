package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/asbuilt"
	"polewright/design"
	"polewright/freefield"
	"polewright/harmonic"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/result"
	"polewright/shape"
)

// This file finds the shims that make a measured map flat.

// ShimOptions says what may go on the faces of the gap, and where.
type ShimOptions struct {
	FoilM      float64 // thickness of one foil; 0 is 0.05 mm
	MostM      float64 // thickest stack; 0 is 0.5 mm
	SizeM      float64 // edge of a square patch, or diameter of a magnet; 0: a third of the gap, 2 mm at least
	MagnetM    float64 // length of a trim magnet; 0: foils
	RemanenceT float64 // of trim magnets; 0 is 1.2 T
	Edge       int     // places along each edge of a face, 2 to 9; 0 is 5
	Face       int     // 1: the positive side only, -1 the negative, 0 both
	Degree     int     // of the map's terms, 1 to 6; 0: as many as the readings carry
	Apply      float64 // share to put on before the map is read again; 0 is 0.7
	Accuracy   Accuracy
	Progress   func(what string, done float64)
}

const (
	// foilSaturationT is the polarization at which thin steel gives no more (2.0 to 2.16 T, common practice, no source).
	foilSaturationT = 2.0
	// mapReach is how far outside the region's ball readings still count, in its radii.
	mapReach = 1.3
	// shimDamping is the price of a step of each shim in the fit, as a share of the most that any one does over the region: without it the fit
	// sets large shims against each other for nothing.
	shimDamping = 0.02
)

// measuredMap is a map of one component as solid harmonics, which satisfy Laplace's equation as the component does.
type measuredMap struct {
	center       r3.Vec
	radius       float64
	degree       int
	coefficients []float64
	rms          float64
	rank         int
	used         int
}

func (m *measuredMap) at(p r3.Vec) (b float64) {
	d := r3.Scale(1/m.radius, r3.Sub(p, m.center))
	v := make([]float64, harmonic.Count(m.degree))
	harmonic.Values(m.degree, d.X, d.Y, d.Z, v)
	for i, c := range m.coefficients {
		b += c * v[i]
	}
	return b
}

// sizes are the root mean squares of the terms of each degree over the sphere. The mean square is taken over many directions: terms of different
// degrees are at right angles there.
func (m *measuredMap) sizes() []result.MeasuredTerm {
	list := make([]result.MeasuredTerm, m.degree+1)
	const directions = 400
	v := make([]float64, harmonic.Count(m.degree))
	for i := range directions {
		n := harmonic.Direction(i, directions)
		harmonic.Values(m.degree, n.X, n.Y, n.Z, v)
		at := 0
		for l := range list {
			var b float64
			for range 2*l + 1 {
				b += m.coefficients[at] * v[at]
				at++
			}
			list[l].Degree = l
			list[l].RMST += b * b / directions
		}
	}
	for l := range list {
		list[l].RMST = math.Sqrt(list[l].RMST)
	}
	return list
}

// fitMap fits the terms up to a degree to readings by least squares; what the places do not tell stays zero.
func fitMap(readings []measurement.Reading, center r3.Vec, radius float64, degree int) *measuredMap {
	m := &measuredMap{center: center, radius: radius, degree: degree, used: len(readings)}
	n := harmonic.Count(degree)
	a, b := mat.NewDense(len(readings), n, nil), mat.NewVecDense(len(readings), nil)
	for i, r := range readings {
		d := r3.Scale(1/radius, r3.Sub(r.At, center))
		harmonic.Values(degree, d.X, d.Y, d.Z, a.RawRowView(i))
		b.SetVec(i, r.FieldT)
	}
	scale := make([]float64, n) // the harmonics differ in size by their factorials
	for k := range scale {
		scale[k] = math.Max(mat.Norm(a.ColView(k), 2), 1e-300)
		for i := range readings {
			a.Set(i, k, a.At(i, k)/scale[k])
		}
	}
	var svd mat.SVD
	svd.Factorize(a, mat.SVDThin)
	m.rank = svd.Rank(1e-3)
	var x mat.VecDense
	svd.SolveVecTo(&x, b, m.rank)
	for k := range scale {
		m.coefficients = append(m.coefficients, x.AtVec(k)/scale[k])
	}
	for i := range readings {
		r := b.AtVec(i) - mat.Dot(a.RowView(i), &x)
		m.rms += r * r / float64(len(readings))
	}
	m.rms = math.Sqrt(m.rms)
	return m
}

// Shim finds shims on the faces of the gap that make the field of a log flat over the region: its terms up to a degree are fitted, and the sum of
// the squares of what is uneven is made least by stacks within bounds, then by whole foils.
//
// A foil across the field is polarized as steel of high permeability in it: J = B/N up to saturation, B the field before the face and N the
// magnetometric demagnetizing factor of the stack. Its field is that of a block with this polarization; steel behind a face doubles it by its
// image, and the faces opposite each other make images of images, of which seven pairs are taken. The images are those of wide plane faces of
// ideal steel: near edges of a pole, and close to saturation, a shim does less than said, and the order of the errors is a tenth. That is what
// the share to apply first and the next map are for.
func Shim(ctx context.Context, d *design.Design, log *measurement.Log, o ShimOptions) (*result.Shimming, error) {
	o.FoilM = cmp.Or(o.FoilM, 0.05e-3)
	o.MostM = cmp.Or(o.MostM, 0.5e-3)
	o.RemanenceT = cmp.Or(o.RemanenceT, 1.2)
	o.Edge = cmp.Or(o.Edge, 5)
	o.Apply = cmp.Or(o.Apply, 0.7)
	o.Accuracy = cmp.Or(o.Accuracy, Draft)
	if err := Readable(d, log); err != nil {
		return nil, err
	}
	if !sidesOf(d).opens {
		return nil, mistake.Of("the design has no gap between two faces on its axis", "shims go on faces on both sides of a gap")
	}
	s, err := Run(ctx, d, Options{Accuracy: o.Accuracy, FieldOnly: true, Progress: o.Progress})
	if err != nil {
		return nil, err
	}
	return s.shim(log, o)
}

// shim is Shim with what is solved already.
func (s *Solved) shim(log *measurement.Log, o ShimOptions) (*result.Shimming, error) {
	a := s.a
	d := a.design
	sides := sidesOf(d)
	out := &result.Shimming{Title: d.Title, Log: log.File, What: "foil", StepM: o.FoilM, SizeM: o.SizeM, Apply: o.Apply, Patches: []result.ShimPatch{}, Warnings: []string{}}
	if out.SizeM == 0 {
		out.SizeM = math.Max(2e-3, math.Round(sides.length/3*2e3)/2e3)
	}
	high := int(math.Round(o.MostM / o.FoilM))
	if o.MagnetM > 0 {
		out.What, out.StepM, high = "magnet", 0, 1
	}

	radius := a.clearance(a.center) / 2
	if t := d.Target; t != nil && t.Region != nil {
		radius = regionRadius(t.Region)
	}
	m, err := a.mapOf(log, sides.axis, radius, o.Degree, out)
	if err != nil {
		return nil, err
	}

	places := s.shimPlaces(sides, o, out)
	w := s.shimWork(m, places, o, sides, out.SizeM)
	highest := slices.Repeat([]float64{float64(high)}, len(places))
	lowest := make([]float64, len(places))
	if o.MagnetM > 0 {
		for k, x := range highest {
			lowest[k] = -x
		}
	}
	matrix, right := w.unevenness()
	counts := wholeSteps(matrix, right, lowest, highest)
	first := make([]int, len(places))
	full := 0
	for k, c := range counts {
		first[k] = int(math.Round(o.Apply * float64(c)))
		if c == 0 {
			continue
		}
		out.Patches = append(out.Patches, result.ShimPatch{Face: places[k].name, At: array(places[k].at), Count: c, First: first[k]})
		if float64(c) == highest[k] || float64(c) == lowest[k] {
			full++
		}
	}
	out.Figures = []result.ShimFigures{w.figures("measured map, as fitted", nil), w.figures("with all shims", counts), w.figures(fmt.Sprintf("with %.0f %% of them", 100*o.Apply), first)}
	if full > 0 && 2*full >= len(out.Patches) {
		out.Warnings = append(out.Warnings, fmt.Sprintf("%d of %d places are full: the map is more uneven than shims of this size can mend; look for what makes it so with polewright verify, or allow more", full, len(out.Patches)))
	}
	if len(out.Patches) == 0 {
		out.Warnings = append(out.Warnings, "no shim of this size makes the map flatter: it is flat to within a step, or the places are too far off")
	}
	return out, nil
}

// shimWork is the measured map at points of the region and what one step of each place does to it there, T.
type shimWork struct {
	weights, base []float64   // of the points
	work          [][]float64 // of the places
}

func (s *Solved) shimWork(m *measuredMap, places []shimPlace, o ShimOptions, sides gapSides, sizeM float64) *shimWork {
	field := s.smooth()
	points, weights := s.a.regionPoints()
	w := &shimWork{weights: weights, work: make([][]float64, len(places))}
	for _, q := range points {
		w.base = append(w.base, m.at(q))
	}
	for k, p := range places {
		sources := p.sources(field, o, sizeM, sides)
		for _, q := range points {
			b := sources.B(q)
			w.work[k] = append(w.work[k], *component(&b, sides.axis))
		}
	}
	return w
}

// figures tell how even the field is with so many steps in each place.
func (w *shimWork) figures(what string, counts []int) result.ShimFigures {
	f := result.ShimFigures{What: what}
	b := slices.Clone(w.base)
	for k, n := range counts {
		for i := range b {
			b[i] += float64(n) * w.work[k][i]
		}
	}
	low, top := math.Inf(1), math.Inf(-1)
	for i, x := range b {
		f.MeanT += w.weights[i] * x
		low, top = math.Min(low, x), math.Max(top, x)
	}
	for i, x := range b {
		f.RMSPPM += w.weights[i] * math.Pow(x-f.MeanT, 2)
	}
	f.RMSPPM = 1e6 * math.Sqrt(f.RMSPPM) / math.Abs(f.MeanT)
	f.PeakToPeakPPM = 1e6 * (top - low) / math.Abs(f.MeanT)
	return f
}

// unevenness are the equations by least squares that steps have to solve for the field to be even. The last ones keep steps small that do little.
func (w *shimWork) unevenness() (matrix *mat.Dense, right []float64) {
	uneven := func(x []float64) []float64 {
		var mean float64
		for i := range x {
			mean += w.weights[i] * x[i]
		}
		y := make([]float64, len(x))
		for i := range x {
			y[i] = math.Sqrt(w.weights[i]+0.2/float64(len(x))) * (x[i] - mean) // the rim counts too: extremes lie there
		}
		return y
	}
	points, n := len(w.base), len(w.work)
	matrix, right = mat.NewDense(points+n, n, nil), make([]float64, points+n)
	for i, x := range uneven(w.base) {
		right[i] = -x
	}
	strongest := 0.0
	for k := range w.work {
		var square float64
		for i, x := range uneven(w.work[k]) {
			matrix.Set(i, k, x)
			square += x * x
		}
		strongest = math.Max(strongest, math.Sqrt(square))
	}
	for k := range w.work {
		matrix.Set(points+k, k, shimDamping*strongest)
	}
	return matrix, right
}

// mapOf fits the readings of the component along an axis round the middle of the gap, brought to the working temperature; a degree of 0 is as high
// as they tell.
func (a *assembly) mapOf(log *measurement.Log, axis int, radius float64, degree int, out *result.Shimming) (*measuredMap, error) {
	d := a.design
	out.RadiusM = radius
	var readings []measurement.Reading
	far := 0.0
	for _, r := range log.Readings {
		if int(r.Component) != axis || r3.Norm(r3.Sub(r.At, a.center)) > mapReach*radius {
			continue
		}
		if !math.IsNaN(r.TemperatureC) {
			m := d.Magnets[0].Material.At(workingTemperature(d))
			r.FieldT /= 1 + m.RemanencePerK*(r.TemperatureC-workingTemperature(d))
		}
		readings = append(readings, r)
		far = math.Max(far, r3.Norm(r3.Sub(r.At, a.center)))
	}
	const least = 6
	if len(readings) < least {
		return nil, mistake.Of(fmt.Sprintf("%d readings of B%c lie within %.3g mm of the middle of the gap, where %d are needed", len(readings), "xyz"[axis], 1e3*mapReach*radius, least),
			"read a lattice over the region: polewright sheet FILE -o readings.csv --places \"cube 3, axis 9\"")
	}
	if degree == 0 {
		degree = 1
		for n := 2; n <= 4 && 3*harmonic.Count(n) <= 2*len(readings); n++ {
			degree = n
		}
	}
	m := fitMap(readings, a.center, radius, degree)
	out.Degree, out.FitRMS, out.Readings, out.Terms = degree, m.rms, m.used, m.sizes()
	if m.rank < harmonic.Count(degree) {
		out.Warnings = append(out.Warnings, fmt.Sprintf("the places tell %d of the %d terms up to degree %d apart: what they do not see is taken as zero; read a lattice over the region", m.rank, harmonic.Count(degree), degree))
	}
	if far < 0.6*radius {
		out.Warnings = append(out.Warnings, fmt.Sprintf("the readings reach %.3g mm from the middle, the region %.3g mm: beyond the readings the map is a guess", 1e3*far, 1e3*radius))
	}
	return m, nil
}

// wholeSteps are the whole numbers of steps, from lowest to highest each, that make |matrix x - right| small: least squares within bounds, rounded,
// then one step more or less of each for as long as that helps.
func wholeSteps(matrix *mat.Dense, right, lowest, highest []float64) []int {
	x, _ := asbuilt.Bounded(matrix, right, lowest, highest)
	cost := func(counts []int) (sum float64) {
		y := append([]float64(nil), right...)
		for k, c := range counts {
			if c != 0 {
				for i := range y {
					y[i] -= float64(c) * matrix.At(i, k)
				}
			}
		}
		for _, v := range y {
			sum += v * v
		}
		return sum
	}
	counts := make([]int, len(x))
	for k := range counts {
		counts[k] = int(math.Round(x[k]))
	}
	now := cost(counts)
	for better := true; better; {
		better = false
		for k := range counts {
			for _, way := range []int{1, -1} {
				if c := counts[k] + way; float64(c) < lowest[k] || float64(c) > highest[k] {
					continue
				}
				counts[k] += way
				if c := cost(counts); c < now*(1-1e-12) {
					now, better = c, true
				} else {
					counts[k] -= way
				}
			}
		}
	}
	return counts
}

// shimPlace is a place on a face of the gap.
type shimPlace struct {
	name string
	at   r3.Vec // on the face
	way  float64
	// below and above are where steel faces lie along the axis; NaN for none.
	below, above float64
	factor       float64 // demagnetizing factor of a stack of foils
}

// shimPlaces are those of a square lattice on each face.
func (s *Solved) shimPlaces(sides gapSides, o ShimOptions, out *result.Shimming) (list []shimPlace) {
	g := sides.axis
	parts := magnetic(s.a.design)
	// plane is the nearest face of steel along the axis, from the middle of the gap.
	plane := func(way float64) (at float64, ok bool) {
		at = math.Inf(1)
		for _, p := range parts {
			b := shapeBounds(p)
			over := p.Kind != "magnet"
			for k := 1; k <= 2; k++ {
				i := (g + k) % 3
				c := *component(&sides.center, i)
				over = over && c > *component(&b.Min, i) && c < *component(&b.Max, i)
			}
			face := math.Min(way**component(&b.Min, g), way**component(&b.Max, g))
			if over && face > way**component(&sides.center, g) {
				at = math.Min(at, face)
			}
		}
		return way * at, !math.IsInf(at, 1)
	}
	below, hasBelow := plane(-1)
	above, hasAbove := plane(1)
	switch {
	case hasBelow && hasAbove:
		out.Images = fmt.Sprintf("mirrored at steel %s and %s mm along %c", millimetre(below), millimetre(above), "xyz"[g])
	case hasBelow || hasAbove:
		out.Images = "steel on one side only: mirrored there"
	default:
		out.Images = "no steel behind the faces"
	}
	for _, face := range []float64{*component(&sides.center, g) - sides.length/2, *component(&sides.center, g) + sides.length/2} {
		if o.MagnetM == 0 && !(math.Abs(face-below) < design.TouchM || math.Abs(face-above) < design.TouchM) {
			out.Warnings = append(out.Warnings, "a face of the gap is a magnet's: foils there carry field along themselves too, and do about a third less than said; read the map again after the first ones")
			break
		}
	}
	if !hasBelow {
		below = math.NaN()
	}
	if !hasAbove {
		above = math.NaN()
	}
	half := math.Min(sides.width/2, 2*sides.length) - out.SizeM/2
	pitch := math.Max(2*half/float64(o.Edge-1), out.SizeM)
	for _, way := range []float64{-1, 1} {
		if o.Face != 0 && float64(o.Face) != way {
			continue
		}
		// A stack as they are on the whole; on steel, with its image, it is twice as thick.
		stack := shape.Block{Size: r3.Vec{X: out.SizeM, Y: out.SizeM, Z: o.MostM / 2}}
		if face := *component(&sides.center, g) + way*sides.length/2; math.Abs(face-below) < design.TouchM || math.Abs(face-above) < design.TouchM {
			stack.Size.Z *= 2
		}
		factor := DemagnetizingFactor(freefield.Magnet{Solid: stack, Place: shape.Placement{Rot: shape.Euler(0, 0, 0)}, Polarization: r3.Vec{Z: 1}})
		name := fmt.Sprintf("%c%c", map[float64]rune{-1: '-', 1: '+'}[way], "xyz"[g])
		for i := range o.Edge * o.Edge {
			p := sides.center
			*component(&p, g) += way * sides.length / 2
			u := pitch * (float64(i%o.Edge) - float64(o.Edge-1)/2)
			v := pitch * (float64(i/o.Edge) - float64(o.Edge-1)/2)
			if math.Max(math.Abs(u), math.Abs(v)) > half+1e-9 {
				continue
			}
			*component(&p, (g+1)%3) += u
			*component(&p, (g+2)%3) += v
			back := p
			*component(&back, g) += way * 1e-4
			if s.a.clearance(back) > 0 { // over the edge of a round face
				continue
			}
			list = append(list, shimPlace{name: name, at: p, way: way, below: below, above: above, factor: factor})
		}
	}
	return list
}

func millimetre(m float64) string { return fmt.Sprintf("%.4g", 1e3*m) }

// sources are the polarized bodies that stand for one step at a place: a foil or a magnet, and its images.
func (p shimPlace) sources(field func(r3.Vec) r3.Vec, o ShimOptions, size float64, sides gapSides) (list freefield.Sources) {
	g := sides.axis
	along := func(z float64) r3.Vec { q := p.at; *component(&q, g) = z; return q }
	var solid shape.Solid
	thick := o.FoilM
	var j r3.Vec
	place := shape.Placement{Rot: shape.Euler(0, 0, 0)}
	if o.MagnetM > 0 {
		thick = o.MagnetM
		solid = shape.Disc{Diameter: size, Thickness: thick}
		switch g {
		case 0:
			place.Rot = shape.Euler(0, math.Pi/2, 0)
		case 1:
			place.Rot = shape.Euler(-math.Pi/2, 0, 0)
		}
		*component(&j, g) = o.RemanenceT
	} else {
		b := shape.Block{Size: r3.Vec{X: size, Y: size, Z: size}}
		*component(&b.Size, g) = thick
		solid = b
		before := field(along(*component(&p.at, g) - p.way*3e-4))
		inside := *component(&before, g) / p.factor
		*component(&j, g) = math.Copysign(math.Min(math.Abs(inside), foilSaturationT), inside)
	}
	z := *component(&p.at, g) - p.way*thick/2
	add := func(z float64) {
		q := place
		q.Center = along(z)
		list = append(list, freefield.Magnet{Solid: solid, Place: q, Polarization: j})
	}
	low, high := !math.IsNaN(p.below), !math.IsNaN(p.above)
	const pairs = 7
	switch {
	case low && high:
		period := 2 * (p.above - p.below)
		for k := -pairs; k <= pairs; k++ {
			add(z + float64(k)*period)
			add(2*p.below - z + float64(k)*period)
		}
	case low:
		add(z)
		add(2*p.below - z)
	case high:
		add(z)
		add(2*p.above - z)
	default:
		add(z)
	}
	return list
}
