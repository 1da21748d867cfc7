package note

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
)

// Slips that YAML and Markdown let pass, and that change what a note says.

// conflict finds the first line at which git has put two versions of a file into
// each other; 0 where there is none.
func conflict(lines []string) int {
	at := 0
	for i, line := range lines {
		switch {
		case strings.HasPrefix(line, "<<<<<<< ") && at == 0:
			at = i + 1
		case at > 0 && strings.HasPrefix(line, ">>>>>>> "):
			return at
		}
	}
	return 0
}

// Behind one of these a # begins a remark that nobody can mistake for the rest of
// a text: a plain name, a number, an amount, true or false.
var (
	plainEnd  = regexp.MustCompile(`^(?:[a-z0-9_][a-z0-9_-]*|[<>±~]? ?[0-9][0-9.,]* ?[^\s0-9]{0,4})$`)
	lastPiece = regexp.MustCompile(`^.*(?:[:,\[{-] |[\[{])`)
)

// cut is a place at which YAML takes the rest of a line for a remark, though it
// follows a text without quotes.
type cut struct {
	line, column int // from 1, the line of the YAML text
	kept, lost   string
}

// cuts finds them. A caution that ends before its # would be shown in half.
func cuts(text string) (out []cut) {
	if !strings.Contains(text, "#") { // as in most
		return nil
	}
	quote := byte(0)
	block := -1 // indentation of the key of a text that stands on lines of its own
	for n, line := range strings.Split(text, "\n") {
		indent := len(line) - len(strings.TrimLeft(line, " "))
		if block >= 0 {
			if strings.TrimSpace(line) == "" || indent > block {
				continue
			}
			block = -1
		}
		fresh := true // a value may begin here
	chars:
		for i := 0; i < len(line); i++ {
			c := line[i]
			switch {
			case quote == '"' && c == '\\':
				i++
			case quote != 0:
				if c == quote {
					if quote == '\'' && i+1 < len(line) && line[i+1] == '\'' {
						i++
						continue
					}
					quote = 0
				}
				fresh = false
			case fresh && (c == '"' || c == '\''):
				quote = c
			case c == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t'):
				before := strings.TrimSpace(line[:i])
				if before == "" || strings.HasSuffix(before, ":") {
					break chars
				}
				if strings.ContainsRune(`"']}>|[{,-`, rune(before[len(before)-1])) {
					break chars
				}
				piece := strings.TrimSpace(lastPiece.ReplaceAllString(before+" ", ""))
				spaced := i+1 == len(line) || line[i+1] == ' '
				if !spaced || !plainEnd.MatchString(piece) {
					out = append(out, cut{n + 1, 1 + utf8.RuneCountInString(line[:i]), piece, strings.TrimSpace(line[i:])})
				}
				break chars
			default:
				if c == '[' || c == '{' || c == ',' || (c == ':' || c == '-') && (i+1 == len(line) || line[i+1] == ' ') {
					fresh = true
				} else if c != ' ' && c != '\t' {
					fresh = false
				}
			}
		}
		if quote == 0 {
			if end := strings.TrimRight(line, " "); strings.HasSuffix(end, ": |") || strings.HasSuffix(end, ": >") || strings.HasSuffix(end, ": |-") || strings.HasSuffix(end, ": >-") {
				block = indent
			}
		}
	}
	return out
}

// tellCuts reports them.
func (r *reader) tellCuts(text string) []cut {
	found := cuts(text)
	for _, c := range found {
		r.add(c.line+r.shift, c.column, "the note ends here with “"+last(c.kept)+"”, for a # behind a blank begins a remark: "+quote(c.lost)+" would be lost",
			"put the whole text in quotes; a remark stands on a line of its own")
	}
	return found
}

// last is the end of a text, so that a message stays short.
func last(text string) string {
	if r := []rune(text); len(r) > 30 {
		return "…" + string(r[len(r)-30:])
	}
	return text
}

// first is the beginning of a text, so that a message stays short.
func first(text string) string {
	if r := []rune(text); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return text
}

// headless is a line that was meant for a heading.
var headless = regexp.MustCompile(`^(?:#{2,6}[^#\s]|#\pL)`)

// slips looks through a body for what Markdown takes for plain text and was
// meant otherwise.
func (l *loader) slips(b *body) {
	src := b.doc.Source
	_ = ast.Walk(b.doc.Body, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Paragraph:
			for i := range n.Lines().Len() {
				seg := n.Lines().At(i)
				line := seg.Value(src)
				switch {
				case len(line) > 0 && line[0] == '#' && headless.Match(line):
					l.report(b, seg.Start, "this line was meant for a heading, and is none", "put a blank behind the #, like ## How to confirm")
				case b.doc.Kind == KindChecklist && boxless.Match(line):
					l.report(b, seg.Start, "this line was meant for a step, and is none", "write it as - [ ] with a blank before, in and behind the brackets")
				}
			}
		case *ast.ListItem:
			if b.doc.Kind == KindChecklist && !ticked(n) && !insideStep(n) {
				l.report(b, offset(n), "this line of the list is no step, and cannot be ticked", "write it as - [ ] and what to do; what is no step stands in a line without a dash")
			}
		}
		return ast.WalkContinue, nil
	})
}

// boxless is a step whose box lacks a blank.
var boxless = regexp.MustCompile(`^[-*+]\s*\[\s*[xX]?\s*\]`)

// ticked tells whether a list item begins with a box.
func ticked(item *ast.ListItem) bool {
	c := item.FirstChild()
	return c != nil && c.FirstChild() != nil && c.FirstChild().Kind() == east.KindTaskCheckBox
}

// insideStep tells whether an item stands below a step, as what belongs to it.
func insideStep(n ast.Node) bool {
	for p := n.Parent(); p != nil; p = p.Parent() {
		if item, ok := p.(*ast.ListItem); ok && ticked(item) {
			return true
		}
	}
	return false
}
