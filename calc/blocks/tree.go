package blocks

// Place is where something stands in a note: lines and columns count from 1,
// columns in characters. The zero Place is nowhere.
type Place struct {
	File         string
	Line, Column int
}

// Tree is a piece of a note: a text, a list, or named fields in their order.
type Tree struct {
	Text   string  `json:"t,omitempty"`
	List   []Tree  `json:"l,omitempty"`
	Fields []Field `json:"m,omitempty"`
	At     Place   `json:"-"`
}

// Field is one named entry of a tree.
type Field struct {
	Name  string `json:"n"`
	Value Tree   `json:"v"`
	At    Place  `json:"-"` // of the name
}

// Text is a tree of one text.
func Text(s string) Tree { return Tree{Text: s} }

// Texts is a list of texts.
func Texts[T ~string](list []T) Tree {
	t := Tree{List: []Tree{}}
	for _, s := range list {
		t.List = append(t.List, Text(string(s)))
	}
	return t
}

// IsText tells whether the tree is one text, perhaps an empty one.
func (t Tree) IsText() bool { return t.List == nil && t.Fields == nil }

// Empty tells whether nothing stands there.
func (t Tree) Empty() bool { return t.Text == "" && len(t.List) == 0 && len(t.Fields) == 0 }

// Get finds a field; an empty one counts as not there.
func (t Tree) Get(name string) (Tree, bool) {
	for _, f := range t.Fields {
		if f.Name == name {
			return f.Value, !f.Value.Empty()
		}
	}
	return Tree{}, false
}

// Str is the text of a field, "" where there is none.
func (t Tree) Str(name string) string {
	v, _ := t.Get(name)
	return v.Text
}

// Has tells whether a field is there, even an empty one.
func (t Tree) Has(name string) bool {
	for _, f := range t.Fields {
		if f.Name == name {
			return true
		}
	}
	return false
}

// Items are the trees of a list; a tree that is no list is a list of one, and an
// empty one a list of none.
func (t Tree) Items() []Tree {
	if t.List != nil {
		return t.List
	}
	if t.Empty() {
		return nil
	}
	return []Tree{t}
}

// Strings are the texts of a list.
func (t Tree) Strings() []string {
	var out []string
	for _, v := range t.Items() {
		if v.Text != "" {
			out = append(out, v.Text)
		}
	}
	return out
}

// Set gives a field a value, in its old place or as the last one.
func (t *Tree) Set(name string, v Tree) {
	for i := range t.Fields {
		if t.Fields[i].Name == name {
			if v.At == (Place{}) {
				v.At = t.Fields[i].Value.At
			}
			t.Fields[i].Value = v
			return
		}
	}
	t.Fields = append(t.Fields, Field{Name: name, Value: v, At: v.At})
}

// Drop takes a field out.
func (t *Tree) Drop(names ...string) {
	kept := make([]Field, 0, len(t.Fields))
	for _, f := range t.Fields {
		drop := false
		for _, n := range names {
			drop = drop || n == f.Name
		}
		if !drop {
			kept = append(kept, f)
		}
	}
	t.Fields = kept
}

// copied is a tree whose fields and lists can be changed without changing t.
func (t Tree) copied() Tree {
	if t.List != nil {
		list := make([]Tree, len(t.List))
		for i, v := range t.List {
			list[i] = v.copied()
		}
		t.List = list
	}
	if t.Fields != nil {
		fields := make([]Field, len(t.Fields))
		for i, f := range t.Fields {
			fields[i] = Field{f.Name, f.Value.copied(), f.At}
		}
		t.Fields = fields
	}
	return t
}

// Merge lays b over a: fields merge by name, everything else replaces, and "no"
// leaves a field out.
func Merge(a, b Tree) Tree {
	if b.Empty() {
		return a.copied()
	}
	if a.Fields == nil || b.Fields == nil {
		return b.copied()
	}
	out := a.copied()
	for _, f := range b.Fields {
		if left(f.Value) {
			out.Drop(f.Name)
			continue
		}
		if old, ok := out.Get(f.Name); ok {
			out.Set(f.Name, Merge(old, f.Value))
		} else {
			out.Drop(f.Name)
			out.Fields = append(out.Fields, Field{f.Name, f.Value.copied(), f.At})
		}
	}
	return out
}

// left tells whether a value says that something is left out.
func left(t Tree) bool { return t.IsText() && t.Text == "no" }

// each calls work for every text below t and puts in what it gives.
func (t Tree) each(work func(Tree) string) Tree {
	switch {
	case t.List != nil:
		for i, v := range t.List {
			t.List[i] = v.each(work)
		}
	case t.Fields != nil:
		for i, f := range t.Fields {
			t.Fields[i].Value = f.Value.each(work)
		}
	case t.Text != "":
		t.Text = work(t)
	}
	return t
}
