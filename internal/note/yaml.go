package note

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/internal/format"
	"faultleaf/internal/problem"
)

// reader reads one file and notes what is wrong in it.
type reader struct {
	file     string
	problems *problem.List
	raw      []byte           // the whole file
	lines    []string         // of it, once they are asked for
	shift    int              // lines before the YAML text
	slips    int              // lines that were found to have slipped
	effort   *int             // notes in which a slipped line was looked for
	told     map[string]bool  // see tell
	unfilled *[]unfilled      // collects what still stands as it was begun
	moved    map[ast.Node]int // lines before a part of it that was parsed alone
}

func (r *reader) at(n ast.Node, says, do string) {
	line, column := r.place(n)
	r.add(line, column, says, do)
}

// root tells what others may follow from.
func (r *reader) root(n ast.Node, says, do string) {
	r.asRoot(func() { r.at(n, says, do) })
}

func (r *reader) asRoot(tell func()) {
	before := len(*r.problems)
	tell()
	for i := before; i < len(*r.problems); i++ {
		(*r.problems)[i].Root = true
	}
}

// rows are the lines of the file. Few notes have anything wrong that asks for them.
func (r *reader) rows() []string {
	if r.lines == nil {
		r.lines = strings.Split(string(r.raw), "\n")
	}
	return r.lines
}

// add notes a problem; its column is at most one past the end of its line.
func (r *reader) add(line, column int, says, do string) {
	lines := r.rows()
	line = min(max(line, 1), max(len(lines), 1))
	long := 0
	if line <= len(lines) {
		long = utf8.RuneCountInString(lines[line-1])
	}
	r.problems.Add(r.file, line, min(max(column, 1), long+1), says, do)
}

// place is the line and column of a node in the file.
func (r *reader) place(n ast.Node) (line, column int) {
	if n == nil || n.GetToken() == nil || n.GetToken().Position == nil {
		return 1 + r.shift, 1
	}
	moved, ok := r.moved[n]
	if !ok {
		moved = r.shift
	}
	// a mapping is found at its first colon, so look at its first key
	for {
		if m, ok := n.(*ast.MappingNode); ok && !m.IsFlowStyle && len(m.Values) > 0 {
			n = m.Values[0].Key
		} else if v, ok := n.(*ast.MappingValueNode); ok && v.Key != nil {
			n = v.Key
		} else {
			break
		}
	}
	p := n.GetToken().Position
	return p.Line + moved, p.Column
}

// parse reads YAML text as one mapping. Where it cannot be read as a whole, each
// of its top entries is read alone, so that one slip hides no other; the keys
// of those that stay unreadable are damaged.
func (r *reader) parse(text string, keys format.Keys) (mapping, bool) {
	m := mapping{r: r, keys: keys, damaged: map[string]bool{}}
	if len(text) > longestKeys && !strings.HasSuffix(r.file, ".yaml") { // those are the shop's own
		r.problems.AddRoot(r.file, 1+r.shift, 1, fmt.Sprintf("there are more than %d kB of keys here", longestKeys>>10), "take out what nobody needs, or write it as text below them")
		return m, false
	}
	cuts := r.tellCuts(text)
	before := len(*r.problems)
	err := r.entries(&m, text, r.shift)
	if keys != nil && len(cuts) == 0 && (err != nil || m.misfits() > 0) {
		if straight := r.straighten(text, keys); straight != text {
			slips := slices.Clone((*r.problems)[len(*r.problems)-r.slips:])
			*r.problems = append((*r.problems)[:before], slips...) // what was told of the crooked text is not true
			m.entries, m.node, m.damaged, text = nil, nil, map[string]bool{}, straight
			err = r.entries(&m, straight, r.shift)
		}
	}
	if err == nil {
		if len(m.entries) == 0 && strings.TrimSpace(text) == "" {
			r.add(1+r.shift, 1, "nothing is filled in here", "write the keys that this kind of note needs")
			return m, false
		}
	} else {
		m.entries, m.node = nil, nil
		lines := strings.SplitAfter(text, "\n")
		for i := 0; i < len(lines); {
			j := i + 1
			for j < len(lines) && !startsEntry(lines[j]) {
				j++
			}
			if err := r.entries(&m, strings.Join(lines[i:j], ""), r.shift+i); err != nil {
				if !slices.ContainsFunc(cuts, func(c cut) bool { return c.line > i && c.line <= j }) {
					r.unreadable(err, r.shift+i)
				}
				key, _, _ := strings.Cut(lines[i], ":")
				m.damaged[strings.Trim(key, " \"'")] = true
				r.tell(strings.Trim(key, " \"'"))
			}
			i = j
		}
	}
	m.twice()
	return m, true
}

