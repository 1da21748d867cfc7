package note

import (
	"bytes"
	"errors"
	"io/fs"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"faultleaf/internal/problem"
)

// reader reads one file and notes what is wrong in it.
type reader struct {
	file     string
	problems *problem.List
	shift    int // lines before the YAML text
}

func (r *reader) at(n ast.Node, says, do string) {
	line, column := 1, 1
	if n != nil && n.GetToken() != nil && n.GetToken().Position != nil {
		// a mapping is found at its first colon, so look at its first key
		for {
			m, ok := n.(*ast.MappingNode)
			if !ok || m.IsFlowStyle || len(m.Values) == 0 {
				break
			}
			n = m.Values[0].Key
		}
		p := n.GetToken().Position
		line, column = p.Line, p.Column
	}
	r.problems.Add(r.file, line+r.shift, column, says, do)
}

// parse reads YAML text as one mapping.
func (r *reader) parse(text []byte) (mapping, bool) {
	f, err := safely(func() (*ast.File, error) { return parser.ParseBytes(text, 0, parser.AllowDuplicateMapKey()) })
	if err != nil {
		var s *yaml.SyntaxError
		if errors.As(err, &s) && s.Token != nil && s.Token.Position != nil {
			r.problems.Add(r.file, s.Token.Position.Line+r.shift, s.Token.Position.Column, "this is no valid YAML: "+s.Message, "look for a missing quote, bracket or colon here or just before")
		} else {
			r.problems.Add(r.file, 1+r.shift, 1, "the front matter is no valid YAML", "compare it with another note of the same kind")
		}
		return mapping{}, false
	}
	if len(f.Docs) == 0 || f.Docs[0].Body == nil {
		r.problems.Add(r.file, 1+r.shift, 1, "nothing is filled in here", "write the keys that this kind of note needs")
		return mapping{}, false
	}
	if len(f.Docs) > 1 {
		r.at(f.Docs[1].Body, "a second YAML document begins here", "keep one")
	}
	return r.mapping(f.Docs[0].Body, "the front matter")
}

// safely turns a panic of the YAML library into an error: a note is any text,
// and a reader must not lose the other notes over one.
func safely(parse func() (*ast.File, error)) (f *ast.File, err error) {
	defer func() {
		if recover() != nil {
			f, err = nil, errors.New("the YAML cannot be read")
		}
	}()
	return parse()
}

// entry is one key of a mapping.
type entry struct {
	name  string
	key   ast.Node
	value ast.Node
	taken bool
}

// mapping is a YAML mapping that knows which of its keys have been asked for.
type mapping struct {
	r       *reader
	node    ast.Node
	entries []*entry
	asked   []string
}

func (r *reader) mapping(n ast.Node, what string) (mapping, bool) {
	m := mapping{r: r, node: n}
	values, ok := mapValues(n)
	if !ok {
		r.at(n, what+" should be a list of name: value", "write it like {name: value}")
		return m, false
	}
	for _, v := range values {
		name := v.Key.GetToken().Value
		for _, e := range m.entries {
			if e.name == name {
				r.at(v.Key, "“"+name+"” stands here twice", "keep one")
			}
		}
		m.entries = append(m.entries, &entry{name: name, key: v.Key, value: v.Value})
	}
	return m, true
}

func mapValues(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch n := n.(type) {
	case *ast.MappingNode:
		return n.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}, true
	}
	return nil, false
}

// get finds a key; an empty value counts as not there.
func (m *mapping) get(name string) (ast.Node, bool) {
	m.asked = append(m.asked, name)
	for _, e := range m.entries {
		if e.name == name {
			e.taken = true
			if _, null := e.value.(*ast.NullNode); null || e.value == nil {
				return nil, false
			}
			return e.value, true
		}
	}
	return nil, false
}

// need finds a key that must be there.
func (m *mapping) need(name, do string) (ast.Node, bool) {
	v, ok := m.get(name)
	if !ok {
		m.r.at(m.node, "“"+name+"” is missing", do)
	}
	return v, ok
}

// finish reports the keys that nothing asked for.
func (m *mapping) finish() {
	for _, e := range m.entries {
		if e.taken {
			continue
		}
		do := "it may have " + strings.Join(m.asked, ", ")
		if near := nearest(e.name, m.asked); near != "" {
			do = "did you mean “" + near + "”"
		}
		m.r.at(e.key, "“"+e.name+"” is not known here", do)
	}
}

