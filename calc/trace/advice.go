package trace

// Advice is what to do next, and why. It holds no sentence: package say has the
// words.
type Advice struct {
	Action
	Again bool    `json:"again,omitempty"` // done before, and worth doing once more
	Stop  StopFor `json:"stop,omitempty"`  // why, of a stop and of a replacement
	// Located are the blocks in which a fault that no note describes is to be
	// looked for, likeliest first; of a stop for that. Where Block is empty too,
	// the fault is likelier outside the chain than in any of them.
	Located         []BlockID `json:"located,omitempty"`
	Forbids         []Forbid  `json:"forbids,omitempty"` // readings that forbid power now
	Minutes         float64   `json:"minutes"`           // of this step, with access and power set-up
	Opens           float64   `json:"opens"`             // of these, opening and setting up
	Waits           float64   `json:"waits"`             // of these, unattended
	MinutesFromHere float64   `json:"minutesFromHere"`
	// GivenUp is the chance that it is one of the faults without a mend, each of
	// which counts as GivesUp minutes in MinutesFromHere, though to give a thing up
	// is hardly any work.
	GivenUp    float64    `json:"givenUp,omitempty"`
	GivesUp    float64    `json:"givesUp,omitempty"`
	LowerBound float64    `json:"lowerBound"`
	Optimal    bool       `json:"optimal"`
	Chances    []Chance   `json:"chances"` // likeliest first
	Unknown    []Unknown  `json:"unknown"` // of faults that no note describes, likeliest first
	Rest       float64    `json:"rest"`    // all of those together
	Reasons    []Reason   `json:"reasons"`
	Remarks    []Remark   `json:"remarks"`
	Outcomes   []Outcome  `json:"outcomes"`
	Instead    []Instead  `json:"instead"`
	Open       []AccessID `json:"open"` // to open first, in order
	Caution    string     `json:"caution"`
	Flip       *Flip      `json:"flip,omitempty"`  // nil where it was not worked out
	Money      *Money     `json:"money,omitempty"` // nil where no terms are known
}

// Kind is a sort of step.
type Kind string

// The kinds of step. Look is to look into a block by hand for a fault that no
// note describes; as advice it is a stop.
const (
	DoTest  Kind = "test"
	DoMend  Kind = "mend"
	DoStop  Kind = "stop"
	Replace Kind = "replace"      // buying a new one is cheaper
	Past    Kind = "past-mending" // the note says that there is no mend
	DoLook  Kind = "look"
)

// Action is a step at the bench.
type Action struct {
	Kind  Kind    `json:"kind"`
	Test  TestID  `json:"test,omitempty"`
	Cause CauseID `json:"cause,omitempty"`
	Block BlockID `json:"block,omitempty"` // looked into
}

// ID is the id of what the step is about, whatever its sort: a test's, a fault's
// or a block's.
func (a Action) ID() string {
	switch {
	case a.Test != "":
		return string(a.Test)
	case a.Cause != "":
		return string(a.Cause)
	}
	return string(a.Block)
}

// StopFor says why a trace stops before a mend.
type StopFor string

// The reasons to stop.
const (
	StopCheaper   StopFor = "replacing is cheaper"
	StopLimit     StopFor = "owner's limit"
	StopForbidden StopFor = "forbidden work"
	StopNoPart    StopFor = "no part"
	StopLive      StopFor = "live test"
	StopUnknown   StopFor = "not in these notes"
	StopTwo       StopFor = "two faults" // a reading forbids the mend of the likely one, which does not explain it
)

// Chance is the chance of one cause.
type Chance struct {
	ID     CauseID `json:"id"`
	Chance float64 `json:"chance"`
}

// Unknown is the chance of a fault that no note describes: of a block, or of
// what lies outside the chain ("").
type Unknown struct {
	Block  BlockID `json:"block"`
	Chance float64 `json:"chance"`
}

// Outcome is one reading the advised test may give.
type Outcome struct {
	Reading       ReadingID `json:"reading"`
	Chance        float64   `json:"chance"`
	Leaves        []CauseID `json:"leaves"`                  // causes still likely then
	LeavesUnknown []BlockID `json:"leavesUnknown,omitempty"` // and unknown faults of blocks
	MinutesAfter  float64   `json:"minutesAfter"`
}

// Instead is another first step and what it costs on average.
type Instead struct {
	Action
	Again        bool    `json:"again,omitempty"`
	ExtraMinutes float64 `json:"extraMinutes"`
}

// Reason is a fact that an advice rests on. Which fields are set goes by About.
type Reason struct {
	About   About     `json:"about"`
	Action  Action    `json:"action,omitzero"` // another step
	Again   bool      `json:"again,omitempty"`
	Cause   CauseID   `json:"cause,omitempty"`
	Test    TestID    `json:"test,omitempty"`
	Proof   ProofKind `json:"proof,omitempty"`
	Block   BlockID   `json:"block,omitempty"`
	Causes  []CauseID `json:"causes,omitempty"`
	Reads   []Read1   `json:"reads,omitempty"`
	Minutes float64   `json:"minutes,omitempty"`
	Chance  float64   `json:"chance,omitempty"`
	Text    string    `json:"text,omitempty"` // a note's own words
}

// byRule tells whether a step stands for a rule of order, whatever the plan would
// begin with.
func (r Reason) byRule() bool {
	return r.About == TinglesFirst || r.About == TripsFirst || r.About == SeenHurt || r.About == OutsideFirst || r.About == EyesFirst || r.About == ReadAgain || r.About == GiveUpLast
}

