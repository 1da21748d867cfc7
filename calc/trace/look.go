package trace

import (
	"errors"
	"math"
	"strings"

	"faultleaf/calc/quantity"
)

// Look is the look back after a job: the way taken against the best one.
type Look struct {
	Taken        []LookStep `json:"taken"`
	Best         []LookStep `json:"best"`
	TakenMinutes float64    `json:"takenMinutes"`
	BestMinutes  float64    `json:"bestMinutes"`
	ToNote       []string   `json:"toNote"` // what the notes should learn, a sentence each
}

// LookStep is a test or a mend on the way.
type LookStep struct {
	Kind    string  `json:"kind"` // test, mend or stop
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Reading string  `json:"reading,omitempty"`
	At      float64 `json:"at"`      // minute of the job at which it began
	Minutes float64 `json:"minutes"` // as written down, else as planned, opening included
	Opens   float64 `json:"opens"`   // of these, opening and setting up
	Waits   float64 `json:"waits"`   // of these, unattended
	// Extra is what this step cost on average over the best one, by what was
	// known before it.
	Extra float64 `json:"extra"`
}

// mostLooks bounds the way that is played.
const mostLooks = 40

// LookBack compares the way taken to a cause with the one that the trace would
// take, if every reading were as the notes say. Its error is one sentence.
func LookBack(d *Device, k Evidence, id CauseID) (Look, error) {
	c := d.Cause(id)
	if c == nil {
		return Look{}, errors.New("there is no fault “" + clip(string(id)) + "” among the notes on the " + d.Title)
	}
	var l Look
	if err := l.taken(d, k, c); err != nil {
		return l, err
	}
	if err := l.best(d, k, c); err != nil {
		return l, err
	}
	for _, s := range l.Taken {
		l.TakenMinutes += s.Minutes
	}
	for _, s := range l.Best {
		l.BestMinutes += s.Minutes
	}
	l.toNote(d, k, c)
	return l, nil
}

// Taken lists what was done so far: tests in their order, then mends.
func Taken(d *Device, k Evidence) ([]LookStep, error) {
	open, powered := map[AccessID]bool{}, map[Power]bool{}
	at := 0.0
	var steps []LookStep
	add := func(s LookStep, needs []AccessID, power Power) {
		for _, a := range d.Opening(needs) {
			if !open[a.ID] {
				open[a.ID] = true
				s.Opens += a.Minutes
			}
		}
		if !powered[power] {
			powered[power] = true
			s.Opens += d.Shop.PowerMinutes[power]
		}
		s.At = at
		s.Minutes += s.Opens
		at += s.Minutes
		steps = append(steps, s)
	}
	for _, r := range k.Readings {
		t := d.Test(r.Test)
		if t == nil {
			return nil, errors.New("there is no test “" + clip(string(r.Test)) + "” on the " + d.Title + "; its tests are " + d.testNames())
		}
		s := LookStep{Kind: "test", ID: string(t.ID), Title: t.Ask, Reading: clip(r.Value), Minutes: t.Minutes + t.Waits, Waits: t.Waits}
		if r.Minutes > 0 { // as written down, with all its opening
			s.Minutes, s.Waits = r.Minutes, 0
			for _, a := range d.Opening(t.Needs) {
				open[a.ID] = true
			}
			powered[t.Power] = true
		}
		add(s, t.Needs, t.Power)
	}
	for _, id := range k.mends() {
		m := d.Cause(id)
		if m == nil {
			return nil, errors.New("there is no fault “" + clip(string(id)) + "” among the notes on the " + d.Title)
		}
		add(LookStep{Kind: "mend", ID: string(id), Title: m.Title, Minutes: m.Mend.Minutes}, m.Mend.Needs, Off)
	}
	return steps, nil
}

// mends lists those done so far.
func (k Evidence) mends() []CauseID {
	list := append([]CauseID(nil), k.Tried...)
	for _, m := range k.Mended {
		list = append(list, m.Cause)
	}
	return list
}

