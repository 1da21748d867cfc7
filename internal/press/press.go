// Package press executes the pages' templates: to the same bytes as html/template
// does, in a tenth of the time.
//
// What is safe html/template alone decides: it rewrites a template so that each value
// passes the escapers of its place, in a text, an attribute or an address. A Press
// takes the rewritten tree, finds once for each type which field a name means, and
// from then on only appends. What it does not know, be it an escaper, a method or a
// map, it refuses before it has written anything. TestSame holds it against
// html/template with hostile values.
package press

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"sync"
	"text/template/parse"
)

// Press executes a set of templates. Several goroutines may use one.
type Press struct {
	trees map[string]*parse.Tree

	mu    sync.Mutex
	forms map[key]*form
}

// key is a template for data of one type.
type key struct {
	name string
	of   reflect.Type
}

// form is a template made ready for data of one type.
type form struct {
	run  step
	vars int // how many variables it has, $ among them
}

// New makes all templates of a set safe, and tells of one that cannot be.
func New(set *template.Template) (*Press, error) {
	p := &Press{trees: map[string]*parse.Tree{}, forms: map[key]*form{}}
	for _, t := range set.Templates() {
		// the first execution rewrites it; that it then finds no data does not matter
		var unsafe *template.Error
		if err := t.Execute(io.Discard, nil); errors.As(err, &unsafe) {
			return nil, err
		}
	}
	for _, t := range set.Templates() {
		p.trees[t.Name()] = t.Tree
	}
	return p, nil
}

// Append appends a template filled with data. After an error what was appended is
// worth nothing.
func (p *Press) Append(b []byte, name string, data any) (_ []byte, err error) {
	f, err := p.form(name, reflect.TypeOf(data))
	if err != nil {
		return b, err
	}
	defer func() {
		switch wrong := recover().(type) {
		case nil:
		case missing:
			err = fmt.Errorf("%s: %s", name, wrong)
		default:
			panic(wrong)
		}
	}()
	s := &state{b: b}
	f.call(s, reflect.ValueOf(data))
	return s.b, nil
}

// form is a template for a type, made the first time that it is asked for.
func (p *Press) form(name string, of reflect.Type) (*form, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	k := key{name, of}
	f, ok := p.forms[k]
	if !ok {
		m := &maker{trees: p.trees, forms: map[key]*form{}}
		var err error
		if f, err = m.form(k); err != nil {
			return nil, err
		}
		p.forms[k] = f
	}
	return f, nil
}

// state is an execution under way.
type state struct {
	b     []byte
	stack []reflect.Value // the variables of the templates that are being executed
	base  int             // of the innermost one's
}

// step writes one node.
type step func(s *state, dot reflect.Value)

// missing is what stops an execution: data that a template asks for and that are
// not there.
type missing string

func (f *form) call(s *state, data reflect.Value) {
	outer := s.base
	s.base = len(s.stack)
	s.stack = append(s.stack, data) // $
	for range f.vars - 1 {
		s.stack = append(s.stack, reflect.Value{})
	}
	f.run(s, data)
	s.stack, s.base = s.stack[:s.base], outer
}
