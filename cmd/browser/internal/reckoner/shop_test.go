package reckoner

import (
	"encoding/json"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/cmd/browser/internal/door"
)

// The page is told the shop, and takes the same defaults as the command, for every calculator.
func TestShopDefaults(t *testing.T) {
	shop := calc.Shop{Mains: "120 V", Hertz: 60, Currency: "USD", Rate: 45, Rules: map[string]string{"leakage": "ul"}}
	asJSON, err := json.Marshal(shop)
	if err != nil {
		t.Fatal(err)
	}
	var d Reckoner
	if got := d.Shop(string(asJSON)); got != door.Done {
		t.Fatal(got)
	}
	differ := 0
	for _, c := range all.At(shop) {
		r, err := c.Run(nil)
		if err != nil {
			t.Fatal(c.Name, err)
		}
		var got calcAnswer
		if err := json.Unmarshal([]byte(d.Calc(`{"name":"`+c.Name+`","inputs":[]}`)), &got); err != nil {
			t.Fatal(err)
		}
		plain, _ := all.Find(c.Name)
		usual, _ := plain.Run(nil)
		for i, o := range r.Outputs {
			if got.Outputs[i].Text != o.Text {
				t.Errorf("%s: %s is %q in the page, %q natively", c.Name, o.Name, got.Outputs[i].Text, o.Text)
			}
			if u, _ := usual.Output(o.Name); u.Text != o.Text {
				differ++
			}
		}
	}
	if differ < 20 {
		t.Errorf("only %d outputs differ from those of no shop", differ)
	}
	// what is the shop's own stays out of the address that a note would take
	got := d.Calc(`{"name":"pins","inputs":[["kind","heater"],["power","1500 W"],["mains","120 V"],["reading","9.6 Ω"]]}`)
	if !strings.Contains(got, `As expected`) || !strings.Contains(got, `"link":"calc:pins?power=1500_W`) {
		t.Error(got)
	}
	// a plate goes before the shop: 2 kW at 230 V are 26.45 Ω (V²/P), whatever comes out of the outlet here
	v, err := d.valueAt("calc:pins?kind=heater&power=plate.power#rated-ohms", map[string]string{"power": "2 kW", "mains": "230 V"})
	if err != nil || v.Text() != "26.5 Ω" {
		t.Error(v.Text(), err)
	}
}
