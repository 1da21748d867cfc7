package note

import (
	"bytes"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/internal/format"
)

// unfilled is a text of a begun note that still stands where something should be
// said.
type unfilled struct {
	r  *reader
	at ast.Node
}

// settleDrafts finds the notes that say that they are drafts, or in which the
// words of a begun note still stand, so that nothing counts on them. The faults
// of a device that is a draft are drafts with it.
func (l *loader) settleDrafts() {
	remark := func(d *Document, line, column int, text string) {
		if !d.Draft {
			l.remarks.Add(d.File, line, column, quote(text)+" stands here since the note was begun, so the note counts as a draft", "say it in words of your own, or write draft: true until you can")
		}
		d.Draft = true
	}
	for _, u := range l.unfilled {
		if d, ok := l.docs[u.r.file]; ok {
			line, column := u.r.place(u.at)
			remark(d, line, column, u.r.scalar(u.at, ""))
		}
	}
	for _, b := range l.bodies {
		i := 0
		for line := range bytes.SplitSeq(b.doc.Source, []byte("\n")) {
			text := bytes.TrimSpace(line)
			if text = bytes.TrimSpace(bytes.TrimPrefix(text, []byte("- [ ]"))); len(text) > 0 && len(text) <= format.LongestUnfilled && format.Unfilled(string(text)) {
				remark(b.doc, b.line+i, 1, string(text))
			}
			i++
		}
	}
	for _, f := range l.set.Faults {
		if d, ok := l.set.Device(f.Device); ok && d.Draft {
			f.Draft = true
		}
	}
}

// counted leaves out of a device's faults those that are drafts.
func counted(faults []*faultFile) []*faultFile {
	var out []*faultFile
	for _, f := range faults {
		if !f.Draft {
			out = append(out, f)
		}
	}
	return out
}

// Drafts are the notes of all kinds that are still to be filled in.
func (s *Set) Drafts() []*Document {
	var out []*Document
	for _, d := range s.Documents() {
		if d.Draft {
			out = append(out, d)
		}
	}
	return out
}
