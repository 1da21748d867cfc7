package supply

import (
	"math"
	"slices"

	"faultleaf/calc/root"
)

// Reservoir is a sine behind a rectifier that charges a capacitor with a load: one charging path, seen
// from the capacitor.
type Reservoir struct {
	Peak   float64 // volts of the source
	Hertz  float64
	Source float64 // ohms in the path, diodes' series resistance included
	Farads float64
	Load   float64 // ohms; 0 for a current load
	Amps   float64 // of a current load
	Half   bool    // half wave: one charge a period instead of two
	// the diodes of the path together: volts = Slope * ln(1 + i/Leak)
	Slope, Leak float64
	// last is where the previous stage's Newton iteration ended: the next one
	// starts there, which halves its steps
	last float64
}

// Period is the time in seconds between two charges.
func (c *Reservoir) Period() float64 {
	if c.Half {
		return 1 / c.Hertz
	}
	return 1 / (2 * c.Hertz)
}

// Rectified is the rectified source at a time in a period.
func (c *Reservoir) Rectified(t float64) float64 {
	s := c.Peak * math.Sin(2*math.Pi*c.Hertz*t)
	if c.Half {
		return s
	}
	return math.Abs(s)
}

// stage solves one implicit stage: the capacitor's volts v and the charging
// current i for which
//
//	v = base + k*(i - load current at v)   and   supply = v + source*i + slope*ln(1+i/leak).
//
// With y = ln(1+i/leak) this is slope*y + b*exp(y) = c: increasing and convex, so
// Newton's method comes down to the root from above. From below it overshoots
// once, which a bound above the root keeps from going far: down from there it
// would come by one a step. Near the root Halley's correction makes it of third
// order; it stops when the cube of the step is below the last digit.
//
// slope is how much the current changes with base, in amperes per volt.
func (c *Reservoir) stage(supply, base, k float64) (v, i, slope float64) {
	d := 1.0
	if c.Load > 0 {
		d += k / c.Load
	} else {
		base -= float64(k * c.Amps)
	}
	open := supply - base/d
	if open > 0 {
		r := c.Source + k/d
		if c.Slope == 0 {
			i = open / r
			slope = -1 / (d * r)
		} else {
			b := r * c.Leak
			rhs := open + b
			// neither of the two terms alone can exceed rhs
			most := func() float64 { return math.Min(rhs/c.Slope, math.Log(rhs/b)) }
			y := c.last
			if y <= 0 || y > rhs/c.Slope {
				y = most()
			}
			for range 60 { // two or three are usual
				e := float64(b * math.Exp(y))
				step := (float64(c.Slope*y) + e - rhs) / (c.Slope + e)
				if math.Abs(step) < .5 {
					step /= 1 - float64(step*e)/(2*(c.Slope+e)) // Halley's correction
				}
				if y -= step; step < -1 {
					y = math.Min(y, most())
				}
				// from exp at the new y, where the step is small
				i = math.Max(0, float64(e*(1-step+float64(step*step)/2))-b) / r
				if math.Abs(step) <= 1e-5 {
					break
				}
			}
			c.last = y
			slope = -1 / (d * (r + c.Slope/(i+c.Leak)))
		}
	}
	return (base + float64(k*i)) / d, i, slope
}

// Wave is the steady state over one period: times in seconds from 0, volts of the capacitor, amperes that charge it.
type Wave struct{ T, V, I []float64 }

// gamma makes the two-stage implicit Runge-Kutta method stable for stiff paths
// (a small source resistance against a step) and exact to second order.
// Alexander, SIAM J. Numer. Anal. 14 (1977); from memory.
const gamma = 1 - math.Sqrt2/2

// plan is a grid of times over one period with the source's volts at the two
// stages of each step: they are the same for every start.
type plan struct {
	grid          []float64
	early, at     []float64 // volts at the first and second stage of step n
	length, first []float64 // seconds of step n and of its first stage
}

func (c *Reservoir) planOf(grid []float64) *plan {
	n := len(grid) - 1
	p := &plan{grid: grid, early: make([]float64, n), at: make([]float64, n), length: make([]float64, n), first: make([]float64, n)}
	for k := range n {
		p.length[k] = grid[k+1] - grid[k]
		p.first[k] = gamma * p.length[k]
		p.early[k], p.at[k] = c.Rectified(grid[k]+p.first[k]), c.Rectified(grid[k+1])
	}
	return p
}

