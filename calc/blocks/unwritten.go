package blocks

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"faultleaf/calc"
	"faultleaf/calc/trace"
)

// Unwritten is the name of a device that nobody has written up.
const Unwritten = "unwritten"

// Picked is a device made at the bench: its blocks in order, its rating plate,
// its class of protection.
type Picked struct {
	Title string `json:"title"`
	// Blocks are id=kind or kind alone, parted by blanks or commas; [ a | b ] are
	// ways side by side. A kind may go by what it is called: cord for mains-cord.
	Blocks string            `json:"blocks"`
	Plate  map[string]string `json:"plate"`
	Class  string            `json:"class"` // I, II or III: asked for, never assumed
	Has    []string          `json:"has"`   // options, for whatever block has them
	Shows  []string          `json:"shows"` // complaints that were told, so that the device knows them
}

// plain is one line of plain characters: what was picked may come from an address.
func plain(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool {
		return r <= ' ' || r >= 0x7f && r < 0xa0 || r == utf8.RuneError || r == 0x2028 || r == 0x2029
	}), " ")
}

// Class says whether a class of protection is one.
func Class(class string) error {
	if !slices.Contains([]string{"I", "II", "III"}, class) {
		return errors.New("the class of protection is I (with an earth), II (double insulated) or III (safe extra-low voltage), not “" + class + "”")
	}
	return nil
}

// Note writes what was picked as the front matter of a device's note.
func (p Picked) Note(lib *Library) (Tree, error) {
	p.Title, p.Blocks, p.Class = plain(p.Title), plain(p.Blocks), plain(p.Class)
	chain, err := p.chain(lib)
	if err != nil {
		return Tree{}, err
	}
	title := p.Title
	if title == "" {
		title = "Unwritten device"
	}
	n := Tree{Fields: []Field{{Name: "title", Value: Text(title)}}}
	if p.Class != "" {
		if err := Class(p.Class); err != nil {
			return Tree{}, err
		}
		n.Set("class", Text(p.Class))
	}
	plate := Tree{Fields: []Field{}}
	for _, k := range sortedKeys(p.Plate) {
		if !trace.IsID(k) {
			return Tree{}, errors.New("the plate's “" + plain(k) + "” is not a plain name; use small letters, like power")
		}
		if v := plain(p.Plate[k]); v != "" {
			plate.Set(k, Text(v))
		}
	}
	if len(plate.Fields) > 0 {
		n.Set("plate", plate)
	}
	n.Set("blocks", chain)
	symptoms := Tree{Fields: []Field{}}
	for _, id := range append([]string{"dead"}, p.Shows...) {
		if id == "dead" || lib.complaint(id) != nil {
			symptoms.Set(id, Tree{Fields: []Field{{Name: "says", Value: Text(lib.says(id, "Nothing happens"))}, {Name: "is", Value: Text(id)}}})
		}
	}
	n.Set("symptoms", symptoms)
	return n, nil
}

func (l *Library) says(id, otherwise string) string {
	if c := l.complaint(id); c != nil {
		return c.Says
	}
	return otherwise
}

