package trace

import (
	"slices"

	"faultleaf/calc/trace/solve"
)

// Ground is a device made ready for many questions: what its notes alone decide is
// worked out once. It answers one question at a time.
type Ground struct {
	*Device  // a copy, its tests and causes numbered
	suspects []suspect
	facts    []fact      // of test and cause
	tests    []onTest    // by number
	opensFor [][]*Access // what the mend of each cause opens
	reached  [][]*Access // what a look into the block of each suspect opens, nil for those of a note
	often    [][]float64 // chanceOf, of a test done once, by cause and band; nil until asked for
	mendsBy  [][]string  // the groups of a model that the mend of each cause needs itself
	looksBy  [][]string  // those of a look into the block of each suspect
	lead     []int       // of each cause, the first one that the same mend cures
	measures [][]*Test   // of each cause, the tests on its block that it reads abnormal on
	first    *Advice     // the brief step before anything is known
	room     solve.Room
	plans    planRoom                // of brief steps, one after the other
	likes    []float64               // scratch: of each suspect, how likely a reading is
	knowns   []bool                  // and whether the notes tell
	unread   map[string]unnotedReads // what faults that no note describes read, by what the device shows
}

// fact is what a note says of a test.
type fact struct {
	want    ReadingID // expected, where
	known   bool      // something is
	stated  bool      // by the note itself
	well    bool      // the healthy one
	several bool      // readings are stated
	shows   float64   // chance that the test meets the fault
	sure    int       // the place of want among the test's sure spreads, -1 for none
}

// onTest is what a test brings, whatever is known.
type onTest struct {
	healthy ReadingID
	opens   []*Access
	claimed []bool         // whether some noted fault gives each band
	name    string         // in a model
	by      []string       // the groups of a model that it needs itself
	sure    []solve.Spread // a plan's reading of each band, of the healthy one, and of none that is noted
	well    int            // the place of the healthy one in it
	counted float64
}

// Prepare makes a device ready. The device must not change as long as it is asked.
func Prepare(d *Device) *Ground {
	own := *d
	own.Tests, own.Causes = append([]Test(nil), d.Tests...), append([]Cause(nil), d.Causes...)
	g := &Ground{Device: &own, unread: map[string]unnotedReads{}, tests: make([]onTest, len(own.Tests)),
		facts: make([]fact, len(own.Tests)*len(own.Causes)), often: make([][]float64, len(own.Tests))}
	g.measures = make([][]*Test, len(own.Causes))
	for j := range own.Causes {
		own.Causes[j].at = j + 1
		c := &own.Causes[j]
		g.opensFor = append(g.opensFor, own.Opening(c.Mend.Needs))
		g.mendsBy = append(g.mendsBy, own.groupsOf(c.Mend.Needs))
		g.lead = append(g.lead, slices.IndexFunc(own.Causes, func(other Cause) bool { return sameMend(c, &other) }))
	}
	for i := range own.Tests {
		t := &own.Tests[i]
		t.at = i + 1
		x := &g.tests[i]
		x.healthy, x.opens, x.name, x.counted = healthy(t), own.Opening(t.Needs), "t"+string(t.ID), own.counted(t)
		x.by = own.groupsOf(t.Needs)
		if powered(t) {
			x.by = append(x.by, "p"+string(t.Power))
		}
		for _, band := range t.Reads {
			x.sure = append(x.sure, solve.Sure(string(band.ID)))
			x.claimed = append(x.claimed, own.claimed(t, band.ID))
		}
		x.sure = append(x.sure, solve.Sure(string(x.healthy)), solve.Sure(odd))
		x.well = x.place(t, x.healthy)
		for j := range own.Causes {
			c := &own.Causes[j]
			f := &g.facts[i*len(own.Causes)+j]
			f.want, f.stated = c.Likeliest(t.ID)
			f.known = f.stated
			if !f.stated && !t.covers(c.Block) {
				f.want, f.known = x.healthy, true
			}
			f.well, f.several, f.shows = f.want == x.healthy, len(c.Reads[t.ID]) > 1, shows(t, c, 1)
			f.sure = x.place(t, f.want)
			if f.stated && !f.well && t.covers(c.Block) {
				g.measures[j] = append(g.measures[j], t)
			}
		}
	}
	g.suspects = own.suspectsOf()
	for i := range g.suspects {
		s := &g.suspects[i]
		s.at = i
		if s.cause == nil {
			needs := own.reach(s.block)
			g.reached, g.looksBy = append(g.reached, own.Opening(needs)), append(g.looksBy, own.groupsOf(needs))
		} else {
			g.reached, g.looksBy = append(g.reached, nil), append(g.looksBy, nil)
		}
	}
	return g
}

// groupsOf are the groups of a model for access; one that is not declared costs
// nothing.
func (d *Device) groupsOf(needs []AccessID) (names []string) {
	for _, id := range needs {
		if slices.ContainsFunc(d.Access, func(a Access) bool { return a.ID == id }) {
			names = append(names, "a"+string(id))
		}
	}
	return names
}

// fact is what is known of a test under a cause.
func (g *Ground) fact(t *Test, c *Cause) *fact {
	return &g.facts[(t.at-1)*len(g.Causes)+c.at-1]
}

// opens is what has to be opened for a test, outermost first.
func (g *Ground) opens(t *Test) []*Access { return g.tests[t.at-1].opens }

// healthy is the reading of a healthy one.
func (g *Ground) healthy(t *Test) ReadingID { return g.tests[t.at-1].healthy }

// place is where the spread of a reading stands among the sure ones of a test, -1 for
// none.
func (x *onTest) place(t *Test, id ReadingID) int {
	for i := range t.Reads {
		if t.Reads[i].ID == id {
			return i
		}
	}
	if id == x.healthy {
		return len(t.Reads)
	}
	return -1
}

// odd is the spread of a reading that no noted fault gives.
func (x *onTest) odd() solve.Spread { return x.sure[len(x.sure)-1] }

// once is chanceOf for a test done once, from the table.
func (g *Ground) once(t *Test, c *Cause, id ReadingID) (p float64, known bool) {
	width := len(t.Reads) + 1 // the last one is none of the bands
	row := g.often[t.at-1]
	if row == nil {
		row = make([]float64, width*len(g.Causes))
		for j := range g.Causes {
			for k := range width {
				none := ReadingID("")
				if k < len(t.Reads) {
					none = t.Reads[k].ID
				}
				row[j*width+k], _ = chanceOf(t, &g.Causes[j], none, 1)
			}
		}
		g.often[t.at-1] = row
	}
	known = g.fact(t, c).known && len(t.Reads) > 0
	row = row[(c.at-1)*width:]
	for k := range t.Reads {
		if t.Reads[k].ID == id {
			return row[k], known
		}
	}
	if id != "" {
		return chanceOf(t, c, id, 1) // no band of the test
	}
	return row[len(t.Reads)], known
}
