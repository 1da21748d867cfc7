package note

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/internal/format"
)

// A line that stands too far left or right takes the lines below it along, and a
// dozen mistakes follow from it. straighten looks for the one line that, moved,
// makes the front matter fit the tables, tells it, and reads on as if it stood
// there. A front matter that fits is left as it is.
func (r *reader) straighten(text string, keys format.Keys) string {
	lines := strings.Split(text, "\n")
	if r.parted(lines, keys) {
		text = strings.Join(lines, "\n")
	}
	places := indents(lines)
	if len(lines)*len(places)*len(text) > patience || r.effort != nil && *r.effort > mostStraightened {
		return text
	}
	const most = 3 // slips in one note; who has more is told the rest in the next run
	for n := range most {
		now := misfits(text, keys)
		if now == 0 {
			break
		}
		if r.effort != nil && n == 0 {
			if *r.effort++; *r.effort > mostStraightened {
				return text
			}
		}
		line, to, left, far := -1, 0, now, 0
		for i := range lines {
			if strings.TrimSpace(lines[i]) == "" || strings.HasPrefix(strings.TrimSpace(lines[i]), "#") {
				continue
			}
			for _, indent := range places {
				old := lines[i]
				move := len(old) - len(strings.TrimLeft(old, " ")) - indent
				if move = max(move, -move); move == 0 {
					continue
				}
				lines[i] = strings.Repeat(" ", indent) + strings.TrimLeft(old, " ")
				after := misfits(strings.Join(lines, "\n"), keys) // of two lines that may be meant, the one at an odd place
				if (after < left || after == left && line >= 0 && (indent%2 < to%2 || indent%2 == to%2 && move < far)) && (now-after > 1 || !word(old)) {
					line, to, left, far = i, indent, after, move
				}
				lines[i] = old
			}
		}
		if n == 0 {
			if at, name, after := unheaded(lines, keys); at >= 0 && after < left && (after == 0 || now-after > 1) {
				r.problems.AddRoot(r.file, at+1+r.shift, 1, "the line “"+name+":” is missing above this one", "write it there, beginning at the left edge")
				r.slips++
				lines = slices.Insert(lines, at, name+":")
				text = strings.Join(lines, "\n")
				r.put = at + 1 + r.shift
				break
			}
		}
		if line < 0 || left > 0 && now-left < 2 {
			break
		}
		was := len(lines[line]) - len(strings.TrimLeft(lines[line], " "))
		way := "left"
		if was > to {
			way = "right"
		}
		r.problems.AddRoot(r.file, line+1+r.shift, 1, "this line stands "+strconv.Itoa(max(was-to, to-was))+" too far "+way, "let it begin behind "+blanks(to)+", like the lines that it belongs to")
		r.slips++
		lines[line] = strings.Repeat(" ", to) + strings.TrimLeft(lines[line], " ")
		text = strings.Join(lines, "\n")
	}
	return text
}

// unheaded looks for the one name of a group that, put above a line, makes the front matter fit best:
// without it the lines below belong to the group before, and nothing in them is right. It is -1 where none helps.
func unheaded(lines []string, keys format.Keys) (at int, name string, left int) {
	text := strings.Join(lines, "\n")
	var heads []*format.Key
	for _, k := range keys {
		if _, _, group := k.Value.Inside(); group && k.Refused == "" && !strings.Contains("\n"+text, "\n"+k.Name+":") {
			heads = append(heads, k)
		}
	}
	var places []int
	for i, line := range lines {
		if entryBelow.MatchString(line) {
			places = append(places, i)
		}
	}
	at, left = -1, unparsed
	if len(places)*len(heads)*len(text) > patience {
		return at, "", left
	}
	for _, i := range places {
		for _, k := range heads {
			if after := misfits(strings.Join(slices.Insert(slices.Clone(lines), i, k.Name+":"), "\n"), keys); after < left {
				at, name, left = i, k.Name, after
			}
		}
	}
	return at, name, left
}

// entryBelow is an entry of a group at the top of a front matter.
var entryBelow = regexp.MustCompile(`^ {1,4}[a-z0-9][a-z0-9-]*:(?: |$)`)

// What was meant for "key: value" and for "- value", and lacks its colon or its blank; and what is
// indented with a tab, or with a blank that ends no word.
var (
	unparted = regexp.MustCompile(`^([a-z_]+)(:|[ \x{a0}]*[=：][ \x{a0}]*)([^ /].*)$`)
	uncolon  = regexp.MustCompile(`^([a-z_]+)[ \x{a0}]+([^:= \x{a0}].*)$`)
	tabbed   = regexp.MustCompile(`^([ \x{a0}\t]*[\x{a0}\t][ \x{a0}\t]*)([^ \x{a0}\t#].*)$`)
	unblank  = strings.NewReplacer("\t", "  ", "\u00a0", " ")
	undashed = regexp.MustCompile(`^( *)-([a-z][a-z0-9-]*:(?: .*)?)$`)
)

