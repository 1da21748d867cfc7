// Package writingpage is the page "Writing notes": the format's tables, with an
// example of every kind.
package writingpage

import (
	"strconv"
	"strings"

	"faultleaf/internal/format"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// Kind is the page.
var Kind = page.Kind{Name: "writing", Pages: pages}

// Address of the page.
const Address = "writing-notes.html"

// Title of the page.
const Title = "Writing notes"

type view struct {
	Format  int
	Kinds   []kind
	Changes []change
}

type kind struct {
	ID, Title, Says, File, Below, Command string
	Groups                                []group
	Samples                               []format.Sample
}

type group struct {
	Where string
	Keys  []key
}

type key struct{ Name, Says, Form, Notes, Example string }

type change struct {
	Format string
	Says   string
	Keys   string // that came with it
}

func pages(s *page.Shop) ([]page.Page, error) {
	v := view{Format: s.Shop.Format}
	var words []string
	for _, k := range format.Kinds {
		kv := kind{ID: "kind-" + k.Name, Title: k.Title, Says: k.Says, File: k.File, Below: k.Below}
		if k.Below != "" {
			kv.Command = "faultleaf note " + k.Name
		}
		words = append(words, k.Title, k.Says)
		for _, g := range k.Groups() {
			gv := group{Where: g.Where}
			for _, x := range g.Keys {
				if x.Refused != "" {
					continue
				}
				kx := key{Name: x.Name, Says: x.Help, Form: x.Value.Says(), Notes: x.Notes()}
				if x.Example != "" {
					kx.Example = x.Name + ": " + x.Example
				}
				words = append(words, x.Name+": "+x.Help)
				gv.Keys = append(gv.Keys, kx)
			}
			kv.Groups = append(kv.Groups, gv)
		}
		for _, x := range format.Samples {
			if x.Kind == k.Name {
				kv.Samples = append(kv.Samples, x)
			}
		}
		v.Kinds = append(v.Kinds, kv)
	}
	for i := len(format.Changes) - 1; i >= 0; i-- {
		c := format.Changes[i]
		v.Changes = append(v.Changes, change{strconv.Itoa(c.Format), c.Says, strings.Join(came(c.Format), ", ")})
	}
	return []page.Page{{Address: Address, Title: Title, Template: "writing", View: v,
		Found: &search.Document{ID: "writing-notes", Kind: "page", Title: Title, Address: Address, Text: strings.Join(words, "\n")}}}, nil
}

// came lists the keys that came with a format, by the kind of note.
func came(with int) []string {
	var out []string
	for _, k := range format.Kinds {
		for _, g := range k.Groups() {
			for _, x := range g.Keys {
				if x.Since != with || x.Refused != "" {
					continue
				}
				name := x.Name
				if g.Where != "" && g.Where != k.Each {
					name = g.Where + " › " + name
				}
				out = append(out, name+" ("+k.Name+")")
			}
		}
	}
	return out
}
