package quantity

import (
	"math"
	"strings"
	"testing"
)

func atMost(k Kind, base float64) Value  { v := Of(k, base); v.Limit = Highest; return v }
func atLeast(k Kind, base float64) Value { v := Of(k, base); v.Limit = Lowest; return v }

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
		// E for ohms: IEC 60062 has R; E stands on Dutch and Indian parts
		{Resistance, "22E", 22}, {Resistance, "4E7", 4.7}, {Resistance, "0E22", .22}, {Resistance, "4r7", 4.7}, {Resistance, "1e3", 1000}, {Resistance, "2.2 meg", 2.2e6},
		{Capacitance, "45 MFD", 45e-6}, {Capacitance, "45MFD", 45e-6}, {Capacitance, "100 mfd", 1e-4}, {Capacitance, "470 MMFD", 470e-12}, {Capacitance, "100nf", 1e-7}, {Capacitance, "4.7uf", 4.7e-6},
		{Voltage, "5V1", 5.1}, {Voltage, "3V3", 3.3}, {Voltage, "12v", 12}, {Power, "0W25", .25},
		// fuses by IEC 60127, breakers by IEC 60898
		{Current, "T2A", 2}, {Current, "F 3.15A", 3.15}, {Current, "T500mA", .5}, {Current, "TT 1.6 A", 1.6}, {Current, "T3A15", 3.15}, {Current, "C20", 20}, {Current, "B16", 16},
		{Duration, "2 weeks", 14 * 86400}, {Duration, "1 week", 7 * 86400}, {Duration, "3 months", 7889400}, {Duration, "2 years", 2 * 365.25 * 86400}, {Gravity, "60", 60}, {Duration, "C20", 72000}, {Duration, "C/20", 72000}, {Ratio, "C/10", .1}, {Ratio, "0.2C", .2},
		{Gravity, "1240", 1.24}, {Gravity, "1.240", 1.24}, {Gravity, "1240 kg/m³", 1.24}, {Gravity, "1.24 kg/l", 1.24},
	} {
		v, err := Parse(c.kind, c.text)
		if err != nil || math.Abs(v.Num-c.want) > 1e-9*math.Abs(c.want) {
			t.Errorf("Parse(%s, %q) = %v, %v; want %v", c.kind, c.text, v.Num, err, c.want)
		}
	}
	// ASTM B258: 18 AWG is 1.0237 mm (0.0403 in) and 0.823 mm²
	// stranded wire, count over diameter in mm; a bare number is asked for its unit
	for text, want := range map[string]float64{"7/0.2": 0.2199e-6, "16/0.2 mm": 0.5027e-6, "24/0,2": 0.7540e-6, "19/0.18mm": 0.4835e-6, "2/0 AWG": 67.43e-6, "4": 4e-6, "0.75": 0.75e-6} {
		if v, err := ParseAny([]Kind{Area, Length}, text); err != nil || math.Abs(v.Num-want) > 1e-3*want {
			t.Errorf("%s is %v, %v", text, v.Num, err)
		}
	}
	for _, text := range []string{"14", "10", "2/0", "1/0"} {
		if v, err := ParseAny([]Kind{Area, Length}, text); err == nil {
			t.Errorf("%s is %v", text, v)
		}
	}
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
		// two readings
		{Resistance, "4,702 kΩ"}, {Resistance, "01R"}, {Capacitance, "100 mf"}, {Capacitance, "45/5 MFD"}, {Capacitance, "35+5 µF"}, {Current, "T"}, {Current, "X2A"}, {Current, "C0.5"}, {Duration, "C0"}, {Ratio, "C20"}, {Voltage, "5Z1"}, {Voltage, "120V~60Hz"},
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

// A refusal names both readings, or the spellings that work.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		kinds []Kind
		text  string
		says  []string
	}{
		{[]Kind{Resistance}, "4,702 kΩ", []string{"4.702 kΩ", "4702 kΩ"}}, {[]Kind{Resistance, Current}, "1,000", []string{"1.000", "1000"}},
		{[]Kind{Resistance}, "01R", []string{"1 Ω", "0.1 Ω", "1R", "0R1"}}, {[]Kind{Capacitance}, "100 mf", []string{"100 µF", "100 mF"}},
		{[]Kind{Resistance}, "big", []string{"4.7 kΩ", "4k7", "4E7"}}, {[]Kind{Resistance, Current}, "big", []string{"4.7 kΩ", "0.5 A"}},
		{[]Kind{Capacitance}, "100 V", []string{"voltage", "2200 µF"}}, {[]Kind{Duration}, "soon", []string{"2 weeks"}},
	} {
		_, err := ParseAny(c.kinds, c.text)
		if err == nil {
			t.Errorf("%q was taken", c.text)
			continue
		}
		for _, want := range c.says {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%q: %q does not say %q", c.text, err, want)
			}
		}
	}
}

