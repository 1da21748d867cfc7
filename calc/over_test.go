package calc

import "testing"

func TestOver(t *testing.T) {
	for _, c := range []struct {
		want string
		of   []string
	}{
		{"Holds, with 12.3–20.0 K left.", []string{"Holds, with 15.0 K left.", "Holds, with 20.0 K left.", "Holds, with 12.3 K left."}},
		{"It blows at 4.95–6.05 A.", []string{"It blows at 5.50 A.", "It blows at 6.05 A.", "It blows at 4.95 A."}},
		{"Up to 900 mA to 1.10 A of 2 A.", []string{"Up to 1.00 A of 2 A.", "Up to 900 mA of 2 A.", "Up to 1.10 A of 2 A."}},
		{"Too hot.", []string{"Too hot.", "Too hot.", "Too hot."}},
		{"By -2.0 to -1.0 K; 230 V.", []string{"By -1.5 K; 230 V.", "By -2.0 K; 230 V.", "By -1.0 K; 230 V."}},
		{"Dim: 1.5–3.3 % of it.", []string{"Dim: 1.6–3.1 % of it.", "Dim: 1.5–3.0 % of it.", "Dim: 1.7–3.3 % of it."}},
		{"24–26 Ω", []string{"24–26 Ω", "24–26 Ω"}},
		// other words: the first stands
		{"It takes 3 A.", []string{"It takes 3 A.", "It takes 3 A and 5 V."}},
		{"12 Ω", []string{"12 Ω", "twelve"}},
		{"5–7 turns of 1000", []string{"6 turns of 1000", "5 turns of 1000", "7 turns of 1000"}},
	} {
		if got := over(c.of[0], c.of[1:]); got != c.want {
			t.Errorf("%q over %q", got, c.of)
		}
	}
}

func FuzzOver(f *testing.F) {
	f.Add("1 V and 2 mA", "3 V and 4 A")
	f.Fuzz(func(t *testing.T, a, b string) {
		if got := over(a, []string{a}); got != a {
			t.Fatalf("%q became %q", a, got)
		}
		over(a, []string{b})
	})
}
