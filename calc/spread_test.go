package calc

import (
	"testing"

	"faultleaf/calc/quantity"
)

// plated is a heater of a rating plate, with a bowl whose lowest point lies inside its range, and two limits.
var plated = &Calculator{
	Name: "plated",
	Inputs: []Input{
		{Name: "volts", Label: "Volts", Kind: quantity.Voltage, Default: "230 V"},
		{Name: "power", Label: "Power", Kind: quantity.Power, Default: "2 kW"},
		{Name: "bowl", Label: "Bowl", Kind: quantity.Ratio, Default: "1"},
		{Name: "lift", Label: "Lift", Kind: quantity.Ratio, Default: "0"},
	},
	Outputs: []Output{
		{Name: "ohms", Label: "Ohms", Kind: quantity.Resistance},
		{Name: "square", Label: "Square", Kind: quantity.Ratio},
		{Name: "at-most", Label: "At most", Kind: quantity.Resistance, Limit: quantity.Highest},
		{Name: "at-least", Label: "At least", Kind: quantity.Resistance, Limit: quantity.Lowest},
		{Name: "fine", Label: "Fine", Kind: quantity.Resistance, Digits: 5},
		{Name: "says", Label: "Says"},
		{Name: "chosen", Label: "Chosen", Kind: quantity.Voltage},
	},
	Pairs: [][2]string{{"volts", "power"}},
	Compute: func(in In, out *Out) error {
		ohms := in.Num("volts") * in.Num("volts") / in.Num("power")
		for _, name := range []string{"ohms", "at-most", "at-least", "fine"} {
			out.Set(name, ohms)
		}
		out.Set("square", in.Num("lift")+in.Num("bowl")*in.Num("bowl"))
		out.Say("says", "it", "It has "+quantity.Of(quantity.Resistance, ohms).Text()+".")
		out.Set("chosen", in.Whole("volts").High)
		return nil
	},
}

func text(t *testing.T, output string, set ...Setting) string {
	t.Helper()
	r, err := plated.Run(set)
	if err != nil {
		t.Fatal(err)
	}
	o, ok := r.Output(output)
	if !ok {
		t.Fatalf("no %s", output)
	}
	return o.Text
}

// Two ranges of a plate belong together end by end; two tolerances, or one of each, do not.
func TestPairs(t *testing.T) {
	for _, c := range []struct{ volts, power, want string }{
		{"220–240 V", "1850–2200 W", "26.1–26.2 Ω"}, {"220..240 V", "1850 to 2200 W", "26.1–26.2 Ω"},
		{"230 V ± 2 %", "2 kW ± 5 %", "24.2–29.0 Ω"}, {"220–240 V", "2 kW ± 5 %", "23.0–30.3 Ω"}, {"230 V ± 2 %", "1900–2100 W", "24.2–29.0 Ω"},
	} {
		if got := text(t, "ohms", Setting{"volts", c.volts}, Setting{"power", c.power}); got != c.want {
			t.Errorf("%s, %s: %s, want %s", c.volts, c.power, got, c.want)
		}
	}
}

// The middle of a range counts too, limits print the end that binds, sentences and choices hold over all of it.
func TestSpread(t *testing.T) {
	if got := text(t, "square", Setting{"bowl", "-1 to 1"}); got != "0–1.000" {
		t.Errorf("the bowl reaches over %s", got)
	}
	// and on the edges of two: the lowest is 0 at the end of the one and the middle of the other
	if got := text(t, "square", Setting{"bowl", "-1 to 1"}, Setting{"lift", "0 to 1"}); got != "0–2.00" {
		t.Errorf("the lifted bowl reaches over %s", got)
	}
	volts := Setting{"volts", "220–240 V"}
	for output, want := range map[string]string{"ohms": "24.2–28.8 Ω", "at-most": "24.2 Ω", "at-least": "28.8 Ω", "fine": "24.200–28.800 Ω", "says": "It has 24.2–28.8 Ω.", "chosen": "240 V"} {
		if got := text(t, output, volts); got != want {
			t.Errorf("%s prints %s, want %s", output, got, want)
		}
	}
}