// A limit is rounded to its own side, in print and in claims; equal to the digit it stays.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		v    Value
		want string
	}{
		{atMost(Voltage, 23.999), "23.9 V"}, {atMost(Voltage, 24), "24.0 V"}, {atLeast(Voltage, 23.901), "24.0 V"}, {atLeast(Resistance, 9.991), "10.0 Ω"},
		{atLeast(Resistance, 999.1), "1.00 kΩ"}, {atMost(Resistance, 999.9), "999 Ω"}, {atLeast(Duration, 7501), "2 h 6 min"}, {atMost(Duration, 7559), "2 h 5 min"}, {atLeast(Duration, 90.11), "90.2 s"},
		{atMost(Temperature, 99.99), "99.9 °C"}, {atLeast(Temperature, -0.01), "0.0 °C"}, {atMost(Temperature, -0.01), "-0.1 °C"}, {atLeast(Percent, .1201), "12.1 %"}, {atMost(Power, .0004), "400 µW"},
		{atMost(Current, 1.9999999999999), "2.00 A"}, {atLeast(Capacitance, 1.0000000000001e-6), "1.000 µF"}, {atLeast(Money, 3.001), "3.01"}, {atMost(Count, 19.79), "19.79"},
	} {
		if got := c.v.Text(); got != c.want {
			t.Errorf("%v prints %q, want %q", c.v, got, c.want)
		}
	}
	for _, c := range []struct {
		text string
		v    Value
		ok   bool
	}{
		{"24 V", atMost(Voltage, 24.9), true}, {"25 V", atMost(Voltage, 24.9), false}, {"25 V", atLeast(Voltage, 24.1), true}, {"24 V", atLeast(Voltage, 24.1), false},
		{"24 V", atLeast(Voltage, 24), true}, {"0.3 mA", atMost(Current, .00035), true},
	} {
		cl, err := ParseClaim(c.v.Kind, c.text)
		if err != nil {
			t.Fatal(err)
		}
		if ok, computed := cl.Check(c.v); ok != c.ok {
			t.Errorf("claim %q of %v: %v, computed %s", c.text, c.v, ok, computed)
		}
	}
}

// Of a range of limits only the end that binds is left.
func TestBinding(t *testing.T) {
	for _, c := range []struct {
		limit Limit
		want  string
	}{{NoLimit, "36.9–55.4 Ω"}, {Lowest, "55.4 Ω"}, {Highest, "36.9 Ω"}} {
		v := Between(Resistance, 36.9, 55.4)
		v.Limit = c.limit
		if got := v.Binding().Text(); got != c.want {
			t.Errorf("limit %v prints %q, want %q", c.limit, got, c.want)
		}
	}
}

func TestApart(t *testing.T) {
	for _, c := range []struct {
		a, b      Value
		one, both string
	}{
		{Of(Current, 2.003), Of(Current, 2.001), "2.003 A", "2.001 A"}, {Of(Voltage, 12), Of(Voltage, 14), "12.0 V", "14.0 V"}, {Of(Voltage, 23), Of(Voltage, 23), "23.0 V", "23.0 V"},
		{Of(Temperature, 100.04), Of(Temperature, 100.01), "100.04 °C", "100.01 °C"}, {atMost(Resistance, 33.0499), Of(Resistance, 33.041), "33.05 Ω", "33.04 Ω"},
	} {
		if one, both := Apart(c.a, c.b); one != c.one || both != c.both {
			t.Errorf("%v and %v print as %q and %q", c.a, c.b, one, both)
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
		{Between(Resistance, 24.2, 26.1), "24.2–26.1 Ω"}, {Between(Resistance, 900, 1100), "900 Ω to 1.100 kΩ"}, {Between(Percent, .8818, 1.1111), "88.2–111.1 %"}, {Between(Percent, .11, .33), "11.0–33 %"}, {Of(Voltage, math.NaN()), "no value"},
		{Value{Kind: Voltage, Num: 17, Low: 17, High: 17, Unit: "mV"}, "17000 mV"},
		// what is left of a difference, and what is no whole count
		{Of(Percent, -1.32e-16), "0 %"}, {Of(Percent, 1.38e-5), "0.00138 %"}, {Of(Voltage, -1.3e-17), "0 V"}, {Of(Current, 3e-13), "0.300 pA"}, {Of(Count, .2299794661), "0.230"}, {Of(Count, 1293272), "1293272"},
		{Value{Kind: Resistance, Num: 390.48112, Low: 390.48112, High: 390.48112, Digits: 5}, "390.48 Ω"}, {Value{Kind: Resistance, Num: 138.5055, Low: 138.5055, High: 138.5055, Digits: 5}, "138.51 Ω"},
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
		if k == Gravity && x > 400 {
			return // no liquid is so heavy: a bare 1240 is what a hydrometer shows of 1.240
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
		case Percent:
			slack += leastPercent / 100
		}
		if u := kinds[k][0]; u.prefix != "" {
			_, smallest := prefixFor(1e-15, u.prefix)
			slack += leastShown * smallest * u.factor
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
