package note

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"faultleaf/calc"
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
	case strings.Contains(to, "\\"):
		l.report(b, offset(n), "the picture's address "+quote(to)+" has backslashes", "write "+strings.ReplaceAll(to, "\\", "/"))
	case !l.pictures[target]:
		l.report(b, offset(n), "there is no picture "+quote(to), "put it into content/images and link to it as ../images/NAME")
	case strings.TrimSpace(Text(n, b.doc.Source)) == "":
		l.report(b, offset(n), "the picture has no words for those who cannot see it", "write ![what it shows](...)")
	}
}
