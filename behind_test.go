package polewright

import (
	"context"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
)

// Outside the parts, out to where the multipoles serve, a draft's field is that of a standard solve up to 15 % and 7e-4 of the field in the gap: cells are
// wide there. Behind the plates, where a magnet that lies on steel is nowhere to be seen, it was seen to be off by half a tesla.
func TestFieldBehindSteel(t *testing.T) {
	thin := read(t, "format = 1\ntitle = \"thin magnets\"\n[layout]\nkind = \"framed-pair\"\ngap = \"20 mm\"\nmagnet_z = \"5 mm\"\n")
	for _, d := range []*design.Design{template(t, "single-block"), template(t, "framed-pair"), template(t, "c-frame"), template(t, "pole-tips"), thin} {
		draft, err := Run(context.Background(), d, Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true})
		if err != nil {
			t.Fatal(err)
		}
		standard, err := Run(context.Background(), d, Options{FieldOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		gap, _ := standard.Field(standard.a.center)
		box := draft.a.outer()
		center, half := box.Center(), r3.Scale(0.5, box.Size())
		for k := range 3 {
			for _, way := range []float64{-1, 1} {
				for beyond := 0.02; beyond < 0.3; beyond *= 1.15 {
					p := center
					*component(&p, k) += way * (*component(&half, k) + beyond)
					got, _ := draft.Field(p)
					want, _ := standard.Field(p)
					if off := r3.Norm(r3.Sub(got, want)); off > 0.15*r3.Norm(want)+7e-4*r3.Norm(gap) {
						t.Errorf("%s: at %v m %v T, a standard solve has %v T", d.Title, p, got, want)
					}
				}
			}
		}
	}
}
