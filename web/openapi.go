package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"reflect"
	"slices"
	"strings"

	"polewright/result"
	"polewright/stock"
)

// This file lists the questions that the bench answers, and describes them to other programs by the OpenAPI Specification 3.0.3
// (spec.openapis.org/oas/v3.0.3), from the very types that the handlers read and write.

// operation is one question.
type operation struct {
	method, path string
	summary      string
	asks, gives  any  // values of the types of body and answer; nil for no body
	streams      bool // the answer comes as server-sent events
	call         func(b *Bench, w http.ResponseWriter, r *http.Request)
}

func operations() []operation {
	return []operation{
		{"GET", "/api/catalogue", "Layouts to begin with, grades, steels", nil, Catalogue{}, false, (*Bench).catalogue},
		{"GET", "/api/files", "The design files of the folder", nil, Folder{}, false, (*Bench).list},
		{"GET", "/api/files/{name}", "A design file with its version", nil, File{}, false, (*Bench).open},
		{"PUT", "/api/files/{name}", "Keep a design file, whole; 409 with the other text when it is not the version that was read", Saving{}, Saved{}, false, (*Bench).save},
		{"POST", "/api/look", "What a text says, at once: mistakes, parts as triangles, parameters, the magnetic circuit", Looking{}, Look{}, false, (*Bench).look},
		{"POST", "/api/solve", "Solve a design: the object of polewright predict --json", Solving{}, result.Result{}, true, (*Bench).solve},
		{"POST", "/api/plane", "The field on a plane, first roughly (events named map), then finely", Mapping{}, Map{}, true, (*Bench).plane},
		{"POST", "/api/steel", "How full the steel is: the flux density all over its surface", Solving{}, Steels{}, true, (*Bench).steel},
		{"POST", "/api/line", "The field along a line", Tracing{}, Trace{}, true, (*Bench).line},
		{"POST", "/api/gap", "The quality of the gap field: the object of polewright gap --json", Gauging{}, result.GapQuality{}, true, (*Bench).gap},
		{"POST", "/api/stray", "The closed surface to which a limit reaches", Fencing{}, Fence{}, true, (*Bench).stray},
		{"POST", "/api/magnet", "Demagnetization curves of a magnet at temperatures", Warming{}, Curves{}, false, (*Bench).magnet},
		{"POST", "/api/approach", "Force, energy and stiffness while halves come together: the object of polewright approach --json", Closing{}, result.Approach{}, true, (*Bench).approach},
		{"POST", "/api/size", "Designs for a target", Sizing{}, Sizes{}, true, (*Bench).size},
		{"POST", "/api/wind", "The winding sheet: the object of polewright wind --json", Winding{}, WindingSheet{}, true, (*Bench).wind},
		{"POST", "/api/cut", "Parts list and drawings", Asked{}, Cutting{}, true, (*Bench).cut},
		{"POST", "/api/papers", "The build papers as PDF or HTML", Papering{}, Download{}, true, (*Bench).papers},
		{"POST", "/api/chart", "A chart as SVG", Charting{}, Download{}, false, (*Bench).chart},
		{"GET", "/api/readings/{name}", "The log of readings that lies beside a design, by the design's name", nil, Readings{}, false, (*Bench).readings},
		{"PUT", "/api/readings/{name}", "Keep a log of readings beside a design, mistakes and all; 409 when it is not the version that was read", Saving{}, Readings{}, false, (*Bench).keepReadings},
		{"POST", "/api/verify", "Readings against prediction: the object of polewright verify --json", Verifying{}, result.Verification{}, true, (*Bench).verify},
		{"POST", "/api/certificate", "The certificate of a measurement as PDF or HTML", Certifying{}, Download{}, true, (*Bench).certificate},
		{"POST", "/api/sheet", "A measurement sheet as PDF or HTML, or as a log to fill in", Sheeting{}, Download{}, true, (*Bench).sheet},
		{"GET", "/api/stock", "The list of stock of the folder", nil, Shelf{}, false, (*Bench).shelf},
		{"PUT", "/api/stock", "Keep a list of stock in the folder, mistakes and all; 409 when it is not the version that was read", Saving{}, Shelf{}, false, (*Bench).keepShelf},
		{"POST", "/api/bill", "What a design is made from and what to buy: the bill of polewright parts --stock --json", Billing{}, stock.Bill{}, false, (*Bench).bill},
		{"POST", "/api/assemble", "The order of putting it together: the object of polewright assemble --json", Asked{}, Steps{}, true, (*Bench).assemble},
		{"POST", "/api/card", "The safety card: the object of polewright safety --json, and its sheet as PDF or HTML", Carding{}, Card{}, true, (*Bench).card},
		{"GET", "/api/studies", "The studies of the folder, and the figures that they know", nil, StudyList{}, false, (*Bench).listStudies},
		{"POST", "/api/studies", "Begin a sweep, a search or a tolerance study", Studying{}, Study{}, false, (*Bench).beginStudy},
		{"GET", "/api/studies/{name}", "A study with its rows", nil, Study{}, false, (*Bench).showStudy},
		{"DELETE", "/api/studies/{name}", "Take a study away; the answers of its solves are kept", nil, Standing{}, false, (*Bench).removeStudy},
		{"POST", "/api/follow", "Hear of a study as it goes on: events named standing (Standing) and rows (a list of StudyRow), at last the study", Following{}, Study{}, true, (*Bench).followStudy},
		{"POST", "/api/stop", "Stop a study; what is solved is kept", Deed{}, Standing{}, false, (*Bench).stopStudy},
		{"POST", "/api/resume", "Go on with a study that was stopped or interrupted; nothing is solved twice", Deed{}, Study{}, false, (*Bench).resumeStudy},
		{"POST", "/api/table", "The rows of a study as CSV", Deed{}, Download{}, false, (*Bench).tableOfStudy},
		{"GET", "/api/openapi.json", "This description", nil, map[string]any{}, false, (*Bench).describe},
	}
}

