package papers

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"

	"polewright/design"
	"polewright/report"
	"polewright/result"
)

// This file makes the papers of a measurement: the sheet to fill in, and the certificate of what was measured.

const (
	blank     = "____________"
	shortLine = "_________"
)

// RecordedNotes are what goes into the head of a log of readings: the keys of its notes, and what to write there.
var RecordedNotes = [][2]string{
	{"serial number of the magnet", ""},
	{"operator", ""},
	{"date", ""},
	{"instrument", ""},
	{"probe serial", ""},
	{"calibration date", ""},
	{"calibration uncertainty", ""},
	{"active area from the tip", ""},
	{"zero before", ""},
	{"zero after", ""},
	{"reference face", ""},
	{"sign convention", "positive along the axes of the design: a field that runs towards +z reads positive Bz"},
	{"room temperature", ""},
	{"thermometer", ""},
}

// Hash is the SHA-256 of a file in hexadecimal (FIPS 180-4).
func Hash(file []byte) string {
	sum := sha256.Sum256(file)
	return hex.EncodeToString(sum[:])
}

// SheetTitles name the groups of a measurement sheet.
var SheetTitles = map[string]string{
	"centre":  "Centre of the gap",
	"axis":    "On the axis of the gap",
	"across":  "Across the gap",
	"cube":    "Lattice over the region",
	"outside": "Outside, from the box of the parts",
	"yoke":    "Hot spots on the outside of the yoke, 2 mm off the face",
}

// Milliteslas prints a flux density (T) in mT to two figures of its band, and the band.
func Milliteslas(b, band float64) (value, half string) {
	n := 3
	if band > 0 {
		n = min(max(1-int(math.Floor(math.Log10(1e3*band))), 0), 4)
	}
	return report.Decimals(1e3*b, n), report.Decimals(1e3*band, n)
}

// MeasurementSheet is the sheet to fill in at the bench. file is the text of the design.
func MeasurementSheet(s *result.Sheet, file []byte, version, date string) *Document {
	o := &Document{Title: title(s.Title), Kind: "Measurement sheet", Version: version, Date: date}
	o.Facts = Table{Rows: [][]string{
		{"Probe", s.Probe + ": predictions are averaged over this active area, across what is read"},
		{"Places", "from the origin of the design, to the middle of the active area"},
		{"Temperature", "predictions are for magnets at " + report.Celsius(s.ReferenceC) + "; correct a reading by mT/K times the difference, or let the program do it from the column of temperatures"},
		{"Band", "95 % (coverage factor 2): usual spreads of magnets, gap, tilt and packing; calibration 0.5 %, zero 0.1 mT, frame 0.3 mm and angle 1° of the probe; error of the solve " + report.Figures(s.Error, 2) + " %"},
		{"Design, SHA-256", Hash(file)},
	}}
	head := Section{Title: "Before you begin", Blocks: []Block{
		Box{Title: "Caution", Texts: []string{
			"Keep people with pacemakers and other implants away, and loose steel, tools and cards out of reach of the magnet. Local rules go before this sheet.",
			"Fix the probe in a fixture of brass, aluminium or plastic: a steel holder is pulled in and changes what is read.",
		}},
		Table{Head: []string{"record", "value"}, Rows: recorded()},
		Text("Let magnet, probe and room come to one temperature. Null the probe in a zero chamber, and check the zero by turning the probe by 180°: both readings of a weak field add up to twice the zero. Read the centre first and last: it shows the drift."),
	}}
	o.Sections = append(o.Sections, head)
	number := 0
	var names []string
	for _, e := range s.Readings {
		if !slices.Contains(names, e.Group) {
			names = append(names, e.Group)
		}
	}
	for _, name := range names {
		t := Table{Head: []string{">no.", ">x mm", ">y mm", ">z mm", "reads", ">predicted mT", ">± build", ">from mT", ">to mT", ">mT/K", ">mT/mm", "read mT", "magnets °C"}}
		for _, e := range s.Readings {
			if e.Group != name {
				continue
			}
			number++
			p, _ := Milliteslas(e.Predicted, e.Band/10)
			lo, _ := Milliteslas(e.Predicted-e.Band, e.Band)
			hi, _ := Milliteslas(e.Predicted+e.Band, e.Band)
			_, build := Milliteslas(e.Predicted, e.Build)
			if e.Hot {
				p += " !"
			}
			t.Rows = append(t.Rows, []string{fmt.Sprint(number), report.Millimetres(e.At[0]), report.Millimetres(e.At[1]), report.Millimetres(e.At[2]), e.Component,
				p, build, lo, hi, report.Figures(1e3*e.PerKelvin, 2), report.Figures(e.Gradient, 2), shortLine, shortLine})
		}
		k := Section{Title: SheetTitles[name], Blocks: []Block{t}}
		switch name {
		case "yoke":
			k.Blocks = append(k.Blocks, Text("More than 20 to 50 mT on the outside of a plate says that its steel is close to saturation; such places are marked ! (common practice, no source)."))
		case "outside":
			k.Blocks = append(k.Blocks, Text("The earth adds about 0.05 mT, and steel nearby its own share: read with the magnet away too, or turn the magnet round and take half the difference."))
		}
		o.Sections = append(o.Sections, k)
	}
	o.Sections = append(o.Sections, Section{Title: "After the last reading", Blocks: []Block{Table{Head: []string{"check", "value"}, Rows: [][]string{
		{"centre again, mT", blank}, {"zero after, mT", blank}, {"magnets, °C", blank}, {"measured by", blank}, {"checked by", blank}}}}})
	return o
}

