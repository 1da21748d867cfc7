package trace

import "strings"

// Point is a place that a meter's probe can touch.
type Point struct {
	ID    string  `json:"id"`
	Says  string  `json:"says"`            // "behind the switch"
	Block BlockID `json:"block,omitempty"` // beside which it lies
	Side  Side    `json:"side"`
}

// Side says where a point lies: beside its block, or where no block is.
type Side string

// The sides. Before and Behind lie on the wire, seen from the source; Back on the
// conductor back, across from the block. Line, Neutral and Earth are the plug's
// pins, Metal is what a hand can touch.
const (
	Before  Side = "before"
	Behind  Side = "behind"
	Back    Side = "return"
	Line    Side = "line"
	Neutral Side = "neutral"
	Earth   Side = "earth"
	Metal   Side = "metal"
)

// Sides lists them: first those beside a block.
func Sides() (beside, alone []Side) {
	return []Side{Before, Behind, Back}, []Side{Line, Neutral, Earth, Metal}
}

// ends are the points that every block has, by the ending of their names.
var ends = []struct {
	ending string
	side   Side
	says   string
}{{"-in", Before, "before the "}, {"-out", Behind, "behind the "}, {"-return", Back, "the conductor back, across from the "}}

var alone = map[string]Point{
	"line":    {ID: "line", Says: "the plug's line pin", Side: Line},
	"neutral": {ID: "neutral", Says: "the plug's neutral pin", Side: Neutral},
	"earth":   {ID: "earth", Says: "the plug's earth pin", Side: Earth},
	"metal":   {ID: "metal", Says: "metal that a hand can touch", Side: Metal},
}

// StandardPoint is a point that every device has without saying so: line,
// neutral, earth, metal, and of each block BLOCK-in, BLOCK-out and BLOCK-return.
func StandardPoint(id string, block func(id string) bool) (Point, bool) {
	if p, ok := alone[id]; ok {
		return p, true
	}
	for _, e := range ends {
		if name, ok := strings.CutSuffix(id, e.ending); ok && block(name) {
			return Point{ID: id, Says: e.says + Plain(name), Block: BlockID(name), Side: e.side}, true
		}
	}
	return Point{}, false
}

// Block finds a block by its id, nil where there is none.
func (d *Device) Block(id BlockID) *Block {
	var find func(row []Block) *Block
	find = func(row []Block) *Block {
		for i := range row {
			if id != "" && row[i].ID == id {
				return &row[i]
			}
			for _, w := range row[i].Branch {
				if b := find(w); b != nil {
					return b
				}
			}
		}
		return nil
	}
	return find(d.Blocks)
}

// Point finds a point by its name: one that the notes name, or one that every
// device has.
func (d *Device) Point(id string) (Point, bool) {
	for _, p := range d.Points {
		if p.ID == id {
			return p, true
		}
	}
	return StandardPoint(id, func(b string) bool { return d.Block(BlockID(b)) != nil })
}
