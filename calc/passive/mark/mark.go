package mark

import (
	_ "embed"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultleaf/calc"
	"faultleaf/calc/passive"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// Calculator reads the mark on a resistor or capacitor.
var Calculator = &calc.Calculator{
	Name:  "value-code",
	Title: "Mark on a resistor, capacitor or inductor",
	For:   "Reads 4K7, 103, 4702, 68C or 104K, and says when a mark can mean two values.",
	Shelf: "passive",
	Inputs: []calc.Input{
		{Name: "mark", Label: "Mark as printed", Default: "220", Text: []string{"220", "4K7", "4702", "68C", "104K"},
			Help: "With its letters; capitals and small letters as they stand."},
		{Name: "part", Label: "Part", Default: "resistor", Choices: []calc.Choice{{Name: "resistor", Label: "Resistor"}, {Name: "capacitor", Label: "Capacitor"}, {Name: "inductor", Label: "Inductor"}}},
	},
	Outputs: []calc.Output{
		{Name: "resistance", Label: "Resistance", Kind: quantity.Resistance, Main: true},
		{Name: "capacitance", Label: "Capacitance", Kind: quantity.Capacitance, Main: true},
		{Name: "inductance", Label: "Inductance", Kind: quantity.Inductance, Main: true},
		{Name: "reading", Label: "Read as"},
		{Name: "certain", Label: "One meaning?"},
		{Name: "other-resistance", Label: "Next likely reading", Kind: quantity.Resistance},
		{Name: "other-capacitance", Label: "Next likely reading", Kind: quantity.Capacitance},
		{Name: "other-inductance", Label: "Next likely reading", Kind: quantity.Inductance},
		{Name: "tolerance", Label: "Tolerance"},
		{Name: "lowest", Label: "Lowest when good", Kind: quantity.Resistance, Limit: quantity.Lowest, Digits: 4},
		{Name: "highest", Label: "Highest when good", Kind: quantity.Resistance, Limit: quantity.Highest, Digits: 4},
		{Name: "lowest-capacitance", Label: "Lowest when good", Kind: quantity.Capacitance, Limit: quantity.Lowest, Digits: 4},
		{Name: "highest-capacitance", Label: "Highest when good", Kind: quantity.Capacitance, Limit: quantity.Highest, Digits: 4},
		{Name: "lowest-inductance", Label: "Lowest when good", Kind: quantity.Inductance, Limit: quantity.Lowest, Digits: 4},
		{Name: "highest-inductance", Label: "Highest when good", Kind: quantity.Inductance, Limit: quantity.Highest, Digits: 4},
		{Name: "rated-volts", Label: "Rated voltage by the mark", Kind: quantity.Voltage},
		{Name: "same", Label: "The same resistance in other codes"},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>a</mi><mi>b</mi><mi>n</mi><mo>→</mo><mo>(</mo><mn>10</mn><mi>a</mi><mo>+</mo><mi>b</mi><mo>)</mo><mo>·</mo>` +
		`<msup><mn>10</mn><mi>n</mi></msup></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Warning, Text: "Unplug, let capacitors discharge and prove that they did before a part is measured. Follow your local code; licensed people where the law says so."},
		{Signal: calc.Notice, Text: "X and Y capacitors, fusible and flameproof resistors protect: the same value is not enough, the class printed on them must be the same."},
	},
	Example: calc.Example{
		Says:   "A chip resistor is marked 220.",
		Inputs: []calc.Setting{{Name: "mark", Value: "220"}},
		Prints: []calc.Setting{{Name: "resistance", Value: "22.0 Ω"}, {Name: "other-resistance", Value: "220 Ω"},
			{Name: "certain", Value: "No. 22.0 Ω as two digits and the number of zeros, or 220 Ω as printed plainly; measure."}},
	},
}

// reading is one meaning of a mark, in Ω or F. With a tolerance low and high are the
// ends when good; else both are 0.
type reading struct {
	value     float64
	code      string // a stable word
	says      string // "two digits and the number of zeros"
	tolerance string // "±5 %"
	low, high float64
	volts     float64 // 0 where the mark does not tell
	note      string
}

