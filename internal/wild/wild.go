// Package wild makes values of any type for tests: whatever the exported
// fields of a type can hold, now sensible, now not.
package wild

import (
	"math"
	"reflect"

	"pgregory.net/rapid"
)

// A Maker draws values. Some are sensible throughout, some here and there not,
// some nowhere, so that some of what it makes is accepted.
type Maker struct {
	T    *rapid.T
	odds int // one in so many values is odd, none if it is negative; 0 is not drawn yet
	// Kinds are values of the types that a field which is an interface may hold.
	Kinds []any
	// Make has functions that set a value of a type in a way of their own. One
	// that returns false leaves it to the Maker.
	Make map[reflect.Type]func(*Maker, reflect.Value) bool
}

// Fill sets what p points to.
func (m *Maker) Fill(p any) { m.fill(reflect.ValueOf(p).Elem(), 0) }

// deepest is how far pointers and interfaces are followed.
const deepest = 12

func (m *Maker) fill(v reflect.Value, depth int) {
	if f, ok := m.Make[v.Type()]; ok && f(m, v) {
		return
	}
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(m.T, "bool"))
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(m.whole(v.Type().Bits()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(m.count(v.Type().Bits()))
	case reflect.Float32, reflect.Float64:
		v.SetFloat(m.Float())
	case reflect.String:
		v.SetString(m.String())
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				m.fill(v.Field(i), depth+1)
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			m.fill(v.Index(i), depth+1)
		}
	case reflect.Slice:
		m.slice(v, depth)
	case reflect.Pointer:
		if depth < deepest && !m.odd() {
			v.Set(reflect.New(v.Type().Elem()))
			m.fill(v.Elem(), depth+1)
		}
	case reflect.Interface:
		m.kind(v, depth)
	}
}

func (m *Maker) slice(v reflect.Value, depth int) {
	if depth >= deepest {
		return
	}
	n := rapid.IntRange(0, 3).Draw(m.T, "length")
	if n > 0 || rapid.Bool().Draw(m.T, "empty") {
		v.Set(reflect.MakeSlice(v.Type(), n, n))
	}
	for i := range n {
		m.fill(v.Index(i), depth+1)
	}
}

// kind sets an interface to one of the kinds that it can hold, or to nil.
func (m *Maker) kind(v reflect.Value, depth int) {
	var fit []reflect.Type
	for _, k := range m.Kinds {
		if t := reflect.TypeOf(k); t.AssignableTo(v.Type()) {
			fit = append(fit, t)
		}
	}
	if len(fit) == 0 || depth >= deepest || m.odd() {
		return
	}
	n := rapid.IntRange(0, len(fit)-1).Draw(m.T, "kind")
	k := reflect.New(fit[n]).Elem()
	m.fill(k, depth+1)
	v.Set(k)
}

// odd reports whether the next value shall not be a sensible one.
func (m *Maker) odd() bool {
	if m.odds == 0 {
		m.odds = rapid.SampledFrom([]int{-1, -1, 300, 100, 10}).Draw(m.T, "odds")
	}
	return m.odds > 0 && rapid.IntRange(1, m.odds).Draw(m.T, "odd") == 1
}

// Sensible reports whether what is made is sensible throughout.
func (m *Maker) Sensible() bool { return !m.odd() && m.odds < 0 }

// Zero leaves most values of a type zero, for Maker.Make: of those whose zero
// value is what is usual, and that are seldom accepted otherwise.
func (m *Maker) Zero(reflect.Value) bool {
	return m.Sensible() || rapid.IntRange(0, 8).Draw(m.T, "zero") > 0
}

// Float draws a number, some of them NaN, infinite, huge or tiny.
func (m *Maker) Float() float64 {
	if m.odd() {
		return rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{
			math.NaN(), math.Inf(1), math.Inf(-1), 1e308, -1e308, 1e13, 1e-13, 1e-308, math.Copysign(0, -1), math.MaxInt64, -1,
		})).Draw(m.T, "odd number")
	}
	return float64(rapid.IntRange(1, 400).Draw(m.T, "quarters")) / 4
}

func (m *Maker) whole(bits int) int64 {
	if m.odd() {
		return rapid.Int64Range(math.MinInt64>>(64-bits), math.MaxInt64>>(64-bits)).Draw(m.T, "odd whole number")
	}
	return rapid.Int64Range(0, 10).Draw(m.T, "whole number")
}

func (m *Maker) count(bits int) uint64 {
	if m.odd() {
		return rapid.Uint64Range(0, math.MaxUint64>>(64-bits)).Draw(m.T, "odd count")
	}
	return rapid.Uint64Range(0, 1).Draw(m.T, "count")
}

// String draws a text, some with characters that formats stumble over, and some
// that are long.
func (m *Maker) String() string {
	if !m.odd() {
		return rapid.SampledFrom([]string{"", "16", "NOTE", "hidden", "STUD_1", "M20 × 90"}).Draw(m.T, "text")
	}
	s := rapid.StringOfN(rapid.RuneFrom([]rune("aZ09 =#^%\\{}<>[]()/&\"'+UØ°€Ω測ע\u202e\r\n\x00\ufffd𝛼")), 0, 20, -1).Draw(m.T, "odd text")
	if n := rapid.SampledFrom([]int{1, 1, 1, 40, 400}).Draw(m.T, "times"); n > 1 {
		var b []byte
		for range n {
			b = append(b, s...)
		}
		s = string(b)
	}
	return s + rapid.SampledFrom([]string{"", "", "\xff", "\xe2\x82"}).Draw(m.T, "broken")
}
