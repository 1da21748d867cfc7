package site

import (
	"fmt"

	"faultleaf/internal/note"
	"faultleaf/internal/site/counterpage"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/record"
	"faultleaf/search"
)

// What rests on more than one device is made of rows, which every device has in the
// record, and of what is no device's.

// benchRow is the name under which a device's row of the counter is kept.
const benchRow = "bench"

// onBench adds what the pages of a job need of a device, and gives its row.
func onBench(files Files, s *page.Shop, d *note.Device) ([]byte, error) {
	row, payload, err := counterpage.Device(s, d)
	if err != nil {
		return nil, err
	}
	_, err = pack(files, row.At, payload)
	return record.Encode(row), err
}

// rows are those of all devices for a kind of list, in the order of the devices' files.
func (s *stream) rows(kind string) [][]byte {
	rows := make([][]byte, len(s.names))
	for i, name := range s.names {
		rows[i] = s.made[name].Rows[kind]
	}
	return rows
}

// madeList is what was made of rows, as it is kept.
type madeList struct {
	Files []outcome
	Found []search.Document
}

// lists makes the pages that are no device's.
func (s *stream) lists() error {
	for _, k := range kinds {
		if k.Pages != nil {
			if err := s.list(k, record.Key("pages", k.Name, s.ground), func() ([]page.Page, error) { return k.Pages(s.shop) }); err != nil {
				return err
			}
		}
		if k.Lists != nil {
			rows := s.rows(k.Name)
			parts := []string{"lists", k.Name, s.ground}
			if k.Dated {
				parts = append(parts, string(record.Encode(s.past.Changes)))
			}
			parts = append(parts, record.KeyOf(rows))
			if err := s.list(k, record.Key(parts...), func() ([]page.Page, error) { return k.Lists(s.shop, rows) }); err != nil {
				return err
			}
		}
	}
	return nil
}

// list makes pages of a kind unless they stand.
func (s *stream) list(k page.Kind, key string, make func() ([]page.Page, error)) error {
	m := madeList{}
	if b := s.kept.Kept(key); b == nil || record.Decode(b, &m) != nil || !s.takeOver(m.Files) {
		if k.Blocks {
			s.shared.notes.ReadExamples()
		}
		pages, err := make()
		if err != nil {
			return fmt.Errorf("the %s pages cannot be made: %w", k.Name, err)
		}
		m = madeList{}
		for _, p := range pages {
			p.Kind = k.Name
			if p.Found != nil {
				m.Found = append(m.Found, *p.Found)
			}
			if p.Template == "" { // it is only found, at a place on another page
				continue
			}
			o, err := s.page(p)
			if err != nil {
				return err
			}
			m.Files = append(m.Files, o)
		}
		s.kept.Put(key, record.Encode(m))
	}
	s.add(m.Files...)
	s.docs = append(s.docs, m.Found...)
	return nil
}

// page puts a page that is no device's into its frame and into the site.
func (s *stream) page(p page.Page) (outcome, error) {
	var file string // that it is made from
	for _, d := range s.shop.Documents() {
		if d.Address() == p.Address {
			file = d.File
		}
	}
	b, err := frame(nil, s.pages, p, around(s.shop.Set, p, file))
	if err != nil {
		return outcome{}, fmt.Errorf("%s: %w", p.Address, err)
	}
	return s.put(p.Address, b)
}
