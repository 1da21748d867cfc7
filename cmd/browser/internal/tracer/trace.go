// Package tracer answers what the trace of a page asks: what to do next on its device, and
// why.
package tracer

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/inorder"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/drawn"
	"faultleaf/calc/trace/say"
	"faultleaf/cmd/browser/internal/door"
)

// Tracer holds the device of a page.
type Tracer struct {
	device *door.Device
	arm    func(clock float64) [2]string // the rule of minutes of the last advice; nil before one
}

// Device loads the page's device.
func (t *Tracer) Device(question string) string {
	var dev door.Device
	if err := door.Read(question, &dev); err != nil {
		return door.Fail(err)
	}
	t.device, t.arm = &dev, nil
	return door.Done
}

var errNoDevice = errors.New("no device is loaded yet")

// minutes prints minutes, "" for none.
func minutes(m float64) string {
	if m <= 0 {
		return ""
	}
	return quantity.Minutes(m)
}

// adviceView is an advice in words, as the page lays it out.
type adviceView struct {
	Kind     trace.Kind      `json:"kind"`
	ID       string          `json:"id"`
	Head     string          `json:"head"`
	Title    string          `json:"title"`
	Address  string          `json:"address,omitempty"`
	Minutes  string          `json:"minutes,omitempty"`
	Power    string          `json:"power,omitempty"`
	State    trace.Power     `json:"state,omitempty"` // the power state by its name
	Unit     string          `json:"unit,omitempty"`  // of what the meter shows
	With     []string        `json:"with,omitempty"`  // instruments besides the plain meter
	Number   int             `json:"number"`          // of the step, from 1
	Open     string          `json:"open,omitempty"`
	Does     string          `json:"does,omitempty"` // what is done, of a mend
	Caution  string          `json:"caution,omitempty"`
	Signal   string          `json:"signal,omitempty"`
	Why      []string        `json:"why"`
	Notes    []string        `json:"notes"`
	Outcomes []outcomeView   `json:"outcomes"`
	Bands    string          `json:"bands,omitempty"` // the scale over them
	Chances  []chanceView    `json:"chances"`
	Instead  []insteadView   `json:"instead"`
	FromHere string          `json:"fromHere"`
	Money    string          `json:"money,omitempty"`
	Stop     trace.StopFor   `json:"stop,omitempty"`
	Located  []trace.BlockID `json:"located"`
	Look     *lookView       `json:"look,omitempty"` // of a stop that sends one to look by hand
	Suspect  trace.CauseID   `json:"suspect,omitempty"`
	WhyNot   []whyNotView    `json:"whyNot,omitempty"`  // of a test: why it may not be taken
	LeftOut  []leftOutView   `json:"leftOut,omitempty"` // tests that were let go, and others with them
	Path     []pathView      `json:"path"`
	Ruler    string          `json:"ruler,omitempty"` // the step on the ruler of minutes
	At       string          `json:"at"`              // minutes since the start
	Strip    string          `json:"strip"`           // the chances now
	More     string          `json:"more,omitempty"`  // the chances without a letter, in words
	Leads    string          `json:"leads"`           // the likeliest thing now, for the live region
	Chain    [4]string       `json:"chain"`           // the chain as it is drawn, for a page and for a telephone, and in short for both
	AtRest   [4]string       `json:"atRest"`          // the same while no test is asked
	Arm      [2]string       `json:"arm"`             // the rule of minutes, likewise
	Spoken   string          `json:"spoken"`          // for the live region
}

type outcomeView struct {
	Reading trace.ReadingID `json:"reading"`
	Key     string          `json:"key,omitempty"` // the letter that chooses it
	Name    string          `json:"name"`
	Text    string          `json:"text,omitempty"`
	Chance  string          `json:"chance"`
	Leaves  string          `json:"leaves,omitempty"`
	Healthy bool            `json:"healthy,omitempty"`
}