// Read1 is what was read on a test: the band, "" for none, and as typed.
type Read1 struct {
	Test    TestID    `json:"test"`
	Reading ReadingID `json:"reading"`
	Typed   string    `json:"typed"`
}

// About is what a reason or a remark is about.
type About string

// What reasons are about.
const (
	CostsMore    About = "costs-more"     // starting with Action costs Minutes more
	AsGood       About = "as-good"        // Action is as good a start
	SuspectFirst About = "suspect-first"  // mending the likeliest fault first costs Minutes more
	ConfirmsLast About = "confirms-last"  // one fault is left
	ComesAndGoes About = "comes-and-goes" // the test is done once more
	DoneWhile    About = "done-while"     // the state in which Test is done
	MeasureFirst About = "measure-first"  // before the mend of Cause; costs Minutes on average
	BesideFirst  About = "beside-first"   // before the mend of Cause
	OutsideFirst About = "outside-first"  // before anything is opened
	SeenHurt     About = "seen-hurt"      // a look shows what forbids, and Cause alone looks so
	ShowsItself  About = "shows-itself"   // Cause has a reading of its own, whatever else is wrong
	ReadAgain    About = "read-again"     // Test, after a mend of what made it forbid
	EyesFirst    About = "eyes-first"     // before a longer test
	GiveUpLast   About = "give-up-last"   // Cause is likeliest, and past mending
	ProofFirst   About = "proof-first"    // Proof before Test, which powers the device
	TestFirst    About = "test-first"     // before Test
	NothingSafer About = "nothing-safer"  // no safer test tells Causes apart
	PointsTo     About = "points-to"      // the readings point to Cause
	BestTry      About = "best-try"       // no test left tells enough
	MendDoes     About = "mend-does"      // what the mend of Cause is
	NoMend       About = "no-mend"        // Text is why
	IsBarred     About = "is-barred"      // the mend of Cause cannot be done; Text
	NoLive       About = "no-live"        // this shop does not allow Test
	ProofBad     About = "proof-bad"      // did not read good
	ProofMissing About = "proof-missing"  // no test gives it
	ProofCannot  About = "proof-cannot"   // Test, which gives it, cannot be taken; Text is why
	WithoutIt    About = "without-it"     // Action is best then
	UnknownIn    About = "unknown-in"     // it is likeliest in Block, Chance; what was read there is Reads
	UnknownOut   About = "unknown-out"    // it is likeliest outside the chain
	BestNote     About = "best-note"      // the likeliest noted fault is Cause
	OnlyStated   About = "only-stated"    // a reading forbids all but the faults that state it
	AskedAbout   About = "asked-about"    // Test best parts the suspect Cause from the others
	TinglesFirst About = "tingles-first"  // bond and insulation before all else
	TwoFaults    About = "two-faults"     // Cause explains the other readings, and not those that forbid its mend
	TripsFirst   About = "trips-first"    // insulation before all else
	TellsNoMore  About = "tells-no-more"  // no test parts the suspect Cause from the others
	WayCosts     About = "way-costs"      // from here; see Advice.Money
	NewCosts     About = "new-costs"      // Minutes is a sum of money
	AboveLimit   About = "above-limit"    // Minutes is a sum of money
)

// Remark is something odd or worth knowing beside the advice. Which fields are
// set goes by About.
type Remark struct {
	About   About     `json:"about"`
	Test    TestID    `json:"test,omitempty"`
	Cause   CauseID   `json:"cause,omitempty"`
	Symptom SymptomID `json:"symptom,omitempty"`
	Block   BlockID   `json:"block,omitempty"`
	Proof   ProofKind `json:"proof,omitempty"`
	Reading ReadingID `json:"reading,omitempty"`
	Other   ReadingID `json:"other,omitempty"`
	Typed   string    `json:"typed,omitempty"`
	Text    string    `json:"text,omitempty"`
	Edge    float64   `json:"edge,omitempty"`  // of two bands, in the base unit
	Needs   float64   `json:"needs,omitempty"` // error of a meter that would part them
	Count   int       `json:"count,omitempty"`
	Past    bool      `json:"past,omitempty"` // no fault in the notes states the reading and can be mended
}

// What remarks are about.
const (
	NoSuchSymptom   About = "no-such-symptom"
	NoSuchTest      About = "no-such-test"
	NoSuchFault     About = "no-such-fault"
	NoSuchBlock     About = "no-such-block"
	Unreadable      About = "unreadable" // Text says why
	ThereAndNot     About = "there-and-not"
	ReadDifferently About = "read-differently"
	FitsNone        About = "fits-none"
	OnEdge          About = "on-edge"
	OnlyALimit      About = "only-a-limit" // the reading only lies above or below something; Text says what would settle it
	ReadBad         About = "read-bad"     // a proof
	Unproved        About = "unproved"     // Proof cannot be proved here
	LeftOut         About = "left-out"     // Test was let go, and with it the Count tests that may only come after it
	Powerless       About = "powerless"    // a reading forbids power; Text
	TakesOthers     About = "takes-others"
	Protects        About = "protects"
	SuspectNow      About = "suspect-now" // Cause is asked about
)

// Unusable tells whether a remark is about evidence that had to be left out.
func (r Remark) Unusable() bool {
	switch r.About {
	case NoSuchSymptom, NoSuchTest, NoSuchFault, NoSuchBlock, Unreadable:
		return true
	}
	return false
}