func recorded() (rows [][]string) {
	for _, n := range RecordedNotes {
		value := cmp.Or(n[1], strings.Repeat(blank, 3))
		rows = append(rows, []string{n[0], value})
	}
	return rows
}

// CertificateSource is what a certificate is made from.
type CertificateSource struct {
	Design              *design.Design
	Verification        *result.Verification
	DesignFile, LogFile []byte // the texts that were read
	Version, Date       string
}

// coverage is the coverage factor of expanded uncertainties.
const coverage = 2

// Certificate states what was measured of a built magnet against prediction and target.
func Certificate(s CertificateSource) *Document {
	v := s.Verification
	o := &Document{Title: title(v.Title), Kind: "Certificate of measurement", Version: s.Version, Date: s.Date}
	sure := strings.TrimSuffix(report.Figures(100*v.Confidence, 3), ".0") + " %"
	o.Facts = Table{Rows: [][]string{
		{"Verdict", v.Verdict + ": " + v.Reason},
		{"Reference temperature", report.Celsius(v.ReferenceC) + " of the magnets; " + coefficients(s.Design, v.ReferenceC)},
		{"Uncertainty", "readings: expanded, coverage factor 2, about 95 % (JCGM 100:2008); target and deviations: " + sure + " intervals"},
		{"Noise of readings", v.Noise},
		{"Prediction", "field solved at accuracy " + v.Accuracy + ", own estimate of its error " + report.Figures(v.Error, 2) + " %; averaged over the probe: " + v.Probe},
		{"Design, SHA-256", Hash(s.DesignFile)},
		{"Log, SHA-256", Hash(s.LogFile)},
	}}
	sign := Section{Title: "Signed", Blocks: []Block{Table{Head: []string{"", "name", "date", "signature"}, Rows: [][]string{
		{"measured by", blank, blank, blank + blank}, {"checked by", blank, blank, blank + blank}}},
		Text("A comparison of readings with a computed prediction. It is no calibration certificate of an accredited laboratory.")}}
	o.Sections = []Section{certifiedTarget(v, sure), certifiedFit(v), certifiedInstrument(v), certifiedReadings(v), sign}
	return o
}

// certifiedTarget puts the target beside the design and the build; sure is the confidence in words.
func certifiedTarget(v *result.Verification, sure string) Section {
	target := Section{Title: "Target"}
	if len(v.Checks) == 0 {
		target.Blocks = append(target.Blocks, Text("The design names no target that the readings could be held against: the verdict is about readings and prediction."))
		return target
	}
	t := Table{Head: []string{"what", ">target", ">predicted", ">as built", ">± (" + sure + ")", ">probability", "verdict"}}
	for _, c := range v.Checks {
		bound := "≥ "
		if c.AtMost {
			bound = "≤ "
		}
		t.Rows = append(t.Rows, []string{c.What, bound + checked(c.Wanted, c.Unit), checked(c.Designed, c.Unit), checked(c.Got, c.Unit), checked(c.Uncertainty, c.Unit),
			report.Chance(c.Probability) + " %", c.Verdict})
	}
	target.Blocks = append(target.Blocks, t, Text("“As built” is the design with the fitted deviations below; its interval comes from the fit."))
	return target
}