// guarded asks for the token before it answers.
func (b *Bench) guarded(op operation) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if !b.allowed(r) {
			refuse(w, &fault{Status: http.StatusUnauthorized, Problems: []Problem{{What: "the question lacks the bench's token", Hint: "open the whole address that polewright serve has printed, with what stands behind #"}}})
			return
		}
		op.call(b, w, r)
	}
}

func (b *Bench) describe(w http.ResponseWriter, r *http.Request) {
	answer(w, http.StatusOK, json.RawMessage(Specification()))
}

type object = map[string]any

// Specification describes the interface as an OpenAPI document.
func Specification() []byte {
	s := &schemas{known: object{}, names: map[reflect.Type]string{}}
	paths := object{}
	for _, op := range operations() {
		described := object{"summary": op.summary, "operationId": strings.ToLower(op.method) + strings.NewReplacer("/api/", "_", "/{name}", "_one", ".json", "").Replace(op.path)}
		if strings.Contains(op.path, "{name}") {
			described["parameters"] = []object{{"name": "name", "in": "path", "required": true, "schema": object{"type": "string"}}}
		}
		if op.asks != nil {
			described["requestBody"] = object{"required": true, "content": content("application/json", s.of(reflect.TypeOf(op.asks)))}
		}
		refusal := object{"description": "Why there is no answer", "content": content("application/json", s.of(reflect.TypeFor[Refusal]()))}
		gives := s.of(reflect.TypeOf(op.gives))
		ok := object{"description": "The answer", "content": content("application/json", gives)}
		if op.streams {
			ok = object{
				"description": `Server-sent events, each with one line of JSON: "progress" (Progress), at last "answer" or "refusal" (Refusal). Hanging up stops the work.`,
				"content":     content("text/event-stream", object{"type": "string"}),
				"x-events":    object{"progress": s.of(reflect.TypeFor[Progress]()), "answer": gives, "refusal": s.of(reflect.TypeFor[Refusal]())},
			}
		}
		described["responses"] = object{"200": ok, "default": refusal}
		item, _ := paths[op.path].(object)
		if item == nil {
			item = object{}
			paths[op.path] = item
		}
		item[strings.ToLower(op.method)] = described
	}
	text, err := json.MarshalIndent(object{
		"openapi":    "3.0.3",
		"info":       object{"title": "polewright's bench", "version": "1", "description": "The interface between the bench's page and its server. SI units; temperatures in degC."},
		"paths":      paths,
		"components": object{"schemas": s.known},
	}, "", "  ")
	if err != nil {
		panic(err) // of our own types alone
	}
	return append(text, '\n')
}

