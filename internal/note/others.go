package note

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"

	"faultleaf/internal/format"
)

// readShop reads the shop's own file. It is false where the notes keep to a format
// that this program does not know: then nothing else can be said of them.
func (l *loader) readShop() bool {
	r := &reader{file: "content/shop.yaml", problems: &l.mistakes}
	if !l.there(r.file) {
		l.mistakes.AddRoot(r.file, 0, 0, "this file is missing, and every note needs it", "bring it back from git, or make a shop with faultleaf outfit elsewhere and copy its file")
		l.shopless = true
		return true
	}
	raw, ok := l.readFile(r)
	if !ok {
		return true
	}
	m, ok := r.parse(string(raw), format.Shop)
	if !ok {
		return true
	}
	s := &l.set.Shop
	s.Format = int(m.number("format", 1))
	if s.Format > format.Latest {
		n, _ := m.get("format")
		l.mistakes = nil
		r.at(n, fmt.Sprintf("these notes are of format %d, and this faultleaf knows formats up to %d", s.Format, format.Latest), "install a newer faultleaf; nothing else was looked at")
		return false
	}
	m.known(false)
	s.Name = m.text("name")
	if n, ok := m.need("id"); ok {
		s.ID = r.id(n, "the id")
	}
	s.Address = m.text("address")
	if n, ok := m.need("mains"); ok {
		s.Mains = r.mains(n)
	}
	s.Hertz = m.number("hertz", 0)
	if n, ok := m.need("currency"); ok {
		s.Currency = r.currency(n)
	}
	s.Rate = m.number("rate", 0)
	s.Units = m.word("units")
	s.Comma = m.word("decimals") == "comma"
	if n, ok := m.get("lang"); ok {
		s.Lang = r.lang(n)
	}
	if n, ok := m.get("logo"); ok {
		s.Logo = r.text(n, "the logo")
		l.logoAt = func() { l.checkLogo(r, n) }
	}
	s.Footer = m.text("footer")
	s.SearchHint = m.text("search_hint")
	if n, ok := m.get("power_minutes"); ok {
		s.PowerMinutes = map[trace.Power]float64{}
		if p, ok := r.mapping(n, "power_minutes", format.PowerMinutes); ok {
			if p.has(limited) { // as written before the two states were parted
				minutes := p.number(limited, 0)
				s.PowerMinutes[trace.LowVoltage], s.PowerMinutes[trace.SeriesLamp] = minutes, minutes
			}
			for _, state := range trace.Powers() {
				if p.has(string(state)) {
					s.PowerMinutes[state] = p.number(string(state), 0)
				}
			}
		}
	}
	if n, ok := m.get("instruments"); ok {
		s.Instruments = r.instruments(n)
	}
	if n, ok := m.get("measure_first"); ok {
		s.MendUnmeasured = !r.flag(n, "measure_first")
	}
	s.WaitsCount = m.number("waits_count", 0)
	s.AllowMains = m.flag("allow_mains_tests")
	s.Invented = m.flag("invented")
	if n, ok := m.get("proofs"); ok {
		s.Proofs = r.proofNeeds(n)
	}
	for _, rule := range shopRules {
		if n, ok := m.get(rule.key); ok {
			if s.Rules == nil {
				s.Rules = map[string]string{}
			}
			if word := l.rule(r, n, rule.key, rule.calculator); word != "" {
				s.Rules[rule.calculator] = word
			}
		}
	}
	return true
}

