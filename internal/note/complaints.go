package note

import (
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/trace"
	"faultleaf/search/words"

	"faultleaf/internal/problem"

	"faultleaf/internal/format"
)

// Complaint is what an owner may say is wrong, one of the vocabulary of
// content/complaints.yaml.
type Complaint struct {
	ID       string
	Says     string     // as a page names it, "It gets only lukewarm"
	Short    string     // as a search says it back, "lukewarm"; "" if the id reads well
	Needs    string     // "run" if it can only be while the work goes on, or ""
	Wordings []string   // as owners write; small words, inflections and the kind of negation do not matter
	Finds    []Weighted // complaints that a question about this one finds too, one way
}

// Weighted names a thing and says how well it fits, above 0 and at most 1.
type Weighted struct {
	Name   string
	Weight float64
}

// Complaint finds a complaint by id.
func (s *Set) Complaint(id string) (*Complaint, bool) {
	for i := range s.Complaints {
		if s.Complaints[i].ID == id {
			return &s.Complaints[i], true
		}
	}
	return nil, false
}

const complaintsFile = "content/complaints.yaml"

// cites is a weighted list of ids to be checked when all are known.
type cites struct {
	r    *reader
	list *[]Weighted
	at   []ast.Node
}

// readComplaints reads the vocabulary. A shop may do without it: then symptoms
// are found by their words alone.
func (l *loader) readComplaints() {
	if !l.there(complaintsFile) {
		return
	}
	r := &reader{file: complaintsFile, problems: &l.mistakes}
	raw, ok := l.readFile(r)
	if !ok {
		return
	}
	m, ok := r.parse(string(raw), nil)
	if !ok {
		return
	}
	l.unsureComplaints = len(m.damaged) > 0
	said := map[string]string{} // whose wording it is
	l.set.Complaints = make([]Complaint, len(m.entries))
	for i, e := range m.entries {
		c := &l.set.Complaints[i]
		c.ID = r.id(e.key, "the complaint")
		cm, ok := r.mapping(e.value, "the complaint "+c.ID, format.Complaint)
		if !ok {
			continue
		}
		c.Says = cm.text("says")
		c.Short = cm.text("short")
		c.Needs = cm.word("needs")
		if n, ok := cm.get("wordings"); ok {
			for _, v := range r.list(n) {
				text := r.text(v, "a wording")
				key := plainName(text)
				switch said[key] {
				case "":
					said[key] = c.ID
					c.Wordings = append(c.Wordings, text)
				case c.ID:
					r.at(v, "the wording "+quote(text)+" stands here twice", "keep one")
				default: // one wording may well be two complaints: "burnt" is a heat and a smell
					c.Wordings = append(c.Wordings, text)
				}
			}
		}
		if n, ok := cm.get("finds"); ok {
			l.cite(r, n, &c.Finds, "a complaint found too")
		}
	}
}

// readWords reads the shop's own spellings and synonyms.
func (l *loader) readWords() {
	const file = "content/words.txt"
	if !l.there(file) {
		return
	}
	r := &reader{file: file, problems: &l.mistakes}
	if raw, ok := l.readFile(r); ok {
		l.set.Words = string(raw)
		for _, f := range words.Faults(l.set.Words) {
			r.add(f.Line, f.Column, f.Says, f.Do)
		}
	}
}

func (l *loader) there(file string) bool {
	f, err := l.fsys.Open(file)
	if err != nil {
		return false
	}
	_ = f.Close()
	return true
}

// readSymptom reads what a device calls a symptom: a sentence, or
// {says: sentence, is: complaints}.
func (l *loader) readSymptom(r *reader, d *deviceFile, e *entry, id trace.SymptomID) string {
	if _, grouped := mapValues(e.value); !grouped {
		return r.text(e.value, "the symptom "+string(id))
	}
	m, ok := r.mapping(e.value, "the symptom "+string(id), format.Symptom)
	if !ok {
		return ""
	}
	says := ""
	if n, ok := m.need("says"); ok {
		says = r.text(n, "the symptom "+string(id))
	}
	if n, ok := m.get("is"); ok {
		is := &[]Weighted{}
		d.told[id] = true
		if s, ok := n.(*ast.StringNode); !ok || s.Value != noComplaint {
			l.cite(r, n, is, "a complaint")
		}
		l.symptoms = append(l.symptoms, symptomIs{d, id, is})
	}
	return says
}

// noComplaint stands for a circumstance that an owner tells, as that the clips
// were put on the wrong way round.
const noComplaint = "none"

// symptomIs is the complaints of a symptom until they are checked.
type symptomIs struct {
	d  *deviceFile
	id trace.SymptomID
	is *[]Weighted
}

// cite reads a weighted list of complaints, which is checked at the end.
func (l *loader) cite(r *reader, n ast.Node, to *[]Weighted, what string) {
	var at []ast.Node
	*to, at = r.weighted(n, what, 1, .05, 1)
	l.cited = append(l.cited, cites{r, to, at})
}

// weighted reads names with weights: one name, a map {name: weight}, or a list of
// either. A name alone has the weight that is usual.
func (r *reader) weighted(n ast.Node, what string, usual, low, high float64) (out []Weighted, at []ast.Node) {
	add := func(n ast.Node, w Weighted) {
		for _, o := range out {
			if plainName(o.Name) == plainName(w.Name) {
				r.at(n, quote(w.Name)+" stands here twice", "keep one")
				return
			}
		}
		if w.Name != "" {
			out, at = append(out, w), append(at, n)
		}
	}
	items := []ast.Node{n}
	if _, grouped := mapValues(n); !grouped {
		items = r.list(n)
	}
	for _, v := range items {
		if _, grouped := mapValues(v); !grouped {
			text := r.text(v, what)
			if strings.Contains(text, ",") {
				r.at(v, quote(text)+" is one name with a comma in it", "part several names in brackets, like [desk lamp, bedside lamp]")
			}
			add(v, Weighted{text, usual})
			continue
		}
		m, ok := r.mapping(v, what, nil)
		if !ok {
			continue
		}
		for _, e := range m.entries {
			add(e.key, Weighted{e.name, r.number(e.value, "the weight of "+quote(e.name), low, high)})
		}
	}
	return out, at
}