// shape is a mark taken apart: digits, a letter, digits, a letter; as in 4K7J.
type shape struct {
	before        string
	letter        rune // 0 for none
	after, behind string
}

func take(mark string) (s shape, ok bool) {
	cut := func(from string) (digits, rest string) {
		i := strings.IndexFunc(from, func(r rune) bool { return r < '0' || r > '9' })
		if i < 0 {
			return from, ""
		}
		return from[:i], from[i:]
	}
	s.before, mark = cut(mark)
	if mark != "" {
		r, size := utf8.DecodeRuneInString(mark)
		s.letter, mark = r, mark[size:]
	}
	s.after, s.behind = cut(mark)
	short := len(s.before) <= 4 && len(s.after) <= 4 && len([]rune(s.behind)) <= 1
	return s, short && s.before+s.after != "" && (s.behind == "" || unicode.IsLetter([]rune(s.behind)[0]))
}

// number of a string of at most eight digits.
func number(digits string) (n int) {
	for _, d := range digits {
		n = 10*n + int(d-'0')
	}
	return n
}

// times is n·10^power, rounded once.
func times(n, power int) float64 { return passive.Amount(n, power+2) }

// point puts the letter back as decimal point: 4 and 7 at power 3 are 4700.
func (s shape) point(power int) float64 {
	return times(number(s.before+s.after), power-len(s.after))
}

// zeros reads 103 or 4702: the last digit is the power of ten.
func zeros(digits string) float64 {
	last := len(digits) - 1
	return times(number(digits[:last]), int(digits[last]-'0'))
}

// percents of the tolerance letters, IEC 60062. L is left out: sources disagree.
var percents = map[string]float64{"W": 0.05, "B": 0.1, "C": 0.25, "D": 0.5, "F": 1, "G": 2, "H": 3, "J": 5, "K": 10, "M": 20, "N": 30}

// lopsided tolerances of capacitors, per cent below and above.
var lopsided = map[string][2]float64{"P": {0, 100}, "Q": {10, 30}, "S": {20, 50}, "T": {10, 50}, "Z": {20, 80}}

// picofarads of the tolerance letters below 10 pF.
var picofarads = map[string]float64{"B": 0.1, "C": 0.25, "D": 0.5, "F": 1, "G": 2}

// with gives a reading its tolerance; ok is false where the letter is none.
func (r reading) with(letter string, capacitor bool) (reading, bool) {
	if letter == "" {
		return r, true
	}
	letter = strings.ToUpper(letter)
	p, symmetric := percents[letter]
	pf, absolute := picofarads[letter]
	sides, lop := lopsided[letter]
	switch {
	case capacitor && absolute && r.value < 9.999e-12:
		r.tolerance = "±" + quantity.Number(pf) + " pF"
		r.low, r.high = max(r.value-pf*1e-12, 0), r.value+pf*1e-12
	case symmetric:
		r.tolerance = "±" + quantity.Number(p) + " %"
		r.low, r.high = r.value*(100-p)/100, r.value*(100+p)/100
		if capacitor && strings.Contains("BCD", letter) {
			r.note = "From 10 pF on " + letter + " is per cent by IEC 60062; some lists mean picofarads."
		}
	case capacitor && lop:
		r.tolerance = "−" + quantity.Number(sides[0]) + " % to +" + quantity.Number(sides[1]) + " %"
		r.low, r.high = r.value*(100-sides[0])/100, r.value*(100+sides[1])/100
	case letter == "L":
		r.note = "The letter L is 20 % in one list and 0.01 % in IEC 60062 since 2016; its tolerance is not given here."
	default:
		return r, false
	}
	return r, true
}

// powers of the letters that stand for the point.
var (
	ohmLetters   = map[rune]int{'L': -3, 'R': 0, 'r': 0, 'E': 0, 'Ω': 0, 'K': 3, 'k': 3, 'M': 6, 'G': 9}
	faradLetters = map[rune]int{'p': -12, 'P': -12, 'n': -9, 'N': -9, 'u': -6, 'U': -6, 'µ': -6, 'μ': -6, 'm': -3, 'F': 0}
	eiaPowers    = map[rune]int{'Z': -3, 'Y': -2, 'R': -2, 'X': -1, 'S': -1, 'A': 0, 'B': 1, 'H': 1, 'C': 2, 'D': 3, 'E': 4, 'F': 5}
)

