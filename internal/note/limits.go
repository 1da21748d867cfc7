package note

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"faultleaf/internal/problem"
)

// What a shop's folder may hold. Notes come by mail, from sticks and from other
// shops; a file is looked at before it is read.
const (
	longest        = 1 << 20  // bytes of a note
	longestKeys    = 64 << 10 // bytes of a front matter: each of its keys is held against the others
	largestPicture = 20 << 20 // bytes of a picture
	signs          = 1500     // of * _ [ in one paragraph; more keep a reader of Markdown busy for minutes
	nested         = 40       // quotations and lists inside each other
	cells          = 100_000  // of one table, which has as many in each row as its first row has
)

// file says what is wrong with an entry that should be a plain file of the
// shop; both are "" where nothing is.
func (l *loader) file(name string, most int64) (says, do string) {
	info, err := fs.Lstat(l.fsys, name)
	switch {
	case err != nil:
		return "the file cannot be read", "check that it is there and that you may read it"
	case info.Mode()&fs.ModeSymlink != 0:
		return "this is a link to another file", "put the file itself here"
	case !info.Mode().IsRegular():
		return "this is no file", "remove it"
	case info.Size() > most:
		return fmt.Sprintf("the file is larger than %d MB", most>>20), "make it smaller, or part it"
	}
	return "", ""
}

// twin notes the name of a file and says if another one differs from it only by
// case or by how an accent is written: on some machines they are one file.
func (l *loader) twin(name string) (other string) {
	key := norm.NFC.String(cases.Fold().String(norm.NFC.String(name)))
	if l.names == nil {
		l.names = map[string]string{}
	}
	other = l.names[key]
	l.names[key] = name
	return other
}

// ofWindows are the names that Windows keeps for itself, whatever follows their first full stop.
var ofWindows = regexp.MustCompile(`^(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³]) *(\.|$)`)

// Portable says why a file of this name cannot be kept on every machine, "" if
// it can (the names that Windows keeps for itself, and its signs: Microsoft,
// "Naming Files, Paths, and Namespaces").
func Portable(name string) string {
	if ofWindows.MatchString(strings.ToLower(name)) {
		return "Windows cannot hold a file of this name"
	}
	for _, c := range name {
		if c == unicode.ReplacementChar || unicode.Is(unicode.Cf, c) || problem.Hidden(c) {
			return "the file's name holds a character that cannot be seen"
		}
	}
	if strings.ContainsAny(name, `<>:"\|?*`) || strings.HasSuffix(name, ".") || strings.HasSuffix(name, " ") {
		return "Windows cannot hold a file of this name"
	}
	return ""
}

// entries lists a folder of the shop. A folder that is not there is empty; one
// that cannot be read is a mistake, so that its notes do not silently vanish
// from the site.
func (l *loader) entries(dir string) []fs.DirEntry {
	info, err := fs.Lstat(l.fsys, dir)
	if err == nil && !info.IsDir() {
		if dir != "content" || info.Mode()&fs.ModeSymlink == 0 { // where a shop keeps its notes is its own affair
			l.mistakes.Add(dir, 0, 0, "this is no folder", "make it one, or remove it")
			return nil
		}
	}
	list, rerr := fs.ReadDir(l.fsys, dir)
	if rerr != nil && err == nil {
		l.mistakes.Add(dir, 0, 0, "the folder cannot be read", "check that you may read it")
	}
	if !slices.ContainsFunc(list, func(e fs.DirEntry) bool { return !plainFile(e.Name()) }) {
		return list // they are all different
	}
	var out []fs.DirEntry
	for _, e := range list {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		at := path.Join(dir, e.Name())
		if leftOver(e.Name()) {
			l.remarks.Add(at, 0, 0, "this looks like what an editor or a machine left behind, and is not read", "delete it, or give it a name that ends in .md")
			continue
		}
		if says := Portable(e.Name()); says != "" {
			l.mistakes.Add(at, 0, 0, says, "give it another name")
			continue
		}
		if other := l.twin(at); other != "" {
			l.mistakes.Add(at, 0, 0, "some machines cannot tell this name from "+other, "give one of them another name")
		}
		out = append(out, e)
	}
	return out
}