// run follows the volts over one period from a start. It gives the volts at the
// end, and how much they change with the start (0 to 1); w gets the wave.
func (c *Reservoir) run(p *plan, start float64, w *Wave) (v, change float64) {
	v, change = start, 1
	c.last = 0 // a run depends on its start alone
	per := 0.0 // amperes of load per volt
	if c.Load > 0 {
		per = 1 / c.Load
	}
	w.T, w.V, w.I = w.T[:0], w.V[:0], w.I[:0]
	for n, h := range p.length {
		k := p.first[n] / c.Farads
		v1, i1, s1 := c.stage(p.early[n], v, k)
		rest := (h - p.first[n]) / c.Farads
		d := 1 + float64(k*per)
		// volts of the first stage against v, then the base of the second
		turn := (1 + float64(k*s1)) / d
		base := v + float64(rest*(i1-c.Amps-float64(v1*per)))
		turn = 1 + float64(rest*(s1-float64(turn*per)))
		v2, i2, s2 := c.stage(p.at[n], base, k)
		change *= turn * (1 + float64(k*s2)) / d
		if v = v2; v < 0 && c.Load > 0 {
			v, change = 0, 0 // a long step overshoots where a resistor empties a small capacitor
		}
		w.T, w.V, w.I = append(w.T, p.grid[n+1]), append(w.V, v), append(w.I, i2)
	}
	return v, change
}

// steady finds the start for which a period ends where it began. The volts after
// a period rise with the volts before it, but by less, so there is one, and
// Newton's method finds it, kept between the starts already known to be too low
// and too high. It ends when the start is known to a share of the source's peak
// and what is missing over a period is a share of what the load draws in it.
// w is the wave from the start it gives.
func (c *Reservoir) steady(p *plan, guess float64, near nearness, w *Wave) float64 {
	bottom := 0.0
	if c.Load == 0 {
		bottom = -c.Peak // found out later, and refused
	}
	low, high := bottom, c.Peak
	x, tried := guess, false
	for range 200 {
		end, change := c.run(p, x, w)
		gap := end - x
		draws := c.Amps
		if c.Load > 0 {
			draws = x / c.Load
		}
		step := gap / math.Max(1-change, 1e-12)
		if math.Abs(step) <= near.peak*c.Peak && math.Abs(gap) <= near.draw*math.Max(draws, c.Amps)*c.Period()/c.Farads || high-low <= near.peak*c.Peak {
			break
		}
		if gap > 0 {
			low = x
		} else {
			high = x
			if x == bottom {
				break
			}
		}
		switch x += step; {
		case x > low && x < high:
		case x <= low && low == bottom && !tried:
			x, tried = bottom, true // an emptied capacitor stays empty
		default:
			x = low + (high-low)/2
		}
	}
	return x
}

// nearness is how well a steady state is known: the start to a share of the
// source's peak, the charge over a period to a share of what the load draws.
type nearness struct{ peak, draw float64 }

var sketched, solved = nearness{1e-3, 1e-2}, nearness{1e-12, 1e-7}

// Steps of the grids: a coarse one finds when current flows, and the fine ones
// put most of their steps there. A sketch is drawn from fewer.
const coarse, outside, inside, drawn = 80, 50, 200, 60

// enough steps with current make a wave. With fewer, or with current in a long
// step outside, the grid is laid again around what was found, at most passes
// times: a light load on a stiff source needs that.
const enough, passes = inside / 4, 5

// Sketches gives the steady state over one period on an even grid, for each of
// some loads in ohms, lightest first: good enough for a drawing.
func (c *Reservoir) Sketches(loads []float64) []Wave {
	p := c.planOf(c.even(drawn))
	waves := make([]Wave, len(loads))
	at := *c
	at.Amps = 0
	// the volts fall about evenly with the root of the conductance
	start, root, fall := .9*c.Peak, 0.0, 0.0
	for n, ohms := range loads {
		at.Load = ohms
		was, rootWas := start, root
		root = math.Sqrt(1 / ohms)
		guess := start + float64(fall*(root-rootWas))
		if !(guess > 0 && guess < c.Peak) {
			guess = start
		}
		start = at.steady(p, guess, sketched, &waves[n])
		waves[n] = waves[n].closed()
		if n > 0 {
			fall = (start - was) / (root - rootWas)
		}
	}
	return waves
}

// even is a grid of so many steps of one length over the period.
func (c *Reservoir) even(steps int) []float64 {
	grid := make([]float64, steps+1)
	for n := range grid {
		grid[n] = c.Period() * float64(n) / float64(steps)
	}
	return grid
}

// Solve gives the steady state over one period.
func (c *Reservoir) Solve() Wave {
	// where current flows, on the coarse grid
	var w Wave
	grid := c.even(coarse)
	start := c.steady(c.planOf(grid), .9*c.Peak, sketched, &w)
	on := math.NaN()
	for range passes {
		first, top, last := w.flowing()
		was := on
		on = c.rise(grid, &w, first)
		grid = around(grid, first, last)
		grid = c.ease(grid, on, w.I[top])
		start = c.steady(c.planOf(grid), start, solved, &w)
		first, top, last = w.flowing()
		short := grid[(first+last)/2+1] - grid[(first+last)/2]
		end := min(last+1, len(grid)-2) // the step in which the current ends
		fine := last-first >= enough && grid[first+1]-grid[first] < 2*short && grid[end+1]-grid[end] < 2*short
		jumps := top-first < 4 // the current is highest where it begins
		if fine && (!jumps || math.Abs(on-was) < 1e-3*short) {
			break
		}
	}
	return w.closed()
}