const zerosSay, plainSay = "two digits and the number of zeros", "printed plainly"

// resistors gives the meanings of a mark on a resistor, the customary first.
func resistors(mark string) (list []reading) {
	add := func(r reading, letter string) {
		if r, ok := r.with(letter, false); ok {
			list = append(list, r)
		}
	}
	s, ok := take(mark)
	if !ok {
		return nil
	}
	if strings.Trim(mark, "0") == "" || s.letter == 'R' && number(s.before+s.after) == 0 {
		return []reading{{code: "link", says: "a link"}}
	}
	digits := s.before
	percent := len(digits) >= 3 && s.after == "" && strings.ContainsRune("GL", s.letter) // rather than 220 GΩ
	point := func() {
		if power, ok := ohmLetters[s.letter]; ok && number(s.before+s.after) > 0 && !percent {
			r := reading{value: s.point(power), code: "letter", says: "letter code"}
			if s.letter == 'E' {
				r.says = "letter code with E for the ohms"
			}
			add(r, s.behind)
		}
	}
	// 22E is 22 Ω on parts from the Netherlands and India, and 1.65 MΩ in EIA-96: what no drawer holds comes second
	unusual := s.letter == 'E' && s.after == "" && len(digits) == 2 && (digits[0] == '0' || passive.Coarsest(10*number(digits)) == 0)
	if !unusual {
		point()
	}
	if s.letter == 'm' {
		add(reading{value: s.point(-3), code: "letter", says: "letter code, milliohms"}, s.behind)
		add(reading{value: s.point(6), code: "letter", says: "letter code with a small m for megohms"}, s.behind)
	}
	if s.after != "" || s.behind != "" {
		return list
	}
	letter := ""
	if s.letter != 0 {
		letter = string(s.letter)
	}
	if power, ok := eiaPowers[s.letter]; ok && len(digits) == 2 && number(digits) >= 1 && number(digits) <= 96 {
		r := reading{value: times(passive.Series(96)[number(digits)-1], power), code: "eia-96", says: "EIA-96"}
		r.tolerance, r.low, r.high = "±1 %", r.value*99/100, r.value*101/100
		if s.letter == 'H' {
			r.note = "H is 10 in EIA-96; one maker's data sheet uses it for 10⁷."
		}
		list = append(list, r)
	}
	if unusual {
		point()
	}
	if digits == "" || digits[0] == '0' {
		return list
	}
	switch len(digits) {
	case 3:
		add(reading{value: zeros(digits), code: "three-digit", says: zerosSay}, letter)
	case 4:
		add(reading{value: zeros(digits), code: "four-digit", says: "three digits and the number of zeros"}, letter)
	}
	if last := digits[len(digits)-1]; letter == "" && (len(digits) < 3 || last == '0') {
		list = append(list, reading{value: float64(number(digits)), code: "plain", says: plainSay})
	}
	return list
}