// pathView is a step done, and what it made of the chances.
type pathView struct {
	Title   string `json:"title"`
	Short   string `json:"short"` // for the trail
	To      string `json:"to"`    // the minute at which it was done
	Reading string `json:"reading"`
	Ruler   string `json:"ruler"`
	Strip   string `json:"strip"`
	Lead    string `json:"lead"` // the likeliest thing after it, in words
}

type chanceView struct {
	Letter  string        `json:"letter,omitempty"`
	ID      trace.CauseID `json:"id"`
	Block   trace.BlockID `json:"block,omitempty"`
	Title   string        `json:"title"`
	Address string        `json:"address,omitempty"`
	Chance  string        `json:"chance"`
	Share   float64       `json:"share"`
	Extra   string        `json:"extra,omitempty"` // the block, and how long the mend takes
	Suspect bool          `json:"suspect,omitempty"`
}

type insteadView struct {
	Title string `json:"title"`
	Extra string `json:"extra"`
}

type whyNotView struct {
	Why  trace.WhyNot `json:"why"`
	Says string       `json:"says"`
}

// leftOutView is a test that was let go and keeps others from being taken; it can be
// taken after all.
type leftOutView struct {
	Test trace.TestID `json:"test"`
	Says string       `json:"says"`
}

// lookView is a place to look into by hand; the block "" is outside the chain.
type lookView struct {
	Block trace.BlockID `json:"block"`
	Says  string        `json:"says"`
}

// Next gives the next step of the trace.
func (t *Tracer) Next(question string) string {
	if t.device == nil {
		return door.Fail(errNoDevice)
	}
	var q struct {
		trace.Evidence
		Clock float64 `json:"clock"` // minutes of the job, by its clock
	}
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	known := q.Evidence
	dev := &t.device.Device
	a, err := trace.Next(dev, known)
	if err != nil {
		return door.Fail(err)
	}
	v := viewOf(dev, a)
	if dev.Cause(known.Suspect) != nil {
		v.Suspect = known.Suspect
	}
	for i := range v.Chances {
		v.Chances[i].Suspect = v.Suspect != "" && v.Chances[i].ID == v.Suspect
	}
	v.path(dev, known, a)
	letters := map[trace.CauseID]string{}
	for _, c := range v.Chances {
		letters[c.ID] = c.Letter
	}
	v.Number = len(v.Path) + 1
	v.more()
	chain, arm := drawn.Chain(dev, known, a, letters), drawn.Arm(dev, known, a, q.Clock)
	v.Chain = chains(chain)
	v.Arm = [2]string{arm.Wide(), arm.Pocket()}
	t.arm = func(clock float64) [2]string {
		arm := drawn.Arm(dev, known, a, clock)
		return [2]string{arm.Wide(), arm.Pocket()}
	}
	chain = drawn.AtRest(chain)
	v.AtRest = chains(chain)
	return door.Write(v)
}

func chains(c circuit.Chain) [4]string {
	return [4]string{c.Wide(), c.Pocket(), c.SlimWide(), c.SlimPocket()}
}

// Arm draws the rule of minutes of the last advice anew, as the clock goes on.
func (t *Tracer) Arm(question string) string {
	var q struct {
		Clock float64 `json:"clock"`
	}
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	if t.arm == nil {
		return door.Fail(errNoDevice)
	}
	return door.Write(map[string]any{"arm": t.arm(q.Clock)})
}

// lettered suspects have a letter each, the likeliest now first; the others share
// the rest of a strip.
const lettered = 5

