package site

import (
	"fmt"
	"os"
	"path/filepath"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
)

// CheckSome checks some files of the shop in dir, each by its path below dir, and
// of the others reads only what these rest on: a device with all its faults and
// sheets, block notes, lists and plain pages.
func CheckSome(dir string, files []string) (mistakes, remarks problem.List, err error) {
	shop, err := take(dir)
	if err != nil {
		return nil, nil, err
	}
	asked, taken := map[string]bool{}, map[string]bool{}
	alone := !shop.strange
	for _, f := range files {
		f = filepath.ToSlash(filepath.Clean(f))
		if _, ok := shop.sums[f]; !ok {
			return nil, nil, fmt.Errorf("there is no file %s among the notes of %s", f, dir)
		}
		asked[f] = true
		if d := shop.device[f]; d != "" {
			taken[d] = true
		}
	}
	var part note.Part
	if alone {
		part = note.LoadPart(os.DirFS(dir), all.Find, func(file string) bool { return taken[shop.device[file]] })
		alone = part.Leads(shop.documents(part.Set))
	}
	if !alone { // only the whole shop tells where a link leads
		_, part.Mistakes, part.Remarks = note.Load(os.DirFS(dir), all.Find)
	}
	of := func(list problem.List) (own problem.List) {
		for _, p := range list {
			if asked[p.File] {
				own = append(own, p)
			}
		}
		return own
	}
	return of(part.Mistakes), of(part.Remarks), nil
}

// documents are those of a set, and the notes of the folder that it leaves out by
// their files alone.
func (s *folder) documents(set *note.Set) []*note.Document {
	list := set.Documents()
	for file := range s.device {
		list = append(list, &note.Document{File: file})
	}
	return list
}
