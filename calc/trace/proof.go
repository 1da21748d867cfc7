package trace

import "strings"

// ProofKind is one thing that is shown before a mended device goes back.
type ProofKind string

// The kinds of proofs. Visual and Function are the answer of the steps that
// look and try; the others are readings.
const (
	Visual       ProofKind = "visual"
	Bond         ProofKind = "bond"
	Insulation   ProofKind = "insulation"
	Leakage      ProofKind = "leakage"
	TouchCurrent ProofKind = "touch-current"
	Polarity     ProofKind = "polarity"
	Function     ProofKind = "function"
)

// ProofKinds lists them in the order of the work.
func ProofKinds() []ProofKind {
	return []ProofKind{Visual, Bond, Insulation, Leakage, TouchCurrent, Polarity, Function}
}

var proofSays = map[ProofKind]string{Visual: "visual inspection", Bond: "earth bond", Insulation: "insulation", Leakage: "leakage current",
	TouchCurrent: "touch current", Polarity: "polarity", Function: "function under load"}

// Says is the proof in words.
func (k ProofKind) Says() string {
	if s, ok := proofSays[k]; ok {
		return s
	}
	return Plain(string(k))
}

// Measured tells whether the proof is a reading with a unit.
func (k ProofKind) Measured() bool {
	return k == Bond || k == Insulation || k == Leakage || k == TouchCurrent
}

// Judge names the calculator that judges a reading of this kind, and the inputs
// that make it this kind; "" where none does.
func (k ProofKind) Judge() (calculator string, inputs [][2]string) {
	switch k {
	case Bond:
		return "earth-bond", nil
	case Insulation:
		return "insulation", nil
	case Leakage:
		return "leakage", [][2]string{{"path", "earth"}}
	case TouchCurrent:
		return "leakage", [][2]string{{"path", "touch"}}
	}
	return "", nil
}

// Need is a proof that is asked for: any one of the kinds will do, the first
// where it can be taken.
type Need []ProofKind

// Says is the need in words: "insulation, or where that cannot be taken leakage current or touch current".
func (n Need) Says() string {
	var words []string
	for _, k := range n {
		words = append(words, k.Says())
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return words[0] + ", or where that cannot be taken " + strings.Join(words[1:], " or ")
}

// Needs are the proofs that a shop asks for by class of protection; the class ""
// is for devices whose note names none.
type Needs map[string][]Need

// CommonNeeds are asked for where a shop's own file says nothing: what the rules
// for tests after a repair (EN 50678) have in common; that a device that bears no
// 500 V is read for leakage instead is in them too.
func CommonNeeds() Needs {
	insulated := Need{Insulation, Leakage, TouchCurrent}
	return Needs{
		"I":   {{Visual}, {Bond}, insulated, {Function}},
		"II":  {{Visual}, {Insulation, TouchCurrent, Leakage}, {Function}},
		"III": {{Visual}, {Function}},
		"":    {{Visual}, {Function}},
	}
}

// For lists what a device of a class must show, with what its own note adds,
// before the function if there is one.
func (n Needs) For(class string, more []ProofKind) []Need {
	of, ok := n[class]
	if !ok {
		of = n[""]
	}
	out := append([]Need(nil), of...)
	for _, k := range more {
		at := len(out)
		has := false
		for i, need := range out {
			if need[0] == Function {
				at = i
			}
			has = has || need[0] == k
		}
		if !has {
			out = append(out[:at], append([]Need{{k}}, out[at:]...)...)
		}
	}
	return out
}

// Proof is what was shown of one kind.
type Proof struct {
	Kind  ProofKind
	Value string // as read, with its unit; "" for what is not measured
	Limit string // what it was held against, in words
	Pass  string // PassOK, PassFails, or "" where it was not taken
	Why   string // why it was not taken
}

// The answers of a proof.
const (
	PassOK    = "ok"
	PassFails = "fails"
)

// Lacks says what stands in the way of the word "mended": for each need without
// a proof a sentence. One kind with its reason why not is enough only where
// another kind of the same need was taken, or where the need knows no other.
func Lacks(needs []Need, shown []Proof) []string {
	by := map[ProofKind]Proof{}
	var out []string
	for _, p := range shown {
		by[p.Kind] = p
		if p.Pass == PassFails {
			out = append(out, "the "+p.Kind.Says()+" failed: it stays here")
		}
	}
	for _, n := range needs {
		taken, reasons := false, 0
		for _, k := range n {
			p := by[k]
			taken = taken || p.Pass != ""
			if p.Pass == "" && strings.TrimSpace(p.Why) != "" {
				reasons++
			}
		}
		switch {
		case taken:
		case reasons == 0:
			out = append(out, "the "+n.Says()+" is missing")
		case reasons < len(n):
			out = append(out, "the "+n[0].Says()+" was not taken, so "+n.rest(by)+" is missing")
		}
	}
	return out
}

func (n Need) rest(by map[ProofKind]Proof) string {
	var words []string
	for _, k := range n {
		if strings.TrimSpace(by[k].Why) == "" {
			words = append(words, k.Says())
		}
	}
	return strings.Join(words, " or ")
}
