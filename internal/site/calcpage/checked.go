package calcpage

import (
	_ "embed"
	"strconv"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/sources"
	"faultleaf/internal/site/page"
	"faultleaf/search"
)

// checkedText is the record of the checks: a paragraph for each calculator with
// its name, how many values agreed, what they rest on, and the citations. A test
// of this package runs the checks and compares; UPDATE_GOLDEN=1 writes it anew.
//
//go:embed checked.txt
var checkedText string

// record is the checks of one calculator.
type record struct {
	Name, Title, Checks string // Checks: "72 checks in 17 cases"
	Apart               []part
	Rests               string // the same in words: "60 own computation, 8 trade practice"
	Sources             []cited
	citations           []string // as the cases have them
}

// part is how many checks rest on one sort of source.
type part struct {
	Sort, Label, Says string
	Count             int
}

// cited is a citation as a reader sees it, with the address of its document.
type cited struct{ Text, Address string }

// sorts are the sorts that checks are counted by, in this order everywhere.
var sorts = []part{
	{Sort: sources.Published, Label: "published", Says: "A value, rule or worked example read in a standard, handbook, data sheet, course or paper, in its own words, in an excerpt or in a summary; the page Sources says which."},
	{Sort: sources.Own, Label: "own computation", Says: "Computed anew, independently of the code it checks: by hand, by another formula, by a circuit simulator. Nobody outside has printed this number."},
	{Sort: sources.Practice, Label: "trade practice", Says: "The trade does it; no publication was found that says so."},
	{Sort: sources.Memory, Label: "from memory", Says: "Remembered, in no document that was seen. Look it up before you lean on it."},
	{Sort: sources.Limit, Label: "limits", Says: "What arithmetic or this calculator rules out, such as a negative resistance; nothing outside has to decide it."},
}

type checkedView struct {
	Total   int
	Apart   []part
	Records []record
}

const sourcesAddress = "calc/sources.html"

func citation(text string) cited {
	c, err := sources.Cite(text)
	if err != nil {
		return cited{Text: text}
	}
	return cited{c.String(), "sources.html#" + c.ID}
}

// records reads the text for the calculators that there are.
func records(all []*calc.Calculator) []record {
	titles := map[string]string{}
	for _, c := range all {
		titles[c.Name] = c.Title
	}
	var out []record
	for _, paragraph := range strings.Split(strings.TrimSpace(checkedText), "\n\n") {
		lines := strings.Split(paragraph, "\n")
		name, says, ok := strings.Cut(lines[0], ": ")
		title := titles[name]
		if !ok || title == "" {
			continue
		}
		checks, rests, _ := strings.Cut(says, ": ")
		r := record{Name: name, Title: title, Checks: checks}
		var words []string
		for _, p := range sorts {
			for _, count := range strings.Split(rests, ", ") {
				if number, sort, _ := strings.Cut(count, " "); sort == p.Sort {
					p.Count, _ = strconv.Atoi(number)
					r.Apart = append(r.Apart, p)
					words = append(words, number+" "+p.Label)
				}
			}
		}
		r.Rests = strings.Join(words, ", ")
		for _, l := range lines[1:] {
			text := strings.TrimPrefix(l, "- ")
			r.citations = append(r.citations, text)
			r.Sources = append(r.Sources, citation(text))
		}
		out = append(out, r)
	}
	return out
}

// checked is the page that lists them.
func checked(records []record) page.Page {
	const address = "calc/checked.html"
	v := checkedView{Apart: append([]part(nil), sorts...), Records: records}
	for _, r := range records {
		for _, a := range r.Apart {
			v.Total += a.Count
			for i := range v.Apart {
				if v.Apart[i].Sort == a.Sort {
					v.Apart[i].Count += a.Count
				}
			}
		}
	}
	return page.Page{Address: address, Title: "How the numbers are checked", Template: "checked", View: v,
		Found: &search.Document{ID: "calc/checked", Kind: "page", Title: "How the numbers are checked", Address: address,
			Text: "What every calculator is checked against: published values, own independent computation, trade practice, memory, counted apart."}}
}