// certifiedFit says what is off, and lists all deviations.
func certifiedFit(v *result.Verification) Section {
	fit := Section{Title: "Deviations of the build, as fitted"}
	for _, x := range v.Findings {
		fit.Blocks = append(fit.Blocks, Text("found: "+x.Text+", probability "+report.Chance(x.Confidence)+" %"))
	}
	for _, x := range v.Suspects {
		fit.Blocks = append(fit.Blocks, Text("suspect: "+x.Text+", probability "+report.Chance(x.Confidence)+" %"))
	}
	if len(fit.Blocks) == 0 {
		fit.Blocks = append(fit.Blocks, Text("Nothing in the readings speaks against the design: probability "+report.Chance(v.Sound)+" %."))
	}
	f := Table{Head: []string{"part", "what", ">fitted", ">± (k = 2)", ">usual spread (k = 1)"}}
	for _, x := range v.Fit {
		f.Rows = append(f.Rows, []string{cmp.Or(x.Part, "assembly"), x.What, report.DeviationSize(x.Value, x.Unit), report.DeviationSize(coverage*x.Sigma, x.Unit), report.DeviationSize(x.Usual, x.Unit)})
	}
	fit.Blocks = append(fit.Blocks, f)
	return fit
}

// certifiedInstrument lists what was recorded of the instrument, and what the fit says of it.
func certifiedInstrument(v *result.Verification) Section {
	instrument := Section{Title: "Instrument and place"}
	t := Table{Head: []string{"record", "value"}}
	keys := make([]string, 0, len(v.Notes))
	for _, n := range RecordedNotes {
		keys = append(keys, n[0])
	}
	var others []string
	for key := range v.Notes {
		if !slices.Contains(keys, key) {
			others = append(others, key)
		}
	}
	slices.Sort(others)
	for _, key := range append(keys, others...) {
		t.Rows = append(t.Rows, []string{key, cmp.Or(v.Notes[key], "not recorded")})
	}
	instrument.Blocks = append(instrument.Blocks, t)
	if len(v.Instrument) > 0 {
		fitted := Table{Caption: "The instrument's share, as fitted with its usual errors as prior", Head: []string{"what", ">fitted", ">usual (k = 1)"}}
		for _, x := range v.Instrument {
			fitted.Rows = append(fitted.Rows, []string{x.What, report.DeviationSize(x.Value, x.Unit), report.DeviationSize(x.Usual, x.Unit)})
		}
		instrument.Blocks = append(instrument.Blocks, fitted)
	}
	return instrument
}

// certifiedReadings are pictures and the table of all readings, and what to know of them.
func certifiedReadings(v *result.Verification) Section {
	readings := Section{Title: "Readings", NewPage: true}
	readings.Blocks = append(readings.Blocks, Figure{report.ResidualChart(v), chartMM, fmt.Sprintf("Readings less prediction, by the line of the log: %s mT rms from the design, %s mT rms from the fit.",
		report.Figures(1e3*v.DesignRMS, 3), report.Figures(1e3*v.ResidualRMS, 3))})
	if m, ok := report.ResidualPicture(v).(report.ResidualMap); ok {
		readings.Blocks = append(readings.Blocks, Figure{m, chartMM, "Where readings differ from the fit: full marks read above it, rings below, their area in proportion to the difference; " +
			"a cross is a reading that was left out. The numbers are in the last column of the table."})
	}
	r := Table{Head: []string{">line", "place", "reads", ">read mT", ">at reference mT", ">U (k = 2)", ">predicted mT", ">difference", ">fit mT", ">left"}}
	for _, x := range v.Readings {
		u := coverage * x.Uncertainty
		read, half := Milliteslas(x.Read, u)
		at, _ := Milliteslas(x.Corrected, u)
		p, _ := Milliteslas(x.Predicted, u)
		d, _ := Milliteslas(x.Corrected-x.Predicted, u)
		fitted, _ := Milliteslas(x.Fitted, u)
		left, _ := Milliteslas(x.Corrected-x.Fitted, u)
		if x.Wrong {
			left += ", left out"
		}
		r.Rows = append(r.Rows, []string{fmt.Sprint(x.Line), report.Point(x.At), x.Component, read, at, half, p, d, fitted, left})
	}
	readings.Blocks = append(readings.Blocks, r)
	for _, w := range v.Warnings {
		readings.Blocks = append(readings.Blocks, Text(w))
	}
	return readings
}

// checked is a number of a check with its unit.
func checked(x float64, unit string) string {
	if unit == "T" {
		return report.Decimals(x, 4) + " T"
	}
	return report.Figures(x, 3) + " " + unit
}

// coefficients lists the reversible temperature coefficients of the remanence of a design's grades.
func coefficients(d *design.Design, referenceC float64) string {
	var list []string
	for i := range d.Magnets {
		m := d.Magnets[i].Material
		s := fmt.Sprintf("%s %s %%/K", m.Name, report.Figures(100*m.At(referenceC).RemanencePerK, 2))
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	return "coefficient of remanence: " + strings.Join(list, ", ")
}
