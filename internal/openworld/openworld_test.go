package openworld

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
)

const starter = "../.."

func devices(t testing.TB) []*trace.Device {
	t.Helper()
	set, mistakes, _ := note.Load(os.DirFS(starter), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	var list []*trace.Device
	for _, d := range set.Devices {
		list = append(list, set.TraceDevice(d.Name))
	}
	return list
}

const mostSteps = 40

// played is how a trace went.
type played struct {
	tests, measured, proofs int // tests, and those of them that the rule on measuring asked for
	vain, twice             int // mends in vain, and those done before
	found, named            bool
	lists                   int // blocks named
	endless                 bool
	end                     trace.Advice
	first                   trace.Advice
}

// play follows the trace of a device for a fault that reads as its note says,
// whether the device's notes hold it or not.
func play(t testing.TB, d *trace.Device, truth *trace.Cause, wrong *rand.Rand) played {
	t.Helper()
	var e trace.Evidence
	for _, s := range d.Symptoms {
		if o := truth.Symptoms[s.ID]; o == "always" || o == "often" {
			e.Symptoms = append(e.Symptoms, s.ID)
		}
	}
	p := played{endless: true}
	mended := map[trace.CauseID]bool{}
	for n := range mostSteps {
		a, err := trace.Step(d, e)
		if err != nil {
			t.Fatalf("%s %s: %v", d.ID, truth.ID, err)
		}
		if n == 0 {
			p.first = a
		}
		p.end = a
		if os.Getenv("PLAY") == string(truth.ID) {
			fmt.Printf("%s %s rest %.2f", a.Kind, a.ID(), a.Rest)
			for _, c := range a.Chances[:min(4, len(a.Chances))] {
				fmt.Printf("  %s %.2f", c.ID, c.Chance)
			}
			for _, c := range a.Unknown[:min(3, len(a.Unknown))] {
				fmt.Printf("  [%s] %.2f", c.Block, c.Chance)
			}
			for _, r := range a.Reasons {
				fmt.Printf(" %s:%s%s", r.About, r.Cause, r.Action.ID())
			}
			if a.Kind == trace.DoTest {
				fmt.Printf(" -> %s", reads(d.Test(a.Test), truth, nil))
			}
			fmt.Println()
		}
		switch a.Kind {
		case trace.DoTest:
			p.tests++
			if slices.ContainsFunc(a.Reasons, func(r trace.Reason) bool { return r.About == trace.ProofFirst }) {
				p.proofs++
			}
			if slices.ContainsFunc(a.Reasons, func(r trace.Reason) bool { return r.About == trace.MeasureFirst }) {
				p.measured++
			}
			x := d.Test(a.Test)
			e.Readings = append(e.Readings, trace.Reading{Test: x.ID, Value: string(reads(x, truth, wrong))})
		case trace.DoMend, trace.Past:
			if a.Cause == truth.ID {
				p.found, p.endless = true, false
				return p
			}
			p.vain++
			if mended[a.Cause] {
				p.twice++
			}
			mended[a.Cause] = true
			if a.Kind == trace.Past {
				p.endless = false
				return p
			}
			e.Tried = append(e.Tried, trace.Mended{Cause: a.Cause, Before: len(e.Readings)})
		default:
			p.named = slices.Contains(a.Located, truth.Block)
			p.lists = len(a.Located)
			p.endless = false
			return p
		}
	}
	return p
}

func reads(x *trace.Test, truth *trace.Cause, wrong *rand.Rand) trace.ReadingID {
	id, ok := truth.Likeliest(x.ID)
	for _, b := range x.Reads {
		if !ok && b.Healthy {
			id = b.ID
		}
	}
	if wrong != nil && wrong.Float64() < .1 {
		for {
			if other := x.Reads[wrong.IntN(len(x.Reads))].ID; other != id {
				return other
			}
		}
	}
	return id
}

func without(d *trace.Device, i int) *trace.Device {
	less := *d
	less.Causes = slices.Delete(slices.Clone(d.Causes), i, i+1)
	return &less
}

type row struct {
	n, clean, vain, tests, named, stops, endless, twice, lists int
	found, foundTests, measured, kvain, ruleoff, proofs        int
	lost                                                       []string
}

func (r *row) add(o row) {
	r.n += o.n
	r.clean += o.clean
	r.vain += o.vain
	r.tests += o.tests
	r.named += o.named
	r.stops += o.stops
	r.endless += o.endless
	r.twice += o.twice
	r.lists += o.lists
	r.found += o.found
	r.foundTests += o.foundTests
	r.measured += o.measured
	r.kvain += o.kvain
	r.ruleoff += o.ruleoff
	r.proofs += o.proofs
	r.lost = append(r.lost, o.lost...)
}

func (r row) String() string {
	n := float64(r.n)
	return fmt.Sprintf("n %3d: no mend in vain %2.0f %%, in vain %.2f, tests %.1f, named %d/%d = %2.0f %% (%.1f blocks), endless %d, twice %d | found %d/%d, tests %.2f (rule off %.2f, proofs %.2f), in vain %.2f",
		r.n, 100*float64(r.clean)/n, float64(r.vain)/n, float64(r.tests)/n, r.named, r.stops, 100*float64(r.named)/float64(max(r.stops, 1)), float64(r.lists)/float64(max(r.stops, 1)), r.endless, r.twice,
		r.found, r.n, float64(r.foundTests)/n, float64(r.ruleoff)/n, float64(r.proofs)/n, float64(r.kvain)/n)
}

func TestOpenWorld(t *testing.T) {
	for _, noise := range []bool{false, true}[:1+len(os.Getenv("NOISE"))] {
		var total [3]row
		for k, d := range devices(t) {
			d.Shop.OwnSheets, d.Shop.UnknownSheets = 0, 0
			var one row
			for i := range d.Causes {
				truth := d.Causes[i]
				var wrong *rand.Rand
				if noise {
					wrong = rand.New(rand.NewPCG(uint64(i), 7))
				}
				r := row{n: 1}
				p := play(t, without(d, i), &truth, wrong)
				r.vain, r.tests, r.twice = p.vain, p.tests, p.twice
				if p.vain == 0 {
					r.clean = 1
				} else if os.Getenv("SHOW") != "" {
					t.Logf("%s %s: in vain %d, end %s %s", d.ID, truth.ID, p.vain, p.end.Kind, p.end.ID())
				}
				if p.endless {
					r.endless = 1
					t.Logf("endless %s", truth.ID)
				} else {
					r.stops = 1
					r.lists = p.lists
					if p.named {
						r.named = 1
					} else if os.Getenv("SHOW") != "" {
						t.Logf("%s %s in %s: named %v", d.ID, truth.ID, truth.Block, p.end.Located)
					}
				}
				off := *d
				off.Shop.MendUnmeasured = true
				r.ruleoff = play(t, &off, &truth, wrong).tests
				q := play(t, d, &truth, wrong)
				r.proofs = q.proofs
				if q.found {
					r.found = 1
				} else {
					r.lost = append(r.lost, fmt.Sprint(d.ID, " ", truth.ID, ": ", q.end.Kind, " ", q.end.Located, q.end.ID()))
				}
				r.foundTests, r.measured, r.kvain = q.tests, q.measured, q.vain
				one.add(r)
			}
			t.Logf("%-22s %s", d.ID, one)
			total[k%2].add(one)
			total[2].add(one)
		}
		for i, name := range []string{"even", "odd", "all"} {
			t.Logf("noise %v %-5s %s", noise, name, total[i])
		}
		if !noise || os.Getenv("SHOW") != "" {
			for _, l := range total[2].lost {
				t.Log("lost ", l)
			}
		}
	}
}
