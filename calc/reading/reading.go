package reading

import (
	"errors"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultleaf/calc/quantity"
)

// Shows is the way in which a meter, or the person at it, states a reading.
type Shows string

const (
	Amount Shows = "amount"  // a number, perhaps with a tolerance or as a range
	Over   Shows = "over"    // OL: above what the meter can show
	Tone   Shows = "tone"    // a beep: below what lets the meter beep
	Silent Shows = "no-tone" // no beep: not below what lets it beep
	Above  Shows = "above"   // "> 20 MΩ"
	Below  Shows = "below"   // "< 0.1 Ω"
)

// Reading is what a display proves: the amount lies between Low and High, in the
// kind's base unit. Low is -Inf and High +Inf where nothing bounds it.
type Reading struct {
	Kind      quantity.Kind
	Shows     Shows
	Low, High float64
	// Value is the amount as written, if Shows is Amount.
	Value quantity.Value
	// Stated tells of OL and of a tone whether the limit is that of the meter or
	// its range; otherwise it is the most careful one.
	Stated bool
	// error of the meter, a fraction of the reading
	error float64
}

// Meter is what is known of the instrument; the zero Meter is any meter.
type Meter struct {
	// Over is the least amount, in the kind's base unit, above which the meter
	// may show OL: the end of the range that it chooses by itself, or the end of
	// its lowest range where the hand chooses. 0 is unknown.
	Over float64 `json:"over,omitempty"`
	// Tone is the resistance in ohms below which it may beep; 0 is unknown.
	Tone float64 `json:"tone,omitempty"`
	// Error is the meter's error as a fraction of the reading; 0 is unknown.
	Error float64 `json:"error,omitempty"`
	// Diode says that it stands on its diode range: volts of a junction, where
	// "open", a beep and a lone 1 are said as they are of ohms.
	Diode bool `json:"diode,omitempty"`
}

// What a meter of which nothing is known may do, chosen so that no reading
// claims more than it proves. Common practice, no source.
var (
	leastOver = map[quantity.Kind]float64{ // end of the lowest range that hand-ranged meters have
		quantity.Resistance:  200,
		quantity.Voltage:     0.2,
		quantity.Current:     200e-6,
		quantity.Capacitance: 2e-9,
		quantity.Inductance:  2e-3,
		quantity.Frequency:   2000,
	}
	leastDiode = 1.0   // V: the diode range ends here at the lowest
	mostTone   = 250.0 // Ω: no continuity range beeps above
	leastTone  = 10.0  // Ω: every continuity range beeps below
	benchError = 0.01  // a plain bench meter
)

// Ambiguous is the error of a display that can be read in two ways; whoever asks
// for readings turns it into a question with these answers.
type Ambiguous struct {
	Typed string
	Means []string // each can be parsed without doubt
}

func (a *Ambiguous) Error() string {
	return quote(a.Typed) + " can be read in two ways: many meters show a lone 1 where their range is exceeded. Write " + strings.Join(a.Means, " or ")
}

// Parse reads what a meter shows for an amount of the kind:
//
//	26   25.9 Ω   4k7   12–14 V   25 Ω ± 5 %
//	OL   0L   O.L   1 .   ∞   inf   open   over   OL MΩ   OL on 200 Ω   OL (20 kΩ range)
//	> 20 MΩ   ≥ 20M   above 20 MΩ   20 MΩ or more   < 0.1 Ω   below 0.1 Ω   0.1 Ω or less
//	beep   tone   no beep   beep below 30 Ω
//
// in any case and spacing. The error is one sentence; it is an *Ambiguous for a
// display such as "1." that two meanings fit.
func Parse(kind quantity.Kind, text string, m Meter) (Reading, error) {
	s := strings.TrimSpace(tidy.Replace(strings.ToValidUTF8(text, "�")))
	if len(s) > 80 {
		return Reading{}, errors.New(quote(text) + " is too long for a reading")
	}
	r := Reading{Kind: kind, Low: math.Inf(-1), High: math.Inf(1), error: m.Error}
	if !(m.Error > 0 && m.Error < 1) {
		r.error = benchError
	}
	if nonNegative(kind) {
		r.Low = 0
	}
	if err, lone := loneOne(kind, s, m); lone {
		if err != nil {
			return Reading{}, err
		}
		return r.over(m, "", text)
	}
	amount, side := bound(s)
	if side != "" {
		if got, err := r.bounded(side, amount, text); err == nil || along(s, "over") < 0 {
			return got, err // but "over the 200 Ω range" is a display
		}
	}
	if rest, ok := word(s, overWords); ok && (along(s, "open") < 0 || ohmic(kind, m)) {
		return r.over(m, rest, text)
	}
	if got, ok, err := r.tone(m, s, text); ok {
		return got, err
	}
	v, err := quantity.Parse(kind, s)
	if err != nil {
		return Reading{}, err
	}
	if err := possible(v, text); err != nil {
		return Reading{}, err
	}
	r.Shows, r.Value, r.Low, r.High = Amount, v, v.Low, v.High
	return r, nil
}

