package mend

import (
	"math"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestMendOrReplace(t *testing.T) { calctest.Run(t, Calculator) }

func number(t *testing.T, r calc.Result, name string) float64 {
	t.Helper()
	o, ok := r.Output(name)
	if !ok {
		t.Fatalf("no %s", name)
	}
	return o.Value.Num
}

// The three ways to compare agree: cost under worth, year under year, time under
// the time that breaks even.
func TestComparisonsAgree(t *testing.T) {
	for _, in := range calctest.Random(Calculator, 500, 11) {
		r, err := Calculator.Run(in)
		if err != nil {
			continue
		}
		cost, worth := number(t, r, "mend-cost"), number(t, r, "worth-at-most")
		mended, fresh := number(t, r, "cost-per-year-mended"), number(t, r, "cost-per-year-new")
		if math.Abs(cost/worth-mended/fresh) > 1e-6*(cost/worth) {
			t.Fatalf("%v: %v of %v, but %v of %v a year", in, cost, worth, mended, fresh)
		}
		v, _ := r.Output("verdict")
		if v.Word == "mend" && cost >= worth || v.Word == "replace" && cost <= worth {
			t.Fatalf("%v: %s at %v of %v", in, v.Word, cost, worth)
		}
	}
}

// A mend that takes just the break-even time costs just what it is worth.
func TestBreakEven(t *testing.T) {
	r, err := Calculator.Run(nil)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Calculator.Run([]calc.Setting{{Name: "minutes", Value: quantity.Number(number(t, r, "break-even-minutes")) + " s"}})
	if err != nil {
		t.Fatal(err)
	}
	if cost, worth := number(t, again, "mend-cost"), number(t, again, "worth-at-most"); math.Abs(cost-worth) > 1e-6 {
		t.Errorf("cost %v, worth %v", cost, worth)
	}
	if v, _ := again.Output("verdict"); v.Word != "about-equal" {
		t.Errorf("verdict %s", v.Word)
	}
}

// A better chance never makes the mend dearer nor worth less.
func TestMonotone(t *testing.T) {
	last, worth := math.Inf(1), 0.0
	for _, p := range []string{"10 %", "40 %", "85 %", "100 %"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "chance", Value: p}})
		if err != nil {
			t.Fatal(err)
		}
		if c, w := number(t, r, "mend-cost"), number(t, r, "worth-at-most"); c > last || w <= worth {
			t.Errorf("%s: costs %v, worth %v", p, c, w)
		} else {
			last, worth = c, w
		}
	}
}

func TestTwoCurrencies(t *testing.T) {
	if _, err := Calculator.Run([]calc.Setting{{Name: "price", Value: "40 €"}, {Name: "parts", Value: "6 £"}}); err == nil {
		t.Error("euros and pounds were added")
	}
}

func TestPlot(t *testing.T) {
	r, err := Calculator.Run(nil)
	if err != nil {
		t.Fatal(err)
	}
	if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
		t.Errorf("%v", err)
	}
}