func sortedKeys(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// called finds the kind that goes by a name: its own, else the one kind whose
// name ends with it, or that is called so in a chain.
func (l *Library) called(name string) (string, error) {
	if l.Kinds[name] != nil {
		return name, nil
	}
	says := func(k *Kind) bool { return strings.ReplaceAll(k.Says(), " ", "-") == name }
	ends := func(k *Kind) bool { return strings.HasSuffix(k.Name, "-"+name) }
	for _, fits := range []func(*Kind) bool{func(k *Kind) bool { return says(k) && ends(k) }, ends, says} {
		var found []string
		for _, id := range l.KindNames() {
			if fits(l.Kinds[id]) {
				found = append(found, id)
			}
		}
		switch {
		case len(found) == 1:
			return found[0], nil
		case len(found) > 1:
			return "", errors.New("“" + name + "” may be " + strings.Join(found, " or ") + "; name one of them, like " + name + "=" + found[0])
		}
	}
	return name, nil
}

// chain reads what was picked.
func (p Picked) chain(lib *Library) (Tree, error) {
	var err error
	top := Tree{List: []Tree{}}
	rows := []*Tree{&top} // the row that is being written, inside its surroundings
	var branches []*Tree
	taken := map[string]bool{}
	words := strings.NewReplacer(",", " ", "[", " [ ", "]", " ] ", "|", " | ").Replace(p.Blocks)
	for _, w := range strings.Fields(words) {
		row := rows[len(rows)-1]
		switch w {
		case "[":
			branches = append(branches, &Tree{List: []Tree{}})
			rows = append(rows, &Tree{List: []Tree{}})
		case "|", "]":
			if len(branches) == 0 {
				return top, errors.New("a “" + w + "” stands outside of brackets; write ways side by side like [ element=heating-wire | motor=small-fan-motor ]")
			}
			b := branches[len(branches)-1]
			if len(row.List) == 0 {
				return top, errors.New("a way in brackets holds no block")
			}
			b.List = append(b.List, *row)
			rows = rows[:len(rows)-1]
			if w == "|" {
				rows = append(rows, &Tree{List: []Tree{}})
				continue
			}
			branches = branches[:len(branches)-1]
			row = rows[len(rows)-1]
			row.List = append(row.List, *b)
		default:
			id, kind, named := strings.Cut(w, "=")
			if !named {
				kind = id
			}
			if kind, err = lib.called(kind); err != nil {
				return top, err
			}
			if !named {
				for n := 2; taken[id]; n++ {
					id = kind + "-" + strconv.Itoa(n)
				}
			}
			k := lib.Kinds[kind]
			switch {
			case !trace.IsID(id):
				return top, errors.New("“" + id + "” is no plain name; use small letters, digits and hyphens")
			case k == nil:
				return top, errors.New("there is no block “" + kind + "”; " + near(kind, lib.KindNames()))
			case taken[id]:
				return top, errors.New("the block “" + id + "” stands in the chain twice; name one of them otherwise, like " + id + "-2=" + kind)
			case k.Forbidden() != "":
				return top, errors.New(k.Title() + ": " + k.Forbidden())
			}
			taken[id] = true
			entry := Tree{Fields: []Field{{Name: id, Value: Text(kind)}}}
			options, _ := k.Note.Get("options")
			has := Tree{List: []Tree{}}
			for _, o := range p.Has {
				if slices.Contains(options.Strings(), o) {
					has.List = append(has.List, Text(o))
				}
			}
			if len(has.List) > 0 {
				entry.Fields[0].Value = Tree{Fields: []Field{{Name: "is", Value: Text(kind)}, {Name: "has", Value: has}}}
			}
			row.List = append(row.List, entry)
		}
	}
	if len(branches) > 0 {
		return top, errors.New("a bracket is not closed")
	}
	if len(top.List) == 0 {
		return top, errors.New("no block is picked; begin with one that brings the energy, like mains-plug")
	}
	return top, nil
}

// Expand makes the device that was picked; what is wrong with it is one sentence.
func (p Picked) Expand(lib *Library, compute Compute) (*trace.Device, Expanded, error) {
	note, err := p.Note(lib)
	if err != nil {
		return nil, Expanded{}, err
	}
	x := Expand(Plan{Name: Unwritten, Note: note}, lib, compute)
	for _, r := range x.Remarks {
		if r.Mistake {
			if r.Do != "" {
				r.Says += "; " + r.Do
			}
			return nil, x, errors.New(strings.Replace(r.Says, calc.AddToPlate, "read it off the rating plate and give it with the rest, like power=2kW", 1))
		}
	}
	if len(x.Faults) == 0 {
		return nil, x, errors.New("no block of this chain has a fault to look for")
	}
	d, err := x.Device(Unwritten, compute)
	return d, x, err
}

// Front is the note of what was picked, as a file of content/devices/.
func (p Picked) Front(lib *Library) (string, error) {
	note, err := p.Note(lib)
	if err != nil {
		return "", err
	}
	return "---\n" + Write(note).Text + "---\n\nBegun at the bench from its blocks; nobody has written it up. Opening it is reckoned at 10 minutes.\n", nil
}

// Begin is the note of what was picked with what is still to be looked up, in
// comments: complaints that its faults answer, and how it is opened.
func (p Picked) Begin(lib *Library) (string, error) {
	note, err := p.Note(lib)
	if err != nil {
		return "", err
	}
	var more strings.Builder
	more.WriteString("# What else owners say of it, to be moved up under symptoms: in their words:\n")
	chain, _ := note.Get("blocks")
	said := map[string]bool{"dead": true, stops: true}
	for _, id := range p.Shows {
		said[id] = true
	}
	var kinds func(t Tree)
	kinds = func(t Tree) {
		for _, v := range t.List {
			kinds(v)
		}
		for _, f := range t.Fields {
			is := f.Value.Text
			if f.Value.Fields != nil {
				is = f.Value.Str("is")
			}
			k := lib.Kinds[is]
			if k == nil {
				continue
			}
			for _, fault := range k.Faults() {
				complaints, _ := fault.Value.Get("complaints")
				for _, c := range complaints.Fields {
					if known := lib.complaint(c.Name); known != nil && !said[c.Name] {
						said[c.Name] = true
						more.WriteString("#   " + c.Name + ": {says: \"" + plain(strings.ReplaceAll(known.Says, "\"", "'")) + "\", is: " + c.Name + "}\n")
					}
				}
			}
		}
	}
	kinds(chain)
	more.WriteString("# How it is opened, and then reach: case-open behind the blocks inside:\n# access:\n#   case-open: {does: Open the case, minutes: 10, undo: 10}\n")
	return "---\n" + Write(note).Text + more.String() + "---\n\nBegun from its blocks. Opening it is reckoned at 10 minutes until the note says how.\n", nil
}

// Row is the chain as a plain row of names.
func Row(chain []trace.Block) string {
	var out []string
	for _, b := range chain {
		if b.Branch == nil {
			out = append(out, trace.Plain(string(b.ID)))
			continue
		}
		var ways []string
		for _, w := range b.Branch {
			ways = append(ways, Row(w))
		}
		out = append(out, "( "+strings.Join(ways, " | ")+" )")
	}
	return strings.Join(out, " → ")
}
