package trace

import (
	"strings"

	"faultleaf/calc/quantity"
)

// Sheet is a job sheet: the record of one repair.
type Sheet struct {
	Code       string // of the job, "2025-03-04-kb7"; "" on sheets written by hand
	Device     string // the device's id
	Type       string // from the rating label
	By         string // who did the work, if wanted
	Date       string // "2025-03-04"
	OwnerSays  string
	Before     string
	Tried      string
	Limit      string
	Reproduced string
	Symptoms   []SymptomID
	Readings   []Reading
	Cause      string // a fault's id or "unknown"
	Reason     string
	Soak       float64 // minutes passed under full load after the mend; 0 for none
	Parts      []Part
	Proofs     []Proof
	Minutes    float64 // at the bench; 0 where nobody knows
	Money      float64
	Outcome    string // mended, given-up, replaced or came-back
	Told       string // what the owner was told
	Notes      string // for the next one on this bench, plain text
}

// Coded tells whether the sheet has a code that a job of its date may have: the date, a hyphen,
// then small letters, digits and single hyphens.
func (s Sheet) Coded() bool {
	tail, ok := strings.CutPrefix(s.Code, s.Date+"-")
	plain := !strings.ContainsFunc(tail, func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' })
	return ok && s.Date != "" && tail != "" && plain && !strings.Contains("-"+tail+"-", "--")
}

// Markdown writes the sheet as a note for content/jobs/. Text typed by people
// is quoted, so that any of it reads back.
func (s Sheet) Markdown() string {
	var b strings.Builder
	line := func(key, value string) { b.WriteString(key + ": " + value + "\n") }
	text := func(key, value string) {
		if value = strings.TrimSpace(value); value != "" {
			line(key, quoted(value))
		}
	}
	b.WriteString("---\n")
	if s.Code != "" {
		line("code", plainly(s.Code))
	}
	line("device", plainly(s.Device))
	text("type", s.Type)
	text("by", s.By)
	line("date", plainly(s.Date))
	text("owner_says", s.OwnerSays)
	text("before", s.Before)
	text("tried", s.Tried)
	text("limit", s.Limit)
	text("reproduced", s.Reproduced)
	if len(s.Symptoms) > 0 {
		var ids []string
		for _, id := range s.Symptoms {
			ids = append(ids, plainly(string(id)))
		}
		line("symptoms", "["+strings.Join(ids, ", ")+"]")
	}
	if len(s.Readings) > 0 {
		b.WriteString("readings:\n")
		for _, r := range s.Readings {
			b.WriteString("  - {test: " + plainly(string(r.Test)) + ", value: " + quoted(r.Value))
			if r.Minutes > 0 { // what nobody measured stays unknown
				b.WriteString(", minutes: " + number(r.Minutes))
			}
			b.WriteString("}\n")
		}
	}
	if s.Cause == "" {
		s.Cause = "unknown"
	}
	line("cause", plainly(s.Cause))
	text("reason", s.Reason)
	if s.Soak > 0 {
		line("soak", number(s.Soak))
	}
	if len(s.Parts) > 0 {
		b.WriteString("parts:\n")
		for _, p := range s.Parts {
			b.WriteString("  - {part: " + quoted(p.Part) + ", count: " + number(p.Count) + ", price: " + number(p.Price) + "}\n")
		}
	}
	if len(s.Proofs) > 0 {
		b.WriteString("proofs:\n")
		for _, p := range s.Proofs {
			b.WriteString("  - {proof: " + plainly(string(p.Kind)))
			for _, f := range []struct{ key, value string }{{"value", p.Value}, {"limit", p.Limit}, {"pass", p.Pass}, {"why", p.Why}} {
				if v := strings.TrimSpace(f.value); v != "" {
					b.WriteString(", " + f.key + ": " + quoted(v))
				}
			}
			b.WriteString("}\n")
		}
	}
	if s.Minutes > 0 {
		line("minutes", number(s.Minutes))
	}
	if s.Money > 0 {
		line("money", number(s.Money))
	}
	line("outcome", plainly(s.Outcome))
	text("told", s.Told)
	b.WriteString("---\n\n")
	if notes := strings.TrimSpace(s.Notes); notes != "" {
		b.WriteString(asText(notes) + "\n")
	} else {
		b.WriteString("Written by the trace. Add below what the next one on this bench should know.\n")
	}
	return b.String()
}

// asText writes what a person typed so that Markdown takes it for text: every
// sign that could begin something else gets its backslash.
func asText(s string) string {
	var b strings.Builder
	start := true // of a line, where a blank would make it code
	for _, r := range strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r", "") {
		switch {
		case r == '\n':
			start = true
		case start && (r == ' ' || r == '\t'):
			continue
		case r < 0x20 || r == 0x7F || r == 0xFEFF:
			continue
		default:
			start = false
			if strings.ContainsRune("\\`*_{}[]<>()#+-.!|~&=:", r) {
				b.WriteByte('\\')
			}
		}
		b.WriteRune(r)
	}
	return b.String()
}

// NoReason tells whether a sheet's reason says that none was found.
func NoReason(reason string) bool {
	return strings.HasPrefix(strings.ToLower(strings.TrimSpace(reason)), "reason not found")
}

// plainly writes an id or a date as it stands, and quotes what is neither or
// what YAML would take for something else.
func plainly(s string) string {
	switch s {
	case "", "null", "true", "false", "yes", "no", "on", "off", "y", "n":
		return quoted(s)
	}
	letter := false
	for i, r := range s {
		switch {
		case r >= 'a' && r <= 'z':
			letter = letter || i == 0
		case r >= '0' && r <= '9' || r == '-' && i > 0:
		default:
			return quoted(s)
		}
	}
	if !letter && !(len(s) == 10 && s[4] == '-' && s[7] == '-') {
		return quoted(s)
	}
	return s
}

// number prints an amount; what is no number is nothing.
func number(x float64) string {
	if !(x > 0 && x < 1e15) {
		return "0"
	}
	return quantity.Number(x)
}

// quoted writes a YAML double-quoted string: everything outside printable text
// is escaped.
func quoted(s string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r >= 0x7F && r < 0xA0 || r == 0x2028 || r == 0x2029 || r == 0xFEFF:
			b.WriteString(`\u`)
			for shift := 12; shift >= 0; shift -= 4 {
				b.WriteByte(hex[int(r)>>shift&15])
			}
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