// capacitors gives the meanings of a mark on a capacitor, the customary first.
func capacitors(mark string) (list []reading) {
	add := func(r reading, letter string) {
		if r, ok := r.with(letter, true); ok {
			list = append(list, r)
		}
	}
	s, ok := take(mark)
	if !ok || number(s.before+s.after) == 0 {
		return nil
	}
	if volts := tantalVolts[string(s.letter)]; s.before == "" && len(s.after) == 3 && s.behind == "" && volts > 0 && s.after[2] >= '4' && s.after[2] <= '7' {
		return []reading{{value: zeros(s.after) * 1e-12, code: "three-digit", says: "volts of a tantalum, " + zerosSay + ", in picofarads", volts: volts}}
	}
	if volts, ok := ratedVolts(mark); ok {
		list = capacitors(mark[2:])
		for i := range list {
			list[i].volts = volts
		}
		return list
	}
	letter := ""
	if s.letter != 0 {
		letter = string(s.letter)
	}
	digits := s.before
	if len(digits) >= 3 && s.after == "" && s.behind == "" && letter == "m" {
		letter, s.letter = "M", 'M' // 20 % rather than 104 mF
	}
	switch power, known := faradLetters[s.letter]; {
	case letter == "R":
		add(reading{value: s.point(-12), code: "letter", says: "R for the point, in picofarads"}, s.behind)
		if s.before == "" {
			add(reading{value: s.point(-6), code: "letter", says: "R for the point, in microfarads, as on film"}, s.behind)
		}
		return list
	case known && letter != "F" && s.behind == "F":
		add(reading{value: s.point(power), code: "letter", says: "letter code"}, "")
		add(reading{value: s.point(power), code: "letter", says: "letter code with F for 1 %"}, "F")
		return list
	case known && (s.after != "" || !strings.Contains("FPN", letter) || letter != "F" && len(digits) < 3):
		add(reading{value: s.point(power), code: "letter", says: "letter code"}, s.behind)
		return list
	case s.after != "" || s.behind != "" || digits == "" || digits[0] == '0':
		return nil
	}
	switch len(digits) {
	case 1, 2:
		add(reading{value: times(number(digits), -12), code: "plain", says: "plain picofarads"}, letter)
	case 3:
		power := map[byte]int{'8': -2, '9': -1}[digits[2]]
		if power == 0 {
			power = int(digits[2] - '0')
		}
		r := reading{value: times(number(digits[:2]), power-12), code: "three-digit", says: zerosSay + ", in picofarads"}
		tantal := r
		tantal.volts = tantalVolts[letter]
		tantal.says += ", and the volts of a tantalum"
		if tantal.volts > 0 && power >= 5 && power <= 7 && strings.Contains("ABCDEV", letter) {
			list = append(list, tantal) // so narrow a tolerance is not made from a microfarad on
		} else if power <= 7 {
			add(r, letter)
			if tantal.volts > 0 && power >= 5 {
				list = append(list, tantal)
			}
		}
		if digits[2] == '0' {
			add(reading{value: times(number(digits), -12), code: "plain", says: "plain picofarads"}, letter)
		}
	case 4:
		if digits[3] == '0' {
			add(reading{value: times(number(digits), -12), code: "plain", says: "plain picofarads"}, letter)
		}
		if power := int(digits[3] - '0'); power < 7 {
			add(reading{value: times(number(digits[:3]), power-12), code: "four-digit", says: "three digits and the number of zeros, in picofarads"}, letter)
		}
	}
	if letter == "" && (len(digits) < 3 || digits[len(digits)-1] == '0') {
		add(reading{value: times(number(digits), -6), code: "can", says: "plain microfarads, as on the can of an electrolytic"}, "")
	}
	return list
}

// inductors gives the meanings of a mark on an inductor: as on capacitors, but in microhenries, with R for
// the point there and N for it in nanohenries.
func inductors(mark string) (list []reading) {
	add := func(r reading, letter string) {
		if r, ok := r.with(letter, false); ok {
			list = append(list, r)
		}
	}
	s, ok := take(mark)
	if !ok || number(s.before+s.after) == 0 {
		return nil
	}
	digits, letter := s.before, ""
	if s.letter != 0 {
		letter = string(s.letter)
	}
	point := map[rune]int{'R': -6, 'r': -6, 'u': -6, 'µ': -6, 'μ': -6, 'N': -9, 'n': -9, 'm': -3}
	if power, ok := point[s.letter]; ok && (s.after != "" || len(digits) < 3) {
		behind := s.behind
		if behind == "H" {
			behind = "" // the unit: 22nH
		}
		add(reading{value: s.point(power), code: "letter", says: "letter code"}, behind)
		return list
	}
	if s.after != "" || s.behind != "" || digits == "" || digits[0] == '0' {
		return nil
	}
	switch len(digits) {
	case 1, 2:
		add(reading{value: times(number(digits), -6), code: "plain", says: "plain microhenries"}, letter)
	case 3:
		add(reading{value: zeros(digits) * 1e-6, code: "three-digit", says: zerosSay + ", in microhenries"}, letter)
		if digits[2] == '0' && letter == "" {
			list = append(list, reading{value: times(number(digits), -6), code: "plain", says: "plain microhenries"})
		}
	}
	return list
}

