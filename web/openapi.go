package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"reflect"
	"slices"
	"strings"
)

// This file lists the questions that the bench answers, and describes them to other programs by the OpenAPI Specification 3.0.3
// (spec.openapis.org/oas/v3.0.3), from the very types that the handlers read and write.

// operation is one question.
type operation struct {
	method, path string
	summary      string
	asks, gives  reflect.Type // of body and answer; nil for no body
	streams      bool         // the answer comes as server-sent events
	call         func(b *Bench, w http.ResponseWriter, r *http.Request)
}

// told is a question without a body, about what the path names.
func told[A any](method, path, summary string, tell func(b *Bench, name string) (A, error)) operation {
	return operation{method, path, summary, nil, reflect.TypeFor[A](), false, func(b *Bench, w http.ResponseWriter, r *http.Request) {
		a, err := tell(b, r.PathValue("name"))
		answer(w, r, a, err)
	}}
}

// answered is a question with a body that is answered at once.
func answered[Q, A any](method, path, summary string, tell func(b *Bench, name string, q *Q) (A, error)) operation {
	return operation{method, path, summary, reflect.TypeFor[Q](), reflect.TypeFor[A](), false, func(b *Bench, w http.ResponseWriter, r *http.Request) {
		var a A
		q, err := take[Q](w, r)
		if err == nil {
			a, err = tell(b, r.PathValue("name"), q)
		}
		answer(w, r, a, err)
	}}
}

// streamed is a question with a body that takes a while.
func streamed[Q, A any](path, summary string, work func(b *Bench, ctx context.Context, q *Q, e *events) (A, error)) operation {
	return operation{http.MethodPost, path, summary, reflect.TypeFor[Q](), reflect.TypeFor[A](), true, func(b *Bench, w http.ResponseWriter, r *http.Request) {
		q, err := take[Q](w, r)
		if err != nil {
			refuse(w, err)
			return
		}
		stream(w, r, func(e *events) (A, error) { return work(b, r.Context(), q, e) })
	}}
}

func operations() []operation {
	return []operation{
		told("GET", "/api/catalogue", "Layouts to begin with, grades, steels", (*Bench).catalogue),
		told("GET", "/api/files", "The design files of the folder", (*Bench).list),
		told("GET", "/api/files/{name}", "A design file with its version", (*Bench).open),
		answered("PUT", "/api/files/{name}", "Keep a design file, whole; 409 with the other text when it is not the version that was read", (*Bench).save),
		answered("POST", "/api/look", "What a text says, at once: mistakes, parts as triangles, parameters, the magnetic circuit", (*Bench).look),
		streamed("/api/solve", "Solve a design: the object of polewright predict --json", (*Bench).solve),
		streamed("/api/plane", "The field on a plane, first roughly (events named map), then finely", (*Bench).plane),
		streamed("/api/steel", "How full the steel is: the flux density all over its surface", (*Bench).steel),
		streamed("/api/line", "The field along a line", (*Bench).line),
		streamed("/api/gap", "The quality of the gap field: the object of polewright gap --json", (*Bench).gap),
		streamed("/api/stray", "The closed surface to which a limit reaches", (*Bench).stray),
		answered("POST", "/api/magnet", "Demagnetization curves of a magnet at temperatures", (*Bench).magnet),
		streamed("/api/approach", "Force, energy and stiffness while halves come together: the object of polewright approach --json", (*Bench).approach),
		streamed("/api/size", "Designs for a target", (*Bench).size),
		streamed("/api/wind", "The winding sheet: the object of polewright wind --json", (*Bench).wind),
		streamed("/api/cut", "Parts list and drawings", (*Bench).cut),
		streamed("/api/papers", "The build papers as PDF or HTML", (*Bench).papers),
		answered("POST", "/api/chart", "A chart as SVG", (*Bench).chart),
		told("GET", "/api/readings/{name}", "The log of readings that lies beside a design, by the design's name", (*Bench).readings),
		answered("PUT", "/api/readings/{name}", "Keep a log of readings beside a design, mistakes and all; 409 when it is not the version that was read", (*Bench).keepReadings),
		streamed("/api/verify", "Readings against prediction: the object of polewright verify --json", (*Bench).verify),
		streamed("/api/certificate", "The certificate of a measurement as PDF or HTML", (*Bench).certificate),
		streamed("/api/sheet", "A measurement sheet as PDF or HTML, or as a log to fill in", (*Bench).sheet),
		told("GET", "/api/stock", "The list of stock of the folder", (*Bench).shelf),
		answered("PUT", "/api/stock", "Keep a list of stock in the folder, mistakes and all; 409 when it is not the version that was read", (*Bench).keepShelf),
		answered("POST", "/api/bill", "What a design is made from and what to buy: the bill of polewright parts --stock --json", (*Bench).bill),
		streamed("/api/assemble", "The order of putting it together: the object of polewright assemble --json", (*Bench).assemble),
		streamed("/api/card", "The safety card: the object of polewright safety --json, and its sheet as PDF or HTML", (*Bench).card),
		told("GET", "/api/studies", "The studies of the folder, and the figures that they know", (*Bench).listStudies),
		answered("POST", "/api/studies", "Begin a sweep, a search or a tolerance study", (*Bench).beginStudy),
		told("GET", "/api/studies/{name}", "A study with its rows", (*Bench).found),
		told("DELETE", "/api/studies/{name}", "Take a study away; the answers of its solves are kept", (*Bench).removeStudy),
		streamed("/api/follow", "Hear of a study as it goes on: events named standing (Standing) and rows (a list of StudyRow), at last the study", (*Bench).followStudy),
		answered("POST", "/api/stop", "Stop a study; what is solved is kept", (*Bench).stopStudy),
		answered("POST", "/api/resume", "Go on with a study that was stopped or interrupted; nothing is solved twice", (*Bench).resumeStudy),
		answered("POST", "/api/table", "The rows of a study as CSV", (*Bench).tableOfStudy),
		told("GET", "/api/openapi.json", "This description", (*Bench).describe),
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

type object = map[string]any

// Specification describes the interface as an OpenAPI document.
func Specification() []byte {
	text, err := json.MarshalIndent(specification(), "", "  ")
	if err != nil {
		panic(err) // of our own types alone
	}
	return append(text, '\n')
}

func (b *Bench) describe(string) (object, error) { return specification(), nil }

func specification() object {
	s := &schemas{known: object{}, names: map[reflect.Type]string{}}
	paths := object{}
	for _, op := range operations() {
		described := object{"summary": op.summary, "operationId": strings.ToLower(op.method) + strings.NewReplacer("/api/", "_", "/{name}", "_one", ".json", "").Replace(op.path)}
		if strings.Contains(op.path, "{name}") {
			described["parameters"] = []object{{"name": "name", "in": "path", "required": true, "schema": object{"type": "string"}}}
		}
		if op.asks != nil {
			described["requestBody"] = object{"required": true, "content": content("application/json", s.of(op.asks))}
		}
		refusal := object{"description": "Why there is no answer", "content": content("application/json", s.of(reflect.TypeFor[Refusal]()))}
		gives := s.of(op.gives)
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
	return object{
		"openapi":    "3.0.3",
		"info":       object{"title": "polewright's bench", "version": "1", "description": "The interface between the bench's page and its server. SI units; temperatures in degC."},
		"paths":      paths,
		"components": object{"schemas": s.known},
	}
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
