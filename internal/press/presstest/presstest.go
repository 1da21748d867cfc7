// Package presstest fills what a template is given with hostile values.
package presstest

import (
	"math/rand/v2"
	"reflect"
)

// pieces are what a hostile text is made of.
var pieces = []string{"", "a", "b", "word", " ", "\n", "\x00", "\x01", "<", ">", "&", "\"", "'", "+", "`", "=", "/", "\\", "%", "%41", "%zz", "#", "?", ":", ";", ",", ".", "..", "{{", "}}", "é", "“", "€", "\xff", "\xc3",
	"\u2028", "\uFFFE", "\uFDD0", "javascript:", "JaVaScRiPt:", "data:", "http:", "mailto:", "//", "<script>", "</script>", "</title>", "<!--", "-->", "]]>", "&amp;", "&#0;", "on", "x onload=", "\" onload=\"", "0", "-1"}

// Fill sets all that can be set in a value, at random: texts that would break out of
// their place, lists of none to three, pointers to something or to nothing.
func Fill(r *rand.Rand, v reflect.Value) { fill(r, v, 0) }

func fill(r *rand.Rand, v reflect.Value, deep int) {
	switch v.Kind() {
	case reflect.String:
		s := ""
		for range r.IntN(5) {
			s += pieces[r.IntN(len(pieces))]
		}
		v.SetString(s)
	case reflect.Bool:
		v.SetBool(r.IntN(2) == 0)
	case reflect.Int:
		v.SetInt(int64(r.IntN(5) - 2))
	case reflect.Slice:
		n := r.IntN(4)
		if deep > 5 {
			n = 0
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			fill(r, v.Index(i), deep+1)
		}
	case reflect.Pointer:
		v.SetZero()
		if deep < 6 && r.IntN(3) > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(r, v.Elem(), deep+1)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() || f.Anonymous && v.Field(i).Kind() == reflect.Struct {
				fill(r, v.Field(i), deep+1)
			}
		}
	}
}
