package note

import (
	"bytes"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// markdown is CommonMark with tables, task lists and strike-through.
var markdown = goldmark.New(
	goldmark.WithExtensions(extension.Table, extension.TaskList, extension.Strikethrough),
	goldmark.WithParserOptions(parser.WithAutoHeadingID()),
)

// body is a note's text while it is checked.
type body struct {
	doc     *Document
	file    string // where its mistakes are told
	line    int    // of the file, where the body begins
	common  bool   // it is a block's, for many devices
	lost    bool   // it could not be read, so that nothing is known of its headings
	anchors map[string]bool
}

func (l *loader) parseBody(d *Document, source []byte, line int) *body {
	b := &body{doc: d, file: d.File, line: line, anchors: map[string]bool{}}
	d.Source = source
	d.Numbers, d.Blocks = map[*ast.Link]Number{}, map[*ast.FencedCodeBlock]Computation{}
	if n, says := heavy(source); says != "" {
		l.mistakes.Add(d.File, line+n, 1, says, "break it up")
		source, d.Source = nil, nil
	}
	d.Body = markdown.Parser().Parse(text.NewReader(source))
	_ = ast.Walk(d.Body, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if id, ok := n.AttributeString("id"); entering && ok {
			if raw, ok := id.([]byte); ok {
				b.anchors[string(raw)] = true
			}
		}
		return ast.WalkContinue, nil
	})
	return b
}

func (l *loader) bodyOf(d *Document) *body {
	if b, ok := l.byDoc[d]; ok {
		return b
	}
	return &body{doc: d, file: d.File, line: 1}
}

// Text is the plain text of a node, blocks parted by a space.
func Text(n ast.Node, source []byte) string { return plainText(n, source, nil) }

// Plain is the plain text of a document, its numbers filled in.
func (d *Document) Plain() string {
	if d.Settled != nil {
		return d.Settled.Words
	}
	return plainText(d.Body, d.Source, d.Numbers)
}

func plainText(n ast.Node, source []byte, numbers map[*ast.Link]Number) string {
	if n == nil {
		return ""
	}
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		switch n := n.(type) {
		case *ast.Text:
			if entering {
				b.Write(n.Segment.Value(source))
				if n.SoftLineBreak() || n.HardLineBreak() {
					b.WriteByte(' ')
				}
			}
		case *ast.String:
			if entering {
				b.Write(n.Value)
			}
		case *ast.FencedCodeBlock, *ast.HTMLBlock:
			return ast.WalkSkipChildren, nil
		case *ast.AutoLink:
			if entering {
				b.Write(n.Label(source))
			}
		case *ast.Link:
			if num, ok := numbers[n]; ok {
				if entering {
					b.WriteString(num.Text)
				}
				return ast.WalkSkipChildren, nil
			}
		default:
			if !entering && n.Type() == ast.TypeBlock {
				b.WriteByte(' ')
			}
		}
		return ast.WalkContinue, nil
	})
	return strings.TrimSpace(b.String())
}

// report notes a mistake at a byte offset of the body.
func (l *loader) report(b *body, offset int, says, do string) {
	line, column := l.at(b, offset)
	l.mistakes.Add(b.file, line, column, says, do)
}

// at is the place in the file of a byte offset of the body.
func (l *loader) at(b *body, offset int) (line, column int) {
	src := b.doc.Source
	offset = min(max(offset, 0), len(src))
	start := bytes.LastIndexByte(src[:offset], '\n') + 1
	return b.line + bytes.Count(src[:offset], []byte("\n")), 1 + utf8.RuneCount(src[start:offset])
}

// Places are what the page of a kind of note has besides the note's own headings:
// links may lead there.
var Places = map[Kind][]string{
	KindDevice:    {"about", "chain", "faults", "good", "jobs", "tests", "trace"},
	KindFault:     {"because", "confirm", "jobs", "mend", "shows"},
	KindBlock:     {"tests", "faults", "where"},
	KindChecklist: {},
	KindPage:      {},
}

// places are those on the page of a note that links may lead to, sorted; nil
// where a part of it could not be read.
func (l *loader) places(doc *Document) []string {
	fixed, known := Places[doc.Kind]
	b, read := l.byDoc[doc]
	if !known || !read && doc.Made == "" || read && b.lost {
		return nil
	}
	places := slices.Clone(fixed)
	if read {
		places = append(places, keys(b.anchors)...)
	}
	switch doc.Kind {
	case KindDevice:
		d := l.devices[doc.Name]
		if d == nil || d.lost("tests") {
			return nil
		}
		for id := range d.tests {
			places = append(places, "test-"+id)
		}
		for old := range d.Names.tests {
			places = append(places, "test-"+old)
		}
	case KindPage:
		if doc.File == GlossaryFile {
			for _, t := range l.set.Terms() {
				places = append(places, t.Place)
			}
		}
	case KindBlock:
		if k := l.library.Kinds[doc.Name]; k != nil {
			for _, f := range k.Faults() {
				places = append(places, f.Name)
			}
			for _, t := range k.Tests() {
				places = append(places, "test-"+t.Name)
			}
		}
	}
	slices.Sort(places)
	return places
}