func content(media string, schema any) object { return object{media: object{"schema": schema}} }

// schemas turns Go types into schemas as encoding/json writes them.
type schemas struct {
	known object
	names map[reflect.Type]string
}

func (s *schemas) of(t reflect.Type) object {
	if t.Implements(reflect.TypeFor[interface{ MarshalText() ([]byte, error) }]()) {
		return object{"type": "string"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return s.of(t.Elem())
	case reflect.Bool:
		return object{"type": "boolean"}
	case reflect.String:
		return object{"type": "string"}
	case reflect.Float64, reflect.Float32:
		return object{"type": "number"}
	case reflect.Int, reflect.Int64, reflect.Int32, reflect.Uint, reflect.Uint64, reflect.Uint32:
		return object{"type": "integer"}
	case reflect.Array:
		return object{"type": "array", "items": s.of(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Slice:
		items := s.of(t.Elem())
		if t.Elem().Kind() == reflect.Pointer {
			items["nullable"] = true
		}
		return object{"type": "array", "items": items}
	case reflect.Map:
		if t.Elem().Kind() == reflect.Interface {
			return object{"type": "object"}
		}
		return object{"type": "object", "additionalProperties": s.of(t.Elem())}
	case reflect.Struct:
		if t.Name() == "" {
			return s.described(t)
		}
		return object{"$ref": "#/components/schemas/" + s.named(t)}
	}
	panic(fmt.Sprintf("no schema for %v", t))
}

// named describes a struct once. Types of one name from two packages get the package's too.
func (s *schemas) named(t reflect.Type) string {
	if name, ok := s.names[t]; ok {
		return name
	}
	name := t.Name()
	if _, taken := s.known[name]; taken {
		pkg := t.PkgPath()
		pkg = pkg[strings.LastIndex(pkg, "/")+1:]
		name = strings.ToUpper(pkg[:1]) + pkg[1:] + name
	}
	s.names[t] = name
	s.known[name] = nil // taken, should the type hold itself
	s.known[name] = s.described(t)
	return name
}

func (s *schemas) described(t reflect.Type) object {
	properties := object{}
	var required []string
	s.fields(t, properties, &required, true)
	slices.Sort(required)
	o := object{"type": "object", "properties": properties}
	if len(required) > 0 {
		o["required"] = required
	}
	return o
}

// fields adds the fields that a struct is written with, those of embedded structs among them. always is false within a pointer that may be nil.
func (s *schemas) fields(t reflect.Type, properties object, required *[]string, always bool) {
	for f := range t.Fields() {
		tag, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		embedded := f.Type
		if embedded.Kind() == reflect.Pointer {
			embedded = embedded.Elem()
		}
		switch {
		case f.Anonymous && tag == "" && embedded.Kind() == reflect.Struct:
			s.fields(embedded, properties, required, always && f.Type.Kind() == reflect.Struct)
			continue
		case !f.IsExported() || tag == "-":
			continue
		case tag == "":
			tag = f.Name
		}
		schema := s.of(f.Type)
		optional := strings.Contains(options, "omitempty") || strings.Contains(options, "omitzero")
		if !optional && f.Type.Kind() == reflect.Pointer {
			if _, ref := schema["$ref"]; ref {
				schema = object{"allOf": []object{schema}}
			}
			schema["nullable"] = true
		}
		properties[tag] = schema
		if !optional && always {
			*required = append(*required, tag)
		}
	}
}
