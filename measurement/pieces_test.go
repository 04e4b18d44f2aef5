package measurement

import (
	"errors"
	"math"
	"strings"
	"testing"

	"polewright/mistake"
)

func TestReadPieces(t *testing.T) {
	l, err := ReadPieces(strings.NewReader("# coil: 300 mm\npiece,magnet,mx_mAm2,my_mAm2,mz_mAm2,T_degC,u_mAm2\nA1,upper,12,-3,62400,21,50\nA2,,0,0,-61000,,\n"), "p.csv")
	if err != nil {
		t.Fatal(err)
	}
	a, b := l.List[0], l.List[1]
	if a.Name != "A1" || a.Magnet != "upper" || math.Abs(a.Moment.X-0.012) > 1e-15 || math.Abs(a.Moment.Z-62.4) > 1e-12 || !a.HasSides || a.TemperatureC != 21 || math.Abs(a.Uncertainty-0.05) > 1e-15 {
		t.Errorf("%+v", a)
	}
	if b.Moment.Z != -61 || !math.IsNaN(b.TemperatureC) || b.Uncertainty != 0 || l.Notes[0].Key != "coil" {
		t.Errorf("%+v %+v", b, l.Notes)
	}
	l, err = ReadPieces(strings.NewReader("piece,B_mT,at_mm\n1,254.3,12.5\n"), "p.csv")
	if err != nil || math.Abs(l.List[0].FieldT-0.2543) > 1e-12 || math.Abs(l.List[0].AtM-0.0125) > 1e-12 {
		t.Errorf("%+v, %v", l, err)
	}
	// A magnetic dipole moment of 1e-6 Wb m is 0.7958 A m2.
	l, err = ReadPieces(strings.NewReader("piece,m_uWbm\n1,1\n"), "p.csv")
	if err != nil || math.Abs(l.List[0].Moment.Z-0.795775) > 1e-6 {
		t.Errorf("%+v, %v", l, err)
	}
}

func TestPiecesMistakes(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   "there is no header",
		"piece,m_Am2\n":                      "no pieces below",
		"m_Am2\n1\n":                         "no column piece",
		"piece,m\n":                          "has no unit of magnetic moment",
		"piece,m_kg\n":                       "has no unit of magnetic moment",
		"piece,B_mT\n":                       "needs its distance",
		"piece,m_Am2,B_mT,at_mm\n":           "not one kind of reading",
		"piece,mx_Am2,mz_Am2\n":              "neither one column nor three",
		"piece,m_Am2,mx_Am2,my_Am2,mz_Am2\n": "neither one column nor three",
		"piece,mx_Am2,my_Am2,mz_mAm2\n":      "different units",
		"piece,m_Am2,u_kg\n":                 "has no unit of magnetic moment or flux density",
		"piece,m_Am2,u_mT\n":                 "not in a unit of the reading",
		"piece,m_Am2\nA,1\nA,2\n":            `p.csv:3: piece: "A" is on line 2 already`,
		"piece,m_Am2\nA,one\n":               `p.csv:2: m_Am2: "one" is no value of the moment`,
		"piece,m_Am2\nA,\n":                  "is missing",
		"piece,m_Am2\nA,1,2\n":               "3 values for 2 columns",
		"piece,m_Am2\nA,NaN\n":               "no value of the moment",
		"piece,B_mT,at_mm\nA,1,-1\n":         "no value of the distance",
		"piece;m_Am2\n":                      "not parted by commas",
		"piece,weight\n":                     "no column of a list of pieces",
		"piece,m_Am2,m_Am2\n":                "gives the moment again",
		"piece,m_Am2\n" + "\xff" + "A,1,1\n": "not text in UTF-8",
	} {
		_, err := ReadPieces(strings.NewReader(text), "p.csv")
		var list mistake.Errors
		if !errors.As(err, &list) || !strings.Contains(err.Error(), want) || list[0].Hint == "" {
			t.Errorf("%q: %v, want %q with a hint", text, err, want)
		}
	}
}

// Whatever is read is within bounds; all else is mistake.Errors.
func FuzzReadPieces(f *testing.F) {
	f.Add("# coil: 300 mm\npiece,magnet,mx_mAm2,my_mAm2,mz_mAm2,T_degC,u_mAm2\nA1,upper,12,-3,62400,21,50\n")
	f.Add("piece,B_mT,at_mm\n1,254.3,12.5\n")
	f.Add("piece,m_Am2\nA,1e999\n")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ReadPieces(strings.NewReader(text), "p")
		if err != nil {
			var list mistake.Errors
			if !errors.As(err, &list) || len(list) == 0 {
				t.Fatalf("%v", err)
			}
			return
		}
		seen := map[string]bool{}
		for _, p := range l.List {
			if p.Name == "" || seen[p.Name] || p.HasMoment == p.HasField || p.AtM < 0 || p.AtM > 1 || math.Abs(p.FieldT) > maxFieldT ||
				math.IsNaN(p.Moment.Z) || math.IsInf(p.Moment.Z, 0) || math.IsInf(p.Uncertainty, 0) || p.Uncertainty < 0 {
				t.Fatalf("%+v", p)
			}
			seen[p.Name] = true
		}
	})
}
