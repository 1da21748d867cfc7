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
// would come by one a step. It stops when the step is so small that its square is
// below the last digit.
func (c *circuit) stage(supply, base, k float64) (v, i float64) {
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
		} else {
			b := r * c.leak
			rhs := open + b
			// neither of the two terms alone can exceed rhs
			most := math.Min(rhs/c.slope, math.Log(rhs/b))
			y := c.last
			if y <= 0 || y > most {
				y = most
			}
			for range 60 {
				e := float64(b * math.Exp(y))
				was := y
				if y -= (float64(c.slope*y) + e - rhs) / (c.slope + e); y > most {
					y = most
				}
				if math.Abs(y-was) <= 1e-8 {
					break
				}
			}
			c.last = y
			i = c.leak * math.Expm1(math.Max(y, 0))
		}
	}
	return (base + float64(k*i)) / d, i
}

// wave is the steady state over one period.
type wave struct {
	t, v, i []float64
}

// gamma makes the two-stage implicit Runge-Kutta method stable for stiff paths
// (a small source resistance against a step) and exact to second order.
// Alexander, SIAM J. Numer. Anal. 14 (1977); from memory.
const gamma = 1 - math.Sqrt2/2

// run follows the volts over one period from a start; keep records the wave.
func (c *circuit) run(grid []float64, start float64, keep *wave) float64 {
	v := start
	c.last = 0 // a run depends on its start alone
	if keep != nil {
		*keep = wave{}
	}
	flow := func(v, i float64) float64 {
		if c.load > 0 {
			return (i - v/c.load) / c.farads
		}
		return (i - c.amps) / c.farads
	}
	for n := 0; n+1 < len(grid); n++ {
		h := grid[n+1] - grid[n]
		k := gamma * h / c.farads
		v1, i1 := c.stage(c.supply(grid[n]+float64(gamma*h)), v, k)
		base := v + float64((1-gamma)*h*flow(v1, i1))
		v2, i2 := c.stage(c.supply(grid[n+1]), base, k)
		if v = v2; v < 0 && c.load > 0 {
			v = 0 // a long step overshoots where a resistor empties a small capacitor
		}
		if keep != nil {
			keep.t, keep.v, keep.i = append(keep.t, grid[n+1]), append(keep.v, v), append(keep.i, i2)
		}
	}
	return v
}

// steady finds the start for which a period ends where it began. The volts after
// a period rise with the volts before it, but by less, so there is one. The
// search begins around a guess, if there is one (0 is none), and ends when the
// start is known to a share of the source's peak.
func (c *circuit) steady(grid []float64, guess, share float64) float64 {
	gap := func(v float64) float64 { return c.run(grid, v, nil) - v }
	bottom := 0.0
	if c.load == 0 {
		bottom = -c.peak // found out later, and refused
	}
	low, high := bottom, c.peak
	gl, gh := math.NaN(), math.NaN()
	for width := 1e-3 * c.peak; guess > 0 && width < c.peak; width *= 30 {
		l, h := math.Max(bottom, guess-width), math.Min(c.peak, guess+width)
		if gl, gh = gap(l), gap(h); gl > 0 && gh < 0 {
			low, high = l, h
			break
		}
	}
	if !(gl > 0 && gh < 0) {
		gl, gh = gap(low), gap(high)
	}
	if gl <= 0 {
		return low
	}
	side := 0
	for range 200 {
		if high-low <= share*c.peak {
			break
		}
		// the false position, with the Illinois halving against a stuck end
		x := (low*gh - high*gl) / (gh - gl)
		if !(x > low && x < high) {
			x = low + (high-low)/2
		}
		g := gap(x)
		// what is still missing over a period must also be little beside what
		// the load draws in it
		drawn := c.amps
		if c.load > 0 {
			drawn = x / c.load
		}
		if math.Abs(g) <= math.Min(share/10*c.peak, 1e-7*drawn*c.period()/c.farads) {
			return x
		}
		if g > 0 {
			low, gl = x, g
			if side == 1 {
				gh /= 2
			}
			side = 1
		} else {
			high, gh = x, g
			if side == -1 {
				gl /= 2
			}
			side = -1
		}
	}
	return low + (high-low)/2
}

// Steps of the grids: a coarse one finds when current flows, and the fine ones
// put most of their steps there.
const coarse, outside, inside = 120, 50, 200

// enough steps with current make a wave. With fewer, or with current in a long
// step outside, the grid is laid again around what was found, at most passes
// times: a light load on a stiff source needs that.
const enough, passes = inside / 4, 5

// solve gives the steady state over one period.
func (c *circuit) solve() wave {
	t := c.period()
	grid := make([]float64, coarse+1)
	for n := range grid {
		grid[n] = t * float64(n) / coarse
	}
	var w wave
	start := c.steady(grid, 0, 1e-6)
	c.run(grid, start, &w)
	on := math.NaN()
	for range passes {
		first, top, last := w.flowing()
		was := on
		on = c.rise(grid, &w, first)
		grid = around(grid, first, last)
		grid = c.ease(grid, on, w.i[top])
		start = c.steady(grid, start, 1e-12)
		c.run(grid, start, &w)
		first, top, last = w.flowing()
		short := grid[(first+last)/2+1] - grid[(first+last)/2]
		end := min(last+1, len(grid)-2) // the step in which the current ends
		fine := last-first >= enough && grid[first+1]-grid[first] < 2*short && grid[end+1]-grid[end] < 2*short
		jumps := top-first < 4 // the current is highest where it begins
		if fine && (!jumps || math.Abs(on-was) < 1e-3*short) {
			break
		}
	}
	// close the period: its end is also its beginning
	n := len(w.t) - 1
	w.t = append([]float64{0}, w.t...)
	w.v = append([]float64{w.v[n]}, w.v...)
	w.i = append([]float64{w.i[n]}, w.i...)
	return w
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
