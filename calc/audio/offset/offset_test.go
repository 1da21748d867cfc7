package offset

import (
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/calctest"
)

func TestOffset(t *testing.T) { calctest.Run(t, Calculator) }

// More volts are never a better verdict, and the sign does not matter.
func TestOrder(t *testing.T) {
	rank := map[string]int{"fine": 0, "watch": 1, "find": 2, "danger": 3, "rail": 4}
	before := 0
	for _, v := range []string{"0 V", "40 mV", "60 mV", "0.2 V", "0.5 V", "0.7 V", "5 V", "30 V"} {
		r, err := Calculator.Run([]calc.Setting{{Name: "volts", Value: v}, {Name: "rail", Value: "35 V"}})
		if err != nil {
			t.Fatal(err)
		}
		w, _ := r.Output("verdict")
		if rank[w.Word] < before {
			t.Errorf("%s is better than fewer volts: %s", v, w.Word)
		}
		before = rank[w.Word]
		n, err := Calculator.Run([]calc.Setting{{Name: "volts", Value: "-" + v}, {Name: "rail", Value: "35 V"}})
		if err != nil {
			t.Fatal(err)
		}
		if m, _ := n.Output("verdict"); m.Word != w.Word {
			t.Errorf("−%s is judged otherwise: %s", v, m.Word)
		}
	}
}
