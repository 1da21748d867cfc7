package site

import (
	"fmt"
	"io/fs"
	"strings"

	"faultleaf/calc/all"
	"faultleaf/internal/core"
	"faultleaf/internal/note"
	"faultleaf/internal/site/counterpage"
	"faultleaf/internal/site/page"
	"faultleaf/search/build"
)

// Make renders the whole site in memory, which publishing never does: what a stream of parts
// gave is held against it. content holds the images.
func Make(set *note.Set, content fs.FS, binary core.Core) (Files, error) {
	pages, docs, err := Pages(set)
	if err != nil {
		return nil, err
	}
	files := Files{}
	t, err := page.Templates()
	if err != nil {
		return nil, err
	}
	from := map[string]string{} // the note that a page was made from
	for _, d := range set.Documents() {
		from[d.Address()] = d.File
		if d.Made != "" {
			from[d.Address()] = d.Made
		}
	}
	for _, p := range pages {
		b, err := frame(nil, t, p, around(set, p, from[p.Address]))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.Address, err)
		}
		if _, twice := files[p.Address]; twice {
			return nil, fmt.Errorf("two pages want the address %s", p.Address)
		}
		files[p.Address] = b
	}
	if err := pictures(files, set, content); err != nil {
		return nil, err
	}
	if err := style(files); err != nil {
		return nil, err
	}
	index, err := build.Write(docs, page.NewShop(set, nil).Speech(), nil)
	if err != nil {
		return nil, fmt.Errorf("the search index cannot be written: %w", err)
	}
	shop := page.NewShop(set, all.At(set.Shop.Values()))
	var kept [][]byte
	for _, d := range set.Devices {
		row, err := onBench(files, shop, d)
		if err != nil {
			return nil, err
		}
		kept = append(kept, row)
	}
	rows, err := page.Rows[counterpage.Row](kept)
	if err != nil {
		return nil, err
	}
	bench, err := counterpage.Bench(shop, rows)
	if err != nil {
		return nil, err
	}
	return files, run(files, index, binary, bench, set.Shop.Values(), func(p payload) (string, error) {
		b, err := p.read()
		if err != nil {
			return "", err
		}
		return pack(files, p.name, b)
	})
}

// pictures adds the sizes of the shop's pictures.
func pictures(files Files, set *note.Set, content fs.FS) error {
	for name, p := range set.Images {
		b, err := fs.ReadFile(content, name)
		if err != nil {
			return err
		}
		made, err := p.Files(strings.TrimPrefix(name, "content/"), b)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		for at, b := range made {
			if _, twice := files[at]; twice {
				return fmt.Errorf("%s: its size %s has the name of another picture; give one of them another name", name, at)
			}
			files[at] = b
		}
	}
	return nil
}
