package takecmd

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"time"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// Old jobs were written in many ways. What a column or a line "Name: ..." may be
// called, in small letters:
var fields = map[string][]string{
	"date":    {"date", "day", "when", "date in", "received"},
	"device":  {"device", "item", "thing", "appliance", "object", "kind"},
	"type":    {"type", "model", "type number", "make and model"},
	"says":    {"owner_says", "owner says", "the owner said", "complaint", "problem", "symptom", "symptoms", "issue", "reported", "fault reported"},
	"before":  {"before", "what came before", "history"},
	"tried":   {"tried", "tried already"},
	"limit":   {"limit"},
	"cause":   {"cause", "fault", "found", "fault found", "diagnosis"},
	"reason":  {"reason", "why"},
	"outcome": {"outcome", "result", "status", "ended"},
	"minutes": {"minutes", "time", "duration", "time taken", "min"},
	"money":   {"money", "cost", "parts cost", "price"},
	"parts":   {"parts", "parts used"},
	"notes":   {"notes", "note", "remarks", "comment", "comments", "work", "work done", "repair", "done"},
}

// private columns are left out, whatever stands in them.
var private = regexp.MustCompile(`(?i)^(owner|name|owner.?s? name|customer.*|client.*|contact.*|tele?phone.*|phone.*|mobile.*|e-?mail.*|address|street|surname|first name|last name)$`)

var outcomes = map[string]string{
	"mended": "mended", "fixed": "mended", "repaired": "mended", "ok": "mended", "works": "mended", "working": "mended", "yes": "mended", "done": "mended",
	"given up": "given-up", "given-up": "given-up", "not repaired": "given-up", "not fixed": "given-up", "not mended": "given-up", "scrap": "given-up", "scrapped": "given-up", "no": "given-up", "beyond repair": "given-up", "failed": "given-up",
	"replaced": "replaced", "new one": "replaced", "came back": "came-back", "came-back": "came-back", "returned": "came-back",
}

func fieldOf(name string) string {
	name = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\ufeff")))
	for field, names := range fields {
		for _, n := range names {
			if n == name || n == strings.ReplaceAll(name, "_", " ") {
				return field
			}
		}
	}
	return ""
}

func (t *taker) notRead(where, why string) {
	t.unread++
	fmt.Fprintf(t.e.Out, "Unread: %s: %s\n", where, why)
}

// table reads a CSV: a line of names, then a job a row.
func (t *taker) table(name string, text []byte) []found {
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(text), "\ufeff")))
	first, _, _ := strings.Cut(string(text), "\n")
	for _, sign := range []rune{';', '\t'} {
		if strings.Count(first, string(sign)) > strings.Count(first, string(r.Comma)) {
			r.Comma = sign
		}
	}
	r.FieldsPerRecord, r.LazyQuotes = -1, true
	head, err := r.Read()
	if err != nil {
		t.notRead(name, "its first line does not name the columns")
		return nil
	}
	columns := make([]string, len(head))
	var leftOut, owner []string
	for i, h := range head {
		switch columns[i] = fieldOf(h); {
		case columns[i] != "":
		case private.MatchString(strings.TrimSpace(h)):
			owner = append(owner, strings.TrimSpace(h))
		case strings.TrimSpace(h) != "":
			leftOut = append(leftOut, strings.TrimSpace(h))
		}
	}
	if len(owner) > 0 {
		fmt.Fprintf(t.e.Out, "Of %s the columns %s are left out: nothing of an owner is kept.\n", name, strings.Join(owner, ", "))
	}
	if len(leftOut) > 0 {
		fmt.Fprintf(t.e.Out, "Of %s the columns %s are not known and left out.\n", name, strings.Join(leftOut, ", "))
	}
	var out []found
	for {
		row, err := r.Read()
		if err == io.EOF {
			return out
		}
		line, _ := r.FieldPos(0)
		where := fmt.Sprintf("%s:%d", name, line)
		if err != nil {
			t.notRead(where, "the row cannot be read as CSV")
			if _, ok := errors.AsType[*csv.ParseError](err); ok {
				continue
			}
			return out
		}
		job := map[string]string{}
		for i, v := range row {
			if v = strings.TrimSpace(v); i < len(columns) && columns[i] != "" && v != "" {
				if job[columns[i]] != "" {
					v = job[columns[i]] + "; " + v
				}
				job[columns[i]] = v
			}
		}
		if len(job) == 0 {
			continue
		}
		if f, ok := t.old(where, job); ok {
			out = append(out, f)
		}
	}
}

// folder reads the Markdown files of old jobs.
func (t *taker) folder(dir string) ([]found, error) {
	var out []found
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		name := filepath.Join(dir, e.Name())
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if !e.Type().IsRegular() || filepath.Ext(name) != ".md" && filepath.Ext(name) != ".txt" {
			t.notRead(name, "it is no Markdown file")
			continue
		}
		text, err := read(name, 1<<20)
		if err != nil {
			t.notRead(name, "it cannot be read, or is larger than a megabyte")
			continue
		}
		if isNote(text) && !isFault(text) && strings.Contains(string(text), "\noutcome:") {
			out = append(out, found{where: name, text: text})
			continue
		}
		if f, ok := t.plain(name, text); ok {
			out = append(out, f)
		}
	}
	return out, nil
}

var (
	named   = regexp.MustCompile(`^[-*\s]*\**([A-Za-z][A-Za-z _]{1,20}?)\**\s*:\**\s*(.*)$`)
	isoDate = regexp.MustCompile(`\b(\d{4})-(\d\d)-(\d\d)\b`)
	dotDate = regexp.MustCompile(`\b(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})\b`)
)

