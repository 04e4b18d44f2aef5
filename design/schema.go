package design

import (
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"polewright/quantity"
)

// Schema is the design file as a JSON Schema of draft 7 (H. Wright, H. Andrews, JSON Schema: A Vocabulary for Structural Annotation of JSON, 2018), by
// which editors of TOML complete, explain and check. It is made from Keys, and so from the reader. What takes more than one table to see, such as
// parts that overlap, it does not know; names of grades and steels it offers and does not hold anybody to, for the reader knows other spellings.
func Schema() []byte {
	s := Keys().schema()
	s["$schema"] = "http://json-schema.org/draft-07/schema#"
	s["title"] = "polewright design file, format 1"
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic("design: the schema is no JSON: " + err.Error()) // it is made of maps, lists and words
	}
	return append(text, '\n')
}

type schema map[string]any

// schema of a table. Keys that all variants have alike stand at its top; the others say in each variant what they are or that they are not there.
func (t *Table) schema() schema {
	properties := map[string]schema{}
	differ := map[string]bool{}
	for _, v := range t.Variants {
		for _, k := range v.Keys {
			s := k.schema()
			if before, known := properties[k.Name]; known && !reflect.DeepEqual(before, s) {
				differ[k.Name] = true
				s = schema{"description": k.Meaning}
			}
			properties[k.Name] = s
		}
	}
	out := schema{"type": "object", "description": t.Meaning, "properties": properties, "additionalProperties": false}
	if t.By == "" {
		t.Variants[0].rules(out)
		return out
	}
	out["required"] = []string{t.By}
	var cases []schema
	for _, v := range t.Variants {
		own := map[string]any{}
		for name := range properties {
			if !v.Allows[name] {
				own[name] = false
			}
		}
		for _, k := range v.Keys {
			if differ[k.Name] {
				own[k.Name] = k.schema()
			}
		}
		then := schema{"properties": own}
		v.rules(then)
		cases = append(cases, schema{"if": schema{"properties": schema{t.By: schema{"const": v.Word}}, "required": []string{t.By}}, "then": then})
	}
	out["allOf"] = cases
	return out
}

// rules adds which keys have to be there, and which go together.
func (v Variant) rules(s schema) {
	must := []string{}
	for _, k := range v.Keys {
		if k.Must {
			must = append(must, k.Name)
		}
	}
	s["required"] = must
	var all []schema
	for _, list := range v.OneOf {
		var any []schema
		for _, name := range list {
			any = append(any, schema{"required": []string{name}})
		}
		all = append(all, schema{"anyOf": any})
	}
	for _, pair := range v.Apart {
		all = append(all, schema{"not": schema{"required": pair[:]}})
	}
	if len(all) > 0 {
		s["allOf"] = all
	}
	if len(v.Needs) > 0 {
		s["dependencies"] = v.Needs
	}
}

func (k Key) schema() schema {
	if k.Table != nil {
		s := k.Table.schema()
		if k.Kind == Groups {
			return schema{"type": "array", "description": k.Meaning, "items": s}
		}
		return s
	}
	s := k.single()
	if k.List > 0 {
		s = schema{"type": "array", "items": s, "minItems": k.List, "maxItems": k.List}
	}
	s["description"] = k.Meaning
	if units := k.Units(); len(units) > 0 {
		s["description"] = fmt.Sprintf("%s; %s in %s, such as %s", k.Meaning, k.Dimension, strings.Join(units, ", "), k.Example)
	}
	if k.Default != "" {
		s["description"] = fmt.Sprintf("%s; %s if it is left out", s["description"], k.Default)
	}
	return s
}

// Units are those in which a quantity is written, the customary one first; nil for what is no quantity.
func (k Key) Units() []string {
	if k.Kind != Quantity {
		return nil
	}
	return quantity.Units(k.Dimension)
}

// single is the schema of one value, without its list.
func (k Key) single() schema {
	switch k.Kind {
	case Number:
		s := schema{"type": "number"}
		if k.Whole || k.Name == "format" {
			s["type"] = "integer"
		}
		if k.Most > k.Least || k.Name == "format" {
			s["minimum"], s["maximum"] = k.Least, k.Most
		}
		return s
	case Quantity:
		return schema{"type": "string", "pattern": k.pattern()}
	case Amount:
		return schema{"type": "string", "pattern": `^ *[0-9]+(\.[0-9]*)? *[A-Z]{3} *$`}
	}
	switch {
	case len(k.Words) > 0:
		return schema{"type": "string", "enum": k.Words}
	case len(k.Known) > 0:
		return schema{"anyOf": []schema{{"enum": k.Known}, {"type": "string", "minLength": 1}}}
	}
	return schema{"type": "string"}
}

// pattern is what the text of a quantity looks like, in what the regular expressions of Go and of ECMA-262 have in common.
func (k Key) pattern() string {
	sign, number := "[-+−]?", `([0-9]+\.?[0-9]*|\.[0-9]+)`
	if k.Positive {
		sign, number = `\+?`, `([0-9]*[1-9][0-9]*\.?[0-9]*|[0-9]*\.[0-9]*[1-9][0-9]*)`
	} else if k.NotBelow0 {
		sign = `\+?`
	}
	names := quantity.Names(k.Dimension)
	for i, n := range names {
		names[i] = regexp.QuoteMeta(n)
	}
	// The longest first, so that none is taken for the head of another.
	slices.SortStableFunc(names, func(a, b string) int { return len(b) - len(a) })
	return `^ *` + sign + number + `([eE][-+]?[0-9]+)? *(` + strings.Join(names, "|") + `) *$`
}
