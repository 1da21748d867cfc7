package door

import (
	"errors"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// adviceView is an advice with every number printed.
type adviceView struct {
	Kind     string        `json:"kind"`
	ID       string        `json:"id"`
	Title    string        `json:"title"`
	Address  string        `json:"address,omitempty"`
	Minutes  string        `json:"minutes,omitempty"`
	Power    string        `json:"power,omitempty"`
	Open     string        `json:"open,omitempty"`
	Caution  string        `json:"caution,omitempty"`
	Signal   string        `json:"signal,omitempty"`
	Why      []string      `json:"why"`
	Notes    []string      `json:"notes"`
	Outcomes []outcomeView `json:"outcomes"`
	Chances  []chanceView  `json:"chances"`
	Instead  []insteadView `json:"instead"`
	FromHere string        `json:"fromHere"`
	Money    string        `json:"money,omitempty"`
	Stop     trace.StopFor `json:"stop,omitempty"`
	Path     []pathView    `json:"path"`
	Ruler    string        `json:"ruler,omitempty"` // the step on the ruler of minutes
	At       string        `json:"at"`              // minutes since the start
	Strip    string        `json:"strip"`           // the chances now
	Spoken   string        `json:"spoken"`          // for the live region
}

type outcomeView struct {
	Reading trace.ReadingID `json:"reading"`
	Name    string          `json:"name"`
	Text    string          `json:"text,omitempty"`
	Chance  string          `json:"chance"`
	Leaves  string          `json:"leaves,omitempty"`
	Healthy bool            `json:"healthy,omitempty"`
}

// pathView is a step done, and what it made of the chances.
type pathView struct {
	Title   string `json:"title"`
	Reading string `json:"reading"`
	Ruler   string `json:"ruler"`
	Strip   string `json:"strip"`
	Lead    string `json:"lead"` // the likeliest cause after it, in words
}

type chanceView struct {
	Letter  string        `json:"letter,omitempty"`
	ID      trace.CauseID `json:"id"`
	Title   string        `json:"title"`
	Address string        `json:"address,omitempty"`
	Chance  string        `json:"chance"`
	Share   float64       `json:"share"`
}

type insteadView struct {
	Title string `json:"title"`
	Extra string `json:"extra"`
}

// Next gives the next step of the trace.
func (d *Door) Next(question string) string {
	if d.device == nil {
		return fail(errNoDevice)
	}
	var known trace.Evidence
	if err := read(question, &known); err != nil {
		return fail(err)
	}
	dev := &d.device.Device
	a, err := trace.Next(dev, known)
	if err != nil {
		return fail(err)
	}
	v := viewOf(dev, a)
	if err := v.path(dev, known, a); err != nil {
		return fail(err)
	}
	return write(v)
}

// lettered causes have a letter each, the likeliest now first; the others share
// the rest of a strip.
const lettered = 5

// path puts the steps done, and the next, on the ruler of minutes, each with the
// chances after it.
func (v *adviceView) path(dev *trace.Device, known trace.Evidence, a trace.Advice) error {
	steps, err := trace.Taken(dev, known)
	if err != nil {
		return err
	}
	letters := map[trace.CauseID]string{}
	for i := range v.Chances[:min(lettered, len(v.Chances)-1)] {
		letters[v.Chances[i].ID] = string(rune('A' + i))
		v.Chances[i].Letter = letters[v.Chances[i].ID]
	}
	strip := func(k trace.Evidence) (svg, lead string, err error) {
		chances, _, err := trace.Chances(dev, k)
		if err != nil {
			return "", "", err
		}
		parts := make(draw.Strip, len(letters), len(letters)+1)
		rest, most := 1.0, 0.0
		for _, c := range chances {
			if c.Chance > most {
				most, lead = c.Chance, trace.InSentence(c.Title)+" "+quantity.Chance(c.Chance)
			}
			if l := letters[c.ID]; l != "" {
				parts[l[0]-'A'] = draw.Share{Letter: l, Value: quantity.Round(c.Chance, 6)}
				rest -= c.Chance
			}
		}
		return append(parts, draw.Share{Value: quantity.Round(rest, 6)}).SVG(), lead, nil
	}
	at := 0.0
	so := trace.Evidence{Symptoms: known.Symptoms, Absent: known.Absent}
	v.Path = []pathView{}
	for i, s := range steps {
		if i < len(known.Readings) {
			so.Readings = known.Readings[:i+1]
		} else if i == len(known.Readings) {
			so = known
		}
		p := pathView{Title: s.Title, Ruler: draw.Ruler{At: s.At, Opens: s.Opens, Works: s.Minutes - s.Opens - s.Waits, Waits: s.Waits}.SVG()}
		switch {
		case s.Kind == "test":
			p.Reading = takenText(dev.Test(trace.TestID(s.ID)), s.Reading)
		case i < len(known.Readings)+len(known.Tried):
			p.Reading = "mended, and it did not cure"
		default:
			p.Reading = "mended; something is wrong still"
		}
		if p.Strip, p.Lead, err = strip(so); err != nil {
			return err
		}
		at = s.At + s.Minutes
		v.Path = append(v.Path, p)
	}
	v.At = minutes(at)
	if v.At == "" {
		v.At = "0 min"
	}
	if v.Strip, _, err = strip(known); err != nil {
		return err
	}
	if a.Kind != "stop" {
		v.Ruler = draw.Ruler{At: at, Opens: a.Opens, Works: a.Minutes - a.Opens - a.Waits, Waits: a.Waits}.SVG()
	}
	return nil
}

func viewOf(dev *trace.Device, a trace.Advice) adviceView {
	v := adviceView{Kind: a.Kind, ID: a.ID, Title: a.Title, Minutes: minutes(a.Minutes), Caution: a.Caution,
		Why: list(a.Why), Notes: list(a.Notes), Outcomes: []outcomeView{}, Chances: []chanceView{}, Instead: []insteadView{}}
	var opens []string
	for _, id := range a.Open {
		for _, acc := range dev.Access {
			if acc.ID == id {
				opens = append(opens, trace.InSentence(acc.Does))
			}
		}
	}
	v.Open = strings.Join(opens, ", then ")
	switch a.Kind {
	case "test":
		t := dev.Test(trace.TestID(a.ID))
		if t == nil {
			break
		}
		v.Power = t.Power.Says()
		caution(&v, calc.Signal(t.Power.Signal()))
		for _, o := range a.Outcomes {
			ov := outcomeView{Reading: o.Reading, Name: trace.Plain(string(o.Reading)), Text: o.Text, Chance: quantity.Chance(o.Chance)}
			for _, b := range t.Reads {
				if b.ID == o.Reading {
					ov.Healthy = b.Healthy
					ov.Text = b.Text
				}
			}
			var leaves []string
			for i, id := range o.Leaves {
				if i == 3 {
					leaves = append(leaves, "and more")
					break
				}
				if c := dev.Cause(id); c != nil {
					leaves = append(leaves, trace.InSentence(c.Title))
				}
			}
			ov.Leaves = strings.Join(leaves, ", ")
			v.Outcomes = append(v.Outcomes, ov)
		}
	case "mend":
		if c := dev.Cause(trace.CauseID(a.ID)); c != nil {
			v.Address = c.Address
		}
		caution(&v, calc.Care)
	case "stop":
		caution(&v, calc.Danger)
	}
	for _, c := range a.Chances {
		cv := chanceView{ID: c.ID, Title: c.Title, Chance: quantity.Chance(c.Chance), Share: quantity.Round(c.Chance, 4)}
		if cause := dev.Cause(c.ID); cause != nil {
			cv.Address = cause.Address
		}
		v.Chances = append(v.Chances, cv)
	}
	v.Chances = append(v.Chances, chanceView{ID: "", Title: "Not in these notes", Chance: quantity.Chance(a.Rest), Share: quantity.Round(a.Rest, 4)})
	for _, i := range a.Instead {
		extra := "as good, on average"
		if i.ExtraMinutes >= 0.05 {
			extra = quantity.Minutes(i.ExtraMinutes) + " more on average"
		}
		v.Instead = append(v.Instead, insteadView{i.Title, extra})
	}
	if a.Kind != "stop" && a.MinutesFromHere > 0 {
		v.FromHere = "About " + quantity.Minutes(a.MinutesFromHere) + " from here to the end of the mend, if readings are true; " + bound(a)
	}
	if a.Money != nil {
		v.Money = a.Money.Says(dev.Shop)
		if a.Money.Spent > 0 {
			v.Money = "Spent so far: " + dev.Shop.Sum(a.Money.Spent) + ". " + v.Money
		}
	}
	v.Stop = a.Stop
	heads := map[string]string{"test": "Next: ", "mend": "Mend: ", "stop": "Stop: "}
	v.Spoken = heads[a.Kind] + a.Title + "."
	if len(a.Chances) > 0 {
		v.Spoken += " Likeliest: " + a.Chances[0].Title + ", " + quantity.Chance(a.Chances[0].Chance) + "."
	}
	return v
}

func caution(v *adviceView, otherwise calc.Signal) {
	if v.Caution != "" {
		c := calc.ReadCaution(v.Caution, otherwise)
		v.Signal, v.Caution = string(c.Signal), c.Text
	}
}

func bound(a trace.Advice) string {
	if a.Optimal || a.LowerBound <= 0 {
		return "no other order is quicker."
	}
	over := a.MinutesFromHere/a.LowerBound - 1
	return "at most " + quantity.Chance(over) + " above the quickest possible."
}

// LookBack compares the way taken with the best one, and says what to note.
func (d *Door) LookBack(question string) string {
	if d.device == nil {
		return fail(errNoDevice)
	}
	var q struct {
		Known trace.Evidence `json:"known"`
		Cause trace.CauseID  `json:"cause"`
	}
	if err := read(question, &q); err != nil {
		return fail(err)
	}
	l, err := trace.LookBack(&d.device.Device, q.Known, q.Cause)
	if err != nil {
		return fail(err)
	}
	type stepView struct {
		Title   string `json:"title"`
		Reading string `json:"reading,omitempty"`
		Minutes string `json:"minutes"`
		Ruler   string `json:"ruler"`
		Extra   string `json:"extra,omitempty"`
	}
	views := func(steps []trace.LookStep) []stepView {
		out := []stepView{}
		for _, s := range steps {
			v := stepView{Title: s.Title, Minutes: minutes(s.Minutes), Ruler: draw.Ruler{At: s.At, Opens: s.Opens, Works: s.Minutes - s.Opens - s.Waits, Waits: s.Waits}.SVG()}
			if t := d.device.Test(trace.TestID(s.ID)); t != nil && s.Kind == "test" {
				v.Reading = takenText(t, s.Reading)
			}
			if s.Extra >= .5 {
				v.Extra = quantity.Minutes(s.Extra) + " more than the best step, on average"
			}
			out = append(out, v)
		}
		return out
	}
	return write(map[string]any{"taken": views(l.Taken), "best": views(l.Best), "takenMinutes": minutes(l.TakenMinutes), "bestMinutes": minutes(l.BestMinutes), "toNote": list(l.ToNote)})
}

// Draft begins a fault note with what the trace knows.
func (d *Door) Draft(question string) string {
	if d.device == nil {
		return fail(errNoDevice)
	}
	var known trace.Evidence
	if err := read(question, &known); err != nil {
		return fail(err)
	}
	return write(map[string]string{"markdown": trace.Draft(&d.device.Device, "", "", known), "name": d.device.ID + "-new-fault.md"})
}

// takenText says a reading as the band it fell into.
func takenText(t *trace.Test, value string) string {
	if t == nil {
		return value
	}
	for _, b := range t.Reads {
		if string(b.ID) == value {
			text := trace.Plain(value)
			if b.Text != "" {
				text += " (" + b.Text + ")"
			}
			return text
		}
	}
	return value
}

func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// Reading says which band a typed value falls into, or why it cannot be read.
func (d *Door) Reading(question string) string {
	if d.device == nil {
		return fail(errNoDevice)
	}
	var q struct {
		Test  trace.TestID `json:"test"`
		Value string       `json:"value"`
	}
	if err := read(question, &q); err != nil {
		return fail(err)
	}
	t := d.device.Test(q.Test)
	if t == nil {
		return fail(errors.New("there is no test " + string(q.Test)))
	}
	fits, err := trace.ParseReading(t, q.Value)
	if err != nil {
		return fail(err)
	}
	if len(fits) == 0 {
		return write(map[string]string{"text": "fits no band"})
	}
	return write(map[string]string{"text": trace.Plain(string(fits[0].Reading))})
}