// offset finds where a node stands in the source.
func offset(n ast.Node) int {
	switch x := n.(type) {
	case *ast.Text:
		return x.Segment.Start
	case *ast.Link, *ast.Image, *ast.AutoLink, *ast.RawHTML:
		if x.Pos() >= 0 {
			return x.Pos()
		}
	case *ast.FencedCodeBlock:
		if x.Info != nil {
			return x.Info.Segment.Start
		}
	}
	if c := n.FirstChild(); c != nil {
		return offset(c)
	}
	for p := n; p != nil; p = p.Parent() {
		if p.Type() == ast.TypeBlock && p.Lines() != nil && p.Lines().Len() > 0 {
			return p.Lines().At(0).Start
		}
	}
	return 0
}

// checkBody checks links, claims and blocks, and computes them.
func (l *loader) checkBody(b *body) {
	src := b.doc.Source
	_ = ast.Walk(b.doc.Body, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.HTMLBlock, *ast.RawHTML:
			l.report(b, offset(n), "HTML is not shown in notes", "write it as Markdown, or put a \\ before the <")
		case *ast.AutoLink:
			if strings.HasPrefix(string(n.URL(src)), calc.Scheme) {
				l.report(b, offset(n), "a computed number needs a text", "write it like [=]("+string(n.URL(src))+")")
			} else if n.AutoLinkType == ast.AutoLinkURL {
				l.outward(b, string(n.URL(src)), offset(n))
			}
		case *ast.CodeSpan:
			return ast.WalkSkipChildren, nil
		case *ast.Link:
			l.checkLink(b, n)
		case *ast.Image:
			l.checkImage(b, n)
			if file := path.Join(path.Dir(b.doc.File), string(n.Destination)); !slices.Contains(b.doc.Shows, file) {
				b.doc.Shows = append(b.doc.Shows, file)
			}
		case *ast.Text:
			seg := n.Segment.Value(src)
			if i := bytes.Index(seg, []byte("](")); i >= 0 && !bytes.Contains(seg, []byte(calc.Scheme)) {
				l.report(b, n.Segment.Start+i, "a link is broken off here, and stands as plain text", "close it with ), and let its address hold no blank: write _ or - as the file's name has it")
			}
			if i := bytes.Index(seg, []byte(calc.Scheme)); i >= 0 && i+len(calc.Scheme) < len(seg) && isLower(seg[i+len(calc.Scheme)]) {
				l.report(b, n.Segment.Start+i, "a calc: address stands here as plain text", "perhaps a space broke the link: use _ for a space, and write [=](calc:...)")
			}
		case *ast.FencedCodeBlock:
			l.checkBlock(b, n)
		}
		return ast.WalkContinue, nil
	})
	weight := 0
	for _, name := range b.doc.Shows {
		weight += l.set.Images[name].Weight()
	}
	if weight > pictureBudget {
		l.remarks.Add(b.file, 0, 0, fmt.Sprintf("the pictures of this note weigh about %.1f MB together, and a page should do with %.1f MB", megabytes(weight), megabytes(pictureBudget)),
			"cut them to what matters, save drawings as svg, or part the note")
	}
}

// pictureBudget is how many bytes of pictures a page may ask for before somebody with
// an old telephone waits: our choice.
const pictureBudget = 2 << 20

func megabytes(n int) float64 { return float64(n) / (1 << 20) }

func isLower(c byte) bool { return c >= 'a' && c <= 'z' }

// outward looks at an address that leads out of the shop, or runs something; false where it
// does neither.
func (l *loader) outward(b *body, to string, start int) bool {
	i := strings.IndexByte(to, ':')
	if i <= 0 || strings.ContainsAny(to[:i], "/#?") {
		return false
	}
	switch to[:i] {
	case "http", "https":
		line, column := l.at(b, start)
		l.remarks.Add(b.file, line, column, "this link needs a network, which a bench may not have", "say in the text what stands there, so that nobody needs to follow it")
	case "mailto", "tel":
	default:
		l.report(b, start, "the link's address “"+to+"” is of no known kind", "link to a note with a relative path like ../devices/fan-heater.md")
	}
	return true
}

