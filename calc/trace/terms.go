package trace

import (
	"strings"

	"faultleaf/calc/quantity"
)

// Terms are what limits a job in money, in the shop's currency. Zero fields are
// not known. With any of them known, parts count in the plan at the shop's
// rate; without, the plan is in minutes alone.
type Terms struct {
	Price float64 `json:"price,omitempty"` // of a new one
	Limit float64 `json:"limit,omitempty"` // what the owner will pay at most
}

func (t Terms) known() bool { return t.Price > 0 || t.Limit > 0 }

// Money is what the job costs, spent and still to come.
type Money struct {
	Spent   float64 `json:"spent"`   // work and parts so far
	Minutes float64 `json:"minutes"` // hands-on, from here to the end of the mend, on average
	Waits   float64 `json:"waits"`   // unattended
	Parts   float64 `json:"parts"`   // money, on average
	Further float64 `json:"further"` // all of it from here, in money
}

// replaceIt is the action that ends everything: buying a new one.
const replaceIt = "replace it"

// inMinutes is a sum as minutes of the shop's work.
func (s Shop) inMinutes(sum float64) float64 {
	if s.Rate <= 0 {
		return 0
	}
	return sum / s.Rate * 60
}

// waits is what unattended minutes count.
func (s Shop) waits(minutes float64) float64 {
	if s.WaitsCount > 0 && s.WaitsCount <= 1 {
		return minutes * s.WaitsCount
	}
	return minutes
}

// Sum prints money in the shop's currency.
func (s Shop) Sum(x float64) string {
	v := quantity.Of(quantity.Money, x)
	v.Unit = s.Currency
	return v.Text()
}

// price of a mend's parts.
func (m *Mend) price() float64 {
	sum := 0.0
	for _, p := range m.Parts {
		sum += float64(p.Count * p.Price)
	}
	return sum
}

// barred says why a mend cannot be done here, with the reason to stop for;
// "" if it can.
func (d *Device) barred(k Evidence, c *Cause) (StopFor, string) {
	if c.Mend.Forbidden != "" {
		return StopForbidden, sentence(c.Mend.Forbidden)
	}
	for _, a := range d.Opening(c.Mend.Needs) {
		if a.Forbidden != "" {
			return StopForbidden, sentence(a.Forbidden)
		}
	}
	for _, id := range k.NoPart {
		if id == c.ID {
			return StopNoPart, "The part for it is not to be had."
		}
	}
	for _, p := range c.Mend.Parts {
		if p.Gone {
			return StopNoPart, "The part " + p.Part + " is not made any more."
		}
	}
	return "", ""
}

func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// spent is what the steps so far have cost, in money.
func (d *Device) spent(k Evidence) float64 {
	steps, err := Taken(d, k)
	if err != nil {
		return 0 // said where the readings are read
	}
	sum := 0.0
	for _, s := range steps {
		sum += float64((s.Minutes - s.Waits) * d.Shop.Rate / 60)
		if c := d.Cause(CauseID(s.ID)); c != nil && s.Kind == "mend" {
			sum += c.Mend.price()
		}
	}
	return sum
}

// mostStages bounds the walk through a policy.
const mostStages = 4000

// costs walks the policy and parts what it costs into hands-on minutes,
// unattended minutes and money for parts; ok is false where the policy is too
// large to walk.
func (p *planned) costs(d *Device) (m Money, ok bool) {
	stages := 0
	var walk func(g Stage, chance float64) bool
	walk = func(g Stage, chance float64) bool {
		if stages++; stages > mostStages {
			return false
		}
		action, cost, then, going := g.Next()
		if !going {
			return true
		}
		on := 0.0
		for _, w := range then {
			on += w.Chance
		}
		if t := p.tests[action]; t != nil {
			counted := t.Minutes + d.Shop.waits(t.Waits) + harm(d, t)
			m.Minutes += chance * (cost - counted + t.Minutes)
			m.Waits += chance * t.Waits
			m.Parts += chance * harm(d, t) / 60 * d.Shop.Rate
		} else if c := p.mends[action]; c != nil {
			// a mend that succeeds at times is done again, parts and all
			tries := 1 + (1-on)*(1/success(c)-1)
			price := d.Shop.inMinutes(c.Mend.price())
			m.Minutes += chance * (cost - c.Mend.Minutes - price + tries*c.Mend.Minutes)
			m.Parts += chance * tries * c.Mend.price()
		} else {
			m.Parts += chance * cost * d.Shop.Rate / 60
		}
		for _, w := range then {
			if !walk(w.Then, chance*w.Chance) {
				return false
			}
		}
		return true
	}
	start := p.Start()
	if start.solver == nil {
		return m, false
	}
	ok = walk(start, 1)
	m.Minutes += p.closing
	return m, ok
}

// money fills in what the job costs, and stops it where mending does not pay.
// p is the plan that mends; the sum of a plan too large to walk counts as
// minutes of work.
func (p *planned) money(d *Device, k Evidence, spent float64, a *Advice) {
	if !k.Terms.known() {
		return
	}
	m, ok := p.costs(d)
	if !ok {
		m = Money{Minutes: p.ExpectedCost + p.closing}
	}
	m.Spent = spent
	m.Further = float64(m.Minutes*d.Shop.Rate/60) + float64(d.Shop.waits(m.Waits)*d.Shop.Rate/60) + m.Parts
	a.Money = &m
}

// Says is the sum in words.
func (m *Money) Says(s Shop) string {
	text := "From here to the end of the mend: about " + quantity.Minutes(m.Minutes) + " of work at " + s.Sum(s.Rate) + " an hour"
	if m.Waits >= .5 {
		text += ", " + quantity.Minutes(m.Waits) + " of waiting"
	}
	if m.Parts >= .005 {
		text += ", parts for " + s.Sum(m.Parts) + " on average"
	}
	return text + ": " + s.Sum(m.Further) + "."
}

// dear stops a job that costs more than a new one, or than the owner allows.
// first is the best first step, with buying a new one among the choices where
// its price is known.
func (a *Advice) dear(d *Device, k Evidence, first string) {
	m, t := a.Money, k.Terms
	if m == nil || a.Kind != "" {
		return
	}
	stop := func(why StopFor, title string) { a.Kind, a.ID, a.Title, a.Stop = "stop", "", title, why }
	switch {
	case first == replaceIt:
		stop(StopCheaper, "replacing it is cheaper")
		a.Why = append(a.Why, m.Says(d.Shop), "A new one costs "+d.Shop.Sum(t.Price)+"; what is spent already ("+d.Shop.Sum(m.Spent)+") is spent either way.",
			"Money is not all: what is mended is not waste. If you go on for its own sake, leave the price out.")
	case t.Limit > 0 && m.Spent+m.Further > t.Limit:
		stop(StopLimit, "ask the owner first")
		a.Why = append(a.Why, m.Says(d.Shop), "With "+d.Shop.Sum(m.Spent)+" spent so far that is "+d.Shop.Sum(m.Spent+m.Further)+", above the owner's limit of "+d.Shop.Sum(t.Limit)+".")
	}
}
