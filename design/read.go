package design

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"polewright/material"
	"polewright/mistake"
	"polewright/quantity"
)

// Read reads and checks a design. The filename serves messages and is where curve files are looked for: in its folder or below. With no filename the
// text came from no file, and a curve file is a mistake. The error is mistake.Errors, or what r itself returned.
func Read(r io.Reader, filename string) (*Design, error) { return read(r, filename, false) }

// ReadTarget is Read of a file that needs no parts: a [target] with a field, and a gap or a region, is enough. The error is mistake.Errors, or what r
// itself returned.
func ReadTarget(r io.Reader, filename string) (*Design, error) { return read(r, filename, true) }

func read(r io.Reader, filename string, targetOnly bool) (*Design, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the design %s: %w", filename, err)
	}
	rd := newReader(filename)
	rd.targetOnly = targetOnly
	d := rd.read(text)
	if err := rd.errs.Err(); err != nil {
		return nil, err
	}
	d.File = filename
	return d, nil
}

func newReader(filename string) *reader {
	r := &reader{file: filename, curves: map[string]*material.Curve{}, lines: map[string]int{}, probes: map[string]int{}, sectionNames: map[string]int{}, twice: map[string]bool{}}
	if filename == "" {
		r.file = "design"
	} else {
		r.dir = filepath.Dir(filename)
	}
	return r
}

// ReadFile reads and checks the design file at path. The error is mistake.Errors.
func ReadFile(path string) (*Design, error) { return ReadFileBy(path, Read) }

// ReadFileBy hands the design file at path to read, such as [ReadTarget]. The error is mistake.Errors.
func ReadFileBy(path string, read func(io.Reader, string) (*Design, error)) (*Design, error) {
	refuse := func(what, hint string) (*Design, error) {
		return nil, mistake.Errors{{File: path, What: what, Hint: hint}}
	}
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return refuse("there is no such file", "check the name; a first design file is written by: polewright new LAYOUT")
	}
	if err == nil && info.IsDir() {
		return refuse("is a folder", "name the design file in it")
	}
	if err == nil && info.Size() > MaxFileBytes {
		return refuse(fmt.Sprintf("is %.4g MiB long", float64(info.Size())/(1<<20)), tooLong)
	}
	file, err := os.Open(path)
	if err != nil {
		return refuse("cannot be opened: "+mistake.Cause(err).Error(), "check who may read it")
	}
	defer file.Close()
	d, err := read(file, path)
	var known mistake.Errors
	if err != nil && !errors.As(err, &known) {
		return refuse("cannot be read: "+mistake.Cause(err).Error(), "check the disk and who may read it")
	}
	return d, err
}

const tooLong = "a design file may be 4 MiB long, which holds 10000 parts: is it the right file?"

// reader holds what lasts over one file.
type reader struct {
	file, dir string
	errs      mistake.Errors
	mistakes  int // all of them, kept or not
	curves    map[string]*material.Curve
	lines     map[string]int // of each name of a part
	parts     int

	targetOnly bool // a design without parts is none

	noting bool   // whether parameters are wanted
	slots  []slot // where they stand

	asks func(f fields, k Key) // hears of every key that is looked for; nil: nobody does

	probes, sectionNames map[string]int  // the same of probes and sections
	twice                map[string]bool // names of two parts

	// Where the design's joints, sections and region stand, for later checks.
	joints, sections []fields
	region           fields
}

// enough bounds the mistakes kept while a file is read; they are found kind by kind and then shown in the order of the file.
const enough = 1000

func (r *reader) fail(line int, key, what, hint string) *mistake.Error {
	r.mistakes++
	e := &mistake.Error{File: r.file, Line: line, Key: key, What: what, Hint: hint}
	if len(r.errs) < enough {
		r.errs = append(r.errs, e)
	}
	return e
}

