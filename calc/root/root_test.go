package root

import (
	"math"
	"testing"
)

// Functions with a known root, gentle, steep, flat and stepped.
var known = []struct {
	name      string
	low, high float64
	f         func(float64) float64
	want      float64
}{
	{"line", -5, 20, func(x float64) float64 { return 3*x - 6 }, 2},
	{"falling", 0, 10, func(x float64) float64 { return 2 - x }, 2},
	{"root of two", 0, 2, func(x float64) float64 { return x*x - 2 }, math.Sqrt2},
	{"exponential", 0, 700, func(x float64) float64 { return math.Exp(x) - 1e3 }, math.Log(1e3)},
	{"flat", -1, 3, func(x float64) float64 { return (x - 1) * (x - 1) * (x - 1) }, 1},
	{"small", 0, 230, func(x float64) float64 { return x - 1e-9 }, 1e-9},
	{"cosine", 0, 3, math.Cos, math.Pi / 2},
}

func TestBetween(t *testing.T) {
	for _, c := range known {
		calls := 0
		got := Between(c.low, c.high, func(x float64) float64 { calls++; return c.f(x) })
		if math.Abs(got-c.want) > 1e-12*c.want && !(c.name == "flat" && math.Abs(got-c.want) < 1e-4) || calls > 110 {
			t.Errorf("%s: %v, want %v, after %d calls", c.name, got, c.want, calls)
		}
	}
	if got := Between(0, 1, func(x float64) float64 { return x + 1 }); got != 0 {
		t.Errorf("without a root: %v, want the nearer end", got)
	}
	if got := Between(0, 1, func(x float64) float64 { return x - 2 }); got != 1 {
		t.Errorf("without a root: %v, want the nearer end", got)
	}
	if got := Between(0, 1, func(x float64) float64 { return x }); got != 0 {
		t.Errorf("at the end: %v", got)
	}
	step := Between(0, 10, func(x float64) float64 {
		if x < 3 {
			return -1
		}
		return 1
	})
	if math.Abs(step-3) > 1e-12 {
		t.Errorf("step at %v", step)
	}
}

func TestNewton(t *testing.T) {
	for _, c := range known {
		slope := func(x float64) float64 {
			h := 1e-6 * math.Max(math.Abs(x), 1e-3)
			return (c.f(x+h) - c.f(x-h)) / (2 * h)
		}
		for _, start := range []float64{c.low + .01*(c.high-c.low), (c.low + c.high) / 2, c.high} {
			calls := 0
			got := Newton(c.low, c.high, start, func(x float64) (float64, float64) { calls++; return c.f(x), slope(x) })
			if math.Abs(got-c.want) > 1e-9*math.Max(c.want, 1e-3) && c.name != "flat" || calls > 110 {
				t.Errorf("%s from %v: %v, want %v, after %d calls", c.name, start, got, c.want, calls)
			}
		}
	}
}

func TestHighest(t *testing.T) {
	for _, want := range []float64{.001, .5, 1.2, 2.999} {
		if got := Highest(0, 3, func(x float64) float64 { return -(x - want) * (x - want) }); math.Abs(got-want) > 1e-7 {
			t.Errorf("%v, want %v", got, want)
		}
	}
}

func FuzzBetween(f *testing.F) {
	f.Add(0.0, 1.0, .5, 3.0)
	f.Fuzz(func(t *testing.T, low, high, want, power float64) {
		if !(low < want && want < high) || math.Abs(low) > 1e9 || math.Abs(high) > 1e9 || !(power > .2 && power < 5) || math.Abs(want) < 1e-9 {
			return
		}
		got := Between(low, high, func(x float64) float64 { return math.Copysign(math.Pow(math.Abs(x-want), power), x-want) })
		if power <= 1 && math.Abs(got-want) > 1e-11*math.Abs(want) {
			t.Errorf("%v, want %v", got, want)
		}
		if got < low || got > high {
			t.Errorf("%v is outside %v to %v", got, low, high)
		}
	})
}
