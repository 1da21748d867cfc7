package note

import (
	"bytes"
	"io/fs"
	"regexp"
	"strings"
	"unicode/utf8"
)

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