func (r *reader) read(text []byte) *Design {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	switch {
	case len(text) > MaxFileBytes:
		r.fail(0, "", "is over 4 MiB long", tooLong)
	case bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")):
		r.fail(1, "", "the file is UTF-16", "save it as UTF-8")
	case !utf8.Valid(text):
		bad := 0
		for bad < len(text) {
			c, n := utf8.DecodeRune(text[bad:])
			if c == utf8.RuneError && n == 1 {
				break
			}
			bad += n
		}
		r.fail(1+bytes.Count(text[:bad], []byte("\n")), "", fmt.Sprintf("the byte 0x%02X is not UTF-8", text[bad]), "save the file as UTF-8; signs such as ° and µ are the usual cause (deg and um do too)")
	}
	if len(r.errs) > 0 {
		return nil
	}
	root := toml(text, func(line int, key, what, hint string) { r.fail(line, key, what, hint) })
	if len(r.errs) > 0 {
		return nil
	}
	if len(root.keys) == 0 {
		r.fail(0, "", "the file is empty", "a first design file is written by: polewright new LAYOUT")
		return nil
	}
	f := fields{r, root, "", ""}
	d := &Design{}
	if !r.format(f) {
		return nil // whatever stands in it follows other rules
	}
	d.Title, _ = f.text("title", 0, `"..."`)
	if g, ok := f.sub("target", 0, "[target]"); ok {
		d.Target = r.target(g)
	}
	if g, ok := f.sub("layout", 0, "[layout]"); ok {
		r.layout(g, d)
	}
	if g, ok := f.sub("tolerance", 0, "[tolerance]"); ok {
		d.Tolerance = g.tolerance()
	}
	r.readParts(f, d)
	f.each("joint", func(f fields) { r.joint(f, d) })
	f.each("probe", func(f fields) { r.probe(f, d) })
	f.each("section", func(f fields) { r.section(f, d) })
	f.finish()
	if r.noting {
		return d // whether the parts go together is not asked
	}
	if r.targetOnly {
		r.aims(d)
	} else if len(d.Magnets)+len(d.Steels)+len(d.Wounds)+len(d.Coils) == 0 && len(r.errs) == 0 {
		r.fail(0, "", "the design has no magnet, no steel and no coil", "add a [[magnet]]; a first design file is written by: polewright new LAYOUT")
	}
	r.check(d)
	return d
}

// aims reports a target that no design can be sized for.
func (r *reader) aims(d *Design) {
	const example = `write [target] with field = "0.6 T" and gap = "18 mm", or a region`
	switch t := d.Target; {
	case len(r.errs) > 0:
	case t == nil:
		r.fail(0, "target", "is missing", example)
	case t.FieldT == 0:
		r.fail(t.Line, "target.field", "is missing", `add field = "0.6 T"`)
	case t.GapM == 0 && t.Region == nil:
		r.fail(t.Line, "target.gap", "is missing, and so is region", `add gap = "18 mm", the free height along z, or a region`)
	}
}

func (r *reader) format(f fields) bool {
	v := f.need("format", must, "1 as the first line")
	f.learn(Key{Name: "format", Kind: Number, Must: true, Least: 1, Most: 1, Example: "1"})
	if v == nil {
		return false
	}
	if v.kind != unstable.Integer || v.text != "1" {
		f.fail(v.line, "format", v.String()+" is not known", "this program reads format = 1")
		return false
	}
	return true
}

