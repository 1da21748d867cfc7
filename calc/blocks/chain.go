package blocks

import (
	"slices"
	"strconv"
	"strings"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// Entry is one block in a device's chain.
type Entry struct {
	ID      string
	Kind    *Kind // nil for a block of the device's own
	At      Place
	Ways    int // of alike ways side by side that this entry stands for, from 1
	Plate   map[string]string
	own     Tree // what the device says of it
	carries string
	work    string
	ohms    string
	says    string
}

// is tells a yes-or-no property, the entry's word before the kind's.
func (e *Entry) is(key string) bool { return e.word(key) == "true" }

// word is a property, the entry's before the kind's.
func (e *Entry) word(key string) string {
	if v, ok := e.own.Get(key); ok {
		return v.Text
	}
	if e.Kind != nil {
		return e.Kind.Note.Str(key)
	}
	return ""
}

// source tells whether the chain begins with it.
func (e *Entry) source() bool { s := e.word("source"); return s != "" && s != "false" }

// current tells whether it carries current.
func (e *Entry) current() bool { return e.carries == "current" }

// node is an entry of the chain, or a place where ways lie side by side.
type node struct {
	entry *Entry
	ways  [][]node
}

// chainOf reads the blocks of a device.
func (d *device) chainOf(v Tree) []node {
	var out []node
	after := false // the item before was a list too
	for _, item := range v.Items() {
		if item.List == nil {
			after = false
			if e := d.entryOf(item); e != nil {
				out = append(out, node{entry: e})
			}
			continue
		}
		if !after {
			out = append(out, node{})
		}
		after = true
		n := &out[len(out)-1]
		lists := slices.ContainsFunc(item.List, func(t Tree) bool { return t.List != nil })
		if !lists {
			n.ways = append(n.ways, d.chainOf(item))
			continue
		}
		for _, w := range item.List {
			if w.List == nil {
				w = Tree{List: []Tree{w}, At: w.At}
			}
			n.ways = append(n.ways, d.chainOf(w))
		}
	}
	return out
}

func (d *device) entryOf(item Tree) *Entry {
	e := &Entry{At: item.At, Ways: 1, Plate: d.plate}
	switch {
	case item.IsText():
		e.ID = item.Text
	case len(item.Fields) > 1 && d.lib.Kinds[item.Fields[0].Value.Text] != nil && d.beside(item.Fields[1:]):
		f := item.Fields[0]
		rest := make([]string, 0, len(item.Fields))
		for _, other := range item.Fields[1:] {
			text := "…"
			if other.Value.IsText() {
				text = other.Value.Text
			}
			rest = append(rest, other.Name+": "+text)
		}
		d.root(item.Fields[1].At, "what is said of the block “"+f.Name+"” stands beside it, and not in its own braces",
			"write {"+f.Name+": {is: "+f.Value.Text+", "+strings.Join(rest, ", ")+"}}")
		d.lost = true
		return nil
	case len(item.Fields) != 1:
		d.wrong(item.At, "each block of the chain stands by itself", "write - cord: mains-cord on a line of its own, or put it into its own brackets")
		return nil
	default:
		f := item.Fields[0]
		e.ID, e.At = f.Name, f.At
		switch {
		case f.Value.Text == "protective":
			e.own.Set("protective", Tree{Text: "true", At: f.Value.At})
		case f.Value.IsText():
			e.own.Set("is", f.Value)
		case f.Value.Fields != nil:
			e.own = f.Value.copied()
		default:
			d.wrong(f.At, "what is said of the block “"+e.ID+"” should be a block's name or a group of name: value", "write it like cord: mains-cord")
			return nil
		}
	}
	if !trace.IsID(e.ID) {
		d.wrong(e.At, "the block “"+e.ID+"” has no plain name", "use small letters, digits and hyphens, like cut-out")
		return nil
	}
	if d.entry(e.ID) != nil {
		d.wrong(e.At, "the block “"+e.ID+"” stands in the chain twice", "give each its own name")
		return nil
	}
	if is, ok := e.own.Get("is"); ok {
		if e.Kind = d.lib.Kinds[is.Text]; e.Kind == nil {
			d.root(is.At, "there is no block note “"+is.Text+"”", near(is.Text, d.lib.KindNames()))
			d.lost = true
		}
	}
	d.checkEntry(e)
	e.carries, e.work, e.ohms, e.says = e.word("carries"), e.word("work"), e.word("ohms"), e.word("says")
	if e.says == "" {
		e.says = strings.ReplaceAll(e.ID, "-", " ")
	}
	if v, ok := e.own.Get("plate"); ok {
		e.Plate = map[string]string{}
		for k, p := range d.plate {
			e.Plate[k] = p
		}
		for _, f := range v.Fields {
			e.Plate[f.Name] = quantity.Spaced(f.Value.Text)
		}
	}
	d.order = append(d.order, e)
	return e
}

// beside tells whether these stand in one pair of braces with a block, and are no blocks themselves.
func (d *device) beside(fields []Field) bool {
	return len(fields) > 0 && !slices.ContainsFunc(fields, func(f Field) bool { return d.lib.Kinds[f.Value.Text] != nil })
}

// checkEntry says what is wrong with what the device says of a block.
func (d *device) checkEntry(e *Entry) {
	own := e.own
	if v, ok := own.Get("ways"); ok {
		n, err := strconv.Atoi(v.Text)
		if err != nil || n < 1 || n > 100 {
			d.wrong(v.At, "“"+v.Text+"” is no number of ways", "write how many alike ways lie side by side, like 2")
		} else {
			e.Ways = n
		}
	}
	if v, ok := own.Get("carries"); ok && !slices.Contains([]string{"current", "motion", "air", "water"}, v.Text) {
		d.wrong(v.At, "carries cannot be “"+v.Text+"”", "it may be current, motion, air, water")
	}
	if v, ok := own.Get("work"); ok && !slices.Contains(Works(), v.Text) {
		d.wrong(v.At, "work cannot be “"+v.Text+"”", near(v.Text, Works()))
	}
	if v, ok := own.Get("seen"); ok {
		if _, _, ok := metOften(v); !ok {
			d.wrong(v.At, "seen should be a number of cases or a share, not “"+v.Text+"”", "write it like seen: 4, or seen: {share: 0.59}")
			e.own.Drop("seen")
		}
	}
	if e.Kind == nil {
		return
	}
	options, _ := e.Kind.Note.Get("options")
	has, _ := own.Get("has")
	for _, v := range has.Items() {
		if !slices.Contains(options.Strings(), v.Text) {
			d.wrong(v.At, "a "+e.Kind.Name+" has no option “"+v.Text+"”", near(v.Text, options.Strings()))
		}
	}
	parts := slices.Concat(names(e.Kind.Tests()), names(e.Kind.Faults()))
	without, _ := own.Get("without")
	for _, v := range without.Items() {
		if !slices.Contains(parts, v.Text) {
			d.wrong(v.At, "a "+e.Kind.Name+" has no test and no fault “"+v.Text+"” to be left out", near(v.Text, parts))
		}
	}
	if reach, ok := own.Get("reach"); ok && reach.Fields != nil {
		roles, _ := e.Kind.Note.Get("reach")
		for _, f := range reach.Fields {
			if !slices.Contains(names(roles.Fields), f.Name) {
				d.wrong(f.At, "a "+e.Kind.Name+" names no place “"+f.Name+"” to be reached", near(f.Name, names(roles.Fields)))
			}
		}
	}
}

// way finds the innermost way that holds an entry, and the nodes above it: the
// rows of the chain from the trunk down to that way.
func (d *device) rows(e *Entry) [][]node {
	var find func(row []node) [][]node
	find = func(row []node) [][]node {
		for _, n := range row {
			if n.entry == e {
				return [][]node{row}
			}
			for _, w := range n.ways {
				if below := find(w); below != nil {
					return append([][]node{row}, below...)
				}
			}
		}
		return nil
	}
	return find(d.tree)
}

// within lists the entries of a row and of the ways inside it.
func within(row []node) []*Entry {
	var out []*Entry
	for _, n := range row {
		if n.entry != nil {
			out = append(out, n.entry)
		}
		for _, w := range n.ways {
			out = append(out, within(w)...)
		}
	}
	return out
}

// works are the sorts of work that some entries do, each once for each entry.
func works(entries []*Entry) []string {
	var out []string
	for _, e := range entries {
		if e.work != "" {
			out = append(out, e.work)
		}
	}
	return out
}

// lost says which works stop if a block passes nothing, and whether all do. One
// of several alike ways stops none: it weakens.
func (d *device) lostWork(e *Entry) (stopped []string, all, weakens bool) {
	every := works(d.order)
	switch e.carries {
	case "current":
		if e.Ways > 1 {
			return []string{e.work}, false, true
		}
		rows := d.rows(e)
		if len(rows) < 2 { // in the trunk
			return every, true, false
		}
		stopped = works(within(rows[len(rows)-1]))
		return stopped, len(stopped) == len(every), false
	case "motion":
		return []string{"motion"}, false, false
	case "air", "water":
		return []string{"flow"}, false, false
	}
	return nil, false, false
}

// before lists what carries current from the source to an entry, both included.
func (d *device) before(e *Entry) []*Entry {
	var out []*Entry
	for _, row := range d.rows(e) {
		for _, n := range row {
			if n.entry == e {
				return append(out, e)
			}
			if slices.Contains(within([]node{n}), e) {
				break // the way to it goes on inside this node
			}
			for _, x := range within([]node{n}) {
				if x.current() {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// reached lists what a meter at the source sees: what carries current, up to the
// first block that separates, with it.
func (d *device) reached() []*Entry {
	var out []*Entry
	for _, e := range d.order {
		if !e.current() {
			continue
		}
		out = append(out, e)
		if e.is("separates") {
			break
		}
	}
	return out
}

func ids(entries []*Entry) []string {
	var out []string
	for _, e := range entries {
		out = append(out, e.ID)
	}
	return out
}