var tidy = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "\u2212", "-", "_", " ", "\u03c9", "Ω", "\u2126", "Ω", "\t", " ")

// Words for a range that is exceeded. Dots and blanks within them do not count.
var overWords = []string{"overload", "overrange", "over the range", "out of range", "infinite", "infinity", "open circuit", "open", "over", "ofl", "o/l", "0/l", "ol", "0l", "inf", "∞", "oo", "---", "----"}

var (
	toneWords   = []string{"continuity tone", "continuity beep", "it beeps", "beeping", "beeps", "beep", "tone", "buzzes", "buzzer", "buzz"}
	silentWords = []string{"does not beep", "doesn't beep", "no continuity tone", "no beep", "no tone", "no buzz", "silent"}
)

// word cuts one of the words off the front of the text, whatever the case and
// with blanks and dots anywhere. What remains must begin anew.
func word(s string, words []string) (rest string, ok bool) {
	best := -1
	for _, w := range words {
		if end := along(s, w); end > best {
			best = end
		}
	}
	if best < 0 {
		return "", false
	}
	return strings.TrimLeft(s[best:], " .:,"), true
}

// along is where the word ends in the text, -1 where the text does not begin
// with it.
func along(s, word string) int {
	want := []rune(strings.ReplaceAll(word, " ", ""))
	i, at := 0, 0
	for i < len(want) {
		if at >= len(s) {
			return -1
		}
		r, n := utf8.DecodeRuneInString(s[at:])
		at += n
		if r == ' ' || r == '.' {
			continue
		}
		if unicode.ToLower(r) != want[i] {
			return -1
		}
		i++
	}
	return at
}

// ohmic tells whether the reading is one of a path for current, which alone can
// be "open" or beep.
func ohmic(kind quantity.Kind, m Meter) bool { return kind == quantity.Resistance || m.Diode }

// loneOne tells a display of nothing but a 1: with a gap before the point the
// range is exceeded, without one it may be an amount too.
func loneOne(kind quantity.Kind, s string, m Meter) (error, bool) {
	if _, ranged := leastOver[kind]; !ranged {
		return nil, false
	}
	rest, ok := strings.CutPrefix(s, "1")
	if !ok {
		return nil, false
	}
	gap := strings.HasPrefix(rest, " ")
	rest = strings.TrimLeft(rest, " ")
	unit, point := strings.CutPrefix(rest, ".")
	unit = strings.TrimSpace(unit)
	if unit != "" && !isUnit(kind, unit) {
		return nil, false
	}
	switch {
	case point && gap:
		return nil, true
	case point, unit == "" && ohmic(kind, m):
		if unit == "" {
			unit = kind.Unit()
		}
		return &Ambiguous{s, []string{"OL", "1.0 " + unit}}, true
	}
	return nil, false
}

func isUnit(kind quantity.Kind, text string) bool {
	_, err := quantity.Parse(kind, "1 "+text)
	return err == nil && !strings.ContainsAny(text, "0123456789")
}

// over makes the reading of a display that its range is exceeded. The rest of
// the text may be a unit or name the range.
func (r Reading) over(m Meter, rest, text string) (Reading, error) {
	r.Shows, r.Stated = Over, m.Over > 0
	limit, ranged := leastOver[r.Kind]
	if !ranged {
		return r, errors.New(quote(text) + " says nothing of a " + string(r.Kind) + "; where the meter shows no figure, its sensor or lead may be open")
	}
	if m.Diode {
		limit = leastDiode
	}
	if m.Over > 0 {
		limit = m.Over
	}
	if rest != "" && !isUnit(r.Kind, rest) {
		end, err := quantity.Parse(r.Kind, rangeOf(rest))
		if err != nil || !(end.Low > 0) {
			return r, errors.New(quote(text) + " is no reading; write OL, or with the range it was on, like OL on " + quantity.Of(r.Kind, limit).Text())
		}
		limit, r.Stated = end.Low, true
	}
	r.Low = math.Nextafter(limit, math.Inf(1))
	return r, nil
}

