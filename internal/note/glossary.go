package note

import (
	"slices"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
)

// GlossaryFile is the page whose terms are linked where other notes first use them.
const GlossaryFile = "content/pages/glossary.md"

// Term is a word of the trade and what it means.
type Term struct {
	Names []string // as they are written: "RCD", "GFCI"
	Place string   // on the glossary's page
	Says  string   // the first sentence of what stands there
}

// Terms are what the glossary's page explains. A paragraph that begins with bold
// words explains a term: its names, parted by commas, end with a full stop. What
// begins in italics is explained there as well, and linked from nowhere: everyday
// words such as load.
func (s *Set) Terms() []Term {
	i := slices.IndexFunc(s.Pages, func(p *Page) bool { return p.File == GlossaryFile })
	if i < 0 || s.Pages[i].Body == nil {
		return nil
	}
	d := s.Pages[i]
	var out []Term
	for p := d.Body.FirstChild(); p != nil; p = p.NextSibling() {
		place := TermPlace(p.FirstChild(), d.Source)
		if place == "" {
			continue
		}
		bold := p.FirstChild().(*ast.Emphasis)
		names := strings.TrimSuffix(Text(bold, d.Source), ".")
		rest := strings.TrimSpace(strings.TrimPrefix(plainText(p, d.Source, d.Numbers), Text(bold, d.Source)))
		t := Term{Place: place, Says: firstSentence(rest)}
		for name := range strings.SplitSeq(names, ",") {
			if name = strings.TrimSpace(name); name != "" {
				t.Names = append(t.Names, name)
			}
		}
		out = append(out, t)
	}
	return out
}

// TermPlace is the place on the glossary's page of the term that begins with this
// node; "" if none does.
func TermPlace(n ast.Node, source []byte) string {
	e, ok := n.(*ast.Emphasis)
	if !ok || e.Level != 2 || e.Parent().Kind() != ast.KindParagraph || e.PreviousSibling() != nil || e.Parent().Parent().Kind() != ast.KindDocument {
		return ""
	}
	name, _, _ := strings.Cut(strings.TrimSuffix(Text(e, source), "."), ",")
	return strings.Trim(strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, name), "-")
}

// firstSentence ends a text behind its first full stop, or as it is.
func firstSentence(text string) string {
	if i := strings.Index(text, ". "); i >= 0 {
		return text[:i+1]
	}
	return text
}
