package note

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// The YAML library reads all of YAML, at a price: of reading a shop, half of the
// time went there. Nearly all front matter is of a few forms only, which plain reads:
//
//	key: value
//	key: {name: value, name: [value, "quoted value"]}
//	key:
//	  - value
//	  - name: value
//
// each value on its line, without remarks, tabs, backslashes, anchors and tags. It
// gives what the library gives, as far as this package looks at it: the kinds and
// values of nodes, and of their tokens the type, value, line and column. Whatever
// else there is, right or wrong, it leaves to the library.

// syntax reads a YAML text: the trees of its documents, nil for one that is empty.
func syntax(text string) ([]ast.Node, error) {
	if n := plain(text); n != nil {
		return []ast.Node{n}, nil
	}
	return syntaxByLibrary(text)
}

func syntaxByLibrary(text string) (trees []ast.Node, err error) {
	f, err := safely(func() (*ast.File, error) { return parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey()) })
	if err != nil {
		return nil, err
	}
	for _, doc := range f.Docs {
		trees = append(trees, doc.Body)
	}
	return trees, nil
}

// plainReader stands at a byte of a text.
type plainReader struct {
	text         string
	at           int
	line, column int // there, from 1
	indent       int // of the line that begins there, where one does; -1 at the end
	deep         int
	texts        []textNode // to be used
	pairs        []ast.MappingValueNode
}

// textNode is a text with its token, in one piece of memory.
type textNode struct {
	node  ast.StringNode
	token token.Token
	place token.Position
}

// declined ends the reading of a text that is not so plain.
type declined struct{}

// deepestPlain is how far values may lie in each other.
const deepestPlain = 20

// plain reads a text, or gives nil where it has to be left to the library.
func plain(text string) (n ast.Node) {
	if strings.ContainsAny(text, "\t\\\r") || !utf8.ValidString(text) {
		return nil
	}
	defer func() {
		if x := recover(); x != nil {
			if _, ok := x.(declined); !ok {
				panic(x)
			}
			n = nil
		}
	}()
	r := &plainReader{text: text, line: 1, column: 1}
	if r.nextLine(); r.indent != 0 {
		return nil
	}
	n = r.block()
	if r.indent >= 0 {
		return nil
	}
	return n
}

func (r *plainReader) must(ok bool) {
	if !ok {
		panic(declined{})
	}
}

// peek is the byte at which the reader stands, \n at the end.
func (r *plainReader) peek() byte {
	if r.at < len(r.text) {
		return r.text[r.at]
	}
	return '\n'
}

// over tells whether the line ends n bytes further on, and ends whether it does or a
// blank stands there.
func (r *plainReader) over(n int) bool { return r.at+n >= len(r.text) || r.text[r.at+n] == '\n' }
func (r *plainReader) ends(n int) bool { return r.over(n) || r.text[r.at+n] == ' ' }

// dash tells whether an item of a list begins here.
func (r *plainReader) dash() bool { return r.peek() == '-' && r.ends(1) }

// pass goes over some bytes of a line.
func (r *plainReader) pass(n int) {
	r.column += utf8.RuneCountInString(r.text[r.at : r.at+n])
	r.at += n
}

func (r *plainReader) blanks() {
	for r.at < len(r.text) && r.text[r.at] == ' ' {
		r.pass(1)
	}
}

// nextLine goes on from the end of a line to the beginning of the next one that
// holds anything.
func (r *plainReader) nextLine() {
	for r.blanks(); r.at < len(r.text) && r.text[r.at] == '\n'; r.blanks() {
		r.at, r.line, r.column = r.at+1, r.line+1, 1
	}
	if r.indent = r.column - 1; r.at == len(r.text) {
		r.indent = -1
	}
}

func (r *plainReader) position() token.Position {
	return token.Position{Line: r.line, Column: r.column}
}

// block reads the lines of a mapping or of a list, all as far indented as this one.
func (r *plainReader) block() ast.Node {
	r.deep++
	r.must(r.deep < deepestPlain)
	read := r.entries
	if r.dash() {
		read = r.items
	}
	n := read()
	r.deep--
	return n
}

// colon stands nowhere, for an entry is found at its key.
var colon = &token.Token{Type: token.MappingValueType, Value: ":", Position: &token.Position{}}

func (r *plainReader) entries() ast.Node {
	m := &ast.MappingNode{Start: colon, Values: make([]*ast.MappingValueNode, 0, 8)}
	for indent := r.indent; r.indent == indent; {
		key := r.key()
		at := r.position()
		var value ast.Node
		if r.colon(); r.peek() != '\n' {
			value = r.value(inLine)
			r.must(r.peek() == '\n')
			r.nextLine()
		} else if r.nextLine(); r.indent > indent || r.indent == indent && r.dash() {
			value = r.block()
		} else {
			if r.indent < 0 { // so the library has it
				at.Column++
			}
			value = nothing(at)
		}
		r.must(r.indent <= indent)
		m.Values = append(m.Values, r.pair(colon, key, value))
	}
	return m
}

