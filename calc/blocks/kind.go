package blocks

import (
	"maps"
	"slices"
	"strings"

	"faultleaf/calc/trace"
)

// Remark is something to say about a note: a mistake, which stops publishing,
// or a hint.
type Remark struct {
	At       Place
	Says, Do string
	Mistake  bool
	Root     bool // others may follow from it
}

// remarks collects what there is to say.
type remarks []Remark

func (r *remarks) wrong(at Place, says, do string) {
	*r = append(*r, Remark{At: at, Says: says, Do: do, Mistake: true})
}

// root tells what others may follow from.
func (r *remarks) root(at Place, says, do string) {
	*r = append(*r, Remark{At: at, Says: says, Do: do, Mistake: true, Root: true})
}

func (r *remarks) hint(at Place, says, do string) {
	*r = append(*r, Remark{At: at, Says: says, Do: do})
}

// The effects a fault can have on the energy that should pass.
const (
	Open      = "open"     // nothing passes
	Short     = "short"    // conductors meet, everything behind is bypassed
	Turns     = "turns"    // turns shorted: heats, little work
	StaysOn   = "stays-on" // a contact or control that does not let go
	ToCase    = "to-case"  // passes to metal that can be touched
	EarthOpen = "earth-open"
	Stuck     = "stuck"   // does not move
	Slips     = "slips"   // passes no motion on
	Drags     = "drags"   // moves with effort
	Blocked   = "blocked" // passes too little air or water
	Away      = "away"    // the fault is not in the device
	None      = "none"    // none of these: the fault states its readings itself
)

// Words of sees and complaints that are no effects.
const (
	stops     = "stops"      // all work stops
	stopsSome = "stops-some" // it stops while other work goes on
)

// Effects are the words that a fault's does may have.
func Effects() []string {
	return []string{Open, Short, Turns, StaysOn, ToCase, EarthOpen, Stuck, Slips, Drags, Blocked, Away, None}
}

// stopping effects stop work.
func stopping(effect string) bool { return effect == Open || effect == Stuck || effect == Slips }

// Standard are the tests that span blocks and keep their bare name on every
// device.
func Standard() []string {
	return []string{"pins-ohms", "earth-bond", "insulation", "series-lamp", "run", "ask-outlet", "fuse-ohms", "look-plug",
		"out-no-load", "out-loaded", "out-at-rest", "out-at-work", "ripple", "ask-load"}
}

// Works are what energy can become, each with the complaint of its missing.
func Works() []string { return []string{"heat", "motion", "light", "sound", "charge", "output"} }

// Kind is a block note: one kind of block, which knows no device.
type Kind struct {
	Name string `json:"name"`
	Note Tree   `json:"note"` // its front matter
	// Texts are the sections of its body by the fault that each is about; "" is
	// what stands before the first.
	Texts map[string]Section `json:"-"`
}

// Section is a piece of a note's body.
type Section struct {
	Text string
	At   Place // of its first line
}

// Title is the note's title.
func (k *Kind) Title() string { return k.Note.Str("title") }

// Says is what the block is called where an entry says nothing else, "" for the
// entry's id.
func (k *Kind) Says() string { return k.Note.Str("says") }

// Source tells whether a chain begins with it.
func (k *Kind) Source() bool { s := k.Note.Str("source"); return s != "" && s != "false" }

// Mains tells whether it is a source that can kill: any that does not say that
// it is a battery.
func (k *Kind) Mains() bool { return k.Source() && k.Note.Str("source") != "battery" }

// Forbidden is why this block is not for the shop, "" where it is.
func (k *Kind) Forbidden() string { return k.Note.Str("forbidden") }

// Tests are what can be asked of it.
func (k *Kind) Tests() []Field { v, _ := k.Note.Get("tests"); return v.Fields }

// Faults are the ways in which it fails.
func (k *Kind) Faults() []Field { v, _ := k.Note.Get("faults"); return v.Fields }

func names(fields []Field) []string {
	var out []string
	for _, f := range fields {
		out = append(out, f.Name)
	}
	return out
}

// Complaint is one thing that an owner can say.
type Complaint struct {
	ID   string `json:"id"`
	Says string `json:"says"`
	// Run tells that it can be said only while the work still goes on.
	Run bool `json:"run,omitempty"`
}

// Library is what devices are made of.
type Library struct {
	Kinds      map[string]*Kind `json:"kinds"`
	Complaints []Complaint      `json:"complaints"`
}

func (l *Library) complaint(id string) *Complaint {
	for i := range l.Complaints {
		if l.Complaints[i].ID == id {
			return &l.Complaints[i]
		}
	}
	return nil
}

// complaintIDs are all complaints, and the word "stops".
func (l *Library) complaintIDs() []string {
	out := []string{stops}
	for _, c := range l.Complaints {
		out = append(out, c.ID)
	}
	return out
}

