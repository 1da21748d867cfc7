package note

import (
	"io/fs"
	"slices"
	"strings"
)

// Over is a folder with a few files laid over it, to read a shop as it would be
// with one note more.
func Over(under, top fs.FS) fs.FS { return over{under, top} }

type over struct{ under, top fs.FS }

func (o over) Open(name string) (fs.File, error) {
	if info, err := fs.Stat(o.top, name); err == nil && !info.IsDir() {
		return o.top.Open(name)
	}
	return o.under.Open(name)
}

// ReadDir lists both.
func (o over) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(o.under, name)
	more, errTop := fs.ReadDir(o.top, name)
	if err != nil && errTop != nil {
		return nil, err
	}
	for _, e := range more {
		if !slices.ContainsFunc(list, func(x fs.DirEntry) bool { return x.Name() == e.Name() }) {
			list = append(list, e)
		}
	}
	slices.SortFunc(list, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return list, nil
}
