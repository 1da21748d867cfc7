package blocks

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"faultleaf/calc/quantity"
)

// fault is one fault of a device while it is expanded.
type fault struct {
	Fault
	entry  *Entry
	base   Tree // reads of the block note
	stated Tree // reads of the device's own
	some   bool // it stops some works and others go on
}

// makeFaults collects the blocks' faults and the device's own notes.
func (d *device) makeFaults(own []Note) {
	over, _ := d.note.Get("faults")
	taken := map[string]bool{}
	for _, e := range d.order {
		if e.Kind == nil {
			continue
		}
		without, _ := e.own.Get("without")
		var mine []*fault
		for _, f := range e.Kind.Faults() {
			short := e.ID + "-" + f.Name
			o, refined := over.Get(short)
			taken[short] = true
			if only := f.Value.Str("only"); only != "" && !d.flagsOf(e)[only] || slices.Contains(without.Strings(), f.Name) || refined && left(o) {
				continue
			}
			x := &fault{entry: e, Fault: Fault{ID: d.name + "-" + short, Short: short, Kind: e.Kind.Name, Like: f.Name, Note: f.Value.copied(), Text: e.Kind.Texts[f.Name]}}
			if x.Note.At == (Place{}) {
				x.Note.At = f.At
			}
			x.base, _ = x.Note.Get("reads")
			x.base = d.ownTests(e, x.base)
			x.Note.Drop("only", "reads")
			if e.is("protective") && !x.Note.Has("protective") {
				x.Note.Set("protective", Text("true"))
			}
			if takes, ok := x.Note.Get("takes"); ok {
				x.Note.Set("takes", d.present(takes))
			}
			mine = append(mine, x)
			d.refine(x, o)
		}
		d.shareSeen(e, mine)
		d.faults = append(d.faults, mine...)
	}
	for _, f := range over.Fields {
		if !taken[f.Name] {
			d.root(f.At, "there is no common fault “"+f.Name+"” to be refined", near(f.Name, d.faultIDs()))
		}
	}
	for _, n := range own {
		d.addOwn(n)
	}
	for _, f := range d.faults {
		d.finishFault(f)
	}
}

// present keeps what stands in this device's chain.
func (d *device) present(list Tree) Tree {
	out := Tree{List: []Tree{}, At: list.At}
	for _, v := range list.Items() {
		if d.entry(v.Text) != nil {
			out.List = append(out.List, v)
		}
	}
	return out
}

// ownTests gives a block's readings the names that its tests have on the device;
// tests that the device has not are left out.
func (d *device) ownTests(e *Entry, reads Tree) Tree {
	out := Tree{Fields: []Field{}, At: reads.At}
	for _, f := range reads.Fields {
		if t := d.test(e.ID + "-" + f.Name); t != nil {
			f.Name = t.id
		} else if d.test(f.Name) == nil {
			continue
		}
		out.Fields = append(out.Fields, f)
	}
	return out
}

// refine lays what the device says over a common fault.
func (d *device) refine(f *fault, o Tree) {
	reads, _ := o.Get("reads")
	f.stated = Merge(f.stated, reads)
	if f.stated.Fields == nil {
		f.stated.Fields = []Field{}
	}
	o = o.copied()
	o.Drop("reads", "like", "device")
	if len(o.Fields) > 0 {
		at := f.Note.At
		f.Note = Merge(f.Note, o)
		f.Note.At = at
	}
}

// metOften is how often something was met: a number of cases, or {share: 0.59} of
// the cases of a publication; ok is false where it is neither.
func metOften(v Tree) (cases, share float64, ok bool) {
	text, most := v.Text, 1000.0
	if v.Fields != nil {
		text, most = v.Str("share"), 1
		ok = len(v.Fields) == 1
	} else {
		ok = v.IsText()
	}
	x, err := strconv.ParseFloat(text, 64)
	if !ok || err != nil || !(x >= 0 && x <= most) {
		return 0, 0, false
	}
	if v.Fields != nil {
		return 0, x, true
	}
	return x, 0, true
}

