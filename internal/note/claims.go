package note

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// compute runs a link, its plate filled in, and gives its output.
func (l *loader) compute(link calc.Link) (calc.Computed, error) {
	r, err := l.runLink(link)
	if err != nil {
		return calc.Computed{}, err
	}
	if link.Output == "" {
		return calc.Computed{}, errors.New("the address names no output; end it with # and one of " + r.Calculator.OutputNames())
	}
	if _, ok := r.Calculator.Output(link.Output); !ok {
		return calc.Computed{}, errors.New(r.Calculator.Name + " has no output “" + link.Output + "”; it has " + r.Calculator.OutputNames())
	}
	got, ok := r.Output(link.Output)
	if !ok {
		return calc.Computed{}, errors.New(r.Calculator.Name + " gives no “" + link.Output + "” for these inputs")
	}
	if got.Word == calc.Asks {
		return calc.Computed{}, errors.New(r.Calculator.Name + " judges nothing with these inputs: name in the address what was measured or chosen")
	}
	return got, nil
}

// runLink runs the calculator of a link; of the result there is what it gives alone.
func (l *loader) runLink(link calc.Link) (calc.Result, error) {
	c, ok := l.find(link.Calculator)
	if !ok {
		return calc.Result{}, noCalculator(link.Calculator)
	}
	return l.runs.run(c, link.Inputs)
}

// runs remembers what calculators gave: devices alike ask the same of them. Several
// may ask at once.
type runs struct {
	mu   sync.Mutex
	made map[string]ran
}

type ran struct {
	result calc.Result
	err    error
}

// mostRuns are remembered, so that a shop of any size asks for little memory.
const mostRuns = 2000

func (r *runs) run(c *calc.Calculator, inputs []calc.Setting) (calc.Result, error) {
	key := fmt.Sprintf("%s %q", c.Name, inputs)
	r.mu.Lock()
	x, known := r.made[key]
	r.mu.Unlock()
	if !known {
		result, err := c.Run(inputs)
		x = ran{calc.Result{Calculator: result.Calculator, Outputs: result.Outputs}, err}
		r.mu.Lock()
		if len(r.made) < mostRuns {
			r.made[key] = x
		}
		r.mu.Unlock()
	}
	return x.result, x.err
}

// noCalculator is the error of a name that no calculator has.
type noCalculator string

func (e noCalculator) Error() string { return "there is no calculator " + quote(string(e)) }

// lookUp says where to find what an address that failed should hold.
func lookUp(err error) string {
	if _, ok := err.(noCalculator); ok {
		return "see the list of calculators for its name"
	}
	return "open the calculator's page to see its inputs and outputs"
}

// fill puts the values of the rating plate into a link; only a device and its
// faults have one.
func (l *loader) fill(link calc.Link, d *Document) (calc.Link, error) {
	plate, ok := l.plateFor(d)
	if !ok {
		for _, in := range link.Inputs {
			if strings.HasPrefix(in.Value, "plate.") {
				return link, errors.New("only a device and its faults have a plate, so " + quote(in.Value) + " has no value here; write the amount")
			}
		}
	}
	return l.plated(link, plate)
}

// plated fills a link from a rating plate: what it names there, and what the plate says in
// the place of the shop.
func (l *loader) plated(link calc.Link, plate map[string]string) (calc.Link, error) {
	link, err := link.Fill(plate)
	if err != nil {
		return link, err
	}
	if c, ok := l.find(link.Calculator); ok {
		link = c.Plated(link, plate)
	}
	return link, nil
}

// plateLost tells whether the plate that a document uses could not be read.
func (l *loader) plateLost(d *Document) bool {
	name := d.Name
	if d.Kind == KindFault {
		name = l.deviceOf[d]
	}
	dev, ok := l.devices[name]
	return ok && dev.lost("plate")
}

// takesPlate tells whether a link, as it is written and as it was filled, computes with the rating plate.
func takesPlate(link, filled calc.Link) bool {
	return len(filled.Inputs) > len(link.Inputs) || slices.ContainsFunc(link.Inputs, func(in calc.Setting) bool { return strings.HasPrefix(in.Value, "plate.") })
}

func inputNames(c *calc.Calculator) []string {
	var names []string
	for _, in := range c.Inputs {
		names = append(names, in.Name)
	}
	return names
}

