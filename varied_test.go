package polewright

import (
	"fmt"
	"math"
	"strings"
)

// This file holds the varied designs, all invented: what builders make, small and large, soft and saturated, round and square, symmetric and
// not. The study of the error estimate runs over them.

type sketch struct{ strings.Builder }

func (s *sketch) part(kind, name, rest string, args ...any) *sketch {
	fmt.Fprintf(s, "[[%s]]\nname = %q\n", kind, name)
	fmt.Fprintf(s, rest, args...)
	s.WriteString("\n")
	return s
}

func triple(x, y, z float64) string { return fmt.Sprintf(`["%g mm","%g mm","%g mm"]`, x, y, z) }

func (s *sketch) magnet(name string, size, at [3]float64, more string) *sketch {
	return s.part("magnet", name, "shape = \"block\"\nsize = %s\ncenter = %s\n%s", triple(size[0], size[1], size[2]), triple(at[0], at[1], at[2]), more)
}

func (s *sketch) plate(name string, size, at [3]float64) *sketch {
	return s.part("steel", name, "shape = \"block\"\nsize = %s\ncenter = %s\nmaterial = \"steel-1018\"", triple(size[0], size[1], size[2]), triple(at[0], at[1], at[2]))
}

func (s *sketch) round(kind, name string, diameter, thickness, z float64, more string) *sketch {
	return s.part(kind, name, "shape = \"disc\"\ndiameter = \"%g mm\"\nthickness = \"%g mm\"\ncenter = %s\n%s", diameter, thickness, triple(0, 0, z), more)
}

func (s *sketch) ring(kind, name string, outer, inner, thickness, z float64, more string) *sketch {
	return s.part(kind, name, "shape = \"ring\"\nouter_diameter = \"%g mm\"\ninner_diameter = \"%g mm\"\nthickness = \"%g mm\"\ncenter = %s\n%s", outer, inner, thickness, triple(0, 0, z), more)
}

func (s *sketch) tip(name string, bottom, top, height, z float64, down bool) *sketch {
	turn := ""
	if down {
		turn = `rotate = ["180 deg","0 deg","0 deg"]` + "\n"
	}
	return s.part("steel", name, "shape = \"frustum\"\nbottom_diameter = \"%g mm\"\ntop_diameter = \"%g mm\"\nheight = \"%g mm\"\ncenter = %s\n%smaterial = \"steel-1018\"", bottom, top, height, triple(0, 0, z), turn)
}

const (
	up    = "magnetized = [0,0,1]\ngrade = \"N42\""
	steel = "material = \"steel-1018\""
)

// framed is a pair of blocks in a box frame: magnets x, y, thickness; gap; thickness of back and legs.
func framed(x, y, t, gap, back, leg float64) *sketch {
	s := &sketch{}
	for _, w := range []float64{1, -1} {
		name := map[float64]string{1: "upper", -1: "lower"}[w]
		s.magnet(name, [3]float64{x, y, t}, [3]float64{0, 0, w * (gap + t) / 2}, up)
		s.plate(name+" back", [3]float64{x, y + 16 + 2*leg, back}, [3]float64{0, 0, w * (gap/2 + t + back/2)})
	}
	for _, w := range []float64{1, -1} {
		s.plate(fmt.Sprintf("leg %g", w), [3]float64{x, leg, gap + 2*t}, [3]float64{0, w * (y/2 + 8 + leg/2), 0})
	}
	return s
}

// cframe has one leg only.
func cframe(x, y, t, gap, back, leg float64) *sketch {
	s := &sketch{}
	for _, w := range []float64{1, -1} {
		name := map[float64]string{1: "upper", -1: "lower"}[w]
		s.magnet(name, [3]float64{x, y, t}, [3]float64{0, 0, w * (gap + t) / 2}, up)
		s.plate(name+" back", [3]float64{x, y + 12 + leg, back}, [3]float64{0, -(12 + leg) / 2, w * (gap/2 + t + back/2)})
	}
	return s.plate("leg", [3]float64{x, leg, gap + 2*t}, [3]float64{0, -(y/2 + 12 + leg/2), 0})
}

// pot is a pair of discs in a round pot.
func pot(d, t, gap, wall float64) *sketch {
	s := &sketch{}
	s.round("magnet", "upper", d, t, (gap+t)/2, up).round("magnet", "lower", d, t, -(gap+t)/2, up)
	s.round("steel", "lid", d+20+2*wall, wall+4, gap/2+t+wall/2+2, steel).round("steel", "floor", d+20+2*wall, wall+4, -(gap/2 + t + wall/2 + 2), steel)
	return s.ring("steel", "wall", d+20+2*wall, d+20, gap+2*t, 0, steel)
}

