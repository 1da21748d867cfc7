// Package problem holds what is wrong in a note: a place, one sentence, and
// what to do. Reading goes on after a problem, so that one run shows all.
package problem

import (
	"fmt"
	"io"
	"path"
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf16"
)

// Problem is one mistake in one file. Line and Column count from 1, columns in
// characters; 0 means that the whole file is meant.
type Problem struct {
	File         string
	Line, Column int
	Says         string // one sentence without a full stop
	Do           string // what to do, one sentence without a full stop; may be ""
	// Root tells that the file, or a part of it, could not be read at all: what
	// else is wrong may follow from it.
	Root bool
	// Of is the device whose note, fault or sheet is wrong; "" where the note is no device's.
	Of string
	// Again tells that the same was told of another note of the device: one slip in the device's own may be behind both.
	Again bool
	// On are the devices, parted by blanks, on which something in a block's note is
	// wrong; "" where the note is wrong by itself.
	On string
}

func (p Problem) String() string {
	place := p.File
	if p.Line > 0 {
		place = fmt.Sprintf("%s:%d:%d", p.File, p.Line, max(p.Column, 1))
	}
	s := place + ": " + p.Says
	if p.Do != "" {
		s += "; " + p.Do
	}
	return Visible(s)
}

// most is the longest message in characters: a note may hold a line of a
// megabyte, and the message repeats what is wrong in it.
const most = 500

// Visible is a text as it may be shown in a terminal: in one line, not endless,
// and signs that cannot be seen are written out.
func Visible(s string) string {
	var b strings.Builder
	n := 0
	for _, c := range s {
		if n++; n > most {
			b.WriteString("…")
			break
		}
		if Hidden(c) {
			b.WriteString(WrittenOut(c))
			continue
		}
		b.WriteRune(c)
	}
	return b.String()
}

// Hidden tells the signs that cannot be seen, and steer a terminal, turn a line around, or
// make two names look alike. Those of their kind that scripts and word breaks need are not
// among them.
func Hidden(c rune) bool {
	if c >= ' ' && c < 0x7f { // nearly all of them
		return false
	}
	switch c {
	case '\u00ad', '\u200c', '\u200d': // where a word may be parted; joined letters and signs
		return false
	case '\u115f', '\u1160', '\u3164', '\uffa0': // letters without a shape
		return true
	}
	return unicode.In(c, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}

// WrittenOut is a sign by its number, as JSON has it.
func WrittenOut(c rune) string {
	if high, low := utf16.EncodeRune(c); high != unicode.ReplacementChar {
		return fmt.Sprintf("\\u%04x\\u%04x", high, low)
	}
	return fmt.Sprintf("\\u%04x", c)
}

// List collects problems.
type List []Problem

// Add notes one problem.
func (l *List) Add(file string, line, column int, says, do string) {
	*l = append(*l, Problem{File: file, Line: line, Column: column, Says: oneLine(says), Do: oneLine(do)})
}

// oneLine is a sentence whose quoted text ran over the end of a line.
func oneLine(s string) string {
	if !strings.ContainsAny(s, "\n\r") {
		return s
	}
	return strings.Join(strings.FieldsFunc(s, func(c rune) bool { return c == '\n' || c == '\r' }), " ")
}

// AddRoot notes a problem that others may follow from.
func (l *List) AddRoot(file string, line, column int, says, do string) {
	*l = append(*l, Problem{File: file, Line: line, Column: column, Says: oneLine(says), Do: oneLine(do), Root: true})
}

// Sort orders by file, line, column, what others may follow from first, and says nothing
// twice at one place.
func (l *List) Sort() {
	s := *l
	sort.SliceStable(s, func(i, j int) bool {
		a, b := s[i], s[j]
		switch {
		case a.Root != b.Root:
			return a.Root
		case a.File != b.File:
			return a.File < b.File
		case a.Line != b.Line:
			return a.Line < b.Line
		case a.Column != b.Column:
			return a.Column < b.Column
		}
		return a.Says < b.Says
	})
	kept := s[:0]
	for _, p := range s {
		if n := len(kept); n > 0 {
			same := kept[n-1]
			if same.Do = p.Do; same == p {
				continue // two ways found it, and each may advise otherwise
			}
		}
		kept = append(kept, p)
	}
	*l = kept
}

// First are those to be mended first, and how many are left. Where a file, or a part of it, could
// not be read, what else is told of it may only follow from that: of a device's own note all that is told of the
// device, of a file that all devices rest on all that is told of any.
func (l List) First() (first List, left int) {
	files, devices, every := map[string]bool{}, map[string]bool{}, false
	alone := map[string]bool{} // blocks that are wrong by themselves, not on a device only
	for _, p := range l {
		if p.Root && p.On != "" {
			for _, d := range strings.Fields(p.On) {
				devices[d] = true
			}
		} else if p.Root {
			alone[p.File] = true
			files[p.File] = p.Of != "" || path.Dir(p.File) == "content/blocks"
			devices[p.Of] = devices[p.Of] || path.Dir(p.File) == "content/devices"
			every = every || path.Dir(p.File) == "content/blocks" || p.File == "content/complaints.yaml"
		}
	}
	for _, p := range l {
		follows := files[p.File] || devices[p.Of] || every && (p.Of != "" || path.Dir(p.File) == "content/blocks")
		if on := strings.Fields(p.On); len(on) > 0 && !follows {
			follows = !slices.ContainsFunc(on, func(d string) bool { return !devices[d] })
		}
		// what was told as a root of its own may follow too, further down
		below := p.On != "" && alone[p.File] || p.Of != "" && (every || devices[p.Of] && path.Dir(p.File) != "content/devices")
		if follows && (!p.Root || below) || p.Again {
			left++
		} else {
			first = append(first, p)
		}
	}
	return first, left
}

// Follow says how many problems are left to be told when those that are told are mended; "" for none.
func Follow(left int) string {
	switch left {
	case 0:
		return ""
	case 1:
		return "1 more may follow from that, and is told if it is still there when that is mended."
	}
	return fmt.Sprintf("%d more may follow from that, and are told if they are still there when that is mended.", left)
}

// mostOfFile is how many problems of one file are printed: who mends these sees the rest.
const mostOfFile = 100

// Print writes one problem a line, those to be mended first, and of a file with very many how many are left.
func (l List) Print(w io.Writer) error {
	l, follow := l.First()
	printed, left := map[string]int{}, map[string]int{}
	var over []string
	for _, p := range l {
		if printed[p.File] == mostOfFile {
			if left[p.File]++; left[p.File] == 1 {
				over = append(over, p.File)
			}
			continue
		}
		printed[p.File]++
		if _, err := fmt.Fprintln(w, p); err != nil {
			return err
		}
	}
	for _, file := range over {
		if _, err := fmt.Fprintln(w, Problem{File: file, Says: fmt.Sprintf("%d more of the same file are not told", left[file]), Do: "mend those above first"}); err != nil {
			return err
		}
	}
	if follow > 0 {
		if _, err := fmt.Fprintln(w, Follow(follow)); err != nil {
			return err
		}
	}
	return nil
}