// rangeOf finds the range's end in "on the 200 Ω range" and the like.
func rangeOf(s string) string {
	s = strings.Trim(s, " ()[],;")
	for _, w := range []string{"on", "in", "at", "@", "above", "of", "the", ">"} {
		if rest, ok := cutFold(s, w); ok {
			s = rest
		}
	}
	for _, w := range []string{"range", "scale"} {
		if n := len(s) - len(w); n > 0 && strings.EqualFold(s[n:], w) {
			s = strings.TrimSpace(s[:n])
		}
	}
	return s
}

// cutFold cuts a word off the front whatever its case; a word must end there.
func cutFold(s, word string) (string, bool) {
	if len(s) <= len(word) || !strings.EqualFold(s[:len(word)], word) {
		return s, false
	}
	last, _ := utf8.DecodeLastRuneInString(word)
	next, _ := utf8.DecodeRuneInString(s[len(word):])
	if unicode.IsLetter(last) && unicode.IsLetter(next) {
		return s, false
	}
	return strings.TrimSpace(s[len(word):]), true
}

// tone reads what a continuity range says by ear.
func (r Reading) tone(m Meter, s, text string) (Reading, bool, error) {
	rest, silent := word(s, silentWords)
	beeps := false
	if !silent {
		if rest, beeps = word(s, toneWords); !beeps {
			return r, false, nil
		}
	}
	if r.Kind != quantity.Resistance && !m.Diode {
		return r, true, errors.New(quote(text) + " is said of ohms, but a " + string(r.Kind) + " is asked for")
	}
	limit, least := mostTone, leastTone
	if m.Tone > 0 {
		limit, least, r.Stated = m.Tone, m.Tone, true
	}
	if rest = strings.Trim(rest, " .()"); rest != "" {
		amount, side := bound(rest)
		if side == "" {
			amount = rangeOf(rest)
		}
		v, err := quantity.Parse(quantity.Resistance, amount)
		if err != nil || !(v.High > 0) {
			return r, true, errors.New(quote(text) + " is no reading; write beep, or with the ohms below which the meter beeps, like beep below 30 Ω")
		}
		limit, least, r.Stated = v.High, v.Low, true
	}
	if m.Diode { // the beep of a diode range tells of ohms; as volts it is next to nothing
		limit, least = 0.1, 0.01
	}
	if silent {
		r.Shows, r.Low = Silent, least
	} else {
		r.Shows, r.Low, r.High = Tone, 0, limit
	}
	return r, true, nil
}

// Signs and words of a limit, the longer before those they begin with.
var (
	aboveSigns = []string{">=", "=>", "≥", "⩾", ">", "above", "over", "more than", "greater than", "higher than", "at least"}
	belowSigns = []string{"<=", "=<", "≤", "⩽", "<", "below", "under", "less than", "lower than", "at most"}
	aboveEnds  = []string{"or more", "or higher", "or above", "and more", "and above"}
	belowEnds  = []string{"or less", "or lower", "or below", "or under"}
)

// bound parts "> 20 MΩ" into its amount and its side, "" for none.
func bound(s string) (amount string, side Shows) {
	for _, l := range []struct {
		signs, ends []string
		side        Shows
	}{{aboveSigns, aboveEnds, Above}, {belowSigns, belowEnds, Below}} {
		for _, sign := range l.signs {
			if rest, ok := cutFold(s, sign); ok {
				return rest, l.side
			}
		}
		for _, end := range l.ends {
			if n := len(s) - len(end); n > 0 && strings.EqualFold(s[n:], end) {
				return strings.TrimSpace(s[:n]), l.side
			}
		}
	}
	return s, ""
}