// path puts the steps done, and the next, on the ruler of minutes, each with the
// chances after it.
func (v *adviceView) path(dev *trace.Device, known trace.Evidence, a trace.Advice) {
	type key struct {
		cause trace.CauseID
		block trace.BlockID
	}
	letters, at := map[key]string{}, 0.0
	for i := range v.Chances[:min(lettered, len(v.Chances)-1)] {
		c := &v.Chances[i]
		c.Letter = string(rune('A' + i))
		letters[key{c.ID, c.Block}] = c.Letter
	}
	strip := func(e trace.Evidence) (svg, lead string) {
		causes, unknown := trace.Chances(dev, e)
		parts := make(draw.Strip, len(letters), len(letters)+1)
		rest, most := 1.0, 0.0
		add := func(k key, title string, chance float64) {
			if chance > most {
				most, lead = chance, say.InSentence(title)+" "+quantity.Chance(chance)
			}
			if l := letters[k]; l != "" {
				parts[l[0]-'A'] = draw.Share{Letter: l, Value: quantity.Round(chance, 6)}
				rest -= chance
			}
		}
		for _, c := range causes {
			add(key{cause: c.ID}, dev.Cause(c.ID).Title, c.Chance)
		}
		for _, u := range unknown {
			add(key{block: u.Block}, say.Unknown(u.Block), u.Chance)
		}
		return append(parts, draw.Share{Value: quantity.Round(max(rest, 0), 6)}).SVG(), lead
	}
	so := trace.Evidence{Symptoms: known.Symptoms, Absent: known.Absent}
	v.Path = []pathView{}
	steps := trace.Taken(dev, known)
	for i, s := range steps {
		p := pathView{Title: say.Step(dev, s.Action, false), Ruler: draw.Ruler{At: s.At, Opens: s.Opens, Works: s.Minutes - s.Opens - s.Waits, Waits: s.Waits}.SVG()}
		switch s.Kind {
		case trace.DoTest:
			p.Reading, p.Short = takenText(dev.Test(s.Test), s.Reading), trace.Plain(string(s.Test))
			so.Readings = append(so.Readings, trace.Reading{Test: s.Test, Value: s.Reading})
		case trace.DoLook:
			p.Reading, p.Short = "nothing found", "looked"
			if s.ByHand {
				p.Reading, p.Short = "put right by hand", "by hand"
			}
		default:
			p.Reading = "mended, and it did not cure"
			for _, m := range known.Mended {
				if m.Cause == s.Cause && i >= len(so.Readings)+len(known.Tried) {
					p.Reading = "mended; something is wrong still"
				}
			}
		}
		if s.Kind != trace.DoTest {
			so = known
		}
		if p.Short == "" {
			p.Short = "mend"
		}
		p.Strip, p.Lead = strip(so)
		at = s.At + s.Minutes
		p.To = quantity.Number(math.Round(at))
		v.Path = append(v.Path, p)
	}
	v.At = minutes(at)
	if v.At == "" {
		v.At = "0 min"
	}
	v.Strip, v.Leads = strip(known)
	if a.Kind != trace.DoStop && a.Minutes > 0 {
		v.Ruler = draw.Ruler{At: at, Opens: a.Opens, Works: a.Minutes - a.Opens - a.Waits, Waits: a.Waits}.SVG()
	}
}

// does takes what a mend does out of the reasons: it is the step itself.
func (v *adviceView) does(text string) {
	plain := func(s string) string { return strings.TrimRight(strings.TrimSpace(s), ".!?") }
	for i, why := range v.Why {
		if text != "" && plain(why) == plain(text) {
			v.Does, v.Why = why, slices.Delete(v.Why, i, i+1)
			return
		}
	}
}

// shownUnknown is the chance from which a fault that no note describes has a line
// of its own on the page; the others share one.
const shownUnknown = .04