// KindNames are the kinds by name.
func (l *Library) KindNames() []string {
	var out []string
	for name := range l.Kinds {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// oneOf says what a word may be.
func oneOf(words []string) string { return "it may be " + strings.Join(words, ", ") }

var spans = []string{"this", "before", "behind", "loop"}

// blockPoints are the places that a probe can touch at a block: before and behind
// it on the wire, and across from it on the conductor back.
var blockPoints = []string{"in", "out", "return"}

// nobody is the chain without blocks.
func nobody(string) bool { return false }

// classes are the flags of the class of protection.
var classes = []string{"class-I", "class-II", "class-III"}

// Nameless says that the name is missing above a key of a test or a fault.
func Nameless(key, of string) (says, do string) {
	return "“" + key + "” stands under " + of + ": itself", "write the name of the " + strings.TrimSuffix(of, "s") + " above it, like my-name:, and this below that name"
}

// Check says what is wrong in a block note by itself.
func (k *Kind) Check(lib *Library) []Remark {
	var r remarks
	n := k.Note
	k.word(&r, n, "carries", "current", "motion", "air", "water")
	k.word(&r, n, "work", Works()...)
	k.word(&r, n, "source", "true", "false", "mains", "battery")
	k.word(&r, n, "separates", "true", "false")
	k.word(&r, n, "protective", "true", "false")
	for _, of := range []string{"tests", "faults"} {
		v, _ := n.Get(of)
		for _, f := range v.Fields {
			if f.Value.Text != "" {
				says, do := Nameless(f.Name, of)
				r.root(f.At, says, do)
				break
			}
		}
	}
	points, _ := n.Get("points")
	for _, p := range points.Fields {
		if _, alone := trace.StandardPoint(p.Name, nobody); !alone && !slices.Contains(blockPoints, p.Name) {
			r.wrong(p.At, "a block has no point “"+p.Name+"”", near(p.Name, blockPoints))
		}
	}
	if v, ok := n.Get("ohms"); ok {
		if _, err := spanOf(v.Text); err != nil && !strings.HasPrefix(v.Text, "calc:") {
			r.wrong(v.At, err.Error(), "write through, unseen, a range like 100 Ω to 20 kΩ, or the address of a computed range")
		}
		if n.Str("carries") != "current" {
			r.wrong(v.At, "only a block that carries current has ohms", "write carries: current, or take the ohms out")
		}
	}
	words, _ := n.Get("words")
	said := slots{}
	said.kind(k)
	for _, f := range words.Fields {
		if !said[f.Name] {
			r.hint(f.At, "nothing of this note says {"+f.Name+"}, so that this word stands nowhere", meant(f.Name, said))
		}
	}
	options, _ := n.Get("options")
	flags := slices.Concat(classes, Works(), options.Strings())
	k.checkTests(&r, flags)
	k.checkFaults(&r, flags, lib)
	k.checkTexts(&r)
	return r
}

// checkTests says what is wrong with the block's tests; flags are the conditions (only)
// that one may have.
func (k *Kind) checkTests(r *remarks, flags []string) {
	roles, _ := k.Note.Get("reach")
	for _, t := range k.Tests() {
		v := t.Value
		k.flag(r, v, flags)
		k.roles(r, v, names(roles.Fields))
		if s, ok := v.Get("spans"); ok && !slices.Contains(spans, s.Text) {
			r.wrong(s.At, "a block's test cannot span “"+s.Text+"”", oneOf(spans))
		}
		if m, ok := v.Get("measures"); ok && m.Text != "ohms" {
			r.wrong(m.At, "measures can only be ohms", "write measures: ohms, or state the readings")
		}
		if p, ok := v.Get("power"); ok && (p.Text == "isolated" || p.Text == "mains") && !k.Source() {
			r.wrong(p.At, "a block's own test is never done live", "only a source brings live tests; write power: off, low-voltage or series-lamp")
		}
		k.sees(r, v)
		probes, _ := v.Get("probes")
		for _, p := range probes.Items() {
			if _, alone := trace.StandardPoint(p.Text, nobody); !alone && !slices.Contains(blockPoints, p.Text) {
				r.wrong(p.At, "a block has no point “"+p.Text+"”", near(p.Text, append(slices.Clone(blockPoints), "line", "neutral", "earth", "metal")))
			}
		}
	}
}

// checkFaults says what is wrong with the block's faults.
func (k *Kind) checkFaults(r *remarks, flags []string, lib *Library) {
	roles, _ := k.Note.Get("reach")
	tests := names(k.Tests())
	for _, f := range k.Faults() {
		v := f.Value
		k.flag(r, v, flags)
		does, ok := v.Get("does")
		switch {
		case !ok:
			r.wrong(f.At, "the fault “"+f.Name+"” does not say what it does to the energy", "write does: and one of "+strings.Join(Effects(), ", "))
		case !slices.Contains(Effects(), does.Text):
			r.wrong(does.At, "there is no effect “"+does.Text+"”", near(does.Text, Effects()))
		}
		owned, _ := v.Get("complaints")
		for _, c := range owned.Fields {
			if c.Name != stops && lib.complaint(c.Name) == nil {
				r.wrong(c.At, "there is no complaint “"+c.Name+"”", near(c.Name, lib.complaintIDs()))
			}
		}
		reads, _ := v.Get("reads")
		for _, c := range reads.Fields {
			if !slices.Contains(tests, c.Name) && !slices.Contains(Standard(), c.Name) {
				r.wrong(c.At, "this block has no test “"+c.Name+"”", near(c.Name, slices.Concat(tests, Standard())))
			}
		}
		mend, _ := v.Get("mend")
		k.roles(r, mend, names(roles.Fields))
		if _, ok := k.Texts[f.Name]; !ok {
			r.hint(f.At, "the fault “"+f.Name+"” has no text", "write it below a heading ## "+f.Name)
		}
	}
}

// checkTexts finds the texts that are about no fault.
func (k *Kind) checkTexts(r *remarks) {
	for _, id := range slices.Sorted(maps.Keys(k.Texts)) {
		if id != "" && !slices.Contains(names(k.Faults()), id) {
			r.wrong(k.Texts[id].At, "the text “## "+id+"” belongs to no fault of this block", near(id, names(k.Faults())))
		}
	}
}

func (k *Kind) word(r *remarks, n Tree, key string, words ...string) {
	if v, ok := n.Get(key); ok && !slices.Contains(words, v.Text) {
		r.wrong(v.At, key+" cannot be “"+v.Text+"”", near(v.Text, words))
	}
}

func (k *Kind) flag(r *remarks, v Tree, flags []string) {
	if o, ok := v.Get("only"); ok && !slices.Contains(flags, o.Text) {
		r.wrong(o.At, "“"+o.Text+"” is no class, no work and no option of this block", near(o.Text, flags))
	}
}

func (k *Kind) roles(r *remarks, v Tree, roles []string) {
	needs, _ := v.Get("needs")
	for _, n := range needs.Items() {
		if !slices.Contains(roles, n.Text) {
			r.wrong(n.At, "this block names no place “"+n.Text+"” to be reached", near(n.Text, roles))
		}
	}
}

// sees checks the words and the readings of a test's sees.
func (k *Kind) sees(r *remarks, test Tree) {
	s, _ := test.Get("sees")
	words := append(Effects(), stops, stopsSome)
	reads := readings(test)
	for _, f := range s.Fields {
		if !slices.Contains(words, f.Name) {
			r.wrong(f.At, "there is no effect “"+f.Name+"”", near(f.Name, words))
		}
		for _, id := range stated(f.Value) {
			if len(reads) > 0 && !slices.Contains(reads, id) {
				r.wrong(f.Value.At, "this test has no reading “"+id+"”", near(id, reads))
			}
		}
	}
}

// readings are the names of what a test may read; none where one is no plain name, so that of
// the others nothing is said either.
func readings(test Tree) []string {
	v, _ := test.Get("reads")
	var out []string
	for _, b := range v.Items() {
		id := bandName(b)
		if id != "" && !trace.IsID(id) {
			return nil
		}
		if id != "" {
			out = append(out, id)
		}
	}
	return out
}

// bandName is the name of one reading: of a word, or of the first field.
func bandName(b Tree) string {
	if b.IsText() {
		return b.Text
	}
	for _, f := range b.Fields {
		if f.Name != "healthy" && f.Name != "forbids" {
			return f.Name
		}
	}
	return ""
}

// healthy is the name of a test's healthy reading.
func healthy(test Tree) string {
	v, _ := test.Get("reads")
	for _, b := range v.Items() {
		if b.Str("healthy") == "true" {
			return bandName(b)
		}
		if len(b.Fields) == 1 && b.Fields[0].Value.Text == "healthy" {
			return b.Fields[0].Name
		}
	}
	return ""
}

// stated are the readings that a value names: one, a list, or a map with chances.
func stated(v Tree) []string {
	if v.Fields != nil {
		return names(v.Fields)
	}
	return v.Strings()
}

// near offers what may have been meant.
func near(word string, among []string) string {
	best, which := 3, ""
	for _, a := range among {
		if d := distance(word, a); d < best && d*2 < len(a)+1 {
			best, which = d, a
		}
	}
	switch {
	case which != "":
		return "did you mean “" + which + "”"
	case len(among) == 0:
		return "it has none"
	case len(among) > 30:
		return "it may be " + strings.Join(among[:30], ", ") + " and others"
	}
	return oneOf(among)
}

// distance is the number of letters to change, add or drop.
func distance(a, b string) int {
	if len(a) > 60 || len(b) > 60 {
		return 60
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		last := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := last
			if a[i-1] != b[j-1] {
				change++
			}
			last, row[j] = row[j], min(change, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}

// PlateNames are the lines of a rating plate that the block's texts name.
func (k *Kind) PlateNames() []string {
	var out []string
	find := func(text string) {
		for rest := text; ; {
			i := strings.Index(rest, "plate.")
			if i < 0 {
				return
			}
			rest = rest[i+len("plate."):]
			n := 0
			for n < len(rest) && (rest[n] >= 'a' && rest[n] <= 'z' || rest[n] == '-') {
				n++
			}
			if name := rest[:n]; name != "" && !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	_ = k.Note.copied().each(func(t Tree) string { find(t.Text); return t.Text })
	return out
}
