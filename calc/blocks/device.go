package blocks

import (
	"errors"
	"strconv"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
	"faultleaf/calc/trace"
)

// Device is the expanded device as the trace takes it, without the shop's part.
// The notes of a shop are read by internal/note, which says what is wrong in them
// and where; this is for a chain that was picked, where nothing was written. Both
// give the same device.
func (x Expanded) Device(name string, compute Compute) (*trace.Device, error) {
	n := x.Note
	d := &trace.Device{ID: name, Title: n.Str("title"), Class: n.Str("class"), Price: number(n.Str("price"), 0)}
	plate := map[string]string{}
	v, _ := n.Get("plate")
	for _, f := range v.Fields {
		plate[f.Name] = f.Value.Text
	}
	chain, _ := n.Get("blocks")
	d.Blocks = blocksOf(chain.Items())
	v, _ = n.Get("symptoms")
	for _, f := range v.Fields {
		s := trace.Symptom{ID: trace.SymptomID(f.Name), Says: f.Value.Text}
		if f.Value.Fields != nil {
			s.Says = f.Value.Str("says")
			is, _ := f.Value.Get("is")
			for _, item := range is.Items() {
				if item.Text != "" {
					s.Is(item.Text, 1)
				}
				for _, f := range item.Fields {
					s.Is(f.Name, number(f.Value.Text, 1))
				}
			}
		}
		d.Symptoms = append(d.Symptoms, s)
	}
	v, _ = n.Get("access")
	for _, f := range v.Fields {
		a := f.Value
		d.Access = append(d.Access, trace.Access{ID: trace.AccessID(f.Name), Does: a.Str("does"), Minutes: number(a.Str("minutes"), 0), Undo: number(a.Str("undo"), 0),
			Inside: trace.AccessID(a.Str("inside")), Forbidden: a.Str("forbidden"), Hides: list[trace.BlockID](a, "hides")})
	}
	block := func(id string) bool { return d.Block(trace.BlockID(id)) != nil }
	v, _ = n.Get("points")
	for _, f := range v.Fields { // of a picked chain these are words for points that every device has
		if p, ok := trace.StandardPoint(f.Name, block); ok {
			p.Says = f.Value.Text
			d.Points = append(d.Points, p)
		}
	}
	v, _ = n.Get("tests")
	for _, f := range v.Fields {
		t, err := testOf(f, plate, compute)
		if err != nil {
			return nil, err
		}
		t.Apart = trace.BlockID(f.Value.Str("apart"))
		probes, _ := f.Value.Get("probes")
		for _, id := range probes.Strings() {
			if p, ok := d.Point(id); ok {
				t.Probes = append(t.Probes, p)
			}
		}
		d.Tests = append(d.Tests, t)
	}
	for _, f := range x.Faults {
		c := causeOf(f)
		c.Address = "blocks/" + f.Kind + ".html#" + f.Like
		d.Causes = append(d.Causes, c)
	}
	trace.Publish(d.Causes)
	return d, nil
}

func number(text string, otherwise float64) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return otherwise
	}
	return x
}

func blocksOf(items []Tree) []trace.Block {
	var out []trace.Block
	for _, item := range items {
		switch {
		case item.List != nil:
			b := trace.Block{}
			for _, way := range item.List {
				b.Branch = append(b.Branch, blocksOf(way.Items()))
			}
			out = append(out, b)
		case item.IsText():
			out = append(out, trace.Block{ID: trace.BlockID(item.Text)})
		default:
			f := item.Fields[0]
			b := trace.Block{ID: trace.BlockID(f.Name), Share: number(f.Value.Str("share"), 0), Short: f.Value.Str("short"), Symbol: f.Value.Str("symbol"),
				Source: f.Value.Str("source"), Separates: f.Value.Str("separates") == "true"}
			if v, ok := f.Value.Get("outside"); ok {
				outside := v.Text == "true"
				b.Outside = &outside
			}
			out = append(out, b)
		}
	}
	return out
}

func list[T ~string](t Tree, key string) []T {
	v, _ := t.Get(key)
	var out []T
	for _, s := range v.Strings() {
		out = append(out, T(s))
	}
	return out
}

