package handbook

import (
	"bytes"
	"fmt"
	"html/template"
	"os"
	"path/filepath"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Site writes pages as HTML into a folder that exists, with the pictures of those that ran; each page leads to all others. The first page is
// index.html too.
func Site(folder string, pages []Page, ran map[string]Ran) error {
	type entry struct{ File, Title string }
	var list []entry
	for i, p := range pages {
		file := p.Name + ".html"
		if i == 0 {
			file = "index.html"
		}
		list = append(list, entry{file, p.Title()})
	}
	for i, p := range pages {
		body, err := html(p, pages[0].Name)
		if err != nil {
			return err
		}
		for _, name := range p.Pictures() {
			data, err := os.ReadFile(filepath.Join(ran[p.Name].Folder, name))
			if err != nil {
				return fmt.Errorf("%s: the picture %s was not made: %w", p.Name, name, err)
			}
			to := filepath.Join(folder, p.Name, name)
			if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
				return err
			}
			if err := os.WriteFile(to, data, 0o666); err != nil {
				return err
			}
		}
		var out bytes.Buffer
		view := struct {
			Title          string
			List           []entry
			Here           string
			Body           template.HTML
			Before, Behind *entry
		}{Title: p.Title(), List: list, Here: list[i].File, Body: template.HTML(body)}
		if i > 0 {
			view.Before = &list[i-1]
		}
		if i+1 < len(list) {
			view.Behind = &list[i+1]
		}
		if err := frame.Execute(&out, view); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, list[i].File), out.Bytes(), 0o666); err != nil {
			return err
		}
	}
	return nil
}

// html is the body of a page. Its links to other pages lead to their HTML, its pictures into a folder of its own name.
func html(p Page, first string) (string, error) {
	md := goldmark.New(goldmark.WithExtensions(extension.Table),
		goldmark.WithParserOptions(parser.WithAutoHeadingID(), parser.WithASTTransformers(util.Prioritized(relink{p.Name, first}, 100))))
	var b bytes.Buffer
	if err := md.Convert([]byte(p.Text), &b); err != nil {
		return "", fmt.Errorf("%s.md: %w", p.Name, err)
	}
	return strings.NewReplacer("<table>", `<div class="wide"><table>`, "</table>", "</table></div>").Replace(b.String()), nil
}

// relink turns links between pages.
type relink struct{ page, first string }

// Transform changes the destinations of links and pictures.
func (r relink) Transform(doc *ast.Document, _ text.Reader, _ parser.Context) {
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) { // the walker below returns no error
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Link:
			page, place, _ := strings.Cut(string(n.Destination), "#")
			if name, ok := strings.CutSuffix(page, ".md"); ok {
				if name == r.first {
					name = "index"
				}
				n.Destination = []byte(name + ".html")
				if place != "" {
					n.Destination = append(n.Destination, "#"+place...)
				}
			}
		case *ast.Image:
			n.Destination = []byte(r.page + "/" + string(n.Destination))
		}
		return ast.WalkContinue, nil
	})
}

var frame = template.Must(template.New("page").Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}} - polewright handbook</title>
<style>
:root { --ink: #1c2430; --soft: #5a6675; --paper: #fdfcf9; --shade: #f0ede5; --line: #d8d3c7; --lead: #8a3b12; }
@media (prefers-color-scheme: dark) { :root { --ink: #e6e2d8; --soft: #a39d90; --paper: #1b1d20; --shade: #26292e; --line: #3b3f46; --lead: #e79a64; } }
* { box-sizing: border-box; }
body { margin: 0; color: var(--ink); background: var(--paper); font: 17px/1.55 Georgia, "Liberation Serif", serif; display: flex; }
nav { flex: 0 0 16rem; padding: 1.5rem 1rem; border-right: 1px solid var(--line); font: 15px/1.4 "Liberation Sans", Arial, sans-serif; height: 100vh; position: sticky; top: 0; overflow-y: auto; }
nav strong { display: block; margin-bottom: .8rem; }
nav a { display: block; padding: .25rem .5rem; color: var(--ink); text-decoration: none; border-radius: 4px; }
nav a:hover, nav a:focus { background: var(--shade); }
nav a[aria-current] { background: var(--shade); color: var(--lead); }
main { flex: 1; min-width: 0; max-width: 54rem; padding: 1.5rem 2rem 4rem; }
h1, h2, h3 { font-family: "Liberation Sans", Arial, sans-serif; line-height: 1.25; }
h1 { font-size: 1.8rem; } h2 { font-size: 1.3rem; margin-top: 2.2rem; border-bottom: 1px solid var(--line); } h3 { font-size: 1.05rem; }
a { color: var(--lead); }
pre { background: var(--shade); padding: .8rem 1rem; overflow-x: auto; border-radius: 6px; font-size: .82rem; line-height: 1.4; }
code { font-family: "Liberation Mono", Menlo, Consolas, monospace; font-size: .86em; }
pre code { font-size: inherit; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; font-size: .88rem; }
th, td { border-bottom: 1px solid var(--line); padding: .3rem .7rem .3rem 0; text-align: left; vertical-align: top; }
td em, td strong { white-space: nowrap; }
blockquote { margin: 1rem 0; padding: .2rem 1rem; border-left: 4px solid var(--lead); background: var(--shade); }
img { max-width: 100%; background: #fff; border-radius: 6px; }
footer { display: flex; justify-content: space-between; margin-top: 3rem; border-top: 1px solid var(--line); padding-top: .8rem; }
@media (max-width: 60rem) { body { display: block; } nav { position: static; height: auto; border-right: 0; border-bottom: 1px solid var(--line); } main { padding: 1rem; } }
@media print { nav, footer { display: none; } body { font-size: 11pt; } }
</style>
</head>
<body>
<nav aria-label="Chapters"><strong>polewright handbook</strong>
{{range .List}}<a href="{{.File}}"{{if eq .File $.Here}} aria-current="page"{{end}}>{{.Title}}</a>
{{end}}</nav>
<main>
{{.Body}}
<footer><span>{{with .Before}}<a href="{{.File}}" rel="prev">&larr; {{.Title}}</a>{{end}}</span><span>{{with .Behind}}<a href="{{.File}}" rel="next">{{.Title}} &rarr;</a>{{end}}</span></footer>
</main>
</body>
</html>
`))
