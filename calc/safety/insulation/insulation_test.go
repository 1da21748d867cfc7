package insulation

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
	"faultleaf/calc/quantity"
)

func TestInsulation(t *testing.T) { calctest.Run(t, Calculator) }

// A higher reading never turns a pass into a fail, under each rule and class; and what fails by the
// chosen rule fails by the strictest.
func TestOnce(t *testing.T) {
	rank := map[string]int{"fails": 0, "sources-differ": 1, "passes": 2}
	for _, class := range Calculator.Inputs[1].Choices {
		for _, rule := range []string{"strictest", "en", "uk", "as-nzs"} {
			last := 0
			for kilo := 50; kilo <= 2500; kilo += 50 {
				in := []calc.Setting{{Name: "reading", Value: quantity.Number(float64(kilo)*1000) + " Ω"}, {Name: "class", Value: class.Name}, {Name: "rule", Value: rule}}
				r, err := Calculator.Run(in)
				if err != nil {
					if bad, ok := err.(*calc.InputError); !ok || bad.Input != "rule" {
						t.Fatal(err)
					}
					break
				}
				o, _ := r.Output("verdict")
				n, ok := rank[o.Word]
				if !ok || n < last {
					t.Fatalf("%v: %s", in, o.Word)
				}
				last = n
				in[2].Value = "strictest"
				s, err := Calculator.Run(in)
				if err != nil {
					t.Fatal(err)
				}
				if o, _ := s.Output("verdict"); rank[o.Word] > n {
					t.Fatalf("%v: the strictest says %s", in, o.Word)
				}
				if kilo == 2500 && n != 2 {
					t.Errorf("%v never passes", in)
				}
			}
		}
	}
}