func testOf(f Field, plate map[string]string, compute Compute) (trace.Test, error) {
	n := f.Value
	t := trace.Test{ID: trace.TestID(f.Name), Ask: n.Str("ask"), Covers: list[trace.BlockID](n, "covers"), Needs: list[trace.AccessID](n, "needs"),
		Power: trace.Power(n.Str("power")), Minutes: number(n.Str("minutes"), 0), Waits: number(n.Str("waits"), 0), Caution: n.Str("caution"), While: list[string](n, "while"),
		Trust: number(n.Str("trust"), .95), MeterError: number(n.Str("meter"), 0), Proves: n.Str("proves"), After: list[trace.TestID](n, "after"), With: list[string](n, "with"), ByEye: n.Str("by_eye") == "true"}
	harms, _ := n.Get("harms")
	t.Harms = trace.Harms{Chance: number(harms.Str("chance"), 0), Cost: number(harms.Str("cost"), 0)}
	reads, _ := n.Get("reads")
	var spans []reading.Span
	for _, b := range reads.Items() {
		name := bandName(b)
		band := trace.Band{ID: trace.ReadingID(name), Healthy: b.Str("healthy") == "true", Forbids: strings.TrimSuffix(b.Str("forbids"), ".")}
		s := reading.Span{Name: name}
		if text := b.Str(name); text != "" {
			var wrong *reading.Wrong
			if s, wrong = reading.ParseSpan(name, text); wrong != nil {
				return t, errors.New("the reading “" + name + "” of “" + f.Name + "”: " + wrong.Error())
			}
		}
		band.Op, band.Link = s.Op, s.Address
		spans, t.Reads = append(spans, s), append(t.Reads, band)
	}
	bands, kind, wrong := reading.Evaluate(spans, func(address string) (quantity.Value, error) {
		l, err := calc.ParseLink(address)
		if err != nil {
			return quantity.Value{}, err
		}
		if l, err = l.Fill(plate); err != nil {
			return quantity.Value{}, err
		}
		got, err := compute(l)
		return got.Value, err
	})
	if len(wrong) > 0 {
		return t, errors.New("the test “" + f.Name + "”: " + wrong[0].Error())
	}
	t.Kind = kind
	for i, b := range bands {
		t.Reads[i].Low, t.Reads[i].High, t.Reads[i].Text = b.Low, b.High, b.Text
	}
	return t, nil
}

func causeOf(f Fault) trace.Cause {
	n := f.Note
	c := trace.Cause{ID: trace.CauseID(f.ID), Title: n.Str("title"), Says: n.Str("cause"), Block: trace.BlockID(n.Str("block")), Takes: list[string](n, "takes"),
		Symptoms: map[trace.SymptomID]trace.Often{}, Reads: map[trace.TestID][]trace.Read{}, Because: list[string](n, "because"), Protective: n.Str("protective") == "true", Look: n.Str("look")}
	if c.Look == "none" {
		c.Look = ""
	}
	v, _ := n.Get("seen")
	c.Seen, c.Share, _ = metOften(v)
	v, _ = n.Get("symptoms")
	for _, s := range v.Fields {
		c.Symptoms[trace.SymptomID(s.Name)] = trace.Often(s.Value.Text)
	}
	v, _ = n.Get("reads")
	for _, r := range v.Fields {
		id := trace.TestID(r.Name)
		for _, s := range r.Value.Fields {
			c.Reads[id] = append(c.Reads[id], trace.Read{Reading: trace.ReadingID(s.Name), Chance: number(s.Value.Text, 0)})
		}
		for _, s := range r.Value.Strings() {
			c.Reads[id] = append(c.Reads[id], trace.Read{Reading: trace.ReadingID(s)})
		}
	}
	if s, ok := n.Get("shown"); ok {
		word, chance, _ := strings.Cut(s.Text, " ")
		c.Shown = trace.Shown{Word: word, Chance: number(chance, 0)}
		for _, x := range s.Fields {
			c.Shown = trace.Shown{Word: x.Name, Chance: number(x.Value.Text, 0)}
		}
	}
	mend, _ := n.Get("mend")
	if mend.Text == "none" {
		c.Mend = trace.Mend{None: strings.TrimSuffix(n.Str("why"), ".")}
		return c
	}
	c.Mend = trace.Mend{Does: strings.TrimSuffix(mend.Str("does"), "."), Minutes: number(mend.Str("minutes"), 0), Needs: list[trace.AccessID](mend, "needs"),
		Succeeds: number(mend.Str("succeeds"), .9), Forbidden: mend.Str("forbidden")}
	parts, _ := mend.Get("parts")
	for _, p := range parts.Items() {
		c.Mend.Parts = append(c.Mend.Parts, trace.Part{Part: p.Str("part"), Count: number(p.Str("count"), 1), Price: number(p.Str("price"), 0), Gone: p.Str("gone") == "true"})
	}
	return c
}