// closed adds the beginning of the period, which is also its end.
func (w *Wave) closed() Wave {
	n := len(w.T) - 1
	return Wave{append([]float64{0}, w.T...), append([]float64{w.V[n]}, w.V...), append([]float64{w.I[n]}, w.I...)}
}

// flowing gives the first and last step in which current flows, and the one in
// which it is highest; first is 0 and last the last of all if there is none.
func (w *Wave) flowing() (first, top, last int) {
	for n, i := range w.I {
		if i > w.I[top] {
			top = n
		}
	}
	first, last = -1, -1
	for n, i := range w.I {
		if i > 1e-4*w.I[top] {
			if first < 0 {
				first = n
			}
			last = n
		}
	}
	if first < 0 {
		return 0, top, len(w.I) - 1
	}
	return first, top, last
}

// rise is the moment about the step first at which the source climbs past the
// volts of capacitor and diodes.
func (c *Reservoir) rise(grid []float64, w *Wave, first int) float64 {
	begin := max(first-2, 0)
	from, to := grid[begin], grid[min(first+2, len(grid)-1)]
	v := w.V[(begin+len(w.V)-1)%len(w.V)] // at from; the period closes
	drop := 0.0
	if c.Slope > 0 {
		_, top, _ := w.flowing()
		drop = c.Slope * math.Log1p(w.I[top]/2/c.Leak)
	}
	left := func(t float64) float64 {
		if c.Load > 0 {
			return v * math.Exp(-(t-from)/(c.Load*c.Farads))
		}
		return v - float64(c.Amps*(t-from))/c.Farads
	}
	return root.Between(from, to, func(t float64) float64 { return c.Rectified(t) - left(t) - drop })
}

// ease adds points to a grid about the moment on, closer the nearer to it: behind
// a small source resistance the current jumps there, and a step much longer than
// the jump overshoots by a fifth. amps are those after the jump.
func (c *Reservoir) ease(grid []float64, on, amps float64) []float64 {
	next, _ := slices.BinarySearch(grid, on)
	if next == 0 || next+1 >= len(grid) || amps <= 0 {
		return grid
	}
	step := math.Max(grid[next]-grid[next-1], grid[next+1]-grid[next])
	jump := c.Farads * (c.Source + c.Slope/amps)
	points := []float64{on}
	for d := jump / 4; d < step; d *= 2 {
		points = append(points, on-d, on+d)
	}
	end := grid[len(grid)-1]
	for _, p := range points {
		if p > 0 && p < end {
			grid = append(grid, p)
		}
	}
	slices.Sort(grid)
	return slices.Compact(grid)
}

// around lays a grid over the same period with most of its points from the step
// first to the step last of the given one, and one step to either side.
func around(grid []float64, first, last int) []float64 {
	t := grid[len(grid)-1]
	from, to := grid[max(first-1, 0)], grid[min(last+2, len(grid)-1)]
	rest := t - (to - from)
	fine := []float64{0}
	lay := func(until float64, steps int) {
		start := fine[len(fine)-1]
		for n := 1; n <= steps; n++ {
			fine = append(fine, start+float64((until-start)*float64(n)/float64(steps)))
		}
	}
	if from > 0 {
		lay(from, 2+int(outside*from/rest))
	}
	lay(to, inside)
	if to < t {
		lay(t, 2+int(outside*(t-to)/rest))
	}
	return fine
}

// Mean of a function of the wave over the period, by trapezoids.
func (w *Wave) Mean(f func(v, i float64) float64) float64 {
	sum := 0.0
	for n := 1; n < len(w.T); n++ {
		sum += float64((w.T[n] - w.T[n-1]) * (f(w.V[n], w.I[n]) + f(w.V[n-1], w.I[n-1])) / 2)
	}
	return sum / w.T[len(w.T)-1]
}

// Extremes are the lowest and highest volts and the highest current.
func (w *Wave) Extremes() (low, high, amps float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for n := range w.T {
		low, high = math.Min(low, w.V[n]), math.Max(high, w.V[n])
		amps = math.Max(amps, w.I[n])
	}
	return low, high, amps
}

// Most is the current in amperes that the circuit could deliver into a short.
func (c *Reservoir) Most() float64 {
	sum := 0.0
	const n = 200
	for k := range n {
		_, i, _ := c.stage(c.Rectified(c.Period()*(float64(k)+.5)/n), 0, 0)
		sum += i
	}
	return sum / n
}

// FirstPeak is the current at the instant of switching on with the capacitor empty.
// It stands for nothing then, so that no later instant has more volts over the
// path than the crest has at once.
func (c *Reservoir) FirstPeak() float64 {
	return Path{Ohms: c.Source, Slope: c.Slope, Leak: c.Leak}.Amps(c.Peak)
}

// Charges is how often a second the capacitor is charged.
func (c *Reservoir) Charges() float64 { return 1 / c.Period() }
