package note

import (
	"strings"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc/blocks"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// undrawn remarks on what the drawing of a device's chain has to leave out, once
// for each sort of thing.
func (l *loader) undrawn(d *deviceFile) {
	several := func(n ast.Node, names []string, one, many, do string) {
		switch {
		case len(names) == 0:
		case len(names) == 1:
			l.remark(d, n, strings.ReplaceAll(one, "%", names[0]), do)
		default:
			l.remark(d, n, strings.ReplaceAll(many, "%", strings.Join(names, ", ")), do)
		}
	}
	var first ast.Node
	var names []string
	note := func(at ast.Node, id string) {
		if len(names) == 0 {
			first = at
		}
		names = append(names, "“"+id+"”")
	}
	all := &trace.Device{Blocks: d.Blocks}
	for _, b := range all.Chain() {
		if b.Symbol == "" && circuit.Named(string(b.ID)) == "" {
			note(d.blockAt[b.ID], string(b.ID))
		}
	}
	several(first, names, "the block % is drawn without a symbol", "the blocks % are drawn without symbols", "say symbol: beside the block, like {grille: {symbol: filter}}; a wrong one is answered with the list")
	names = nil
	for i := range d.Tests {
		t := &d.Tests[i]
		if _, common := d.Brought[t.ID]; !common && len(t.Probes) == 0 && metered[t.Kind] {
			note(d.testAt[t.ID], string(t.ID))
		}
	}
	several(first, names, "the drawing shows no meter for the test %", "the drawing shows no meter for the tests %", "write probes: with the two points that it measures between, like [line, neutral] or [switch-in, switch-out]")
	names = nil
	for _, a := range d.Access {
		if len(a.Hides) == 0 && a.Does != blocks.OpensCase { // of which it is said already that reach: is missing
			note(d.accessAt[a.ID], string(a.ID))
		}
	}
	several(first, names, "the drawing shows nothing behind the access %", "the drawing shows nothing behind the accesses %", "write hides: with the blocks that it brings to light")
}

// metered are the kinds of readings that two probes take.
var metered = map[quantity.Kind]bool{quantity.Resistance: true, quantity.Voltage: true, quantity.Capacitance: true}