// startsEntry tells whether a line begins a new entry of the front matter: it
// is not indented, closes no bracket and has a colon.
func startsEntry(line string) bool {
	return line != "" && !strings.ContainsRune(" \t\n#]}-\"'", rune(line[0])) && strings.Contains(line, ":")
}

// deepest is how far brackets may lie in each other: the YAML library goes
// down one call for each.
const deepest = 50

var errDeep = errors.New("too many brackets")

// entries adds the entries of a YAML text that begins after some lines of the
// file, or fails with its first error of syntax.
func (r *reader) entries(m *mapping, text string, after int) error {
	if depth(text) > deepest {
		return errDeep
	}
	trees, err := syntax(text)
	if err != nil {
		return err
	}
	first := true
	for _, tree := range trees {
		if tree == nil {
			continue
		}
		if after != r.shift {
			r.move(tree, after)
		}
		if _, comment := tree.(*ast.CommentGroupNode); comment {
			continue
		}
		values, ok := mapValues(tree)
		switch {
		case !first:
			r.at(tree, "a second YAML document begins here", "take out the line ... above it")
		case !ok:
			r.at(tree, "the front matter should be lines of name: value", "write each thing on a line of its own, like title: Cord broken")
			m.damaged["*"] = true
		default:
			if m.node == nil {
				m.node = tree
			}
			m.take(values)
		}
		first = false
	}
	return nil
}

// move remembers for each node below n after how many lines its text began.
func (r *reader) move(n ast.Node, after int) {
	if r.moved == nil {
		r.moved = map[ast.Node]int{}
	}
	ast.Walk(mover{r.moved, after}, n)
}

type mover struct {
	moved map[ast.Node]int
	after int
}

func (v mover) Visit(n ast.Node) ast.Visitor {
	if n != nil {
		v.moved[n] = v.after
	}
	return v
}

// depth is how far brackets lie in each other at most.
func depth(text string) int {
	now, deep := 0, 0
	for i := range len(text) {
		switch text[i] {
		case '[', '{':
			now++
		case ']', '}':
			now--
		case '\n':
			if startsEntry(text[i+1:]) {
				now = 0
			}
		}
		deep = max(deep, now)
	}
	// block lists and maps go deeper with the blanks in front of a line
	for line := range strings.SplitSeq(text, "\n") {
		deep = max(deep, (len(line)-len(strings.TrimLeft(line, " -?")))/2)
	}
	return deep
}

// unreadable reports an error of syntax in a repairer's words.
func (r *reader) unreadable(err error, after int) {
	line, column, says, do := 1, 1, "this is no valid YAML", "check the indentation, the colons and the quotes here and just before"
	var y yaml.Error
	if errors.As(err, &y) {
		if t := y.GetToken(); t != nil && t.Position != nil {
			line, column = t.Position.Line, t.Position.Column
		}
		m := y.GetMessage()
		switch {
		case strings.Contains(m, "cannot start any token") && strings.Contains(m, "\t"):
			says, do = "a tab stands in the indentation", "indent with blanks"
		case strings.Contains(m, "mapping value is not allowed"):
			says, do = "a second colon or a wrong indentation stands here", "put a text that holds a colon in quotes, and indent the lines of one group alike"
		case strings.Contains(m, "must be specified"), strings.Contains(m, "could not find flow"), strings.Contains(m, "not found"):
			says, do = "a bracket is not closed", "close it with ] or }, and part its entries by commas"
		case strings.Contains(m, "reserved character"), strings.Contains(m, "cannot start any token"):
			says, do = "a value cannot begin with this character", "put the text in quotes"
		case strings.Contains(m, "could not find end character"):
			says, do = "a quote is not closed", "write the closing quote"
		}
		if lines := r.rows(); line+after >= 1 && line+after <= len(lines) {
			text := lines[line+after-1]
			_, value, _ := strings.Cut(text, ": ")
			switch value = strings.TrimSpace(value); {
			case printedQuote.MatchString(text):
				says, do = "„ “ and other printed quotation marks hold no text together here", "put straight quotes \" round the text"
			case value == "" || !strings.HasPrefix(says, "this is no valid"):
			case strings.Contains("*&!%@`", value[:1]):
				says, do = "a value cannot begin with "+value[:1], "put the whole text in quotes"
			case value[0] == '"' || value[0] == '\'':
				says, do = "the text goes on behind its closing quote", "put the whole text in quotes of the other sort, like '\"Eco\" lamp dark'"
			case strings.Count(value, "}") > strings.Count(value, "{") || strings.Count(value, "]") > strings.Count(value, "["):
				says, do = "a bracket closes here that was never opened", "take it out, or open it before"
			}
		}
	} else if errors.Is(err, errDeep) {
		says, do = "this lies deeper than any note needs", "write it with fewer brackets and less indentation"
	}
	r.asRoot(func() { r.add(line+after, column, says, do) })
}

