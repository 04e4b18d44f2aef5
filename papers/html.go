package papers

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"strings"

	"polewright/draw"
	"polewright/report"
)

// HTML writes the document as one page, well-formed as XML too, that needs no other file and no network. Its colours follow the reader's
// choice of light or dark; printed, it is light. Errors are those of its pictures and of w.
func (d *Document) HTML(w io.Writer) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<!DOCTYPE html>
<html xmlns="http://www.w3.org/1999/xhtml" lang="en" xml:lang="en">
<head>
<meta charset="utf-8"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
<meta name="generator" content="polewright %[2]s"/>
<title>%[1]s</title>
<style>%[3]s</style>
</head>
<body>
<header>
<h1>%[1]s</h1>
<p>%[4]s, made by polewright %[2]s`, escaped(d.Title), escaped(d.Version), style, escaped(d.Kind))
	if d.Date != "" {
		fmt.Fprintf(&b, " on %s", escaped(d.Date))
	}
	b.WriteString("</p>\n")
	d.Facts.html(&b)
	b.WriteString("</header>\n<nav><ol>\n")
	for i, s := range d.Sections {
		fmt.Fprintf(&b, "<li><a href=\"#s%d\">%s</a></li>\n", i+1, escaped(s.Title))
	}
	b.WriteString("</ol></nav>\n<main>\n")
	for i, s := range d.Sections {
		fmt.Fprintf(&b, "<section id=\"s%d\">\n<h2>%s</h2>\n", i+1, escaped(s.Title))
		for _, k := range s.Blocks {
			if err := writeHTML(&b, k); err != nil {
				return fmt.Errorf("section %q: %w", s.Title, err)
			}
		}
		b.WriteString("</section>\n")
	}
	b.WriteString("</main>\n</body>\n</html>\n")
	_, err := w.Write(b.Bytes())
	return err
}

const style = `
:root { color-scheme: light dark; --paper: #fff; --ink: #1b1f24; --muted: #59616d; --rule: #c9ced6; --alarm: #b3261e }
@media (prefers-color-scheme: dark) { :root { --paper: #15181d; --ink: #e9ebee; --muted: #a9b1bd; --rule: #373d47; --alarm: #ff8a80 } }
@media print { :root { color-scheme: light; --paper: #fff; --ink: #000; --muted: #444; --rule: #999; --alarm: #000 } nav { display: none } }
body { background: var(--paper); color: var(--ink); font: 16px/1.5 "Liberation Sans", Arial, Helvetica, sans-serif; max-width: 62rem; margin: 0 auto; padding: 1rem }
h1 { line-height: 1.2 } h2 { border-bottom: 2px solid var(--ink); margin-top: 2.5rem }
nav ol { columns: 20rem; padding-left: 1.5rem } a { color: inherit }
.wide { overflow-x: auto; margin: 1rem 0 }
table { border-collapse: collapse; font-size: .9rem } caption { text-align: left; font-weight: bold; padding: .3rem 0 }
th, td { text-align: left; vertical-align: top; padding: .25rem .6rem; border-bottom: 1px solid var(--rule) } th { border-bottom: 2px solid var(--ink) }
.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap }
.box { border: 3px solid var(--alarm); padding: .3rem 1rem; margin: 1rem 0 } .box h3 { margin: .4rem 0; color: var(--alarm) }
figure { margin: 1rem 0 } figcaption { color: var(--muted); font-size: .9rem } svg { max-width: 100%; height: auto }
.dark { display: none }
@media screen and (prefers-color-scheme: dark) { .light { display: none } .dark { display: block } .drawing svg { filter: invert(.92) } }
pre { overflow-x: auto; border: 1px solid var(--rule); padding: .7rem; font: .85rem/1.4 "Liberation Mono", monospace }
`

func writeHTML(b *bytes.Buffer, k Block) error {
	switch k := k.(type) {
	case Text:
		fmt.Fprintf(b, "<p>%s</p>\n", escaped(string(k)))
	case Box:
		fmt.Fprintf(b, "<div class=\"box\"><h3>%s</h3>\n<ul>\n", escaped(k.Title))
		for _, s := range k.Texts {
			fmt.Fprintf(b, "<li>%s</li>\n", escaped(s))
		}
		b.WriteString("</ul></div>\n")
	case Table:
		k.html(b)
	case Listing:
		fmt.Fprintf(b, "<pre>%s</pre>\n", escaped(string(k)))
	case Figure:
		return k.html(b)
	case Drawing:
		return sheetHTML(b, k.Sheet)
	}
	return nil
}

func (t Table) html(b *bytes.Buffer) {
	if len(t.Rows) == 0 {
		return
	}
	b.WriteString("<div class=\"wide\"><table>\n")
	if t.Caption != "" {
		fmt.Fprintf(b, "<caption>%s</caption>\n", escaped(t.Caption))
	}
	n := t.columns()
	row := func(tag string, text func(i int) string) {
		b.WriteString("<tr>")
		for i := range n {
			class := ""
			if _, toRight := t.heading(i); toRight {
				class = ` class="n"`
			}
			fmt.Fprintf(b, "<%s%s>%s</%s>", tag, class, escaped(text(i)), tag)
		}
		b.WriteString("</tr>\n")
	}
	if t.Head != nil {
		b.WriteString("<thead>")
		row("th", func(i int) string { h, _ := t.heading(i); return h })
		b.WriteString("</thead>\n")
	}
	b.WriteString("<tbody>\n")
	for _, r := range t.Rows {
		row("td", func(i int) string { return cell(r, i) })
	}
	b.WriteString("</tbody>\n</table></div>\n")
}

func (f Figure) html(b *bytes.Buffer) error {
	b.WriteString("<figure>\n")
	for _, theme := range []struct {
		class   string
		picture report.Picture
	}{{"light", f.Picture}, {"dark", report.InDark(f.Picture)}} {
		fmt.Fprintf(b, "<div class=\"%s\">", theme.class)
		if err := report.WriteSVG(b, theme.picture, f.WidthMM); err != nil {
			return err
		}
		b.WriteString("</div>\n")
	}
	fmt.Fprintf(b, "<figcaption>%s</figcaption>\n</figure>\n", escaped(f.Caption))
	return nil
}

// identifier is the name of a layer in a sheet's SVG, of which a page with many sheets would have many.
var identifier = regexp.MustCompile(` id="[a-z]+"`)

func sheetHTML(b *bytes.Buffer, s *draw.Sheet) error {
	var svg bytes.Buffer
	if err := s.WriteSVG(&svg); err != nil {
		return err
	}
	text := svg.Bytes()
	if i := bytes.Index(text, []byte("<svg")); i > 0 { // without the XML declaration
		text = text[i:]
	}
	b.WriteString("<figure class=\"drawing\">\n")
	b.Write(identifier.ReplaceAll(text, nil))
	b.WriteString("</figure>\n")
	return nil
}

// escaped makes a text fit for HTML. What XML cannot hold becomes U+FFFD.
func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes all
	return strings.ReplaceAll(b.String(), "&#xA;", "\n")
}
