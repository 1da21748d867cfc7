package press

import (
	"fmt"
	"reflect"
	"text/template/parse"
)

// test is a value that is only asked whether it is so.
type test func(s *state, dot reflect.Value) bool

// truth is what if and with ask of a value.
func (m *maker) truth(n parse.Node, v value) test {
	if v.of == nil {
		m.refuse(n, "there are no data")
	}
	switch v.of.Kind() {
	case reflect.Bool:
		return func(s *state, dot reflect.Value) bool { return v.get(s, dot).Bool() }
	case reflect.String, reflect.Slice:
		return func(s *state, dot reflect.Value) bool { return v.get(s, dot).Len() > 0 }
	case reflect.Int:
		return func(s *state, dot reflect.Value) bool { return v.get(s, dot).Int() != 0 }
	case reflect.Pointer:
		return func(s *state, dot reflect.Value) bool { return !v.get(s, dot).IsNil() }
	case reflect.Struct:
		return func(*state, reflect.Value) bool { return true }
	}
	m.refuse(n, "a %s is neither so nor not", v.of)
	return nil
}

var yes, no = reflect.ValueOf(true), reflect.ValueOf(false)

func (t test) value() value {
	return value{yes.Type(), func(s *state, dot reflect.Value) reflect.Value {
		if t(s, dot) {
			return yes
		}
		return no
	}}
}

// function is one of those that the templates call.
func (m *maker) function(n *parse.IdentifierNode, args []value) value {
	kinds := ""
	for _, a := range args {
		if a.of == nil {
			m.refuse(n, "there are no data")
		}
		kinds += " " + a.of.Kind().String()
	}
	compare := func(is func(a, b reflect.Value) bool) value {
		a, b := args[0].get, args[1].get
		return test(func(s *state, dot reflect.Value) bool { return is(a(s, dot), b(s, dot)) }).value()
	}
	switch n.Ident + kinds {
	case "eq string string":
		return compare(func(a, b reflect.Value) bool { return a.String() == b.String() })
	case "ne string string":
		return compare(func(a, b reflect.Value) bool { return a.String() != b.String() })
	case "gt int int":
		return compare(func(a, b reflect.Value) bool { return a.Int() > b.Int() })
	case "and bool bool":
		return compare(func(a, b reflect.Value) bool { return a.Bool() && b.Bool() })
	case "len slice", "len string":
		return value{reflect.TypeFor[int](), func(s *state, dot reflect.Value) reflect.Value { return reflect.ValueOf(args[0].get(s, dot).Len()) }}
	case "index slice int":
		return value{args[0].of.Elem(), func(s *state, dot reflect.Value) reflect.Value {
			list, i := args[0].get(s, dot), int(args[1].get(s, dot).Int())
			if i < 0 || i >= list.Len() {
				panic(missing(fmt.Sprintf("there is no number %d among %d", i, list.Len())))
			}
			return list.Index(i)
		}}
	}
	if n.Ident == "not" && len(args) == 1 {
		is := m.truth(n, args[0])
		return test(func(s *state, dot reflect.Value) bool { return !is(s, dot) }).value()
	}
	m.refuse(n, "%s is not known for%s", n.Ident, kinds)
	return value{}
}
