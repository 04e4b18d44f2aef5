package study

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"math"
	"reflect"
	"slices"
	"strconv"

	"polewright/design"
	"polewright/material"
)

// This file says when two designs are one and the same to a solve, however they are written.

// Identity names what a design is: SHA-256, in hexadecimal, of all that was read of it, in SI units to twelve digits, defaults filled in. Comments,
// the order of keys, tables and parts, units, and the title do not change it; any value or name does.
func Identity(d *design.Design) string {
	var b bytes.Buffer
	v := reflect.ValueOf(d).Elem()
	for i := range v.NumField() {
		f := v.Field(i)
		if said[v.Type().Field(i).Name] {
			continue
		}
		b.WriteString(v.Type().Field(i).Name)
		if f.Kind() != reflect.Slice {
			encode(&b, f)
			continue
		}
		var parts []string
		for k := range f.Len() {
			var one bytes.Buffer
			encode(&one, f.Index(k))
			parts = append(parts, one.String())
		}
		slices.Sort(parts)
		for _, p := range parts {
			b.WriteString(p)
		}
	}
	sum := sha256.Sum256(b.Bytes())
	return hex.EncodeToString(sum[:])
}

// said are the fields of a design and of what it holds that only say where and how it is written.
var said = map[string]bool{"Title": true, "File": true, "Line": true, "Source": true, "Use": true, "FromMemory": true, "Wire": true}

// leastSize is what a number is taken for zero below: rounding where numbers cancel, in units in which all of a design's are far larger.
const leastSize = 1e-15

// builtIn tells whether a steel is one of the program's own.
func builtIn(m material.Steel) bool {
	own, err := material.SteelNamed(m.Name)
	return err == nil && own.Curve == m.Curve
}

func valueOf[T any](v reflect.Value) (x T, ok bool) {
	if v.Type() != reflect.TypeFor[T]() {
		return x, false
	}
	return v.Interface().(T), true
}

// encode writes a value so that equal ones are equal text and others are not.
func encode(b *bytes.Buffer, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			b.WriteString("~")
			return
		}
		if v.Kind() == reflect.Interface {
			b.WriteString(v.Elem().Type().String())
		}
		encode(b, v.Elem())
	case reflect.Struct:
		if m, ok := valueOf[material.Steel](v); ok && builtIn(m) { // its numbers are the program's, whose version is part of a job's key
			b.WriteString(strconv.Quote(m.Name))
			return
		}
		b.WriteByte('{')
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; !said[name] {
				b.WriteString(name)
				encode(b, v.Field(i))
			}
		}
		b.WriteByte('}')
	case reflect.Slice, reflect.Array:
		b.WriteByte('[')
		for i := range v.Len() {
			encode(b, v.Index(i))
		}
		b.WriteByte(']')
	case reflect.Map: // of words
		keys := v.MapKeys()
		slices.SortFunc(keys, func(x, y reflect.Value) int { return bytes.Compare([]byte(x.String()), []byte(y.String())) })
		b.WriteByte('[')
		for _, k := range keys {
			encode(b, k)
			encode(b, v.MapIndex(k))
		}
		b.WriteByte(']')
	case reflect.Float64:
		x := v.Float()
		if math.Abs(x) < leastSize {
			x = 0
		}
		b.WriteByte(' ')
		b.Write(strconv.AppendFloat(b.AvailableBuffer(), x, 'e', 11, 64))
	case reflect.String:
		b.Write(strconv.AppendQuote(b.AvailableBuffer(), v.String()))
	case reflect.Bool:
		b.WriteString(strconv.FormatBool(v.Bool()))
	default:
		b.WriteByte(' ')
		if v.CanInt() {
			b.WriteString(strconv.FormatInt(v.Int(), 10))
		} else {
			b.WriteString(strconv.FormatUint(v.Uint(), 10)) // panics on what no design holds, such as a function
		}
	}
}