// voltsLetters of EIA: times ten to the figure before them.
var voltsLetters = map[byte]float64{'A': 1, 'B': 1.25, 'C': 1.6, 'D': 2, 'E': 2.5, 'F': 3.15, 'V': 3.5, 'G': 4, 'W': 4.5, 'H': 5, 'J': 6.3, 'K': 8}

// tantalVolts are the letters for the rated volts on tantalum capacitors: 107C is 100 µF, 16 V. EIA-535, as
// tabulated by makers.
var tantalVolts = map[string]float64{"G": 4, "J": 6.3, "A": 10, "C": 16, "D": 20, "E": 25, "V": 35, "H": 50}

// ratedVolts reads the 2A of 2A104J.
func ratedVolts(mark string) (float64, bool) {
	if len(mark) < 5 || mark[0] < '0' || mark[0] > '3' {
		return 0, false
	}
	v, ok := voltsLetters[mark[1]]
	for i := 2; i < 5 && ok; i++ {
		ok = mark[i] >= '0' && mark[i] <= '9'
	}
	return v * [4]float64{1, 10, 100, 1000}[mark[0]-'0'], ok
}

// plainly reads a mark that is an amount with its unit, or with a decimal point.
func plainly(mark string, kind quantity.Kind) (list []reading) {
	mark = strings.NewReplacer("MMFD", "pF", "mmfd", "pF", "MFD", "µF", "mfd", "µF").Replace(mark)
	bare := strings.Trim(mark, "0123456789.,") == ""
	if bare && !strings.ContainsAny(mark, ".,") {
		return nil
	}
	v, err := quantity.Parse(kind, mark)
	if err != nil || v.Num <= 0 || v.Ranged() && v.Low < 0 {
		return nil
	}
	r := reading{value: v.Num, code: "plain", says: plainSay}
	if v.Ranged() {
		r.low, r.high, r.tolerance = v.Low, v.High, "as printed"
	}
	if kind != quantity.Capacitance || !bare {
		return []reading{r}
	}
	micro, pico := r, r
	micro.value, micro.says = v.Num*1e-6, "bare number, in microfarads"
	pico.value, pico.says = v.Num*1e-12, "bare number, in picofarads"
	if v.Num < 1 {
		return []reading{micro}
	}
	return []reading{pico, micro}
}

// same writes a resistance in the codes.
func same(ohms float64) (word, sentence string) {
	digits, decade, exact := passive.Apart(ohms)
	if !exact || decade < -3 || decade > 11 {
		return "none", "More than three digits, or out of the codes' reach."
	}
	list := []string{letterCode(digits, decade)}
	if digits%10 == 0 && decade >= 1 && decade <= 10 {
		list = append(list, quantity.Number(float64(digits/10))+quantity.Number(float64(decade-1)))
	}
	if decade >= 2 && decade <= 11 {
		list = append(list, quantity.Number(float64(digits))+quantity.Number(float64(decade-2)))
	}
	for i, v := range passive.Series(96) {
		if letters := "ZYXABCDEF"; v == digits && decade >= -1 && decade <= 7 {
			place := quantity.Number(float64(i + 1))
			if len(place) == 1 {
				place = "0" + place
			}
			list = append(list, place+letters[decade+1:decade+2])
		}
	}
	return strings.Join(list, "-"), strings.Join(list, ", ")
}

// letterCode writes 4K7 from 470 and 3.
func letterCode(digits, decade int) string {
	d := quantity.Number(float64(digits))
	if decade < 0 {
		return "R" + strings.Repeat("0", -decade-1) + strings.TrimRight(d, "0")
	}
	point := decade%3 + 1
	whole, rest := d[:point], strings.TrimRight(d[point:], "0")
	if rest == "" && point == 1 {
		rest = "0"
	}
	return whole + "RKMG"[decade/3:decade/3+1] + rest
}

// madeVolts are the volts for which capacitors are made, as they stand behind the code without
// their unit: 105K275, 104J 630.
var madeVolts = []float64{4, 6.3, 10, 16, 20, 25, 35, 50, 63, 75, 80, 100, 160, 200, 220, 250, 275, 300, 305, 310, 330, 350, 400, 440, 450, 500, 520, 600, 630, 700, 760, 800, 850, 900, 1000,
	1200, 1250, 1500, 1600, 2000, 2500, 3000, 3150, 4000, 6000}

