package note

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"

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
	put      int              // the line that was put in for a missing one, counted in the file; 0 for none
	effort   *int             // notes in which a slipped line was looked for
	told     map[string]bool  // see tell
	over     *entry           // the one above that which is looked at
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
	return r.written(p.Line + moved), p.Column
}

// written is the line of the file that stands at a line of what is read.
func (r *reader) written(line int) int {
	if r.put > 0 && line > r.put {
		return line - 1
	}
	return line
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
