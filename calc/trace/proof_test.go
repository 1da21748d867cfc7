package trace

import (
	"strings"
	"testing"
)

func TestLacks(t *testing.T) {
	one := CommonNeeds().For("I", nil)
	lead := CommonNeeds().For("I", []ProofKind{Polarity})
	ok := func(k ProofKind, v string) Proof { return Proof{Kind: k, Value: v, Pass: PassOK} }
	for _, c := range []struct {
		name  string
		needs []Need
		shown []Proof
		want  string
	}{
		{"nothing", one, nil, "the visual inspection is missing; the earth bond is missing; the insulation, or where that cannot be taken leakage current or touch current is missing; the function under load is missing"},
		{"all", one, []Proof{ok(Visual, ""), ok(Bond, "0.1 Ω"), ok(Insulation, "300 MΩ"), ok(Function, "")}, ""},
		{"no 500 V", one, []Proof{ok(Visual, ""), ok(Bond, "0.1 Ω"), {Kind: Insulation, Why: "its electronics do not bear 500 V"}, ok(Function, "")},
			"the insulation was not taken, so leakage current or touch current is missing"},
		{"leakage instead", one, []Proof{ok(Visual, ""), ok(Bond, "0.1 Ω"), {Kind: Insulation, Why: "no 500 V"}, ok(Leakage, "0.2 mA"), ok(Function, "")}, ""},
		{"bond with its reason", one, []Proof{ok(Visual, ""), {Kind: Bond, Why: "no metal can be touched"}, ok(Insulation, "9 MΩ"), ok(Function, "")}, ""},
		{"a failed one", one, []Proof{ok(Visual, ""), {Kind: Bond, Value: "4 Ω", Pass: PassFails}, ok(Insulation, "9 MΩ"), ok(Function, "")}, "the earth bond failed: it stays here"},
		{"a lead", lead, []Proof{ok(Visual, ""), ok(Bond, "0.1 Ω"), ok(Insulation, "9 MΩ"), ok(Function, "")}, "the polarity is missing"},
	} {
		if got := strings.Join(Lacks(c.needs, c.shown), "; "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if got := lead[len(lead)-1][0]; got != Function {
		t.Errorf("the last proof of a lead is %s", got)
	}
	if n := CommonNeeds().For("O", nil); len(n) != 2 {
		t.Errorf("an unknown class asks for %v", n)
	}
}
