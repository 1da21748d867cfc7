package site

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
)

// CheckSome checks some files of the shop in dir, each by its path below dir, and
// of the others reads only what these rest on: a device with all its faults and
// sheets, block notes, lists and plain pages. Besides what is wrong in the files it
// gives the mistakes in notes that rest on them: on a device those in its faults
// and sheets, on a block note or a list those of the whole shop.
func CheckSome(dir string, files []string) (mistakes, remarks problem.List, err error) {
	list, err := walk(dir)
	if err != nil {
		return nil, nil, err
	}
	shop := take(list, nil, "")
	asked, taken := map[string]bool{}, map[string]bool{}
	alone := !shop.strange
	wide := false // every note may rest on one of the files
	for _, f := range files {
		f = filepath.ToSlash(filepath.Clean(f))
		if _, ok := shop.sums[f]; !ok {
			return nil, nil, fmt.Errorf("there is no file %s among the notes of %s", f, dir)
		}
		asked[f] = true
		if dir := path.Dir(f); dir == "content" || dir == "content/blocks" || dir == "content/images" {
			wide, alone = true, false
		}
		if d := shop.device[f]; d != "" {
			taken[d] = true
		}
	}
	var part note.Part
	if alone {
		var notes []string
		for device := range taken {
			notes = append(notes, shop.of[device]...)
		}
		if part = note.Open(os.DirFS(dir), all.Find, false).Part(notes); len(part.Mistakes) > 0 {
			part = note.Open(os.DirFS(dir), all.Find, true).Part(notes)
		}
		alone = len(part.Amiss(shop.documents()...)) == 0 && !shop.named(dir, part.Set.Devices, asked, taken)
	}
	if !alone { // only the whole shop tells where a link leads
		_, part.Mistakes, part.Remarks = note.Load(os.DirFS(dir), all.Find)
	}
	for _, p := range part.Mistakes {
		if asked[p.File] || wide || asked["content/devices/"+shop.device[p.File]+".md"] {
			mistakes = append(mistakes, p)
		}
	}
	for _, p := range part.Remarks {
		if asked[p.File] {
			remarks = append(remarks, p)
		}
	}
	return mistakes, remarks, nil
}

// claims are the lines of a device's note that may claim a name.
var claims = regexp.MustCompile(`(?m)^(?:title|also):.*(?:\n[ \t-].*)*`)

// named tells whether another device's note holds a name that one of the asked
// devices claims: then only the whole shop tells whose it is.
func (s *folder) named(dir string, devices []*note.Device, asked, taken map[string]bool) bool {
	plain := func(text string) string { return strings.ReplaceAll(strings.ToLower(text), "-", " ") }
	var names []string
	for _, d := range devices {
		if !asked[d.File] {
			continue
		}
		names = append(names, plain(d.Title))
		for _, w := range d.Also {
			if w.Weight == 1 {
				names = append(names, plain(w.Name))
			}
		}
	}
	if len(names) == 0 {
		return false
	}
	for file, device := range s.device {
		if path.Dir(file) != "content/devices" || taken[device] {
			continue
		}
		b, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(file)))
		if err != nil {
			return true
		}
		for _, claimed := range claims.FindAll(b, -1) {
			if slices.ContainsFunc(names, func(n string) bool { return strings.Contains(plain(string(claimed)), n) }) {
				return true
			}
		}
	}
	return false
}

// documents are the notes of devices by their files alone.
func (s *folder) documents() (list []*note.Document) {
	for file := range s.device {
		list = append(list, &note.Document{File: file})
	}
	return list
}