// shareSeen shares what the entry says it has seen among its faults by their
// weights, cases at least one each.
func (d *device) shareSeen(e *Entry, mine []*fault) {
	v, ok := e.own.Get("seen")
	if !ok {
		return
	}
	cases, share, _ := metOften(v)
	total := 0.0
	weight := func(f *fault) float64 {
		x, err := strconv.ParseFloat(f.Note.Str("seen"), 64)
		if err != nil {
			return 1
		}
		return x
	}
	for _, f := range mine {
		total += weight(f)
	}
	if total <= 0 {
		return
	}
	over, _ := d.note.Get("faults")
	for _, f := range mine {
		if o, ok := over.Get(f.Short); ok && o.Has("seen") {
			continue // the device knows better
		}
		if share > 0 {
			part := Tree{Text: quantity.Number(quantity.Round(weight(f)*share/total, 3)), At: v.At}
			f.Note.Set("seen", Tree{Fields: []Field{{Name: "share", Value: part, At: v.At}}, At: v.At})
			continue
		}
		f.Note.Set("seen", Tree{Text: quantity.Number(math.Max(1, math.Round(weight(f)*cases/total))), At: v.At})
	}
}

func (d *device) faultIDs() []string {
	var out []string
	for _, f := range d.faults {
		out = append(out, f.Short)
	}
	return out
}

func (d *device) fault(id string) *fault {
	for _, f := range d.faults {
		if f.Short == id || f.ID == id {
			return f
		}
	}
	return nil
}

// addOwn takes in a fault note of the device's own.
func (d *device) addOwn(n Note) {
	at := n.Note.At
	if like, ok := n.Note.Get("like"); ok {
		f := d.fault(like.Text)
		if f == nil || f.Kind == "" {
			d.root(like.At, "there is no common fault “"+like.Text+"” on this device that this note could be like", near(like.Text, d.faultIDs()))
			return
		}
		if f.Own {
			d.wrong(like.At, "a second note is like “"+like.Text+"”", "put both into one")
			return
		}
		d.refine(f, n.Note)
		f.ID, f.Own, f.Note.At = n.Name, true, at
		if strings.TrimSpace(n.Text.Text) != "" {
			f.Shared, f.Text = f.Text, n.Text
		}
		return
	}
	if f := d.fault(n.Name); f != nil {
		d.wrong(at, "a common fault has the name “"+n.Name+"” too", "say like: "+f.Short+" where the note refines it, or give it another name")
		return
	}
	f := &fault{Fault: Fault{ID: n.Name, Short: n.Name, Own: true, Note: n.Note.copied(), Text: n.Text}}
	f.stated, _ = n.Note.Get("reads")
	if f.stated.Fields == nil {
		f.stated.Fields = []Field{}
	}
	f.entry = d.entry(n.Note.Str("block"))
	if does, ok := n.Note.Get("does"); ok && !slices.Contains(Effects(), does.Text) {
		d.wrong(does.At, "there is no effect “"+does.Text+"”", near(does.Text, Effects()))
	}
	d.faults = append(d.faults, f)
}

// finishFault fills in a fault's texts and the ways to its mend.
func (d *device) finishFault(f *fault) {
	if f.Kind != "" {
		if mend, ok := f.Note.Get("mend"); ok {
			if needs, ok := mend.Get("needs"); ok {
				mend.Set("needs", d.needs(f.entry, needs))
				f.Note.Set("mend", mend)
			}
		}
		f.Text.Text = d.fill(f.entry, f.Text.Text, f.Text.At)
		f.Shared.Text = d.fill(f.entry, f.Shared.Text, f.Shared.At)
		f.Note = d.fillTree(f.entry, f.Note)
	} else {
		f.Note = d.fillTree(nil, f.Note)
	}
	all := true
	if f.entry != nil {
		_, all, _ = d.lostWork(f.entry)
	}
	f.some = !all
}
