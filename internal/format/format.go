// Package format declares the format of the notes, once, as tables: for every
// kind of note its keys, and for every key the form of its value, what it means,
// an example, and since which format it is there.
//
// From these tables come what the reader of notes knows and offers, begun
// notes, the page "Writing notes", the help of the command and a JSON Schema for
// editors. A new key is one line in a table (kinds.go), and the reader that
// asks for it: a test holds both together.
package format

import "strings"

// Latest is the newest format that this program reads. A shop says which one
// its notes keep to by format: in shop.yaml; without a word it is the first.
const Latest = 2

// Changes say what came with each format after the first, beside the keys that
// their tables date.
var Changes = []Change{
	{2, "Notes may be drafts, may say who read them and what they were called before, and shop.yaml says which format the notes keep to. A typed claim that would differ in a shop with other mains, rate or rules is a mistake, and so is a rule of shop.yaml that no calculator knows; both are remarks in the first format, and what was valid in it stays valid."},
}

// Change is what came with a format.
type Change struct {
	Format int
	Says   string
}

// Shape is the form in which a value is written.
type Shape int

// The shapes.
const (
	Text   Shape = iota // one plain text
	Name                // small letters, digits and hyphens
	Number              // digits without a unit, from Low to High
	Flag                // true or false
	Word                // one of Words
	Group               // names with values: those of Keys, and where Of is given any others
	Map                 // names that the note gives itself, each with a value of Of
	List                // values of Of; one alone may stand without brackets
	Either              // one of Or
)

// Value is the form of a value.
type Value struct {
	Shape     Shape
	Low, High float64 // of a number; a High of 1e9 and more is no bound
	Words     []string
	Keys      Keys
	Of        *Value
	Or        []Value
	// Refines tells that a device made of common blocks may write here only what
	// differs, and "no" for what is left out.
	Refines bool
	Worded  bool   // of what a group holds: it is called by anybody's words, not by a plain name
	Loose   bool   // a schema says no more of it than that it is a list
	Short   string // its form in words, where they do not follow from the above
}

// Place tells in which notes a key is known.
type Place int

// The places.
const (
	Everywhere Place = iota
	OfBlocks         // only where a device is made of common blocks
)

// Key is one key of a note or of a group inside it.
type Key struct {
	Name    string
	Value   Value
	Help    string // one sentence for whoever writes notes
	Called  string // as a mistake calls it; "" for the name itself
	Need    string // where the key must be there: what to do if it is not
	Unless  string // another key or a reason that makes it needless all the same
	Begin   string // what a begun note holds where the key must be there and nothing is known
	Example string // as it is written behind the name
	Since   int    // the format it came with; 0 for the first
	In      Place
	Refused string // why it cannot stand here, where somebody may want it to; Need then says what to do
}

// As is what a mistake calls the key.
func (k *Key) As() string {
	if k.Called != "" {
		return k.Called
	}
	return k.Name
}

// Remedy says what to do where the key must be there and is not; "" where it
// need not be. A key that no table has need not be anywhere.
func (k *Key) Remedy() string {
	if k == nil || k.Refused != "" {
		return ""
	}
	return k.Need
}

// From is the format that a key came with.
func (k *Key) From() int { return max(k.Since, 1) }

// Keys are the keys of a group in the order in which they are written.
type Keys []*Key

// Find finds a key by name.
func (ks Keys) Find(name string) *Key {
	for _, k := range ks {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// Names are the names of the keys that are known everywhere, or of all of them.
func (ks Keys) Names(all bool) []string {
	var out []string
	for _, k := range ks {
		if k.Refused == "" && (all || k.In == Everywhere) {
			out = append(out, k.Name)
		}
	}
	return out
}

// Kind is a kind of note, or one of the shop's own files.
type Kind struct {
	Name  string // "fault"
	Title string // "Fault note"
	File  string // where it lies, "content/faults/NAME.md"
	Says  string // what it is for
	Below string // what the text below the front matter holds; "" for a file without
	Keys  Keys
	Each  string // "" or what the top names are, where the note gives them itself
}

// Find finds a kind by name.
func Find(name string) (*Kind, bool) {
	for _, k := range Kinds {
		if k.Name == name {
			return k, true
		}
	}
	return nil, false
}

// Says is a value's form in words, for a table of keys.
func (v Value) Says() string {
	if v.Short != "" {
		return v.Short
	}
	switch v.Shape {
	case Name:
		return "a plain name"
	case Number:
		return "a number " + v.bounds()
	case Flag:
		return "true or false"
	case Word:
		return "one of " + strings.Join(v.Words, ", ")
	case Group:
		return "a group"
	case Map:
		return "names, each with " + v.Of.Says()
	case List:
		if v.Of.Shape == Text {
			return "a list of texts"
		}
		return "a list: " + v.Of.Says()
	case Either:
		var parts []string
		for _, o := range v.Or {
			parts = append(parts, o.Says())
		}
		return strings.Join(parts, "; or ")
	}
	return "a text"
}

func (v Value) bounds() string {
	if v.High >= 1e9 {
		return "of at least " + digits(v.Low)
	}
	return "from " + digits(v.Low) + " to " + digits(v.High)
}

// Inside is how a group of names is read where the value is one: its keys, and
// what a name that is no key holds. ok is false where no group is allowed.
func (v Value) Inside() (keys Keys, of *Value, ok bool) {
	switch v.Shape {
	case Group:
		return v.Keys, v.Of, true
	case Map:
		return nil, v.Of, true
	case List: // one alone may stand without brackets
		return v.Of.Inside()
	case Either:
		for _, o := range v.Or {
			if keys, of, ok = o.Inside(); ok && keys != nil {
				return keys, of, ok
			}
		}
		for _, o := range v.Or {
			if keys, of, ok = o.Inside(); ok {
				return keys, of, ok
			}
		}
	}
	return nil, nil, false
}

// Form is the form of a key's value; of no key that of a text.
func (k *Key) Form() Value {
	if k == nil {
		return Value{}
	}
	return k.Value
}

// Home is the one key whose group has a key of that name, "" where none has it, or several have.
func (ks Keys) Home(name string) string {
	home := ""
	for _, key := range ks {
		if inside, _, ok := key.Value.Inside(); ok && key.Value.Shape != List && inside.Find(name) != nil {
			if home != "" {
				return ""
			}
			home = key.Name
		}
	}
	return home
}

// Item is what an entry of a list holds; a value that is no list is its only
// entry.
func (v Value) Item() Value {
	switch v.Shape {
	case List:
		return *v.Of
	case Either:
		for _, o := range v.Or {
			if o.Shape == List {
				return *o.Of
			}
		}
	}
	return v
}

// As is the part of a value that has a shape: the words of a list of words, the
// bounds of a number that may be a group instead. It is the value itself where
// no part has it.
func (v Value) As(s Shape) Value {
	if v.Shape == s {
		return v
	}
	if v.Of != nil && v.Shape == List {
		if of := v.Of.As(s); of.Shape == s {
			return of
		}
	}
	for _, o := range v.Or {
		if of := o.As(s); of.Shape == s {
			return of
		}
	}
	return v
}

// Takes tells whether a value may have a shape: whether As finds it.
func (v *Value) Takes(s Shape) bool {
	if v.Shape == s || v.Of != nil && v.Shape == List && v.Of.Takes(s) {
		return true
	}
	for i := range v.Or {
		if v.Or[i].Takes(s) {
			return true
		}
	}
	return false
}
