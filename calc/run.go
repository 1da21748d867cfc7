package calc

import (
	"errors"
	"math"
	"strings"
	"unicode"

	"faultleaf/calc/quantity"
)

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
