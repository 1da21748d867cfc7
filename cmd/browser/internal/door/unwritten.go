package door

import (
	"errors"

	"faultleaf/calc/blocks"
	"faultleaf/calc/trace"
)

// making is what devices are made of on a page: the shop's block notes, and its
// bench.
type making struct {
	Library *blocks.Library `json:"library"`
	Shop    trace.Shop      `json:"shop"`
}

// Blocks loads what devices can be made of.
func (d *Door) Blocks(question string) string {
	var m making
	if err := read(question, &m); err != nil {
		return fail(err)
	}
	if m.Library == nil {
		return fail(errors.New("there are no block notes"))
	}
	for name, k := range m.Library.Kinds {
		k.Name = name
	}
	d.made = m
	return `{"ok":true}`
}

// Unwritten makes a device that nobody has written up, as the page's trace takes
// it, with its chain as a row of names and the note that keeps it.
func (d *Door) Unwritten(question string) string {
	var p blocks.Picked
	if err := read(question, &p); err != nil {
		return fail(err)
	}
	if d.made.Library == nil {
		return fail(errors.New("the block notes are not loaded yet"))
	}
	dev, _, err := p.Expand(d.made.Library, d.calculators().Compute)
	if err != nil {
		return fail(err)
	}
	dev.Shop = d.made.Shop
	for i := range dev.Tests {
		dev.Tests[i].Meter = dev.Shop.Meter(dev.Tests[i].With)
	}
	front, err := p.Front(d.made.Library)
	if err != nil {
		return fail(err)
	}
	return write(struct {
		Device deviceOnPage `json:"device"`
		Row    string       `json:"row"`
		Note   string       `json:"note"`
	}{deviceOnPage{*dev, p.Plate}, blocks.Row(dev.Blocks), front})
}

// next advises on the page's device.
func next(dev *trace.Device, known trace.Evidence) (trace.Advice, error) {
	if dev.ID == blocks.Unwritten {
		return blocks.Next(dev, known)
	}
	return trace.Next(dev, known)
}
