package visit

import (
	"encoding/json"
	"testing"

	"github.com/chromedp/chromedp"

	"faultleaf/calc"
	"faultleaf/calc/all"
)

// A page of a shop on 120 V and 60 Hz computes with these where nothing is entered, as
// the command does in that shop.
func TestShopInPage(t *testing.T) {
	v := visit(t, false)
	v.do(chromedp.Navigate(v.base + "index.html"))
	v.awake()
	shop := calc.Shop{Mains: "120 V", Hertz: 60, Currency: "USD", Rate: 45, Rules: map[string]string{"leakage": "ul"}}
	told, _ := json.Marshal(shop)
	var names []string
	for _, c := range all.Calculators {
		names = append(names, c.Name)
	}
	list, _ := json.Marshal(names)
	var answers []string
	v.do(chromedp.Evaluate(`core().then(async (call) => { await call('shop', JSON.stringify(`+string(told)+`));
		return Promise.all(`+string(list)+`.map((name) => call('calc', JSON.stringify({ name, inputs: [] })))); })`, &answers, awaiting))
	for i, c := range all.At(shop) {
		want, err := c.Run(nil)
		if err != nil {
			t.Fatal(err)
		}
		var got struct{ Outputs []struct{ Name, Text string } }
		if err := json.Unmarshal([]byte(answers[i]), &got); err != nil || len(got.Outputs) != len(want.Outputs) {
			t.Fatalf("%s: %s", c.Name, answers[i])
		}
		for k, o := range want.Outputs {
			if got.Outputs[k].Text != o.Text {
				t.Errorf("%s: %s is %s natively, %s in the browser", c.Name, o.Name, o.Text, got.Outputs[k].Text)
			}
		}
	}
	v.clean()
}
