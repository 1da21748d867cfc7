package trace

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"faultleaf/calc/trace/solve"
)

// A simulated shop: a device whose true shares of faults differ from what its
// notes say. Every number is the exact mean over the true shares of the minutes
// to the cure, opening and closing included; only the job sheets are drawn.

// trueShop makes one. Mends cure, every reading is known, and tests are quick
// against mends, as at a bench.
func trueShop(seed uint64) (*Device, []float64) {
	d := invented(12, 14, seed)
	d.Shop.OwnSheets = 1e9 // whose notes hold every fault that comes in
	r := rand.New(rand.NewPCG(seed, 99))
	truth := make([]float64, len(d.Causes))
	total := 0.0
	for i := range d.Causes {
		c := &d.Causes[i]
		c.Mend.Succeeds, c.Symptoms = 1, nil
		c.Seen = float64(r.IntN(4))
		for _, t := range d.Tests {
			if _, known := expected(&t, c); !known {
				c.Reads[t.ID] = Always(healthy(&t))
			}
		}
		truth[i] = math.Exp(3 * r.Float64()) // up to twenty times likelier than another
		total += truth[i]
	}
	for i := range truth {
		truth[i] /= total
	}
	return d, truth
}

// cost counts the minutes of steps on a device, each access and power state once.
type cost struct {
	d       *Device
	open    map[AccessID]bool
	power   map[Power]bool
	minutes float64
}

func newCost(d *Device) *cost {
	return &cost{d: d, open: map[AccessID]bool{}, power: map[Power]bool{Off: true}}
}

func (c *cost) step(minutes float64, needs []AccessID, power Power) {
	c.minutes += minutes
	for _, a := range c.d.Opening(needs) {
		if !c.open[a.ID] {
			c.open[a.ID] = true
			c.minutes += a.Minutes + a.Undo
		}
	}
	if !c.power[power] {
		c.power[power] = true
		c.minutes += c.d.Shop.PowerMinutes[power]
	}
}

func (c *cost) test(t *Test) { c.step(t.Minutes, t.Needs, t.Power) }
func (c *cost) mend(m *Mend) { c.step(m.Minutes, m.Needs, Off) }

// mean is the mean minutes of a way of working over the true shares.
func mean(d *Device, truth []float64, work func(cause int) float64) float64 {
	sum := 0.0
	for i := range d.Causes {
		sum += truth[i] * work(i)
	}
	return sum
}

// traced follows the trace until the cause is mended.
func traced(t *testing.T, d *Device, cause int) float64 {
	c := newCost(d)
	var k Evidence
	for range 60 {
		a, err := Step(d, k)
		if err != nil {
			t.Fatal(err)
		}
		switch a.Kind {
		case DoTest:
			x := d.Test(a.Test)
			c.test(x)
			id, _ := expected(x, &d.Causes[cause])
			k.Readings = append(k.Readings, Reading{Test: x.ID, Value: string(id)})
		case DoMend:
			m := d.Cause(a.Cause)
			c.mend(&m.Mend)
			if a.ID() == string(d.Causes[cause].ID) {
				return c.minutes
			}
			k.Tried = append(k.Tried, Mended{m.ID, len(k.Readings)})
		default:
			t.Fatalf("the trace stops: %s", a.ID())
		}
	}
	t.Fatal("the trace does not end")
	return 0
}

// best is the least mean that any order can reach, for one who knows the truth.
func best(t *testing.T, d *Device, truth []float64) float64 {
	b := lay(d, Evidence{})
	chance := make(beliefs, len(b.suspects))
	copy(chance, truth)
	p, err := b.plan(chance, wish{})
	if err != nil {
		t.Fatal(err)
	}
	q, err := solve.Solve(p.model, solve.Options{})
	if err != nil || !q.Optimal {
		t.Fatalf("%v, optimal %v", err, q.Optimal)
	}
	return q.ExpectedCost
}

