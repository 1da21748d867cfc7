package press

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"text/template/parse"
)

// maker turns trees into steps.
type maker struct {
	trees map[string]*parse.Tree
	forms map[key]*form // also those not finished, for a template may call itself

	tree  *parse.Tree // of the template at hand
	scope []variable
	slots int
}

// variable is one that is in scope.
type variable struct {
	name string
	slot int
	of   reflect.Type
}

// value is something that a template may name: of one type, and how it is found.
type value struct {
	of  reflect.Type // nil for no data
	get func(s *state, dot reflect.Value) reflect.Value
}

// refusal stops the making of a form.
type refusal struct{ error }

func (m *maker) refuse(n parse.Node, format string, args ...any) {
	at, what := m.tree.ErrorContext(n)
	panic(refusal{fmt.Errorf("%s: %s: %s", at, what, fmt.Sprintf(format, args...))})
}

func (m *maker) form(k key) (f *form, err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case refusal:
			err = r
		default:
			panic(r)
		}
	}()
	if m.trees[k.name] == nil {
		return nil, fmt.Errorf("there is no template %q", k.name)
	}
	return m.called(k), nil
}

// called is a template as another one, or Append, calls it.
func (m *maker) called(k key) *form {
	if f, ok := m.forms[k]; ok {
		return f
	}
	f := &form{}
	m.forms[k] = f
	tree, scope, slots := m.tree, m.scope, m.slots
	m.tree, m.scope, m.slots = m.trees[k.name], []variable{{"$", 0, k.of}}, 1
	f.run = m.list(m.tree.Root, k.of)
	f.vars = m.slots
	m.tree, m.scope, m.slots = tree, scope, slots
	return f
}

// list is the steps of some nodes; their variables end with them.
func (m *maker) list(l *parse.ListNode, dot reflect.Type) step {
	if l == nil {
		return func(*state, reflect.Value) {}
	}
	outer := len(m.scope)
	var steps []step
	for _, n := range l.Nodes {
		steps = append(steps, m.node(n, dot))
	}
	m.scope = m.scope[:outer]
	return func(s *state, dot reflect.Value) {
		for _, do := range steps {
			do(s, dot)
		}
	}
}

func (m *maker) node(n parse.Node, dot reflect.Type) step {
	switch n := n.(type) {
	case *parse.TextNode:
		text := n.Text
		return func(s *state, _ reflect.Value) { s.b = append(s.b, text...) }
	case *parse.ActionNode:
		return m.action(n, dot)
	case *parse.IfNode:
		if len(n.Pipe.Decl) > 0 {
			break
		}
		is := m.truth(n, m.pipe(n.Pipe, dot))
		then, other := m.list(n.List, dot), m.list(n.ElseList, dot)
		return func(s *state, dot reflect.Value) {
			if is(s, dot) {
				then(s, dot)
			} else {
				other(s, dot)
			}
		}
	case *parse.WithNode:
		if len(n.Pipe.Decl) > 0 {
			break
		}
		v := m.pipe(n.Pipe, dot)
		is := m.truth(n, v)
		then, other := m.list(n.List, v.of), m.list(n.ElseList, dot)
		return func(s *state, dot reflect.Value) {
			if is(s, dot) {
				then(s, v.get(s, dot))
			} else {
				other(s, dot)
			}
		}
	case *parse.RangeNode:
		return m.ranged(n, dot)
	case *parse.TemplateNode:
		if m.trees[n.Name] == nil {
			m.refuse(n, "there is no template %q for such a place", n.Name)
		}
		if n.Pipe == nil {
			f := m.called(key{n.Name, nil})
			return func(s *state, _ reflect.Value) { f.call(s, reflect.Value{}) }
		}
		v := m.pipe(n.Pipe, dot)
		f := m.called(key{n.Name, v.of})
		return func(s *state, dot reflect.Value) { f.call(s, v.get(s, dot)) }
	}
	m.refuse(n, "not known here")
	return nil
}

// action writes a value, or sets a variable.
func (m *maker) action(n *parse.ActionNode, dot reflect.Type) step {
	if len(n.Pipe.Decl) > 0 {
		if len(n.Pipe.Decl) > 1 || n.Pipe.IsAssign {
			m.refuse(n, "not known here")
		}
		v := m.pipe(n.Pipe, dot)
		slot := m.declare(n.Pipe.Decl[0], v.of)
		return func(s *state, dot reflect.Value) { s.stack[s.base+slot] = v.get(s, dot) }
	}
	v := m.command(n.Pipe.Cmds[0], dot)
	var through []string
	for _, c := range n.Pipe.Cmds[1:] {
		through = append(through, strings.TrimPrefix(c.String(), "_html_template_"))
	}
	write := escaperOf(strings.Join(through, " "), v.of)
	if write == nil {
		m.refuse(n, "a %s is not written through %q", v.of, through)
	}
	switch v.of.Kind() {
	case reflect.String:
		return func(s *state, dot reflect.Value) { s.b = write(s.b, v.get(s, dot).String()) }
	case reflect.Int:
		return func(s *state, dot reflect.Value) { s.b = write(s.b, strconv.FormatInt(v.get(s, dot).Int(), 10)) }
	}
	m.refuse(n, "a %s is not written", v.of)
	return nil
}