func (r Reading) bounded(side Shows, amount, text string) (Reading, error) {
	v, err := quantity.Parse(r.Kind, amount)
	if err != nil {
		return r, err
	}
	if err := possible(v, text); err != nil {
		return r, err
	}
	r.Shows, r.Stated = side, true
	if side == Above {
		r.Low = math.Nextafter(v.Low, math.Inf(1))
		return r, nil
	}
	if r.High = v.High; r.High <= r.Low {
		return r, errors.New(quote(text) + " is less than nothing; write what the meter shows")
	}
	return r, nil
}

// nonNegative kinds know no amount below zero.
func nonNegative(k quantity.Kind) bool {
	switch k {
	case quantity.Resistance, quantity.Capacitance, quantity.Inductance, quantity.Duration, quantity.Frequency, quantity.Speed,
		quantity.Length, quantity.Area, quantity.Years, quantity.Count, quantity.Melting, quantity.ThermalRes, quantity.LineRes, quantity.Energy:
		return true
	}
	return false
}

// possible refuses an amount that no part can have.
func possible(v quantity.Value, text string) error {
	switch {
	case v.Kind == quantity.Resistance && v.Low < 0:
		return errors.New(quote(text) + " is less than no resistance: the part is charged or fed from elsewhere, or the leads were taken off twice. Discharge it and read again")
	case nonNegative(v.Kind) && v.Low < 0:
		return errors.New(quote(text) + " is below zero, and a " + string(v.Kind) + " is not; read again")
	case v.Kind == quantity.Temperature && v.Low < -273.15:
		return errors.New(quote(text) + " is below absolute zero; look whether the sensor or its lead is open")
	case math.Max(math.Abs(v.Low), math.Abs(v.High)) > 1e15:
		return errors.New(quote(text) + " is more than any meter shows; write OL where the range is exceeded")
	}
	return nil
}

func quote(s string) string {
	s = strings.TrimSpace(strings.ToValidUTF8(s, "�"))
	if utf8.RuneCountInString(s) > 40 {
		s = string([]rune(s)[:40]) + "…"
	}
	return "“" + s + "”"
}

// Bounded tells whether the reading is an amount, so that it can be computed with.
func (r Reading) Bounded() bool { return r.Shows == Amount }

// IsAbove and IsBelow tell of a reading that only says on which side of a limit
// the amount lies; Limit is that limit in the base unit.
func (r Reading) IsAbove() bool { return r.Shows == Over || r.Shows == Above || r.Shows == Silent }
func (r Reading) IsBelow() bool { return r.Shows == Tone || r.Shows == Below }

// Limit of a reading that is only above or below something; of an amount its number.
func (r Reading) Limit() float64 {
	switch {
	case r.IsAbove():
		return quantity.Round(r.Low, 12)
	case r.IsBelow():
		return r.High
	}
	return r.Value.Num
}

// Says prints what the reading proves: "above 20 MΩ", "below 250 Ω", "25.9 Ω".
func (r Reading) Says() string {
	switch {
	case r.IsAbove():
		return "above " + quantity.Of(r.Kind, r.Limit()).Text()
	case r.IsBelow():
		return "below " + quantity.Of(r.Kind, r.Limit()).Text()
	}
	return r.Value.Text()
}

// Ask is what to do where the reading does not settle its band, one sentence; ""
// for an amount.
func (r Reading) Ask() string {
	limit := quantity.Of(r.Kind, r.Limit()).Text()
	switch {
	case r.Shows == Over && r.Stated:
		return "OL there proves no more than " + r.Says() + ": read it on a higher range."
	case r.Shows == Over:
		return "OL proves no more than " + r.Says() + " while the meter's range is not known: write it with the range, like OL on " + higher(r.Kind) + ", or choose a higher one."
	case r.Shows == Tone && r.Stated, r.Shows == Silent && r.Stated:
		return "A meter that beeps below " + limit + " cannot tell: read the ohms."
	case r.Shows == Tone, r.Shows == Silent:
		return "Some meters beep up to " + quantity.Of(quantity.Resistance, mostTone).Text() + ", some only below " + quantity.Of(quantity.Resistance, leastTone).Text() + ": read the ohms."
	case r.Shows == Above, r.Shows == Below:
		return "“" + r.Says() + "” reaches over more than one band: read the amount, on a range that shows it."
	}
	return ""
}

// higher is a range to name in an example.
func higher(k quantity.Kind) string {
	if k == quantity.Resistance {
		return "20 MΩ"
	}
	return quantity.Of(k, 1000*leastOver[k]).Text()
}
