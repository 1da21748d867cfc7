package note

import (
	"sort"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/trace"
)

// review remarks on what the notes of a device leave open: a reading that no
// fault claims, tests that this shop's rules never reach, faults that nothing
// parts. It waits until there are no mistakes, which make such gaps.
func (l *loader) review() {
	of := map[string][]*faultFile{}
	for _, f := range l.faults {
		of[f.Device] = append(of[f.Device], f)
	}
	for _, dev := range l.set.Devices {
		d := l.devices[dev.Name]
		if dev.Draft {
			continue
		}
		faults := counted(of[dev.Name])
		l.unclaimed(d, faults)
		l.undrawn(d)
		l.unparted(d, faults, l.unreachable(d))
	}
}

// unclaimed remarks on readings that are not healthy and that no fault states.
func (l *loader) unclaimed(d *deviceFile, faults []*faultFile) {
	if len(faults) == 0 {
		return
	}
	for i := range d.Tests {
		t := &d.Tests[i]
		if _, common := d.Brought[t.ID]; common {
			continue // a block's test serves faults that this device may not have
		}
		for _, b := range t.Reads {
			claimed := b.Healthy || b.Forbids != "" // which says itself what comes of it
			for _, f := range faults {
				claimed = claimed || f.Cause.States(t.ID, b.ID)
			}
			if !claimed {
				l.remark(d, d.bandAt[t.ID][b.ID], "no fault of this device reads “"+string(b.ID)+"” on the test “"+string(t.ID)+"”",
					"add it to the reads: of each fault that may read so; if none does, it stands for a fault that no note describes")
			}
		}
	}
}

// unreachable remarks on the tests that this shop's rules never reach, and gives
// them.
func (l *loader) unreachable(d *deviceFile) map[trace.TestID]bool {
	out := map[trace.TestID]bool{}
	why := func(t *trace.Test) (says, do string) {
		shop := l.set.Shop
		if len(shop.Instruments) > 0 {
			for _, id := range t.With {
				if !has(shop.Instruments, id) {
					return "it needs “" + id + "”, which is not among the shop's instruments", "list it under instruments: in content/shop.yaml once it is there"
				}
			}
		}
		for _, id := range t.Needs {
			for at, steps := id, 0; at != "" && steps <= len(d.Access); steps++ {
				a := accessOf(d, at)
				if a == nil {
					break
				}
				if a.Forbidden != "" {
					return "the access “" + string(at) + "” is forbidden here", "find a test that needs no such access"
				}
				at = a.Inside
			}
		}
		live := t.Power == trace.Isolated || t.Power == trace.Mains
		if live && !shop.AllowMains {
			return "it is done live, and this shop does not allow mains tests", "find a test on the unplugged device, or from a low-voltage source"
		}
		if live || t.Power == trace.SeriesLamp {
			for _, proof := range proofsOf(d.Class) {
				if proof != t.Proves && !proves(d, proof) {
					return "nothing on this device proves its " + proof + ", which must read good before the mains comes near", "add a test with proves: " + proof
				}
			}
		}
		for _, id := range t.After {
			if out[id] {
				return "it comes after “" + string(id) + "”, which is never reached", "let it come after another test"
			}
		}
		return "", ""
	}
	for changed := true; changed; { // until no test waits for one that is never reached
		changed = false
		for i := range d.Tests {
			t := &d.Tests[i]
			if says, do := why(t); says != "" && !out[t.ID] {
				out[t.ID], changed = true, true
				if _, common := d.Brought[t.ID]; common && t.Power == trace.Mains {
					continue // that this shop does no live tests need not be said for each device
				}
				l.remark(d, d.testAt[t.ID], "the test “"+string(t.ID)+"” is never reached: "+says, do)
			}
		}
	}
	return out
}

// unparted remarks on faults that no test which can be reached parts.
func (l *loader) unparted(d *deviceFile, faults []*faultFile, never map[trace.TestID]bool) {
	sorted := append([]*faultFile(nil), faults...)
	sort.Slice(sorted, func(i, j int) bool { return sorted[i].Name < sorted[j].Name })
	expects := make([][]string, len(sorted)) // by fault, then by test
	for i, f := range sorted {
		expects[i] = make([]string, len(d.Tests))
		for t := range d.Tests {
			expects[i][t] = f.Cause.Expects(&d.Tests[t])
		}
	}
	parted := func(i, j int, never map[trace.TestID]bool) bool {
		for t := range d.Tests {
			if x, y := expects[i][t], expects[j][t]; x != "" && y != "" && x != y && !never[d.Tests[t].ID] {
				return true
			}
		}
		return false
	}
	for i, f := range sorted {
		var alike []string
		for j := i + 1; j < len(sorted); j++ {
			// what common blocks say alike is told where they are put together
			if !parted(i, j, never) && (l.planned[d.Name] == nil || parted(i, j, nil)) {
				alike = append(alike, "“"+sorted[j].Name+"”")
			}
		}
		if len(alike) == 0 {
			continue
		}
		line, column := 1, 1
		if f.block != nil {
			line, column = f.r.place(f.block)
		}
		l.gaps.Add(f.r.file, line, column, "no test that this shop permits parts this fault from "+strings.Join(alike, ", "),
			"state what a test reads differently, add such a test, or tell them apart in the text")
	}
}

// remark adds a remark at a place of the device's note.
func (l *loader) remark(d *deviceFile, n ast.Node, says, do string) {
	line, column := d.r.place(n)
	l.gaps.Add(d.r.file, line, column, says, do)
}

// proofsOf are the proofs that must read good before the mains comes near a
// device of a class.
func proofsOf(class string) []string {
	switch class {
	case "II":
		return []string{"insulation"}
	case "III":
		return nil
	}
	return []string{"bond", "insulation"}
}

func proves(d *deviceFile, what string) bool {
	for i := range d.Tests {
		if d.Tests[i].Proves == what {
			return true
		}
	}
	return false
}

func has(instruments []trace.Instrument, id string) bool {
	for _, i := range instruments {
		if i.ID == id {
			return true
		}
	}
	return false
}

func accessOf(d *deviceFile, id trace.AccessID) *trace.Access {
	for i := range d.Access {
		if d.Access[i].ID == id {
			return &d.Access[i]
		}
	}
	return nil
}