func (m *maker) ranged(n *parse.RangeNode, dot reflect.Type) step {
	v := m.pipe(n.Pipe, dot)
	if v.of == nil || v.of.Kind() != reflect.Slice {
		m.refuse(n, "a %s is no list", v.of)
	}
	outer := len(m.scope)
	index, element := -1, -1 // slots of its variables
	if d := n.Pipe.Decl; len(d) > 0 {
		if len(d) == 2 {
			index = m.declare(d[0], reflect.TypeFor[int]())
		}
		element = m.declare(d[len(d)-1], v.of.Elem())
	}
	each := m.list(n.List, v.of.Elem())
	m.scope = m.scope[:outer]
	none := m.list(n.ElseList, dot)
	return func(s *state, dot reflect.Value) {
		list := v.get(s, dot)
		if list.Len() == 0 {
			none(s, dot)
		}
		for i := range list.Len() {
			x := list.Index(i)
			if index >= 0 {
				s.stack[s.base+index] = reflect.ValueOf(i)
			}
			if element >= 0 {
				s.stack[s.base+element] = x
			}
			each(s, x)
		}
	}
}

func (m *maker) declare(n *parse.VariableNode, of reflect.Type) (slot int) {
	slot = m.slots
	m.scope = append(m.scope, variable{n.Ident[0], slot, of})
	m.slots++
	return slot
}

// pipe is a pipeline of one command.
func (m *maker) pipe(n *parse.PipeNode, dot reflect.Type) value {
	if len(n.Cmds) != 1 {
		m.refuse(n, "not known here")
	}
	return m.command(n.Cmds[0], dot)
}

func (m *maker) command(n *parse.CommandNode, dot reflect.Type) value {
	if f, ok := n.Args[0].(*parse.IdentifierNode); ok {
		var args []value
		for _, a := range n.Args[1:] {
			args = append(args, m.argument(a, dot))
		}
		return m.function(f, args)
	}
	if len(n.Args) > 1 {
		m.refuse(n, "not known here")
	}
	return m.argument(n.Args[0], dot)
}

func (m *maker) argument(n parse.Node, dot reflect.Type) value {
	here := value{dot, func(_ *state, dot reflect.Value) reflect.Value { return dot }}
	switch n := n.(type) {
	case *parse.DotNode:
		return here
	case *parse.FieldNode:
		return m.fields(n, here, n.Ident)
	case *parse.VariableNode:
		for i := len(m.scope) - 1; i >= 0; i-- {
			if x := m.scope[i]; x.name == n.Ident[0] {
				return m.fields(n, value{x.of, func(s *state, _ reflect.Value) reflect.Value { return s.stack[s.base+x.slot] }}, n.Ident[1:])
			}
		}
	case *parse.ChainNode:
		return m.fields(n, m.argument(n.Node, dot), n.Field)
	case *parse.PipeNode:
		return m.pipe(n, dot)
	case *parse.StringNode:
		return constant(n.Text)
	case *parse.NumberNode:
		if n.IsInt {
			return constant(int(n.Int64))
		}
	}
	m.refuse(n, "not known here")
	return value{}
}

func constant(x any) value {
	v := reflect.ValueOf(x)
	return value{v.Type(), func(*state, reflect.Value) reflect.Value { return v }}
}

// fields follows the names of fields.
func (m *maker) fields(n parse.Node, v value, names []string) value {
	for _, name := range names {
		v = m.field(n, v, name)
	}
	return v
}

func (m *maker) field(n parse.Node, v value, name string) value {
	if v.of == nil {
		m.refuse(n, "there are no data")
	}
	of, get := v.of, v.get
	if _, method := of.MethodByName(name); method {
		m.refuse(n, "%s of %s is a method", name, of)
	}
	if of.Kind() == reflect.Pointer {
		of = of.Elem()
		get = func(s *state, dot reflect.Value) reflect.Value {
			p := v.get(s, dot)
			if p.IsNil() {
				panic(missing("there is no " + of.Name() + " to take " + name + " from"))
			}
			return p.Elem()
		}
	}
	if of.Kind() != reflect.Struct {
		m.refuse(n, "a %s has no %s", of, name)
	}
	f, ok := of.FieldByName(name)
	if !ok || !f.IsExported() {
		m.refuse(n, "a %s has no %s", of, name)
	}
	if len(f.Index) == 1 {
		i := f.Index[0]
		return value{f.Type, func(s *state, dot reflect.Value) reflect.Value { return get(s, dot).Field(i) }}
	}
	return value{f.Type, func(s *state, dot reflect.Value) reflect.Value { return get(s, dot).FieldByIndex(f.Index) }}
}
