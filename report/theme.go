package report

import (
	"image/color"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Sizes on paper. Body text is 9 pt, which is 19 pixels high at the 150 dots per inch of a PNG.
const (
	bodySize  = vg.Length(9)
	smallSize = vg.Length(8)
	titleSize = vg.Length(11)
	margin    = vg.Length(10)
	tickSize  = vg.Length(4)
	gap       = vg.Length(5)
)

// yMiddle sets text with the middle of its capitals, rather than of its line, at the point. Capitals of Liberation Sans are 0.71 of the
// size high and its line 1.117, of which 0.905 above the baseline.
const yMiddle = draw.YAlignment(-0.403)

// theme is the colours of everything that is not a scale of field.
type theme struct {
	paper, ink, muted, rule color.NRGBA
	curves                  []color.NRGBA
}

func themeOf(dark bool) theme {
	if dark {
		return theme{
			paper: rgb(0x15181d), ink: rgb(0xe9ebee), muted: rgb(0xa9b1bd), rule: rgb(0x373d47),
			curves: []color.NRGBA{rgb(0x56b4e9), rgb(0xe69f00), rgb(0x2bc79c), rgb(0xe98fc0), rgb(0xf0e442), rgb(0xe9ebee)},
		}
	}
	// Blue, vermilion, green, purple and orange of M. Okabe and K. Ito, Color Universal Design (2008), the dark theme's
	// likewise but lightened where they would sink; each curve has a dash of its own beside.
	return theme{
		paper: rgb(0xffffff), ink: rgb(0x1b1f24), muted: rgb(0x59616d), rule: rgb(0xdde1e6),
		curves: []color.NRGBA{rgb(0x0072b2), rgb(0xd55e00), rgb(0x00815f), rgb(0xb3578f), rgb(0xb87a00), rgb(0x1b1f24)},
	}
}

// dashes tell curves apart without colour.
var dashes = [][]vg.Length{nil, {6, 2.5}, {2, 2}, {8, 2, 2, 2}, {4, 2}, {10, 3}}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

func faded(c color.NRGBA, alpha uint8) color.NRGBA {
	c.A = alpha
	return c
}

// fonts are the two faces in use. gonum.org/v1/plot/font/liberation has all twelve, which would make the program 3 MB larger.
var fonts = sync.OnceValue(func() *plotfont.Cache {
	face := func(weight font.Weight, ttf []byte) plotfont.Face {
		parsed, err := opentype.Parse(ttf)
		if err != nil {
			panic("report: a font that cannot be read: " + err.Error())
		}
		return plotfont.Face{Font: plotfont.Font{Typeface: "Liberation", Variant: "Sans", Weight: weight}, Face: parsed}
	}
	return plotfont.NewCache(plotfont.Collection{face(font.WeightNormal, liberationsansregular.TTF), face(font.WeightBold, liberationsansbold.TTF)})
})

// lettering is a text style in the bundled sans serif.
func lettering(size vg.Length, c color.Color, x draw.XAlignment, y draw.YAlignment) text.Style {
	return text.Style{
		Color:   c,
		Font:    plotfont.Font{Typeface: "Liberation", Variant: "Sans", Size: size},
		XAlign:  x,
		YAlign:  y,
		Handler: text.Plain{Fonts: fonts()},
	}
}

func bold(s text.Style) text.Style {
	s.Font.Weight = font.WeightBold
	return s
}