// instruments reads the bench's list: names, each alone or with the limits of a
// meter.
func (r *reader) instruments(n ast.Node) []trace.Instrument {
	out := []trace.Instrument{}
	seen := map[string]bool{}
	for _, v := range r.list(n) {
		i := trace.Instrument{}
		at := v
		if values, ok := mapValues(v); ok && len(values) == 1 {
			at = values[0].Key
			i.ID = r.id(at, "the instrument")
			m, ok := r.mapping(values[0].Value, "the instrument "+i.ID, format.Meter)
			if ok {
				if n, ok := m.get("over"); ok {
					i.Over = r.ohms(n, "the resistance above which it shows OL", "20 MΩ")
				}
				if n, ok := m.get("beeps"); ok {
					i.Beeps = r.ohms(n, "the resistance below which it beeps", "30 Ω")
				}
			}
		} else {
			i.ID = r.id(v, "the instrument")
		}
		if i.ID == "" {
			continue
		}
		if seen[i.ID] {
			r.at(at, "the instrument “"+i.ID+"” stands here twice", "keep one")
			continue
		}
		seen[i.ID] = true
		out = append(out, i)
	}
	if len(out) == 0 {
		r.at(n, "a bench without any instrument can test nothing", "list what is there, or leave instruments: out where everything is")
	}
	return out
}

// ohms is a resistance above nothing.
func (r *reader) ohms(n ast.Node, what, like string) float64 {
	text := r.text(n, what)
	if text == "" {
		return 0
	}
	v, err := quantity.Parse(quantity.Resistance, text)
	if err == nil && !(v.Low > 0) {
		err = errors.New(what + " is " + text + ", and should be above nothing")
	}
	if err != nil {
		r.at(n, err.Error(), "write it like "+like)
		return 0
	}
	return v.Low // of a range the end that claims less
}

func (l *loader) readChecklist(file string) {
	c := &Checklist{}
	m, r, ok := l.begin(file, KindChecklist, &c.Document)
	l.set.Checklists = append(l.set.Checklists, c)
	if !ok {
		return
	}
	m.known(false)
	c.When = m.text("when")
	c.Hazards = m.texts("hazards")
	if n, ok := m.get("also"); ok {
		c.Also, _ = r.weighted(n, "a name", 1, leastAlso, 1)
	}
	if n, ok := m.get("is"); ok {
		l.cite(r, n, &c.Is, "a complaint")
	}
	c.Minutes = m.number("minutes", 0)
	if len(steps(&c.Document)) == 0 { // the steps themselves are read when their numbers are known
		r.add(l.bodyOf(&c.Document).line, 1, "the checklist has no steps", "write each step as - [ ] and what to do")
	}
}

func (l *loader) readPage(file string) {
	p := &Page{}
	m, r, ok := l.begin(file, KindPage, &p.Document)
	l.set.Pages = append(l.set.Pages, p)
	if !ok {
		return
	}
	if n, ok := m.get("also"); ok {
		p.Also, _ = r.weighted(n, "a name", 1, leastAlso, 1)
	}
	m.known(false)
	p.Hazards = m.texts("hazards")
	if n, ok := m.get("shut"); ok {
		p.Shut = r.texts(n, "a thing that stays shut")
		l.shutAt[p] = shutNames{r, n}
	}
}

// faultFile is a fault with the places of what it says about its device.
type faultFile struct {
	*Fault
	r        *reader
	device   ast.Node
	block    ast.Node
	symptoms []*entry
	reads    []*entry
	readAt   map[trace.TestID][]ast.Node // where each reading of a test is named
	needs    []ast.Node
	takes    []ast.Node
	noLook   bool // it says that no drawing tells it
}

func (l *loader) readFault(file string) {
	f := &faultFile{Fault: &Fault{}}
	m, r, ok := l.begin(file, KindFault, &f.Document)
	f.r = r
	l.set.Faults = append(l.set.Faults, f.Fault)
	l.faults = append(l.faults, f)
	if !ok {
		return
	}
	if !l.holdFault(f, m) {
		if m.has("like") {
			l.unlike(f, m, r)
			return
		}
		m.known(false)
		l.fillFault(f, m, r)
	}
}

// unlike tells why a note that says what differs from a common fault cannot be
// read; what it leaves out need not be said on top.
func (l *loader) unlike(f *faultFile, m mapping, r *reader) {
	n, _ := m.get("like")
	if f.device, _ = m.need("device"); f.device != nil {
		f.Device = r.text(f.device, "the device")
		l.deviceOf[&f.Document] = f.Device
	}
	if d, there := l.devices[f.Device]; there && !d.lost("blocks") {
		r.root(n, "only a fault of a device made of common blocks can be like a common one", "list the device's blocks with their block notes, or write the fault out")
	}
}