func (r *plainReader) items() ast.Node {
	at := r.position()
	s := &ast.SequenceNode{Start: &token.Token{Type: token.SequenceEntryType, Value: "-", Position: &at}}
	for indent := r.indent; r.indent == indent && r.dash(); {
		r.pass(1)
		r.blanks()
		r.must(r.peek() != '\n' && !r.dash())
		if r.hasKey() {
			r.indent = r.column - 1
			s.Values = append(s.Values, r.block())
		} else {
			s.Values = append(s.Values, r.value(inLine))
			r.must(r.peek() == '\n')
			r.nextLine()
		}
		r.must(r.indent <= indent)
	}
	return s
}

// hasKey tells whether an item of a list begins with a name and a colon.
func (r *plainReader) hasKey() bool {
	line, _, _ := strings.Cut(r.text[r.at:], "\n")
	return !strings.ContainsRune(`"{[`, rune(line[0])) && (strings.Contains(line, ": ") || strings.HasSuffix(line, ":"))
}

// key reads a name, up to the colon or what else ends it.
func (r *plainReader) key() ast.MapKeyNode {
	r.must(beginsPlain(r.peek()))
	n := 0
	for ; !r.over(n); n++ {
		if c := r.text[r.at+n]; !(strings.IndexByte(" -_.", c) >= 0 || beginsPlain(c)) {
			break
		}
	}
	key, ok := r.scalar(n).(ast.MapKeyNode)
	r.must(ok)
	return key
}

// colon reads the colon behind a key, and the blanks behind it.
func (r *plainReader) colon() {
	r.must(r.peek() == ':' && r.ends(1))
	r.pass(1)
	r.blanks()
}

// nothing is the value that is missing behind a place.
func nothing(behind token.Position) ast.Node {
	behind.Column++
	return &ast.NullNode{Token: &token.Token{Type: token.ImplicitNullType, Value: "null", Position: &behind}}
}

func (r *plainReader) pair(start *token.Token, key ast.MapKeyNode, value ast.Node) *ast.MappingValueNode {
	if len(r.pairs) == 0 {
		r.pairs = make([]ast.MappingValueNode, 16)
	}
	p := &r.pairs[0]
	r.pairs = r.pairs[1:]
	p.Start, p.Key, p.Value = start, key, value
	return p
}

// Where a value stands: between brackets, commas and brackets end it, and the library
// parts a text at any colon, but not behind another one.
type place int

const (
	inLine place = iota
	inList
	inPair
)

// value reads a value that stands in one line.
func (r *plainReader) value(at place) ast.Node {
	r.deep++
	r.must(r.deep < deepestPlain)
	var n ast.Node
	switch r.peek() {
	case '[':
		n = r.list()
	case '{':
		n = r.group()
	case '"':
		n = r.quoted()
	default:
		n = r.scalar(r.length(at))
	}
	r.blanks()
	r.deep--
	return n
}

// listNode is a list with its token, in one piece of memory, and groupNode a group.
type listNode struct {
	node  ast.SequenceNode
	token token.Token
	place token.Position
}

type groupNode struct {
	node  ast.MappingNode
	token token.Token
	place token.Position
}

// list reads a list between brackets.
func (r *plainReader) list() ast.Node {
	x := &listNode{place: r.position()}
	x.token = token.Token{Type: token.SequenceStartType, Value: "[", Position: &x.place}
	s := &x.node
	s.Start, s.IsFlowStyle = &x.token, true
	for first := true; r.between(first, ']'); first = false {
		n := r.value(inList)
		if r.peek() == ':' { // one pair that stands without braces
			key, ok := n.(*ast.StringNode)
			r.must(ok)
			r.colon()
			n = &ast.MappingNode{Start: colon, Values: []*ast.MappingValueNode{r.pair(colon, key, r.value(inPair))}}
		}
		s.Values = append(s.Values, n)
	}
	return s
}

// group reads a mapping between braces.
func (r *plainReader) group() ast.Node {
	x := &groupNode{place: r.position()}
	x.token = token.Token{Type: token.MappingStartType, Value: "{", Position: &x.place}
	m := &x.node
	m.Start, m.IsFlowStyle, m.Values = &x.token, true, make([]*ast.MappingValueNode, 0, 4)
	for first := true; r.between(first, '}'); first = false {
		key := r.key()
		if c := r.peek(); c == ',' || c == '}' {
			m.Values = append(m.Values, r.pair(key.GetToken(), key, nothing(*key.GetToken().Position)))
			continue
		}
		r.colon()
		m.Values = append(m.Values, r.pair(colon, key, r.value(inPair)))
	}
	return m
}