func (r *reader) target(f fields) *Target {
	defer f.finish()
	t := &Target{Line: f.t.line}
	t.FieldT, _ = f.quantity("field", quantity.FluxDensity, positive)
	if u, ok := f.quantity("uniformity", quantity.Ratio, positive); ok {
		if u >= 1 {
			f.fail(f.get("uniformity").line, "uniformity", f.get("uniformity").String()+": 100 % or more", `write the spread over the region, e.g. "500 ppm" or "0.1 %"`)
		}
		t.UniformityFraction = u
	}
	if g, ok := f.sub("region", 0, `{ shape = "sphere", diameter = "8 mm" }`); ok {
		t.Region, r.region = g.region(), g
	}
	t.GapM, _ = f.length("gap", positive)
	if t.GapM > 0 && t.Region != nil && t.Region.heightM() > t.GapM*(1+1e-9) {
		f.fail(f.get("gap").line, "gap", fmt.Sprintf("%s is less than the height of the region, %s", f.get("gap"), mm(t.Region.heightM())), "the region lies within the gap: write a larger gap or a smaller region")
	}
	t.MassKg, _ = f.quantity("mass", quantity.Mass, positive)
	t.Cost = f.money("cost")
	if g, ok := f.sub("stray", 0, `{ limit = "0.5 mT", distance = "300 mm" }`); ok {
		t.StrayLimitT, _ = g.quantity("limit", quantity.FluxDensity, must|positive)
		t.StrayDistanceM, _ = g.length("distance", must|positive)
		g.finish()
	}
	if g, ok := f.sub("temperature", 0, `{ working = "22 degC", max = "60 degC" }`); ok {
		t.WorkingC, t.HasWorking = g.quantity("working", quantity.Temperature, 0)
		t.MaxC, t.HasMax = g.quantity("max", quantity.Temperature, 0)
		t.MinC, t.HasMin = g.quantity("min", quantity.Temperature, 0)
		if t.HasWorking && t.HasMax && t.MaxC < t.WorkingC {
			g.fail(g.get("max").line, "max", g.get("max").String()+" is below the working temperature", "the highest temperature is the working temperature or more")
		}
		if t.HasWorking && t.HasMin && t.MinC > t.WorkingC {
			g.fail(g.get("min").line, "min", g.get("min").String()+" is above the working temperature", "the lowest temperature is the working temperature or less")
		}
		if !t.HasWorking && t.HasMin && t.HasMax && t.MinC > t.MaxC {
			g.fail(g.get("min").line, "min", g.get("min").String()+" is above the highest temperature", "exchange the two")
		}
		g.finish()
	}
	return t
}

// heightM is the extent along z.
func (g *Region) heightM() float64 {
	switch {
	case g.Shape == Box:
		return g.SizeM.Z
	case g.Shape == Cylinder && g.Axis == 2:
		return g.LengthM
	}
	return g.DiameterM
}

func (f fields) region() *Region {
	g := &Region{Line: f.t.line}
	before := f.r.mistakes
	var ok bool
	if g.Shape, ok = f.choice("shape", []string{Sphere, Cylinder, Box}, must); !ok {
		return nil
	}
	g.Center, _ = f.point("center", 0)
	switch g.Shape {
	case Sphere:
		g.DiameterM, _ = f.length("diameter", must|positive)
	case Cylinder:
		g.DiameterM, _ = f.length("diameter", must|positive)
		g.LengthM, _ = f.length("length", must|positive)
		g.Axis = f.axis("axis", 2, 0)
	case Box:
		g.SizeM, _ = f.vector("size", quantity.Length, must|positive, `["8 mm", "8 mm", "8 mm"]`)
	}
	f.finish()
	if f.r.mistakes > before {
		return nil
	}
	return g
}

func (r *reader) joint(f fields, d *Design) {
	defer f.finish()
	j := Joint{Line: f.t.line}
	list := f.list("between", 2, must, `["upper", "top back"]`)
	thickness, ok := f.length("thickness", must|notBelow0)
	j.ThicknessM = thickness
	if ok && thickness > 0.01 {
		f.fail(f.get("thickness").line, "thickness", f.get("thickness").String()+": over 10 mm", "a joint is a film between faces that touch; move the parts apart for a wide gap")
		ok = false
	}
	for i, v := range list {
		if v.kind != unstable.String {
			f.fail(v.line, "between", v.String()+": no name", `write the names of two parts in quotes`)
			ok = false
			continue
		}
		j.Between[i] = v.text
	}
	if list != nil && ok {
		d.Joints = append(d.Joints, j)
		r.joints = append(r.joints, f)
	}
}

func (r *reader) probe(f fields, d *Design) {
	defer f.finish()
	p := Probe{Line: f.t.line}
	var named, placed bool
	p.Name, named = f.name("centre")
	p.At, placed = f.point("at", must)
	if named {
		f.once(r.probes, p.Name, "probe")
		if placed {
			d.Probes = append(d.Probes, p)
		}
	}
}

