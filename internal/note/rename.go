package note

import (
	"cmp"
	"errors"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing/fstest"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/internal/problem"
)

// Edit is a file of the shop as it is to be; Gone is one to be removed.
type Edit struct {
	File string
	Text []byte
	Gone bool
}

// Rename works out what changes where a note gets another name: the note moves and
// remembers its old name, and every link, reading and sheet that names it names
// it anew. old is the note's name, or its file where several have the name.
// Nothing is written here. The shop must be sound before, and is after.
func Rename(fsys fs.FS, find Find, old, now string) ([]Edit, problem.List, error) {
	if !IsName(now) {
		return nil, nil, errors.New("the name " + quote(now) + " is not plain; use small letters, digits and hyphens, like cord-broken")
	}
	l := load(fsys, find)
	if len(l.mistakes) > 0 {
		return nil, l.mistakes, nil
	}
	d, err := l.toRename(old)
	if err != nil {
		return nil, nil, err
	}
	n := &renaming{l: l, d: d, now: now, to: path.Join(path.Dir(d.File), now+".md"), files: map[string]string{d.File: path.Join(path.Dir(d.File), now+".md")}, names: map[string]string{}}
	if other, taken := l.docs[n.to]; taken {
		return nil, nil, errors.New("there is a note " + quote(other.Name) + " already; choose another name")
	}
	if d.Kind == KindDevice { // the common faults of a device carry its name
		for _, f := range l.set.FaultsOf(d.Name) {
			if rest, ok := strings.CutPrefix(f.Name, d.Name+"-"); ok && f.Made != "" {
				n.files[f.File] = "content/faults/" + now + "-" + rest + ".md"
				n.names[f.Name] = now + "-" + rest
			}
		}
	}
	n.names[d.Name] = now
	edits, err := n.edits()
	if err != nil {
		return nil, nil, err
	}
	top, gone := fstest.MapFS{}, map[string]bool{}
	for _, e := range edits {
		if e.Gone {
			gone[e.File] = true
		} else {
			top[e.File] = &fstest.MapFile{Data: e.Text, Mode: 0o644}
		}
	}
	after := load(without{Over(fsys, top), gone}, find)
	if len(after.mistakes) > 0 {
		return nil, after.mistakes, errors.New("with the new name the notes would hold mistakes, so nothing was changed")
	}
	return edits, nil, nil
}

// toRename finds the note that is meant.
func (l *loader) toRename(old string) (*Document, error) {
	name := strings.TrimSuffix(strings.TrimPrefix(strings.TrimPrefix(old, "./"), "content/"), ".md")
	var found []*Document
	for _, d := range l.set.Documents() {
		if d.Kind != KindJob && (d.ID == name || d.Name == name) {
			found = append(found, d)
		}
	}
	switch {
	case len(found) == 0:
		var names []string
		for _, d := range l.set.Documents() {
			names = append(names, d.Name)
		}
		says := "there is no note " + quote(old)
		if near := nearest(name, names); near != "" {
			says += "; did you mean “" + near + "”"
		}
		return nil, errors.New(says)
	case len(found) > 1:
		return nil, errors.New(quote(old) + " may be " + found[0].ID + " or " + found[1].ID + "; name one of them")
	case found[0].Made != "":
		return nil, errors.New(quote(old) + " is a common fault, which stands in " + found[0].Made + " and has no file of its own; its name is the device's and the block's")
	}
	return found[0], nil
}

type renaming struct {
	l     *loader
	d     *Document
	now   string
	to    string
	files map[string]string // of notes, old to new
	names map[string]string // of the note, and of the common faults of a device
}

// edits goes through all files of notes.
func (n *renaming) edits() ([]Edit, error) {
	var out []Edit
	for _, folder := range []string{"blocks", "devices", "faults", "checklists", "pages", "jobs"} {
		for _, file := range n.l.files(folder) {
			raw, err := fs.ReadFile(n.l.fsys, file)
			if err != nil {
				return nil, err
			}
			text, err := n.text(file, string(raw))
			if err != nil {
				return nil, err
			}
			if file == n.d.File {
				out = append(out, Edit{File: n.to, Text: []byte(text)}, Edit{File: file, Gone: true})
			} else if text != string(raw) {
				out = append(out, Edit{File: file, Text: []byte(text)})
			}
		}
	}
	return out, nil
}

var (
	inlineLink = regexp.MustCompile(`(\]\()([^()\s]+\.md)((?:#[^()\s]*)?[\s)])`)
	namedLink  = regexp.MustCompile(`(?m)(^\[[^\]]+\]:\s*)(\S+\.md)((?:#\S*)?)`)
)

