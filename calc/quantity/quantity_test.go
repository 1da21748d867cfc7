package quantity

import (
	"math"
	"testing"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want float64
	}{
		{Resistance, "4k7", 4700}, {Resistance, "1R5", 1.5}, {Resistance, "R47", .47}, {Resistance, "4.7 kΩ", 4700},
		{Resistance, "0,5 ohm", .5}, {Resistance, "10 000 Ω", 10000}, {Resistance, "2M2", 2.2e6}, {Resistance, "33 mΩ", .033},
		{Resistance, "47", 47}, {Resistance, "1k", 1000}, {Resistance, "4K7", 4700}, {Resistance, "100R", 100},
		{Capacitance, "100n", 1e-7}, {Capacitance, "2.2uF", 2.2e-6}, {Capacitance, "2.2 µF", 2.2e-6}, {Capacitance, "2200 μF", 2.2e-3},
		{Capacitance, "4n7", 4.7e-9}, {Capacitance, "10p", 1e-11}, {Capacitance, "1u0", 1e-6},
		{Voltage, "17V", 17}, {Voltage, "230 V~", 230}, {Voltage, "-5 mV", -.005}, {Voltage, "12.5", 12.5}, {Voltage, "1e3 V", 1000},
		{Current, "0,5 A", .5}, {Current, "350 mA", .35}, {Power, "1/4 W", .25}, {Power, "2 kW", 2000}, {Power, "1 1/2 kW", 1500},
		{Temperature, "120 °C", 120}, {Temperature, "248 °F", 120}, {Temperature, "68°F", 20}, {Temperature, "300 K", 26.85},
		{Duration, "1h30", 5400}, {Duration, "1 h 30 min", 5400}, {Duration, "90 s", 90}, {Duration, "2min30", 150}, {Duration, "1:30", 5400},
		{Duration, "45 min", 2700}, {Duration, "2.5 h", 9000},
		{Money, "€12.50", 12.5}, {Money, "12,50 €", 12.5}, {Money, "40", 40}, {MoneyPerHour, "30 €/h", 30}, {Percent, "80 %", .8}, {Percent, "80", .8},
		{Years, "18 months", 1.5}, {Ratio, "3", 3},
	} {
		v, err := Parse(c.kind, c.text)
		if err != nil || math.Abs(v.Num-c.want) > 1e-9*math.Abs(c.want) {
			t.Errorf("Parse(%s, %q) = %v, %v; want %v", c.kind, c.text, v.Num, err, c.want)
		}
	}
	// ASTM B258: 18 AWG is 1.0237 mm (0.0403 in) and 0.823 mm²
	if v, err := Parse(Area, "18 AWG"); err != nil || math.Abs(v.Num-0.823e-6) > 1e-9 {
		t.Errorf("18 AWG = %v, %v", v, err)
	}
	for _, c := range []struct {
		kind Kind
		text string
	}{
		{Resistance, ""}, {Resistance, "k"}, {Resistance, "4k7k"}, {Resistance, "1,000 Ω"}, {Resistance, "12 V"}, {Voltage, "NaN"}, {Voltage, "Inf V"},
		{Voltage, "1e999"}, {Voltage, "0x10"}, {Voltage, "12 14"}, {Voltage, "±5%"}, {Voltage, "5 V±200%"}, {Power, "1/0 W"}, {Voltage, "14-12 V"},
		{Kind("no such"), "1"},
	} {
		if v, err := Parse(c.kind, c.text); err == nil {
			t.Errorf("Parse(%s, %q) = %v; want an error", c.kind, c.text, v)
		}
	}
}

func TestRanges(t *testing.T) {
	for _, c := range []struct {
		kind      Kind
		text      string
		low, high float64
	}{
		{Voltage, "17V±2%", 16.66, 17.34}, {Resistance, "100 Ω ± 5 Ω", 95, 105}, {Resistance, "100±5", 95, 105}, {Voltage, "12–14 V", 12, 14},
		{Voltage, "12 to 14 V", 12, 14}, {Voltage, "12-14 V", 12, 14}, {Temperature, "120 °C ± 5 K", 115, 125}, {Current, "90 mA–1.1 A", .09, 1.1},
	} {
		v, err := Parse(c.kind, c.text)
		if err != nil || math.Abs(v.Low-c.low) > 1e-9 || math.Abs(v.High-c.high) > 1e-9 {
			t.Errorf("Parse(%s, %q) = %v..%v, %v; want %v..%v", c.kind, c.text, v.Low, v.High, err, c.low, c.high)
		}
	}
}

