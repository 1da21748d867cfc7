// Package bigshop makes a shop of many notes, to measure with: invented devices
// and faults beside the notes of a given shop. The same seed gives the same
// bytes.
//
// Of fifty notes one is a device, 35 are its faults and 14 its job sheets. Two
// devices of three are written out, with a chain of ten blocks and some twenty
// tests; the third is made of the given shop's common blocks, where it has them,
// and has fewer faults of its own. Words follow no list: some are met in every
// note and most in very few, as in a real shop.
package bigshop

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// Faults and Sheets are how many notes a device brings besides its own.
const (
	Faults = 35
	Sheets = 14
)

// Write makes a shop of about n notes in the new folder dir: all of base, which
// holds content/, and invented devices.
func Write(dir string, base fs.FS, n int, seed uint64) error {
	given := 0
	err := fs.WalkDir(base, "content", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(base, p)
		if err != nil {
			return err
		}
		if path.Ext(p) == ".md" {
			given++
		}
		return put(dir, p, string(b))
	})
	if err != nil {
		return err
	}
	_, noBlocks := fs.Stat(base, "content/blocks/mains-cord.md")
	for i := range max(n-given+(Faults+Sheets)/2, 0) / (1 + Faults + Sheets) {
		d := maker{r: rand.New(rand.NewPCG(seed, uint64(i))), i: i, common: i%3 == 2 && noBlocks == nil}
		for name, text := range d.device() {
			if err := put(dir, name, text); err != nil {
				return err
			}
		}
	}
	return nil
}

func put(dir, name, text string) error {
	p := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
		return err
	}
	return os.WriteFile(p, []byte(text), 0o644)
}

// maker makes one device with its faults and sheets.
type maker struct {
	r      *rand.Rand
	i      int
	common bool
	name   string
	blocks []string
	tests  []test
	faults []fault
}

type test struct {
	id     string
	covers []string
	reads  []string // the last one is healthy
}

type fault struct{ id, symptom, test, reading string }

var symptoms = []struct{ id, says, is string }{
	{"dead-quiet", "Nothing happens when it is switched on", "dead"},
	{"works-weak", "It works only weakly", "weak"},
	{"comes-and-goes", "It comes and goes when it is moved", "intermittent"},
	{"gets-hot", "It gets hotter than it used to", "hot"},
	{"smells-burnt", "It smells burnt", "smells"},
	{"noisy-run", "It has become loud", "noisy"},
	{"stops-soon", "It stops by itself after a while", "stops-by-itself"},
	{"trips-supply", "It trips the supply of the house", "trips"},
}

var (
	sorts  = []string{"sander", "pump", "oven", "lathe", "press", "polisher", "dryer", "grinder", "heater", "mixer", "saw", "blower", "lamp", "loom", "winch", "cutter", "shredder", "vat", "fryer", "kiln"}
	makes  = []string{"bench", "upright", "folding", "heavy", "small", "wall", "table", "garden", "workshop", "travel", "old", "low", "twin", "round", "narrow", "deep", "long", "double", "quiet", "open"}
	parts  = []string{"element", "motor", "gears", "fan", "pump", "board", "timer", "relay", "sensor", "valve", "plate", "coil", "clutch", "lamp", "igniter", "belt", "seal", "bearing", "brush", "capacitor"}
	wrongs = []string{"worn", "cracked", "burnt", "loose", "corroded", "bent", "shorted", "open", "dirty", "seized", "swollen", "displaced"}
	ways   = []string{"heat", "dust", "damp", "a knock", "age", "vibration", "a poor joint", "too much load", "grease that dried", "a wrong part fitted before", "salt", "long storage"}
	does   = []string{"turns", "opens", "carries", "holds", "presses", "warms", "meets", "leaves", "touches", "drives", "lifts", "closes"}
	places = []string{"behind the cover", "under the plate", "beside the motor", "at the rear wall", "on the carrier", "near the entry", "below the handle", "at the hinge", "in the duct", "on the shaft", "by the latch", "in the foot"}
	moods  = []string{"slowly", "at once", "now and then", "when cold", "after an hour", "under load", "at rest", "with a click", "without a sound", "for days", "on damp mornings", "at every start"}
	kinds  = []string{"brass", "thin", "outer", "second", "grey", "flat", "long", "painted", "spring", "left", "inner", "coated"}
)

func pick[T any](m *maker, list []T) T { return list[m.r.IntN(len(list))] }

