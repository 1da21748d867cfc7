package trace

// Node is a step of the printed tree.
type Node struct {
	Action
	Again    bool
	Stop     StopFor
	Located  []BlockID
	At       float64 // minutes since the start when this step begins
	Minutes  float64 // of the step
	Opens    float64 // of these, opening and setting up
	Chance   float64 // of getting here
	Branches []NodeBranch
}

// NodeBranch is one outcome of a step. Then is nil where the tree is cut.
type NodeBranch struct {
	Reading ReadingID // "" for a mend that did not cure
	Chance  float64   // given the step
	Then    *Node
}

// TreeLimits bound a printed tree; zero fields take values that fit two pages
// of A4.
type TreeLimits struct {
	Nodes  int     // steps in all
	Deep   int     // steps in a row
	Chance float64 // a way less likely than this is not followed
}

// Tree lays the trace out as a tree for paper: what to do first, and then for
// each reading; the likeliest ways first, and unlikely ones left out. Each step is
// a brief one, so that a shop of many devices is printed in little time.
func Tree(d *Device, k Evidence, l TreeLimits) (*Node, error) { return Prepare(d).Tree(k, l) }

// Tree is Tree of a device that was made ready.
func (g *Ground) Tree(k Evidence, l TreeLimits) (*Node, error) {
	if l.Nodes <= 0 {
		l.Nodes = 24
	}
	if l.Deep <= 0 {
		l.Deep = 9
	}
	if l.Chance <= 0 {
		l.Chance = .012
	}
	// widest first: the likely ways get their steps before the rare ones use
	// the page up
	type open struct {
		known  Evidence
		at     float64
		chance float64
		deep   int
		put    func(*Node)
	}
	var root *Node
	queue := []open{{k, 0, 1, 0, func(n *Node) { root = n }}}
	for made := 0; len(queue) > 0 && made < l.Nodes; made++ {
		which := 0
		for i := range queue {
			if queue[i].chance > queue[which].chance+1e-12 {
				which = i
			}
		}
		o := queue[which]
		queue = append(queue[:which], queue[which+1:]...)
		a, err := g.Bare(o.known)
		if err != nil {
			return nil, err
		}
		n := &Node{Action: a.Action, Again: a.Again, Stop: a.Stop, Located: a.Located, At: o.at, Minutes: a.Minutes, Opens: a.Opens, Chance: o.chance}
		o.put(n)
		if o.deep+1 >= l.Deep {
			continue
		}
		switch a.Kind {
		case DoTest:
			order := append([]Outcome(nil), a.Outcomes...)
			for i := range order {
				for j := i; j > 0 && order[j].Chance > order[j-1].Chance+1e-12; j-- {
					order[j], order[j-1] = order[j-1], order[j]
				}
			}
			for _, out := range order {
				if out.Chance*o.chance < l.Chance || out.Chance < .02 {
					continue
				}
				n.Branches = append(n.Branches, NodeBranch{Reading: out.Reading, Chance: out.Chance})
				i := len(n.Branches) - 1
				known := o.known
				known.Readings = append(append([]Reading(nil), known.Readings...), Reading{Test: a.Test, Value: string(out.Reading)})
				queue = append(queue, open{known, o.at + a.Minutes, o.chance * out.Chance, o.deep + 1, func(c *Node) { n.Branches[i].Then = c }})
			}
		case DoMend:
			fails := 1 - chanceFor(a, a.Cause)
			if fails < .1 || fails*o.chance < l.Chance {
				continue
			}
			n.Branches = append(n.Branches, NodeBranch{Chance: fails})
			known := o.known
			known.Tried = append(append([]Mended(nil), known.Tried...), Mended{a.Cause, len(known.Readings)})
			queue = append(queue, open{known, o.at + a.Minutes, o.chance * fails, o.deep + 1, func(c *Node) { n.Branches[0].Then = c }})
		}
	}
	return root, nil
}

func chanceFor(a Advice, id CauseID) float64 {
	for _, c := range a.Chances {
		if c.ID == id {
			return c.Chance
		}
	}
	return 0
}