func (l *loader) checkLink(b *body, n *ast.Link) {
	to := string(n.Destination)
	start := offset(n)
	if strings.HasPrefix(to, calc.Scheme) {
		l.checkClaim(b, n, to, start)
		return
	}
	if id, ok := SourceID(to); ok {
		l.checkSource(b, n, id, start)
		return
	}
	if scheme, rest, ok := Mark(to); ok {
		l.checkMark(b, n, scheme, rest, start)
		return
	}
	if to == "" {
		l.report(b, start, "the link leads nowhere", "write its address between the round brackets")
		return
	}
	if l.outward(b, to, start) {
		return
	}
	to = l.commonLink(b, to)
	n.Destination = []byte(to)
	file, anchor, _ := strings.Cut(to, "#")
	target := b.doc.File
	if file != "" {
		if path.IsAbs(file) {
			l.report(b, start, "the link “"+to+"” begins at the root of the disk", "use a relative path like ../devices/fan-heater.md")
			return
		}
		target = path.Join(path.Dir(b.doc.File), file)
	}
	doc := l.doc(target)
	ok := doc != nil
	if !ok && l.pictures[target] {
		return
	}
	lead := target
	if anchor != "" {
		lead += "#" + anchor
	}
	b.doc.Leads = append(b.doc.Leads, lead)
	if !ok && !(l.some && l.known == nil) { // else another part may have it
		l.report(b, start, "the link leads to "+quote(to)+", which is no note", l.linkHint(b.doc, target))
		return
	}
	// as other readers of Markdown follow it, and as the page's address is built
	if plain := relative(b.doc.File, target); file != "" && file != plain {
		line, column := l.at(b, start)
		l.remarks.Add(b.file, line, column, "the link "+quote(file)+" goes round about", "write it as "+plain)
		n.Destination = []byte(strings.TrimSuffix(plain+"#"+anchor, "#"))
	}
	if !ok {
		return
	}
	if places := doc.Places; anchor != "" && places != nil && !slices.Contains(places, anchor) {
		what := "the note has no heading “#" + anchor + "”"
		if doc.Kind != KindPage {
			what = "the page of “" + doc.Name + "” has no place “#" + anchor + "”"
		}
		l.report(b, start, what, hint(anchor, places))
	}
}

// linkHint finds the note that a wrong link may have meant, as the link to it
// would be written.
func (l *loader) linkHint(from *Document, target string) string {
	files := l.noteFiles()
	meant := nearest(target, files)
	if meant == "" { // the right name in the wrong folder, or the page for the note
		name := strings.TrimSuffix(strings.TrimSuffix(path.Base(target), ".html"), ".md")
		for _, file := range files {
			if strings.TrimSuffix(path.Base(file), ".md") == name {
				meant = file
			}
		}
	}
	if meant == "" {
		return "name a note's file by its relative path, like ../devices/fan-heater.md"
	}
	if path.Dir(meant) == path.Dir(from.File) {
		return "did you mean “" + path.Base(meant) + "”"
	}
	return "did you mean “../" + strings.TrimPrefix(meant, "content/") + "”"
}

func (l *loader) checkImage(b *body, n *ast.Image) {
	to := string(n.Destination)
	switch target := path.Join(path.Dir(b.doc.File), to); {
	case strings.Contains(to, ":"):
		l.report(b, offset(n), "the picture "+quote(to)+" does not lie in this shop", "put it into content/images and link to it as ../images/NAME, as a page asks nothing from elsewhere")
	case !l.pictures[target]:
		l.report(b, offset(n), "there is no picture "+quote(to), "put it into content/images and link to it as ../images/NAME")
	case strings.TrimSpace(Text(n, b.doc.Source)) == "":
		l.report(b, offset(n), "the picture has no words for those who cannot see it", "write ![what it shows](...)")
	}
}

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
	src := b.doc.Source
	words := strings.Fields(string(n.Info.Segment.Value(src)))
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
	link := calc.Link{Calculator: c.Name}
	places := map[string]int{}
	before := len(l.mistakes)
	for i := range n.Lines().Len() {
		seg := n.Lines().At(i)
		line := strings.TrimSpace(string(seg.Value(src)))
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
		if len(c.Plots) == 0 {
			l.report(b, at, c.Name+" has no plot", "use a calc block")
			return
		}
		comp.Plot = c.Plots[0].Name
		if len(words) > 2 {
			comp.Plot = words[2]
		}
		var names []string
		found := false
		for _, p := range c.Plots {
			names = append(names, p.Name)
			if p.Name != comp.Plot {
				continue
			}
			found = true
			if _, err := c.Draw(p, r.In()); err != nil {
				l.report(b, at, "the plot cannot be drawn: "+err.Error(), "mend the inputs below it")
			}
		}
		if !found {
			l.report(b, at, c.Name+" has no plot “"+comp.Plot+"”", hint(comp.Plot, names))
			return
		}
	}
	b.doc.Blocks[n] = comp
}