// madeFor reads volts with or without their unit; bare digits must be volts for which parts are made.
func madeFor(word string) (float64, bool) {
	unit := strings.TrimLeft(word, "0123456789.,")
	if unit == word || unit != "" && !strings.ContainsAny(unit[:1], "Vv") {
		return 0, false
	}
	v, err := quantity.Parse(quantity.Voltage, word)
	return v.Num, err == nil && !v.Ranged() && v.Num > 0 && (unit != "" || slices.Contains(madeVolts, v.Num))
}

// printed is a mark taken apart at its blanks: the code itself, and what else stands on the part.
type printed struct {
	code, tolerance string
	volts           float64
	class           string // X1, X2, Y1, Y2
}

func takeApart(mark string, kind quantity.Kind) (p printed) {
	words := strings.Fields(mark)
	var rest []string
	for i, w := range words {
		upper := strings.ToUpper(w)
		v, isVolts := madeFor(w)
		switch {
		case upper == "X1" || upper == "X2" || upper == "X3" || upper == "Y1" || upper == "Y2" || upper == "Y4":
			p.class = upper
		case strings.HasSuffix(w, "%") && len(words) > 1:
			p.tolerance = strings.TrimLeft(w, "±+-/")
		case isVolts && len(words) > 1 && (i > 0 || strings.Trim(w, "0123456789.,") != ""):
			p.volts = v
		case strings.HasSuffix(upper, "W") && kind == quantity.Resistance && len(words) > 1 && strings.Trim(w[:len(w)-1], "0123456789./") == "":
			// the watts of a wire-wound resistor
		default:
			rest = append(rest, w)
		}
	}
	p.code = strings.Join(rest, " ")
	if len(rest) == 2 && len(rest[1]) == 1 && unicode.IsLetter(rune(rest[1][0])) && strings.ContainsAny(rest[0][len(rest[0])-1:], "0123456789") {
		p.code = rest[0] + rest[1] // 1n5 K: the tolerance stands apart
	}
	// 5W4R7J on a wire-wound resistor
	if i := strings.IndexByte(p.code, 'W'); kind == quantity.Resistance && i > 0 && i+1 < len(p.code) && strings.Trim(p.code[:i], "0123456789.") == "" && p.code[i+1] >= '0' && p.code[i+1] <= '9' {
		if rest := strings.TrimSpace(p.code[i+1:]); strings.Trim(rest, "0123456789") != "" || len(rest) > 2 {
			p.code = rest
		}
	}
	// 105K275, .47K400: a tolerance and the volts
	for i := 2; kind == quantity.Capacitance && i+2 < len(p.code); i++ {
		_, known := percents[strings.ToUpper(p.code[i:i+1])]
		if v, ok := madeFor(p.code[i+1:]); known && ok && p.code[i-1] >= '0' && p.code[i-1] <= '9' {
			p.code, p.volts = p.code[:i+1], v
		}
	}
	return p
}

// read gives every meaning of a mark; volts, watts and a safety class may stand beside it: 105K 330V X2.
func read(mark string, kind quantity.Kind) []reading {
	p := takeApart(strings.TrimSpace(mark), kind)
	list := plainly(p.code, kind)
	if s, ok := take(p.code); ok && (s.letter == 0 || unicode.IsLetter(s.letter)) {
		switch kind {
		case quantity.Resistance:
			list = resistors(p.code)
		case quantity.Inductance:
			list = inductors(p.code)
		default:
			list = capacitors(p.code)
		}
	}
	if len(list) == 0 && len(p.code) > 1 {
		// 0.22ΩJ, 2.2µFK, .47K on film: an amount and the letter of its tolerance
		end := len(p.code) - 1
		for _, r := range plainly(p.code[:end], kind) {
			if r, ok := r.with(p.code[end:], kind == quantity.Capacitance); ok && strings.Trim(p.code[:end], "0123456789") != "" {
				list = append(list, r)
			}
		}
	}
	if n := len(list) - 1; n > 0 && p.volts > 0 && p.volts <= 450 && list[n].code == "can" {
		list = append(list[n:], list[:n]...) // plain digits beside volts stand on the can of an electrolytic
	}
	for i := range list {
		if p.volts > 0 {
			list[i].volts = p.volts
		}
		if t, err := quantity.Parse(quantity.Percent, p.tolerance); p.tolerance != "" && err == nil && !t.Ranged() && t.Num > 0 && t.Num < 1 {
			list[i].tolerance = "±" + p.tolerance
			list[i].low, list[i].high = list[i].value*(1-t.Num), list[i].value*(1+t.Num)
		}
		if p.class != "" {
			list[i].note = "Class " + p.class + " protects: the new one must carry the same class, at no lower voltage."
		}
	}
	return list
}

