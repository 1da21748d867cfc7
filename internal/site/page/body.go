package page

import (
	"bufio"
	"bytes"
	"fmt"
	"html"
	"html/template"
	"path"
	"strconv"
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
	chromahtml "github.com/alecthomas/chroma/v2/formatters/html"
	"github.com/alecthomas/chroma/v2/styles"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	gmhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/internal/note"
)

// code highlights with classes, as the pages' policy allows no inline style.
var (
	code      = chromahtml.New(chromahtml.WithClasses(true), chromahtml.ClassPrefix("code-"))
	codeStyle = styles.Get("bw")
)

// CodeCSS is the part of the stylesheet for highlighted code.
func CodeCSS() (string, error) {
	var b bytes.Buffer
	err := code.WriteCSS(&b, codeStyle)
	return b.String(), err
}

// Body renders the text of a note as HTML for the page at an address. Raw HTML
// never gets here: the reader refuses it.
func (s *Shop) Body(d *note.Document, address string) (template.HTML, error) {
	return s.body(d, address, 0)
}

// BodyBelow renders it as a part of a page that holds several: its headings
// stand that many levels lower, and have no addresses of their own.
func (s *Shop) BodyBelow(d *note.Document, address string, levels int) (template.HTML, error) {
	return s.body(d, address, levels)
}

func (s *Shop) body(d *note.Document, address string, below int) (template.HTML, error) {
	if d.Settled != nil {
		return template.HTML(d.Settled.HTML), nil
	}
	if d.Body == nil {
		return "", nil
	}
	x := renderings.Get().(*rendering)
	defer renderings.Put(x)
	x.writer = writer{shop: s, doc: d, root: Root(address), below: below}
	w := &x.writer
	if s.terms != nil && below == 0 && d.File != note.GlossaryFile {
		w.terms, w.used = s.terms, make([]bool, len(s.terms.all))
	}
	for _, c := range s.Checklists {
		if &c.Document == d {
			w.steps = c.Steps
		}
	}
	text, err := x.render(d.Source, d.Body)
	if err != nil {
		return "", err
	}
	if lang := s.Set.Shop.Lang; lang != "" && lang != "en" { // the page around it is English
		return template.HTML(`<div lang="` + html.EscapeString(lang) + `">` + text + `</div>`), nil
	}
	return template.HTML(text), nil
}

// rendering is a renderer with its writer: one takes as long to set up as a text
// takes to render, so it renders one after the other.
type rendering struct {
	writer
	renderer renderer.Renderer
	text     bytes.Buffer
	to       *bufio.Writer
}

var renderings = sync.Pool{New: func() any {
	x := &rendering{}
	x.to = bufio.NewWriter(&x.text)
	x.renderer = renderer.NewRenderer(renderer.WithNodeRenderers(
		util.Prioritized(gmhtml.NewRenderer(), 1000),
		util.Prioritized(extension.NewTableHTMLRenderer(), 500),
		util.Prioritized(extension.NewStrikethroughHTMLRenderer(), 500),
		util.Prioritized(&x.writer, 100),
	))
	return x
}}

func (x *rendering) render(source []byte, n ast.Node) (string, error) {
	x.text.Reset()
	x.to.Reset(&x.text)
	err := x.renderer.Render(x.to, source, n)
	x.writer = writer{} // holds on to nothing of the shop
	return x.text.String(), err
}

// writer renders the nodes that differ from plain CommonMark.
type writer struct {
	shop         *Shop
	doc          *note.Document
	root         string
	boxes        int
	steps        []note.Step
	forms, plots int
	code         int    // bytes of code that were looked through
	below        int    // levels that headings stand lower
	terms        *terms // nil links none
	used         []bool // of terms, in this text
}

func (w *writer) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(ast.KindText, w.text)
	reg.Register(ast.KindEmphasis, w.emphasis)
	reg.Register(ast.KindLink, w.link)
	reg.Register(ast.KindImage, w.image)
	reg.Register(ast.KindFencedCodeBlock, w.block)
	reg.Register(ast.KindHeading, w.heading)
	reg.Register(ast.KindList, w.list)
	reg.Register(ast.KindListItem, w.item)
	reg.Register(east.KindTable, w.table)
	reg.Register(east.KindTableCell, w.cell)
	reg.Register(east.KindTaskCheckBox, w.box)
}

var inAddress = strings.NewReplacer("%", "%25", " ", "_", "&", "%26", "#", "%23", "+", "%2B")

// NumberAddress is the page of a calculator with these inputs.
func NumberAddress(root string, l calc.Link) string {
	a := root + "calc/" + l.Calculator + ".html"
	for i, in := range l.Inputs {
		sep := "&"
		if i == 0 {
			sep = "?"
		}
		a += sep + in.Name + "=" + inAddress.Replace(in.Value)
	}
	if l.Output != "" {
		a += "#" + l.Output
	}
	return a
}

