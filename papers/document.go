// Package papers writes the build papers of a magnet: one document of text, tables, pictures and drawings, as a PDF or as a page of HTML that
// needs nothing beside it. [Compose] makes the document from a solved design.
package papers

import (
	"fmt"
	"io"
	"strings"

	"polewright/draw"
	"polewright/report"
)

// Document is the papers before they have pages.
type Document struct {
	Title, Version string
	Kind           string // what it is: "Build papers"
	Date           string // 2006-01-02, or "" for none
	Facts          Table  // under the title
	Sections       []Section
}

// Section is a part of the document with a heading.
type Section struct {
	Title   string
	NewPage bool
	Blocks  []Block
}

// Block is a [Text], [Box], [Table], [Figure], [Drawing] or [Listing].
type Block interface {
	// text writes the block as plain words.
	text(b *strings.Builder)
}

// Text is a paragraph.
type Text string

// Box is a list that nobody must miss.
type Box struct {
	Title string
	Texts []string
}

// Table has a heading for each column; one that begins with ">" sets its column to the right, as numbers stand.
type Table struct {
	Caption string
	Head    []string // nil: none
	Rows    [][]string
}

// Figure is a picture, WidthMM wide where the page allows.
type Figure struct {
	Picture report.Picture
	WidthMM float64
	Caption string
}

// Drawing is a sheet of its own.
type Drawing struct{ Sheet *draw.Sheet }

// Listing is text set line for line, in letters of one width.
type Listing string

// columns is how many columns a table has.
func (t Table) columns() int {
	n := len(t.Head)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	return n
}

// cell is a text of a row, "" beyond its end.
func cell(row []string, i int) string {
	if i >= len(row) {
		return ""
	}
	return row[i]
}

// heading is the text over a column, and whether the column stands to the right.
func (t Table) heading(i int) (text string, right bool) {
	return strings.CutPrefix(cell(t.Head, i), ">")
}

// WriteText writes the words and numbers of the document, one cell or paragraph after the other: what both other forms say.
func (d *Document) WriteText(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\npolewright %s\n%s\n", d.Title, d.Kind, d.Version, d.Date)
	d.Facts.text(&b)
	for _, s := range d.Sections {
		fmt.Fprintf(&b, "\n# %s\n", s.Title)
		for _, k := range s.Blocks {
			k.text(&b)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (t Text) text(b *strings.Builder) { fmt.Fprintln(b, string(t)) }

func (x Box) text(b *strings.Builder) {
	fmt.Fprintf(b, "! %s\n", x.Title)
	for _, s := range x.Texts {
		fmt.Fprintf(b, "! - %s\n", s)
	}
}

func (t Table) text(b *strings.Builder) {
	if t.Caption != "" {
		fmt.Fprintln(b, t.Caption)
	}
	var head []string
	for i := range t.Head {
		h, _ := t.heading(i)
		head = append(head, h)
	}
	for _, row := range append([][]string{head}, t.Rows...) {
		if len(row) > 0 {
			fmt.Fprintln(b, strings.Join(row, " | "))
		}
	}
}

func (f Figure) text(b *strings.Builder) { fmt.Fprintf(b, "[picture] %s\n", f.Caption) }

func (d Drawing) text(b *strings.Builder) {
	fmt.Fprintf(b, "[drawing] %s\n", d.Sheet.Title)
	for _, l := range d.Sheet.Labels {
		fmt.Fprintln(b, l.Text)
	}
}

func (l Listing) text(b *strings.Builder) { fmt.Fprintln(b, string(l)) }
