package design

import (
	"strings"

	"polewright/material"
)

// errorOf is what and hint as package material says them, so that a new grade there is no broken test here.
func errorOf[T any](_ T, err error) string { return err.Error() }

func gaugeError(s string) string {
	_, _, err := material.ParseGauge(s)
	return errorOf(s, err)
}

var brokenFiles = []struct {
	name  string
	edits []string
	want  string
}{
	{"unknown key", []string{`diameter = "40 mm"`, `diametre = "40 mm"`}, `d.toml:22: magnet.lower.diametre: unknown key
  hint: did you mean "diameter"? keys here: axis, center, coating, coercivity, coercivity_coefficient, density, diameter, grade, knee, magnetized, max_temperature, name, recoil, reference_temperature, remanence, remanence_coefficient, rotate, shape, squareness, thickness`},
	{"unknown key at the top", []string{`title =`, `tilte =`}, `d.toml:2: tilte: unknown key
  hint: did you mean "title"? keys here: coil, format, joint, layout, magnet, probe, section, spacer, steel, target, title, tolerance, wound`},
	{"unknown table", []string{`[[spacer]]`, `[[spacers]]`}, `d.toml:58: spacers: unknown key
  hint: did you mean "spacer"? keys here: coil, format, joint, layout, magnet, probe, section, spacer, steel, target, title, tolerance, wound`},
	{"single bracket", []string{`[[spacer]]`, `[spacer]`}, `d.toml:58: spacer: [spacer] has single brackets
  hint: there may be many: begin each with [[spacer]]`},
	{"missing unit", []string{`thickness = "20 mm"`, `thickness = 20`}, `d.toml:23: magnet.lower.thickness: 20: no unit
  hint: put the unit inside the quotes, e.g. "20 mm" (mm, m, cm, um, in or ft)`},
	{"missing unit in a list", []string{`["60 mm", "40 mm", "20 mm"]`, `["60 mm", 40, "20 mm"]`}, `d.toml:14: magnet.upper.size.y: 40: no unit
  hint: put the unit inside the quotes, e.g. "40 mm" (mm, m, cm, um, in or ft)`},
	{"missing unit in quotes", []string{`"40 mm", "20 mm"]`, `"40", "20 mm"]`}, `d.toml:14: magnet.upper.size.y: "40": no unit
  hint: put the unit inside the quotes, e.g. "40 mm" (mm, m, cm, um, in or ft)`},
	{"unit of another kind", []string{`width = "60 mm"`, `width = "60 mT"`}, `d.toml:40: wound.winding.width: "60 mT": "mT" is a unit of flux density
  hint: length is due here, e.g. "18 mm" (mm, m, cm, um, in or ft)`},
	{"decimal comma", []string{`thickness = "0.05 mm"`, `thickness = "0,05 mm"`}, `d.toml:69: joint[1].thickness: "0,05 mm": a comma in the number
  hint: write a decimal point and no commas between thousands: 18 mm`},
	{"unquoted quantity", []string{`thickness = "20 mm"`, `thickness = 20 mm`, `width = "60 mm"`, `width = 60mm`}, `d.toml:23: thickness = 20 mm: a quantity without quotes
  hint: put number and unit in quotes, e.g. "18 mm"
d.toml:40: width = 60mm: a quantity without quotes
  hint: put number and unit in quotes, e.g. "18 mm"`},
	{"quotation mark missing", []string{`name = "upper"`, `name = "upper`}, `d.toml:12: name = "upper: a quotation mark is missing
  hint: text and quantities stand between two: name = "upper"`},
	{"name used twice", []string{`name = "lower"`, `name = "upper"`}, `d.toml:20: magnet.upper.name: "upper" is used twice; first on line 11
  hint: give each part its own name`},
	{"name of two probes", []string{"[[section]]\n", "[[probe]]\nname = \"centre\"\nat = [\"0 mm\", \"0 mm\", \"1 mm\"]\n\n[[section]]\n"}, `d.toml:76: probe.centre.name: "centre" is used twice; first on line 71
  hint: give each probe its own name`},
	{"name of two sections", []string{"at = \"24 mm\"\n", "at = \"24 mm\"\n\n[[section]]\nname = \"back\"\npart = \"upper\"\nplane = \"z\"\nat = \"19 mm\"\n"}, `d.toml:82: section.back.name: "back" is used twice; first on line 75
  hint: give each section its own name`},
	{"names of a magnet and a steel", []string{`name = "top back"`, `name = "lower"`, `["upper", "top back"]`, `["upper", "lower"]`, `part = "top back"`, `part = "lower"`}, `d.toml:30: steel.lower.name: "lower" is used twice; first on line 19
  hint: give each part its own name`},
	{"joint given twice", []string{"[[probe]]\n", "[[joint]]\nbetween = [\"top back\", \"upper\"]\nthickness = \"0.1 mm\"\n\n[[probe]]\n"}, `d.toml:72: joint[2].between: these two have a joint on line 67
  hint: write one joint with the whole thickness`},
	{"name missing", []string{"name = \"lower\"\n", ""}, `d.toml:19: magnet[2].name: is missing
  hint: add name = "upper"`},
	{"probe without a name", []string{"name = \"centre\"\n", ""}, `d.toml:71: probe[1].name: is missing
  hint: add name = "centre"`},
	{"section without a name", []string{"name = \"back\"\n", ""}, `d.toml:75: section[1].name: is missing
  hint: add name = "leg"`},
	{"unknown grade", []string{`"N42"`, `"N43"`}, `d.toml:17: magnet.upper.grade: ` + errorOf(material.Grade("N43"))},
	{"unknown steel", []string{`"steel-1018"`, `"steel-1081"`}, `d.toml:34: steel.top back.material: ` + errorOf(material.SteelNamed("steel-1081"))},
	{"unknown plain material", []string{`"aluminium"`, `"alluminium"`}, `d.toml:65: spacer.post.material: ` + errorOf(material.PlainNamed("alluminium"))},
	{"unknown shape", []string{`shape = "disc"`, `shape = "disk"`}, `d.toml:21: magnet.lower.shape: "disk" is not known
  hint: did you mean "disc"? it is one of: block, disc, ring, wedge`},
	{"size zero", []string{`"40 mm", "20 mm"]`, `"0 mm", "20 mm"]`}, `d.toml:14: magnet.upper.size.y: "0 mm": zero or less
  hint: write a length above zero`},
	{"size negative", []string{`diameter = "40 mm"`, `diameter = "-40 mm"`}, `d.toml:22: magnet.lower.diameter: "-40 mm": zero or less
  hint: write a length above zero`},
	{"inner above outer", []string{`inner_diameter = "10 mm"`, `inner_diameter = "30 mm"`}, `d.toml:62: spacer.post.inner_diameter: "30 mm" is not below the outer diameter, "20 mm"
  hint: the inner diameter is the smaller one; exchange them, or write shape = "disc"`},
	{"coil's bore above its outside", []string{"shape = \"racetrack\"\nouter = [\"200 mm\", \"200 mm\"]\ninner = [\"150 mm\", \"150 mm\"]\nouter_radius = \"50 mm\"\ninner_radius = \"25 mm\"",
		"shape = \"ring\"\nouter_diameter = \"56 mm\"\ninner_diameter = \"60 mm\""}, `d.toml:54: coil.trim.inner_diameter: "60 mm" is not below the outer diameter, "56 mm"
  hint: the inner diameter is the smaller one; exchange them`},
	{"not a number", []string{`[0, 0, 1]
grade`, `[0, 0, nan]
grade`}, `d.toml:16: magnet.upper.magnetized.z: nan: no finite number
  hint: write a number such as 1`},
	{"infinite", []string{`recoil = 1.05`, `recoil = inf`}, `d.toml:27: magnet.lower.recoil: inf: no finite number
  hint: write a number such as 1.05`},
	{"over 100 m", []string{`height = "10 mm"`, `height = "101 m"`}, `d.toml:51: coil.trim.height: "101 m": over 100 m
  hint: no bench magnet is that large: check the unit`},
	{"over 3 T", []string{`"1.30 T"`, `"13 T"`}, `d.toml:26: magnet.lower.remanence: "13 T": over 3 T
  hint: no permanent magnet gives that: check the unit`},
	{"zero direction", []string{`[0, 0, 1]
remanence`, `[0, 0, 0]
remanence`}, `d.toml:25: magnet.lower.magnetized: is the zero vector, which has no direction
  hint: write a direction, e.g. magnetized = [0, 0, 1]`},
	{"grade and remanence", []string{`recoil = 1.05`, `recoil = 1.05
grade = "N42"`}, `d.toml:28: magnet.lower.grade: is given, and remanence on line 26 too
  hint: keep one of the two: a grade has all its numbers`},
	{"neither grade nor remanence", []string{"grade = \"N42\"\n", ""}, `d.toml:11: magnet.upper.grade: is missing
  hint: add grade = "N42", or remanence = "1.30 T" and recoil = 1.05`},
	{"overlap", []string{`center = ["0 mm", "0 mm", "39 mm"]`, `center = ["0 mm", "0 mm", "38.5 mm"]`, "[[joint]]\nbetween = [\"upper\", \"top back\"]\nthickness = \"0.05 mm\"\n", ""}, `d.toml:29: steel.top back: overlaps magnet "upper" (line 11)
  hint: parts may touch but not share space; their outer boxes share 0.5 mm along z: move or shorten one of them`},
	{"magnet inside steel", []string{`["60 mm", "40 mm", "20 mm"]`, `["6 mm", "4 mm", "2 mm"]`, `"0 mm", "19 mm"]`, `"0 mm", "39 mm"]`, "[[joint]]\nbetween = [\"upper\", \"top back\"]\nthickness = \"0.05 mm\"\n", ""}, `d.toml:29: steel.top back: overlaps magnet "upper" (line 11)
  hint: parts may touch but not share space; their outer boxes share 2 mm along z: move or shorten one of them`},
	{"far away", []string{`center = ["20 mm", "0 mm", "0 mm"]`, `center = ["30 m", "0 mm", "0 mm"]`}, `d.toml:58: spacer.post: stands 29.89 m away from the others along x
  hint: parts may leave 20 m between them: check the unit and the sign`},
	{"joint of an unknown part", []string{`["upper", "top back"]`, `["uper", "top back"]`}, `d.toml:68: joint[1].between.1: there is no part "uper"
  hint: did you mean "upper"? parts: lower, post, top back, trim, upper, winding`},
	{"joint of faces apart", []string{`["upper", "top back"]`, `["upper", "lower"]`}, `d.toml:68: joint[1].between: no faces of "upper" and "lower" touch
  hint: a joint is a film between faces that touch in the file; these two are 18 mm apart along z`},
	{"joint of one part", []string{`["upper", "top back"]`, `["upper", "upper"]`}, `d.toml:68: joint[1].between: "upper" is given twice
  hint: a joint lies between two parts`},
	{"section misses its part", []string{`at = "24 mm"`, `at = "40 mm"`}, `d.toml:79: section.back.at: "40 mm": the plane y = 40 mm misses steel "top back" (line 29)
  hint: it cuts the part between y = -40 mm and 40 mm`},
	{"section of an unknown part", []string{`part = "top back"`, `part = "bottom back"`}, `d.toml:77: section.back.part: there is no part "bottom back"
  hint: did you mean "top back"? parts: lower, post, top back, trim, upper, winding`},
	{"neither turns nor build", []string{"turns = 250\n", ""}, `d.toml:36: wound.winding.turns: is missing, and so is build
  hint: add turns = 1500 or build = "12 mm"`},
	{"turns and build", []string{"turns = 250\n", "turns = 250\nbuild = \"12 mm\"\n"}, `d.toml:42: wound.winding.build: is given, and turns on line 41 too
  hint: keep one of the two: the other follows from the wire and the packing`},
	{"turns not whole", []string{"turns = 250\n", "turns = 250.5\n"}, `d.toml:41: wound.winding.turns: 250.5: no whole number
  hint: write whole turns, such as 1500`},
	{"too few turns", []string{"turns = 250\n", "turns = 25\n"}, `d.toml:41: wound.winding.turns: 25 over a width of 60 mm is not one full layer of wire
  hint: write more turns, a smaller width or a finer wire`},
	{"neither packing nor lay", []string{"packing = 0.72\n", ""}, `d.toml:36: wound.winding.packing: is missing
  hint: add packing = 0.72, or lay = "square", "nested" or "random"`},
	{"packing above round wires", []string{"packing = 0.72\n", "packing = 0.95\n"}, `d.toml:43: wound.winding.packing: 0.95: outside 0.05 to 0.907
  hint: write a number such as 0.72; round wires fill 0.907 at most`},
	{"gauge of no kind", []string{`"16 SWG"`, `"16"`}, `d.toml:42: wound.winding.wire.gauge: ` + gaugeError("16")},
	{"region in a magnet", []string{`region = { shape = "sphere", diameter = "8 mm" }`, `region = { shape = "sphere", diameter = "20 mm" }`}, `d.toml:7: target.region: reaches into magnet "upper" (line 11)
  hint: the region lies in the free space of the gap: make it smaller or move its center`},
	{"region of length zero", []string{`region = { shape = "sphere", diameter = "8 mm" }`, `region = { shape = "cylinder", diameter = "8 mm", length = "0 mm" }`}, `d.toml:7: target.region.length: "0 mm": zero or less
  hint: write a length above zero`},
	{"format missing", []string{"format = 1\n", ""}, `d.toml:1: format: is missing
  hint: add format = 1 as the first line`},
	{"format of another year", []string{"format = 1\n", "format = 2\n"}, `d.toml:1: format: 2 is not known
  hint: this program reads format = 1`},
	{"key given twice", []string{`recoil = 1.05`, "recoil = 1.05\nrecoil = 1.06"}, `d.toml:28: magnet.recoil: is given again; first on line 27
  hint: keep one of the two; a further part begins with its own [[header]]`},
	{"table given twice", []string{"[[coil]]\n", "[target]\nfield = \"1 T\"\n\n[[coil]]\n"}, `d.toml:46: target: [target] is given again; first on line 4
  hint: put the keys of both under one header; parts of which there may be many begin with two brackets, [[magnet]]`},
	{"min above working", []string{`max = "60 degC"`, `max = "60 degC", min = "25 degC"`}, `d.toml:9: target.temperature.min: "25 degC" is above the working temperature
  hint: the lowest temperature is the working temperature or less`},
	{"min above max", []string{`working = "22 degC", max = "60 degC"`, `min = "65 degC", max = "60 degC"`}, `d.toml:9: target.temperature.min: "65 degC" is above the highest temperature
  hint: exchange the two`},
	{"squareness", []string{`recoil = 1.05`, "recoil = 1.05\nsquareness = 1.2"}, `d.toml:28: magnet.lower.squareness: 1.2: outside 0.2 to 0.99
  hint: write a number such as 0.95`},
	{"max below working", []string{`max = "60 degC"`, `max = "20 degC"`}, `d.toml:9: target.temperature.max: "20 degC" is below the working temperature
  hint: the highest temperature is the working temperature or more`},
	{"uniformity bare", []string{`uniformity = "500 ppm"`, `uniformity = 500`}, `d.toml:6: target.uniformity: 500: no unit
  hint: write it in quotes with a unit, e.g. "0.12 %" (% or ppm)`},
	{"coating eats the magnet", []string{`grade = "N42"`, "grade = \"N42\"\ncoating = \"15 mm\""}, `d.toml:18: magnet.upper.coating: "15 mm" a side leaves no magnet
  hint: coatings are 0.01 to 0.05 mm: check the unit`},
	{"list too short", []string{`center = ["0 mm", "0 mm", "39 mm"]`, `center = ["0 mm", "39 mm"]`}, `d.toml:33: steel.top back.center: a list of 2 where a list of 3 is due
  hint: write center = ["0 mm", "0 mm", "0 mm"]`},
	{"curve file missing", []string{`material = "steel-1018"`, `curve_file = "no-such-file.csv"`}, `d.toml:34: steel.top back.curve_file: "no-such-file.csv": there is no such file
  hint: put the curve file beside the design file and write its name`},
	{"curve file elsewhere", []string{`material = "steel-1018"`, `curve_file = "/etc/hostname"`}, `d.toml:34: steel.top back.curve_file: "/etc/hostname": not in the folder of the design file
  hint: put the curve file beside the design file and write its name`},
	{"several mistakes", []string{`"N42"`, `"N420"`, `thickness = "20 mm"`, `thickness = 20`, `axis = "x"`, `axis = "w"`, `["upper", "top back"]`, `["upper", "nothing"]`}, `d.toml:17: magnet.upper.grade: ` + errorOf(material.Grade("N420")) + `
d.toml:23: magnet.lower.thickness: 20: no unit
  hint: put the unit inside the quotes, e.g. "20 mm" (mm, m, cm, um, in or ft)
d.toml:39: wound.winding.axis: "w" is not known
  hint: it is one of: x, y, z
d.toml:68: joint[1].between.2: there is no part "nothing"
  hint: parts: lower, post, top back, trim, upper, winding`},
	{"coil corners too round", []string{`inner_radius = "25 mm"`, `inner_radius = "80 mm"`}, `d.toml:56: coil.trim.inner_radius: 80 mm is over half of the shorter side
  hint: write a smaller radius`},
	{"unknown layout", []string{"[[coil]]\n", "[layout]\nkind = \"framed-pear\"\n\n[[coil]]\n"}, `d.toml:47: layout.kind: "framed-pear" is not known
  hint: did you mean "framed-pair"? it is one of: ` + strings.Join(Layouts(), ", ")},
	{"text for a number", []string{"recoil = 1.05", "recoil = \"1.05\""}, `d.toml:27: magnet.lower.recoil: "1.05": no number
  hint: write a plain number without quotes, such as 1.05`},
	{"number for a text", []string{`grade = "N42"`, `grade = 42`}, `d.toml:17: magnet.upper.grade: 42: no text
  hint: write it in quotes: grade = "N42"`},
	{"text for a table", []string{`wire = { gauge = "16 SWG" }`, `wire = "16 SWG"`}, `d.toml:42: wound.winding.wire: "16 SWG": no table
  hint: write wire = { gauge = "16 SWG" }`},
	{"joint of a coil", []string{`["upper", "top back"]`, `["upper", "trim"]`}, `d.toml:68: joint[1].between: a coil has no joint
  hint: name two parts whose faces touch`},
	{"section of a coil", []string{`part = "top back"`, `part = "trim"`}, `d.toml:77: section.back.part: "trim" is a coil
  hint: name a part of steel, wire or magnet`},
	{"wide joint", []string{`thickness = "0.05 mm"`, `thickness = "50 mm"`}, `d.toml:69: joint[1].thickness: "50 mm": over 10 mm
  hint: a joint is a film between faces that touch; move the parts apart for a wide gap`},
	{"name of blanks", []string{`name = "lower"`, `name = "  "`}, `d.toml:20: magnet[2].name: is empty
  hint: give it a name, e.g. "upper"`},
	{"packing and lay", []string{"packing = 0.72\n", "packing = 0.72\nlay = \"square\"\n"}, `d.toml:43: wound.winding.packing: is given, and lay on line 44 too
  hint: keep one of the two`},
	{"material and curve", []string{`material = "steel-1018"`, "material = \"steel-1018\"\ncurve_file = \"my.csv\""}, `d.toml:35: steel.top back.curve_file: is given, and material on line 34 too
  hint: keep one of the two`},
	{"core radius too large", []string{`"90 mm", "110 mm"] }`, `"90 mm", "110 mm"], corner_radius = "46 mm" }`}, `d.toml:38: wound.winding.core.corner_radius: 46 mm is over half of the core's shorter side, 90 mm
  hint: write a smaller radius`},
	{"spread as a limit", []string{"[[coil]]\n", "[tolerance]\nremanence_batch = \"30 %\"\n\n[[coil]]\n"}, `d.toml:47: tolerance.remanence_batch: "30 %": too wide
  hint: write one standard deviation, up to 10 %; a limit of "plus or minus" is about two of them`},
	{"spread below zero", []string{"[[coil]]\n", "[tolerance]\ngap = \"-0.1 mm\"\n\n[[coil]]\n"}, `d.toml:47: tolerance.gap: "-0.1 mm": below zero
  hint: write zero or more`},
	{"spread of a temperature in degrees", []string{"[[coil]]\n", "[tolerance]\ntemperature = \"3 degC\"\n\n[[coil]]\n"}, `d.toml:47: tolerance.temperature: "3 degC": "degC" is a unit of temperature
  hint: temperature difference is due here, e.g. "1.5 K" (K)`},
	{"accepted field", []string{"[[coil]]\n", "[tolerance]\naccept_field = \"100 %\"\n\n[[coil]]\n"}, `d.toml:47: tolerance.accept_field: "100 %": 100 % or more
  hint: write by how much a build's field may differ from the target's, e.g. "1 %"`},
}
