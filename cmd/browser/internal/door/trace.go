package door

import (
	"errors"
	"strings"

	"faultleaf/calc"
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
	Taken    []string      `json:"taken"`  // the readings so far, as bands
	Spoken   string        `json:"spoken"` // for the live region
}

type outcomeView struct {
	Reading trace.ReadingID `json:"reading"`
	Name    string          `json:"name"`
	Text    string          `json:"text,omitempty"`
	Chance  string          `json:"chance"`
	Leaves  string          `json:"leaves,omitempty"`
	Healthy bool            `json:"healthy,omitempty"`
}

type chanceView struct {
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
	var known trace.Known
	if err := read(question, &known); err != nil {
		return fail(err)
	}
	dev := &d.device.Device
	a, err := trace.Next(dev, known)
	if err != nil {
		return fail(err)
	}
	return write(viewOf(dev, known, a))
}

func viewOf(dev *trace.Device, known trace.Known, a trace.Advice) adviceView {
	v := adviceView{Kind: a.Kind, ID: a.ID, Title: a.Title, Minutes: minutes(a.Minutes), Caution: a.Caution,
		Why: list(a.Why), Notes: list(a.Notes), Outcomes: []outcomeView{}, Chances: []chanceView{}, Instead: []insteadView{}, Taken: []string{}}
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
	for _, r := range known.Readings {
		v.Taken = append(v.Taken, takenText(dev.Test(r.Test), r.Value))
	}
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
