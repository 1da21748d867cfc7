package calc

import (
	"errors"
	"math"
	"strings"
	"unicode"
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

// note keeps the first slip.
func note(slip *string, says string) {
	if *slip == "" {
		*slip = says
	}
}

// A Slip is a mistake of a room, not of who uses it.
type Slip struct{ Calculator, Says string }

func (e *Slip) Error() string {
	return "the calculator " + e.Calculator + " " + e.Says + "; that is a mistake in faultleaf, please report it"
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

// Out collects the outputs of one computation.
type Out struct {
	of     *Calculator
	slip   *string
	values map[string]quantity.Value
	words  map[string]string
	says   map[string]string
	notes  []string
}

// Set gives an output its amount in base units.
func (o *Out) Set(name string, num float64) {
	o.knows(name, true)
	o.values[name] = quantity.Value{Num: num, Low: num, High: num}
}

// SetRange gives an output a range in base units; its number is the middle.
func (o *Out) SetRange(name string, low, high float64) {
	o.knows(name, true)
	o.values[name] = quantity.Between("", low, high)
}

// Say gives a word output its word (a short name such as "not-equal", stable
// for programs) and the sentence for people.
func (o *Out) Say(name, word, sentence string) {
	o.knows(name, false)
	o.words[name], o.says[name] = word, sentence
}

// Note adds a warning or remark that belongs to this result, one sentence.
func (o *Out) Note(sentence string) { o.notes = append(o.notes, sentence) }

// Num is an output set earlier in the same computation.
func (o *Out) Num(name string) float64 {
	v, ok := o.values[name]
	if !ok {
		note(o.slip, "uses the output "+name+" before it was computed")
	}
	return v.Num
}

// knows notes the mistake of a room that fills an output which it has not, or a
// word as an amount.
func (o *Out) knows(name string, amount bool) {
	if d, ok := o.of.Output(name); !ok {
		note(o.slip, "fills the output "+name+", which it has not")
	} else if amount != (d.Kind != "") {
		note(o.slip, "fills the output "+name+" with what it is not")
	}
}

// CannotTell is the word of an output that differs within the tolerance of the
// inputs.
const CannotTell = "cannot-tell"

// Asks is the word of a verdict that waits for what nobody entered yet.
const Asks = "asks"

// Result is one finished computation.
type Result struct {
	Calculator *Calculator
	Inputs     []Given
	Outputs    []Computed
	Notes      []string
	// Example says that nothing was entered: all inputs are the calculator's own.
	Example bool
	in      In
}

// Given is one input as it was used.
type Given struct {
	Name    string
	Written string // as people wrote it, or the default
	Value   quantity.Value
	Word    string // of a choice
	Default bool   // it was not given
}

// Computed is one output.
type Computed struct {
	Name  string
	Value quantity.Value // Kind "" for a word
	Word  string
	Text  string // as printed: amount with unit, or the sentence
}

// Output finds a computed output by name.
func (r Result) Output(name string) (Computed, bool) {
	for _, c := range r.Outputs {
		if c.Name == name {
			return c, true
		}
	}
	return Computed{}, false
}

// Onward gives the addresses of the calculators that ask for what this result
// gives, filled in; in the order of Calculator.Onward.
func (r Result) Onward() []Link {
	var links []Link
	for _, o := range r.Calculator.Onward {
		l := Link{Calculator: o.Calculator}
		for _, t := range o.Takes {
			text := ""
			if got, ok := r.Output(t.From); ok {
				text = got.Text
				if got.Value.Kind != "" {
					text = got.Value.Text() // as it is read anywhere
				}
			}
			for _, g := range r.Inputs {
				if g.Name == t.From {
					text = g.Written
				}
			}
			if text != "" {
				l.Inputs = append(l.Inputs, Setting{t.To, text})
			}
		}
		links = append(links, l)
	}
	return links
}

// In gives the inputs, for the plots.
func (r Result) In() In { return r.in }

// Run reads the inputs as people write them and computes. Inputs that are not
// given take their default; an input that is written and left empty is an error
// unless it is optional. A reading that is missing, or nothing entered at all, gives no
// verdict but a sentence that asks. Errors are *InputError where one input is at fault.
func (c *Calculator) Run(settings []Setting) (Result, error) {
	in, given, err := c.read(settings)
	if err != nil {
		return Result{}, err
	}
	middle, err := c.compute(in)
	if err != nil {
		return Result{}, err
	}
	if err := c.spread(in, &middle); err != nil {
		return Result{}, err
	}
	r := Result{Calculator: c, Inputs: given, in: in, Example: len(settings) == 0}
	c.ask(in, r.Example, &middle)
	for _, n := range middle.notes {
		r.Notes = append(r.Notes, c.style.Says(n))
	}
	currency := ""
	for _, g := range given {
		if (g.Value.Kind == quantity.Money || g.Value.Kind == quantity.MoneyPerHour) && g.Value.Unit != "" {
			if currency != "" && !sameCurrency(currency, g.Value.Unit) {
				return Result{}, Bad(g.Name, "the sums are in two currencies, "+currency+" and "+g.Value.Unit+"; write all in one")
			}
			if currency == "" {
				currency = g.Value.Unit
			}
		}
	}
	if currency == "" {
		currency = c.currency
	}
	for _, o := range c.Outputs {
		if o.Kind == "" {
			if word, ok := middle.words[o.Name]; ok {
				r.Outputs = append(r.Outputs, Computed{Name: o.Name, Word: word, Text: c.style.Says(middle.says[o.Name])})
			}
			continue
		}
		v, ok := middle.values[o.Name]
		if !ok {
			continue // an output that makes no sense for these inputs
		}
		v.Kind, v.Unit, v.Limit, v.Digits = o.Kind, o.Unit, o.Limit, o.Digits
		v = v.Binding()
		if o.Kind == quantity.Money || o.Kind == quantity.MoneyPerHour {
			v.Unit = currency
		}
		v = v.Rounded()
		r.Outputs = append(r.Outputs, Computed{Name: o.Name, Value: v, Text: c.style.Says(v.Text())})
	}
	return r, nil
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
		if text == "" {
			if !d.Optional && !d.Measured {
				return in, nil, Bad(d.Name, d.Label+" is needed")
			}
			given = append(given, g)
			continue
		}
		if len(d.Choices) > 0 {
			word, err := d.choose(text)
			if err != nil {
				return in, nil, err
			}
			in.words[d.Name], g.Word = word, word
			given = append(given, g)
			continue
		}
		if len(d.Text) > 0 {
			if utf8.RuneCountInString(text) > longestText {
				return in, nil, Bad(d.Name, d.Label+": "+quoted(text)+" is too long; write it like "+d.Text[0])
			}
			in.words[d.Name], g.Word = text, text
			given = append(given, g)
			continue
		}
		if d.Reading || d.Row {
			row, err := d.read(text)
			if err != nil {
				return in, nil, err
			}
			in.rows[d.Name] = row
			if d.Row || !row[0].Bounded() {
				g.Word = text
				given = append(given, g)
				continue
			}
		}
		v, err := quantity.ParseAny(append([]quantity.Kind{d.Kind}, d.Or...), text)
		if len(in.rows[d.Name]) > 0 {
			v, err = in.rows[d.Name][0].Value, nil
		}
		if err != nil {
			return in, nil, Bad(d.Name, d.Label+": "+err.Error())
		}
		if v.Kind == d.Kind {
			if err := d.within(v); err != nil {
				return in, nil, err
			}
		}
		in.values[d.Name], g.Value = v, v
		given = append(given, g)
	}
	return in, given, nil
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

// ask puts a sentence in the place of a verdict that would rest on nothing: on a
// reading that is missing, or on the calculator's own example.
func (c *Calculator) ask(in In, example bool, out *Out) {
	missing := c.missing(in)
	amounts := false
	for _, d := range c.Inputs {
		amounts = amounts || len(d.Choices) == 0 && d.Default != ""
	}
	o, ok := c.verdict()
	switch {
	case len(missing) > 0:
		says := "Nothing is judged yet. Enter: " + strings.Join(missing, "; ") + "."
		if !ok {
			out.Note(says)
			return
		}
		out.Say(o.Name, Asks, says)
	case example && amounts && ok && out.words[o.Name] != "":
		out.Say(o.Name, Asks, "Nothing is judged yet: these inputs are an example. Enter your own.")
	}
}

// missing are the labels of the readings that nobody entered.
func (c *Calculator) missing(in In) []string {
	var labels []string
	for _, d := range c.Inputs {
		if d.Measured && !d.Optional && !in.Has(d.Name) {
			labels = append(labels, lowerFirst(d.Label))
		}
	}
	return labels
}

// verdict is the word output that judges: the one of that name, else the first
// main one that is no amount.
func (c *Calculator) verdict() (*Output, bool) {
	if o, ok := c.Output("verdict"); ok && o.Kind == "" {
		return o, true
	}
	for i := range c.Outputs {
		if o := &c.Outputs[i]; o.Main && o.Kind == "" {
			return o, true
		}
	}
	return nil, false
}

// lowerFirst is a label inside a sentence; initials keep their capital.
func lowerFirst(s string) string {
	r := []rune(s)
	if len(r) > 1 && unicode.IsUpper(r[0]) && unicode.IsLower(r[1]) {
		r[0] = unicode.ToLower(r[0])
	}
	return string(r)
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

// compute runs the function once and refuses what is no number.
func (c *Calculator) compute(in In) (Out, error) {
	out := Out{of: c, slip: in.slip, values: map[string]quantity.Value{}, words: map[string]string{}, says: map[string]string{}}
	err := c.Compute(in, &out)
	if bad, ok := err.(*InputError); ok && bad.Input != "" {
		if _, known := c.Input(bad.Input); !known {
			note(in.slip, "complains of the input "+bad.Input+", which it has not")
		}
	}
	if *in.slip != "" {
		return out, &Slip{c.Name, *in.slip}
	}
	if name := *in.limit; name != "" {
		if d, ok := c.Input(name); ok {
			return out, Bad(name, d.noAmount(in.Reading(name)))
		}
	}
	if err != nil {
		return out, err
	}
	for _, o := range c.Outputs {
		if v, ok := out.values[o.Name]; ok && !v.Finite() {
			return out, &InputError{Says: "these inputs together give no finite " + strings.ToLower(o.Label) + "; check them for a slip of a prefix"}
		}
	}
	return out, nil
}

// ranged lists the inputs that carry a range, one group for each that moves on its own: those
// of a pair are in one group where both were written as two ends.
func (c *Calculator) ranged(in In) (groups [][]string) {
	group := map[string]int{}
	for _, d := range c.Inputs {
		v, ok := in.values[d.Name]
		if !ok || v.Low == v.High {
			continue
		}
		at := len(groups)
		for _, p := range c.Pairs {
			for n, name := range p {
				other := p[1-n]
				if g, known := group[other]; known && name == d.Name && v.Span && in.values[other].Span {
					at = g
				}
			}
		}
		if at == len(groups) {
			groups = append(groups, nil)
		}
		group[d.Name], groups[at] = at, append(groups[at], d.Name)
	}
	return groups
}

// spread computes the corners (and, for up to four inputs, the middles of the
// edges) of the inputs' ranges and widens each output to hold all of them.
func (c *Calculator) spread(in In, middle *Out) error {
	ranged := c.ranged(in)
	if len(ranged) == 0 {
		return nil
	}
	if len(ranged) > 8 {
		return &InputError{Input: ranged[8][0], Says: "at most eight inputs may carry a tolerance at once"}
	}
	points := 2
	if len(ranged) <= 4 {
		points = 3
	}
	total := 1
	for range ranged {
		total *= points
	}
	says := map[string][]string{} // of each word, at the corners that agree on it
	for n := 0; n < total; n++ {
		at := in
		for i, k := 0, n; i < len(ranged); i, k = i+1, k/points {
			for _, name := range ranged[i] {
				v := in.values[name]
				at = at.With(name, [3]float64{v.Low, v.High, v.Num}[k%points])
			}
		}
		out, err := c.compute(at)
		if err != nil {
			return err
		}
		for name, v := range out.values {
			m, ok := middle.values[name]
			if !ok {
				continue
			}
			m.Low, m.High = math.Min(m.Low, v.Low), math.Max(m.High, v.High)
			middle.values[name] = m
		}
		for name, word := range out.words {
			w, ok := middle.words[name]
			switch {
			case ok && w == word:
				says[name] = append(says[name], out.says[name])
			case ok && w != CannotTell:
				middle.says[name] = "Cannot tell: within the tolerance of the inputs it may be either. " +
					middle.says[name] + " Or: " + out.says[name]
				middle.words[name] = CannotTell
			}
		}
	}
	for name, word := range middle.words {
		if word != CannotTell {
			middle.says[name] = over(middle.says[name], says[name])
		}
	}
	return nil
}

// Draw makes one plot of the calculator as SVG, under an id that is the same on
// the published page and in the browser. There is none while a reading is missing.
func (c *Calculator) Draw(p Plot, in In) (string, error) {
	if missing := c.missing(in); len(missing) > 0 {
		return "", &InputError{Says: "a picture needs: " + strings.Join(missing, "; ")}
	}
	slip := new(string)
	in.slip = slip
	chart, err := p.Chart(in)
	if *slip != "" {
		return "", &Slip{c.Name, *slip}
	}
	if err == nil && *in.limit != "" {
		err = errors.New("there is nothing to draw without an amount for " + *in.limit)
	}
	if err != nil {
		return "", err
	}
	if chart.Title == "" {
		chart.Title = p.Title
	}
	if chart.Says == "" {
		chart.Says = p.Says
	}
	return chart.SVG("plot-" + c.Name + "-" + p.Name), nil
}
