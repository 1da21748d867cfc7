package sources

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
)

//go:embed *.txt
var files embed.FS

// Source is a document of the list, or one of the four sorts that are none.
type Source struct {
	ID    string
	Name  string // as it is cited, "IEC 60335-1"
	Title string
	Year  string // year or edition that the figures are from; "" only where there is none
	Now   string // year of the edition in force, where that is another and was not seen
	Sort  string // one of Sorts
	// Status is "in force", "withdrawn" or "superseded"; By is the id of what took its place.
	Status, By string
	Regions    []string // of Regions
	Scope      string   // a clause: what it is for
	Devices    []string // of Kinds: what a verdict by it may be given on
	Seen       string   // of Ways
	At         string   // where it was seen: a reprint, a site
	Note       string
}

// Sorts are the kinds of source; the last four are no document.
var Sorts = []string{"standard", "law", "guide", "maker", "handbook", "paper", "data", "course", "page", Own, Practice, Memory, Limit}

// The sorts that are no document: a computation of our own that is independent of
// the code it checks, what the trade does without a book, what is only remembered,
// and a limit of the calculator itself.
const (
	Own      = "own"
	Practice = "practice"
	Memory   = "memory"
	Limit    = "limit"
)

// Ways are how a document was seen, the best first.
var Ways = []string{"read", "excerpt", "summary", Memory}

// Regions where a document is in use.
var Regions = []string{"world", "EU", "UK", "US", "AU/NZ", "JP"}

// Kinds of device that a document may speak of.
var Kinds = []string{"appliance", "tool", "luminaire", "it", "audio", "charger", "medical", "machine", "cord", "battery", "motor", "transformer", "laboratory"}

// InForce says that a document is neither withdrawn nor superseded. What is no
// standard, law or guide never ends.
func (s *Source) InForce() bool { return s.Status == "" || s.Status == "in force" }

// Document says that the source is a document, and not one of our own sorts.
func (s *Source) Document() bool {
	return s.Sort != Own && s.Sort != Practice && s.Sort != Memory && s.Sort != Limit
}

// Covers says whether a verdict by this document may be given on a kind of device.
func (s *Source) Covers(kind string) bool { return slices.Contains(s.Devices, kind) }

// All is the list by id.
var All, problems = read(files)

var byID = func() map[string]*Source {
	m := map[string]*Source{}
	for _, s := range All {
		m[s.ID] = s
	}
	return m
}()

// Find finds a document by its id.
func Find(id string) (*Source, bool) {
	s, ok := byID[id]
	return s, ok
}

// read reads every file of the list and says what is wrong, each with file and line.
func read(fsys fs.FS) ([]*Source, []string) {
	var all []*Source
	var wrong []string
	names, err := fs.Glob(fsys, "*.txt")
	if err != nil {
		return nil, []string{err.Error()}
	}
	for _, name := range names {
		text, err := fs.ReadFile(fsys, name)
		if err != nil {
			wrong = append(wrong, err.Error())
			continue
		}
		got, bad := parse(name, string(text))
		all, wrong = append(all, got...), append(wrong, bad...)
	}
	slices.SortFunc(all, func(a, b *Source) int { return strings.Compare(a.ID, b.ID) })
	return all, wrong
}

var idForm = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

func parse(name, text string) (all []*Source, wrong []string) {
	var s *Source
	for i, line := range strings.Split(text, "\n") {
		bad := func(says string) { wrong = append(wrong, fmt.Sprintf("%s:%d: %s", name, i+1, says)) }
		line = strings.TrimSpace(line)
		switch key, value, ok := strings.Cut(line, ": "); {
		case line == "":
			s = nil
		case strings.HasPrefix(line, "#"):
		case s == nil:
			if !idForm.MatchString(line) {
				bad(fmt.Sprintf("%q is no id; a paragraph begins with one, small letters, digits and hyphens", line))
			}
			s = &Source{ID: line}
			all = append(all, s)
		case !ok:
			bad(fmt.Sprintf("%q is no line \"key: value\"", line))
		default:
			value = strings.TrimSpace(value)
			switch key {
			case "name":
				s.Name = value
			case "title":
				s.Title = value
			case "year":
				s.Year = value
			case "now":
				s.Now = value
			case "sort":
				s.Sort = value
			case "status":
				s.Status = value
				if by, ok := strings.CutPrefix(value, "superseded by "); ok {
					s.Status, s.By = "superseded", by
				} else if by, ok := strings.CutPrefix(value, "withdrawn for "); ok {
					s.Status, s.By = "withdrawn", by
				}
			case "region":
				s.Regions = words(value)
			case "scope":
				s.Scope = value
			case "devices":
				s.Devices = words(value)
			case "seen":
				s.Seen = value
			case "at":
				s.At = value
			case "note":
				s.Note = value
			default:
				bad(fmt.Sprintf("%q is no key of a source", key))
			}
		}
	}
	return all, wrong
}

