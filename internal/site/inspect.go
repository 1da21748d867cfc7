package site

import (
	"errors"
	"fmt"
	"os"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/record"
)

// Check reads and checks the notes under dir, which holds content/, and tries every
// page; nothing is written. What was published into the folder to, if anything was,
// need not be read or tried again. Of the notes of devices the set holds names and
// kinds at least. Remarks are no mistakes.
func Check(dir, to string) (set *note.Set, mistakes, remarks problem.List, err error) {
	s := &stream{dir: dir, to: to, tell: func(string, int) {}, looks: true, kept: record.Look(to)}
	if s.kept == nil {
		return checkWhole(dir)
	}
	defer s.kept.Close()
	mistakes, err = s.check()
	if errors.Is(err, asWhole) {
		return checkWhole(dir)
	}
	return s.all, mistakes, s.remarks, err
}

// checkWhole has the whole shop in memory.
func checkWhole(dir string) (set *note.Set, mistakes, remarks problem.List, err error) {
	set, mistakes, remarks = note.Load(os.DirFS(dir), all.Find)
	if len(mistakes) > 0 {
		return set, mistakes, remarks, nil
	}
	_, _, err = Pages(set)
	return set, mistakes, remarks, err
}

// check reads the notes, and tries the pages of those that hold no mistake.
func (s *stream) check() (problem.List, error) {
	list, err := walk(s.dir)
	if err != nil {
		return nil, err
	}
	if s.program, err = program(s.kept); err != nil {
		return nil, err
	}
	s.heads, s.made = map[string]*head{}, map[string]*madeOf{}
	s.files = take(list, s.kept, record.Key("files", s.program))
	s.readPast()
	if mistakes, err := s.read(); err != nil || len(mistakes) > 0 {
		return mistakes, err
	}
	return nil, s.try()
}

// try makes the pages that are not in the record, and keeps none of them.
func (s *stream) try() error {
	made := make([]*madeOf, len(s.names))
	err := s.together(len(s.names), func(i int) error {
		made[i] = &madeOf{Rows: map[string][]byte{}}
		if b := s.kept.Kept(s.madeKey(s.names[i])); b != nil && record.Decode(b, made[i]) == nil {
			return nil
		}
		n, err := s.notesOf(s.names[i])
		if err != nil {
			return err
		}
		shop := s.shopOf(n)
		if _, err = s.pagesOf(shop, n.Device, func(page.Page) error { return nil }); err != nil {
			return err
		}
		for _, k := range kinds {
			if k.Row != nil {
				made[i].Rows[k.Name] = k.Row(shop, n.Device)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for i, m := range made {
		s.made[s.names[i]] = m
	}
	for _, k := range kinds {
		if k.Pages != nil {
			if _, err = k.Pages(s.shop); err != nil {
				return fmt.Errorf("the %s pages cannot be made: %w", k.Name, err)
			}
		}
		if k.Lists != nil {
			if _, err = k.Lists(s.shop, s.rows(k.Name)); err != nil {
				return fmt.Errorf("the %s pages cannot be made: %w", k.Name, err)
			}
		}
	}
	return nil
}
