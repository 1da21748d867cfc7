package rectifier

import (
	"math"
	"slices"
)

// circuit is what the solver needs: one charging path, seen from the capacitor.
type circuit struct {
	peak   float64 // volts of the source
	hertz  float64
	source float64 // ohms in the path, diodes' series resistance included
	farads float64
	load   float64 // ohms; 0 for a current load
	amps   float64 // of a current load
	half   bool    // half wave: one charge a period instead of two
	// the diodes of the path together: volts = slope * ln(1 + i/leak)
	slope, leak float64
	// last is where the previous stage's Newton iteration ended: the next one
	// starts there, which halves its steps
	last float64
}

// period is the time in seconds between two charges.
func (c *circuit) period() float64 {
	if c.half {
		return 1 / c.hertz
	}
	return 1 / (2 * c.hertz)
}

// supply is the rectified source at a time in a period.
func (c *circuit) supply(t float64) float64 {
	s := c.peak * math.Sin(2*math.Pi*c.hertz*t)
	if c.half {
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
func (c *circuit) stage(supply, base, k float64) (v, i, slope float64) {
	d := 1.0
	if c.load > 0 {
		d += k / c.load
	} else {
		base -= float64(k * c.amps)
	}
	open := supply - base/d
	if open > 0 {
		r := c.source + k/d
		if c.slope == 0 {
			i = open / r
			slope = -1 / (d * r)
		} else {
			b := r * c.leak
			rhs := open + b
			// neither of the two terms alone can exceed rhs
			most := func() float64 { return math.Min(rhs/c.slope, math.Log(rhs/b)) }
			y := c.last
			if y <= 0 || y > rhs/c.slope {
				y = most()
			}
			for range 60 { // two or three are usual
				e := float64(b * math.Exp(y))
				step := (float64(c.slope*y) + e - rhs) / (c.slope + e)
				if math.Abs(step) < .5 {
					step /= 1 - float64(step*e)/(2*(c.slope+e)) // Halley's correction
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
			slope = -1 / (d * (r + c.slope/(i+c.leak)))
		}
	}
	return (base + float64(k*i)) / d, i, slope
}

// wave is the steady state over one period.
type wave struct {
	t, v, i []float64
}

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

func (c *circuit) planOf(grid []float64) *plan {
	n := len(grid) - 1
	p := &plan{grid: grid, early: make([]float64, n), at: make([]float64, n), length: make([]float64, n), first: make([]float64, n)}
	for k := range n {
		p.length[k] = grid[k+1] - grid[k]
		p.first[k] = gamma * p.length[k]
		p.early[k], p.at[k] = c.supply(grid[k]+p.first[k]), c.supply(grid[k+1])
	}
	return p
}

// run follows the volts over one period from a start. It gives the volts at the
// end, and how much they change with the start (0 to 1); w gets the wave.
func (c *circuit) run(p *plan, start float64, w *wave) (v, change float64) {
	v, change = start, 1
	c.last = 0 // a run depends on its start alone
	per := 0.0 // amperes of load per volt
	if c.load > 0 {
		per = 1 / c.load
	}
	w.t, w.v, w.i = w.t[:0], w.v[:0], w.i[:0]
	for n, h := range p.length {
		k := p.first[n] / c.farads
		v1, i1, s1 := c.stage(p.early[n], v, k)
		rest := (h - p.first[n]) / c.farads
		d := 1 + float64(k*per)
		// volts of the first stage against v, then the base of the second
		turn := (1 + float64(k*s1)) / d
		base := v + float64(rest*(i1-c.amps-float64(v1*per)))
		turn = 1 + float64(rest*(s1-float64(turn*per)))
		v2, i2, s2 := c.stage(p.at[n], base, k)
		change *= turn * (1 + float64(k*s2)) / d
		if v = v2; v < 0 && c.load > 0 {
			v, change = 0, 0 // a long step overshoots where a resistor empties a small capacitor
		}
		w.t, w.v, w.i = append(w.t, p.grid[n+1]), append(w.v, v), append(w.i, i2)
	}
	return v, change
}

// steady finds the start for which a period ends where it began. The volts after
// a period rise with the volts before it, but by less, so there is one, and
// Newton's method finds it, kept between the starts already known to be too low
// and too high. It ends when the start is known to a share of the source's peak
// and what is missing over a period is a share of what the load draws in it.
// w is the wave from the start it gives.
func (c *circuit) steady(p *plan, guess float64, near nearness, w *wave) float64 {
	bottom := 0.0
	if c.load == 0 {
		bottom = -c.peak // found out later, and refused
	}
	low, high := bottom, c.peak
	x, tried := guess, false
	for range 200 {
		end, change := c.run(p, x, w)
		gap := end - x
		draws := c.amps
		if c.load > 0 {
			draws = x / c.load
		}
		step := gap / math.Max(1-change, 1e-12)
		if math.Abs(step) <= near.peak*c.peak && math.Abs(gap) <= near.draw*math.Max(draws, c.amps)*c.period()/c.farads || high-low <= near.peak*c.peak {
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

// sketches gives the steady state over one period on an even grid, for each of
// some loads in ohms, lightest first: good enough for a drawing.
func (c *circuit) sketches(loads []float64) []wave {
	p := c.planOf(c.even(drawn))
	waves := make([]wave, len(loads))
	at := *c
	at.amps = 0
	// the volts fall about evenly with the root of the conductance
	start, root, fall := .9*c.peak, 0.0, 0.0
	for n, ohms := range loads {
		at.load = ohms
		was, rootWas := start, root
		root = math.Sqrt(1 / ohms)
		guess := start + float64(fall*(root-rootWas))
		if !(guess > 0 && guess < c.peak) {
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
func (c *circuit) even(steps int) []float64 {
	grid := make([]float64, steps+1)
	for n := range grid {
		grid[n] = c.period() * float64(n) / float64(steps)
	}
	return grid
}

// solve gives the steady state over one period.
func (c *circuit) solve() wave {
	// where current flows, on the coarse grid
	var w wave
	grid := c.even(coarse)
	start := c.steady(c.planOf(grid), .9*c.peak, sketched, &w)
	on := math.NaN()
	for range passes {
		first, top, last := w.flowing()
		was := on
		on = c.rise(grid, &w, first)
		grid = around(grid, first, last)
		grid = c.ease(grid, on, w.i[top])
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
func (w *wave) closed() wave {
	n := len(w.t) - 1
	return wave{append([]float64{0}, w.t...), append([]float64{w.v[n]}, w.v...), append([]float64{w.i[n]}, w.i...)}
}

// flowing gives the first and last step in which current flows, and the one in
// which it is highest; first is 0 and last the last of all if there is none.
func (w *wave) flowing() (first, top, last int) {
	for n, i := range w.i {
		if i > w.i[top] {
			top = n
		}
	}
	first, last = -1, -1
	for n, i := range w.i {
		if i > 1e-4*w.i[top] {
			if first < 0 {
				first = n
			}
			last = n
		}
	}
	if first < 0 {
		return 0, top, len(w.i) - 1
	}
	return first, top, last
}

// rise is the moment about the step first at which the source climbs past the
// volts of capacitor and diodes.
func (c *circuit) rise(grid []float64, w *wave, first int) float64 {
	begin := max(first-2, 0)
	from, to := grid[begin], grid[min(first+2, len(grid)-1)]
	v := w.v[(begin+len(w.v)-1)%len(w.v)] // at from; the period closes
	drop := 0.0
	if c.slope > 0 {
		_, top, _ := w.flowing()
		drop = c.slope * math.Log1p(w.i[top]/2/c.leak)
	}
	left := func(t float64) float64 {
		if c.load > 0 {
			return v * math.Exp(-(t-from)/(c.load*c.farads))
		}
		return v - float64(c.amps*(t-from))/c.farads
	}
	low, high := from, to
	for range 50 {
		if t := low + (high-low)/2; c.supply(t) > left(t)+drop {
			high = t
		} else {
			low = t
		}
	}
	return high
}

// ease adds points to a grid about the moment on, closer the nearer to it: behind
// a small source resistance the current jumps there, and a step much longer than
// the jump overshoots by a fifth. amps are those after the jump.
func (c *circuit) ease(grid []float64, on, amps float64) []float64 {
	next, _ := slices.BinarySearch(grid, on)
	if next == 0 || next+1 >= len(grid) || amps <= 0 {
		return grid
	}
	step := math.Max(grid[next]-grid[next-1], grid[next+1]-grid[next])
	jump := c.farads * (c.source + c.slope/amps)
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

// mean of a function of the wave over the period, by trapezoids.
func (w *wave) mean(f func(v, i float64) float64) float64 {
	sum := 0.0
	for n := 1; n < len(w.t); n++ {
		sum += float64((w.t[n] - w.t[n-1]) * (f(w.v[n], w.i[n]) + f(w.v[n-1], w.i[n-1])) / 2)
	}
	return sum / w.t[len(w.t)-1]
}

func (w *wave) extremes() (low, high, amps float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for n := range w.t {
		low, high = math.Min(low, w.v[n]), math.Max(high, w.v[n])
		amps = math.Max(amps, w.i[n])
	}
	return low, high, amps
}
