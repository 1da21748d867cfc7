package note

import (
	"bytes"
	"fmt"
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
	if at := secondHead(src); at >= 0 {
		l.report(b, at, "a second head begins here, and its keys would stand in the text", "keep one head, and take the lines from this --- to the next out")
	}
	_ = ast.Walk(b.doc.Body, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Paragraph:
			if says, do := untabled(n, src); says != "" {
				l.report(b, n.Lines().At(0).Start, says, do)
			}
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
		case *east.TableRow:
			if first := offset(n); first > 0 {
				begin := bytes.LastIndexByte(src[:first], '\n') + 1
				line, _, _ := bytes.Cut(src[begin:], []byte("\n"))
				if has := cellsOf(line); has > n.ChildCount() {
					l.report(b, begin, fmt.Sprintf("this row of the table has %d cells, and its head %d, so that the last would be lost", has, n.ChildCount()), "give the head as many cells, or write \\| for a bar that parts none")
				}
			}
		case *ast.ListItem:
			if b.doc.Kind == KindChecklist && !ticked(n) && !insideStep(n) {
				before, again := n.PreviousSibling().(*ast.ListItem)
				if again && !ticked(before) {
					return ast.WalkContinue, nil // told at the first
				}
				says, each := "this line of the list is no step, and cannot be ticked", "it"
				if next, ok := n.NextSibling().(*ast.ListItem); ok && !ticked(next) {
					says, each = "these lines of the list are no steps, and cannot be ticked", "each"
				}
				l.report(b, offset(n), says, "write "+each+" as - [ ] and what to do; what is no step stands in a line without a dash")
			}
		}
		return ast.WalkContinue, nil
	})
}

// secondHead is where a body begins another front matter, as one that was pasted above the first leaves it; -1
// where none does.
func secondHead(src []byte) int {
	at := 0
	was := ""
	for line := range strings.SplitSeq(string(src), "\n") {
		if was == "---" && (strings.HasPrefix(line, "title: ") || strings.HasPrefix(line, "device: ")) {
			return at - len("---\n")
		}
		if strings.HasPrefix(line, "```") {
			return -1 // what is shown as it is typed may be a whole note
		}
		was = line
		at += len(line) + 1
	}
	return -1
}

// untabled says what is wrong with lines that were meant for a table, and that Markdown runs together.
func untabled(n *ast.Paragraph, src []byte) (says, do string) {
	bars, tabs := 0, 0
	for i := range n.Lines().Len() {
		seg := n.Lines().At(i)
		line := strings.TrimSpace(string(seg.Value(src)))
		if strings.HasPrefix(line, "|") && strings.HasSuffix(line, "|") && len(line) > 2 {
			bars++
		}
		if strings.Contains(line, "\t") {
			tabs++
		}
	}
	switch lines := n.Lines().Len(); {
	case bars > 1 && bars == lines:
		return "these lines were meant for a table, and are none", "put a line like | --- | --- | below the first, with as many cells as it has"
	case tabs > 1 && tabs == lines:
		return "tabs part these lines into a table, and the page would run them together", "write each line as | a | b |, and | --- | --- | below the first"
	}
	return "", ""
}

// cellsOf is how many cells a line of a table has.
func cellsOf(line []byte) int {
	text := strings.TrimSpace(strings.ReplaceAll(string(line), `\|`, ""))
	return strings.Count(strings.TrimSuffix(strings.TrimPrefix(text, "|"), "|"), "|") + 1
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
