package preferred

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/passive"
)

func TestPreferred(t *testing.T) { calctest.Run(t, Calculator) }

// The series as published: E6, E12, E24, E48 and E96 of iec-60063, seen in a summary.
func TestPublished(t *testing.T) {
	for n, list := range map[int]string{
		3:  "100 220 470",
		6:  "100 150 220 330 470 680",
		12: "100 120 150 180 220 270 330 390 470 560 680 820",
		24: "100 110 120 130 150 160 180 200 220 240 270 300 330 360 390 430 470 510 560 620 680 750 820 910",
		48: "100 105 110 115 121 127 133 140 147 154 162 169 178 187 196 205 215 226 237 249 261 274 287 301 316 332 348 365 383 402 422 442 464 487 511 536 562 590 619 649 681 715 750 787 825 866 909 953",
		96: "100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174 178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309 " +
			"316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549 562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976",
	} {
		var got []string
		for _, v := range passive.Series(n) {
			got = append(got, strconv.Itoa(v))
		}
		if strings.Join(got, " ") != list {
			t.Errorf("E%d is %v", n, got)
		}
	}
}

// RCOD-016: the values of E24 that are not the rounded geometric progression.
func TestE24IsNoFormula(t *testing.T) {
	var got []int
	for i, v := range passive.Series(24) {
		if int(math.Round(10*math.Pow(10, float64(i)/24)))*10 != v {
			got = append(got, v)
		}
	}
	want := []int{270, 300, 330, 360, 390, 430, 470, 820}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%v, want %v", got, want)
		}
	}
}

// RCOD-021: 96 values, the largest step 3.01 %; E48 is every other one of them.
func TestE96Steps(t *testing.T) {
	values := passive.Series(96)
	largest := 1000.0/float64(values[95]) - 1
	for i := 1; i < len(values); i++ {
		largest = math.Max(largest, float64(values[i])/float64(values[i-1])-1)
	}
	if len(values) != 96 || math.Abs(largest-0.0301) > 0.00005 {
		t.Errorf("%d values, largest step %v", len(values), largest)
	}
	for i, v := range passive.Series(48) {
		if values[2*i] != v {
			t.Errorf("E48 has %d, E96 %d", v, values[2*i])
		}
	}
}

// Each series holds 1.00, rises, and has the right number of values; the nearest
// value of any amount is no further than any other of the series.
func TestNearestIsNearest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for _, n := range passive.Sizes {
		values := passive.Series(n)
		if len(values) != n || values[0] != 100 {
			t.Fatalf("E%d: %v", n, values)
		}
		for range 300 {
			x := math.Pow(10, 14*rnd.Float64()-3)
			got := nearest(x, n)
			for decade := -5; decade <= 12; decade++ {
				for _, digits := range values {
					v := passive.Amount(digits, decade)
					if math.Abs(v-x) < math.Abs(got-x)*(1-1e-9) {
						t.Fatalf("E%d: %v is nearer to %v than %v", n, v, x, got)
					}
				}
			}
		}
	}
}

// The nearest value of a preferred value is itself, and a finer series of the same
// family is never further off.
func TestFiner(t *testing.T) {
	for _, n := range passive.Sizes {
		for _, digits := range passive.Series(n) {
			for decade := -3; decade <= 10; decade++ {
				if v := passive.Amount(digits, decade); nearest(v, n) != v {
					t.Errorf("E%d: %v goes to %v", n, v, nearest(v, n))
				}
			}
		}
	}
	for x := 1.0; x < 1000; x *= 1.0037 {
		for _, pair := range [][2]int{{3, 6}, {6, 12}, {12, 24}, {48, 96}, {96, 192}} {
			if math.Abs(nearest(x, pair[1])-x) > math.Abs(nearest(x, pair[0])-x)*(1+1e-9) {
				t.Errorf("%v is further off in E%d than in E%d", x, pair[1], pair[0])
			}
		}
	}
}

func TestTolerance(t *testing.T) {
	r, err := Calculator.Run([]calc.Setting{{Name: "value", Value: "5 kΩ ± 10 %"}})
	if err != nil {
		t.Fatal(err)
	}
	if o, _ := r.Output("nearest"); o.Text != "4.70–5.60 kΩ" {
		t.Error(o.Text)
	}
}