// fillFault reads a fault that is written out, or was expanded.
func (l *loader) fillFault(f *faultFile, m mapping, r *reader) {
	var ok bool
	c := &f.Cause
	c.ID, c.Title, c.Address = trace.CauseID(f.Name), f.Title, f.Address()
	f.readAt = map[trace.TestID][]ast.Node{}
	c.Symptoms, c.Reads = map[trace.SymptomID]trace.Often{}, map[trace.TestID][]trace.Read{}
	if f.device, ok = m.need("device"); ok {
		f.Device = l.now(r.text(f.device, "the device"))
		l.deviceOf[&f.Document] = f.Device
	}
	if f.block, ok = m.need("block"); ok {
		c.Block = trace.BlockID(r.text(f.block, "the block"))
	}
	c.Says = m.text("cause")
	if n, ok := m.get("takes"); ok {
		f.takes = r.list(n)
		for _, v := range f.takes {
			c.Takes = append(c.Takes, r.text(v, "what it takes with it"))
		}
	}
	if n, ok := m.get("seen"); ok {
		c.Seen, c.Share = r.seen(&m, n)
	}
	if n, ok := m.get("symptoms"); ok {
		if s, ok := r.mapping(n, "the symptoms", nil); ok {
			f.symptoms = s.entries
			for _, e := range s.entries {
				var words []string
				for _, o := range trace.Oftens() {
					words = append(words, string(o))
				}
				c.Symptoms[trace.SymptomID(e.name)] = trace.Often(r.oneOf(e.value, "how often", words...))
			}
		}
	}
	if n, ok := m.get("reads"); ok {
		if s, ok := r.mapping(n, "the readings", nil); ok {
			f.reads = s.entries
			for _, e := range s.entries {
				t := trace.TestID(e.name)
				c.Reads[t], f.readAt[t] = r.reads(e)
			}
		}
	}
	if n, ok := m.get("shown"); ok {
		c.Shown = r.shown(n)
	}
	c.Look = m.word("look")
	if f.noLook = c.Look == format.NoLook; f.noLook {
		c.Look = ""
	}
	c.Because = m.texts("because")
	c.Protective = m.flag("protective")
	if n, ok := m.need("mend"); ok {
		l.readMend(r, f, m, n)
	}
}

// reads are the readings that a fault may give on a test: one, a list of equals,
// or a group of readings with the chance of each.
func (r *reader) reads(e *entry) (out []trace.Read, at []ast.Node) {
	seen := map[trace.ReadingID]bool{}
	add := func(n ast.Node, id string, chance float64) {
		if id == "" {
			return
		}
		if seen[trace.ReadingID(id)] {
			r.at(n, "the reading “"+id+"” stands here twice", "keep one")
			return
		}
		seen[trace.ReadingID(id)] = true
		out, at = append(out, trace.Read{Reading: trace.ReadingID(id), Chance: chance}), append(at, n)
	}
	if _, ok := mapValues(e.value); !ok {
		for _, v := range r.list(e.value) {
			add(v, r.text(v, "the reading of "+e.name), 0)
		}
		return out, at
	}
	m, _ := r.mapping(e.value, "the readings of "+e.name, nil)
	sum, before := 0.0, len(*r.problems)
	for _, one := range m.entries {
		chance := r.number(one.value, "the chance of "+one.name, .001, 1)
		sum += chance
		add(one.key, one.name, chance)
	}
	if len(*r.problems) == before && math.Abs(sum-1) > .005 {
		r.at(e.value, "the chances of the readings of "+e.name+" add up to "+quantity.Number(sum), "let them add up to 1")
	}
	return out, at
}

