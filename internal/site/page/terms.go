package page

import (
	"html"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	gmhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"faultleaf/internal/note"
)

// The glossary's terms are linked where a text first uses them. One pass over each
// text's words looks each up by its first word, so that it costs the same however
// many terms there are.

// terms finds the glossary's terms in a text.
type terms struct {
	all   []note.Term
	first map[string][]name // by the first word of a name, in lower case; the longest name first
}

// name is one way of writing a term.
type name struct {
	text string
	term int // in all
}

func newTerms(all []note.Term) *terms {
	t := &terms{all: all, first: map[string][]name{}}
	for i, x := range all {
		for _, text := range x.Names {
			key := strings.ToLower(text[:wordEnd(text, 0)])
			t.first[key] = append(t.first[key], name{text, i})
		}
	}
	for _, names := range t.first {
		slices.SortStableFunc(names, func(a, b name) int { return len(b.text) - len(a.text) })
	}
	return t
}

func inWord(r rune) bool {
	if r < utf8.RuneSelf { // nearly all of them
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9' || r == '-'
	}
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

// wordEnd is where the word that begins at i ends.
func wordEnd(text string, i int) int {
	for i < len(text) {
		r, size := rune(text[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(text[i:])
		}
		if !inWord(r) {
			break
		}
		i += size
	}
	return i
}

// at is the term that a text uses at a word's beginning, and how long it is there;
// the term is -1 if there is none. A name may stand in the plural, and with a small
// or a large first letter; its other letters are as the glossary has them.
func (t *terms) at(text string, i int) (term, length int) {
	word := strings.ToLower(text[i:wordEnd(text, i)])
	names := t.first[word]
	if names == nil && strings.HasSuffix(word, "s") {
		names = t.first[word[:len(word)-1]]
	}
	for _, n := range names {
		end := i + len(n.text)
		if end > len(text) || !sameName(text[i:end], n.text) {
			continue
		}
		if strings.HasPrefix(text[end:], "s") {
			end++
		}
		if end == wordEnd(text, end) {
			return n.term, end - i
		}
	}
	return -1, 0
}

func sameName(a, b string) bool {
	ra, n := utf8.DecodeRuneInString(a)
	rb, m := utf8.DecodeRuneInString(b)
	return a[n:] == b[m:] && unicode.ToLower(ra) == unicode.ToLower(rb)
}

// text writes a piece of text, its terms linked that this text has not used before.
// Headings, links and code are left as they are.
func (w *writer) text(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	t := n.(*ast.Text)
	value := t.Segment.Value(source)
	switch {
	case t.IsRaw():
		gmhtml.DefaultWriter.RawWrite(b, value)
	case w.terms == nil || !linkable(n):
		gmhtml.DefaultWriter.Write(b, value)
	default:
		w.linkTerms(b, string(value))
	}
	switch {
	case t.IsRaw():
	case t.HardLineBreak():
		_, _ = b.WriteString("<br>\n")
	case t.SoftLineBreak():
		_ = b.WriteByte('\n')
	}
	return ast.WalkContinue, nil
}

func (w *writer) linkTerms(b util.BufWriter, text string) {
	done := 0
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !inWord(r) {
			i += size
			continue
		}
		if term, length := w.terms.at(text, i); term >= 0 {
			if !w.used[term] {
				w.used[term] = true
				gmhtml.DefaultWriter.Write(b, []byte(text[done:i]))
				x := w.terms.all[term]
				_, _ = b.WriteString(`<a class="term" href="` + html.EscapeString(w.root+"pages/glossary.html#"+string(util.URLEscape([]byte(x.Place), true))) +
					`" title="` + html.EscapeString(x.Says) + `">` + html.EscapeString(text[i:i+length]) + `</a>`)
				done = i + length
			}
			i += length
			continue
		}
		i = wordEnd(text, i)
	}
	gmhtml.DefaultWriter.Write(b, []byte(text[done:]))
}

// linkable tells whether a link may stand in this place.
func linkable(n ast.Node) bool {
	for p := n.Parent(); p != nil; p = p.Parent() {
		switch p.Kind() {
		case ast.KindLink, ast.KindAutoLink, ast.KindImage, ast.KindHeading, ast.KindCodeSpan, east.KindTableHeader:
			return false
		}
	}
	return true
}

// emphasis gives a term of the glossary its place.
func (w *writer) emphasis(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	tag := "em"
	if n.(*ast.Emphasis).Level == 2 {
		tag = "strong"
	}
	if !entering {
		_, _ = b.WriteString("</" + tag + ">")
		return ast.WalkContinue, nil
	}
	_, _ = b.WriteString("<" + tag)
	if w.doc.File == note.GlossaryFile {
		if place := note.TermPlace(n, source); place != "" {
			_, _ = b.WriteString(` id="` + html.EscapeString(place) + `"`)
		}
	}
	_, _ = b.WriteString(">")
	return ast.WalkContinue, nil
}
