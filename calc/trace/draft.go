package trace

import "strings"

// What a begun note holds where nothing is known yet. A note in which one of these
// still stands is a draft, whatever else it says.
const (
	BegunCause = "which part failed, and how"
	BegunMend  = "What is done"
	BegunText  = "What it shows, how to confirm it, how to mend it, what must be as safe as before, what fools people."
	// BegunFirst is the line that makes a note a draft, and says how it ceases to be one.
	BegunFirst = "draft: true # fill in what you know, then take this line out: until then nothing counts on the note\n"
)

// Draft is the beginning of a fault note that inspect accepts. It holds only what
// was seen: the symptoms, and what was read on the tests that cover the block or
// read abnormal. Everything else that a note may say is there, commented out.
// Title and block may be empty.
func Draft(d *Device, title string, block BlockID, e Evidence) string {
	if title = strings.TrimSpace(title); title == "" {
		title = "A new fault of the " + InSentence(d.Title)
	}
	on := lay(d, e)
	if block == "" || on.unknownOf(block) < 0 {
		if chain := d.Chain(); len(chain) > 0 {
			block = chain[0].ID
		}
	}
	var b strings.Builder
	b.WriteString("---\n" + BegunFirst + "title: " + quoted(title) + "\ndevice: " + d.ID + "\nblock: " + string(block) + "\ncause: " + BegunCause + "\nseen: 1\n")
	shown := map[SymptomID]Often{}
	for _, id := range on.Evidence.Symptoms {
		shown[id] = "often"
	}
	section(&b, "symptoms", len(shown) > 0)
	for _, s := range d.Symptoms {
		word, seen := shown[s.ID], shown[s.ID] != ""
		if !seen {
			word = "never"
		}
		item(&b, seen, string(s.ID)+": "+string(word), s.Says)
	}
	read := map[TestID]bool{}
	for i := range on.taken {
		t := &on.taken[i]
		read[t.test.ID] = !t.stale() && t.last().top() != "" && (t.test.covers(block) || abnormal(t))
	}
	any := false
	for _, yes := range read {
		any = any || yes
	}
	section(&b, "reads", any)
	for i := range d.Tests {
		t := &d.Tests[i]
		took := on.on(t.ID)
		if !read[t.ID] && !t.covers(block) {
			continue
		}
		var may []string
		for _, r := range t.Reads {
			may = append(may, string(r.ID))
		}
		said := t.Ask + ": " + strings.Join(may, ", ")
		switch {
		case read[t.ID]:
			item(&b, true, string(t.ID)+": "+string(took.last().top()), said)
		case took != nil && took.last().top() == "":
			item(&b, false, string(t.ID)+": it read "+took.last().typed+", which fits no band; give the device's note a band for it", said)
		default:
			item(&b, false, string(t.ID)+":", said)
		}
	}
	b.WriteString("# because: [why it failed]\n")
	b.WriteString("mend: {does: " + BegunMend + ", minutes: 20}\n" +
		"# inside the braces of mend it may also say: needs: [ACCESS], succeeds: 0.9, parts: [{part: name, count: 1, price: 0}]\n---\n" + BegunText + "\n")
	return b.String()
}

// section begins a group of lines, commented out where none of them holds.
func section(b *strings.Builder, name string, holds bool) {
	if !holds {
		b.WriteString("# ")
	}
	b.WriteString(name + ":\n")
}

// item writes a line of a group with a remark.
func item(b *strings.Builder, holds bool, text, said string) {
	if !holds {
		b.WriteString("# ")
	}
	b.WriteString("  " + text + " # " + comment(said) + "\n")
}

// comment keeps a text on one line.
func comment(s string) string { return strings.Join(strings.Fields(s), " ") }