// rare is a word that few notes hold: a mark on a part, or a name among many.
func (m *maker) rare() string {
	k := int(1 / (m.r.Float64() + 1e-5)) // a few are met often, most hardly ever
	if m.r.IntN(3) == 0 {
		return fmt.Sprintf("%c%c%d", 'A'+k%26, 'A'+k/26%26, 100+(k*37)%9000)
	}
	syllables := []string{"ba", "dor", "fen", "gil", "hum", "ka", "lev", "mor", "nis", "pol", "ra", "sen", "tu", "vor", "wen", "zil"}
	var b strings.Builder
	for k += 17; k > 0; k /= len(syllables) {
		b.WriteString(syllables[k%len(syllables)])
	}
	return b.String()
}

func (m *maker) sentence() string {
	s := fmt.Sprintf("the %s %s %s the %s %s %s", pick(m, kinds), pick(m, parts), pick(m, does), pick(m, parts), pick(m, places), pick(m, moods))
	switch m.r.IntN(4) {
	case 0:
		s += ", marked " + m.rare()
	case 1:
		s += ", and " + pick(m, ways) + " makes it " + pick(m, wrongs)
	case 2:
		s += fmt.Sprintf("; it reads %d Ω there", 1+m.r.IntN(900))
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

func (m *maker) text(headings ...string) string {
	var b strings.Builder
	for i, h := range append([]string{""}, headings...) {
		if i > 0 {
			b.WriteString("\n## " + h + "\n\n")
		}
		for range 3 + m.r.IntN(4) {
			b.WriteString(m.sentence() + "\n")
		}
	}
	return b.String()
}

func (m *maker) device() map[string]string {
	out := map[string]string{}
	sort := pick(m, sorts)
	m.name = fmt.Sprintf("%s-%s-%d", pick(m, makes), sort, 100+m.i)
	title := strings.ToUpper(m.name[:1]) + strings.ReplaceAll(m.name[1:], "-", " ")
	var b strings.Builder
	fmt.Fprintf(&b, "---\ntitle: %s\nfamily: %s\nalso: [%s, {%s: 0.6}]\nclass: II\nprice: %d\nplate: {mains: 230 V, power: %d W}\n",
		title, strings.ToUpper(sort[:1])+sort[1:]+"s", m.rare()+fmt.Sprintf(" %s %d", sort, m.i), sort, 20+m.r.IntN(300), 100*(1+m.r.IntN(20)))
	own := Faults
	if m.common {
		b.WriteString(commonFront)
		m.blocks = []string{"board", "carriage"}
		own = Faults - commonFaults
	} else {
		m.writtenOut(&b)
	}
	b.WriteString("---\n\n" + m.text("How it works", "Safety"))
	fmt.Fprintf(&b, "\nAs rated it takes [=](calc:element?power=plate.power&mains=plate.mains#current).\n")
	out["content/devices/"+m.name+".md"] = b.String()
	for i := range own {
		name, text := m.fault(i)
		out["content/faults/"+name+".md"] = text
	}
	for i := range Sheets {
		name, text := m.sheet(i)
		out["content/jobs/"+name+".md"] = text
	}
	return out
}

// commonFront is a device of common blocks and two blocks of its own.
const (
	commonFaults = 14
	commonFront  = `short: Machine
words: {on: highest step, metal: every bare metal part, working: "work at every step", entry: in its sleeve}
blocks:
  - plug: {is: mains-plug, without: [browned]}
  - cord: {is: mains-cord, reach: case-open}
  - switch: {is: contact-switch, reach: case-open}
  - board: {carries: current, ohms: unseen}
  - motor: {is: universal-motor, reach: case-open}
  - gears: {is: gearing, reach: case-open, words: {turn: the shaft, hand: "WARNING: Unplug before a hand goes to the shaft."}}
  - carriage: {carries: motion, work: motion}
access:
  case-open: {does: "Take the case off", minutes: 7, undo: 9}
tests:
  board-look: {spans: [board], ask: "Look at the board: which place is brown?", minutes: 2, needs: [case-open], reads: [brown-left, brown-right, swollen, {board-clean: healthy}]}
  carriage-look: {spans: [carriage], ask: "Move the carriage by hand", minutes: 1, reads: [stiff, crooked, slack, {runs-freely: healthy}]}
`
)

// writtenOut is a device with everything in its own note.
func (m *maker) writtenOut(b *strings.Builder) {
	m.blocks = []string{"plug", "cord", "switch", "cut-out"}
	for _, at := range m.r.Perm(len(parts))[:6] {
		m.blocks = append(m.blocks, parts[at])
	}
	b.WriteString("blocks: [" + strings.Replace(strings.Join(m.blocks, ", "), "cut-out", "{cut-out: protective}", 1) + "]\nsymptoms:\n")
	for _, s := range symptoms {
		fmt.Fprintf(b, "  %s: {says: %s, is: %s}\n", s.id, s.says, s.is)
	}
	b.WriteString("access:\n  base-off: {does: Take the base off, minutes: 4, undo: 4}\n  case-open: {does: Take the case off, minutes: 7, undo: 8}\n  carrier-out: {does: Lift the carrier out, minutes: 9, undo: 11, inside: case-open}\ntests:\n")
	needs := []string{"", "base-off", "case-open", "carrier-out"}
	add := func(id, ask, need string, minutes float64, covers []string, reads []string, healthy string, below ...string) {
		m.tests = append(m.tests, test{id, covers, append(append(names(reads), names(below)...), name(healthy))})
		fmt.Fprintf(b, "  %s:\n    ask: %q\n    covers: [%s]\n", id, ask, strings.Join(covers, ", "))
		if need != "" {
			fmt.Fprintf(b, "    needs: [%s]\n", need)
		}
		reads = append(reads, "{"+healthy+", healthy: true}")
		for _, x := range below {
			reads = append(reads, "{"+x+"}")
		}
		if id == "insulation" {
			b.WriteString("    proves: insulation\n    with: [insulation-tester]\n")
		}
		fmt.Fprintf(b, "    power: off\n    minutes: %g\n    reads: [%s]\n    caution: \"WARNING: Unplug before it is opened.\"\n", minutes, strings.Join(reads, ", "))
	}
	add("pins-ohms", "Resistance between the pins, switch on", "", 2, m.blocks, []string{"{open: above 20 kΩ}", "{high: 200 Ω to 20 kΩ}"}, "as-rated: 20 Ω to 200 Ω")
	add("insulation", "Insulation from both pins to the metal", "", 2, m.blocks[4:], nil, "good: above 2 MΩ", "bad: below")
	for i, block := range m.blocks {
		need := needs[min(i/3, 3)]
		add(block+"-ohms", "Resistance across the "+block, need, float64(1+m.r.IntN(3)), []string{block}, []string{"{open: above 10 kΩ}", "{high: 50 Ω to 10 kΩ}"}, "through: below 50 Ω")
		if i > 3 {
			add(block+"-look", "Look at the "+block+" with a lamp", need, .5+float64(m.r.IntN(3)), []string{block}, []string{"brown", "loose", "dirty"}, "sound")
		}
	}
	fmt.Fprintf(b, "  run:\n    ask: Run it through a series lamp for a minute\n    covers: [%s]\n    needs: [case-open]\n    power: series-lamp\n    minutes: 3\n    after: [insulation]\n    reads: [dark, dim, {as-it-should, healthy: true}]\n    caution: \"DANGER: Live at the mains.\"\n", strings.Join(m.blocks[2:], ", "))
	m.tests = append(m.tests, test{"run", m.blocks[2:], []string{"dark", "dim", "as-it-should"}})
}

// name is a reading's id, as it is written among a test's reads.
func name(read string) string {
	id, _, _ := strings.Cut(strings.Trim(read, "{}"), ":")
	return id
}

func names(reads []string) []string {
	var out []string
	for _, r := range reads {
		out = append(out, name(r))
	}
	return out
}

func (m *maker) fault(i int) (string, string) {
	block := m.blocks[i%len(m.blocks)]
	wrong := wrongs[i/len(m.blocks)%len(wrongs)]
	id := fmt.Sprintf("%s-%s-%s", m.name, block, wrong)
	if round := i / len(m.blocks) / len(wrongs); round > 0 {
		id += fmt.Sprintf("-%d", round)
	}
	f := fault{id: id}
	var b strings.Builder
	fmt.Fprintf(&b, "---\ntitle: %s of the %s %s, %s\ndevice: %s\nblock: %s\ncause: %s %s %s\nseen: %d\n", strings.ToUpper(block[:1])+block[1:], strings.ReplaceAll(m.name, "-", " "), wrong, m.rare(),
		m.name, block, wrong, block, pick(m, places), 1+m.r.IntN(8))
	if m.common {
		look, reads := "board-look", []string{"brown-left", "brown-right", "swollen", "board-clean"}
		if block == "carriage" {
			look, reads = "carriage-look", []string{"stiff", "crooked", "slack", "runs-freely"}
		}
		f.test, f.reading = look, reads[i/2%4]
		fmt.Fprintf(&b, "complaints: {stops: %s, smells: %s, noisy: %s}\nreads: {%s: {%s: 0.7, %s: 0.3}}\n", pick(m, []string{"always", "often", "sometimes"}), pick(m, []string{"often", "sometimes", "rarely"}),
			pick(m, []string{"sometimes", "rarely", "never"}), look, f.reading, reads[(i/2+1)%4])
	} else {
		order := m.r.Perm(len(symptoms))
		f.symptom = symptoms[order[0]].id
		fmt.Fprintf(&b, "symptoms: {%s: always, %s: %s, %s: sometimes, %s: rarely, %s: never}\nreads: {", f.symptom,
			symptoms[order[1]].id, pick(m, []string{"often", "sometimes"}), symptoms[order[2]].id, symptoms[order[3]].id, symptoms[order[4]].id)
		sep := ""
		for _, t := range m.tests {
			abnormal := t.reads[m.r.IntN(len(t.reads)-1)]
			switch {
			case len(t.covers) == 1 && t.covers[0] == block:
				if f.test == "" || m.r.IntN(2) == 0 {
					f.test, f.reading = t.id, abnormal
				}
				fmt.Fprintf(&b, "%s%s: %s", sep, t.id, abnormal)
			case len(t.covers) > 1 && contains(t.covers, block):
				if m.r.IntN(3) == 0 {
					abnormal = t.reads[len(t.reads)-1]
				}
				fmt.Fprintf(&b, "%s%s: %s", sep, t.id, abnormal)
			default:
				continue
			}
			sep = ", "
		}
		b.WriteString("}\n")
	}
	access := "case-open"
	fmt.Fprintf(&b, "because: [%s, %s]\nmend: {does: \"Fit a new %s, %s\", minutes: %d, needs: [%s], succeeds: 0.%d, parts: [{part: %s-%s, count: 1, price: %d.50}]}\n---\n\n",
		pick(m, ways), pick(m, ways), block, m.rare(), 5+m.r.IntN(40), access, 70+m.r.IntN(29), block, strings.ToLower(m.rare()), 1+m.r.IntN(30))
	b.WriteString(m.text("How to confirm", "Why it happened", "How to mend", "As safe as before", "What fools people"))
	b.WriteString("\nBefore power: [after-repair checks](../checklists/after-repair.md).")
	if n := len(m.faults); n > 0 {
		fmt.Fprintf(&b, " It is taken for [another one](%s.md) at times.", m.faults[m.r.IntN(n)].id)
	}
	b.WriteString("\n")
	m.faults = append(m.faults, f)
	return id, b.String()
}

func contains(list []string, x string) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

func (m *maker) sheet(i int) (string, string) {
	f := pick(m, m.faults)
	date := fmt.Sprintf("%d-%02d-%02d", 2022+m.r.IntN(4), 1+m.r.IntN(12), 1+m.r.IntN(28))
	var b strings.Builder
	fmt.Fprintf(&b, "---\ndevice: %s\ndate: %s\nowner_says: %q\nbefore: %q\n", m.name, date, m.sentence(), pick(m, ways))
	if f.symptom != "" {
		fmt.Fprintf(&b, "symptoms: [%s]\n", f.symptom)
	}
	cause := f.id
	if m.r.IntN(8) == 0 {
		cause = "unknown"
	}
	fmt.Fprintf(&b, "readings: [{test: %s, value: %s, minutes: %d}]\ncause: %s\nreason: %q\nminutes: %d\nmoney: %d\nproofs: [{proof: visual, pass: ok}, {proof: insulation, value: 200 MΩ, limit: limit 2.00 MΩ, pass: ok}, {proof: function, pass: ok}]\noutcome: %s\n",
		f.test, f.reading, 1+m.r.IntN(5), cause, pick(m, ways), 10+m.r.IntN(90), m.r.IntN(40), pick(m, []string{"mended", "mended", "mended", "given-up", "replaced"}))
	b.WriteString("---\n\nAn invented job. " + m.sentence() + "\n")
	return fmt.Sprintf("%s-%s-%d", date, m.name, i+1), b.String()
}