// printedQuote is a value that begins with a quotation mark that YAML does not know.
var printedQuote = regexp.MustCompile(`[:\[{,-] *[„“”»«‚‘’]`)

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
}

// mapping is a YAML mapping with what the format's tables say of its keys; names
// of the note's own have none.
type mapping struct {
	r       *reader
	node    ast.Node
	entries []*entry
	keys    format.Keys
	damaged map[string]bool // keys that could not be read; "*" for all
}

// mapping reads a group and reports what the tables do not know in it.
func (r *reader) mapping(n ast.Node, what string, keys format.Keys) (mapping, bool) {
	m, ok := r.group(n, what)
	m.keys = keys
	if keys != nil {
		m.known(false)
	}
	return m, ok
}

func (r *reader) group(n ast.Node, what string) (mapping, bool) {
	m := mapping{r: r, node: n}
	n = r.plain(n)
	values, ok := mapValues(n)
	if !ok {
		r.at(m.node, what+" should be a group of name: value", "write it like {name: value}")
		return m, false
	}
	m.take(values)
	m.twice()
	return m, true
}

func (m *mapping) take(values []*ast.MappingValueNode) {
	made := make([]entry, 0, len(values)) // in one piece of memory
	if m.entries == nil {
		m.entries = make([]*entry, 0, len(values))
	}
	for _, v := range values {
		if v == nil || v.Key == nil || v.Key.GetToken() == nil {
			continue
		}
		switch v.Key.(type) {
		case *ast.MergeKeyNode:
			m.r.at(v.Key, "merging with << is not used in notes", "write the lines themselves")
			continue
		case *ast.MappingKeyNode:
			m.r.at(v.Key, "a name with ? is not used in notes", "write name: value")
			continue
		}
		made = append(made, entry{name: strings.TrimSpace(v.Key.GetToken().Value), key: v.Key, value: m.r.plain(v.Value)})
		e := &made[len(made)-1]
		if n := len(m.entries); n > 0 && m.r.halved(m.entries[n-1], e) {
			continue
		}
		if v.Start != nil && v.Start.Value != ":" && strings.Contains(e.name, " ") {
			m.r.severed(m.entries, e)
			continue
		}
		m.entries = append(m.entries, e)
	}
}

// halved mends a number with a decimal comma that was cut in two, as 0,5 Ω is
// between brackets, and tells it.
func (r *reader) halved(first, second *entry) bool {
	text, ok := first.value.(*ast.StringNode)
	left := ""
	if ok {
		left = text.Value
	} else if _, number := first.value.(*ast.IntegerNode); number {
		left = first.value.GetToken().Value
	}
	if left == "" || !isEmpty(second.value) || second.name == "" || second.name[0] < '0' || second.name[0] > '9' || left[len(left)-1] < '0' || left[len(left)-1] > '9' {
		return false
	}
	line, column := r.place(second.key)
	runes := []rune{}
	if lines := r.rows(); line >= 1 && line <= len(lines) {
		runes = []rune(lines[line-1])
	}
	if column < 3 || column-2 >= len(runes) || runes[column-2] != ',' || runes[column-3] < '0' || runes[column-3] > '9' {
		return false
	}
	whole := left + "," + second.name
	r.add(line, column-1, "between brackets a comma parts entries, so “"+whole+"” is cut in two", "write "+left+"."+second.name+", or put it in quotes")
	first.value = r.instead(first.value, whole)
	return true
}

