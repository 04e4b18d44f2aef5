package report

import (
	"io"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Picture is a [Map], [Lines], [Bars] or [ResidualMap].
type Picture interface{ picture }

// Paint draws a picture, widthMM wide, on the canvas that is made for its size. Errors say which of the numbers cannot be drawn.
func Paint(p Picture, widthMM float64, canvas func(width, height vg.Length) vg.Canvas) error {
	width, height, err := pageSize(p, widthMM)
	if err != nil {
		return err
	}
	p.draw(draw.NewCanvas(canvas(width, height), width, height))
	return nil
}

// InDark is the same picture for a dark page.
func InDark(p Picture) Picture {
	switch p := p.(type) {
	case Map:
		p.Dark = true
		return p
	case Lines:
		p.Dark = true
		return p
	case Bars:
		p.Dark = true
		return p
	case ResidualMap:
		p.Dark = true
		return p
	}
	return p
}

// WriteSVG writes a picture, widthMM wide, as one element that can stand alone or in a page.
func WriteSVG(w io.Writer, p Picture, widthMM float64) error { return writeSVG(w, p, widthMM) }

// WritePNG writes a picture, widthMM wide, at 150 dots per inch.
func WritePNG(w io.Writer, p Picture, widthMM float64) error { return writePNG(w, p, widthMM) }
