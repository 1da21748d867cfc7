package trace

import (
	"errors"
	"math"
)

// Look is the look back after a job: the way taken against the best one.
type Look struct {
	Taken        []LookStep `json:"taken"`
	Best         []LookStep `json:"best"`
	TakenMinutes float64    `json:"takenMinutes"`
	BestMinutes  float64    `json:"bestMinutes"`
	ToNote       []Lesson   `json:"toNote"` // what the notes should learn
}

// LookStep is a step on the way.
type LookStep struct {
	Action
	Again   bool    `json:"again,omitempty"`
	ByHand  bool    `json:"byHand,omitempty"` // of a look: something was found there and put right
	Stop    StopFor `json:"stop,omitempty"`
	Reading string  `json:"reading,omitempty"`
	At      float64 `json:"at"`      // minute of the job at which it began
	Minutes float64 `json:"minutes"` // as written down, else as planned, opening included
	Opens   float64 `json:"opens"`   // of these, opening and setting up
	Waits   float64 `json:"waits"`   // of these, unattended
	// Extra is what this step cost on average over the best one, by what was
	// known before it.
	Extra float64 `json:"extra"`
}

// Lesson is a place where the notes and a job differ.
type Lesson struct {
	About   Learns    `json:"about"`
	Symptom SymptomID `json:"symptom,omitempty"`
	Test    TestID    `json:"test,omitempty"`
	Typed   string    `json:"typed,omitempty"`
	Got     ReadingID `json:"got,omitempty"`
	Want    ReadingID `json:"want,omitempty"`
	Chance  float64   `json:"chance,omitempty"`
}

// Learns is what a lesson is about.
type Learns string

// What lessons are about.
const (
	UnnamedSymptom Learns = "unnamed-symptom"
	NeverSymptom   Learns = "never-symptom" // the note says never
	NoBand         Learns = "no-band"       // Typed fits none
	NoReading      Learns = "no-reading"    // the note states none; it gave Got
	OtherReading   Learns = "other-reading" // it states Want, and got Got
	NotThisTime    Learns = "not-this-time" // the note gives that Chance
)

// mostLooks bounds the way that is played.
const mostLooks = 40

// LookBack compares the way taken to a cause with the one that the trace would
// take, if every reading were as the notes say. Its error is one sentence.
func LookBack(d *Device, e Evidence, id CauseID) (Look, error) {
	c := d.Cause(id)
	if c == nil {
		return Look{}, errors.New("there is no fault “" + clip(string(id)) + "” among the notes on the " + d.Title)
	}
	var l Look
	b := lay(d, e)
	l.taken(b, c)
	if err := l.best(d, e, c); err != nil {
		return l, err
	}
	for _, s := range l.Taken {
		l.TakenMinutes += s.Minutes
	}
	for _, s := range l.Best {
		l.BestMinutes += s.Minutes
	}
	l.toNote(b, c)
	return l, nil
}

// Taken lists what was done so far: tests in their order, then mends, then looks
// by hand. What is no test or fault of the device is left out.
func Taken(d *Device, e Evidence) []LookStep { return Prepare(d).Taken(e) }

// Taken is Taken on a device made ready.
func (g *Ground) Taken(e Evidence) []LookStep { return g.lay(e).steps() }

func (b *bench) steps() []LookStep {
	open, powered := map[AccessID]bool{}, map[Power]bool{Off: true}
	at := 0.0
	var steps []LookStep
	add := func(s LookStep, needs []AccessID, power Power) {
		for _, a := range b.Opening(needs) {
			if !open[a.ID] {
				open[a.ID] = true
				s.Opens += a.Minutes
			}
		}
		if !powered[power] {
			powered[power] = true
			s.Opens += b.Shop.PowerMinutes[power]
		}
		s.At = at
		s.Minutes += s.Opens
		at += s.Minutes
		steps = append(steps, s)
	}
	for _, r := range b.Readings {
		t := b.Test(r.Test)
		if t == nil {
			continue
		}
		s := LookStep{Action: Action{Kind: DoTest, Test: t.ID}, Reading: clip(r.Value), Minutes: t.Minutes + t.Waits, Waits: t.Waits}
		if r.Minutes > 0 { // as written down, with all its opening
			s.Minutes, s.Waits = r.Minutes, 0
			for _, a := range b.Opening(t.Needs) {
				open[a.ID] = true
			}
			powered[t.Power] = true
		}
		add(s, t.Needs, t.Power)
	}
	for _, m := range b.mends() {
		c := b.Cause(m.Cause)
		add(LookStep{Action: Action{Kind: DoMend, Cause: c.ID}, Minutes: c.Mend.Minutes}, c.Mend.Needs, Off)
	}
	for _, id := range b.Looked {
		add(LookStep{Action: Action{Kind: DoLook, Block: id}, Minutes: lookMinutes}, b.reach(id), Off)
	}
	for _, h := range b.ByHand {
		add(LookStep{Action: Action{Kind: DoLook, Block: h.Block}, ByHand: true, Minutes: lookMinutes}, b.reach(h.Block), Off)
	}
	return steps
}

