// Package safety holds what its rooms share: rule sets that disagree, judged side
// by side.
package safety

import "faultleaf/calc"

// Rule is what one named rule set asks of a reading, in the reading's base unit.
type Rule struct {
	Name, Label string
	Limit       float64
	// Lenient is the other end where the sources of one rule differ, else the limit.
	Lenient float64
	Aside   bool // it decides only where it is chosen
}

// Span makes a rule whose sources differ between limit and lenient.
func Span(name, label string, limit, lenient float64) Rule {
	return Rule{Name: name, Label: label, Limit: limit, Lenient: lenient}
}

// One makes a rule with one limit.
func One(name, label string, limit float64) Rule { return Span(name, label, limit, limit) }

// Strictest is the choice that lets the strictest rule decide.
const Strictest = "strictest"

// Judge holds a reading against a rule.
type Judge func(r Rule, by string) (word, says string)

// Verdicts says what each rule makes of a reading, under the rule's name with its
// limit as "limit-NAME", and as "verdict" and "limit" what the rule makes of it
// that decides: the chosen one, else the strictest. judge gives word and sentence;
// by names the rule where that is not plain; nil while nothing is measured, then only limits
// are given. "regions" says where these rules are in use. It is false where no rule decides.
func Verdicts(out *calc.Out, rules []Rule, chosen string, stricter func(a, b float64) bool, judge Judge) bool {
	var decides *Rule
	var names []string
	for i := range rules {
		r := &rules[i]
		out.Set("limit-"+r.Name, r.Limit)
		if !r.Aside {
			names = append(names, r.Name)
		}
		if judge != nil {
			word, says := judge(*r, "")
			out.Say(r.Name, word, says)
		}
		if r.Name == chosen || chosen == Strictest && !r.Aside && (decides == nil || stricter(r.Limit, decides.Limit)) {
			decides = r
		}
	}
	if decides == nil {
		return false
	}
	by := " by " + decides.Label
	if chosen == Strictest {
		by = " by the strictest rule here, " + decides.Label
	}
	out.Say("regions", "regions", Where(names...))
	out.Set("limit", decides.Limit)
	if judge != nil {
		word, says := judge(*decides, by)
		out.Say("verdict", word, says)
	}
	return true
}

// Decide is Verdicts with the rule that was entered, or the shop's. Where that one entered has
// no limit for such a device, otherwise is the sentence that refuses; where it is only the
// shop's usual one, the strictest decides and a note says so.
func Decide(in calc.In, out *calc.Out, rules []Rule, stricter func(a, b float64) bool, judge Judge, otherwise string) error {
	switch {
	case Verdicts(out, rules, in.Word("rule"), stricter, judge):
		return nil
	case !in.Given("rule") && Verdicts(out, rules, Strictest, stricter, judge):
		out.Note("The rule that this shop goes by has no limit for this; the strictest decides.")
		return nil
	}
	return calc.Bad("rule", "Rule that decides: "+otherwise)
}

// Lower and Higher say which of two limits is the stricter: the lower one where
// a limit is the most allowed, the higher one where it is the least asked.
func Lower(a, b float64) bool  { return a < b }
func Higher(a, b float64) bool { return a > b }
