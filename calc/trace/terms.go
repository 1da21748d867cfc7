package trace

import (
	"slices"

	"faultleaf/calc/trace/solve"
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

// price of a mend's parts.
func (m *Mend) price() float64 {
	sum := 0.0
	for _, p := range m.Parts {
		sum += float64(p.Count * p.Price)
	}
	return sum
}

// spent is what the steps so far have cost, in money.
func (b *bench) spent() float64 {
	sum := 0.0
	for _, s := range b.steps() {
		sum += float64((s.Minutes - s.Waits) * b.Shop.Rate / 60)
		if c := b.Cause(s.Cause); c != nil {
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
func (p *planned) costs() (m Money, ok bool) {
	stages := 0
	// test parts what a test counts into its own minutes, waiting and harm
	test := func(t *Test, chance float64) {
		m.Minutes += chance * (t.Minutes - p.counted(t))
		m.Waits += chance * t.Waits
		m.Parts += chance * harm(p.Device, t) / 60 * p.Shop.Rate
	}
	var walk func(g solve.Stage, chance float64) bool
	walk = func(g solve.Stage, chance float64) bool {
		if stages++; stages > mostStages {
			return false
		}
		step, going := g.Next()
		if !going {
			return true
		}
		on := 0.0
		for _, w := range step.Ways {
			on += w.Chance
		}
		m.Minutes += chance * step.Cost
		for _, i := range step.Opens {
			if t := p.groups[i]; t != nil {
				test(t, chance)
			}
		}
		switch act := p.act(step.Action); act.Kind {
		case DoTest:
			if t := p.Test(act.Test); !slices.Contains(p.groups, t) {
				test(t, chance)
			}
		case DoMend:
			// a mend that succeeds at times is done again, parts and all
			c := p.Cause(act.Cause)
			tries := 1 + (1-on)*(1/success(c)-1)
			m.Minutes += chance * ((tries-1)*c.Mend.Minutes - p.Shop.inMinutes(c.Mend.price()))
			m.Parts += chance * tries * c.Mend.price()
		case Past:
			m.Minutes -= chance * step.Cost
		case Replace:
			m.Minutes -= chance * step.Cost
			m.Parts += chance * step.Cost * p.Shop.Rate / 60
		}
		for _, w := range step.Ways {
			if !walk(w.Then, chance*w.Chance) {
				return false
			}
		}
		return true
	}
	ok = walk(p.Start(), 1)
	m.Minutes += p.closing
	return m, ok
}

// money is what the job costs by a plan that mends; the sum of a plan too large
// to walk counts as minutes of work.
func (p *planned) money() *Money {
	m, ok := p.costs()
	if !ok {
		m = Money{Minutes: p.ExpectedCost + p.closing}
	}
	m.Spent = p.spent()
	m.Further = float64(m.Minutes*p.Shop.Rate/60) + float64(p.Shop.waits(m.Waits)*p.Shop.Rate/60) + m.Parts
	return &m
}

// dear stops a job that costs more than a new one, or than the owner allows.
// first is the best first step, with buying a new one among the choices where
// its price is known.
func (a *Advice) dear(b *bench, first Action) {
	if a.Kind != "" {
		return
	}
	switch m := a.Money; {
	case first.Kind == Replace:
		a.Action, a.Stop = Action{Kind: Replace}, StopCheaper
		a.because(Reason{About: WayCosts})
		a.because(Reason{About: NewCosts, Minutes: b.Terms.Price})
	case b.Terms.Limit > 0 && m.Spent+m.Further > b.Terms.Limit:
		a.Action, a.Stop = Action{Kind: DoStop}, StopLimit
		a.because(Reason{About: WayCosts})
		a.because(Reason{About: AboveLimit, Minutes: b.Terms.Limit})
	}
}
