package calcpage

import (
	"regexp"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/calc/sources"
	"faultleaf/internal/note"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// piece is a stretch of a method page's text, or a citation in it that leads to
// its document, or another calculator that it names.
type piece struct{ Text, Address string }

var (
	bracketed = regexp.MustCompile(`\[([a-z][a-z0-9-]*(?:[ ,;][^\]]*)?)\]`)
	ticked    = regexp.MustCompile("`([^`]+)`")
)

// pieces parts a paragraph of a method page at its citations in square brackets,
// and at the names of calculators between backticks, which become their titles.
func pieces(text string) []piece {
	if m := ticked.FindStringSubmatchIndex(text); m != nil {
		named := piece{Text: text[m[2]:m[3]]}
		if c, ok := all.Find(named.Text); ok {
			named = piece{"“" + c.Title + "”", c.Name + ".html"}
		}
		return append(append(pieces(text[:m[0]]), named), pieces(text[m[1]:])...)
	}
	var out []piece
	last := 0
	for _, m := range bracketed.FindAllStringSubmatchIndex(text, -1) {
		c, err := sources.Cite(text[m[2]:m[3]])
		if err != nil {
			continue // the test of this package refuses it
		}
		out = append(out, piece{Text: text[last:m[0]]}, piece{c.String(), "sources.html#" + c.ID})
		last = m[1]
	}
	return append(out, piece{Text: text[last:]})
}

func allPieces(paragraphs []string) [][]piece {
	var out [][]piece
	for _, p := range paragraphs {
		out = append(out, pieces(p))
	}
	return out
}

// bracketsOf lists the citations in a method page.
func bracketsOf(c *calc.Calculator) []string {
	var out []string
	t := calc.ParseDoc(c.Doc)
	for _, part := range [][]string{t.Lead, t.Method, t.Holds, t.Misleads, t.Disagree, t.Sources} {
		for _, p := range part {
			for _, m := range bracketed.FindAllStringSubmatch(p, -1) {
				out = append(out, m[1])
			}
		}
	}
	return out
}

// document is one source with those who lean on it.
type document struct {
	ID, Label, Title, Sort, Status, Regions, Scope, Devices, Seen, At, Note string
	Past                                                                    bool
	Users                                                                   []user
}

// user is a page that leans on a source, and at which places of it.
type user struct {
	Title, Address string
	Places         string
}

type shelf struct {
	Title     string
	Documents []document
}

type sourcesView struct {
	Count  int
	Groups []shelf
}

// groups are the sorts by which the page lists the documents.
var groups = []struct {
	title string
	sorts []string
}{
	{"Standards, laws and guides", []string{"standard", "law", "guide"}},
	{"Makers' data sheets, manuals and notes", []string{"maker"}},
	{"Handbooks, papers, open data", []string{"handbook", "paper", "data"}},
	{"Courses and other pages", []string{"course", "page"}},
	{"What is no document", []string{sources.Own, sources.Practice, sources.Memory, sources.Limit}},
}

var ways = map[string]string{"read": "Read", "excerpt": "Seen in excerpts that others print word for word", "summary": "Seen as others tell it", sources.Memory: "Not seen; from memory"}

func capital(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// list is the page of all documents and of who uses them.
// citing is a note of a device that cites.
type citing struct {
	Name, Title, Address string
	Cites                []note.Cite
}

// row are the notes of a device that cite: its own first, if it does, then its faults'.
type row struct {
	Device *citing
	Faults []citing
}

func rowOf(s *page.Shop, d *note.Device) (r row) {
	of := func(d *note.Document) citing { return citing{d.Name, d.Title, d.Address(), d.Cites} }
	if len(d.Cites) > 0 {
		c := of(&d.Document)
		r.Device = &c
	}
	for _, f := range s.FaultsOf(d.Name) {
		if len(f.Cites) > 0 {
			r.Faults = append(r.Faults, of(&f.Document))
		}
	}
	return r
}

func list(s *page.Shop, rows []row) ([]page.Page, error) {
	records := records(s.Calculators)
	users := map[string][]user{}
	use := func(id, title, address, place string) {
		for i := range users[id] {
			if u := &users[id][i]; u.Address == address {
				if place != "" && !slices.Contains(strings.Split(u.Places, "; "), place) {
					u.Places = strings.Trim(u.Places+"; "+place, "; ")
				}
				return
			}
		}
		users[id] = append(users[id], user{title, address, place})
	}
	cite := func(text, title, address string) {
		if c, err := sources.Cite(text); err == nil {
			place := ""
			if c.Document() {
				place = c.Place
			}
			use(c.ID, title, address, place)
		}
	}
	for _, r := range records {
		for _, text := range r.citations {
			cite(text, r.Title, r.Name+".html")
		}
	}
	for _, c := range s.Calculators {
		for _, text := range bracketsOf(c) {
			cite(text, c.Title, c.Name+".html")
		}
	}
	cites := func(d *citing) {
		for _, c := range d.Cites {
			says := c.Says
			if s, ok := sources.Find(c.ID); ok {
				says = strings.TrimLeft(strings.TrimPrefix(says, s.Name), ", ") // the name stands above
			}
			use(c.ID, d.Title, page.Root(sourcesAddress)+d.Address, says)
		}
	}
	var faults []citing
	for _, r := range rows {
		if r.Device != nil {
			cites(r.Device)
		}
		faults = append(faults, r.Faults...)
	}
	own := func(d *note.Document) { cites(&citing{d.Name, d.Title, d.Address(), d.Cites}) }
	for _, b := range s.Set.Blocks {
		own(&b.Document)
	}
	slices.SortFunc(faults, func(a, b citing) int { return strings.Compare(a.Name, b.Name) })
	for i := range faults {
		cites(&faults[i])
	}
	for _, c := range s.Checklists {
		own(&c.Document)
	}
	for _, p := range s.Set.Pages {
		own(&p.Document)
	}
	v := sourcesView{}
	for _, g := range groups {
		out := shelf{Title: g.title}
		for _, src := range sources.All {
			if !slices.Contains(g.sorts, src.Sort) {
				continue
			}
			v.Count++
			d := document{ID: src.ID, Label: src.Label(), Title: src.Title, Sort: src.Sort, Status: capital(src.Status), Regions: strings.Join(src.Regions, ", "), Scope: src.Scope,
				Devices: strings.Join(src.Devices, ", "), Seen: ways[src.Seen], At: src.At, Note: capital(src.Note), Past: !src.InForce(), Users: users[src.ID]}
			if by, ok := sources.Find(src.By); ok {
				d.Status += "; in its place: " + by.Name
			}
			out.Documents = append(out.Documents, d)
		}
		v.Groups = append(v.Groups, out)
	}
	return []page.Page{{Address: sourcesAddress, Title: "Sources", Template: "sources", View: v,
		Found: &search.Document{ID: "calc/sources", Kind: "page", Title: "Sources", Address: sourcesAddress, Text: "The standards, data sheets and handbooks that figures rest on, whether they are in force, and who uses them."}}}, nil
}