// instead is a text that stands where n stands.
func (r *reader) instead(n ast.Node, text string) ast.Node {
	s := ast.String(n.GetToken().Clone())
	s.Value = text
	if after, ok := r.moved[n]; ok {
		r.moved[s] = after
	}
	return s
}

// severed tells of words between braces that are no name and have no colon, and gives
// them back to the text before: a comma in a text without quotes has cut them off,
// and what they say, of a caution say, would be lost.
func (r *reader) severed(before []*entry, rest *entry) {
	if len(before) > 0 {
		first := before[len(before)-1]
		if text, ok := first.value.(*ast.StringNode); ok && text.Token.Type == token.StringType {
			if text.Value == text.Token.Value { // told once for each text
				r.root(rest.key, "between braces a comma parts entries, so "+quote(rest.name)+" is cut off from “"+last(text.Value)+"”", "put the whole text of "+first.name+" in quotes")
			}
			first.value = r.instead(text, text.Value+", "+rest.name)
			return
		}
	}
	r.root(rest.key, quote(rest.name)+" is no name: value", "between braces write a name, a colon and a value, and put a text that holds a comma in quotes")
}

// twice reports the names that stand in a mapping more than once, and keeps the
// first. Where one after another does, it is the name above them that is missing.
func (m *mapping) twice() {
	var kept, again []*entry
	run := 0 // the longest
	for i, e := range m.entries {
		if !slices.ContainsFunc(kept, func(x *entry) bool { return x.name == e.name }) {
			kept = append(kept, e)
			continue
		}
		again = append(again, e)
		n := 1
		for n <= i && len(again) > n && m.entries[i-n] == again[len(again)-1-n] {
			n++
		}
		run = max(run, n)
	}
	if run > 1 {
		m.r.root(again[0].key, quote(again[0].name)+" and others stand here twice", "write the name that is missing above the second ones, or keep one of each")
	} else {
		for _, e := range again {
			m.r.at(e.key, quote(e.name)+" stands here twice", "keep one")
		}
	}
	m.entries = kept
}

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

// quote shows what was written, on one line and not too long.
func quote(s string) string {
	s = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)), " ")
	if r := []rune(s); len(r) > 60 {
		s = string(r[:60]) + "…"
	}
	return "“" + s + "”"
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

// key is what the tables say of a key. They have every key that a reader asks
// for: the tests of this package fail over one that is missing.
func (m *mapping) key(name string) *format.Key {
	k := m.keys.Find(name)
	if k == nil {
		k = &format.Key{Name: name}
	}
	if asked != nil {
		asked(m.keys, k)
	}
	return k
}

// asked is told by tests which keys a reader asks for.
var asked func(format.Keys, *format.Key)

// get finds a key; an empty value counts as not there.
func (m *mapping) get(name string) (ast.Node, bool) {
	m.key(name)
	for _, e := range m.entries {
		if e.name == name {
			if isEmpty(e.value) {
				return nil, false
			}
			return e.value, true
		}
	}
	return nil, false
}

// has tells whether a key is there, without asking for it.
func (m *mapping) has(name string) bool {
	for _, e := range m.entries {
		if e.name == name {
			return true
		}
	}
	return false
}

// homes are the keys on which others rest: without them much else seems wrong.
var homes = []string{"blocks", "device", "reads", "symptoms"}

// need finds a key that must be there; the tables say what to do where it is not.
func (m *mapping) need(name string) (ast.Node, bool) {
	v, ok := m.get(name)
	if ok || m.damaged[name] || m.damaged["*"] {
		return v, ok
	}
	do := m.keys.Find(name).Remedy()
	tell := m.r.at
	if slices.Contains(homes, name) {
		tell = m.r.root
	}
	for _, e := range m.entries {
		if e.name == name {
			tell(e.key, "“"+name+"” is empty", do)
			return nil, false
		}
	}
	if !m.misspelt(name) && !m.r.told[m.r.toldOf(name)] {
		tell(m.node, "“"+name+"” is missing", do)
	}
	return nil, false
}

// tell notes that what is wrong with a key of a note has been said: in what is expanded of it, the
// key is not missing.
func (r *reader) tell(name string) {
	if r.told != nil {
		r.told[r.toldOf(name)] = true
	}
}

