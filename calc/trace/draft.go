package trace

import "strings"

// Draft is the beginning of a fault note that inspect accepts: every symptom of
// the device, the tests that cover the block with what they may read, and
// filled in what is known already from a trace. Title and block may be empty.
func Draft(d *Device, title string, block BlockID, k Evidence) string {
	if title = strings.TrimSpace(title); title == "" {
		title = "A new fault of the " + InSentence(d.Title)
	}
	if block == "" {
		block = d.firstBlock()
	}
	var b strings.Builder
	b.WriteString("---\ntitle: " + quoted(title) + "\ndevice: " + d.ID + "\nblock: " + string(block) + "\ncause: which part failed, and how\nseen: 1\n")
	if len(d.Symptoms) > 0 {
		b.WriteString("symptoms:\n")
	}
	for _, s := range d.Symptoms {
		word := Often("never")
		for _, id := range k.Symptoms {
			if id == s.ID {
				word = "often"
			}
		}
		b.WriteString("  " + string(s.ID) + ": " + string(word) + " # " + comment(s.Says) + "\n")
	}
	read := map[TestID]ReadingID{}
	for _, r := range k.Readings {
		if t := d.Test(r.Test); t != nil {
			if fits, err := ParseReading(t, r.Value); err == nil && len(fits) > 0 {
				read[t.ID] = top(fits)
			}
		}
	}
	var reads strings.Builder
	for _, t := range d.Tests {
		id, known := read[t.ID]
		covers := false
		for _, c := range t.Covers {
			covers = covers || c == block
		}
		if !known && !covers {
			continue
		}
		var may []string
		for _, r := range t.Reads {
			may = append(may, string(r.ID))
			if !known && !r.Healthy && id == "" {
				id = r.ID
			}
		}
		if id == "" {
			continue
		}
		reads.WriteString("  " + string(t.ID) + ": " + string(id) + " # " + comment(t.Ask) + ": " + strings.Join(may, ", ") + "\n")
	}
	if reads.Len() > 0 {
		b.WriteString("reads:\n" + reads.String())
	}
	b.WriteString("because: [why it failed]\nmend: {does: What is done, minutes: 20, succeeds: 0.9}\n---\n" +
		"What it shows, how to confirm it, how to mend it, what must be as safe as before, what fools people.\n")
	return b.String()
}

func (d *Device) firstBlock() BlockID {
	for _, b := range d.Blocks {
		if b.ID != "" {
			return b.ID
		}
	}
	return ""
}

// comment keeps a text on one line.
func comment(s string) string { return strings.Join(strings.Fields(s), " ") }