func (w *writer) link(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	l := n.(*ast.Link)
	if num, ok := w.doc.Numbers[l]; ok {
		if entering {
			class, text := ` class="num"`, num.Text
			if num.Link.Output == "" { // it leads to the calculator, not to a number of it
				class, text = "", w.calculator(num)
			}
			_, _ = b.WriteString(`<a` + class + ` href="` + html.EscapeString(NumberAddress(w.root, num.Link)) + `">` + html.EscapeString(text) + `</a>`)
		}
		return ast.WalkSkipChildren, nil
	}
	if !entering {
		if _, _, ok := note.Mark(string(l.Destination)); !ok {
			_, _ = b.WriteString("</a>")
		}
		return ast.WalkContinue, nil
	}
	to := string(l.Destination)
	if scheme, rest, ok := note.Mark(to); ok {
		w.mark(b, scheme, rest, note.Text(l, source))
		return ast.WalkSkipChildren, nil
	}
	if id, ok := note.SourceID(to); ok {
		_, _ = b.WriteString(`<a href="` + html.EscapeString(w.root+"calc/sources.html#"+id) + `">`)
		return ast.WalkContinue, nil
	}
	if path, frag, _ := strings.Cut(to, "#"); strings.HasSuffix(path, ".md") && !strings.Contains(path, ":") {
		to = strings.TrimSuffix(path, ".md") + ".html"
		if frag != "" {
			to += "#" + frag
		}
	}
	_, _ = b.WriteString(`<a href="` + html.EscapeString(string(util.URLEscape([]byte(to), true))) + `"`)
	if strings.HasPrefix(to, "http:") || strings.HasPrefix(to, "https:") {
		_, _ = b.WriteString(` rel="noreferrer"`)
	}
	_, _ = b.WriteString(">")
	return ast.WalkContinue, nil
}

// calculator is the text of a link to a whole calculator. A note may write its id,
// which nobody else calls it by: the page says its title.
func (w *writer) calculator(n note.Number) string {
	if n.Text == n.Link.Calculator {
		for _, c := range w.shop.Calculators {
			if c.Name == n.Text {
				return "“" + c.Title + "”"
			}
		}
	}
	return n.Text
}

// image lets the browser choose among the sizes of a picture, and says its size
// so that the text does not jump when it comes.
func (w *writer) image(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkSkipChildren, nil
	}
	i := n.(*ast.Image)
	to := string(i.Destination)
	address := func(name string) string { return html.EscapeString(string(util.URLEscape([]byte(name), true))) }
	_, _ = b.WriteString(`<img src="` + address(to) + `" alt="` + html.EscapeString(note.Text(n, source)) + `"`)
	if p, ok := w.shop.Set.Images[path.Join(path.Dir(w.doc.File), to)]; ok {
		if versions := p.Versions(to); len(versions) > 1 {
			var set []string
			for _, v := range versions {
				set = append(set, address(v.Name)+" "+strconv.Itoa(v.Width)+"w")
			}
			_, _ = b.WriteString(` srcset="` + strings.Join(set, ", ") + `" sizes="(max-width: 46rem) 100vw, 46rem"`)
		}
		if width, height := p.Shown(); width > 0 {
			fmt.Fprintf(b, ` width="%d" height="%d"`, width, height)
		}
	}
	_, _ = b.WriteString(` loading="lazy" decoding="async">`)
	return ast.WalkSkipChildren, nil
}

// heading moves the note's headings below the page's own, so that levels never
// skip.
func (w *writer) heading(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	h := n.(*ast.Heading)
	level := string(rune('0' + min(max(h.Level, 2)+w.below, 6)))
	if !entering {
		_, _ = b.WriteString("</h" + level + ">\n")
		return ast.WalkContinue, nil
	}
	_, _ = b.WriteString("<h" + level)
	if id, ok := h.AttributeString("id"); ok && w.below == 0 {
		if raw, ok := id.([]byte); ok {
			_, _ = b.WriteString(` id="` + html.EscapeString(string(raw)) + `"`)
		}
	}
	_, _ = b.WriteString(">")
	return ast.WalkContinue, nil
}

func isTask(n ast.Node) bool {
	for item := n.FirstChild(); item != nil; item = item.NextSibling() {
		if c := item.FirstChild(); c != nil && c.FirstChild() != nil && c.FirstChild().Kind() == east.KindTaskCheckBox {
			return true
		}
	}
	return false
}

func (w *writer) list(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	l := n.(*ast.List)
	tag := "ul"
	if l.IsOrdered() || isTask(n) { // steps have an order, however they are written
		tag = "ol"
	}
	switch {
	case !entering:
		_, _ = b.WriteString("</" + tag + ">\n")
	case isTask(n):
		_, _ = b.WriteString("<" + tag + " class=\"task\">\n")
	default:
		_, _ = b.WriteString("<" + tag + ">\n")
	}
	return ast.WalkContinue, nil
}

