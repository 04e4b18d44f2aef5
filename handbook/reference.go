package handbook

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"reflect"
	"strconv"
	"strings"

	"polewright/design"
	"polewright/glossary"
)

// DesignFile is the chapter on the design file, from the keys that its reader takes.
func DesignFile(name string) Page {
	var b strings.Builder
	b.WriteString(`# Reference: the design file

Made from the program's own reader, so it cannot differ from what the program takes. A design file is TOML, text that any editor writes. Quantities
stand in quotes with their units; a bare number where a quantity is due is refused, with the units that would do. Axes are right-handed x, y, z, and
the field in the gap points along +z unless the file says else. ` + "`polewright schema`" + ` writes the same as a JSON Schema, by which an editor
completes and checks while you write.

A key marked **must** has to be there. Where one of two keys will do, the table says so below.
`)
	var table func(t *design.Table)
	table = func(t *design.Table) {
		head := "The file itself"
		switch {
		case t.Many:
			head = "`[[" + t.Path + "]]`"
		case t.Path != "":
			head = "`[" + t.Path + "]`"
		}
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n", head, sentence(t.Meaning))
		if t.By == "" {
			keys(&b, t.Variants[0], nil)
		} else {
			common := map[string]bool{t.By: true}
			for _, k := range t.Variants[0].Keys {
				common[k.Name] = true
				for _, v := range t.Variants[1:] {
					same := false
					for _, other := range v.Keys {
						same = same || reflect.DeepEqual(other, k)
					}
					common[k.Name] = common[k.Name] && same
				}
			}
			first := t.Variants[0]
			first.OneOf, first.Apart = nil, nil
			for i, v := range t.Variants {
				if i == 0 {
					kept := first
					kept.Keys = nil
					for _, k := range first.Keys {
						if common[k.Name] {
							kept.Keys = append(kept.Keys, k)
						}
					}
					kept.OneOf, kept.Apart = v.OneOf, nil
					if v.OneOf != nil {
						kept.Apart = v.Apart
					}
					keys(&b, kept, nil)
				}
				fmt.Fprintf(&b, "\n### %s = \"%s\"\n", t.By, v.Word)
				own := v
				own.OneOf, own.Apart = nil, nil
				keys(&b, own, common)
			}
		}
		seen := map[string]bool{}
		for _, v := range t.Variants {
			for _, k := range v.Keys {
				if k.Table != nil && !seen[k.Name] {
					seen[k.Name] = true
					table(k.Table)
				}
			}
		}
	}
	table(design.Keys())
	return Page{Name: name, Text: b.String()}
}

func sentence(s string) string {
	s = strings.TrimSuffix(s, ".")
	return strings.ToUpper(s[:1]) + s[1:]
}

