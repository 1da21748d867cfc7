package note

import (
	"bytes"
	"errors"
	"io/fs"
	"maps"
	"path"
	"testing/fstest"

	"faultleaf/calc/trace"
	"faultleaf/internal/problem"
)

// Judge reads single job sheets against a shop that was read before, as they
// come in one by one: with the same checks as Load, and without reading the rest
// again. Several may be read at once.
type Judge struct {
	l      *loader
	left   Left
	causes map[string]*faultFile
}

// NewJudge reads the shop. Of a shop with mistakes it judges by the healthy notes;
// where a mistake concerns every note there is no judge.
func NewJudge(fsys fs.FS, find Find) (*Judge, problem.List) {
	l, left, mistakes, _ := loadHealthy(fsys, find, nil)
	if left.All {
		return nil, mistakes
	}
	j := &Judge{l: l, left: left, causes: map[string]*faultFile{}}
	for _, f := range l.faults {
		j.causes[f.Name] = f
	}
	return j, mistakes
}

// Left is what of the shop the judge does not go by.
func (j *Judge) Left() Left { return j.left }

// Rests tells of a note, new or changed, that rests on a device with a mistake in
// its notes, and so cannot be judged.
func (j *Judge) Rests(file string, text []byte) (mistakes problem.List) {
	m := deviceLine.FindSubmatchIndex(text)
	if m == nil || !j.left.Has(j.l.now(string(text[m[2]:m[3]]))) {
		return nil
	}
	mistakes.Add(file, 1+bytes.Count(text[:m[2]], []byte("\n")), 1, "the notes of “"+string(text[m[2]:m[3]])+"” hold a mistake, so this cannot be checked against them", "mend that first; faultleaf inspect says where")
	return mistakes
}

// Set is the shop that was read.
func (j *Judge) Set() *Set { return j.l.set }

// Sheet reads a job sheet as if it lay in content/jobs under a name.
func (j *Judge) Sheet(name string, text []byte) (trace.Sheet, problem.List) {
	file := path.Join("content/jobs", name)
	if mistakes := j.Rests(file, text); mistakes != nil {
		return trace.Sheet{}, mistakes
	}
	l := *j.l // whatever reading one sheet writes to is new below, for several are read at once
	l.fsys = fstest.MapFS{file: {Data: text, Mode: 0o644}}
	l.mistakes, l.remarks, l.jobs, l.bodies, l.unfilled = nil, nil, nil, nil, nil
	l.docs, l.byDoc, l.names = maps.Clone(l.docs), maps.Clone(l.byDoc), map[string]string{}
	l.sheetOf, l.toldKeys = map[string]string{}, map[string]bool{}
	set := *l.set
	set.Jobs, set.index = nil, nil
	l.set = &set
	names := l.files("jobs")
	if len(names) == 0 && len(l.mistakes) == 0 {
		l.mistakes.Add(file, 0, 0, "this is no note", "a sheet's name ends in .md")
	}
	for _, f := range names {
		l.readJob(f)
	}
	for _, f := range l.jobs {
		l.crossJob(f, j.causes)
	}
	for _, b := range l.bodies {
		b.doc.Places = l.places(b.doc)
		l.checkBody(b)
	}
	l.mistakes.Sort()
	if len(set.Jobs) == 0 {
		return trace.Sheet{}, l.mistakes
	}
	return set.Jobs[0].Sheet, l.mistakes
}

// WithFault reads the shop with one fault note more, and gives what is wrong in
// it.
func WithFault(fsys fs.FS, find Find, name string, text []byte) problem.List {
	return With(fsys, find, path.Join("content/faults", name), text)
}

// With reads the shop with one note more, and gives what is wrong in it.
func With(fsys fs.FS, find Find, file string, text []byte) problem.List {
	_, mistakes, _ := Load(Over(fsys, fstest.MapFS{file: {Data: text, Mode: 0o644}}), find)
	var own problem.List
	for _, m := range mistakes {
		if m.File == file {
			own = append(own, m)
		}
	}
	return own
}

// Error is the first mistake of a list as a sentence for a page that knows no
// files; nil if there is none.
func Error(mistakes problem.List) error {
	if len(mistakes) == 0 {
		return nil
	}
	m := mistakes[0]
	says := "This is not kept, for " + m.Says
	if m.Do != "" {
		says += ": " + m.Do
	}
	return errors.New(says + ".")
}
