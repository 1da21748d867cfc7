package quantity

import "testing"

func TestStyle(t *testing.T) {
	comma, feet, both := Style{Comma: true}, Style{Imperial: true}, Style{true, true}
	for _, c := range []struct {
		style      Style
		text, want string
	}{
		{Style{}, "1.5 V at 20 °C", "1.5 V at 20 °C"},
		{comma, "8.25–61.3 Ω", "8,25–61,3 Ω"},
		{comma, "Fails: 1.500 MΩ; at least 2.00 MΩ is asked by IEC 60335-1.", "Fails: 1,500 MΩ; at least 2,00 MΩ is asked by IEC 60335-1."},
		{comma, "a cord 3G1.5, 1.5mm2, version 1.2.3", "a cord 3G1.5, 1.5mm2, version 1.2.3"},
		{comma, "3.", "3."}, {comma, "0.5 A.", "0,5 A."}, {comma, "-0.5 to 1.5 A (1.25 A)", "-0,5 to 1,5 A (1,25 A)"},
		// fixed points of the scales: 0, 100, 37 and -40 °C; an inch is 25.4 mm, a foot 304.8 mm exactly
		{feet, "0 °C", "32 °F"}, {feet, "100.0 °C", "212.0 °F"}, {feet, "37.0 °C.", "98.6 °F."}, {feet, "-40–100 °C", "-40–212 °F"}, {feet, "20 to 25 °C", "68 to 77 °F"},
		{feet, "25.4 mm", "1 in"}, {feet, "30.48 m", "100 ft"}, {feet, "2.54 cm, 2 m/s", "1 in, 2 m/s"},
		{feet, "1.5 mm² 85.9 mΩ/m 5 m² 12 min", "1.5 mm² 85.9 mΩ/m 5 m² 12 min"}, {feet, "a rise of 18.6 K", "a rise of 18.6 K"},
		{both, "101.4 °C", "214,5 °F"},
	} {
		if got := c.style.Says(c.text); got != c.want {
			t.Errorf("%q: %q, not %q", c.text, got, c.want)
		}
	}
	for _, c := range []struct {
		style      Style
		kind       Kind
		text, want string
	}{
		{feet, Temperature, "20 °C", "68 °F"}, {feet, Length, "2 m", "6.56 ft"}, {comma, Area, "0.75 mm²", "0,75 mm²"},
		{comma, Gravity, "1.240", "1.240"}, // 1,240 could be a thousand
		{feet, Temperature, "cold", "cold"},
	} {
		if got := c.style.Input(c.kind, c.text); got != c.want {
			t.Errorf("%q: %q, not %q", c.text, got, c.want)
		}
	}
}

// No text makes it fail, and none of its letters are lost where nothing is changed.
func FuzzStyle(f *testing.F) {
	for _, s := range []string{"1.5–2 V", "−3 °C to", "1 to ", "–", "9.9.9 mm", "\xff1.5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if got := (Style{}).Says(s); got != s {
			t.Error(got)
		}
		if got := (Style{Comma: true}).Says(s); len(got) != len(s) {
			t.Errorf("%q became %q", s, got)
		}
		_ = Style{true, true}.Says(s)
	})
}

func TestSpaced(t *testing.T) {
	for text, want := range map[string]string{"700W": "700 W", "2.2kW": "2.2 kW", "0,5A": "0,5 A", "230 V": "230 V", "4k7": "4k7", "700": "700", "": "", "IPX4": "IPX4", "100–240V": "100–240V", "12V DC": "12V DC", "5Ω": "5 Ω"} {
		if got := Spaced(text); got != want {
			t.Errorf("Spaced(%q) is %q, wanted %q", text, got, want)
		}
	}
}

// A prefix alone tells no kind: 1 M is of ohms as often as of hertz.
func TestKindOfPrefix(t *testing.T) {
	for text, want := range map[string]Kind{"1 M": "", "100n": "", "4k7": Resistance, "10 k": "", "1 MΩ": Resistance, "5 V": Voltage} {
		if got := KindOf(text); got != want {
			t.Errorf("KindOf(%q) is %q, wanted %q", text, got, want)
		}
	}
}