func words(list string) []string {
	var out []string
	for _, w := range strings.Split(list, ",") {
		out = append(out, strings.TrimSpace(w))
	}
	return out
}

// Citation is one place where a figure is said to rest on a document.
type Citation struct {
	*Source
	Place  string // clause or table, in words; may be ""
	How    string // how this figure was seen, of Ways; "" for what is no document
	Remark string
}

// ErrUnknown is in the error of a citation whose id is not on the list.
var ErrUnknown = errors.New("is not on the list of sources")

var howForm = regexp.MustCompile(`\s*\((read|excerpt|summary|memory)\)`)

// Cite reads a citation. Its error is a sentence that says what to do.
func Cite(text string) (Citation, error) {
	id, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	if cut := strings.IndexAny(id, ",;"); cut >= 0 {
		id, rest = id[:cut], strings.TrimSpace(id[cut:]+" "+rest)
	}
	s, ok := Find(id)
	if !ok {
		return Citation{}, fmt.Errorf("%q %w; add the document to calc/sources, or cite own, practice, memory or limit", id, ErrUnknown)
	}
	c := Citation{Source: s, How: s.Seen}
	if m := howForm.FindStringSubmatchIndex(rest); m != nil {
		if !s.Document() {
			return c, fmt.Errorf("%s is no document, so it was not seen", id)
		}
		c.How = rest[m[2]:m[3]]
		rest = rest[:m[0]] + rest[m[1]:]
	}
	place, remark, _ := strings.Cut(strings.TrimSpace(rest), ";")
	c.Place, c.Remark = strings.Trim(place, ", "), strings.TrimSpace(remark)
	if !s.InForce() && !SaysPast(text) {
		return c, fmt.Errorf("%s is %s; say so beside it (\"; %s\"), or cite what is in force", id, s.Ended(), s.Status)
	}
	return c, nil
}

// Ended is how a document came to its end, "superseded by en-50678"; "" in force.
func (s *Source) Ended() string {
	switch {
	case s.InForce():
		return ""
	case s.By == "":
		return s.Status
	case s.Status == "withdrawn":
		return "withdrawn for " + s.By
	}
	return s.Status + " by " + s.By
}

// SaysPast says whether a text tells that a document is no longer in force.
func SaysPast(text string) bool {
	text = strings.ToLower(text)
	for _, w := range []string{"superseded", "withdrawn"} {
		if strings.Contains(text, w) {
			return true
		}
	}
	return false
}

// Published, with Own, Practice, Memory and Limit, is how checks are counted apart.
const Published = "published"

// Counts is the sort under which a check by this citation is counted.
func (c Citation) Counts() string {
	switch {
	case c.How == Memory, (c.Document() || c.Sort == Own) && strings.Contains(c.Place+c.Remark, "from memory"):
		return Memory // a figure is no better than its weakest part
	case !c.Document():
		return c.Sort
	}
	return Published
}

// String is the citation as a reader sees it: "IEC 60335-1 (2010), table 11; instance computed".
func (c Citation) String() string {
	text := c.Label()
	if c.Place != "" {
		join := ", "
		if !c.Document() {
			join = ": "
		}
		text += join + c.Place
	}
	if c.Document() && c.How == Memory {
		text += " (from memory)"
	}
	if c.Remark != "" {
		text += "; " + c.Remark
	}
	return text
}

// Label is the name with its year, and the year in force where the figures are older.
func (s *Source) Label() string {
	switch {
	case s.Now != "":
		return s.Name + " (" + s.Year + "; that of " + s.Now + " not seen)"
	case s.Year == "":
		return s.Name
	}
	return s.Name + " (" + s.Year + ")"
}
