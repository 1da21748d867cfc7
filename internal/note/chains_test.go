package note

import (
	"fmt"
	"io/fs"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// part is a piece of a random chain: one block, or ways side by side.
type part struct {
	id, kind string
	alike    int // alike ways
	ways     [][]part
}

func (p part) yaml() string {
	if p.ways != nil {
		var ways []string
		for _, w := range p.ways {
			ways = append(ways, yamlOf(w))
		}
		return "[" + strings.Join(ways, ", ") + "]"
	}
	if p.alike > 1 {
		return fmt.Sprintf("{%s: {is: %s, ways: %d}}", p.id, p.kind, p.alike)
	}
	return "{" + p.id + ": " + p.kind + "}"
}

func yamlOf(row []part) string {
	var items []string
	for _, p := range row {
		items = append(items, p.yaml())
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// net is a row of resistances between numbered nodes, for the independent check.
type net struct {
	nodes int
	wires []wireOf
}

type wireOf struct {
	a, b int
	g    float64 // siemens
}

func (n *net) node() int { n.nodes++; return n.nodes - 1 }

// ohms solves the network between nodes 0 and 1 by nodal analysis: one ampere in
// at node 0, out at node 1, Gaussian elimination; infinite where nothing joins them.
func (n *net) ohms() float64 {
	size := n.nodes - 1 // node 1 is the reference
	index := func(k int) int {
		switch {
		case k == 1:
			return -1
		case k == 0:
			return 0
		}
		return k - 1
	}
	m := make([][]float64, size)
	for i := range m {
		m[i] = make([]float64, size+1)
		m[i][i] = 1e-15 // what hangs in the air stays there
	}
	m[0][size] = 1
	for _, w := range n.wires {
		a, b := index(w.a), index(w.b)
		if a >= 0 {
			m[a][a] += w.g
		}
		if b >= 0 {
			m[b][b] += w.g
		}
		if a >= 0 && b >= 0 {
			m[a][b] -= w.g
			m[b][a] -= w.g
		}
	}
	for i := range size {
		p := i
		for r := i; r < size; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[p][i]) {
				p = r
			}
		}
		m[i], m[p] = m[p], m[i]
		for r := range size {
			if r == i || m[r][i] == 0 {
				continue
			}
			f := m[r][i] / m[i][i]
			for c := i; c <= size; c++ {
				m[r][c] -= f * m[i][c]
			}
		}
	}
	if x := m[0][size] / m[0][0]; x >= 0 && x < 1e10 {
		return x
	}
	return math.Inf(1) // nothing but the air joins the two nodes
}

const (
	wireOhms = 1e-5 // what a block that passes everything through stands for
	noOhms   = 1e13
)

// build joins a row of the chain between two nodes, every block with its lowest
// or its highest ohms; open is one block that passes nothing.
func (n *net) build(row []part, from, to int, ohms func(p part) float64, open string) {
	at := from
	for i, p := range row {
		next := to
		if i < len(row)-1 {
			next = n.node()
		}
		if p.ways != nil {
			for _, w := range p.ways {
				n.build(w, at, next, ohms, open)
			}
		} else {
			// alike ways lie side by side; an open one leaves the others
			each := ohms(p) * float64(max(p.alike, 1))
			for k := range max(p.alike, 1) {
				if p.id == open && k == 0 || each >= noOhms {
					continue
				}
				n.wires = append(n.wires, wireOf{at, next, 1 / each})
			}
		}
		at = next
	}
	if len(row) == 0 {
		n.wires = append(n.wires, wireOf{from, to, 1 / wireOhms})
	}
}

// kind is what the check reads of a block note: only plain words, by its own
// small reading, so that it does not lean on the reader that is tested.
type kind struct {
	work, ohms                         string
	current, source, battery, separate bool
	example                            map[string]string
}

// aKind reads a block note; ok is false for what stays shut.
func aKind(note string) (k kind, ok bool) {
	front := strings.SplitN(note, "---\n", 3)[1]
	k.example = map[string]string{}
	for line := range strings.SplitSeq(front, "\n") {
		if i := strings.Index(line, "  #"); i >= 0 {
			line = strings.TrimSpace(line[:i])
		}
		key, value, _ := strings.Cut(line, ": ")
		value = strings.Trim(value, `"`)
		switch key {
		case "forbidden":
			return k, false
		case "carries":
			k.current = value == "current"
		case "source":
			k.source, k.battery = true, value == "battery"
		case "separates":
			k.separate = value == "true"
		case "work":
			k.work = value
		case "ohms":
			k.ohms = value
		case "example":
			for pair := range strings.SplitSeq(strings.Trim(value, "{}"), ", ") {
				name, v, _ := strings.Cut(pair, ": ")
				k.example[name] = v
			}
		}
	}
	return k, true
}

// among are the kinds that pass a test, by name.
func among(kinds map[string]kind, is func(k kind) bool) []string {
	var out []string
	for name, k := range kinds {
		if is(k) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// randomChain picks blocks from all the starter's notes: a source, some in the
// row, perhaps ways side by side, and what the motion, air or water goes through.
func randomChain(r *rand.Rand, kinds map[string]kind) []part {
	n := 0
	if r.IntN(2) == 0 { // every second one without what a meter at the pins cannot see through
		kinds = maps.Clone(kinds)
		maps.DeleteFunc(kinds, func(_ string, k kind) bool { return k.current && k.ohms == "unseen" })
	}
	pick := func(list []string) part {
		k := list[r.IntN(len(list))]
		n++
		return part{id: fmt.Sprintf("%s-%d", k, n), kind: k}
	}
	links := among(kinds, func(k kind) bool { return k.current && !k.source && !k.separate && k.work == "" })
	works := among(kinds, func(k kind) bool { return k.current && !k.source && !k.separate && k.work != "" })
	apart := among(kinds, func(k kind) bool { return k.separate })
	way := func() []part {
		var w []part
		for range r.IntN(3) {
			w = append(w, pick(links))
		}
		x := pick(works)
		if r.IntN(4) == 0 && kinds[x.kind].work == "heat" {
			x.alike = 2 + r.IntN(2)
		}
		return append(w, x)
	}
	row := []part{pick(among(kinds, func(k kind) bool { return k.source }))}
	for range r.IntN(4) {
		row = append(row, pick(links))
	}
	if r.IntN(4) == 0 {
		row = append(row, pick(apart))
		for range r.IntN(3) {
			row = append(row, pick(links))
		}
	}
	if r.IntN(2) == 0 {
		row = append(row, way()...)
	} else {
		p := part{ways: [][]part{}}
		for range 2 + r.IntN(2) {
			w := way()
			if r.IntN(5) == 0 { // a branch inside a way
				w = append(w, part{ways: [][]part{way(), way()}})
			}
			p.ways = append(p.ways, w)
		}
		row = append(row, p)
	}
	if r.IntN(3) == 0 {
		row = append(row, pick(links))
	}
	return row
}

// used are the kinds in a row and its ways.
func used(row []part, see func(kind string)) {
	for _, p := range row {
		if p.ways == nil {
			see(p.kind)
		}
		for _, w := range p.ways {
			used(w, see)
		}
	}
}

// Any chain of blocks is a device: it inspects clean, its trace ends, and the
// ohms between its pins are those of the network that it is.
func TestRandomChains(t *testing.T) {
	chains := 60 // FAULTLEAF_CHAINS=500 for more, at half a minute
	if n, err := strconv.Atoi(os.Getenv("FAULTLEAF_CHAINS")); err == nil {
		chains = n
	}
	home := os.DirFS("../..")
	base := fstest.MapFS{}
	kinds := map[string]kind{}
	err := fs.WalkDir(home, "content", func(p string, e fs.DirEntry, err error) error {
		keep := strings.HasPrefix(p, "content/blocks/") || p == "content/shop.yaml" || p == "content/complaints.yaml"
		if err != nil || e.IsDir() || !keep {
			return err
		}
		raw, err := fs.ReadFile(home, p)
		base[p] = &fstest.MapFile{Data: raw}
		if name, ok := strings.CutPrefix(p, "content/blocks/"); ok {
			if k, ok := aKind(string(raw)); ok {
				kinds[strings.TrimSuffix(name, ".md")] = k
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"after-repair"} { // what the blocks' texts lead to
		base["content/checklists/"+name+".md"] = &fstest.MapFile{Data: []byte("---\ntitle: A checklist\n---\n\n- [ ] Look\n")}
	}
	r := rand.New(rand.NewPCG(14, 500))
	const atOnce = 25
	measured, ways, walked, there := 0, 0, 0, map[string]bool{}
	for from := 0; from < chains; from += atOnce {
		shop := fstest.MapFS{}
		for name, f := range base {
			shop[name] = f
		}
		made := map[string][]part{}
		powers := map[string]string{}
		for i := from; i < min(from+atOnce, chains); i++ {
			name := fmt.Sprintf("chain-%03d", i)
			row := randomChain(r, kinds)
			class := []string{"I", "II"}[r.IntN(2)]
			power := []string{"40 W", "600 W", "1.8 kW"}[r.IntN(3)]
			if kinds[row[0].kind].battery {
				class = "III"
			}
			plate := map[string]string{}
			used(row, func(kind string) {
				there[kind] = true
				for k, v := range kinds[kind].example {
					plate[k] = v
				}
			})
			plate["mains"], plate["power"] = "230 V", power
			lines := ""
			for _, k := range slices.Sorted(maps.Keys(plate)) {
				lines += "  " + k + ": " + plate[k] + "\n"
			}
			extra := ""
			for _, k := range among(kinds, func(k kind) bool { return !k.current }) {
				if r.IntN(4) == 0 {
					there[k] = true
					extra += ", {" + k + ": " + k + "}"
				}
			}
			note := "---\ntitle: Chain " + name + "\nclass: " + class + "\nplate:\n" + lines + "blocks: " + strings.TrimSuffix(yamlOf(row), "]") + extra + "]\nsymptoms: {dead: {says: Nothing happens, is: dead}}\n---\n\nA chain.\n"
			shop["content/devices/"+name+".md"] = &fstest.MapFile{Data: []byte(note)}
			made[name], powers[name] = row, power
		}
		set, mistakes, _ := Load(shop, all.Find)
		for _, m := range mistakes {
			t.Errorf("%v", m)
		}
		if t.Failed() {
			return
		}
		for _, name := range slices.Sorted(maps.Keys(made)) {
			row := made[name]
			d := set.TraceDevice(name)
			m, w := checkOhms(t, name, row, kinds, powers[name], d)
			measured, ways = measured+m, ways+w
			// the trace of every third one is walked, of all with FAULTLEAF_WHOLE: thinking is most of the work
			if walked++; walked%3 == 0 || os.Getenv("FAULTLEAF_WHOLE") != "" {
				walkToEnd(t, d, r)
			}
		}
	}
	t.Logf("%d chains of %d kinds: ohms of %d compared with the network, %d lost ways among them", chains, len(there), measured, ways)
	for name := range kinds {
		if !there[name] {
			t.Errorf("no chain holds a %s", name)
		}
	}
	if measured < chains/10 {
		t.Errorf("only %d chains had ohms to compare", measured)
	}
}

func checkOhms(t *testing.T, name string, row []part, kinds map[string]kind, power string, d *trace.Device) (measured, ways int) {
	ohmsOf := func(high bool) func(p part) float64 {
		return func(p part) float64 {
			ohms := kinds[p.kind].ohms
			switch {
			case ohms == "unseen":
				return noOhms
			case ohms == "" || ohms == "through":
				return wireOhms
			case !strings.HasPrefix(ohms, "calc:"):
				v, err := quantity.Parse(quantity.Resistance, ohms)
				if err != nil {
					t.Fatal(err)
				}
				if high {
					return v.High
				}
				return v.Low
			}
			l, err := calc.ParseLink(strings.NewReplacer("plate.power", strings.ReplaceAll(power, " ", "_"), "plate.mains", "230_V").Replace(ohms))
			if err != nil {
				t.Fatal(err)
			}
			c, _ := all.Find(l.Calculator)
			res, err := c.Run(l.Inputs)
			if err != nil {
				t.Fatal(err)
			}
			v, _ := res.Output(l.Output)
			if high {
				return v.Value.High
			}
			return v.Value.Low
		}
	}
	seen := row // a meter at the pins sees up to what separates
	for i, p := range row {
		if kinds[p.kind].separate {
			seen = row[:i+1]
			break
		}
	}
	solve := func(open string, high bool) float64 {
		n := &net{nodes: 2}
		n.build(seen, 0, 1, ohmsOf(high), open)
		return n.ohms()
	}
	if kinds[row[0].kind].battery {
		return 0, 0 // no pins to measure at
	}
	low, high := solve("", false), solve("", true)
	test := d.Test("pins-ohms")
	if high > 1e10 || test == nil {
		if (test == nil) != (high > 1e10) {
			t.Errorf("%s: pins-ohms is there: %v, and the network has %g Ω (%s)", name, test != nil, high, yamlOf(row))
		}
		return 0, 0
	}
	near := func(a, b float64) bool { return math.Abs(a-b) <= .006*math.Abs(b)+1e-3 }
	for _, b := range test.Reads {
		if b.Healthy && (b.Low == nil || b.High == nil || !near(*b.Low, low) || !near(*b.High, high)) {
			t.Errorf("%s: as rated is %s, and the network has %s to %s (%s)", name, b.Text, ohmsText(low), ohmsText(high), yamlOf(row))
		}
	}
	// what each open block reads is where the network without it lies
	for _, c := range d.Causes {
		if len(c.Reads["pins-ohms"]) == 0 || c.Reads["pins-ohms"][0].Reading == "as-rated" || !strings.HasSuffix(string(c.ID), "-open") && !strings.HasSuffix(string(c.ID), "-broken") {
			continue
		}
		l, h := solve(string(c.Block), false), solve(string(c.Block), true)
		for _, b := range test.Reads {
			if b.ID != c.Reads["pins-ohms"][0].Reading {
				continue
			}
			ways++
			if b.Low != nil && l < *b.Low*.99 || b.High != nil && h > *b.High*1.01 {
				t.Errorf("%s: with %s open it reads %s, and the network has %s to %s (%s)", name, c.Block, b.Text, ohmsText(l), ohmsText(h), yamlOf(row))
			}
		}
	}
	return 1, ways
}

func ohmsText(x float64) string { return quantity.Of(quantity.Resistance, x).Text() }

// walkToEnd follows the trace for one of the device's faults until it names a
// mend that cures, or stops.
func walkToEnd(t *testing.T, d *trace.Device, r *rand.Rand) {
	true_ := d.Causes[r.IntN(len(d.Causes))]
	var e trace.Evidence
	for _, s := range d.Symptoms {
		if o := true_.Symptoms[s.ID]; o == "always" {
			e.Symptoms = append(e.Symptoms, s.ID)
		}
	}
	for step := 0; ; step++ {
		a, err := trace.Step(d, e)
		switch {
		case err != nil:
			t.Errorf("%s: %v", d.ID, err)
			return
		case step > 60:
			t.Errorf("%s: the trace does not end with %s", d.ID, true_.ID)
			return
		case a.Kind != trace.DoTest && a.Kind != trace.DoMend || a.Cause == true_.ID:
			return
		case a.Kind == trace.DoMend:
			e.Tried = append(e.Tried, trace.Mended{Cause: a.Cause, Before: len(e.Readings)})
			continue
		}
		test := d.Test(a.Test)
		value := string(test.Reads[0].ID)
		for _, b := range test.Reads {
			if b.Healthy {
				value = string(b.ID)
			}
		}
		if id, ok := true_.Likeliest(test.ID); ok {
			value = string(id)
		}
		e.Readings = append(e.Readings, trace.Reading{Test: test.ID, Value: value})
	}
}