// plain reads an old job from free text: lines "Name: ...", and the rest.
func (t *taker) plain(name string, text []byte) (found, bool) {
	job := map[string]string{}
	var rest []string
	for i, line := range strings.Split(strings.ReplaceAll(string(text), "\r\n", "\n"), "\n") {
		bare := strings.TrimSpace(strings.TrimLeft(line, "# "))
		if bare == "---" && i < 40 {
			continue
		}
		if m := named.FindStringSubmatch(bare); m != nil {
			if field := fieldOf(m[1]); field != "" {
				job[field] = strings.TrimSpace(job[field] + " " + strings.Trim(m[2], `"* `))
				continue
			}
			if private.MatchString(m[1]) {
				fmt.Fprintf(t.e.Out, "Of %s the line “%s” is left out: nothing of an owner is kept.\n", name, m[1])
				continue
			}
		}
		if bare != "" {
			rest = append(rest, bare)
		}
	}
	base := filepath.Base(name)
	if job["date"] == "" {
		job["date"] = dateIn(base)
	}
	if job["date"] == "" {
		job["date"] = dateIn(string(text))
	}
	if job["device"] == "" {
		job["device"] = base + " " + strings.Join(rest[:min(1, len(rest))], " ")
	}
	if job["notes"] == "" {
		job["notes"] = strings.Join(rest, "\n\n")
	} else if len(rest) > 0 {
		job["notes"] += "\n\n" + strings.Join(rest, "\n\n")
	}
	return t.old(name, job)
}

// dateIn finds a day in a text, year-month-day or day.month.year.
func dateIn(text string) string {
	if m := isoDate.FindString(text); m != "" {
		return m
	}
	if m := dotDate.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("%s-%02s-%02s", m[3], m[2], m[1])
	}
	return ""
}

// deviceOf finds the device that a text names, by its id, title or another of its
// names; the longest name wins.
func (t *taker) deviceOf(text string) string {
	text = " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }), " ") + " "
	best, device := 0, ""
	for _, d := range t.judge.Set().Devices {
		names := []string{d.Name, d.Title}
		for _, a := range d.Also {
			names = append(names, a.Name)
		}
		for _, n := range names {
			n = strings.Join(strings.FieldsFunc(strings.ToLower(n), func(r rune) bool { return r < 'a' || r > 'z' }), " ")
			if len(n) > best && (strings.Contains(text, " "+n+" ") || strings.Contains(text, " "+n+"s ")) {
				best, device = len(n), d.Name
			}
		}
	}
	return device
}

// old makes a sheet of what was read of an old job. What nobody wrote stays
// unknown.
func (t *taker) old(where string, job map[string]string) (found, bool) {
	s := trace.Sheet{OwnerSays: job["says"], Type: job["type"], Before: job["before"], Tried: job["tried"], Limit: job["limit"], Reason: job["reason"], Notes: job["notes"], Cause: "unknown"}
	s.Date = dateIn(job["date"])
	if _, err := time.Parse(time.DateOnly, s.Date); err != nil {
		t.notRead(where, "no day in it, like 2021-03-04 or 4.3.2021")
		return found{}, false
	}
	if s.Device = t.deviceOf(job["device"]); s.Device == "" {
		t.notRead(where, "no device of this shop is named in “"+short(job["device"])+"”")
		return found{}, false
	}
	ended := strings.ToLower(strings.Trim(job["outcome"], " ."))
	s.Outcome = outcomes[ended]
	if s.Outcome == "" {
		for _, word := range sortedKeys(outcomes) { // "not fixed" before "fixed"
			if len(word) > 3 && strings.Contains(ended, word) {
				s.Outcome = outcomes[word]
				break
			}
		}
	}
	if s.Outcome == "" {
		t.notRead(where, "it does not say how it ended: mended, given up, replaced or came back")
		return found{}, false
	}
	var lost []string
	if v := job["minutes"]; v != "" {
		if n, err := quantity.Parse(quantity.Ratio, v); err == nil && n.Num >= 0 {
			s.Minutes = n.Num
		} else if d, err := quantity.Parse(quantity.Duration, v); err == nil {
			s.Minutes = d.Num / 60
		} else {
			lost = append(lost, "time “"+short(v)+"”")
		}
	}
	if v := job["money"]; v != "" {
		if n, err := quantity.Parse(quantity.Money, v); err == nil && n.Num >= 0 {
			s.Money = n.Num
		} else {
			lost = append(lost, "money “"+short(v)+"”")
		}
	}
	for _, p := range strings.FieldsFunc(job["parts"], func(r rune) bool { return r == ';' || r == ',' }) {
		if p = strings.TrimSpace(p); p != "" {
			s.Parts = append(s.Parts, trace.Part{Part: p, Count: 1})
		}
	}
	if v := job["cause"]; v != "" {
		if id := t.causeOf(s.Device, v); id != "" {
			s.Cause = id
		} else {
			s.Notes = strings.TrimSpace("Found: " + v + ".\n\n" + s.Notes)
		}
	}
	if len(lost) > 0 {
		fmt.Fprintf(t.e.Out, "Of %s this could not be read and is left empty: %s\n", where, strings.Join(lost, ", "))
	}
	if s.Notes == "" {
		s.Notes = "An old job, taken in later."
	}
	return found{where: where, text: []byte(s.Markdown())}, true
}

// causeOf finds the fault that an old sheet names.
func (t *taker) causeOf(device, text string) string {
	for _, f := range t.judge.Set().FaultsOf(device) {
		if strings.EqualFold(f.Name, text) || strings.EqualFold(f.Title, strings.Trim(text, ". ")) {
			return f.Name
		}
	}
	return ""
}

func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

// sortedKeys has the longer words first.
func sortedKeys(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Slice(out, func(i, j int) bool { return len(out[i]) > len(out[j]) || len(out[i]) == len(out[j]) && out[i] < out[j] })
	return out
}