// checkClaim compares what the note says with what is computed.
func (l *loader) checkClaim(b *body, n *ast.Link, to string, start int) {
	link, err := calc.ParseLink(to)
	if err != nil {
		l.report(b, start, err.Error(), "write it like [=](calc:element?power=2_kW#cold)")
		return
	}
	claim := strings.TrimSpace(Text(n, b.doc.Source))
	filled, err := l.fill(link, b.doc)
	if l.plateLost(b.doc) && (err != nil || takesPlate(link, filled)) {
		return // what is computed from a wrong plate is wrong; the plate tells it
	}
	if err != nil {
		l.report(b, start, err.Error(), "")
		return
	}
	if link.Output == "" { // a link to the calculator with these inputs
		if _, err := l.runLink(filled); err != nil {
			l.report(b, start, err.Error(), lookUp(err))
			return
		}
		if claim == "=" || claim == "" {
			l.report(b, start, "the address names no output to fill in", "end it with # and an output's name")
			return
		}
		b.doc.Numbers[n] = Number{filled, claim}
		return
	}
	got, err := l.compute(filled)
	if err != nil {
		l.report(b, start, err.Error(), lookUp(err))
		return
	}
	switch {
	case claim == "=":
		b.doc.Numbers[n] = Number{filled, got.Text}
		return
	case b.common:
		l.report(b, start, "a block's text knows no plate, so that a figure in it would be wrong on the next device", "write [=](...) and it is filled in")
		return
	}
	if rests := l.ofShop(link, filled, b.doc); rests != "" {
		says, do := "“"+claim+"” rests on "+rests+" of this shop, and would be wrong in another", "write [=](...) and each shop has its own figure, or name the amount in the address"
		if l.set.Shop.Format >= claimsOfShop {
			l.report(b, start, says, do)
			return
		}
		line, column := l.at(b, start)
		l.remarks.Add(b.file, line, column, says, do)
	}
	if got.Value.Kind == "" {
		if style := l.set.Shop.Style(); style.Says(claim) != got.Text && claim != got.Word {
			l.report(b, start, "the note says “"+claim+"”, but it is “"+got.Text+"”", "write = to have it filled in, or mend the claim or its inputs")
			return
		}
		b.doc.Numbers[n] = Number{filled, claim}
		return
	}
	c, err := quantity.ParseClaim(got.Value.Kind, claim)
	if err != nil {
		l.report(b, start, err.Error(), "a claim is an amount as it is printed, or =")
		return
	}
	ok, computed := c.Check(got.Value)
	if !ok {
		l.report(b, start, "the note says "+claim+", but "+link.Calculator+" gives "+computed, "mend the claim, or the inputs in its address")
		return
	}
	b.doc.Numbers[n] = Number{filled, claim}
}

// checkBlock runs a calc or plot block.
func (l *loader) checkBlock(b *body, n *ast.FencedCodeBlock) {
	if n.Info == nil {
		return
	}
	words := strings.Fields(string(n.Info.Segment.Value(b.doc.Source)))
	if len(words) == 0 || words[0] != "calc" && words[0] != "plot" {
		return
	}
	at := n.Info.Segment.Start
	if len(words) < 2 {
		l.report(b, at, "the block names no calculator", "write it like "+words[0]+" rectifier")
		return
	}
	c, ok := l.find(words[1])
	if !ok {
		l.report(b, at, noCalculator(words[1]).Error(), "see the list of calculators for its name")
		return
	}
	before := len(l.mistakes)
	link, places := l.blockInputs(b, n, c)
	if len(l.mistakes) > before {
		return
	}
	filled, err := l.fill(link, b.doc)
	if l.plateLost(b.doc) && (err != nil || takesPlate(link, filled)) {
		return
	}
	if err != nil {
		l.report(b, at, err.Error(), "")
		return
	}
	r, err := c.Run(filled.Inputs)
	if err != nil {
		var bad *calc.InputError
		if errors.As(err, &bad) && places[bad.Input] > 0 {
			at = places[bad.Input]
		}
		l.report(b, at, err.Error(), "its inputs are "+c.InputNames())
		return
	}
	comp := Computation{Link: filled, Result: r}
	if words[0] == "plot" {
		if comp.Plot, ok = l.plot(b, at, c, words[2:], r); !ok {
			return
		}
	}
	b.doc.Blocks[n] = comp
}

// blockInputs reads the lines of a block, name = value, and where each input stands.
func (l *loader) blockInputs(b *body, n *ast.FencedCodeBlock, c *calc.Calculator) (link calc.Link, places map[string]int) {
	link = calc.Link{Calculator: c.Name}
	places = map[string]int{}
	for i := range n.Lines().Len() {
		seg := n.Lines().At(i)
		line := strings.TrimSpace(string(seg.Value(b.doc.Source)))
		if line == "" {
			continue
		}
		name, value, ok := strings.Cut(line, "=")
		if !ok {
			l.report(b, seg.Start, quote(line)+" is no input", "write name = value")
			continue
		}
		name = strings.TrimSpace(name)
		if _, ok := c.Input(name); !ok {
			l.report(b, seg.Start, c.Name+" has no input "+quote(name), hint(name, inputNames(c)))
			continue
		}
		if _, ok := places[name]; ok {
			l.report(b, seg.Start, "the input "+name+" is given twice", "keep one")
			continue
		}
		places[name] = seg.Start
		link.Inputs = append(link.Inputs, calc.Setting{Name: name, Value: strings.TrimSpace(value)})
	}
	return link, places
}

// plot is the name of the plot that a block asks for, the calculator's first where it names
// none; ok is false where there is none. A plot that cannot be drawn is reported.
func (l *loader) plot(b *body, at int, c *calc.Calculator, words []string, r calc.Result) (name string, ok bool) {
	if len(c.Plots) == 0 {
		l.report(b, at, c.Name+" has no plot", "use a calc block")
		return "", false
	}
	name = c.Plots[0].Name
	if len(words) > 0 {
		name = words[0]
	}
	var names []string
	for _, p := range c.Plots {
		names = append(names, p.Name)
		if p.Name != name {
			continue
		}
		ok = true
		if _, err := c.Draw(p, r.In()); err != nil {
			l.report(b, at, "the plot cannot be drawn: "+err.Error(), "mend the inputs below it")
		}
	}
	if !ok {
		l.report(b, at, c.Name+" has no plot “"+name+"”", hint(name, names))
	}
	return name, ok
}
