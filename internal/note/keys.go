package note

import (
	"regexp"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"faultleaf/internal/format"
)

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
		m.uncut(keys)
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

// uncut gives a key that lacks the comma before it back to its group, and tells it: YAML takes it for a part
// of the text before.
func (m *mapping) uncut(keys format.Keys) {
	for i := 0; i < len(m.entries); i++ {
		text, ok := m.entries[i].value.(*ast.StringNode)
		if !ok || text.GetToken() == nil || text.GetToken().Type != token.StringType {
			continue
		}
		found := within.FindStringSubmatch(text.Value)
		if found == nil || keys.Find(found[2]) == nil || m.has(found[2]) {
			continue
		}
		m.r.root(text, "the comma before “"+found[2]+":” is missing", "write it: between braces a comma parts entries")
		rest := &entry{name: found[2], key: m.r.instead(text, found[2]), value: m.r.instead(text, found[3])}
		m.entries[i].value = m.r.instead(text, found[1])
		m.entries = slices.Insert(m.entries, i+1, rest)
	}
}

// within is a text that holds a key.
var within = regexp.MustCompile(`^(.*[^ ,]) +([a-z_]+): +([^ ].*)$`)

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
	for i, e := range m.entries {
		if i > 0 {
			m.r.over = m.entries[i-1]
		}
		m.r.knows(m.keys, e, ofBlocks)
		m.r.over = nil
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
	if home := keys.Home(e.name); home != "" {
		r.at(e.key, quote(e.name)+" is not known here", "it belongs into the group of "+home+":")
		return false
	}
	do := "it may have " + strings.Join(names, ", ")
	if over := r.over; over != nil {
		if _, of, group := keys.Find(over.name).Form().Inside(); group && of != nil && IsName(e.name) && !flowing(over.value) {
			do = "put as many blanks before it as the lines above it have, if it belongs to " + quote(over.name) + "; if not, take it out"
		}
	}
	r.at(e.key, quote(e.name)+" is not known here", do)
	return false
}

// flowing tells a value that stands in braces or brackets, or is one text.
func flowing(n ast.Node) bool {
	m, ok := n.(*ast.MappingNode)
	_, one := n.(*ast.MappingValueNode)
	return !one && (!ok || m.IsFlowStyle)
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
