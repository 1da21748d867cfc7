package judge

import (
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"path"
	"slices"
	"strings"
	"sync"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/site"
	"faultleaf/search"
)

// starter is the shop of this checkout and its index.
var starter = sync.OnceValues(func() (*note.Set, *search.Index) {
	set, mistakes, _ := note.Load(os.DirFS("../.."), all.Find)
	if len(mistakes) > 0 {
		panic(mistakes)
	}
	ix, _, err := site.Index("../..")
	if err != nil {
		panic(err)
	}
	return set, ix
})

// labelled is a real text with the notes that are right (2) or useful (1) for it,
// and the devices that its product may be, the one in hand first.
type labelled struct {
	query, product string
	devices        []string
	grades         map[string]float64
}

// labels reads the labels of symptom_queries.csv. Texts for which the starter has
// no right note are left out. A label whose note is gone is an error: it moves
// along when its note moves.
func labels(t *testing.T, set *note.Set) []labelled {
	read := func(name string) [][]string {
		rows, err := csv.NewReader(data(t, name)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		return rows[1:]
	}
	device := map[string]string{}
	there := map[string]bool{}
	for _, d := range set.Documents() {
		there[d.ID] = true
	}
	for _, d := range set.Devices {
		device[d.ID] = d.Name
	}
	common := map[string]string{} // by fault: the one of a common block that it is
	for _, f := range set.Faults {
		device[f.ID] = f.Device
		if f.Common != nil {
			common[f.ID] = "blocks/" + f.Common.Block + "#" + f.Common.Fault
		}
	}
	grades := map[string]map[string]float64{}
	for _, r := range read("symptom_labels.csv") {
		g := map[string]float64{}
		for i, grade := range []float64{2, 1} {
			for _, id := range strings.Fields(r[1+i]) {
				if to, moved := movedNotes[id]; moved {
					id = to
				}
				if !there[id] {
					t.Errorf("the label of %s names %s, which is not there", r[0], id)
				}
				g[id] = grade
			}
		}
		grades[r[0]] = g
	}
	var out []labelled
	for _, r := range read("symptom_queries.csv") {
		l := labelled{query: r[3], product: r[2], devices: mayBe[r[2]], grades: grades[r[0]]}
		for _, name := range l.devices {
			if _, ok := set.Device(name); !ok {
				t.Errorf("%s may be %s, which is not there", r[2], name)
			}
		}
		for _, id := range written[r[0]] {
			if !there[id] {
				t.Errorf("%s, written after the label of %s, is not there", id, r[0])
			}
			l.grades[id] = 2
		}
		lend(t, l.grades, there, common, device, l.devices)
		of := map[string]int{}
		for id, g := range l.grades {
			if g == 2 && device[id] != "" {
				of[device[id]]++
			}
		}
		if len(of) == 0 {
			continue
		}
		if len(l.devices) == 0 { // the device with most right notes is the one in hand
			most := ""
			for name, n := range of {
				if n > of[most] || n == of[most] && name < most {
					most = name
				}
			}
			l.devices = []string{most}
		}
		words := strings.Fields(l.product)
		if strings.Contains(strings.ToLower(l.query), strings.ToLower(words[len(words)-1])) {
			l.product = "" // the text names it
		}
		out = append(out, l)
	}
	return out
}

// movedNotes are the new addresses of notes that the labels know by an old one.
var movedNotes = map[string]string{}

// mayBe are the devices that a product of the labels may be, where the starter had
// no note on them when the labels were made. The one in hand comes first.
var mayBe = map[string][]string{
	"cordless vacuum": {"cordless-vacuum", "cordless-tool-pack"},
	"phone charger":   {"usb-supply", "switch-mode-supply", "plug-in-supply"},
	"laptop charger":  {"laptop-supply", "switch-mode-supply"},
	"hi-fi":           {"audio-amplifier", "record-player", "cassette-player", "cd-player"},
	"lamp":            {"lamp", "metal-lamp", "halogen-lamp", "led-light"},
}

// same are faults of newer devices that are an older one's, where no common block
// says so: the older note was written without blocks, or its part is another here.
var same = map[string][]string{
	"devices/cordless-tool-pack":     {"devices/cordless-vacuum"},
	"devices/switch-mode-supply":     {"devices/usb-supply", "devices/laptop-supply"},
	"faults/pack-contacts-dirty":     {"faults/cordless-vacuum-pack-contacts-dirty"},
	"faults/pack-cells-worn":         {"faults/cordless-vacuum-pack-worn"},
	"faults/pack-cell-dead":          {"faults/cordless-vacuum-pack-worn"},
	"faults/pack-board-cut-off":      {"faults/cordless-vacuum-pack-cut-off"},
	"faults/pack-hurt-or-rebuilt":    {"faults/cordless-vacuum-pack-hurt"},
	"faults/tool-trigger-worn":       {"faults/cordless-vacuum-switch-burnt"},
	"faults/tool-charger-dead":       {"faults/cordless-vacuum-charger-dead"},
	"faults/tool-charger-no-current": {"faults/cordless-vacuum-charger-no-current"},
	"faults/tool-charger-outlet-off": {"faults/cordless-vacuum-charger-outlet-off"},
	"faults/vacuum-filters-felted":   {"faults/cordless-vacuum-filters-clogged"},
	"faults/vacuum-hose-blocked":     {"faults/cordless-vacuum-air-clogged"},
	"faults/switch-mode-lead-broken": {"faults/usb-supply-socket-cable-broken"},
}

// written are right notes that a device had not yet when its texts were labelled.
// Each was judged by its text: the fault shows just what is said there.
var written = map[string][]string{
	"restart_13957": {"faults/audio-amplifier-stage-one-channel"}, // only one channel works
	"rcwales_16834": {"faults/tool-charger-lead-broken"},          // it does not always charge
}

// lend gives the grades of labelled faults to the same faults of the devices, and
// to the notes on common blocks that tell of them.
func lend(t *testing.T, grades map[string]float64, there map[string]bool, common, device map[string]string, devices []string) {
	give := map[string]float64{}
	for id, g := range grades {
		if c := common[id]; c != "" {
			give[c] = max(give[c], g)
			for other, what := range common {
				if what == c && slices.Contains(devices, device[other]) {
					give[other] = max(give[other], g)
				}
			}
		}
		for _, other := range same[id] {
			if !there[other] {
				t.Errorf("%s, the same as %s, is not there", other, id)
			}
			if slices.Contains(devices, device[other]) {
				give[other] = max(give[other], g)
			}
		}
	}
	for id, g := range give {
		grades[id] = max(grades[id], g)
	}
}

// measure sums how well a list of answers does.
type measure struct{ n, first, three, reciprocal, gain float64 }

func (m *measure) add(hits []search.Hit, grades map[string]float64) {
	m.n++
	for i, h := range hits {
		if grades[h.ID] == 2 {
			if i == 0 {
				m.first++
			}
			if i < 3 {
				m.three++
			}
			m.reciprocal += 1 / float64(i+1)
			break
		}
	}
	m.gain += ndcg(hits, grades)
}

func (m *measure) String() string {
	return fmt.Sprintf("hit@1 %.2f, hit@3 %.2f, mean reciprocal rank %.2f, nDCG@10 %.2f, of %.0f", m.first/m.n, m.three/m.n, m.reciprocal/m.n, m.gain/m.n, m.n)
}

// Real texts of repair events, in four ways: as typed; the product's name before
// a text that names none; one slip in the longest word; and the device chosen.
// The floors are of a starter of 20 devices, that of one slip of 55. With 55 it gives
// 0.60, 0.93, 0.56 and 0.96, with 44 it was 0.62, 0.96, 0.60 and 0.96: what is missed
// as typed are texts that name no product, such as "not charging", where more
// devices now answer. With 72 devices the first three are as before, and the right device is
// among the first five choices in 0.73, where it was 0.78 with 59.
func TestRealTexts(t *testing.T) {
	set, ix := starter()
	list := labels(t, set)
	var typed, product, slipped, chosen measure
	three, five := 0, 0
	for i, l := range list {
		a := ix.Ask(l.query, search.Options{})
		typed.add(a.Hits, l.grades)
		if at := slices.IndexFunc(a.Devices, func(c search.Choice) bool { return slices.Contains(l.devices, c.Name) }); at >= 0 {
			if at < 3 {
				three++
			}
			if at < 5 {
				five++
			}
		}
		product.add(ix.Search(strings.TrimSpace(l.product+" "+l.query), search.Options{}), l.grades)
		slipped.add(ix.Search(slipLongest(rand.New(rand.NewPCG(uint64(i), 7)), l.query), search.Options{}), l.grades)
		chosen.add(ix.Search(l.query, search.Options{Device: l.devices[0]}), l.grades)
	}
	for _, c := range []struct {
		name  string
		m     measure
		floor float64
	}{{"as typed", typed, 0.60}, {"product named", product, 0.88}, {"one slip", slipped, 0.55}, {"device chosen", chosen, 0.92}} {
		t.Logf("%s: %s", c.name, &c.m)
		if got := c.m.three / c.m.n; got < c.floor {
			t.Errorf("%s: hit@3 %.2f is below the floor of %.2f", c.name, got, c.floor)
		}
	}
	n := float64(len(list))
	t.Logf("the right device among the first three choices %.2f, among the first five %.2f", float64(three)/n, float64(five)/n)
	if float64(five) < 0.70*n {
		t.Errorf("the right device is among the first five choices in %.2f, less than 0.70", float64(five)/n)
	}
}

// slipLongest spoils the longest word of a text.
func slipLongest(r *rand.Rand, text string) string {
	ws := strings.Fields(text)
	long := 0
	for i, w := range ws {
		if len(w) > len(ws[long]) {
			long = i
		}
	}
	if len(ws) > 0 && len(ws[long]) >= 4 {
		ws[long] = slip(r, ws[long])
	}
	return strings.Join(ws, " ")
}

// Every symptom of a device, asked in its own words with the device chosen, finds
// among the first three a fault that mostly shows it; and every fault is found by
// the sentences that it mostly shows, together.
func TestOwnSentences(t *testing.T) {
	set, ix := starter()
	asked, found, notes, led := 0, 0, 0, 0
	for _, d := range set.Devices {
		for _, sy := range d.Symptoms {
			shows := map[string]bool{}
			for _, f := range set.FaultsOf(d.Name) {
				if o := f.Cause.Symptoms[sy.ID]; o == "always" || o == "often" {
					shows[f.ID] = true
				}
			}
			if len(shows) == 0 {
				continue
			}
			asked++
			hits := ix.Search(sy.Says, search.Options{Device: d.Name, Limit: 3})
			if slices.ContainsFunc(hits, func(h search.Hit) bool { return shows[h.ID] }) {
				found++
			} else {
				t.Logf("%s: %q finds %s", d.Name, sy.Says, ids(hits))
			}
		}
		for _, f := range set.FaultsOf(d.Name) {
			says := ""
			for _, sy := range d.Symptoms {
				if o := f.Cause.Symptoms[sy.ID]; o == "always" || o == "often" {
					says += sy.Says + ". "
				}
			}
			if says == "" {
				continue
			}
			notes++
			hits := ix.Search(says, search.Options{Device: d.Name, Limit: 5})
			if slices.ContainsFunc(hits, func(h search.Hit) bool { return h.ID == f.ID }) {
				led++
			}
		}
	}
	t.Logf("%d of %d symptom sentences find a fault that shows them among the first three; %d of %d faults are among the first five for theirs", found, asked, led, notes)
	if float64(found) < 0.95*float64(asked) {
		t.Errorf("%d of %d symptom sentences find a fault that shows them, less than 95 %%", found, asked)
	}
	if float64(led) < 0.75*float64(notes) {
		t.Errorf("%d of %d faults are found by their own sentences, less than 75 %%", led, notes)
	}
}

func ids(hits []search.Hit) string {
	var out []string
	for _, h := range hits {
		out = append(out, h.ID)
	}
	return strings.Join(out, ", ")
}

// generic wordings say no more than that something is not well.
var generic = []string{"not working", "does not work", "wont turn on", "dead", "no power", "stopped working", "broken", "faulty", "doesnt work at all", "wont start",
	"does nothing", "kaput", "packed up", "died", "will not switch on", "no life", "stopped", "not coming on", "wont go", "conked out",
	"has no power", "won't power up", "suddenly stopped", "not working properly", "no longer works", "out of order", "intermittent", "keeps cutting out", "overheats", "makes a noise"}

// A device and a generic complaint never opens on another device, whichever of
// its whole names is used.
func TestGenericComplaints(t *testing.T) {
	set, ix := starter()
	n, wrong := 0, 0
	for _, d := range set.Devices {
		names := []string{d.Title}
		for _, w := range d.Also {
			if w.Weight >= 0.9 {
				names = append(names, w.Name)
			}
		}
		for _, name := range names {
			for _, complaint := range generic {
				for _, query := range []string{name + " " + complaint, complaint + " " + name} {
					n++
					hits := ix.Search(query, search.Options{Limit: 1})
					if len(hits) == 0 || hits[0].Device != d.Name {
						if wrong++; wrong <= 20 {
							t.Errorf("%q opens on %s, not on %s", query, ids(hits), d.Name)
						}
					}
				}
			}
		}
	}
	t.Logf("%d of %d queries open on another device", wrong, n)
}

// What the shop has no note on is said.
func TestNotHeld(t *testing.T) {
	_, ix := starter()
	wrong := 0
	queries := []string{"3d printer not working", "hot tub stays cold", "washing machine leaks", "dishwasher not draining", "water softener stuck", "metal detector silent", "bicycle brake squeaks",
		"binoculars lens stuck", "ice cream maker not freezing", "tumble dryer not heating", "umbrella broken", "jeans zip stuck", "microwave sparks", "fridge not cooling", "doorbell silent",
		"accordion no sound", "wrist watch stopped", "treadmill belt slips", "garage door won't open", "smoke alarm chirps", "tredmill belt jam", "car radio silent", "dehumidifier not collecting water",
		"mobility scooter dead", "microphone one side dead", "router no wifi", "typewriter stuck", "hearing aid whistles", "outboard motor propeller stuck", "gas boiler no hot water"}
	for _, q := range queries {
		h := ix.Ask(q, search.Options{}).Heard
		if h.Missing == "" && !h.Shut {
			wrong++
			t.Logf("%q is not said to be missing: %+v", q, h)
		}
	}
	if len(queries) != 30 || wrong > 3 {
		t.Errorf("%d of %d are not said to be missing", wrong, len(queries))
	}
	// and what it has is not called missing
	for _, q := range []string{"kettle not working", "phone charger dead", "dab radio no sound", "laptop charger cable snapped", "cordless vacuum stops", "lamp holder broken", "clock radio dead", "car battery charger hums",
		"sewing machine jams", "soldering iron cold", "air fryer not heating",
		"laptop won't charge", "phone screen cracked", "television no picture", "game controller drifts", "games console no picture"} {
		if h := ix.Ask(q, search.Options{}).Heard; h.Missing != "" {
			t.Errorf("%q: %q is called missing", q, h.Missing)
		}
	}
}

// A name that is asked for leads to what it names.
func TestLeads(t *testing.T) {
	_, ix := starter()
	for _, c := range []struct{ query, want string }{
		{"fuse calculator", "calc/"}, {"checklist after repair", "checklists/after-repair"}, {"kettle job", "jobs/*kettle*"}, {"burn", "checklists/somebody-hurt"},
		{"battery swollen", "checklists/lithium-packs"}, {"my drill battery is swollen", "checklists/lithium-packs"}, {"microwave oven", "pages/shut-microwave-ovens"},
		{"valve amplifier hums", "pages/shut-valve-sets"}, {"fridge light not working", "pages/shut-cooling"}, {"pat test", "checklists/after-repair"},
		{"kettle", "devices/kettle"}, {"KETTLE", "devices/kettle"}, {"ketle not wroking", "devices/kettle"}, {"list before opening", "checklists/before-opening"}, {"first aid", "checklists/somebody-hurt"},
		{"e bike battery wont charge", "pages/shut-inverters"},
	} {
		hits := ix.Search(c.query, search.Options{Limit: 3})
		ok := false
		if len(hits) > 0 {
			ok, _ = path.Match(c.want, hits[0].ID)
			ok = ok || strings.HasSuffix(c.want, "/") && strings.HasPrefix(hits[0].ID, c.want)
		}
		if !ok {
			t.Errorf("%q leads to %s, not to %s", c.query, ids(hits), c.want)
		}
	}
}

// Whatever is typed gets an answer or none, and never stops the search.
func TestBadInput(t *testing.T) {
	_, ix := starter()
	for _, q := range []string{strings.Repeat("x", 10000), strings.Repeat("kettle not ", 1000), "😀🔥 kettle 💥", "لا يعمل", "не работает чайник", "水壶 不工作", "dim yn gweithio", "tegell", "?!...---", "\x00\xff\xfe", "'", "not not not no no",
		"\u202ekettle\u202c", "ké́ttle", strings.Repeat("a ", 3000), "NOT WORKING!!!", "\n\t\n"} {
		for _, typing := range []bool{false, true} {
			a := ix.Ask(q, search.Options{Typing: typing})
			for i, h := range a.Hits {
				if h.Score <= 0 || h.Score != h.Score || i > 0 && h.Score > a.Hits[i-1].Score {
					t.Errorf("%.20q: scores out of order", q)
				}
			}
		}
	}
}
