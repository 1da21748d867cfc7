// Package say puts into words what the trace advises. Every sentence about an
// advice, a remark or a look back is written here, and nowhere else; the page, the
// command and the printed tree only lay out.
package say

import (
	"math"
	"strings"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// Said is an advice in words.
type Said struct {
	Head     string   // "Next", "Mend", "Stop", "Replace it", "Past mending"
	Title    string   // what to do
	Why      []string // a sentence each
	Notes    []string // odd or worth knowing, a sentence each
	Open     []Opens  // to open first, in order
	Outcomes []Outcome
	Chances  []Chance // noted faults first, then those that no note describes, likeliest first each
	Rest     string   // chance of a fault that no note describes
	Instead  []Instead
	FromHere string // minutes to the end of the mend
	Money    string // cost of it
	Spoken   string // the advice in one breath
}

// Opens is opening work to do first.
type Opens struct{ Does, Minutes string }

// Outcome is a reading that the advised test may give.
type Outcome struct {
	Reading      trace.ReadingID
	Name, Text   string
	Chance       string
	Leaves       string // what is still likely then; "" for nothing in particular
	Then         string // the same in short: the likeliest of it, and how many more
	Healthy      bool
	Forbids      string // why nothing is powered after it
	MinutesAfter string
}

// Chance is one thing that may be wrong.
type Chance struct {
	Cause  trace.CauseID // "" for a fault that no note describes
	Block  trace.BlockID // of that one; "" is outside the chain
	Title  string
	Chance string
	Share  float64
}

// Instead is another first step and what it costs.
type Instead struct{ Title, Extra string }

// speaker knows the device that is spoken of.
type speaker struct {
	d *trace.Device
	a *trace.Advice
}

// Advice puts an advice about a device into words.
func Advice(d *trace.Device, a trace.Advice) Said {
	s := speaker{d, &a}
	said := Said{Head: Head(a.Kind), Title: s.title(), Rest: quantity.Chance(a.Rest)}
	for _, r := range a.Reasons {
		if text := s.reason(r); text != "" {
			said.Why = append(said.Why, text)
		}
	}
	if text := s.flip(); text != "" {
		said.Why = append(said.Why, text)
	}
	said.Why = append(said.Why, s.parting()...)
	for _, r := range a.Remarks {
		said.Notes = append(said.Notes, Remark(d, r))
	}
	for _, id := range a.Open {
		for _, acc := range d.Opening([]trace.AccessID{id}) {
			if acc.ID == id {
				said.Open = append(said.Open, Opens{acc.Does, quantity.Minutes(acc.Minutes)})
			}
		}
	}
	s.outcomes(&said)
	s.chances(&said)
	for _, i := range a.Instead {
		extra := "as good, on average"
		if i.ExtraMinutes >= .05 {
			extra = quantity.Minutes(i.ExtraMinutes) + " more on average"
		}
		said.Instead = append(said.Instead, Instead{Step(d, i.Action, i.Again), extra})
	}
	goesOn := a.Kind == trace.DoTest || a.Kind == trace.DoMend
	if goesOn && a.MinutesFromHere > 0 {
		said.FromHere = "About " + quantity.Minutes(a.MinutesFromHere) + " from here to the end of the mend, if readings are true; " + bound(&a)
		if a.GivenUp >= mayGiveUp {
			said.FromHere = "About " + quantity.Minutes(a.MinutesFromHere) + " from here to the end, if readings are true, where giving it up (" + quantity.Chance(a.GivenUp) + ") counts as " +
				quantity.Minutes(a.GivesUp) + "; " + bound(&a)
		}
		if s.asked() {
			said.FromHere = "About " + quantity.Minutes(a.MinutesFromHere) + " until it is known, if readings are true; " + bound(&a)
		}
	}
	if a.Money != nil {
		said.Money = Money(d.Shop, a.Money)
		if a.Money.Spent > 0 {
			said.Money = "Spent so far: " + Sum(d.Shop, a.Money.Spent) + ". " + said.Money
		}
	}
	said.Spoken = sentence(said.Head + ": " + said.Title)
	if c := s.likeliest(said.Chances); c != nil {
		said.Spoken += " Likeliest: " + c.Title + ", " + c.Chance + "."
	}
	return said
}

// Head is the word before an advice of a kind.
func Head(k trace.Kind) string {
	switch k {
	case trace.DoTest:
		return "Next"
	case trace.DoMend:
		return "Mend"
	case trace.Replace:
		return "Replace it"
	case trace.Past:
		return "Past mending"
	case trace.DoLook:
		return "Look"
	}
	return "Stop"
}

// Step is a step as a title.
func Step(d *trace.Device, a trace.Action, again bool) string {
	switch a.Kind {
	case trace.DoTest:
		if t := d.Test(a.Test); t != nil {
			if again {
				return t.Ask + " (once more)"
			}
			return t.Ask
		}
	case trace.DoMend, trace.Past:
		if c := d.Cause(a.Cause); c != nil {
			return c.Title
		}
	case trace.Replace:
		return "Buying a new one"
	case trace.DoLook, trace.DoStop:
		if a.Block == "" {
			return "Looking the whole thing over by hand"
		}
		return "Looking the " + block(a.Block) + " over by hand"
	}
	return ""
}

// Block names a block, or what lies outside the chain.
func Block(id trace.BlockID) string {
	if id == "" {
		return "outside the chain: stand, lid, belt, handle"
	}
	return block(id)
}

func block(id trace.BlockID) string { return string(id) }

// Unknown is a fault that no note describes, as a title.
func Unknown(id trace.BlockID) string {
	if id == "" {
		return "A fault outside the chain (stand, lid, belt, handle) that no note describes"
	}
	return "A fault of the " + block(id) + " that no note describes"
}

// InSentence begins a title in small letters, for use inside a sentence.
func InSentence(title string) string {
	if rest, ok := strings.CutPrefix(title, "A fault"); ok {
		return "a fault" + rest
	}
	return trace.InSentence(title)
}

// Stop is the title of a stop, wherever in a trace it stands.
func Stop(d *trace.Device, a trace.Action, why trace.StopFor, located []trace.BlockID) string {
	switch why {
	case trace.StopUnknown:
		switch {
		case a.Block == "" && len(located) == 0:
			return "no note describes it, and it is likeliest outside the chain"
		case a.Block == "":
			return "no note describes it, and it is likeliest outside the chain, else in the " + or(located)
		}
		if len(located) == 1 {
			return "it is in the " + block(located[0]) + ", and no note describes it"
		}
		return "it is likeliest in the " + or(located) + ", and no note describes it"
	case trace.StopTwo:
		return "there are two faults, it seems, and the one that makes it unsafe comes first"
	case trace.StopLive:
		return "the next test would be a live one"
	case trace.StopLimit:
		return "ask the owner first"
	case trace.StopCheaper:
		return "a new one is cheaper"
	case trace.StopForbidden, trace.StopNoPart:
		title := ""
		if c := d.Cause(a.Cause); c != nil {
			title = c.Title
		}
		if why == trace.StopNoPart {
			return "it is most likely “" + title + "”, and there is no part for it"
		}
		return "it is most likely “" + title + "”, and this shop does not mend that"
	}
	return "nothing is left to do"
}

func (s speaker) title() string {
	if s.a.Kind == trace.DoStop || s.a.Kind == trace.Replace {
		return Stop(s.d, s.a.Action, s.a.Stop, s.a.Located)
	}
	return Step(s.d, s.a.Action, s.a.Again)
}

// asked tells whether the advice is about a suspect that somebody asks about.
func (s speaker) asked() bool {
	for _, r := range s.a.Reasons {
		if r.About == trace.AskedAbout {
			return true
		}
	}
	return false
}

func (s speaker) cause(id trace.CauseID) string {
	if c := s.d.Cause(id); c != nil {
		return c.Title
	}
	return string(id)
}

func (s speaker) causes(ids []trace.CauseID) string {
	var titles []string
	for _, id := range ids {
		titles = append(titles, "“"+s.cause(id)+"”")
	}
	return strings.Join(titles, ", ")
}

func (s speaker) ask(id trace.TestID) string {
	if t := s.d.Test(id); t != nil {
		return t.Ask
	}
	return string(id)
}

// reason is one reason as a sentence or a few.
func (s speaker) reason(r trace.Reason) string {
	step := "“" + Step(s.d, r.Action, r.Again) + "”"
	switch r.About {
	case trace.CostsMore:
		verb := "Starting with " + step + " instead"
		switch r.Action.Kind {
		case trace.DoMend, trace.Past:
			verb = "Going straight for the mend of " + step
		case trace.DoLook:
			verb = Step(s.d, r.Action, false) + " first"
		case trace.Replace:
			verb = step
		}
		return verb + " costs " + quantity.Minutes(r.Minutes) + " more on average."
	case trace.TinglesFirst:
		return "It tingles: earth bond and insulation come before everything else, and nobody uses it until both have read good."
	case trace.TwoFaults:
		return "“" + s.cause(r.Cause) + "” explains the other readings (" + quantity.Chance(r.Chance) + "), and not what makes it unsafe. Find and mend that, read it again, then go on."
	case trace.TripsFirst:
		return "It takes the supply out: insulation comes before everything else, and it goes on no supply until that has read good."
	case trace.AsGood:
		return step + " would be as good a start."
	case trace.SuspectFirst:
		return "Mending the suspect first (" + step + ") costs " + quantity.Minutes(r.Minutes) + " more on average."
	case trace.ConfirmsLast:
		return "One fault is left; this confirms it before the mend."
	case trace.ComesAndGoes:
		return "It read well before, but what is suspected comes and goes: move, tap, warm or load it while you look."
	case trace.DoneWhile:
		if t := s.d.Test(r.Test); t != nil {
			return "Do it while the device is " + strings.Join(t.While, " or ") + "."
		}
	case trace.MeasureFirst:
		text := "Measure before you replace: “" + s.cause(r.Cause) + "” is likeliest, and no part is fitted before a reading on it was abnormal."
		if r.Minutes >= .05 {
			text += " That rule costs " + quantity.Minutes(r.Minutes) + " on average here."
		}
		return text
	case trace.BesideFirst:
		return "“" + s.cause(r.Cause) + "” is likeliest, but what was read would be the same with something beside it broken; this is quick, and comes before a part is fitted."
	case trace.OutsideFirst:
		return "What can be read from outside comes before anything is opened."
	case trace.SeenHurt:
		return "What was seen allows nothing else: this comes before anything more is touched or read."
	case trace.ShowsItself:
		return "“" + s.cause(r.Cause) + "” shows itself by a reading of its own, but does not explain all that was read: there may be two faults. Mend this one, then read on."
	case trace.ReadAgain:
		return "What made it read badly was mended since: it must read good before anything else is mended or powered."
	case trace.EyesFirst:
		return "To look or to ask takes a minute and may show the fault: it comes before a longer test."
	case trace.GiveUpLast:
		return "“" + s.cause(r.Cause) + "” is likeliest, and past mending; before the thing is given up, what may show a fault that can be mended is read."
	case trace.ProofFirst:
		return "The next useful test puts it on the mains (“" + s.ask(r.Test) + "”); before that the " + r.Proof.Says() + " must read good."
	case trace.TestFirst:
		return "This must read good before “" + s.ask(r.Test) + "”."
	case trace.NothingSafer:
		return "No safer test tells apart what is left: " + s.causes(r.Causes) + "."
	case trace.PointsTo:
		return "The readings point to it: " + quantity.Chance(r.Chance) + "."
	case trace.BestTry:
		return "No test left tells enough for its minutes; this mend is the best next try (" + quantity.Chance(r.Chance) + ")."
	case trace.MendDoes:
		if c := s.d.Cause(r.Cause); c != nil && c.Mend.Does != "" {
			return sentence(c.Mend.Does)
		}
	case trace.NoMend:
		return sentence(r.Text) + " Say so to the owner, with what was found; take it to the recycling and keep what serves as a spare."
	case trace.IsBarred:
		return s.barred(r)
	case trace.NoLive:
		return "This shop does not allow live tests: “" + s.ask(r.Test) + "” is left to people licensed for it where the law says so."
	case trace.ProofBad:
		return "The " + r.Proof.Says() + " did not read good, so the device is not powered before that is put right."
	case trace.ProofMissing:
		return "The device has no test that proves its " + r.Proof.Says() + ", so it is not powered."
	case trace.ProofCannot:
		return "The " + r.Proof.Says() + " cannot be proved here" + because(trace.WhyNot(r.Text)) + ", so the device is not powered. " + whoCan(r.Proof)
	case trace.WithoutIt:
		return "Without it: " + Step(s.d, r.Action, r.Again) + " is the best thing to do."
	case trace.UnknownIn:
		return s.unknownIn(r)
	case trace.UnknownOut:
		return "What was read speaks for no block of the chain (" + quantity.Chance(r.Chance) + " outside it): look the whole thing over, stand, lid, belt, handle, whatever no test reaches. Then write the note."
	case trace.BestNote:
		text := "The likeliest fault in the notes is “" + s.cause(r.Cause) + "” (" + quantity.Chance(r.Chance) + ")"
		if c := s.d.Cause(r.Cause); c != nil && c.Mend.None != "" {
			text += ", and it is past mending: look before the thing is given up"
		}
		return text + "."
	case trace.OnlyStated:
		text := "Nothing is powered, and only what explains this reading is mended: " + sentence(r.Text)
		if titles := s.causes(r.Causes); titles != "" {
			return text + " Of the notes that is " + titles + "."
		}
		return text + " No note explains it."
	case trace.AskedAbout:
		return "You ask whether it is “" + s.cause(r.Cause) + "” (" + quantity.Chance(r.Chance) + " by what is known): this test tells it best from the others."
	case trace.TellsNoMore:
		return "You ask whether it is “" + s.cause(r.Cause) + "”: no test that is left tells it from the others."
	case trace.WayCosts:
		if s.a.Money != nil {
			return Money(s.d.Shop, s.a.Money)
		}
	case trace.NewCosts:
		return "A new one costs " + Sum(s.d.Shop, r.Minutes) + "; what is spent already (" + Sum(s.d.Shop, s.spent()) + ") is spent either way. Money is not all: what is mended is not waste. If you go on for its own sake, leave the price out."
	case trace.AboveLimit:
		all := s.spent()
		if s.a.Money != nil {
			all += s.a.Money.Further
		}
		return "With " + Sum(s.d.Shop, s.spent()) + " spent so far that is " + Sum(s.d.Shop, all) + ", above the owner's limit of " + Sum(s.d.Shop, r.Minutes) + "."
	}
	return ""
}

func (s speaker) spent() float64 {
	if s.a.Money == nil {
		return 0
	}
	return s.a.Money.Spent
}

func (s speaker) barred(r trace.Reason) string {
	text := sentence(r.Text)
	if s.a.Stop == trace.StopNoPart {
		text = "The part for it is not available."
		if r.Text != "" {
			text = "The part " + r.Text + " is not made any more."
		}
	}
	return text + " Say so to the owner, with what was found; nothing is left open or bypassed."
}

func (s speaker) unknownIn(r trace.Reason) string {
	text := "In the " + block(r.Block) + ": " + quantity.Chance(r.Chance) + " for a fault that no note describes."
	if len(r.Reads) == 0 {
		return text + " Nothing was read there yet."
	}
	var read []string
	for _, x := range r.Reads {
		read = append(read, "“"+s.ask(x.Test)+"” read "+Reading(s.d.Test(x.Test), x.Reading, x.Typed))
	}
	return text + " Read there: " + strings.Join(read, "; ") + "."
}

// Reading says what was read: the band by its name, with the measured value where
// one was typed, or that it fits none.
func Reading(t *trace.Test, id trace.ReadingID, typed string) string {
	if id == "" {
		return typed + " (fits no band)"
	}
	name := trace.Plain(string(id))
	if typed != "" && !strings.EqualFold(strings.Join(strings.Fields(typed), "-"), string(id)) {
		return typed + " (" + name + ")"
	}
	if t != nil {
		for _, b := range t.Reads {
			if b.ID == id && b.Text != "" {
				return name + " (" + b.Text + ")"
			}
		}
	}
	return name
}

// parting says at a stop for an unknown fault how to go on.
func (s speaker) parting() []string {
	if s.a.Kind != trace.DoStop || s.a.Stop != trace.StopUnknown || len(s.a.Located) == 0 {
		return nil
	}
	return []string{"Unplugged and discharged, look there by hand: burnt, loose, wet, bridged, broken. Cells, packs and sealed parts stay shut. Measure what can be measured, and write a fault note with what you find; the beginning of one is below."}
}

func (s speaker) flip() string {
	f := s.a.Flip
	if f == nil || f.Below == nil && f.Above == nil {
		return ""
	}
	title := "“" + s.cause(f.Cause) + "”"
	better := func(x *trace.FlipsTo) string {
		name := "“" + Step(s.d, x.Action, x.Again) + "”"
		if x.Kind == trace.DoMend {
			name = "mending " + name
		}
		return name + " would be better"
	}
	switch {
	case f.Above == nil:
		return "This stands down to " + quantity.Chance(f.Below.Share) + " for " + title + "; below that " + better(f.Below) + "."
	case f.Below == nil:
		return "This stands up to " + quantity.Chance(f.Above.Share) + " for " + title + "; above that " + better(f.Above) + "."
	}
	return "This stands from " + quantity.Chance(f.Below.Share) + " to " + quantity.Chance(f.Above.Share) + " for " + title + "; below that " + better(f.Below) + ", above it " + better(f.Above) + "."
}

func (s speaker) outcomes(said *Said) {
	t := s.d.Test(s.a.Test)
	if t == nil || s.a.Kind != trace.DoTest {
		return
	}
	for _, o := range s.a.Outcomes {
		out := Outcome{Reading: o.Reading, Name: trace.Plain(string(o.Reading)), Chance: quantity.Chance(o.Chance)}
		if o.MinutesAfter > 0 {
			out.MinutesAfter = quantity.Minutes(o.MinutesAfter)
		}
		for _, b := range t.Reads {
			if b.ID == o.Reading {
				out.Text, out.Healthy, out.Forbids = b.Text, b.Healthy, b.Forbids
			}
		}
		var leaves []string
		for _, id := range o.Leaves {
			leaves = append(leaves, trace.InSentence(s.cause(id)))
		}
		for _, id := range o.LeavesUnknown {
			leaves = append(leaves, InSentence(Unknown(id)))
		}
		if len(leaves) > 0 {
			out.Then = leaves[0]
			if n := len(leaves) - 1; n > 0 {
				out.Then += " and " + quantity.Number(float64(n)) + " more"
			}
		}
		if len(leaves) > 3 {
			leaves = append(leaves[:3], "and more")
		}
		out.Leaves = strings.Join(leaves, ", ")
		said.Outcomes = append(said.Outcomes, out)
	}
}

func (s speaker) chances(said *Said) {
	for _, c := range s.a.Chances {
		said.Chances = append(said.Chances, Chance{Cause: c.ID, Title: s.cause(c.ID), Chance: quantity.Chance(c.Chance), Share: quantity.Round(c.Chance, 4)})
	}
	for _, u := range s.a.Unknown {
		said.Chances = append(said.Chances, Chance{Block: u.Block, Title: Unknown(u.Block), Chance: quantity.Chance(u.Chance), Share: quantity.Round(u.Chance, 4)})
	}
}

func (s speaker) likeliest(list []Chance) *Chance {
	var most *Chance
	for i := range list {
		if most == nil || list[i].Share > most.Share {
			most = &list[i]
		}
	}
	return most
}

// mayGiveUp is the chance of a fault without a mend from which it is said what giving up
// counts: else an hour of it would be taken for work.
const mayGiveUp = .05

func bound(a *trace.Advice) string {
	if a.Optimal || a.LowerBound <= 0 {
		return "no other order is quicker."
	}
	return "at most " + quantity.Chance(a.MinutesFromHere/a.LowerBound-1) + " above the quickest possible."
}

// Sum prints money in the shop's currency.
func Sum(s trace.Shop, x float64) string {
	v := quantity.Of(quantity.Money, x)
	v.Unit = s.Currency
	return quantity.Style{Comma: s.Comma}.Says(v.Text())
}

// Money is what the job costs from here.
func Money(s trace.Shop, m *trace.Money) string {
	text := "From here to the end of the mend: about " + quantity.Minutes(m.Minutes) + " of work at " + Sum(s, s.Rate) + " an hour"
	if m.Waits >= .5 {
		text += ", " + quantity.Minutes(m.Waits) + " of waiting"
	}
	if m.Parts >= .005 {
		text += ", parts for " + Sum(s, m.Parts) + " on average"
	}
	return text + ": " + Sum(s, m.Further) + "."
}

// Problem says what is wrong with evidence that cannot be used; "" of any other
// remark.
func Problem(d *trace.Device, r trace.Remark) string {
	switch r.About {
	case trace.NoSuchSymptom:
		return "there is no symptom “" + string(r.Symptom) + "” on the " + d.Title + "; its symptoms are " + symptomNames(d)
	case trace.NoSuchTest:
		return "there is no test “" + string(r.Test) + "” on the " + d.Title + "; its tests are " + testNames(d)
	case trace.NoSuchFault:
		return "there is no fault “" + string(r.Cause) + "” among the notes on the " + d.Title
	case trace.NoSuchBlock:
		return "there is no block “" + string(r.Block) + "” in the " + d.Title
	case trace.Unreadable:
		return speaker{d: d}.ask(r.Test) + ": " + r.Text
	}
	return ""
}

// Remark is one remark as a sentence or two.
func Remark(d *trace.Device, r trace.Remark) string {
	s := speaker{d: d}
	ask := ""
	if d.Test(r.Test) != nil {
		ask = s.ask(r.Test) + ": "
	}
	switch r.About {
	case trace.NoSuchSymptom, trace.NoSuchTest, trace.NoSuchFault, trace.NoSuchBlock, trace.Unreadable:
		text := sentence(Problem(d, r)) + " It is left out here."
		if r.About == trace.NoSuchTest && r.Typed != "" {
			text = sentence(Problem(d, r)) + " What it read (" + r.Typed + ") is left out here."
		}
		return "Of no use to the trace: " + text
	case trace.ThereAndNot:
		return "“" + d.Symptom(r.Symptom).Says + "” is said to be there and not to be there; it counts as there."
	case trace.ReadDifferently:
		return ask + "this was read in different ways. Clean the probes and press them on; if it still differs, the fault comes and goes."
	case trace.FitsNone:
		return ask + r.Typed + " fits no band of this test. It counts for the parts that the test looks at. Measure again, and think of a fault that is not in these notes."
	case trace.OnlyALimit:
		return ask + r.Text
	case trace.OnEdge:
		return ask + r.Typed + " lies within the meter's error of an edge, so it cannot tell " + trace.Plain(string(r.Reading)) + " from " + trace.Plain(string(r.Other)) + ". " + better(d.Test(r.Test), r)
	case trace.ReadBad:
		return ask + "the " + r.Proof.Says() + " did not read good. Put that right first; the device is not powered before."
	case trace.Unproved:
		return "The " + r.Proof.Says() + " could not be proved here" + because(trace.WhyNot(r.Text)) + ", so nothing was powered, and the device does not go back before it is. " + whoCan(r.Proof)
	case trace.LeftOut:
		if r.Count == 1 {
			return "“" + s.ask(r.Test) + "” was let go, and one test that may only come after it is left out. Take it after all, and that one counts again."
		}
		return "“" + s.ask(r.Test) + "” was let go, and " + quantity.Number(float64(r.Count)) + " tests that may only come after it are left out. Take it after all, and they count again."
	case trace.Powerless:
		if r.Past {
			return ask + trace.Plain(string(r.Reading)) + ". " + sentence(r.Text) + " The notes know no mend for what reads so: it stays unplugged."
		}
		return ask + trace.Plain(string(r.Reading)) + ". " + sentence(r.Text) + " It stays unplugged until the fault behind this is mended and the test reads good."
	case trace.TakesOthers:
		return "It often takes others with it: test or renew " + strings.Join(d.Cause(r.Cause).Takes, ", ") + " too, or the new part follows the old one."
	case trace.Protects:
		return "This is a protective part: find the reason it opened before closing the job, or write “reason not found” and pass a loaded soak. Never leave it bypassed."
	case trace.SuspectNow:
		return "Asked about: “" + s.cause(r.Cause) + "”. That changes no chance, only the question."
	}
	return ""
}

// because is why a test cannot be taken, as a clause.
func because(why trace.WhyNot) string {
	switch why {
	case trace.NoInstrument:
		return " (no instrument for it)"
	case trace.NotAllowed:
		return " (not allowed)"
	case trace.WouldHarm:
		return " (it would do harm)"
	}
	return ""
}

// WhyNot is the reason why a test cannot be taken, as a button says it.
func WhyNot(why trace.WhyNot) string {
	switch why {
	case trace.NoInstrument:
		return "no instrument for it"
	case trace.NotAllowed:
		return "not allowed here"
	case trace.WouldHarm:
		return "it would do harm"
	}
	return "no reason given"
}

// whoCan says who can prove what was not proved here.
func whoCan(p trace.ProofKind) string {
	switch p {
	case trace.Bond:
		return "Whoever tests appliances with a bond tester (200 mA or more) can: an electrician, a test house, a repair shop that has one."
	case trace.Insulation:
		return "Whoever tests appliances with an insulation tester at 500 V can: an electrician, a test house, a repair shop that has one."
	}
	return ""
}

// better says which measurement would tell two bands apart.
func better(t *trace.Test, r trace.Remark) string {
	if t == nil || r.Needs == 0 || math.IsInf(r.Edge, 0) {
		return "Measure again with a better range or meter."
	}
	text := "The edge is at " + quantity.Of(t.Kind, r.Edge).Text()
	if r.Needs < 5e-4 {
		return text + ", and no bench meter parts them; go by the other tests."
	}
	text += "; a meter good to " + quantity.Of(quantity.Percent, math.Floor(r.Needs*1000)/1000).Text() + " of the reading would tell"
	if t.Kind == quantity.Resistance && r.Edge < 20 {
		return text + ", with the leads' own resistance taken off (touch the probes together first)."
	}
	return text + ". Use the lowest range that shows it."
}

// Lesson is what the notes should learn, as a sentence.
func Lesson(d *trace.Device, l trace.Lesson) string {
	s := speaker{d: d}
	ask, says := s.ask(l.Test), string(l.Symptom)
	if x := d.Symptom(l.Symptom); x != nil {
		says = x.Says
	}
	got, want := trace.Plain(string(l.Got)), trace.Plain(string(l.Want))
	switch l.About {
	case trace.UnnamedSymptom:
		return "The note does not name the symptom “" + says + "”: add " + string(l.Symptom) + " to its symptoms."
	case trace.NeverSymptom:
		return "The note says never of the symptom " + string(l.Symptom) + ", and here it was: change the word."
	case trace.NoBand:
		return ask + ": " + l.Typed + " fits no band; give the device's note a band for it."
	case trace.NoReading:
		return "The note does not say what it reads on “" + ask + "”: add " + string(l.Test) + ": " + string(l.Got) + " to its reads."
	case trace.OtherReading:
		return "The note expects “" + want + "” on “" + ask + "”, and it read “" + got + "”: change it, or measure again."
	case trace.NotThisTime:
		return "“" + ask + "” did not show it this time; the note gives that a chance of " + quantity.Chance(l.Chance) + "."
	}
	return ""
}

func symptomNames(d *trace.Device) string {
	var names []string
	for _, s := range d.Symptoms {
		names = append(names, string(s.ID))
	}
	return strings.Join(names, ", ")
}

func testNames(d *trace.Device) string {
	var names []string
	for _, t := range d.Tests {
		names = append(names, string(t.ID))
	}
	return strings.Join(names, ", ")
}

// sentence ends a text with a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

func or(ids []trace.BlockID) string {
	var names []string
	for _, id := range ids {
		names = append(names, block(id))
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
