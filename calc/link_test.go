package calc

import "testing"

func TestParseLink(t *testing.T) {
	l, err := ParseLink("calc:element?power=2_kW&mains=230V#cold-range")
	if err != nil || l.Calculator != "element" || l.Output != "cold-range" || len(l.Inputs) != 2 || l.Inputs[0] != (Setting{"power", "2 kW"}) {
		t.Fatalf("%+v, %v", l, err)
	}
	if got := l.String(); got != "calc:element?power=2_kW&mains=230V#cold-range" {
		t.Error(got)
	}
	// split at the first "?", the first "="; nothing is decoded
	l, err = ParseLink("calc:x?a=b=c&d=1+1%20?#o")
	if err != nil || l.Inputs[0].Value != "b=c" || l.Inputs[1].Value != "1+1%20?" || l.Output != "o" {
		t.Errorf("%+v, %v", l, err)
	}
	for _, bad := range []string{"calc:", "calc:?a=1", "calc:x?a", "calc:x?=1", "calc:x#", "calc:X", "calc:x y"} {
		if l, err := ParseLink(bad); err == nil {
			t.Errorf("%q gave %+v", bad, l)
		}
	}
	filled, err := Link{Calculator: "element", Inputs: []Setting{{"power", "plate.power"}}}.Fill(map[string]string{"power": "2 kW"})
	if err != nil || filled.Inputs[0].Value != "2 kW" {
		t.Errorf("%+v, %v", filled, err)
	}
	if _, err := filled.Fill(nil); err != nil {
		t.Error(err)
	}
	if _, err := (Link{Inputs: []Setting{{"power", "plate.power"}}}).Fill(nil); err == nil {
		t.Error("an empty plate was taken")
	}
}

func FuzzParseLink(f *testing.F) {
	f.Add("calc:rectifier?ac=17V#open-circuit-peak")
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLink(s)
		if err != nil {
			return
		}
		again, err := ParseLink(l.String())
		if err != nil || again.String() != l.String() {
			t.Fatalf("%q -> %q -> %v, %v", s, l.String(), again, err)
		}
	})
}
