package rectifier

import "math"

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
// Newton's method needs no safeguards: from below it overshoots once, and from
// above it comes down to the root. It stops when the step is so small that its
// square is below the last digit.
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
			y := c.last
			if y <= 0 || y > rhs/c.slope {
				y = math.Min(rhs/c.slope, math.Log(rhs/b))
			}
			for range 60 {
				e := float64(b * math.Exp(y))
				step := (float64(c.slope*y) + e - rhs) / (c.slope + e)
				y -= step
				if math.Abs(step) <= 1e-8 {
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
		v = v2
		if keep != nil {
			keep.t, keep.v, keep.i = append(keep.t, grid[n+1]), append(keep.v, v2), append(keep.i, i2)
		}
	}
	return v
}

// steady finds the start for which a period ends where it began. The volts after
// a period rise with the volts before it, but by less, so there is one. The
// search begins around a guess, if there is one (0 is none).
func (c *circuit) steady(grid []float64, guess float64) float64 {
	gap := func(v float64) float64 { return c.run(grid, v, nil) - v }
	bottom := 0.0
	if c.load == 0 {
		bottom = -c.peak // found out later, and refused
	}
	low, high := bottom, c.peak
	for width := 1e-3 * c.peak; guess > 0 && width < c.peak; width *= 30 {
		l, h := math.Max(bottom, guess-width), math.Min(c.peak, guess+width)
		if gap(l) > 0 && gap(h) < 0 {
			low, high = l, h
			break
		}
	}
	gl, gh := gap(low), gap(high)
	if gl <= 0 {
		return low
	}
	side := 0
	for range 200 {
		if high-low <= 1e-12*c.peak {
			break
		}
		// the false position, with the Illinois halving against a stuck end
		x := (low*gh - high*gl) / (gh - gl)
		if !(x > low && x < high) {
			x = low + (high-low)/2
		}
		g := gap(x)
		if math.Abs(g) <= 1e-13*c.peak {
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

// Steps of the grids: a coarse one finds when current flows, and the fine one
// puts most of its steps there.
const coarse, outside, inside = 120, 50, 200

// solve gives the steady state over one period.
func (c *circuit) solve() wave {
	t := c.period()
	grid := make([]float64, coarse+1)
	for n := range grid {
		grid[n] = t * float64(n) / coarse
	}
	var w wave
	rough := c.steady(grid, 0)
	c.run(grid, rough, &w)
	first, last := -1, -1
	top := 0.0
	for _, i := range w.i {
		top = math.Max(top, i)
	}
	for n, i := range w.i {
		if i > 1e-4*top {
			if first < 0 {
				first = n
			}
			last = n
		}
	}
	from, to := 0.0, t
	if first >= 0 {
		from, to = math.Max(0, grid[first]-t/coarse), math.Min(t, grid[last+1]+t/coarse)
	}
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
	c.run(fine, c.steady(fine, rough), &w)
	// close the period: its end is also its beginning
	n := len(w.t) - 1
	w.t = append([]float64{0}, w.t...)
	w.v = append([]float64{w.v[n]}, w.v...)
	w.i = append([]float64{w.i[n]}, w.i...)
	return w
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
