package circuit

import "faultleaf/calc/draw"

// Chain is what is drawn.
type Chain struct {
	ID    string // sets apart the ids of several drawings on a page
	Title string // "Kettle: from plug to boiling water"
	Says  string // the drawing in words, for those who cannot see it
	Parts []Part
	Ends  string    // the work done, "it boils and stops"; "" draws none
	Back  bool      // the current comes back: the second conductor is drawn
	Poles [2]string // where it comes in and goes back: "L" and "N", or "+" and "−"
	Reach Reach
	Roomy bool // room is kept for the words of a test, so that nothing moves when one is asked
	Meter Meter
	Room  Room
	Apart string // the id of the block behind which the chain is taken apart; "" for whole
}

// Part is a block, or ways side by side. A way holds blocks only.
type Part struct {
	Block *Block
	Ways  [][]Block
}

// Block is one block of the chain.
type Block struct {
	ID, Name string
	Short    string   // the name for a small block; "" for Name
	Symbol   string   // a name that Symbols lists; "" draws none
	Share    float64  // suspicion, between 0 and 1
	Said     string   // the suspicion as printed, "35 %"; "" where none is shown
	Letters  []string // of the faults that the list beside names
	Cleared  string   // what cleared it, "2 bright"; "" where nothing did
	State    State
	// Separates: the current turns back in it, and another circuit begins behind it.
	Separates bool
	Beyond    bool // it stands outside the circuit: what the work is done to, or moves
}

// State is how a block is drawn.
type State string

// The states of a block.
const (
	Plain   State = ""
	Here    State = "here"    // a fault note's own block
	Mending State = "mending" // it is being mended
	Lifted  State = "lifted"  // taken off with what stands before it
)

// Reach is what a test tells about.
type Reach struct {
	Step   string   // its number
	Says   string   // "tells about these: 72 %"
	Blocks []string // ids
}

// Meter is a meter with its two probes.
type Meter struct {
	Shows      string // "? Ω"; "" draws none
	Red, Black Point
}

// Point is a place on the wire that a probe can touch.
type Point struct {
	Block string // id of a block; "" for the plug's pins, or metal that can be touched
	Side  Side
}

// Side says on which side of the block a point lies.
type Side string

// The sides. Line, Neutral and Earth are the pins, Metal is what a hand can touch.
const (
	None    Side = ""
	Before  Side = "before"
	After   Side = "after"
	Return  Side = "return" // on the conductor back, across from the block
	Line    Side = "line"
	Neutral Side = "neutral"
	Earth   Side = "earth"
	Metal   Side = "metal"
)

// Room is what one access hides.
type Room struct {
	Says   string // "behind the grille, 6 min"
	Blocks []string
}

// Heat is the step of suspicion a block is shaded by (draw.Heat).
func Heat(share float64) int { return draw.Heat(share) }