// text is a file with the new name in it.
func (n *renaming) text(file, text string) (string, error) {
	for _, link := range []*regexp.Regexp{inlineLink, namedLink} {
		text = link.ReplaceAllStringFunc(text, func(s string) string {
			m := link.FindStringSubmatch(s)
			to, ok := n.files[path.Join(path.Dir(file), m[2])]
			if !ok {
				return s
			}
			return m[1] + m[2][:len(m[2])-len(path.Base(m[2]))] + path.Base(to) + m[3]
		})
	}
	r := &reader{file: file, problems: &problem.List{}}
	normal := strings.ReplaceAll(strings.ReplaceAll(strings.TrimPrefix(text, "\ufeff"), "\r\n", "\n"), "\r", "\n")
	r.lines = strings.Split(normal, "\n")
	front, _, ok := r.split([]byte(normal))
	if !ok {
		return text, nil
	}
	m, ok := r.parse(string(front), nil)
	if !ok {
		return text, nil
	}
	var at []spot
	folder := path.Base(path.Dir(file))
	for _, e := range m.entries {
		n.find(&at, r, folder, []string{e.name}, e.value)
	}
	if len(at) == 0 && file != n.d.File {
		return text, nil
	}
	slices.SortFunc(at, func(a, b spot) int { return cmp.Or(b.line-a.line, b.column-a.column) })
	for _, s := range at { // from the end, so that the places before stay true
		line := []rune(r.lines[s.line-1])
		from := min(s.column-1, len(line))
		rest := string(line[from:])
		i := strings.Index(rest, s.old)
		if i < 0 {
			return "", errors.New(file + " names " + quote(s.old) + " in a way that cannot be changed here; change it by hand first")
		}
		r.lines[s.line-1] = string(line[:from]) + rest[:i] + s.now + rest[i+len(s.old):]
	}
	if file == n.d.File {
		n.remember(r, m)
	}
	out := strings.Join(r.lines, "\n")
	if strings.Contains(text, "\r\n") {
		out = strings.ReplaceAll(out, "\n", "\r\n")
	}
	return out, nil
}

// spot is a place in a file where a name stands.
type spot struct {
	line, column int
	old, now     string
}

// find collects the places of the front matter that name the note, by the keys
// that may.
func (n *renaming) find(at *[]spot, r *reader, folder string, keys []string, v ast.Node) {
	add := func(node ast.Node, name string) {
		if now, ok := n.names[name]; ok {
			line, column := r.place(node)
			*at = append(*at, spot{line, column, name, now})
		}
	}
	v = r.plain(v)
	if values, ok := mapValues(v); ok {
		for _, x := range values {
			key := strings.TrimSpace(x.Key.GetToken().Value)
			if n.d.Kind != KindBlock && folder == "devices" && len(keys) == 3 && keys[2] == "finds" {
				add(x.Key, key)
			}
			n.find(at, r, folder, append(slices.Clone(keys), key), x.Value)
		}
		return
	}
	if s, ok := v.(*ast.SequenceNode); ok {
		for _, x := range s.Values {
			n.find(at, r, folder, keys, x)
		}
		return
	}
	s, ok := v.(*ast.StringNode)
	if !ok {
		return
	}
	name := strings.TrimSpace(s.Value)
	top, last := keys[0], keys[len(keys)-1]
	switch n.d.Kind {
	case KindDevice:
		if (folder == "faults" || folder == "jobs") && top == "device" {
			add(s, name)
		}
		if name != n.d.Name && folder == "jobs" && top == "cause" {
			add(s, name) // a common fault of the device
		}
	case KindFault:
		if folder == "jobs" && top == "cause" || folder == "devices" && top == "was" && len(keys) == 2 {
			add(s, name)
		}
	case KindBlock:
		if folder == "devices" && top == "blocks" && len(keys) > 1 && (last == "is" || len(keys) == 2) {
			add(s, name)
		}
	}
}

// remember writes the old name into the note; a device made of common blocks
// remembers those of its common faults as well.
func (n *renaming) remember(r *reader, m mapping) {
	pairs := map[string]string{}
	group := len(n.names) > 1
	from, to := 0, 0 // lines of the key that is there, counted from 0
	for i, e := range m.entries {
		if e.name != "was" {
			continue
		}
		line, _ := r.place(e.key)
		from, to = line-1, line
		end := len(r.lines)
		if i+1 < len(m.entries) {
			end, _ = r.place(m.entries[i+1].key)
			end--
		}
		for l := line; l < end && strings.TrimRight(r.lines[l], " \t") != "---"; l++ {
			if text := strings.TrimSpace(r.lines[l]); text != "" && text[0] != '#' {
				to = l + 1
			}
		}
		if values, ok := mapValues(e.value); ok {
			group = true
			for _, v := range values {
				if now, ok := v.Value.(*ast.StringNode); ok {
					to := now.Value
					if renamed, ok := n.names[to]; ok {
						to = renamed
					}
					pairs[strings.TrimSpace(v.Key.GetToken().Value)] = to
				}
			}
		} else if !isEmpty(e.value) {
			for _, v := range r.list(e.value) {
				pairs[r.text(v, "")] = n.now
			}
		}
	}
	for old, now := range n.names {
		pairs[old] = now
	}
	for _, now := range n.names {
		delete(pairs, now) // it has its name back
	}
	var list []string
	for old, now := range pairs {
		if group {
			old += ": " + now
		}
		list = append(list, old)
	}
	slices.Sort(list)
	line := "was: [" + strings.Join(list, ", ") + "]"
	if group {
		line = "was: {" + strings.Join(list, ", ") + "}"
	}
	if to > 0 {
		r.lines = slices.Replace(r.lines, from, to, line)
		return
	}
	for i := 1; i < len(r.lines); i++ { // before the dashes that close the keys
		if strings.TrimRight(r.lines[i], " \t") == "---" {
			r.lines = slices.Insert(r.lines, i, line)
			return
		}
	}
}

// Without is a shop without some of its files.
func Without(under fs.FS, files ...string) fs.FS {
	gone := map[string]bool{}
	for _, f := range files {
		gone[f] = true
	}
	return without{under, gone}
}

// without hides files that are to go.
type without struct {
	fs.FS
	gone map[string]bool
}

func (w without) Open(name string) (fs.File, error) {
	if w.gone[name] {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return w.FS.Open(name)
}

// ReadDir lists what is left.
func (w without) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(w.FS, name)
	return slices.DeleteFunc(list, func(e fs.DirEntry) bool { return w.gone[path.Join(name, e.Name())] }), err
}
