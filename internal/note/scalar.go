package note

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/internal/format"
)

// plain takes an anchor or a tag off a value; notes use neither.
func (r *reader) plain(n ast.Node) ast.Node {
	switch v := n.(type) {
	case *ast.AnchorNode:
		r.at(n, "an anchor (&) is not used in notes", "write the value alone, and put a text that begins with & in quotes")
		return r.plain(v.Value)
	case *ast.TagNode:
		r.at(n, "a tag (!) is not used in notes", "write the value alone, and put a text that begins with ! in quotes")
		return r.plain(v.Value)
	}
	return n
}

// isEmpty: nothing stands after the colon.
func isEmpty(n ast.Node) bool {
	_, null := n.(*ast.NullNode)
	return n == nil || null
}

// text is a scalar as written. Numbers are computed in a note's text and in a
// test's reads only, so an address anywhere else would stand there as it is.
func (r *reader) text(n ast.Node, what string) string {
	text := r.scalar(n, what)
	if strings.Contains(text, calc.Scheme) {
		r.at(n, what+" holds a calc: address, which is not computed here", "put the number into the note's text below")
	}
	return text
}

// scalar is a scalar as written, which may be the address of a number.
func (r *reader) scalar(n ast.Node, what string) string {
	text := ""
	switch n := r.plain(n).(type) {
	case *ast.StringNode:
		text = strings.TrimSpace(n.Value)
	case *ast.LiteralNode:
		if n.Value != nil {
			text = strings.TrimSpace(n.Value.Value)
		}
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		text = strings.TrimSpace(n.GetToken().Value)
	case nil, *ast.NullNode:
	case *ast.AliasNode:
		r.at(n, "an alias (*) is not used in notes", "write the value itself, and put a text that begins with * in quotes")
		return ""
	default:
		r.at(n, what+" should be one plain text", "put quotes around it if it holds a colon, a bracket or a #")
		return ""
	}
	switch {
	case text == "":
		r.at(n, what+" is empty", "fill it in, or take it out")
	case unheld(n, text):
		r.at(n, what+" begins with "+string([]rune(text)[0])+", and these signs hold no text together: a comma, a colon or a # may have cut it", "put straight quotes \" round the whole text")
	case bulleted(n, text):
		r.at(n, "this text begins with "+string([]rune(text)[0])+", which makes no list here", "write - and a blank before each entry, each on a line of its own")
	case r.unfilled != nil && format.Unfilled(text):
		*r.unfilled = append(*r.unfilled, unfilled{r, n})
	}
	return text
}

// bulleted tells whether a text begins with a sign that a word processor puts before the entries of a list.
func bulleted(n ast.Node, text string) bool {
	s, ok := n.(*ast.StringNode)
	if !ok || s.GetToken() == nil || s.GetToken().Type != token.StringType {
		return false
	}
	sign, size := utf8.DecodeRuneInString(text)
	return strings.ContainsRune("–—•◦▪·*", sign) && size < len(text) && strings.ContainsAny(text[size:size+1], " \t")
}

// unheld tells whether a text begins with a printed quotation mark that nothing in
// it closes.
func unheld(n ast.Node, text string) bool {
	if s, ok := n.(*ast.StringNode); !ok || s.GetToken() == nil || s.GetToken().Type != token.StringType {
		return false
	}
	first, size := utf8.DecodeRuneInString(text)
	return strings.ContainsRune("„“»«‚‘”", first) && !strings.ContainsAny(text[size:], "“”»«‘’")
}

// number is a plain number.
func (r *reader) number(n ast.Node, what string, low, high float64) float64 {
	text := r.text(n, what)
	if text == "" {
		return low
	}
	v, err := quantity.Parse(quantity.Ratio, text)
	if err != nil || v.Ranged() {
		r.at(n, what+" should be a number, not "+quote(text), "write digits without a unit, like 2 or 0.5")
		return low
	}
	if v.Num < low || v.Num > high {
		digits := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
		bounds := "at least " + digits(low)
		if high < 1e9 {
			bounds = "between " + digits(low) + " and " + digits(high)
		}
		r.at(n, what+" is "+digits(v.Num), "it should be "+bounds)
		return low
	}
	return v.Num
}

func (r *reader) flag(n ast.Node, what string) bool {
	if b, ok := n.(*ast.BoolNode); ok {
		return b.Value
	}
	r.at(n, what+" should be true or false", "write true or false")
	s, _ := n.(*ast.StringNode)
	return s != nil && (strings.EqualFold(s.Value, "yes") || strings.EqualFold(s.Value, "on")) // as it was meant
}

// list is a sequence; a single value counts as a list of one.
func (r *reader) list(n ast.Node) []ast.Node {
	s, ok := n.(*ast.SequenceNode)
	if !ok {
		return []ast.Node{n}
	}
	items := make([]ast.Node, 0, len(s.Values))
	for _, v := range s.Values {
		if isEmpty(v) {
			r.at(v, "an entry of this list is empty", "fill it in, or take it out")
			continue
		}
		items = append(items, r.plain(v))
	}
	return items
}

// texts is a list of plain texts.
func (r *reader) texts(n ast.Node, what string) []string {
	var out []string
	for _, v := range r.list(n) {
		out = append(out, r.text(v, what))
	}
	return out
}

// IsName tells whether a text can be the name of a note, which is an id.
func IsName(s string) bool { return trace.IsID(s) }

func (r *reader) id(n ast.Node, what string) string {
	s := r.text(n, what)
	if s != "" && !IsName(s) {
		r.at(n, what+" "+quote(s)+" is not a plain name", "use small letters, digits and hyphens, like cut-out")
	}
	return s
}

// oneOf is a word out of a few.
func (r *reader) oneOf(n ast.Node, what string, choices ...string) string {
	s := r.text(n, what)
	for _, c := range choices {
		if s == c {
			return s
		}
	}
	if s != "" {
		do := "it should be one of " + strings.Join(choices, ", ")
		if near := nearest(s, choices); near != "" {
			do = "did you mean “" + near + "”"
		}
		r.at(n, what+" cannot be "+quote(s), do)
	}
	return choices[0]
}