// item wraps the text of a step in a label, so that the whole line ticks.
func (w *writer) item(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = b.WriteString("<li>")
	} else {
		_, _ = b.WriteString("</li>\n")
	}
	return ast.WalkContinue, nil
}

// box is the tick of a step. Its name for screen readers is the whole step with
// its numbers.
func (w *writer) box(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	var step note.Step
	if w.boxes < len(w.steps) {
		step = w.steps[w.boxes]
	}
	w.boxes++
	proof := ""
	if step.Proof != "" {
		proof = ` data-proof="` + string(step.Proof) + `"`
	}
	_, _ = b.WriteString(`<input type="checkbox" id="step-` + step.ID + `" data-tick="` + step.ID + `"` + proof + ` aria-label="` + html.EscapeString(step.Text) + `"> `)
	return ast.WalkContinue, nil
}

// mark writes what the scripts turn into a field or a timer; on paper it is a
// line to write on, or its words alone.
func (w *writer) mark(b util.BufWriter, scheme, rest, label string) {
	switch scheme {
	case "read:":
		r, err := note.ReadMark(rest)
		if err != nil {
			return
		}
		var in []string
		for _, s := range r.Inputs {
			in = append(in, s.Name+"="+s.Value)
		}
		_, _ = b.WriteString(`<span class="read" data-read="` + r.Kind + `" data-inputs="` + html.EscapeString(strings.Join(in, "&")) + `"><span class="read-label">` + html.EscapeString(label) + `</span></span>`)
	case "wait:":
		if minutes, err := note.WaitMark(rest); err == nil {
			_, _ = b.WriteString(`<span data-wait="` + quantity.Number(minutes) + `">` + html.EscapeString(label) + `</span>`)
		}
	}
}

func (w *writer) table(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = b.WriteString("<div class=\"wide\"><table>\n")
		return ast.WalkContinue, nil
	}
	// the last row has closed the table's body
	_, _ = b.WriteString("</table></div>\n")
	return ast.WalkContinue, nil
}

func (w *writer) cell(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	c := n.(*east.TableCell)
	tag := "td"
	if n.Parent().Kind() == east.KindTableHeader {
		tag = "th"
	}
	if !entering {
		_, _ = b.WriteString("</" + tag + ">\n")
		return ast.WalkContinue, nil
	}
	_, _ = b.WriteString("<" + tag)
	switch c.Alignment {
	case east.AlignRight:
		_, _ = b.WriteString(` class="right"`)
	case east.AlignCenter:
		_, _ = b.WriteString(` class="center"`)
	}
	if tag == "th" {
		_, _ = b.WriteString(` scope="col"`)
	}
	_, _ = b.WriteString(">")
	return ast.WalkContinue, nil
}

// block renders a calculator, a plot, or code.
func (w *writer) block(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	f := n.(*ast.FencedCodeBlock)
	if comp, ok := w.doc.Blocks[f]; ok {
		return ast.WalkContinue, w.computed(b, comp)
	}
	var text strings.Builder
	for i := range f.Lines().Len() {
		seg := f.Lines().At(i)
		text.Write(seg.Value(source))
	}
	tokens, err := chroma.Coalesce(w.lexerOf(string(f.Language(source)), text.String())).Tokenise(nil, text.String())
	if err != nil {
		return ast.WalkStop, err
	}
	return ast.WalkContinue, code.Format(b, codeStyle, tokens)
}

func (w *writer) computed(b util.BufWriter, comp note.Computation) error {
	c := comp.Result.Calculator
	if comp.Plot != "" {
		for _, p := range c.Plots {
			if p.Name != comp.Plot {
				continue
			}
			svg, err := c.Draw(p, comp.Result.In())
			if err != nil {
				return err
			}
			w.plots++ // the names in it stand once on a page
			svg = strings.ReplaceAll(svg, "plot-"+c.Name, "plot-"+quantity.Number(float64(w.plots))+"-"+c.Name)
			_, _ = b.WriteString(`<figure class="plot">` + svg + `<figcaption>` + html.EscapeString(p.Title) +
				` <a href="` + html.EscapeString(NumberAddress(w.root, comp.Link)) + `">Change its inputs</a></figcaption></figure>` + "\n")
		}
		return nil
	}
	w.forms++
	form, err := NewForm(comp.Result, comp.Link, w.root, quantity.Number(float64(w.forms))+"-")
	if err != nil {
		return err
	}
	form.Plots, form.Circuit = nil, "" // a plot stands in a note only where the note asks for it
	t, err := Templates()
	if err != nil {
		return err
	}
	filled, err := t.Append(nil, "calc-form", form)
	_, _ = b.Write(filled)
	return err
}