// shown: always, warm, moved, loaded, or now-and-then; with a chance as
// "now-and-then 0.3" or {now-and-then: 0.3}.
// seen reads how often a fault was met: a number of cases, or {share: 0.59} of
// the cases of a publication.
func (r *reader) seen(note *mapping, n ast.Node) (cases, share float64) {
	if _, grouped := mapValues(n); !grouped {
		return note.number("seen", 0), 0
	}
	m, _ := r.mapping(n, "seen", format.Seen)
	if !m.has("share") {
		r.at(n, "seen should be a number of cases or a share", "write it like seen: 4, or seen: {share: 0.59}")
		return 0, 0
	}
	return 0, m.number("share", 0)
}

func (r *reader) shown(n ast.Node) trace.Shown {
	words := []string{"always", "warm", "moved", "loaded", "now-and-then"}
	if values, ok := mapValues(n); ok && len(values) == 1 {
		s := trace.Shown{Word: r.oneOf(values[0].Key, "shown", words...), Chance: r.number(values[0].Value, "the chance", 0, 1)}
		if s.Chance == 0 {
			r.at(values[0].Value, "a fault that never shows cannot be met", "write a chance above 0, like 0.3")
		}
		return s
	}
	text := r.text(n, "shown")
	if text == "" {
		return trace.Shown{}
	}
	word, chance, has := strings.Cut(text, " ")
	for _, w := range words {
		if w != word {
			continue
		}
		s := trace.Shown{Word: w}
		if has {
			v, err := quantity.Parse(quantity.Ratio, strings.TrimSpace(chance))
			if err != nil || v.Num <= 0 || v.Num > 1 {
				r.at(n, "the chance in "+quote(text)+" is not between 0 and 1", "write it like now-and-then 0.3")
				return s
			}
			s.Chance = v.Num
		} else if w == "now-and-then" {
			r.at(n, "now-and-then needs a chance", "write it like now-and-then 0.3")
		}
		return s
	}
	r.at(n, "shown cannot be "+quote(text), "it should be one of "+strings.Join(words, ", "))
	return trace.Shown{}
}

func (l *loader) readMend(r *reader, f *faultFile, note mapping, n ast.Node) {
	why, reasoned := note.get("why")
	if word, ok := n.(*ast.StringNode); ok && strings.TrimSpace(word.Value) == "none" {
		if !reasoned {
			r.at(n, "the note says that there is no mend, and not why", "write why: and what makes it past mending")
			return
		}
		f.Cause.Mend.None = strings.TrimSuffix(r.text(why, "why there is no mend"), ".")
		return
	}
	if reasoned {
		r.at(why, "“why” says why there is no mend, and the note has one", "write mend: none, or take why: out")
	}
	m, ok := r.mapping(n, "the mend", format.Mend)
	if !ok {
		return
	}
	mend := &f.Cause.Mend
	if n, ok := m.need("does"); ok {
		mend.Does = strings.TrimSuffix(r.text(n, "does"), ".")
	}
	mend.Minutes = m.number("minutes", 0)
	if n, ok := m.get("needs"); ok {
		f.needs = r.list(n)
		for _, v := range f.needs {
			mend.Needs = append(mend.Needs, trace.AccessID(r.text(v, "the access")))
		}
	}
	mend.Forbidden = m.text("forbidden")
	mend.Succeeds = .9
	mend.Succeeds = m.number("succeeds", mend.Succeeds)
	if n, ok := m.get("parts"); ok {
		mend.Parts = r.parts(n)
	}
}

func (r *reader) parts(n ast.Node) []trace.Part {
	var out []trace.Part
	for _, v := range r.list(n) {
		m, ok := r.mapping(v, "a part", format.Part)
		if !ok {
			continue
		}
		p := trace.Part{Count: 1}
		if n, ok := m.need("part"); ok {
			p.Part = r.scalar(n, "the part")
		}
		p.Count = m.number("count", p.Count)
		p.Price = m.number("price", 0)
		p.Gone = m.flag("gone")
		out = append(out, p)
	}
	return out
}