// keys writes the keys of a variant as a table, those apart that are told already.
func keys(b *strings.Builder, v design.Variant, told map[string]bool) {
	rows := 0
	for _, k := range v.Keys {
		if told[k.Name] {
			continue
		}
		if rows++; rows == 1 {
			b.WriteString("\n| key | | takes | is |\n|---|---|---|---|\n")
		}
		must := ""
		if k.Must {
			must = "**must**"
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", k.Name, must, takes(k), strings.ReplaceAll(k.Meaning, "|", "\\|"))
	}
	if rows == 0 {
		b.WriteString("\nNo further keys.\n")
	}
	for _, list := range v.OneOf {
		fmt.Fprintf(b, "\nOne of `%s` has to be there.", strings.Join(list, "`, `"))
	}
	if len(v.Apart) > 0 {
		var pairs []string
		for _, p := range v.Apart {
			pairs = append(pairs, fmt.Sprintf("`%s` and `%s`", p[0], p[1]))
		}
		fmt.Fprintf(b, "\nNot both: %s.", strings.Join(pairs, "; "))
	}
	b.WriteString("\n")
}

// takes says what may stand at a key.
func takes(k design.Key) string {
	var s string
	switch {
	case k.Kind == design.Group:
		s = "a table"
	case k.Kind == design.Groups:
		s = "any number of tables"
	case k.Kind == design.Amount:
		s = "an amount with the code of its currency"
	case k.Kind == design.Number && k.Most > k.Least:
		s = fmt.Sprintf("a number, %.4g to %.4g", k.Least, k.Most)
		if k.Whole {
			s = fmt.Sprintf("a whole number, %.4g to %.10g", k.Least, k.Most)
		}
	case k.Kind == design.Number:
		s = "a number"
	case len(k.Words) > 0:
		s = "`\"" + strings.Join(k.Words, "\"`, `\"") + "\"`"
	case k.Kind == design.Quantity:
		s = k.Dimension.String() + " in " + strings.Join(k.Units(), ", ")
		if k.Positive {
			s += "; above zero"
		} else if k.NotBelow0 {
			s += "; zero or more"
		}
	default:
		s = "text"
	}
	if len(k.Known) > 0 {
		s += ", such as " + strings.Join(k.Known[:min(len(k.Known), 8)], ", ")
	}
	if k.List > 0 {
		s = fmt.Sprintf("a list of %d: %s", k.List, s)
	}
	if k.Default != "" {
		s += "; " + k.Default + " if left out"
	} else if k.Kind != design.Group && k.Kind != design.Groups && len(k.Words) == 0 && k.Kind != design.Quantity || k.List > 0 {
		s += ", e.g. `" + k.Example + "`"
	}
	return s
}

// Commands is the chapter on the commands, from what each says of itself.
func Commands(name string, run Runner) (Page, error) {
	help := func(args ...string) (string, error) {
		text, status, err := run("", append([]string{"polewright"}, args...))
		if err == nil && status != 0 {
			err = fmt.Errorf("polewright %s: exit status %d", strings.Join(args, " "), status)
		}
		return text, err
	}
	whole, err := help("--help")
	if err != nil {
		return Page{}, err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# Reference: the commands\n\nWhat each command says of itself with `--help`.\n\n```text\n%s```\n", whole)
	_, list, _ := strings.Cut(whole, "Available Commands:\n")
	list, _, _ = strings.Cut(list, "\n\n")
	count := 0
	for line := range strings.Lines(list) {
		words := strings.Fields(line)
		if len(words) < 2 {
			continue
		}
		text, err := help(words[0], "--help")
		if err != nil {
			return Page{}, err
		}
		count++
		fmt.Fprintf(&b, "\n## %s\n\n```text\n%s```\n", words[0], text)
	}
	if count < 10 {
		return Page{}, fmt.Errorf("only %d commands are in the help of polewright", count)
	}
	return Page{Name: name, Text: b.String()}, nil
}

// JSON is the chapter on the result that predict prints with --json, from the Go source of package result: every key with its type and its comment,
// or without one that of its type.
func JSON(name string, source fs.FS) (Page, error) {
	structs, docs, err := structsOf(source)
	if err != nil {
		return Page{}, err
	}
	if structs["Result"] == nil {
		return Page{}, fmt.Errorf("the source declares no Result")
	}
	var b strings.Builder
	b.WriteString("# Reference: the result as JSON\n\nWhat `polewright predict FILE --json` prints: one object, in SI units, which the ends of the keys name (`_T`, `_N`, `_m`, `_A_per_m`, `_degC`,\n" +
		"`_ppm`). A key marked *may lack* is left out where it says nothing. Commands with a `--json` of their own have keys in the same manner.\n")
	told := map[string]bool{}
	queue := []string{"Result"}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		if told[at] || structs[at] == nil {
			continue
		}
		told[at] = true
		fmt.Fprintf(&b, "\n## %s\n\n%s\n\n| key | type | | is |\n|---|---|---|---|\n", at, docs[at])
		for _, f := range structs[at].Fields.List {
			kind, inner := typeOf(f.Type)
			if inner != "" {
				queue = append(queue, inner)
			}
			if f.Tag == nil {
				fmt.Fprintf(&b, "| | | *may lack* | and the keys of %s |\n", inner)
				continue
			}
			tag, err := strconv.Unquote(f.Tag.Value)
			if err != nil {
				return Page{}, err
			}
			key, options, _ := strings.Cut(reflect.StructTag(tag).Get("json"), ",")
			if key == "-" {
				continue
			}
			lack := ""
			if strings.Contains(options, "omit") {
				lack = "*may lack*"
			}
			comment := strings.Join(strings.Fields(f.Doc.Text()+" "+f.Comment.Text()), " ")
			if comment == "" && inner != "" {
				comment, _, _ = strings.Cut(docs[inner], ". ")
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", key, kind, lack, strings.ReplaceAll(comment, "|", "\\|"))
		}
	}
	return Page{Name: name, Text: b.String()}, nil
}

// structsOf are the structs that a package declares, and their comments, by name.
func structsOf(source fs.FS) (structs map[string]*ast.StructType, docs map[string]string, err error) {
	names, err := fs.Glob(source, "*.go")
	if err != nil {
		return nil, nil, err
	}
	structs, docs = map[string]*ast.StructType{}, map[string]string{}
	for _, name := range names {
		text, err := fs.ReadFile(source, name)
		if err != nil {
			return nil, nil, err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, nil, err
		}
		for _, d := range file.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.TYPE {
				continue
			}
			for _, s := range g.Specs {
				t := s.(*ast.TypeSpec)
				if o, ok := t.Type.(*ast.StructType); ok {
					structs[t.Name.Name], docs[t.Name.Name] = o, strings.Join(strings.Fields(g.Doc.Text()), " ")
				}
			}
		}
	}
	return structs, docs, nil
}

// typeOf says a Go type in the words of JSON, and names the object within it.
func typeOf(e ast.Expr) (kind, inner string) {
	switch e := e.(type) {
	case *ast.Ident:
		switch e.Name {
		case "string":
			return "text", ""
		case "bool":
			return "true or false", ""
		case "int", "float64":
			return "number", ""
		}
		return e.Name, e.Name
	case *ast.StarExpr:
		return typeOf(e.X)
	case *ast.ArrayType:
		kind, inner = typeOf(e.Elt)
		if e.Len == nil {
			return "list of " + kind, inner
		}
		if n, ok := e.Len.(*ast.BasicLit); ok {
			return n.Value + " × " + kind, inner
		}
		return "list of " + kind, inner
	case *ast.MapType:
		kind, inner = typeOf(e.Value)
		return "object of " + kind, inner
	}
	return "object", ""
}

// Glossary is the chapter of terms, warnings and cautions.
func Glossary(name string) Page {
	var b strings.Builder
	b.WriteString("# Terms, warnings and cautions\n\nWhat `polewright explain` says.\n")
	part := ""
	for _, e := range glossary.Entries() {
		now := "Terms"
		switch {
		case e.Caution != "":
			now = "Cautions"
		case len(e.Says) > 0:
			now = "Warnings"
		}
		if now != part {
			part = now
			fmt.Fprintf(&b, "\n## %s\n", part)
		}
		fmt.Fprintf(&b, "\n**%s**", e.Term)
		if len(e.Also) > 0 {
			fmt.Fprintf(&b, " (also %s)", strings.Join(e.Also, ", "))
		}
		if e.Unit != "" {
			fmt.Fprintf(&b, ", in %s", e.Unit)
		}
		fmt.Fprintf(&b, ". %s", e.Text)
		if e.Matters != "" {
			fmt.Fprintf(&b, " *Matters:* %s", e.Matters)
		}
		if e.Do != "" {
			fmt.Fprintf(&b, " *Do:* %s", e.Do)
		}
		b.WriteString("\n")
	}
	return Page{Name: name, Text: b.String()}
}