func viewOf(dev *trace.Device, a trace.Advice) adviceView {
	said := say.Advice(dev, a)
	v := adviceView{Kind: a.Kind, ID: a.ID(), Head: said.Head, Title: said.Title, Minutes: minutes(a.Minutes), Caution: a.Caution, Stop: a.Stop, Located: list(a.Located),
		Why: list(said.Why), Notes: list(said.Notes), FromHere: said.FromHere, Money: said.Money, Spoken: said.Spoken,
		Outcomes: []outcomeView{}, Chances: []chanceView{}, Instead: []insteadView{}}
	v.Notes = v.Notes[:0]
	for i, r := range a.Remarks {
		switch r.About {
		case trace.LeftOut:
			v.LeftOut = append(v.LeftOut, leftOutView{r.Test, said.Notes[i]})
		case trace.SuspectNow: // stands below the step, with the way to ask no more
		default:
			v.Notes = append(v.Notes, said.Notes[i])
		}
	}
	var opens []string
	for _, o := range said.Open {
		opens = append(opens, trace.InSentence(o.Does))
	}
	v.Open = strings.Join(opens, ", then ")
	switch a.Kind {
	case trace.DoTest:
		if t := dev.Test(a.Test); t != nil {
			v.Power, v.State, v.With = t.Power.Says(), t.Power, t.With
			v.Unit = t.Kind.Unit()
			caution(&v, calc.Signal(t.Power.Signal()))
		}
		for _, o := range said.Outcomes {
			v.Outcomes = append(v.Outcomes, outcomeView{Reading: o.Reading, Name: o.Name, Text: o.Text, Chance: o.Chance, Leaves: o.Then, Healthy: o.Healthy})
		}
		v.order(dev.Test(a.Test))
		var order []trace.ReadingID
		for _, o := range v.Outcomes {
			order = append(order, o.Reading)
		}
		v.Bands = drawn.Bands(dev.Test(a.Test), order).SVG()
		for _, why := range trace.WhyNots() {
			v.WhyNot = append(v.WhyNot, whyNotView{why, say.WhyNot(why)})
		}
	case trace.DoMend, trace.Past:
		v.State = trace.Off
		if c := dev.Cause(a.Cause); c != nil {
			v.Address = c.Address
			v.does(c.Mend.Does)
		}
		caution(&v, calc.Care)
	default:
		caution(&v, calc.Danger)
		if a.Stop == trace.StopUnknown {
			v.Look = &lookView{a.Block, say.Block(a.Block)}
		}
	}
	// what is likeliest stands first, whether a note describes it or not
	rest := 0.0
	for _, c := range said.Chances {
		if c.Cause == "" && c.Share < shownUnknown {
			rest += c.Share
			continue
		}
		cv := chanceView{ID: c.Cause, Block: c.Block, Title: c.Title, Chance: c.Chance, Share: c.Share}
		if cause := dev.Cause(c.Cause); cause != nil {
			cv.Address = cause.Address
			cv.Extra = say.Mend(dev, cause)
		}
		v.Chances = append(v.Chances, cv)
	}
	inorder.By(v.Chances, func(x, y chanceView) int { return cmp.Compare(y.Share, x.Share) })
	v.Chances = append(v.Chances, chanceView{Title: "Not in these notes, elsewhere", Chance: quantity.Chance(rest), Share: quantity.Round(rest, 4)})
	for _, i := range said.Instead {
		v.Instead = append(v.Instead, insteadView{i.Title, i.Extra})
	}
	return v
}

// order puts the answers low to high where they are measured, and gives each the
// letter that chooses it.
func (v *adviceView) order(t *trace.Test) {
	place := func(o outcomeView) int {
		return slices.IndexFunc(t.Reads, func(b trace.Band) bool { return b.ID == o.Reading })
	}
	if t.Kind != "" { // notes list the highest reading first
		inorder.By(v.Outcomes, func(a, b outcomeView) int { return cmp.Compare(place(b), place(a)) })
	}
	taken := map[rune]bool{}
	for i := range v.Outcomes {
		o := &v.Outcomes[i]
		var initials, others []rune
		for _, word := range strings.Fields(strings.ToLower(o.Name)) {
			for k, r := range []rune(word) {
				if k == 0 {
					initials = append(initials, r)
				} else {
					others = append(others, r)
				}
			}
		}
		for _, r := range append(append(initials, others...), []rune("ghijklmnopqrstuvwxyz")...) {
			if r > 'f' && r <= 'z' && !taken[r] { // a to f name faults
				taken[r], o.Key = true, string(r)
				break
			}
		}
	}
}