func (r *reader) toldOf(name string) string {
	return strings.TrimPrefix(r.file, expanded) + ": " + name
}

// misspelt tells whether a key that the tables do not have is taken for this one: then it is told
// there, and nothing is missing.
func (m *mapping) misspelt(name string) bool {
	for _, e := range m.entries {
		if m.keys.Find(e.name) == nil && nearest(e.name, m.keys.Names(true)) == name {
			return true
		}
	}
	return false
}

// want finds a key, which must be there where the tables say so.
func (m *mapping) want(name string) (ast.Node, bool) {
	if m.keys.Find(name).Remedy() != "" {
		return m.need(name)
	}
	return m.get(name)
}

// text is the plain text of a key, "" where it is not there.
func (m *mapping) text(name string) string {
	if n, ok := m.want(name); ok {
		return m.r.text(n, m.key(name).As())
	}
	return ""
}

// texts are the plain texts of a list.
func (m *mapping) texts(name string) []string {
	if n, ok := m.want(name); ok {
		return m.r.texts(n, m.key(name).As())
	}
	return nil
}

// number is a number within the bounds of the tables.
func (m *mapping) number(name string, otherwise float64) float64 {
	if n, ok := m.want(name); ok {
		k := m.key(name)
		v := k.Value.As(format.Number)
		return m.r.number(n, k.As(), v.Low, v.High)
	}
	return otherwise
}

// flag is true or false; false where it is not there.
func (m *mapping) flag(name string) bool {
	n, ok := m.want(name)
	return ok && m.r.flag(n, m.key(name).As())
}

// word is one of the words that the tables allow, "" where it is not there.
func (m *mapping) word(name string) string {
	if n, ok := m.want(name); ok {
		return m.wordOf(name, n)
	}
	return ""
}

// wordOf is a value of a key, or of its list, as one of the allowed words.
func (m *mapping) wordOf(name string, n ast.Node) string {
	k := m.key(name)
	return m.r.oneOf(n, k.As(), k.Value.As(format.Word).Words...)
}

// known reports the keys that the tables do not have, or have only for devices
// made of common blocks.
func (m *mapping) known(ofBlocks bool) {
	for _, e := range m.entries {
		m.r.knows(m.keys, e, ofBlocks)
	}
}