func (r *reader) section(f fields, d *Design) {
	defer f.finish()
	before := r.mistakes
	s := Section{Line: f.t.line}
	if name, ok := f.name("leg"); ok {
		f.once(r.sectionNames, name, "section")
		s.Name = name
	}
	s.Part, _ = f.text("part", must, `"left leg"`)
	s.Axis = f.axis("plane", 0, must)
	s.AtM, _ = f.length("at", must)
	if r.mistakes == before {
		d.Sections = append(d.Sections, s)
		r.sections = append(r.sections, f)
	}
}

// once reports a name that lines, the names and their lines, has already.
func (f fields) once(lines map[string]int, name, kind string) {
	if line, twice := lines[name]; twice {
		f.fail(f.get("name").line, "name", fmt.Sprintf("%q is used twice; first on line %d", name, line), "give each "+kind+" its own name")
		return
	}
	lines[name] = f.t.line
}

// name reads a name that people can say and files can hold.
func (f fields) name(example string) (string, bool) {
	s, ok := f.text("name", must, fmt.Sprintf("%q", example))
	if !ok {
		return "", false
	}
	line := f.get("name").line
	odd := func(c rune) bool { return !unicode.IsPrint(c) }
	switch {
	case strings.TrimSpace(s) == "":
		f.fail(line, "name", "is empty", fmt.Sprintf("give it a name, e.g. %q", example))
	case s != strings.TrimSpace(s):
		f.fail(line, "name", fmt.Sprintf("%s begins or ends with a space", shortened(s)), "take the space out")
	case utf8.RuneCountInString(s) > 80:
		f.fail(line, "name", shortened(s)+": over 80 letters", "give it a short name")
	case strings.ContainsFunc(s, odd):
		f.fail(line, "name", fmt.Sprintf("%s has signs that do not print", shortened(fmt.Sprintf("%q", s))), "write letters, digits and spaces")
	default:
		return s, true
	}
	return "", false
}

// curve reads a curve file in or below the design's folder, each only once.
func (r *reader) curve(f fields, name string) (*material.Curve, bool) {
	v := f.get(name)
	path, ok := f.text(name, must, `"my-steel.csv"`)
	if !ok {
		return nil, false
	}
	fail := func(what, hint string) (*material.Curve, bool) {
		f.fail(v.line, name, v.String()+": "+what, hint)
		return nil, false
	}
	if c, seen := r.curves[path]; seen {
		return c, c != nil
	}
	r.curves[path] = nil
	if r.dir == "" {
		return fail("this design came from no file, so it can name none", "write material = with a built-in steel")
	}
	if !filepath.IsLocal(filepath.FromSlash(path)) {
		return fail("not in the folder of the design file", "put the curve file beside the design file and write its name")
	}
	root, err := os.OpenRoot(r.dir)
	if err != nil {
		return fail(mistake.Cause(err).Error(), "put the curve file beside the design file")
	}
	defer root.Close()
	info, err := root.Stat(filepath.FromSlash(path))
	if errors.Is(err, fs.ErrNotExist) {
		return fail("there is no such file", "put the curve file beside the design file and write its name")
	}
	if err != nil {
		return fail(mistake.Cause(err).Error(), "check who may read it")
	}
	if !info.Mode().IsRegular() || info.Size() > MaxFileBytes {
		return fail("no ordinary file of up to 4 MiB", "a curve file is text: H_A_per_m,B_T and a line per point")
	}
	file, err := root.Open(filepath.FromSlash(path))
	if err != nil {
		return fail(mistake.Cause(err).Error(), "check who may read it")
	}
	defer file.Close()
	c, err := material.ReadCurve(io.LimitReader(file, MaxFileBytes), path)
	if err != nil {
		what, hint := mistake.Said(err)
		f.fail(v.line, name, what, hint)
		return nil, false
	}
	r.curves[path] = c
	return c, true
}

// present lists the keys of a table that are among names, in order.
func (t *table) present(names ...string) []string {
	var out []string
	for _, k := range t.keys {
		if slices.Contains(names, k) {
			out = append(out, k)
		}
	}
	return out
}
