package trace

import (
	"strings"

	"faultleaf/calc/quantity"
)

// Sheet is a job sheet: the record of one repair.
type Sheet struct {
	Device     string // the device's id
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
	Parts      []Part
	Minutes    float64
	Money      float64
	Outcome    string // mended, given-up, replaced or came-back
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
	line("device", s.Device)
	line("date", s.Date)
	text("owner_says", s.OwnerSays)
	text("before", s.Before)
	text("tried", s.Tried)
	text("limit", s.Limit)
	text("reproduced", s.Reproduced)
	if len(s.Symptoms) > 0 {
		var ids []string
		for _, id := range s.Symptoms {
			ids = append(ids, string(id))
		}
		line("symptoms", "["+strings.Join(ids, ", ")+"]")
	}
	if len(s.Readings) > 0 {
		b.WriteString("readings:\n")
		for _, r := range s.Readings {
			b.WriteString("  - {test: " + string(r.Test) + ", value: " + quoted(r.Value) + ", minutes: " + quantity.Number(r.Minutes) + "}\n")
		}
	}
	line("cause", s.Cause)
	text("reason", s.Reason)
	if len(s.Parts) > 0 {
		b.WriteString("parts:\n")
		for _, p := range s.Parts {
			b.WriteString("  - {part: " + quoted(p.Part) + ", count: " + quantity.Number(p.Count) + ", price: " + quantity.Number(p.Price) + "}\n")
		}
	}
	line("minutes", quantity.Number(s.Minutes))
	line("money", quantity.Number(s.Money))
	line("outcome", s.Outcome)
	b.WriteString("---\n")
	return b.String()
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
