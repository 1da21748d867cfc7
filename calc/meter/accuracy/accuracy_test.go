package accuracy

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestMeterError(t *testing.T) { calctest.Run(t, Calculator) }

func result(t *testing.T, in ...calc.Setting) calc.Result {
	t.Helper()
	r, err := Calculator.Run(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// METR-001, METR-004, METR-005 as printed, with the last figure that the sources give.
func TestTruth(t *testing.T) {
	for _, c := range []struct{ id, reading, step, percent, counts, want string }{
		{"METR-001, test-instrument seller's explanation", "2 V", "1 mV", "0.5 %", "3", "The true value lies between 1.9870 V and 2.0130 V."},
		{"METR-004, instrumentation quiz", "5 V", "10 mV", "0.5 %", "1", "The true value lies between 4.965 V and 5.035 V."},
		{"METR-005, distributor's note", "2.000 V", "1 mV", "0.08 %", "2", "The true value lies between 1.9964 V and 2.0036 V."},
		{"in millivolts", "1755 mV", "1 mV", "0.5 %", "1", "The true value lies between 1745.2 mV and 1764.8 mV."},
	} {
		r := result(t, calc.Setting{Name: "reading", Value: c.reading}, calc.Setting{Name: "step", Value: c.step},
			calc.Setting{Name: "percent", Value: c.percent}, calc.Setting{Name: "counts", Value: c.counts})
		if o, _ := r.Output("truth"); o.Text != c.want {
			t.Errorf("%s: %s", c.id, o.Text)
		}
	}
}

// Going up through a limit the verdict passes from fails over cannot-tell to passes, and each
// stretch of cannot-tell is as wide as the band of error.
func TestZones(t *testing.T) {
	order := map[string]int{"fails": 0, calc.CannotTell: 1, "passes": 2}
	last, unsure := 0, 0
	for mv := 9500; mv <= 10500; mv++ {
		low, high := float64(mv)/1000, 0.0
		off := limit(low, 0.005, 3, 0.01, 0, 0)
		low, high = low-off, low+off
		r := result(t, calc.Setting{Name: "reading", Value: itoa(mv) + " mV"}, calc.Setting{Name: "at-least", Value: "10 V"})
		w, _ := r.Output("verdict")
		n, ok := order[w.Word]
		if !ok || n < last {
			t.Fatalf("%d mV: %s", mv, w.Word)
		}
		if (low < 10 && high >= 10) != (n == 1) && math.Abs(low-10) > 1e-9 && math.Abs(high-10) > 1e-9 {
			t.Fatalf("%d mV: %s with a band %v to %v", mv, w.Word, low, high)
		}
		last = n
		if n == 1 {
			unsure++
		}
	}
	if unsure < 155 || unsure > 165 { // ±80 mV around 10 V
		t.Errorf("%d mV of cannot tell", unsure)
	}
}

func itoa(n int) string {
	s := ""
	for ; n > 0; n /= 10 {
		s = string(rune('0'+n%10)) + s
	}
	return s
}

// The band holds the reading, more percent or counts never narrow it, and other units read the same.
func TestBand(t *testing.T) {
	for i := 0; i < 1000; i++ {
		x, p, n := float64(i-500)/7, float64(i%9)/100, float64(i%5)
		off := limit(x, p, n, 0.01, 0, 0)
		if off < 0 || limit(x, p+0.01, n, 0.01, 0, 0) < off || limit(x, p, n+1, 0.01, 0, 0) <= off || limit(-x, p, n, 0.01, 0, 0) != off {
			t.Fatalf("%v, %v, %v: %v", x, p, n, off)
		}
	}
	a, _ := result(t, calc.Setting{Name: "reading", Value: "4.702 kΩ"}, calc.Setting{Name: "step", Value: "1 Ω"}).Output("error-ohms")
	b, _ := result(t, calc.Setting{Name: "reading", Value: "4702 Ω"}, calc.Setting{Name: "step", Value: "0.001 kΩ"}).Output("error-ohms")
	if a.Value.Num != b.Value.Num || math.Abs(a.Value.Num-26.51) > 1e-9 {
		t.Errorf("%v and %v", a.Value, b.Value)
	}
}

func TestPlot(t *testing.T) {
	for _, x := range []string{"0 V", "0.01 V", "11.85 V", "-300 V"} {
		r := result(t, calc.Setting{Name: "reading", Value: x})
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", x, err)
		}
	}
}

// The ends of the band print as many digits as decide.
func TestDigits(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "reading", Value: "230 V"}})
	if err != nil {
		t.Fatal(err)
	}
	if o, _ := r.Output("lowest-volts"); o.Text != "228.82 V" {
		t.Errorf("the lowest prints %s", o.Text)
	}
}