// plainFile tells whether a file has the name of a note, as nearly all have: there is
// nothing to be said of it.
func plainFile(name string) bool {
	stem, note := strings.CutSuffix(name, ".md")
	return note && IsName(stem) && Portable(name) == ""
}

// leftOver tells the names of copies and notes that editors, git and desktops
// leave beside a file: they are no notes, and must stop nothing.
func leftOver(name string) bool {
	lower := strings.ToLower(name)
	if lower == "thumbs.db" || lower == "desktop.ini" || strings.HasSuffix(lower, "~") || strings.HasPrefix(lower, "#") && strings.HasSuffix(lower, "#") || strings.HasPrefix(lower, "~$") {
		return true
	}
	for _, end := range []string{".bak", ".orig", ".rej", ".swp", ".swo", ".tmp", ".part", ".crdownload"} {
		if strings.HasSuffix(lower, end) {
			return true
		}
	}
	return false
}

// heavy finds the first paragraph that a reader of Markdown would be busy with
// for minutes: line counts from 0, says is "" where there is none. Signs in code
// count a tenth, as they are seldom read as marks.
func heavy(source []byte) (line int, says string) {
	count, fenced := 0, false
	columns, rows, from := 0, 0, 0 // of a table
	for n := 0; len(source) > 0; n++ {
		text, rest, _ := bytes.Cut(source, []byte("\n"))
		source = rest
		text = bytes.TrimSpace(text)
		if len(text) == 0 {
			count, columns = 0, 0
			continue
		}
		if columns > 0 {
			if rows++; rows*columns > cells {
				return from, fmt.Sprintf("this table would have more than %d cells, for each row has as many as the first", cells)
			}
		} else if parts := bytes.Count(text, []byte("|")); parts > 0 && len(bytes.Trim(text, "|-: \t>")) == 0 {
			columns, rows, from = parts+1, 1, n
		}
		if marks(text) > nested {
			return n, fmt.Sprintf("more than %d quotations or lists stand inside each other", nested)
		}
		if bytes.HasPrefix(text, []byte("```")) || bytes.HasPrefix(text, []byte("~~~")) {
			fenced = !fenced
		}
		of := 10 * (bytes.Count(text, []byte("*")) + bytes.Count(text, []byte("_")) + bytes.Count(text, []byte("[")))
		if fenced {
			of /= 10
		}
		if count += of; count > 10*signs {
			return n, fmt.Sprintf("there are more than %d of the signs * _ [ in one paragraph", signs)
		}
	}
	return 0, ""
}

// marks counts those of quotations and lists that a line begins with.
func marks(text []byte) (n int) {
	for len(text) > 0 {
		switch {
		case text[0] == '>':
			n++
		case strings.IndexByte("-+*", text[0]) >= 0 && (len(text) == 1 || text[1] == ' '):
			n++
		case text[0] != ' ' && text[0] != '\t':
			return n
		}
		text = text[1:]
	}
	return 0 // marks and nothing else: a line across the page
}

// unseen remarks the first sign of a file that nobody who reads it can see: it may turn a line
// around, or make two words look alike.
func (l *loader) unseen(r *reader) {
	for at := 0; at < len(r.raw); {
		if c := r.raw[at]; c >= ' ' && c < 0x7f || c == '\n' || c == '\t' {
			at++
			continue
		}
		c, size := utf8.DecodeRune(r.raw[at:])
		if !problem.Hidden(c) {
			at += size
			continue
		}
		start := bytes.LastIndexByte(r.raw[:at], '\n') + 1
		l.remarks.Add(r.file, 1+bytes.Count(r.raw[:at], []byte("\n")), 1+utf8.RuneCount(r.raw[start:at]), fmt.Sprintf("a sign that cannot be seen stands here, U+%04X", c), "delete it, unless the text needs it")
		return
	}
}