// The edges of rounding and of the prefixes, and their nearest neighbours below.
func TestText(t *testing.T) {
	for _, c := range []struct {
		v    Value
		want string
	}{
		{Of(Voltage, 24.0416), "24.0 V"}, {Of(Voltage, 13.232), "13.23 V"}, {Of(Current, 1.0934), "1.093 A"}, {Of(Current, .2073), "207 mA"},
		{Of(Resistance, 26.45), "26.5 Ω"}, {Of(Voltage, 9.996), "10.0 V"}, {Of(Voltage, 0.00012345), "123.5 µV"}, {Of(Resistance, 999.4), "999 Ω"}, {Of(Resistance, 999.5), "1.00 kΩ"}, {Of(Resistance, 4700), "4.70 kΩ"}, {Of(Resistance, 0.033), "33.0 mΩ"},
		{Of(Capacitance, 2.2e-3), "2.20 mF"}, {Of(Temperature, 101.36), "101.4 °C"}, {Of(Rise, -0.01), "0.0 K"}, {Of(Voltage, 0), "0 V"},
		{Of(Duration, 0.015063), "15.06 ms"}, {Of(Duration, 9.77), "9.77 s"}, {Of(Duration, 7500), "2 h 5 min"}, {Of(Duration, 300), "5.0 min"},
		{Of(Percent, .382), "38 %"}, {Of(Count, 4), "4"}, {Of(Money, 12.5), "12.50"}, {Value{Kind: Money, Num: 3, Low: 3, High: 3, Unit: "€"}, "3.00 €"},
		{Value{Kind: MoneyPerHour, Num: 30, Low: 30, High: 30, Unit: "€"}, "30.00 €/h"},
		{Between(Resistance, 24.2, 26.1), "24.2–26.1 Ω"}, {Between(Resistance, 900, 1100), "900 Ω to 1.100 kΩ"}, {Of(Voltage, math.NaN()), "no value"},
		{Value{Kind: Voltage, Num: 17, Low: 17, High: 17, Unit: "mV"}, "17000 mV"},
	} {
		if got := c.v.Text(); got != c.want {
			t.Errorf("Text(%v) = %q, want %q", c.v, got, c.want)
		}
	}
}

func TestClaim(t *testing.T) {
	for _, c := range []struct {
		text     string
		v        Value
		ok       bool
		computed string
	}{
		{"24 V", Of(Voltage, 24.04), true, "24 V"}, {"24.0 V", Of(Voltage, 24.04), true, "24.0 V"}, {"24.1 V", Of(Voltage, 24.04), false, "24.0 V"},
		{"24–26 Ω", Between(Resistance, 24.2, 25.9), true, "24–26 Ω"}, {"24–27 Ω", Between(Resistance, 24.2, 25.9), false, "24–26 Ω"},
		{"25 Ω", Between(Resistance, 24.2, 25.9), false, "24–26 Ω"}, {"0.35 A", Of(Current, .351), true, "0.35 A"}, {"351 mA", Of(Current, .351), true, "351 mA"},
		{"12.50 €", Value{Kind: Money, Num: 12.5, Low: 12.5, High: 12.5, Unit: "€"}, true, "12.50 €"}, {"3", Of(Count, 3), true, "3"},
	} {
		cl, err := ParseClaim(c.v.Kind, c.text)
		if err != nil {
			t.Errorf("ParseClaim(%q): %v", c.text, err)
			continue
		}
		if ok, computed := cl.Check(c.v); ok != c.ok || computed != c.computed {
			t.Errorf("claim %q against %v: %v %q, want %v %q", c.text, c.v, ok, computed, c.ok, c.computed)
		}
	}
	if _, err := ParseClaim(Voltage, "24"); err == nil {
		t.Error("a claim without its unit was taken")
	}
}

// Whatever is printed reads back as the same amount, to the digits shown.
func FuzzTextReadsBack(f *testing.F) {
	f.Add(24.04, 0)
	f.Add(1e-12, 5)
	f.Add(-999.9999, 9)
	f.Fuzz(func(t *testing.T, x float64, kind int) {
		ks := Kinds()
		k := ks[((kind%len(ks))+len(ks))%len(ks)]
		if math.IsNaN(x) || math.Abs(x) > 1e8 || math.Abs(x) < 1e-9 {
			return
		}
		text := Of(k, x).Text()
		v, err := Parse(k, text)
		if err != nil {
			if k == Duration && x < 0 {
				return // "-2 h 5 min" is printed for a difference only
			}
			t.Fatalf("%q of %s does not read back: %v", text, k, err)
		}
		slack := 0.06 * math.Abs(x)
		switch k {
		case Temperature, Rise:
			slack = 0.0501 + 1e-9*math.Abs(x)
		case Money, MoneyPerHour:
			slack = 0.00501 + 1e-9*math.Abs(x)
		}
		if math.Abs(v.Num-x) > slack {
			t.Fatalf("%v of %s printed %q, read back %v", x, k, text, v.Num)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"4k7", "17V±2%", "1h30", "18 AWG", "12–14 V", "0,5 A", "1/4 W", "€12,50", "68 °F", "±", "-", "1 2 3", "1,2,3", "e5", "10 000,5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, k := range Kinds() {
			v, err := Parse(k, s)
			if err == nil && (!v.Finite() || v.Low > v.Num || v.High < v.Num) {
				t.Fatalf("Parse(%s, %q) = %v", k, s, v)
			}
			_, _ = ParseClaim(k, s)
		}
	})
}
