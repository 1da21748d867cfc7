package note

import (
	"errors"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// Step is one task of a checklist.
type Step struct {
	ID    string // stable: from the step: mark, or else from its first words
	Text  string // plain, its numbers filled in
	Proof trace.ProofKind
	Read  *Read // nil where nothing is measured
}

// Read is a field in which a step's reading is written down.
type Read struct {
	Label  string
	Kind   string         // a proof's kind, or a kind of quantity
	Inputs []calc.Setting // of the calculator that judges it
}

// The marks of a step are links of these kinds: [](step:ID) names it,
// [](proof:visual) says what it helps to prove, [Worst](read:bond?length=5_m) is a
// field for a reading, [an hour](wait:1_h) starts a timer.
const (
	stepMark  = "step:"
	proofMark = "proof:"
	readMark  = "read:"
	waitMark  = "wait:"
)

// readable are the kinds of quantity that a step may read without a judge.
var readable = map[string]quantity.Kind{"voltage": quantity.Voltage, "current": quantity.Current, "resistance": quantity.Resistance,
	"temperature": quantity.Temperature, "power": quantity.Power, "time": quantity.Duration}

// Mark parts the address of a mark into its scheme and the rest; ok is false
// for every other link.
func Mark(to string) (scheme, rest string, ok bool) {
	for _, s := range []string{stepMark, proofMark, readMark, waitMark} {
		if rest, ok := strings.CutPrefix(to, s); ok {
			return s, rest, true
		}
	}
	return "", "", false
}

// ReadMark reads the rest of a read: mark.
func ReadMark(rest string) (Read, error) {
	l, err := calc.ParseLink(rest)
	if err != nil {
		return Read{}, errors.New("the kind of reading is missing; write it like read:bond or read:voltage")
	}
	r := Read{Kind: l.Calculator, Inputs: l.Inputs}
	if _, plain := readable[r.Kind]; plain {
		if len(r.Inputs) > 0 {
			return r, errors.New("nothing judges a reading of " + r.Kind + ", so it takes no inputs")
		}
		return r, nil
	}
	for _, k := range trace.ProofKinds() {
		if string(k) == r.Kind && (k.Measured() || k == trace.Polarity) {
			return r, nil
		}
	}
	return r, errors.New("there is no reading " + quote(r.Kind) + " for a step")
}

// WaitMark reads the minutes of a wait: mark.
func WaitMark(rest string) (float64, error) {
	v, err := quantity.Parse(quantity.Duration, strings.ReplaceAll(rest, "_", " "))
	if err != nil || v.Num < 1 || v.Num > 86400 {
		return 0, errors.New("a wait is a time between a second and a day, like wait:15_min")
	}
	return v.Num / 60, nil
}

// checkMark reports a mark that cannot be followed.
func (l *loader) checkMark(b *body, n *ast.Link, scheme, rest string, start int) {
	step := n.Parent()
	for step != nil && (step.FirstChild() == nil || step.FirstChild().Kind() != east.KindTaskCheckBox) {
		step = step.Parent()
	}
	if b.doc.Kind != KindChecklist || step == nil {
		l.report(b, start, "the mark "+quote(scheme+rest)+" belongs to a checklist's step", "put it into a line that begins with - [ ]")
		return
	}
	var err error
	do := "the kinds are bond, insulation, leakage, touch-current, polarity, voltage, current, resistance, temperature, power, time"
	switch scheme {
	case stepMark:
		if !IsName(rest) {
			err, do = errors.New("the step's name "+quote(rest)+" is not plain"), "use small letters, digits and hyphens, like [](step:earth-bond)"
		}
	case proofMark:
		if k := trace.ProofKind(rest); k != trace.Visual && k != trace.Function {
			err, do = errors.New("there is no proof "+quote(rest)+" by ticking"), "it should be visual or function; what is measured is a read: mark"
		}
	case waitMark:
		_, err = WaitMark(rest)
		do = "write it like [an hour](wait:1_h)"
	case readMark:
		var r Read
		if r, err = ReadMark(rest); err == nil {
			if name, more := trace.ProofKind(r.Kind).Judge(); name != "" {
				in := append([]calc.Setting(nil), r.Inputs...)
				for _, s := range more {
					in = append(in, calc.Setting{Name: s[0], Value: s[1]})
				}
				if c, ok := l.find(name); ok {
					_, err = c.Run(in)
					do = "its inputs are " + c.InputNames()
				}
			}
		}
	}
	if err != nil {
		l.report(b, start, err.Error(), do)
	}
}

// steps are the tasks of a checklist, in order.
func steps(d *Document) []Step {
	var out []Step
	if d.Body == nil {
		return nil
	}
	seen := map[string]int{}
	_ = ast.Walk(d.Body, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering || n.Kind() != east.KindTaskCheckBox {
			return ast.WalkContinue, nil
		}
		s := Step{Text: plainText(n.Parent(), d.Source, d.Numbers)}
		_ = ast.Walk(n.Parent(), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			link, ok := n.(*ast.Link)
			if !ok || !entering {
				return ast.WalkContinue, nil
			}
			switch scheme, rest, _ := Mark(string(link.Destination)); scheme {
			case stepMark:
				s.ID = rest
			case proofMark:
				s.Proof = trace.ProofKind(rest)
			case readMark:
				if r, err := ReadMark(rest); err == nil {
					r.Label = Text(link, d.Source)
					s.Read = &r
					if trace.ProofKind(r.Kind).Measured() || r.Kind == string(trace.Polarity) {
						s.Proof = trace.ProofKind(r.Kind)
					}
				}
			}
			return ast.WalkContinue, nil
		})
		if s.ID == "" {
			s.ID = firstWords(plainText(n.Parent(), d.Source, nil))
		}
		if seen[s.ID]++; seen[s.ID] > 1 {
			s.ID += "-" + quantity.Number(float64(seen[s.ID]))
		}
		out = append(out, s)
		return ast.WalkContinue, nil
	})
	return out
}

// firstWords makes a step's id of its first six words: a step that moves, or
// whose end is written anew, keeps its ticks.
func firstWords(text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		return "step"
	}
	return strings.Join(words[:min(6, len(words))], "-")
}