// nearest finds a name that differs by a slip or two.
func nearest(name string, among []string) string {
	best, which := 3, ""
	for _, a := range among {
		if d := distance(name, a); d < best && d*2 < len(a)+1 {
			best, which = d, a
		}
	}
	return which
}

// distance is the number of letters to change, add or drop.
func distance(a, b string) int {
	if len(a) > 60 || len(b) > 60 {
		return 60
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diag := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diag
			if a[i] != b[j] {
				cost++
			}
			diag = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// text is a scalar as written.
func (r *reader) text(n ast.Node, what string) string {
	switch n := n.(type) {
	case *ast.StringNode:
		return strings.TrimSpace(n.Value)
	case *ast.LiteralNode:
		return strings.TrimSpace(n.Value.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NullNode, *ast.InfinityNode, *ast.NanNode:
		return strings.TrimSpace(n.GetToken().Value)
	}
	r.at(n, what+" should be plain text", "put quotes around it if it holds : or #")
	return ""
}

// number is an amount in plain digits.
func (r *reader) number(n ast.Node, what string, low, high float64) float64 {
	text := r.text(n, what)
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || x != x {
		r.at(n, what+" should be a number, not “"+text+"”", "write digits, like 2 or 0.5")
		return low
	}
	if x < low || x > high {
		bounds := "at least " + short(low)
		if high < 1e9 {
			bounds = "between " + short(low) + " and " + short(high)
		}
		r.at(n, what+" is "+short(x), "it should be "+bounds)
		return low
	}
	return x
}

func short(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

func (r *reader) flag(n ast.Node, what string) bool {
	if b, ok := n.(*ast.BoolNode); ok {
		return b.Value
	}
	r.at(n, what+" should be true or false", "write true or false")
	return false
}

// list is a sequence; a single value counts as a list of one.
func (r *reader) list(n ast.Node) []ast.Node {
	if s, ok := n.(*ast.SequenceNode); ok {
		return s.Values
	}
	return []ast.Node{n}
}

// texts is a list of plain texts.
func (r *reader) texts(n ast.Node, what string) []string {
	var out []string
	for _, v := range r.list(n) {
		out = append(out, r.text(v, what))
	}
	return out
}

// isName: lower-case letters, digits and hyphens, as ids and file names are.
func isName(s string) bool {
	for i := range len(s) {
		c := s[i]
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return s != "" && s[0] != '-' && s[len(s)-1] != '-'
}

func (r *reader) id(n ast.Node, what string) string {
	s := r.text(n, what)
	if s != "" && !isName(s) {
		r.at(n, what+" “"+s+"” is not a plain name", "use small letters, digits and hyphens, like cut-out")
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
	r.at(n, what+" is “"+s+"”", "it should be one of "+strings.Join(choices, ", "))
	return choices[0]
}

// split parts a file into its front matter and its body. Line ends become \n and
// a byte order mark goes, so that lines and columns are those an editor shows.
func (r *reader) split(raw []byte) (front, body []byte, ok bool) {
	raw = clean(raw)
	if !bytes.HasPrefix(raw, []byte("---\n")) {
		r.problems.Add(r.file, 1, 1, "the note does not begin with its front matter", "write --- on the first line, the keys below it, and --- again")
		return nil, nil, false
	}
	rest := raw[4:]
	for at := 0; at <= len(rest); {
		end := bytes.IndexByte(rest[at:], '\n')
		line := rest[at:]
		if end >= 0 {
			line = rest[at : at+end]
		}
		if string(bytes.TrimRight(line, " \t")) == "---" {
			front = rest[:at]
			if end >= 0 {
				body = rest[at+end+1:]
			}
			r.shift = 1
			return front, body, true
		}
		if end < 0 {
			break
		}
		at += end + 1
	}
	r.problems.Add(r.file, 1, 1, "the front matter is not closed", "write --- on a line of its own below the last key")
	return nil, nil, false
}

func clean(raw []byte) []byte {
	raw = bytes.TrimPrefix(raw, []byte("\ufeff"))
	raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
	if !utf8.Valid(raw) {
		raw = bytes.ToValidUTF8(raw, []byte("\ufffd"))
	}
	return raw
}

// readFile reads a file of the shop; what cannot be read is a problem.
func readFile(fsys fs.FS, r *reader) ([]byte, bool) {
	raw, err := fs.ReadFile(fsys, r.file)
	if err != nil {
		r.problems.Add(r.file, 0, 0, "the file cannot be read", "check that it is there and that you may read it")
		return nil, false
	}
	return raw, true
}