// habit tests in a given order whatever still parts the suspects, then mends
// the likeliest of those left.
func habit(d *Device, order []*Test, cause int) float64 {
	c := newCost(d)
	left := likelyFirst(d)
	for _, x := range order {
		want, _ := expected(x, &d.Causes[cause])
		same := slices.DeleteFunc(slices.Clone(left), func(i int) bool {
			id, _ := expected(x, &d.Causes[i])
			return id != want
		})
		splits := slices.ContainsFunc(left, func(i int) bool {
			a, _ := expected(x, &d.Causes[i])
			b, _ := expected(x, &d.Causes[left[0]])
			return a != b
		})
		if !splits {
			continue
		}
		c.test(x)
		left = same
	}
	for _, i := range left {
		c.mend(&d.Causes[i].Mend)
		if i == cause {
			break
		}
	}
	return c.minutes
}

// likelyFirst orders the causes by what the notes and sheets say.
func likelyFirst(d *Device) []int {
	var list []int
	for i := range d.Causes {
		list = append(list, i)
	}
	weight := func(i int) float64 { return d.Causes[i].Seen + d.Causes[i].Jobs }
	slices.SortStableFunc(list, func(a, b int) int {
		switch {
		case weight(a) > weight(b):
			return -1
		case weight(a) < weight(b):
			return 1
		}
		return 0
	})
	return list
}

// The trace learns from the shop's job sheets, and beats the orders that people
// use. Prints the curve.
func TestLearns(t *testing.T) {
	const shops, draws = 6, 3
	sheets := []int{0, 10, 30, 100}
	excess := make([]float64, len(sheets)) // over the best, in shares
	names := []string{"the likeliest mend first", "tests in the notes' order", "the quickest test first"}
	habits := make([]float64, len(names))
	engine, optimum := 0.0, 0.0
	for shop := range uint64(shops) {
		d, truth := trueShop(shop)
		least := best(t, d, truth)
		optimum += least
		for n, count := range sheets {
			for draw := range uint64(draws) {
				r := rand.New(rand.NewPCG(shop*100+draw, 5))
				for i := range d.Causes {
					d.Causes[i].Jobs = 0
				}
				for range count {
					x := r.Float64()
					for i, p := range truth {
						if x -= p; x < 0 || i == len(truth)-1 {
							d.Causes[i].Jobs++
							break
						}
					}
				}
				m := mean(d, truth, func(i int) float64 { return traced(t, d, i) })
				excess[n] += (m/least - 1) / shops / draws
				if m < least*(1-1e-9) {
					t.Errorf("shop %d: %v min is below the optimum, %v", shop, m, least)
				}
				if count == 0 {
					break // nothing is drawn
				}
			}
			if count == 0 {
				excess[n] += (mean(d, truth, func(i int) float64 { return traced(t, d, i) })/least - 1) / shops / draws * (draws - 1)
				engine += mean(d, truth, func(i int) float64 { return traced(t, d, i) })
				var quick []*Test
				for i := range d.Tests {
					quick = append(quick, &d.Tests[i])
				}
				panel := slices.Clone(quick)
				slices.SortStableFunc(quick, func(a, b *Test) int {
					switch {
					case a.Minutes < b.Minutes:
						return -1
					case a.Minutes > b.Minutes:
						return 1
					}
					return 0
				})
				for h, order := range [][]*Test{nil, panel, quick} {
					habits[h] += mean(d, truth, func(i int) float64 { return habit(d, order, i) })
				}
			}
		}
	}
	for n, count := range sheets {
		t.Logf("after %3d job sheets: %4.1f %% above the optimum that knows the truth (%.1f min)", count, 100*excess[n], optimum/shops)
		if n > 0 && excess[n] > excess[n-1]+.002 {
			t.Errorf("after %d sheets the trace is worse than after %d", count, sheets[n-1])
		}
	}
	if excess[len(excess)-1] > .03 {
		t.Errorf("after 100 sheets it is still %.1f %% above", 100*excess[len(excess)-1])
	}
	t.Logf("without any sheet: the trace %.1f min", engine/shops)
	for h, name := range names {
		t.Logf("  %s: %.1f min", name, habits[h]/shops)
		if habits[h] < engine {
			t.Errorf("%s beats the trace", name)
		}
	}
}