func (l *Look) taken(b *bench, c *Cause) {
	all := b.Evidence
	all.Tried, all.Mended = append(all.mends(), Mended{c.ID, -1}), nil
	l.Taken = Taken(b.Device, all)
	before := Evidence{Symptoms: b.Evidence.Symptoms, Absent: b.Absent}
	read := 0
	for i := range l.Taken {
		s := &l.Taken[i]
		switch {
		case s.Kind == DoTest:
			for b.Test(b.Readings[read].Test) == nil {
				read++
			}
			s.Extra = extra(b.Device, before, s.Action)
			before.Readings = append(before.Readings[:len(before.Readings):len(before.Readings)], b.Readings[read])
			read++
		case s.Kind == DoMend && s.Cause != c.ID:
			s.Extra = extra(b.Device, before, s.Action)
			before.Tried = append(before.Tried[:len(before.Tried):len(before.Tried)], Mended{s.Cause, len(before.Readings)})
		}
	}
}

// extra is the price in minutes of an action as the first one, over the best; 0
// where that cannot be worked out.
func extra(d *Device, e Evidence, action Action) float64 {
	b := lay(d, e)
	w := wish{compare: true, also: []Action{action}}
	if t := d.Test(action.Test); t != nil && !safe(t) {
		w.live = t.Power
	}
	p, err := b.plan(b.believe(), w)
	if err != nil {
		return 0
	}
	if at, ok := p.place(action); ok {
		for _, f := range p.Firsts {
			if f.Action == at {
				return math.Max(0, f.Value-p.ExpectedCost)
			}
		}
	}
	if c := d.Cause(action.Cause); c != nil { // not to be planned for: all of it was for nothing
		return c.Mend.Minutes
	}
	return 0
}

// best plays the trace for a cause that reads as its note says.
func (l *Look) best(d *Device, e Evidence, c *Cause) error {
	known := Evidence{Symptoms: e.Symptoms, Absent: e.Absent, Skipped: e.Skipped}
	at := 0.0
	for range mostLooks {
		a, err := Step(d, known)
		if err != nil {
			return err
		}
		s := LookStep{Action: a.Action, Again: a.Again, Stop: a.Stop, At: at, Minutes: a.Minutes, Opens: a.Opens, Waits: a.Waits}
		at += a.Minutes
		switch a.Kind {
		case DoTest:
			t := d.Test(a.Test)
			id, ok := expected(t, c)
			if !ok {
				id = healthy(t)
			}
			s.Reading = string(id)
			known.Readings = append(known.Readings, Reading{Test: t.ID, Value: string(id)})
		case DoMend:
			known.Tried = append(known.Tried, Mended{a.Cause, len(known.Readings)})
		}
		l.Best = append(l.Best, s)
		if a.Kind != DoTest && a.Kind != DoMend || a.Cause == c.ID {
			return nil
		}
	}
	return nil
}

// toNote lists where the notes and the job differ.
func (l *Look) toNote(b *bench, c *Cause) {
	for _, id := range b.Evidence.Symptoms {
		if word, ok := c.Symptoms[id]; !ok {
			l.ToNote = append(l.ToNote, Lesson{About: UnnamedSymptom, Symptom: id})
		} else if word == "never" {
			l.ToNote = append(l.ToNote, Lesson{About: NeverSymptom, Symptom: id})
		}
	}
	for i := len(b.taken) - 1; i >= 0; i-- {
		t := b.taken[i].test
		last := b.taken[i].last() // the last one on a test counts
		got := last.top()
		switch want, known := expected(t, c); {
		case got == "":
			l.ToNote = append(l.ToNote, Lesson{About: NoBand, Test: t.ID, Typed: last.typed})
		case !known:
			l.ToNote = append(l.ToNote, Lesson{About: NoReading, Test: t.ID, Got: got})
		case got == want || c.States(t.ID, got):
		case want == healthy(t) || shows(t, c, 1) == 1:
			l.ToNote = append(l.ToNote, Lesson{About: OtherReading, Test: t.ID, Got: got, Want: want})
		default:
			l.ToNote = append(l.ToNote, Lesson{About: NotThisTime, Test: t.ID, Chance: 1 - shows(t, c, 1)})
		}
	}
}
