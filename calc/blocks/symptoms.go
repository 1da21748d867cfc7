package blocks

import (
	"slices"
	"strconv"
)

// oftens are the words for how often a fault shows a symptom, often first.
var oftens = []string{"always", "often", "sometimes", "rarely", "never"}

// preset gives a complaint its word where none is said.
func (t *Tree) preset(name, word string) {
	if !t.Has(name) {
		t.Set(name, Text(word))
	}
}

// complaintsOf turns what a fault says into complaints of this device: "stops"
// becomes whatever its loss stops here.
func (d *device) complaintsOf(f *fault) Tree {
	said, _ := f.Note.Get("complaints")
	c := said.copied()
	if c.Fields == nil {
		c.Fields = []Field{}
	}
	does := f.Note.Str("does")
	if word := c.Str(stops); word != "" {
		c.Drop(stops)
		var stopped []string
		all, weakens := false, false
		if f.entry != nil {
			stopped, all, weakens = d.lostWork(f.entry)
		}
		if does == Away {
			stopped, all = works(d.order), true
		}
		switch {
		case weakens:
			c.preset("weak", word)
			c.preset("dead", "rarely")
		case all:
			c.preset("dead", word)
			life := word // of one work alone, that nothing moves is as good a word for it
			if slices.ContainsFunc(d.order, func(e *Entry) bool { return e.carries != "" && !e.current() }) || len(distinct(stopped)) > 1 {
				life = "never"
			}
			for _, w := range distinct(stopped) {
				c.preset("no-"+w, life)
			}
			if word == "always" || word == "often" {
				for _, x := range d.lib.Complaints {
					if x.Run {
						c.preset(x.ID, "never")
					}
				}
			}
		default:
			for _, w := range distinct(stopped) {
				c.preset("no-"+w, word)
			}
			c.preset("dead", "rarely")
		}
	}
	switch does {
	case Slips, Drags, Blocked, StaysOn:
		c.preset("dead", "never")
	}
	return c
}

func distinct(list []string) []string {
	var out []string
	for _, s := range list {
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// way is one symptom by which a device tells a complaint, and how well the two agree,
// from 0 to 1.
type way struct {
	symptom string
	weight  float64
}

// wordings is what a device's own note says of its symptoms.
type wordings struct {
	fields  []Field          // them, with a complaint's new wording written out
	by      map[string][]way // complaint to the symptoms that it is meant most by
	written map[string]bool
	dropped map[string]bool // complaints that it leaves out
}

// wordings reads the symptoms that the device's note names.
func (d *device) wordings() wordings {
	said, _ := d.note.Get("symptoms")
	w := wordings{by: map[string][]way{}, written: map[string]bool{}, dropped: map[string]bool{}}
	for _, f := range said.Fields {
		if left(f.Value) {
			w.dropped[f.Name] = true
			if d.lib.complaint(f.Name) == nil {
				d.wrong(f.At, "there is no complaint “"+f.Name+"” to be left out", near(f.Name, d.lib.complaintIDs()))
			}
			continue
		}
		if f.Value.IsText() && d.lib.complaint(f.Name) != nil { // new wording of a complaint
			f.Value = Tree{At: f.Value.At, Fields: []Field{{Name: "says", Value: f.Value, At: f.At}, {Name: "is", Value: Text(f.Name), At: f.At}}}
		}
		w.fields = append(w.fields, f)
		w.written[f.Name] = true
		is, ok := f.Value.Get("is")
		if !ok {
			w.by[f.Name] = append(w.by[f.Name], way{f.Name, 1})
			continue
		}
		for _, item := range is.Items() {
			if item.Text != "" {
				w.by[item.Text] = append(w.by[item.Text], way{f.Name, 1})
			}
			for _, c := range item.Fields {
				weight, err := strconv.ParseFloat(c.Value.Text, 64)
				if err != nil {
					weight = 1
				}
				w.by[c.Name] = append(w.by[c.Name], way{f.Name, weight})
			}
		}
	}
	for c, ways := range w.by { // a complaint goes where it is meant most
		top := 0.0
		for _, x := range ways {
			top = max(top, x.weight)
		}
		w.by[c] = slices.DeleteFunc(ways, func(x way) bool { return x.weight < top })
	}
	return w
}

// symptoms gives every fault its symptoms, and the device those that its faults
// show and that it does not name.
func (d *device) symptoms() []Field {
	w := d.wordings()
	extra := map[string]bool{} // complaints that faults show and the note does not name
	for _, f := range d.faults {
		d.showing(f, w, extra)
	}
	out := w.fields
	for _, c := range d.lib.Complaints {
		if extra[c.ID] {
			out = append(out, Field{Name: c.ID, Value: Tree{Fields: []Field{{Name: "says", Value: Text(c.Says)}, {Name: "is", Value: Text(c.ID)}}}})
		}
	}
	for _, f := range d.faults { // what the device does not know is not said
		stated, _ := f.Note.Get("symptoms")
		kept := Tree{Fields: []Field{}, At: stated.At}
		for _, x := range stated.Fields {
			if slices.ContainsFunc(out, func(o Field) bool { return o.Name == x.Name }) || x.At != (Place{}) && d.lib.complaint(x.Name) == nil {
				kept.Fields = append(kept.Fields, x)
			}
		}
		f.Note.Set("symptoms", kept)
	}
	return out
}

// showing gives one fault the symptoms that its complaints are on this device, below
// those that it states, and adds the complaints that the device does not name to extra.
func (d *device) showing(f *fault, w wordings, extra map[string]bool) {
	word := map[string]string{}
	weight := map[string]float64{}
	var order []string
	add := func(symptom, often string, x float64) {
		old, ok := word[symptom]
		switch {
		case !ok:
			order = append(order, symptom)
		case x < weight[symptom]: // the complaint that the symptom is most tells
			return
		case x == weight[symptom] && slices.Index(oftens, old) < slices.Index(oftens, often):
			return // of two alike the more frequent one
		}
		word[symptom], weight[symptom] = often, x
	}
	for _, c := range d.complaintsOf(f).Fields {
		if d.lib.complaint(c.Name) == nil && !w.written[c.Name] {
			d.wrong(c.At, "there is no complaint “"+c.Name+"”", near(c.Name, slices.Concat(d.lib.complaintIDs(), names(w.fields))))
			continue
		}
		to := w.by[c.Name]
		if len(to) == 0 && !w.dropped[c.Name] {
			to = []way{{c.Name, 1}}
			if !w.written[c.Name] && slices.Contains(oftens[:3], c.Value.Text) {
				extra[c.Name] = true
			}
		}
		for _, x := range to {
			often := c.Value.Text
			if i := slices.Index(oftens, often); x.weight < .75 && i >= 0 && i < 3 {
				often = oftens[i+1]
			}
			add(x.symptom, often, x.weight)
		}
	}
	stated, _ := f.Note.Get("symptoms")
	s := Tree{Fields: []Field{}, At: f.Note.At}
	for _, id := range order {
		if !stated.Has(id) {
			s.Fields = append(s.Fields, Field{Name: id, Value: Text(word[id])})
		}
	}
	s.Fields = append(s.Fields, stated.Fields...)
	f.Note.Set("symptoms", s)
}
