package trace

import (
	"cmp"
	"slices"

	"faultleaf/calc/inorder"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

// Each sort of id has its own type, so that a test cannot stand where a cause
// belongs.
type (
	CauseID   string
	TestID    string
	AccessID  string
	SymptomID string
	BlockID   string
	ReadingID string
)

// Power is the state a device is in while a test is done.
type Power string

// The power states in order of danger.
const (
	Off        Power = "off"
	LowVoltage Power = "low-voltage" // a source of at most 25 V AC or 60 V DC, isolated from the mains
	SeriesLamp Power = "series-lamp" // mains through a lamp: limited, and as dangerous as mains
	Isolated   Power = "isolated"    // behind an isolating transformer
	Mains      Power = "mains"
)

// Powers lists the states in which a device is powered, in order of danger.
func Powers() []Power { return []Power{LowVoltage, SeriesLamp, Isolated, Mains} }

// Says is the power state in words for the bench.
func (p Power) Says() string {
	switch p {
	case LowVoltage:
		return "from a low-voltage source"
	case SeriesLamp:
		return "on the mains through a series lamp"
	case Isolated:
		return "behind an isolating transformer"
	case Mains:
		return "on the mains"
	}
	return "unplugged"
}

// Signal is the signal word (ANSI Z535, ISO 3864) for a caution that brings none
// of its own: a live circuit can kill, a dead one can hurt.
func (p Power) Signal() string {
	switch p {
	case LowVoltage:
		return "WARNING"
	case SeriesLamp, Isolated, Mains:
		return "DANGER"
	}
	return "CAUTION"
}

// Often is how often a fault shows a symptom.
type Often string

// Device is a family of things with the same insides, with everything known
// about finding its faults. internal/note fills it.
type Device struct {
	ID       string    `json:"id"`
	Title    string    `json:"title"`
	Blocks   []Block   `json:"blocks"`
	Symptoms []Symptom `json:"symptoms"`
	Access   []Access  `json:"access"`
	Tests    []Test    `json:"tests"`
	Causes   []Cause   `json:"causes"`
	Shop     Shop      `json:"shop"`
	// Class of protection against shock by IEC 61140: I with an earth, II with
	// double insulation, III for safe extra-low voltage; "" where no note says.
	Class string  `json:"class,omitempty"`
	Price float64 `json:"price,omitempty"` // of a new one; a hint for Terms
	// Points are the test points that the notes name; those that every device has
	// (StandardPoint) stand here only where a note has words for them.
	Points []Point `json:"points,omitempty"`
}

// Shop is what the shop says about its bench.
type Shop struct {
	PowerMinutes map[Power]float64 `json:"powerMinutes"` // set-up minutes of a power state
	AllowMains   bool              `json:"allowMains"`
	Rate         float64           `json:"rate"` // money per hour
	Currency     string            `json:"currency"`
	Comma        bool              `json:"comma,omitempty"` // sums are written 0,50
	// WaitsCount is what an unattended minute counts against one at the bench;
	// 0 means as much.
	WaitsCount float64 `json:"waitsCount,omitempty"`
	// Instruments are those of the bench; an empty list means that everything is
	// there.
	Instruments []Instrument `json:"instruments,omitempty"`
	// MendUnmeasured lets a part be fitted before a reading on it was abnormal.
	MendUnmeasured bool `json:"mendUnmeasured,omitempty"`
	// OwnSheets counts the shop's closed job sheets on this device, and
	// UnknownSheets those of them whose cause is in no note.
	OwnSheets     float64 `json:"ownSheets,omitempty"`
	UnknownSheets float64 `json:"unknownSheets,omitempty"`
}

// Instrument is a meter, or another thing that a test needs.
type Instrument struct {
	ID string `json:"id"` // as Test.With names it
	// Over is the resistance in ohms above which it shows OL, Beeps that below
	// which it beeps; 0 where nobody says.
	Over  float64 `json:"over,omitempty"`
	Beeps float64 `json:"beeps,omitempty"`
}

// Block is a part of the chain from plug to work done, or a place where the
// chain branches.
type Block struct {
	ID     BlockID   `json:"id,omitempty"`
	Branch [][]Block `json:"branch,omitempty"`
	// Share weighs this block's faults that no note describes against those of
	// the other blocks; 0 counts as 1, as much as the next.
	Share float64 `json:"share,omitempty"`
	// What only a drawing asks: a short name, a symbol's name, what comes in here
	// ("mains" or "battery"), whether another circuit begins behind it, and whether
	// it stands outside the circuit; nil where no note says.
	Short     string `json:"short,omitempty"`
	Symbol    string `json:"symbol,omitempty"`
	Source    string `json:"source,omitempty"`
	Separates bool   `json:"separates,omitempty"`
	Outside   *bool  `json:"outside,omitempty"`
}

// Symptom is what can be seen, heard, smelled or told before any tool comes out.
type Symptom struct {
	ID   SymptomID `json:"id"`
	Says string    `json:"says"`
	// Tingles tells that somebody was bitten: bond and insulation come before all
	// else then.
	Tingles bool `json:"tingles,omitempty"`
	// Trips tells that it took the supply out: insulation comes before all else then.
	Trips bool `json:"trips,omitempty"`
}

// Complaints that bring proofs to the front, however little one speaks of a bite, and
// where it is mostly the supply that went out.
const (
	Tingling  = "tingles"
	Tripping  = "trips"
	tripsFrom = .9
)

// Is notes that a symptom is a complaint, as strongly as that: 0 to 1.
func (s *Symptom) Is(complaint string, weight float64) {
	s.Tingles = s.Tingles || complaint == Tingling
	s.Trips = s.Trips || complaint == Tripping && weight >= tripsFrom
}

// Access is work done once before some tests or mends are possible.
type Access struct {
	ID      AccessID `json:"id"`
	Does    string   `json:"does"`
	Minutes float64  `json:"minutes"`
	Undo    float64  `json:"undo"`
	Inside  AccessID `json:"inside,omitempty"` // must be open first
	// Forbidden is why this shop does not open it, "" where it does.
	Forbidden string `json:"forbidden,omitempty"`
	// Hides lists the blocks that it brings to light.
	Hides []BlockID `json:"hides,omitempty"`
}

// Test is one thing to do with a tool.
type Test struct {
	ID         TestID        `json:"id"`
	Ask        string        `json:"ask"`
	Covers     []BlockID     `json:"covers"`
	Needs      []AccessID    `json:"needs"`
	Power      Power         `json:"power"`
	Minutes    float64       `json:"minutes"`
	Waits      float64       `json:"waits,omitempty"` // unattended minutes
	Reads      []Band        `json:"reads"`           // highest first, exactly one healthy
	Caution    string        `json:"caution,omitempty"`
	Harms      Harms         `json:"harms"`
	While      []string      `json:"while,omitempty"` // warm, moved, loaded
	Trust      float64       `json:"trust"`           // chance that a reading is what the part gives
	Good       string        `json:"good,omitempty"`  // reading of a healthy one
	Kind       quantity.Kind `json:"kind,omitempty"`  // "" for readings that are words only
	MeterError float64       `json:"meterError,omitempty"`
	Proves     string        `json:"proves,omitempty"` // "bond" or "insulation"
	// After lists the tests that must have read healthy before this one, e.g.
	// before a known-good part is swapped in that a short would kill.
	After []TestID `json:"after,omitempty"`
	With  []string `json:"with,omitempty"` // ids of the instruments that it needs
	// Meter is what is known of the meter that this shop takes for it; its error
	// is MeterError.
	Meter reading.Meter `json:"meter,omitzero"`
	// Probes are the two points between which it measures, the red one first; none
	// where a drawing shows no meter.
	Probes []Point `json:"probes,omitempty"`
	// Apart is the block behind which the chain is taken apart for it, "" for whole.
	Apart BlockID `json:"apart,omitempty"`
	// ByEye is a test that is answered by looking: its readings show the looks of
	// the faults that give them.
	ByEye bool `json:"byEye,omitempty"`

	at int // its number among the tests of a Ground, from 1
}

// Harms is the chance and the cost in money of a test's doing damage.
type Harms struct {
	Chance float64 `json:"chance,omitempty"`
	Cost   float64 `json:"cost,omitempty"`
}

// Band is one outcome of a test: a word, or a span of measured values.
type Band struct {
	ID      ReadingID  `json:"id"`
	Op      reading.Op `json:"op,omitempty"`   // how it is bounded
	Low     *float64   `json:"low,omitempty"`  // base unit; nil is open
	High    *float64   `json:"high,omitempty"` // both nil for a word
	Text    string     `json:"text,omitempty"` // printed, "24–26 Ω"
	Link    string     `json:"link,omitempty"` // calc: address when computed
	Healthy bool       `json:"healthy,omitempty"`
	// Forbids is why nothing is powered and no mend is guessed after this
	// reading, "" where it forbids nothing.
	Forbids string `json:"forbids,omitempty"`
}

// Cause is the root part of one fault note.
type Cause struct {
	ID         CauseID             `json:"id"`
	Title      string              `json:"title"`
	Says       string              `json:"says"`
	Block      BlockID             `json:"block"`
	Takes      []string            `json:"takes,omitempty"`
	Seen       float64             `json:"seen"`            // cases remembered, or that Share stands for
	Share      float64             `json:"share,omitempty"` // of the device's published cases, 0 to 1
	Jobs       float64             `json:"jobs"`
	Symptoms   map[SymptomID]Often `json:"symptoms"`
	Reads      map[TestID][]Read   `json:"reads"`
	Shown      Shown               `json:"shown"`
	Because    []string            `json:"because,omitempty"`
	Mend       Mend                `json:"mend"`
	Protective bool                `json:"protective,omitempty"`
	Address    string              `json:"address,omitempty"`
	// Look is how it shows itself to the eye, a name of calc/draw/looks; "" where no
	// drawing tells it.
	Look string `json:"look,omitempty"`

	at int // its number among the causes of a Ground, from 1
}

// Read is one of the readings that a fault may give on a test.
type Read struct {
	Reading ReadingID `json:"reading"`
	// Chance among the fault's readings on this test; 0 on all of them means
	// equal shares.
	Chance float64 `json:"chance,omitempty"`
}

// Always is what a fault reads that gives the same on a test every time.
func Always(id ReadingID) []Read { return []Read{{Reading: id}} }

// Likeliest is the reading that a fault gives most often on a test, the first of
// equals; ok is false where its note states none.
func (c *Cause) Likeliest(t TestID) (id ReadingID, ok bool) {
	best := -1.0
	for _, r := range c.Reads[t] {
		if r.Chance > best {
			best, id, ok = r.Chance, r.Reading, true
		}
	}
	return id, ok
}

// Looks are the looks behind each reading of a test by eye: of the faults that
// give it most often, those met most often first. Nothing for any other test.
func (d *Device) Looks(t *Test) map[ReadingID][]string {
	if !t.ByEye {
		return nil
	}
	causes := make([]*Cause, 0, len(d.Causes))
	for i := range d.Causes {
		causes = append(causes, &d.Causes[i])
	}
	inorder.By(causes, func(a, b *Cause) int { return cmp.Compare(b.Seen+b.Jobs, a.Seen+a.Jobs) })
	out := map[ReadingID][]string{}
	for _, c := range causes {
		id, ok := c.Likeliest(t.ID)
		if !ok || c.Look == "" || id == t.Healthy() || slices.Contains(out[id], c.Look) {
			continue
		}
		out[id] = append(out[id], c.Look)
	}
	return out
}

// Healthy is the reading of a good one.
func (t *Test) Healthy() ReadingID { return healthy(t) }

// States tells whether a fault's note names a reading for a test.
func (c *Cause) States(t TestID, id ReadingID) bool {
	for _, r := range c.Reads[t] {
		if r.Reading == id {
			return true
		}
	}
	return false
}

// Shown says when a fault shows: always, warm, moved, loaded or now-and-then,
// and with what chance a test meets it then.
type Shown struct {
	Word   string  `json:"word,omitempty"`
	Chance float64 `json:"chance,omitempty"`
}

// Mend is the repair.
type Mend struct {
	Does     string     `json:"does"`
	Minutes  float64    `json:"minutes"`
	Needs    []AccessID `json:"needs,omitempty"`
	Succeeds float64    `json:"succeeds"`
	Parts    []Part     `json:"parts,omitempty"`
	// Forbidden is why this shop does not do it, "" where it does.
	Forbidden string `json:"forbidden,omitempty"`
	// None is why there is no mend: the thing is past mending. "" where there is.
	None string `json:"none,omitempty"`
}

// Part is a spare part.
type Part struct {
	Part  string  `json:"part"`
	Count float64 `json:"count"`
	Price float64 `json:"price"`
	Gone  bool    `json:"gone,omitempty"` // not to be had any more
}