// more says together what has no letter.
func (v *adviceView) more() {
	n, sum := 0, 0.0
	for _, c := range v.Chances {
		if c.Letter == "" {
			n, sum = n+1, sum+c.Share
		}
	}
	v.More = say.More(n, sum)
}

func caution(v *adviceView, otherwise calc.Signal) {
	if v.Caution != "" {
		c := calc.ReadCaution(v.Caution, otherwise)
		v.Signal, v.Caution = string(c.Signal), c.Text
	}
}

// LookBack compares the way taken with the best one, and says what to note.
func (t *Tracer) LookBack(question string) string {
	if t.device == nil {
		return door.Fail(errNoDevice)
	}
	var q struct {
		Known trace.Evidence `json:"known"`
		Cause trace.CauseID  `json:"cause"`
	}
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	dev := &t.device.Device
	l, err := trace.LookBack(dev, q.Known, q.Cause)
	if err != nil {
		return door.Fail(err)
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
			v := stepView{Title: say.Step(dev, s.Action, s.Again), Minutes: minutes(s.Minutes), Ruler: draw.Ruler{At: s.At, Opens: s.Opens, Works: s.Minutes - s.Opens - s.Waits, Waits: s.Waits}.SVG()}
			if t := dev.Test(s.Test); t != nil && s.Kind == trace.DoTest {
				v.Reading = takenText(t, s.Reading)
			}
			if s.Stop != "" {
				v.Title = say.Head(s.Kind) + ": " + say.Stop(dev, s.Action, s.Stop, nil)
			}
			if s.Extra >= .5 {
				v.Extra = quantity.Minutes(s.Extra) + " more than the best step, on average"
			}
			out = append(out, v)
		}
		return out
	}
	lessons := []string{}
	for _, x := range l.ToNote {
		lessons = append(lessons, say.Lesson(dev, x))
	}
	return door.Write(map[string]any{"taken": views(l.Taken), "best": views(l.Best), "takenMinutes": minutes(l.TakenMinutes), "bestMinutes": minutes(l.BestMinutes), "toNote": lessons})
}

// Draft begins a fault note with what the trace knows: in a block where something was
// put right, or in the one that the trace names, if it has come to one.
func (t *Tracer) Draft(question string) string {
	if t.device == nil {
		return door.Fail(errNoDevice)
	}
	var q struct {
		trace.Evidence
		Block *trace.BlockID `json:"block"` // where it was found; nil where the trace says where
	}
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	dev := &t.device.Device
	if q.Block == nil {
		a, err := trace.Step(dev, q.Evidence)
		if err != nil {
			return door.Fail(err)
		}
		q.Block = &a.Block
	}
	return door.Write(map[string]string{"markdown": trace.Draft(dev, "", *q.Block, q.Evidence), "name": t.device.ID + "-new-fault.md"})
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

func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

// Reading says which band a typed value falls into, or why it cannot be read.
func (t *Tracer) Reading(question string) string {
	if t.device == nil {
		return door.Fail(errNoDevice)
	}
	var q struct {
		Test  trace.TestID `json:"test"`
		Value string       `json:"value"`
	}
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	test := t.device.Test(q.Test)
	if test == nil {
		return door.Fail(errors.New("there is no test " + string(q.Test)))
	}
	fits, err := trace.ParseReading(test, q.Value)
	if err != nil {
		return door.Fail(err)
	}
	if len(fits) == 0 {
		return door.Write(map[string]string{"text": "fits no band"})
	}
	return door.Write(map[string]string{"text": trace.Plain(string(fits[0].Reading))})
}