// knows reports a key that the tables do not have.
func (r *reader) knows(keys format.Keys, e *entry, ofBlocks bool) bool {
	k := keys.Find(e.name)
	switch {
	case k != nil && k.Refused != "":
		r.at(e.key, k.Refused, k.Need)
		return false
	case k != nil && (ofBlocks || k.In == format.Everywhere):
		return true
	case k != nil:
		r.at(e.key, quote(e.name)+" is known only where a device is made of common blocks", "take it out, or name the block notes in the device's chain")
		return false
	}
	names := keys.Names(ofBlocks)
	if near := nearest(e.name, names); near != "" {
		r.tell(near)
		r.root(e.key, quote(e.name)+" is not known here", "did you mean “"+near+"”")
		return false
	}
	r.at(e.key, quote(e.name)+" is not known here", "it may have "+strings.Join(names, ", "))
	return false
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

// distance is the number of letters to change, add, drop or swap.
func distance(a, b string) int {
	if len(a) > 60 || len(b) > 60 {
		return 60
	}
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
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
	case r.unfilled != nil && format.Unfilled(text):
		*r.unfilled = append(*r.unfilled, unfilled{r, n})
	}
	return text
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

// IsName tells whether a text can be the name of a note: lower-case letters,
// digits and hyphens.
func IsName(s string) bool { return isName(s) }

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

// split parts a file into its front matter and its body.
func (r *reader) split(raw []byte) (front, body []byte, ok bool) {
	if !bytes.HasPrefix(raw, []byte("---\n")) {
		says, do := unopened(r.rows())
		r.problems.AddRoot(r.file, 1, 1, says, do)
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
	for i, line := range r.rows() {
		if i > 0 && dashes.MatchString(strings.TrimSpace(line)) {
			r.problems.AddRoot(r.file, i+1, 1, "“"+last(strings.TrimSpace(line))+"” does not close the front matter", "write --- in its place, three hyphens at the beginning of the line")
			return nil, nil, false
		}
	}
	r.problems.AddRoot(r.file, 1, 1, "the front matter is not closed", "write --- on a line of its own below the last key")
	return nil, nil, false
}

// dashes are lines that were meant for --- and are none.
var dashes = regexp.MustCompile("^(?:[-–—_=+~*`]{2,}|[–—])$")

// keyed is a line that begins with a key.
var keyed = regexp.MustCompile(`^[a-z_]+:(?: |$)`)

// unopened says how a note begins that has no --- at its beginning.
func unopened(lines []string) (says, do string) {
	says, do = "the note does not begin with its front matter", "write --- on the first line, the keys below it, and --- again"
	for len(lines) > 0 && strings.TrimSpace(lines[len(lines)-1]) == "" {
		lines = lines[:len(lines)-1]
	}
	if len(lines) == 0 {
		return "the file is empty", "fill it in, or delete it and begin the note with faultleaf note"
	}
	first := strings.TrimSpace(lines[0])
	switch {
	case first == "---":
		return "blanks stand before or behind the first ---", "write --- alone on the first line"
	case dashes.MatchString(first):
		return "“" + last(first) + "” does not begin the front matter", "write --- in its place, three hyphens, and --- below the last key too"
	case keyed.MatchString(first):
		return "the line --- above the keys is missing", "write --- on a line of its own above " + strings.SplitAfter(first, ":")[0]
	}
	for i, line := range lines[:min(len(lines), 10)] {
		if strings.TrimRight(line, " \t") == "---" {
			if i == 1 && first == "" {
				return "an empty line stands before the first ---", "take it out, so that --- is the first line"
			}
			return "something stands before the first ---", "let --- be the first line, and put what stands above it below the second ---"
		}
	}
	return says, do
}

// readFile reads a file of the shop as text: line ends become \n and a byte
// order mark goes, so that lines and columns are those an editor shows.
func (l *loader) readFile(r *reader) ([]byte, bool) {
	if says, do := l.file(r.file, longest); says != "" {
		r.problems.Add(r.file, 0, 0, says, do)
		return nil, false
	}
	raw, err := fs.ReadFile(l.fsys, r.file)
	if err != nil || len(raw) > longest {
		r.problems.Add(r.file, 0, 0, "the file cannot be read", "check that you may read it")
		return nil, false
	}
	if utf16(raw) {
		r.problems.AddRoot(r.file, 1, 1, "this file is saved as UTF-16, which some editors call Unicode", "save it with the encoding UTF-8")
		return nil, false
	}
	raw = bytes.TrimPrefix(raw, []byte("\ufeff"))
	if bytes.IndexByte(raw, '\r') >= 0 {
		raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
		raw = bytes.ReplaceAll(raw, []byte("\r"), []byte("\n"))
	}
	if r.raw = raw; utf8.Valid(raw) {
		return raw, l.whole(r)
	}
	bad := 0
	for bad < len(raw) {
		c, n := utf8.DecodeRune(raw[bad:])
		if c == utf8.RuneError && n == 1 {
			break
		}
		bad += n
	}
	line := bytes.Count(raw[:bad], []byte("\n"))
	column := utf8.RuneCount(raw[bytes.LastIndexByte(raw[:bad], '\n')+1 : bad])
	raw = bytes.ToValidUTF8(raw, []byte("\ufffd"))
	r.raw = raw
	r.add(line+1, column+1, "this character is no UTF-8 text", "save the file with the encoding UTF-8")
	return raw, l.whole(r)
}

// utf16 tells a text of two bytes a letter: by its mark, or because every second byte of its
// beginning is nothing.
func utf16(raw []byte) bool {
	if bytes.HasPrefix(raw, []byte{0xff, 0xfe}) || bytes.HasPrefix(raw, []byte{0xfe, 0xff}) {
		return true
	}
	return len(raw) >= 4 && (raw[0] == 0 && raw[2] == 0 || raw[1] == 0 && raw[3] == 0)
}

// whole reports a file in which two versions stand in each other: nothing in it
// can be relied on.
func (l *loader) whole(r *reader) bool {
	l.unseen(r)
	at := 0
	if bytes.Contains(r.raw, []byte("<<<<<<< ")) {
		at = conflict(r.rows())
	}
	if at > 0 {
		r.problems.AddRoot(r.file, at, 1, "two versions of this file stand in each other, as git leaves them", "keep one of the two at each place, and take the lines <<<<<<<, ======= and >>>>>>> out")
	}
	return at == 0
}
