package note

import (
	"bytes"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"

	"faultleaf/internal/format"
)

// jobFile is a job sheet with the places of what it says about its device.
type jobFile struct {
	*Job
	r        *reader
	device   ast.Node
	cause    ast.Node
	symptoms []ast.Node
	readings []jobReading
	outcome  ast.Node
	proofs   ast.Node
}

type jobReading struct{ test, value ast.Node }

func (l *loader) readJob(file string) {
	j := &jobFile{Job: &Job{}}
	m, r, ok := l.begin(file, KindJob, &j.Document)
	j.r = r
	l.set.Jobs = append(l.set.Jobs, j.Job)
	l.jobs = append(l.jobs, j)
	if !ok {
		return
	}
	r.contacts(&m)
	m.known(false)
	s := &j.Sheet
	if j.device, ok = m.need("device"); ok {
		s.Device = l.now(r.text(j.device, "the device"))
		l.sheetOf[j.File] = s.Device
	}
	j.readDate(&m)
	for _, line := range []struct {
		key string
		to  *string
	}{{"type", &s.Type}, {"by", &s.By}, {"told", &s.Told}, {"owner_says", &s.OwnerSays}, {"before", &s.Before}, {"tried", &s.Tried}, {"limit", &s.Limit}, {"reproduced", &s.Reproduced}, {"reason", &s.Reason}} {
		if n, ok := m.get(line.key); ok {
			*line.to = r.scalar(n, line.key) // as told, whatever it holds
			if line.key != "type" {
				r.private(n, *line.to)
			}
		}
	}
	if n, ok := m.get("symptoms"); ok {
		j.symptoms = r.list(n)
		for _, v := range j.symptoms {
			s.Symptoms = append(s.Symptoms, trace.SymptomID(r.text(v, "the symptom")))
		}
	}
	if n, ok := m.get("readings"); ok {
		j.readReadings(n)
	}
	if j.cause, ok = m.need("cause"); ok {
		s.Cause = r.text(j.cause, "the cause")
	}
	if n, ok := m.get("parts"); ok {
		s.Parts = r.parts(n)
	}
	if n, ok := m.get("proofs"); ok {
		j.proofs = n
		s.Proofs = r.proofs(n)
	}
	s.Minutes = m.number("minutes", 0)
	s.Money = m.number("money", 0)
	s.Soak = m.number("soak", 0)
	if n, ok := m.need("outcome"); ok {
		s.Outcome = m.wordOf("outcome", n)
		j.outcome = n
	}
	l.privateBody(&j.Document)
	j.Title = s.Device + ", " + s.Date
}

// readDate reads the date and the code, which must be those of the file's name.
func (j *jobFile) readDate(m *mapping) {
	r, s := j.r, &j.Sheet
	if n, ok := m.need("date"); ok {
		s.Date = r.text(n, "the date")
		if _, err := time.Parse("2006-01-02", s.Date); err != nil {
			if s.Date != "" {
				r.at(n, quote(s.Date)+" is no date", "write year-month-day, like 2025-03-04")
			}
		} else if !strings.HasPrefix(j.Name, s.Date+"-") {
			r.at(n, "the date differs from the one in the file's name", "name the file "+s.Date+"-"+s.Device+"-1.md")
		}
	}
	if n, ok := m.get("code"); ok {
		s.Code = r.text(n, "the code")
		switch {
		case s.Code == "" || s.Date == "":
		case !s.Coded():
			r.at(n, quote(s.Code)+" is no code of a job of this date", "a code is the date, then small letters and digits, like "+s.Date+"-kb7; take it from the job's ticket, or take the line out")
		case !strings.HasPrefix(j.Name+"-", s.Code+"-"):
			r.at(n, "the code differs from the one in the file's name", "name the file "+s.Code+"-"+s.Device+".md")
		}
	}
}

// readReadings reads what was measured, in the order in which it was.
func (j *jobFile) readReadings(n ast.Node) {
	r, s := j.r, &j.Sheet
	for _, v := range r.list(n) {
		rm, ok := r.mapping(v, "a reading", format.Taken)
		if !ok {
			continue
		}
		var jr jobReading
		reading := trace.Reading{}
		if jr.test, ok = rm.need("test"); ok {
			reading.Test = trace.TestID(r.text(jr.test, "the test"))
		}
		if jr.value, ok = rm.need("value"); ok {
			reading.Value = r.scalar(jr.value, "the value")
		}
		reading.Minutes = rm.number("minutes", 0)
		s.Readings = append(s.Readings, reading)
		j.readings = append(j.readings, jr)
	}
}

// contactKeys are what somebody may want to write about an owner. A sheet is
// published with the notes, so none of it has a place there.
var contactKeys = map[string]bool{"owner": true, "owner_name": true, "name": true, "customer": true, "client": true, "contact": true, "phone": true, "telephone": true,
	"tel": true, "mobile": true, "email": true, "e-mail": true, "mail": true, "address": true, "surname": true}

const stays = "a sheet holds no name, telephone number or e-mail address of an owner"

// contacts refuses keys for an owner's name or number.
func (r *reader) contacts(m *mapping) {
	kept := m.entries[:0]
	for _, e := range m.entries {
		if contactKeys[strings.ToLower(e.name)] {
			r.at(e.key, stays, "take the line out; how to reach the owner stays on the paper ticket")
			continue
		}
		kept = append(kept, e)
	}
	m.entries = kept
}