func (l *Look) taken(d *Device, k Evidence, c *Cause) error {
	all := k
	all.Tried = append(k.mends(), c.ID)
	all.Mended = nil
	var err error
	if l.Taken, err = Taken(d, all); err != nil {
		return err
	}
	before := Evidence{Symptoms: k.Symptoms, Absent: k.Absent}
	for i := range l.Taken {
		s := &l.Taken[i]
		switch {
		case s.Kind == "test":
			s.Extra = d.extra(before, "test "+s.ID)
			before.Readings = append(before.Readings[:len(before.Readings):len(before.Readings)], k.Readings[i])
		case i < len(l.Taken)-1:
			s.Extra = d.extra(before, "mend "+s.ID)
			before.Tried = append(before.Tried[:len(before.Tried):len(before.Tried)], CauseID(s.ID))
		}
	}
	return nil
}

// extra is the price in minutes of an action as the first one, over the best; 0
// where that cannot be worked out.
func (d *Device) extra(k Evidence, action string) float64 {
	b, err := believe(d, k)
	if err != nil {
		return 0
	}
	b.also = action
	p, err := plan(d, k, b, func(t *Test) bool { return safe(t) || "test "+string(t.ID) == action }, true, false)
	if err != nil {
		return 0
	}
	for _, f := range p.Firsts {
		if f.Action == action {
			return math.Max(0, f.Value-p.ExpectedCost)
		}
	}
	if id, ok := strings.CutPrefix(action, "mend "); ok {
		if c := d.Cause(CauseID(id)); c != nil { // too unlikely to be planned for: all of it was for nothing
			return c.Mend.Minutes
		}
	}
	return 0
}

// best plays the trace for a cause that reads as its note says.
func (l *Look) best(d *Device, k Evidence, c *Cause) error {
	known := Evidence{Symptoms: k.Symptoms, Absent: k.Absent}
	at := 0.0
	for range mostLooks {
		a, err := Step(d, known)
		if err != nil {
			return err
		}
		s := LookStep{Kind: a.Kind, ID: a.ID, Title: a.Title, At: at, Minutes: a.Minutes, Opens: a.Opens, Waits: a.Waits}
		at += a.Minutes
		switch a.Kind {
		case "test":
			t := d.Test(TestID(a.ID))
			id, ok := expected(t, c)
			if !ok {
				id = healthy(t)
			}
			s.Reading = string(id)
			known.Readings = append(known.Readings, Reading{Test: t.ID, Value: string(id)})
		case "mend":
			known.Tried = append(known.Tried, CauseID(a.ID))
		}
		l.Best = append(l.Best, s)
		if a.Kind == "stop" || a.ID == string(c.ID) && a.Kind == "mend" {
			return nil
		}
	}
	return nil
}

// toNote lists where the notes and the job differ.
func (l *Look) toNote(d *Device, k Evidence, c *Cause) {
	for _, id := range k.Symptoms {
		if _, ok := c.Symptoms[id]; !ok {
			for _, s := range d.Symptoms {
				if s.ID == id {
					l.ToNote = append(l.ToNote, "The note does not name the symptom “"+s.Says+"”: add "+string(id)+" to its symptoms.")
				}
			}
		} else if c.Symptoms[id] == "never" {
			l.ToNote = append(l.ToNote, "The note says never of the symptom "+string(id)+", and here it was: change the word.")
		}
	}
	said := map[TestID]bool{}
	for i := len(k.Readings) - 1; i >= 0; i-- { // the last one on a test counts
		r := k.Readings[i]
		t := d.Test(r.Test)
		if t == nil || said[r.Test] {
			continue
		}
		said[r.Test] = true
		fits, err := ParseReading(t, r.Value)
		if err != nil {
			continue
		}
		got := top(fits)
		switch want, known := expected(t, c); {
		case got == "":
			l.ToNote = append(l.ToNote, t.Ask+": "+clip(r.Value)+" fits no band; give the device's note a band for it.")
		case !known:
			l.ToNote = append(l.ToNote, "The note does not say what it reads on “"+t.Ask+"”: add "+string(t.ID)+": "+string(got)+" to its reads.")
		case want != got && (want == healthy(t) || shows(t, c, 1) == 1):
			l.ToNote = append(l.ToNote, "The note expects “"+Plain(string(want))+"” on “"+t.Ask+"”, and it read “"+Plain(string(got))+"”: change it, or measure again.")
		case want != got:
			l.ToNote = append(l.ToNote, "“"+t.Ask+"” did not show it this time; the note gives that a chance of "+quantity.Chance(1-shows(t, c, 1))+".")
		}
	}
}