// tipped is a pair of blocks with pole tips in a box frame.
func tipped(side, t, gap, bottom, top, height, leg float64) *sketch {
	s := framed(side, side, t, gap+2*height, leg, leg)
	return s.tip("upper tip", bottom, top, height, (gap+height)/2, true).tip("lower tip", bottom, top, height, -(gap+height)/2, false)
}

// halbach is a ring of n parts, blocks or sectors, whose magnetization turns twice as fast as their place.
func halbach(n int, inner, outer, length float64, blocks bool) *sketch {
	s := &sketch{}
	for i := range n {
		a := 360 * float64(i) / float64(n)
		if blocks {
			r := (inner + outer) / 4
			x, y := polar(r, a)
			s.part("magnet", fmt.Sprintf("block %d", i+1), "shape = \"block\"\nsize = %s\ncenter = %s\nrotate = [\"0 deg\",\"0 deg\",\"%g deg\"]\nmagnetized = [%.12g,%.12g,0]\nremanence = \"1.3 T\"\nrecoil = 1.05",
				triple(0.36*(outer-inner), 0.36*(outer-inner), length), triple(x, y, 0), a, cosDeg(a), sinDeg(a))
			continue
		}
		s.part("magnet", fmt.Sprintf("sector %d", i+1), "shape = \"wedge\"\nouter_diameter = \"%g mm\"\ninner_diameter = \"%g mm\"\nthickness = \"%g mm\"\nfrom = \"%g deg\"\nto = \"%g deg\"\nmagnetized = [%.12g,%.12g,0]\ncenter = %s\nremanence = \"1.3 T\"\nrecoil = 1.05",
			outer, inner, length, a-180/float64(n), a+180/float64(n), cosDeg(2*a), sinDeg(2*a), triple(0, 0, 0))
	}
	return s
}

func wound(turns int, gauge, material string) *sketch {
	s := &sketch{}
	for _, w := range []float64{1, -1} {
		s.magnet(map[float64]string{1: "upper", -1: "lower"}[w], [3]float64{60, 40, 20}, [3]float64{0, 0, w * 19}, up)
	}
	return s.part("wound", "winding", "core = { size = [\"60 mm\",\"56 mm\",\"58 mm\"], center = [\"0 mm\",\"0 mm\",\"0 mm\"] }\naxis = \"x\"\nwidth = \"60 mm\"\nturns = %d\nwire = { gauge = %q }\npacking = 0.72\nmaterial = %q", turns, gauge, material)
}