var (
	mailLike = regexp.MustCompile(`[\pL\d._%+-]+@[\pL\d-]+\.\pL{2,}`)
	// a number begun with 0 or +, or named as one; part numbers and dates are neither
	phoneLike = regexp.MustCompile(`(?i)(?:^|[^\pL\d.,])((?:\+|00)[1-9](?:[ ./()-]{0,2}\d){6,14}|\(?0[1-9](?:[ /()-]{0,2}\d){7,12}|(?:tel|telephone|phone|mobile|call(?: me)?(?: on| at| under)?)[.: ]{1,3}\+?\d(?:[ /()-]{0,2}\d){4,14})(?:$|[^\pL\d])`)
)

// contactIn finds what looks like a telephone number or an e-mail address: where
// it begins in bytes, and -1 if there is none.
func contactIn(text string) int {
	if !mayContact(text) {
		return -1
	}
	if at := mailLike.FindStringIndex(text); at != nil {
		return at[0]
	}
	if at := phoneLike.FindStringSubmatchIndex(text); at != nil {
		return at[2]
	}
	return -1
}

// mayContact tells whether a text has the sign of an address, or so many digits as the
// shortest number.
func mayContact(text string) bool {
	digits := 0
	for i := range len(text) {
		switch c := text[i]; {
		case c == '@':
			return true
		case c >= '0' && c <= '9':
			if digits++; digits >= 5 {
				return true
			}
		}
	}
	return false
}

func (r *reader) private(n ast.Node, text string) {
	if contactIn(text) >= 0 {
		r.at(n, stays+", and this looks like one", "take it out; how to reach the owner stays on the paper ticket")
	}
}

// privateBody looks through the text of a sheet.
func (l *loader) privateBody(d *Document) {
	b := l.bodyOf(d)
	for i, line := range bytes.Split(d.Source, []byte("\n")) {
		if at := contactIn(string(line)); at >= 0 {
			l.mistakes.Add(d.File, b.line+i, 1+utf8.RuneCount(line[:at]), stays+", and this looks like one", "take it out; how to reach the owner stays on the paper ticket")
		}
	}
}

// proofNeeds reads what a shop asks for by class, like {I: [visual, bond,
// insulation or leakage, function]}.
func (r *reader) proofNeeds(n ast.Node) trace.Needs {
	m, ok := r.mapping(n, "the proofs", format.Needs)
	if !ok {
		return nil
	}
	needs := trace.CommonNeeds()
	for _, class := range []string{"I", "II", "III", "none"} {
		n, ok := m.get(class)
		if !ok {
			continue
		}
		var list []trace.Need
		for _, v := range r.list(n) {
			var need trace.Need
			for _, word := range strings.Split(r.text(v, "a proof"), " or ") {
				if k := r.proofKind(v, strings.TrimSpace(word)); k != "" {
					need = append(need, k)
				}
			}
			if len(need) > 0 {
				list = append(list, need)
			}
		}
		if class == "none" {
			class = ""
		}
		needs[class] = list
	}
	return needs
}

func (r *reader) proofKind(n ast.Node, word string) trace.ProofKind {
	var names []string
	for _, k := range trace.ProofKinds() {
		if string(k) == word {
			return k
		}
		names = append(names, string(k))
	}
	if word != "" {
		r.at(n, "there is no proof "+quote(word), hint(word, names))
	}
	return ""
}

// proofs reads what was shown before a device went back.
func (r *reader) proofs(n ast.Node) []trace.Proof {
	var out []trace.Proof
	for _, v := range r.list(n) {
		m, ok := r.mapping(v, "a proof", format.Proof)
		if !ok {
			continue
		}
		var p trace.Proof
		if n, ok := m.need("proof"); ok {
			p.Kind = r.proofKind(n, r.text(n, "the proof"))
		}
		if n, ok := m.get("value"); ok {
			p.Value = r.scalar(n, "the value")
			kind := quantity.Current
			if p.Kind == trace.Bond || p.Kind == trace.Insulation {
				kind = quantity.Resistance
			}
			if _, err := quantity.Parse(kind, strings.TrimLeft(p.Value, "<>≤≥ ")); err != nil && p.Kind.Measured() {
				r.at(n, err.Error(), "write what the tester showed, with its unit")
			}
		}
		if n, ok := m.get("limit"); ok {
			p.Limit = r.scalar(n, "the limit")
		}
		if n, ok := m.get("pass"); ok {
			p.Pass = m.wordOf("pass", n)
			if p.Kind.Measured() && p.Value == "" {
				r.at(n, "the "+p.Kind.Says()+" is judged and was not read", "write value: and what the tester showed, or why: and why it was not taken")
			}
		}
		if n, ok := m.get("why"); ok {
			p.Why = r.scalar(n, "why")
			r.private(n, p.Why)
		}
		if p.Pass == "" && p.Why == "" && p.Kind != "" {
			r.at(v, "the proof says neither how it ended nor why it was not taken", "write pass: ok, pass: fails, or why: and the reason")
		}
		if p.Kind != "" {
			out = append(out, p)
		}
	}
	return out
}

// crossProofs holds what a sheet shows against what the shop asks for. A sheet
// that neither carries a code nor speaks of proofs is from before there were
// any, and stays as it is.
func (l *loader) crossProofs(j *jobFile, d *deviceFile) {
	s := &j.Sheet
	if s.Outcome != "mended" || s.Code == "" && j.proofs == nil || d.lost("class") {
		return
	}
	at := j.proofs
	if at == nil {
		at = j.outcome
	}
	for _, lack := range trace.Lacks(l.set.Needs(d.Device), s.Proofs) {
		j.r.at(at, "mended, but "+lack, "take it and write it under proofs:, with why: where it cannot be taken, or write another outcome")
	}
}
