package calc

import (
	"errors"
	"math"
	"strings"
	"unicode/utf8"

	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

// In holds the inputs of one computation, by name: amounts in base units.
type In struct {
	of     *Calculator
	values map[string]quantity.Value
	whole  map[string]quantity.Value // as given, also while a corner is computed
	words  map[string]string
	rows   map[string][]reading.Reading // inputs that are readings
	limit  *string                      // an input that is no amount and was asked for one
	once   *any
	// written are the inputs that somebody entered; the others have their default
	written map[string]string
	slip    *string
}

// Once gives one costly intermediate result of these inputs, which the
// calculator's function and its plots share; work is done at the first call. An
// In is not for several goroutines at once.
func (in In) Once(work func() any) any {
	if *in.once == nil {
		*in.once = work()
	}
	return *in.once
}

// Num is the amount of an input in its kind's base unit (V, Ω, s, °C ...); 0
// for an optional input that was left out (ask Has first).
func (in In) Num(name string) float64 { return in.Value(name).Num }

// Value is the amount with its kind, for inputs that take several kinds.
func (in In) Value(name string) quantity.Value {
	v, ok := in.values[name]
	switch _, read := in.rows[name]; {
	case ok:
	case read:
		*in.limit = name
	default:
		in.miss(name, true)
	}
	return v
}

// Reading is what a meter shows for an input with Reading. If it is Bounded, it
// is an amount, which Num and Value give too, moved as tolerances move it.
func (in In) Reading(name string) reading.Reading {
	if row := in.Readings(name); len(row) > 0 {
		return row[0]
	}
	return reading.Reading{}
}

// Judge judges an input that is a reading. One that only lies above or below a
// limit is judged over all that it may be: where that differs the word is
// CannotTell, and the sentence says what to read instead. judge is given base
// units, and +Inf at the open end of a reading.
func (in In) Judge(name string, judge func(x float64) (word, sentence string)) (word, sentence string) {
	r := in.Reading(name)
	if r.Bounded() {
		return judge(in.Num(name))
	}
	low := math.Max(r.Low, -1e12)
	word, sentence = judge(r.High)
	if r.IsBelow() {
		word, sentence = judge(low)
	}
	for _, share := range []float64{0, .01, .1, .3, .5, .8, 1} {
		x := low + float64(share*(r.High-low))
		if r.IsAbove() { // by decades
			x = math.Max(math.Abs(low), 1e-3) * math.Pow(10, 12*share)
			if share == 0 {
				x = low
			}
		}
		if w, s := judge(x); w != word {
			return CannotTell, "Cannot tell: " + r.Ask() + " It may be: " + sentence + " Or: " + s
		}
	}
	return word, sentence
}

// Readings are the readings of an input with Row.
func (in In) Readings(name string) []reading.Reading {
	row, ok := in.rows[name]
	if !ok {
		in.miss(name, true)
	}
	return row
}

// Given tells whether somebody entered the input, so that a room can leave out what its defaults
// alone would say beside a question that was asked.
func (in In) Given(name string) bool {
	if _, known := in.of.Input(name); !known {
		in.miss(name, false)
	}
	return in.written[name] != ""
}

// Whole is the amount as it was given, with its range also while one corner of the ranges is
// computed: for what is chosen once and must do over the whole range, such as a resistor.
func (in In) Whole(name string) quantity.Value {
	v, ok := in.whole[name]
	if !ok {
		in.miss(name, true)
	}
	return v
}

// Word is the chosen word of an input with choices, or the text of one with Text.
func (in In) Word(name string) string {
	w, ok := in.words[name]
	if !ok {
		in.miss(name, false)
	}
	return w
}

// Has tells whether the input was given.
func (in In) Has(name string) bool {
	if _, ok := in.values[name]; ok {
		return true
	}
	if _, ok := in.words[name]; ok {
		return true
	}
	if _, ok := in.rows[name]; ok {
		return true
	}
	if _, known := in.of.Input(name); !known {
		in.miss(name, false)
	}
	return false
}

// miss notes the mistake of a room that asks for an input it has not, for an
// amount as a word, or for a reading that nobody took. compute makes an error of it:
// a wrong name never becomes a silent zero.
func (in In) miss(name string, amount bool) {
	d, ok := in.of.Input(name)
	switch {
	case !ok:
		note(in.slip, "asks for the input "+name+", which it has not")
	case amount != (d.Kind != ""):
		note(in.slip, "asks for the input "+name+" as what it is not")
	case d.Measured:
		note(in.slip, "uses "+name+" before it was measured")
	}
}

// With is a copy of the inputs with one amount changed, for plots that sweep it.
func (in In) With(name string, num float64) In {
	values := make(map[string]quantity.Value, len(in.values)+1)
	for k, v := range in.values {
		values[k] = v
	}
	v := values[name]
	if v.Kind == "" {
		d, ok := in.of.Input(name)
		if !ok || d.Kind == "" {
			note(in.slip, "moves the input "+name+", which is no amount of its")
			return in
		}
		v.Kind = d.Kind
	}
	v.Num, v.Low, v.High = num, num, num
	values[name] = v
	return In{of: in.of, values: values, whole: in.whole, words: in.words, rows: in.rows, limit: new(string), once: new(any), written: in.written, slip: in.slip}
}

// read turns settings into an In, checking names, amounts and limits.
func (c *Calculator) read(settings []Setting) (In, []Given, error) {
	in := In{of: c, values: map[string]quantity.Value{}, words: map[string]string{}, rows: map[string][]reading.Reading{}, limit: new(string), once: new(any), slip: new(string)}
	written := map[string]string{}
	for _, s := range settings {
		if _, ok := c.Input(s.Name); !ok {
			return in, nil, Bad(s.Name, c.Name+" has no input "+quoted(s.Name)+"; it has "+c.InputNames())
		}
		if _, twice := written[s.Name]; twice {
			return in, nil, Bad(s.Name, "the input "+s.Name+" is given twice; keep one")
		}
		written[s.Name] = s.Value
	}
	in.whole, in.written = in.values, written
	var given []Given
	for i := range c.Inputs {
		d := &c.Inputs[i]
		text, set := written[d.Name]
		text = strings.TrimSpace(text)
		g := Given{Name: d.Name, Written: text}
		if set && text == "" && !d.Optional {
			return in, nil, Bad(d.Name, d.empty())
		}
		if !set {
			text, g.Default, g.Written = d.Default, true, d.Default
		}
		if text == "" && !d.Optional && !d.Measured {
			return in, nil, Bad(d.Name, d.Label+" is needed")
		}
		if text != "" {
			if err := in.take(d, text, &g); err != nil {
				return in, nil, err
			}
		}
		given = append(given, g)
	}
	return in, given, nil
}

// take reads the text of one input, which is not empty, by the form that the input
// has, and notes in g what it was taken for.
func (in In) take(d *Input, text string, g *Given) error {
	switch {
	case len(d.Choices) > 0:
		word, err := d.choose(text)
		in.words[d.Name], g.Word = word, word
		return err
	case len(d.Text) > 0:
		if utf8.RuneCountInString(text) > longestText {
			return Bad(d.Name, d.Label+": "+quoted(text)+" is too long; write it like "+d.Text[0])
		}
		in.words[d.Name], g.Word = text, text
		return nil
	}
	var v quantity.Value
	var err error
	if d.Reading || d.Row {
		row, err := d.read(text)
		if err != nil {
			return err
		}
		in.rows[d.Name] = row
		if d.Row || !row[0].Bounded() {
			g.Word = text
			return nil
		}
		v = row[0].Value
	} else if v, err = quantity.ParseAny(append([]quantity.Kind{d.Kind}, d.Or...), text); err != nil {
		return Bad(d.Name, d.Label+": "+err.Error())
	}
	if v.Kind == d.Kind {
		if err := d.within(v); err != nil {
			return err
		}
	}
	in.values[d.Name], g.Value = v, v
	return nil
}

// noAmount is the sentence for a reading that nothing can be computed from.
func (d *Input) noAmount(r reading.Reading) string {
	shown := "the meter says " + r.Says()
	if r.Shows == reading.Over && !r.Stated {
		shown = "the meter shows OL, more than its range holds"
	}
	if r.IsAbove() && d.Open != "" {
		return d.Label + ": " + shown + ": " + d.Open
	}
	return d.Label + ": " + shown + ", and this needs an amount; read it on a range that shows a figure"
}

// read takes what a meter shows.
func (d *Input) read(text string) (row []reading.Reading, err error) {
	kinds := append([]quantity.Kind{d.Kind}, d.Or...)
	if utf8.RuneCountInString(text) > longestText {
		return nil, Bad(d.Name, d.Label+": "+quoted(text)+" is too long")
	}
	if d.Row {
		row, err = reading.ParseRow(kinds, text, d.Meter)
	} else {
		row = make([]reading.Reading, 1)
		row[0], err = reading.ParseAny(kinds, text, d.Meter)
	}
	if err == nil {
		return row, nil
	}
	bad := &InputError{Input: d.Name, Says: d.Label + ": " + err.Error()}
	if two := (*reading.Ambiguous)(nil); errors.As(err, &two) {
		bad.Means = two.Means
	}
	return nil, bad
}

// empty is the sentence for an input that is written and holds nothing.
func (d *Input) empty() string {
	like := d.Default
	switch {
	case d.Measured:
		like = d.Like
	case len(d.Choices) > 0:
		return d.Label + " is left empty; choose one, such as " + d.Default
	}
	if like == "" && len(d.Text) > 0 {
		like = d.Text[0]
	}
	if d.Measured {
		return d.Label + " is left empty; measure it, then write it like " + like
	}
	return d.Label + " is left empty; write it like " + like
}

// longestText of a text input: a row of colours, a marking or six readings fit.
const longestText = 120

func (d *Input) choose(text string) (string, error) {
	for _, ch := range d.Choices {
		if strings.EqualFold(text, ch.Name) || strings.EqualFold(text, ch.Label) {
			return ch.Name, nil
		}
	}
	var names []string
	for _, ch := range d.Choices {
		names = append(names, ch.Name)
	}
	return "", Bad(d.Name, d.Label+": "+quoted(text)+" is none of "+strings.Join(names, ", "))
}

func (d *Input) within(v quantity.Value) error {
	low, high := math.Inf(-1), math.Inf(1)
	if d.Low != "" {
		if l, err := quantity.Parse(d.Kind, d.Low); err == nil {
			low = l.Num
		}
	}
	if d.High != "" {
		if h, err := quantity.Parse(d.Kind, d.High); err == nil {
			high = h.Num
		}
	}
	if v.Low >= low && v.High <= high {
		return nil
	}
	text := v.Text()
	if base := v.Kind.Unit(); v.Unit == "" && (base == "F" || base == "H") && v.Low == v.High {
		text += " (a number without its unit is taken in " + base + ")"
	}
	switch {
	case d.Low != "" && d.High != "":
		return Bad(d.Name, d.Label+": "+text+" is outside "+d.Low+" to "+d.High)
	case v.Low < low:
		return Bad(d.Name, d.Label+": "+text+" is below the lowest possible, "+d.Low)
	}
	return Bad(d.Name, d.Label+": "+text+" is above the highest possible, "+d.High)
}

func quoted(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return "“" + s + "”"
}