// varied lists the designs by name.
func varied() map[string]string {
	region := func(d float64) string {
		return fmt.Sprintf("[target]\nfield = \"0.5 T\"\nregion = { shape = \"sphere\", diameter = \"%g mm\", center = [\"0 mm\",\"0 mm\",\"0 mm\"] }\n", d)
	}
	lone := func(s *sketch) *sketch {
		return s.plate("plate", [3]float64{60, 60, 8}, [3]float64{0, 0, -14}).magnet("magnet", [3]float64{40, 40, 20}, [3]float64{0, 0, 0}, up)
	}
	electro := framed(40, 40, 12, 16, 14, 12)
	electro.part("coil", "trim", "shape = \"ring\"\nampere_turns = \"800 A\"\naxis = \"z\"\ncenter = %s\nheight = \"6 mm\"\nouter_diameter = \"54 mm\"\ninner_diameter = \"50 mm\"", triple(0, 0, 0))
	turned := framed(40, 40, 12, 30, 14, 12)
	turned.magnet("sample", [3]float64{8, 6, 5}, [3]float64{0, 0, 3}, "rotate = [\"20 deg\",\"30 deg\",\"0 deg\"]\nmagnetized = [0,0,1]\nremanence = \"1.2 T\"\nrecoil = 1.05")
	// Poles between magnets and gap, in a box: their rims rule the error.
	poled := framed(76, 76, 25.4, 31, 37, 19)
	poled.plate("upper pole", [3]float64{76, 76, 8}, [3]float64{0, 0, 11.5}).plate("lower pole", [3]float64{76, 76, 8}, [3]float64{0, 0, -11.5})
	roundPoled := &sketch{}
	for _, w := range []float64{1, -1} {
		side := map[float64]string{1: "upper", -1: "lower"}[w]
		roundPoled.round("magnet", side, 76, 25.4, w*28.2, up).round("steel", side+" pole", 76, 8, w*11.5, steel).
			plate(side+" bar", [3]float64{90, 150, 19}, [3]float64{0, 0, w * 50.4}).plate(side+" leg", [3]float64{90, 19, 81.8}, [3]float64{0, w * 65.5, 0})
	}
	ferrite := framed(80, 60, 25, 20, 8, 8).String()
	out := map[string]string{
		"framed": framed(60, 40, 20, 18, 20, 12).String(), "framed, thin legs": framed(60, 40, 20, 18, 12, 6).String(),
		"framed, starved": framed(60, 40, 20, 18, 8, 4).String(), "framed, wide gap": framed(40, 40, 25, 40, 16, 12).String(),
		"framed, narrow gap": framed(50, 50, 10, 4, 12, 12).String(), "framed, thin magnets": framed(50, 50, 3, 12, 12, 12).String(),
		"framed, long": framed(150, 30, 12, 12, 12, 10).String(), "framed, small": framed(6, 5, 3, 2, 3, 2).String(),
		"framed, ferrite": strings.ReplaceAll(ferrite, "\"N42\"", "\"Y30\""),
		"c frame":         cframe(40, 40, 12, 16, 14, 14).String(), "c frame, starved": cframe(40, 40, 12, 16, 8, 6).String(),
		"c frame, deep": cframe(30, 60, 15, 20, 16, 16).String(),
		"pot":           pot(40, 10, 12, 8).String(), "pot, thin wall": pot(40, 10, 12, 3).String(), "pot, flat": pot(70, 8, 8, 8).String(),
		"tips": tipped(60, 20, 16, 50, 25, 15, 16).String(), "tips, blunt": tipped(50, 15, 12, 44, 36, 10, 14).String(), "tips, sharp": tipped(60, 20, 10, 50, 16, 15, 16).String(),
		"wound": wound(1500, "16 SWG", "annealed-wire").String(), "wound, few turns": wound(500, "16 SWG", "annealed-wire").String(),
		"wound, hard wire": wound(1000, "16 SWG", "hard-wire").String(),
		"sectors":          halbach(8, 30, 70, 40, false).String(), "turned blocks": halbach(8, 40, 90, 40, true).String(),
		"framed, poles": poled.String(), "framed, round poles": roundPoled.String(),
		"lone on a plate": lone(&sketch{}).String(), "with a coil": electro.String(), "with a turned magnet": turned.String(),
		"facing, no steel": (&sketch{}).magnet("upper", [3]float64{40, 30, 12}, [3]float64{0, 0, 14}, up).magnet("lower", [3]float64{40, 30, 12}, [3]float64{0, 0, -14}, up).String(),
		"facing discs":     (&sketch{}).round("magnet", "upper", 40, 10, 12, up).round("magnet", "lower", 40, 10, -12, up).String(),
		"rings on plates": (&sketch{}).ring("magnet", "upper", 50, 20, 10, 13, up).ring("magnet", "lower", 50, 20, 10, -13, up).
			round("steel", "top", 60, 8, 22, steel).round("steel", "bottom", 60, 8, -22, steel).String(),
		"unlike halves": (&sketch{}).magnet("upper", [3]float64{40, 40, 15}, [3]float64{0, 0, 14}, up).round("magnet", "lower", 30, 10, -12, up).
			plate("back", [3]float64{50, 60, 10}, [3]float64{0, 5, 26.5}).String(),
	}
	for name, text := range out {
		size := 3.0
		if name == "framed, small" || name == "framed, narrow gap" {
			size = 1
		}
		if name == "lone on a plate" || name == "with a turned magnet" {
			out[name] = "format = 1\ntitle = \"" + name + ", invented\"\n[[probe]]\nname = \"centre\"\nat = [\"0 mm\",\"0 mm\",\"" + map[string]string{"lone on a plate": "18", "with a turned magnet": "-6"}[name] + " mm\"]\n" + text
			continue
		}
		out[name] = "format = 1\ntitle = \"" + name + ", invented\"\n" + region(size) + text
	}
	return out
}

func polar(r, degrees float64) (x, y float64) { return r * cosDeg(degrees), r * sinDeg(degrees) }

func cosDeg(a float64) float64 { return math.Cos(a * math.Pi / 180) }

func sinDeg(a float64) float64 { return math.Sin(a * math.Pi / 180) }