// parted tells the lines whose key and value are not parted as YAML wants it, or that are indented
// with something else than blanks, and reads on as if they were.
func (r *reader) parted(lines []string, keys format.Keys) (any bool) {
	tabs := false // told once: who indents one line so does it with all
	for i, line := range lines {
		says, do := "", ""
		if m := tabbed.FindStringSubmatch(line); m != nil {
			sign := "a tab"
			if !strings.Contains(m[1], "\t") {
				sign = "a blank of another sort"
			}
			line = unblank.Replace(m[1]) + m[2]
			if lines[i] = line; !tabs {
				r.problems.AddRoot(r.file, i+1+r.shift, 1, sign+" stands at the beginning of this line", "indent with plain blanks, here and below: "+blanks(len(line)-len(strings.TrimLeft(line, " ")))+" in this line")
				r.slips++
			}
			tabs, any = true, true
		}
		if m := unparted.FindStringSubmatch(line); m != nil && keys.Find(m[1]) != nil {
			value := strings.TrimLeft(m[3], " \u00a0\t")
			says, do = "the blank behind “"+m[1]+":” is missing", "write "+quote(m[1]+": "+first(value))
			switch {
			case m[2] != ":":
				says = "a colon and a blank part a key from its value"
			case value != m[3]:
				says = "the blank behind “" + m[1] + ":” is another sign that looks like one"
			}
			lines[i] = m[1] + ": " + value
		} else if m := uncolon.FindStringSubmatch(line); m != nil && keys.Find(m[1]) != nil {
			says, do = "the colon behind “"+m[1]+"” is missing", "write "+quote(m[1]+": "+first(m[2]))
			lines[i] = m[1] + ": " + m[2]
		} else if m := undashed.FindStringSubmatch(line); m != nil && i > 0 && strings.HasPrefix(strings.TrimLeft(lines[i-1], " "), "- ") {
			says, do = "the blank behind the dash is missing", "write "+quote("- "+first(m[2]))
			lines[i] = m[1] + "- " + m[2]
		}
		if says != "" {
			r.problems.AddRoot(r.file, i+1+r.shift, 1, says, do)
			r.slips++
			any = true
		}
	}
	return any
}

// How many bytes may be read again to find a line that has slipped, and in how many
// notes: a shop with more broken ones is told of these first.
const (
	patience         = 2 << 20
	mostStraightened = 25
)

func blanks(n int) string {
	switch n {
	case 0:
		return "no blank"
	case 1:
		return "1 blank"
	}
	return strconv.Itoa(n) + " blanks"
}

// word tells whether a line is a name with a plain text: under a heading that
// takes any name it would always fit, and is rather a key that is misspelt.
func word(line string) bool {
	_, value, ok := strings.Cut(line, ":")
	value = strings.TrimSpace(value)
	return ok && value != "" && !strings.HasPrefix(value, "{") && !strings.HasPrefix(value, "[")
}

// indents are the places at which lines of a front matter begin: one that has
// slipped was meant to begin at one of them.
func indents(lines []string) []int {
	seen := map[int]bool{0: true, 2: true}
	for _, line := range lines {
		if strings.TrimSpace(line) != "" {
			seen[len(line)-len(strings.TrimLeft(line, " "))] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

// misfits counts what of a parsed front matter does not fit the tables.
func (m *mapping) misfits() int {
	values, ok := mapValues(m.node)
	if !ok {
		return 1
	}
	return misfit(values, m.keys, nil, false)
}

// unparsed counts for more than whatever a text that can be parsed may lack.
const unparsed = 1000

// misfits counts what does not fit the tables: names that they do not have, names
// that are missing, and values of another shape.
func misfits(text string, keys format.Keys) int {
	if depth(text) > deepest {
		return unparsed
	}
	trees, err := syntax(text)
	if err != nil || len(trees) != 1 || trees[0] == nil {
		return unparsed
	}
	values, ok := mapValues(trees[0])
	if !ok {
		return unparsed
	}
	return misfit(values, keys, nil, false)
}

func misfit(values []*ast.MappingValueNode, keys format.Keys, of *format.Value, part bool) (n int) {
	there := make([]string, 0, 16) // names, of which no note has many
	for _, v := range values {
		if v == nil || v.Key == nil || v.Key.GetToken() == nil {
			continue
		}
		name := strings.TrimSpace(v.Key.GetToken().Value)
		if slices.Contains(there, name) {
			n++
		}
		there = append(there, name)
		switch k := keys.Find(name); {
		case k != nil:
			n += misshapen(v.Value, k.Value, part)
			if isEmpty(v.Value) && k.Remedy() != "" {
				n++
			}
		case of != nil:
			if !of.Worded && !IsName(name) {
				n++
			}
			n += misshapen(v.Value, *of, part)
		default:
			n++
		}
	}
	if part {
		return n
	}
	for _, k := range keys {
		if k.Remedy() != "" && !slices.Contains(there, k.Name) && (k.Unless == "" || k.Unless != "blocks" && !slices.Contains(there, k.Unless)) && !slices.Contains(there, "like") {
			n++
		}
	}
	return n
}

// misshapen counts what is wrong with the shape of a value.
func misshapen(v ast.Node, want format.Value, part bool) (n int) {
	part = part || want.Refines
	switch node := v.(type) {
	case nil, *ast.NullNode:
		return 0
	case *ast.SequenceNode:
		if !want.Takes(format.List) {
			return 1
		}
		for _, x := range node.Values {
			n += misshapen(x, want.Item(), part)
		}
		return n
	}
	if values, ok := mapValues(v); ok {
		keys, of, ok := want.Inside()
		if !ok {
			return 1
		}
		return misfit(values, keys, of, part || keys.Find("is") != nil && keys.Find("carries") != nil)
	}
	if s, ok := v.(*ast.StringNode); ok && !want.Takes(format.Text) && !want.Takes(format.Word) && !IsName(strings.TrimSpace(s.Value)) {
		return 1
	}
	if s, ok := v.(*ast.StringNode); ok && part && s.Value == "no" {
		return 0
	}
	for _, s := range []format.Shape{format.Text, format.Name, format.Number, format.Flag, format.Word} {
		if want.Takes(s) {
			return 0
		}
	}
	return 1
}
