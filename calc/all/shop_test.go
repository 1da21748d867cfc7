package all

import (
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// ofShop is the whole list of inputs that take a value of the shop.
var ofShop = map[string]calc.FromShop{
	"series-lamp rated": calc.Lamp, "series-lamp supply": calc.Mains,
	"rectifier frequency": calc.Hertz, "transformer-size frequency": calc.Hertz,
	"plate volts": calc.Rated, "pins mains": calc.Rated,
	"dc-bus mains": calc.Mains, "dc-bus frequency": calc.Hertz,
	"thermal-link volts": calc.Mains, "fuse volts": calc.Mains,
	"inrush mains": calc.Mains, "inrush frequency": calc.Hertz, "surge-part volts": calc.Mains,
	"cord-drop mains": calc.Mains, "discharge volts": calc.Peak, "run-capacitor frequency": calc.Hertz,
	"element mains": calc.Rated, "lamp-law rated": calc.Rated, "lamp-law volts": calc.LowMains, "hum mains": calc.Hertz, "hum pitch": calc.TwiceHertz,
	"earth-bond rule": calc.Rule, "insulation mains": calc.Mains, "insulation rule": calc.Rule,
	"leakage mains": calc.Mains, "leakage hertz": calc.Hertz, "leakage rule": calc.Rule,
	"plug-pins volts": calc.Peak, "plug-pins rule": calc.Rule, "mend-or-replace rate": calc.Rate,
}

// notOfShop look like the mains and are none.
var notOfShop = map[string]string{
	"esr tan-delta-at": "data sheets state it at 120 Hz anywhere",
	"turns primary":    "it is measured, of whatever AC is put on",
}

var elsewhere = calc.Shop{Mains: "120 V", Hertz: 60, Currency: "USD", Rate: 45,
	Rules: map[string]string{"leakage": "ul", "earth-bond": "as-nzs", "insulation": "as-nzs", "plug-pins": "it-new"}}

// Over all calculators: which inputs take which value of the shop, and what they are then.
func TestShopValues(t *testing.T) {
	want := map[calc.FromShop]string{calc.Mains: "120 V", calc.Rated: "120 V", calc.Lamp: "120 V", calc.Peak: "170 V", calc.LowMains: "108 V",
		calc.Hertz: "60 Hz", calc.TwiceHertz: "120 Hz", calc.Rate: "45 USD/h"}
	seen := 0
	for _, c := range Calculators {
		at := c.At(elsewhere)
		for i, d := range c.Inputs {
			name := c.Name + " " + d.Name
			if d.From != ofShop[name] {
				t.Errorf("%s takes %q, not %q", name, d.From, ofShop[name])
			}
			text := want[d.From]
			switch d.From {
			case "":
				text = d.Default
				for _, mains := range []string{"230 V", "325 V", "50 Hz", "100 Hz", "120 V", "60 Hz", "120 Hz"} {
					if d.Default == mains && notOfShop[name] == "" {
						t.Errorf("%s is %s in any shop", name, mains)
					}
				}
			case calc.Rule:
				text = elsewhere.Rules[c.Name]
			}
			if at.Inputs[i].Default != text {
				t.Errorf("%s is %q there, not %q", name, at.Inputs[i].Default, text)
			}
			if d.From != "" {
				seen++
			}
			if at.Inputs[i].From == "" && at.Inputs[i].Default != d.Default {
				t.Errorf("%s changes without a value of the shop", name)
			}
		}
		if c.Inputs[0].Default != Calculators.must(t, c.Name).Inputs[0].Default {
			t.Errorf("%s itself was changed", c.Name)
		}
	}
	if seen != len(ofShop) {
		t.Errorf("%d inputs take a value of the shop, %d are listed", seen, len(ofShop))
	}
}

func (l List) must(t *testing.T, name string) *calc.Calculator {
	t.Helper()
	c, ok := l.Find(name)
	if !ok {
		t.Fatal("no calculator " + name)
	}
	return c
}

// In any shop every calculator computes with nothing entered, its worked example prints
// what it printed, and what the shop gives is within the input's limits.
func TestAnyShop(t *testing.T) {
	shops := []calc.Shop{{}, elsewhere, {Mains: "50 V", Hertz: 50}, {Mains: "100 V", Hertz: 40}, {Mains: "500 V", Hertz: 400}, {Mains: "110 V", Hertz: 50}, {Mains: "220–240 V", Hertz: 50, Currency: "€"},
		{Mains: "100 V ± 6 %", Hertz: 60, Currency: "¥", Rate: 4000}}
	for calculator := range elsewhere.Rules {
		in, _ := Calculators.must(t, calculator).Input("rule")
		for _, choice := range in.Choices {
			shops = append(shops, calc.Shop{Rules: map[string]string{calculator: choice.Name}})
		}
	}
	for _, shop := range shops {
		for _, c := range At(shop) {
			if _, err := c.Run(nil); err != nil {
				t.Errorf("%s in %v: %v", c.Name, shop, err)
			}
			r, err := c.Run(c.Example.Inputs)
			if err != nil {
				t.Errorf("the example of %s in %v: %v", c.Name, shop, err)
				continue
			}
			for _, want := range c.Example.Prints {
				if got, _ := r.Output(want.Name); got.Text != want.Value {
					t.Errorf("the example of %s in %v prints %s for %s", c.Name, shop, got.Text, want.Value)
				}
			}
		}
	}
}

// A 1500 W heater of 9.6 Ω is healthy on 120 V, and shorted in part on 230 V: V²/P is 9.6 Ω
// and 35.3 Ω.
func TestShopDecides(t *testing.T) {
	l, err := calc.ParseLink("calc:pins?kind=heater&power=1500_W&reading=9.6_Ω#verdict")
	if err != nil {
		t.Fatal(err)
	}
	for mains, want := range map[string]string{"120 V": "As expected", "230 V": "Lower than"} {
		got, err := At(calc.Shop{Mains: mains}).Compute(l)
		if err != nil || !strings.HasPrefix(got.Text, want) {
			t.Errorf("at %s: %s, %v", mains, got.Text, err)
		}
	}
}

// A rating plate goes before the shop: rated volts always, the supply where the shop's
// mains do not suit the plate.
func TestPlated(t *testing.T) {
	us := At(calc.Shop{Mains: "120 V", Hertz: 60})
	for _, c := range []struct{ calculator, plate, want string }{
		{"pins", "230 V", "calc:pins?mains=230_V"}, {"pins", "120 V", "calc:pins"}, {"pins", "100–240 V", "calc:pins?mains=100–240_V"},
		{"leakage", "100–240 V", "calc:leakage"}, {"leakage", "230 V", "calc:leakage?mains=230_V"}, {"leakage", "110 V", "calc:leakage"},
		{"plug-pins", "230 V", "calc:plug-pins?volts=325_V"}, {"plug-pins", "100–240 V", "calc:plug-pins"},
		{"series-lamp", "230 V", "calc:series-lamp?supply=230_V"}, {"rectifier", "230 V", "calc:rectifier"},
	} {
		k := us.must(t, c.calculator)
		if got := k.Plated(calc.Link{Calculator: k.Name}, map[string]string{"mains": c.plate}).String(); got != c.want {
			t.Errorf("%s on a plate of %s: %s, not %s", c.calculator, c.plate, got, c.want)
		}
	}
	k := us.must(t, "rectifier")
	if got := k.Plated(calc.Link{Calculator: k.Name}, map[string]string{"hertz": "50 Hz"}).String(); got != "calc:rectifier?frequency=50_Hz" {
		t.Error(got)
	}
	l := calc.Link{Calculator: "pins", Inputs: []calc.Setting{{Name: "mains", Value: "24 V"}}}
	if got := us.must(t, "pins").Plated(l, map[string]string{"mains": "230 V"}); len(got.Inputs) != 1 {
		t.Error("what a note names is overruled:", got)
	}
}

// A shop may write 0,5 A and °F: in amounts, in sentences, in what stands in the form; what
// is handed on to the next calculator is read there all the same.
func TestShopStyle(t *testing.T) {
	style := quantity.Style{Comma: true, Imperial: true}
	list := At(calc.Shop{Style: style})
	for _, c := range list {
		plain := Calculators.must(t, c.Name)
		for i, d := range c.Inputs {
			if d.Kind == "" || d.Row || d.Default == "" {
				continue
			}
			is, err := quantity.ParseAny(append([]quantity.Kind{d.Kind}, d.Or...), d.Default)
			was, _ := quantity.ParseAny(append([]quantity.Kind{d.Kind}, d.Or...), plain.Inputs[i].Default)
			if err != nil || quantity.Round(is.Num, 2) != quantity.Round(was.Num, 2) {
				t.Errorf("%s %s: %q for %q: %v", c.Name, d.Name, d.Default, plain.Inputs[i].Default, err)
			}
		}
		r, err := c.Run(c.Example.Inputs)
		if err != nil {
			t.Fatal(c.Name, err)
		}
		for _, o := range r.Outputs {
			if style.Says(o.Text) != o.Text {
				t.Errorf("%s: %q is not wholly in the shop's style", c.Name, o.Text)
			}
		}
		for _, l := range r.Onward() {
			next := list.must(t, l.Calculator)
			if _, err := next.Run(l.Inputs); err != nil && strings.Contains(err.Error(), "is no") {
				t.Errorf("%s leads on to %v: %v", c.Name, l, err)
			}
		}
	}
	l, _ := calc.ParseLink("calc:winding-rise?cold-resistance=35.2_Ω&cold-temperature=22_°C&hot-resistance=46.1_Ω#winding-temperature")
	if got, err := list.Compute(l); err != nil || got.Text != "214,5 °F" { // 101.4 °C
		t.Error(got.Text, err)
	}
}

// A sum without a currency is in the shop's; its code and its sign are one.
func TestShopCurrency(t *testing.T) {
	c := At(calc.Shop{Currency: "EUR", Rate: 36}).must(t, "mend-or-replace")
	r, err := c.Run([]calc.Setting{{Name: "price", Value: "60 €"}})
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := r.Output("cost-per-year-new"); got.Value.Unit != "€" {
		t.Error(got.Text)
	}
	if _, err := c.Run([]calc.Setting{{Name: "price", Value: "60 £"}}); err == nil || !strings.Contains(err.Error(), "two currencies") {
		t.Error(err)
	}
	s := At(calc.Shop{Currency: "EUR"}).must(t, "spares")
	r, err = s.Run([]calc.Setting{{Name: "price", Value: "2"}})
	if got, _ := r.Output("money"); err != nil || got.Value.Kind == quantity.Money && got.Value.Unit != "EUR" {
		t.Error(got.Text, err)
	}
}
