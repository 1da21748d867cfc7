package safety

import "strings"

// Set is a set of rules: the document it rests on and the regions where that is in use.
type Set struct {
	Source  string // its id on the list of sources
	Regions []string
}

// The regions that every answer speaks of, in this order.
const (
	Europe       = "Europe"
	Britain      = "the United Kingdom"
	Oceania      = "Australia and New Zealand"
	NorthAmerica = "North America"
)

var everywhere = []string{Europe, Britain, Oceania, NorthAmerica}

// Sets are the sets of rules of the rooms here, by their names there.
var Sets = map[string]Set{
	"en":         {"en-50699", []string{Europe, Britain}},
	"uk":         {"iet-code-5", []string{Britain}},
	"uk-5":       {"iet-code-5", []string{Britain}},
	"uk-4":       {"iet-code-4", nil}, // superseded: in use nowhere
	"as-nzs":     {"as-nzs-3760", []string{Oceania}},
	"maker":      {"en-50106", []string{Europe, Britain}},
	"medical":    {"iec-62353", []string{Europe, Britain}},
	"iec":        {"iec-60335-1", []string{Europe, Britain, Oceania}},
	"iec-62368":  {"iec-62368-1", everywhere},
	"ul":         {"ul-101", []string{NorthAmerica}},
	"ul-led":     {"ul-8750", []string{NorthAmerica}},
	"household":  {"iec-60335-1", []string{Europe, Britain, Oceania}},
	"it":         {"iec-60950-1", nil}, // withdrawn: in use nowhere
	"it-new":     {"iec-62368-1", everywhere},
	"machinery":  {"iec-60204-1", []string{Europe, Britain}},
	"laboratory": {"iec-61010-1", []string{Europe, Britain, NorthAmerica}},
}

// Where says in which regions sets of rules are in use, and for which there is no
// figure. A rule that lies aside, such as that for medical devices, does not count.
func Where(names ...string) string {
	used := map[string]bool{}
	for _, name := range names {
		for _, r := range Sets[name].Regions {
			used[r] = true
		}
	}
	var has, lacks []string
	for _, r := range everywhere {
		if used[r] {
			has = append(has, r)
		} else {
			lacks = append(lacks, r)
		}
	}
	says := "In use in " + strings.Join(has, ", ") + "."
	if len(has) == 0 {
		says = "In use nowhere any more."
	}
	if len(lacks) > 0 {
		says += " No figure here for " + strings.Join(lacks, ", ") + ": ask your code."
	}
	return says
}