func run(in calc.In, out *calc.Out) error {
	mark, kind, name, suffix := strings.ToValidUTF8(in.Word("mark"), "�"), quantity.Resistance, "resistance", ""
	switch in.Word("part") {
	case "capacitor":
		kind, name, suffix = quantity.Capacitance, "capacitance", "-capacitance"
	case "inductor":
		kind, name, suffix = quantity.Inductance, "inductance", "-inductance"
	}
	list := read(mark, kind)
	if len(list) == 0 {
		s, _ := take(mark)
		if _, eia := eiaPowers[s.letter]; eia && len(s.before) == 2 && kind == quantity.Resistance {
			return calc.Bad("mark", "“"+mark+"” is no mark: the places of EIA-96 run from 01 to 96")
		}
		says := "4K7, R47, 4E7, 103, 4702, 68C, 5W4R7J or 0"
		switch kind {
		case quantity.Inductance:
			says = "101K, 4R7, R47, 22N or 10 µH"
		case quantity.Capacitance:
			says = "104K, 105K275, 104J 630, 107C, 4n7, 4R7, 2A104J, 45 MFD or 0.1"
		}
		return calc.Bad("mark", "“"+mark+"” is in no code known here; marks look like "+says+", and a maker's own code needs its data sheet")
	}
	r := list[0]
	if r.value > 1e12 || kind != quantity.Resistance && r.value > 1e4 {
		return calc.Bad("mark", "“"+mark+"” would be "+quantity.Of(kind, r.value).Text()+", more than is made; read it again")
	}
	out.Set(name, r.value)
	out.Say("reading", r.code, strings.ToUpper(r.says[:1])+r.says[1:]+".")
	if r.tolerance != "" {
		out.Say("tolerance", r.tolerance, r.tolerance)
		out.Set("lowest"+suffix, r.low)
		out.Set("highest"+suffix, r.high)
	}
	if r.volts > 0 {
		out.Set("rated-volts", r.volts)
		out.Note("The voltage is DC, unless the part carries a safety class, ~ or AC.")
	}
	if r.note != "" {
		out.Note(r.note)
	}
	certain(out, kind, "other-"+name, list)
	switch {
	case r.code == "link":
		out.Note("A link of 0 Ω, unless it stands where the plan shows a fusible resistor.")
	case kind == quantity.Resistance:
		word, sentence := same(r.value)
		out.Say("same", word, sentence)
	}
	return nil
}

// certain says whether the mark has one meaning.
func certain(out *calc.Out, kind quantity.Kind, other string, list []reading) {
	text := func(r reading) string { return quantity.Of(kind, r.value).Text() + " as " + r.says }
	if alike := slices.IndexFunc(list, func(r reading) bool { return r.value != list[0].value }) < 0; alike && len(list) > 1 {
		says := "Yes, as " + list[0].says
		for _, r := range list[1:] {
			says += " and as " + r.says
			if r.tolerance != list[0].tolerance && r.tolerance != "" {
				says += ", then " + r.tolerance
			}
			if r.volts != list[0].volts && r.volts > 0 {
				says += ", then for " + quantity.Of(quantity.Voltage, r.volts).Text()
			}
		}
		out.Say("certain", "yes", says+".")
		return
	}
	says, differs := "No. "+text(list[0]), false
	for _, r := range list[1:] {
		if r.value != list[0].value || r.tolerance != list[0].tolerance {
			if !differs {
				out.Set(other, r.value)
			}
			says, differs = says+", or "+text(r), true
		}
	}
	if differs {
		out.Say("certain", "no", says+"; measure.")
		return
	}
	out.Say("certain", "yes", "Yes.")
}