// between goes from an opening bracket, or from behind an entry, to the next entry,
// or behind the closing bracket: then it is false.
func (r *plainReader) between(first bool, end byte) bool {
	if !first && r.peek() == end {
		r.pass(1)
		return false
	}
	r.must(first || r.peek() == ',')
	r.pass(1)
	r.blanks()
	switch {
	case first && r.peek() == end:
		r.pass(1)
		return false
	case !first && r.peek() == '\n': // entries may go on in the next line
		r.nextLine()
		r.must(r.indent > 0)
	}
	return true
}

// quoted reads a text between double quotes.
func (r *plainReader) quoted() ast.Node {
	n := strings.IndexAny(r.text[r.at+1:], "\"\n")
	r.must(n >= 0 && r.text[r.at+1+n] == '"')
	t := r.string(token.DoubleQuoteType, r.text[r.at+1:r.at+1+n])
	r.pass(n + 2)
	return t
}

// length is how long the plain text is that begins here.
func (r *plainReader) length(at place) int {
	r.must(beginsPlain(r.peek()))
	n := 1
	for ; !r.over(n); n++ {
		switch c := r.text[r.at+n]; {
		case c < ' ' || c == 0x7f:
			r.must(false)
		case c == '#':
			r.must(r.text[r.at+n-1] != ' ')
		case c == ':' && r.ends(n+1):
			return n
		case c == ':':
			r.must(at == inLine || at == inPair && strings.IndexByte(",[]{}", r.text[r.at+n+1]) < 0)
		case at == inLine:
		case c == ',' || c == ']' || c == '}':
			return n
		case c == '[' || c == '{':
			r.must(false)
		}
	}
	r.must(at == inLine)
	return n
}

// scalar reads a plain text, a number, true, false or null that is some bytes long.
func (r *plainReader) scalar(n int) ast.Node {
	text := r.text[r.at : r.at+n]
	r.must(text[n-1] != ' ') // the library finds such a text further right than it stands
	defer r.pass(n)
	if c := text[0]; c >= utf8.RuneSelf || isLetter(c) && !slices.Contains(reserved, strings.ToLower(text)) {
		return r.string(token.StringType, text)
	}
	if n, ok := plainNumber(text); ok {
		return r.number(text, n)
	}
	at := r.position()
	t := token.New(text, text, &at)
	switch t.Type {
	case token.StringType:
		return r.string(token.StringType, text)
	case token.BoolType:
		return ast.Bool(t)
	case token.IntegerType, token.BinaryIntegerType, token.OctetIntegerType, token.HexIntegerType:
		return ast.Integer(t)
	case token.FloatType:
		return ast.Float(t)
	}
	panic(declined{})
}

// plainNumber reads what is nothing but digits, with or without a point and more of them;
// all other numbers are the library's.
func plainNumber(text string) (n any, ok bool) {
	point := -1
	for i := range len(text) {
		switch c := text[i]; {
		case c == '.' && point < 0 && i > 0:
			point = i
		case c < '0' || c > '9':
			return nil, false
		}
	}
	switch {
	case len(text) > 15 || point == len(text)-1 || text[0] == '0' && point != 1 && len(text) > 1:
		return nil, false
	case point < 0:
		x, err := strconv.ParseUint(text, 10, 64)
		return x, err == nil
	}
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil
}

// numberNode is a number with its token, in one piece of memory.
type numberNode struct {
	whole ast.IntegerNode
	part  ast.FloatNode
	token token.Token
	place token.Position
}

func (r *plainReader) number(text string, n any) ast.Node {
	x := &numberNode{place: r.position()}
	x.token = token.Token{Type: token.IntegerType, Value: text, Position: &x.place}
	if part, ok := n.(float64); ok {
		x.token.Type, x.part.Token, x.part.Value = token.FloatType, &x.token, part
		return &x.part
	}
	x.whole.Token, x.whole.Value = &x.token, n
	return &x.whole
}

// reserved are words that may be no texts.
var reserved = []string{"true", "false", "null"}

func (r *plainReader) string(of token.Type, text string) ast.Node {
	if len(r.texts) == 0 {
		r.texts = make([]textNode, 16)
	}
	t := &r.texts[0]
	r.texts = r.texts[1:]
	t.place = r.position()
	t.token = token.Token{Type: of, Value: text, Position: &t.place}
	t.node = ast.StringNode{Token: &t.token, Value: text}
	return &t.node
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// beginsPlain tells whether a text without quotes may begin so.
func beginsPlain(c byte) bool { return isLetter(c) || c >= '0' && c <= '9' || c >= utf8.RuneSelf }