// plainName is a name as it is compared: case and hyphens do not matter.
func plainName(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(s), "-", " ")), " ")
}

// Weights of names: from half on a name means its device; less offers it only.
const (
	leastAlso = .5
	mostNear  = .49
	usualNear = .4
)

// readNames reads what else a device is called.
func (l *loader) readNames(r *reader, d *deviceFile, m *mapping) {
	if n, ok := m.get("also"); ok {
		d.Also, d.alsoAt = r.weighted(n, "a name", 1, leastAlso, 1)
	}
	if n, ok := m.get("near"); ok {
		d.Near, _ = r.weighted(n, "a name near it", usualNear, .05, mostNear)
	}
	d.Unlike = m.texts("unlike")
}

// crossComplaints checks the ids of complaints, and the names of devices against
// each other.
func (l *loader) crossComplaints() {
	known := map[string]bool{}
	for _, c := range l.set.Complaints {
		known[c.ID] = true
	}
	l.citedComplaints(known)
	l.symptomsMean()
	if len(known) > 0 {
		l.remarkUnnamed()
	}
	l.shutAgainst(l.wholeNames())
}

// citedComplaints leaves of the complaints that notes name those that are known, and
// reports the others.
func (l *loader) citedComplaints(known map[string]bool) {
	for _, c := range l.cited {
		kept := (*c.list)[:0]
		for i, w := range *c.list {
			switch {
			case known[w.Name]:
				kept = append(kept, w)
			case l.unsureComplaints:
			case len(known) == 0:
				c.r.at(c.at[i], "there is no complaint "+quote(w.Name)+", for "+complaintsFile+" is missing",
					"lay out a shop with faultleaf outfit elsewhere and copy the file from there")
			default:
				c.r.at(c.at[i], "there is no complaint "+quote(w.Name), "look it up in "+complaintsFile+"; "+hint(w.Name, keys(known)))
			}
		}
		*c.list = kept
	}
}

// symptomsMean tells the devices, and the trace, which complaints their symptoms are.
func (l *loader) symptomsMean() {
	for _, s := range l.symptoms {
		if len(*s.is) == 0 {
			continue
		}
		if s.d.Is == nil {
			s.d.Is = map[trace.SymptomID][]Weighted{}
		}
		s.d.Is[s.id] = *s.is
		for i := range s.d.Symptoms {
			if x := &s.d.Symptoms[i]; x.ID == s.id {
				x.Tingles, x.Trips = false, false
				for _, w := range *s.is {
					x.Is(w.Name, w.Weight)
				}
			}
		}
	}
}

// remarkUnnamed remarks the symptoms that are no complaint.
func (l *loader) remarkUnnamed() {
	for _, d := range l.set.Devices {
		f := l.devices[d.Name]
		for _, s := range d.Symptoms {
			if n := f.symptomAt[s.ID]; n != nil && !f.told[s.ID] {
				r := &reader{file: f.r.file, problems: &l.remarks, raw: f.r.raw, lines: f.r.lines, shift: f.r.shift, moved: f.r.moved}
				r.at(n, "the symptom “"+string(s.ID)+"” names no complaint, so that it is found by its own words only",
					"write it as {says: ..., is: ID} with an id of "+complaintsFile+", or is: none")
			}
		}
	}
}

// wholeNames are the names that belong wholly to one device, in their plain form; one
// that two devices want is reported.
func (l *loader) wholeNames() map[string]*Device {
	whose := map[string]*Device{}
	devices := l.claimants()
	for _, d := range devices {
		whose[plainName(d.Title)] = d
	}
	for _, d := range devices {
		f := l.devices[d.Name]
		for i, w := range d.Also {
			if w.Weight < 1 {
				continue
			}
			key := plainName(w.Name)
			if other := whose[key]; other != nil && other != d {
				if f == nil {
					continue // its own part tells it
				}
				f.r.at(f.alsoAt[i], "the name "+quote(w.Name)+" belongs wholly to “"+other.Name+"” too", "give one of the two a weight below 1, like {"+w.Name+": 0.7}")
				continue
			}
			whose[key] = d
		}
	}
	return whose
}

// shutAgainst reports names that a page shuts and another page, or a device, has.
func (l *loader) shutAgainst(whose map[string]*Device) {
	shut := map[string]*Page{}
	for _, p := range l.set.Pages {
		at := l.shutAt[p]
		if l.shared != nil && len(p.Shut) > 0 {
			at = l.shared.shutAt[p].telling(&l.mistakes)
		}
		for _, name := range p.Shut {
			key := plainName(name)
			if other := shut[key]; other != nil {
				if l.shared == nil {
					at.r.at(at.n, "the name "+quote(name)+" is shut on the page “"+other.Name+"” too", "keep one")
				}
			} else if d := whose[key]; d != nil {
				at.r.at(at.n, "the name "+quote(name)+" is shut here and belongs to the device “"+d.Name+"”", "take it out of one of the two")
			}
			shut[key] = p
		}
	}
}

// shutNames is where a page lists the things that stay shut.
type shutNames struct {
	r *reader
	n ast.Node
}

// telling lets a reader that others may use at the same time tell into another list.
func (s shutNames) telling(list *problem.List) shutNames {
	r := *s.r
	r.problems = list
	return shutNames{&r, s.n}
}
