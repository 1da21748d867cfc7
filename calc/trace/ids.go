package trace

import "strings"

// Test finds a test; nil if the device has none of that id.
func (d *Device) Test(id TestID) *Test {
	for i := range d.Tests {
		if d.Tests[i].ID == id {
			return &d.Tests[i]
		}
	}
	return nil
}

// Cause finds a cause; nil if no note describes one of that id.
func (d *Device) Cause(id CauseID) *Cause {
	if i := d.causeIndex(id); i >= 0 {
		return &d.Causes[i]
	}
	return nil
}

func (d *Device) causeIndex(id CauseID) int {
	for i := range d.Causes {
		if d.Causes[i].ID == id {
			return i
		}
	}
	return -1
}

// Symptom finds a symptom; nil if the device has none of that id.
func (d *Device) Symptom(id SymptomID) *Symptom {
	for i := range d.Symptoms {
		if d.Symptoms[i].ID == id {
			return &d.Symptoms[i]
		}
	}
	return nil
}

// Chain lists the blocks in the order the energy goes, those of branches among
// them.
func (d *Device) Chain() []Block {
	var out []Block
	var add func([]Block)
	add = func(list []Block) {
		for _, b := range list {
			if b.ID != "" {
				out = append(out, b)
			}
			for _, way := range b.Branch {
				add(way)
			}
		}
	}
	add(d.Blocks)
	return out
}

// Opening lists what has to be opened for needs, outermost first.
func (d *Device) Opening(needs []AccessID) []*Access {
	if len(needs) == 0 {
		return nil
	}
	var list []*Access
	var few [32]bool
	seen := few[:]
	if len(d.Access) > len(few) {
		seen = make([]bool, len(d.Access))
	}
	var add func(AccessID)
	add = func(id AccessID) {
		for i := range d.Access {
			a := &d.Access[i]
			if a.ID != id {
				continue
			}
			if !seen[i] {
				seen[i] = true
				if a.Inside != "" {
					add(a.Inside)
				}
				list = append(list, a)
			}
			return
		}
	}
	for _, id := range needs {
		add(id)
	}
	return list
}

// covers tells whether a test tells about a block.
func (t *Test) covers(b BlockID) bool {
	for _, c := range t.Covers {
		if c == b {
			return true
		}
	}
	return false
}

// band finds a reading of the test; nil if it has none of that id.
func (t *Test) band(id ReadingID) *Band {
	for i := range t.Reads {
		if t.Reads[i].ID == id {
			return &t.Reads[i]
		}
	}
	return nil
}

// healthy is the reading of a healthy one.
func healthy(t *Test) ReadingID {
	for _, b := range t.Reads {
		if b.Healthy {
			return b.ID
		}
	}
	return ""
}

// expected is the likeliest reading that a cause gives on a test; known is false
// where the notes do not say. A cause gives what its note states; else, if its
// block is not among those the test covers, the healthy reading; else nothing is
// known, and the reading moves its chance neither way.
func expected(t *Test, c *Cause) (id ReadingID, known bool) {
	if id, ok := c.Likeliest(t.ID); ok {
		return id, true
	}
	if t.covers(c.Block) {
		return "", false
	}
	return healthy(t), true
}

// IsID tells whether a text can be an id: small letters, digits, and hyphens between them.
func IsID(s string) bool {
	for i := range len(s) {
		c := s[i]
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return s != "" && s[0] != '-' && s[len(s)-1] != '-'
}

// Plain makes an id readable: "as-rated" becomes "as rated".
func Plain(id string) string { return strings.ReplaceAll(id, "-", " ") }

// InSentence begins a title in small letters, for use inside a sentence, unless
// it begins with an abbreviation.
func InSentence(title string) string {
	r := []rune(title)
	if len(r) > 1 && (r[1] >= 'a' && r[1] <= 'z' || r[0] == 'A' && r[1] == ' ') {
		return strings.ToLower(string(r[:1])) + string(r[1:])
	}
	return title
}

// MendMinutes is how long a mend takes with opening and closing.
func (d *Device) MendMinutes(c *Cause) float64 {
	total := c.Mend.Minutes
	for _, a := range d.Opening(c.Mend.Needs) {
		total += a.Minutes + a.Undo
	}
	return total
}
