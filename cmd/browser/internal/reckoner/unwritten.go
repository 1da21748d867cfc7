package reckoner

import (
	"errors"

	"faultleaf/calc/blocks"
	"faultleaf/calc/trace"
	"faultleaf/cmd/browser/internal/door"
)

// making is what devices are made of on a page: the shop's block notes, and its
// bench.
type making struct {
	Library *blocks.Library `json:"library"`
	Shop    trace.Shop      `json:"shop"`
}

// Blocks loads what devices can be made of.
func (k *Reckoner) Blocks(question string) string {
	var m making
	if err := door.Read(question, &m); err != nil {
		return door.Fail(err)
	}
	if m.Library == nil {
		return door.Fail(errors.New("there are no block notes"))
	}
	for name, k := range m.Library.Kinds {
		k.Name = name
	}
	k.made = m
	return door.Done
}

// Unwritten makes a device that nobody has written up, as the page's trace takes
// it, with its chain as a row of names and the note that keeps it.
func (k *Reckoner) Unwritten(question string) string {
	var p blocks.Picked
	if err := door.Read(question, &p); err != nil {
		return door.Fail(err)
	}
	if k.made.Library == nil {
		return door.Fail(errors.New("the block notes are not loaded yet"))
	}
	dev, _, err := p.Expand(k.made.Library, k.calculators().Compute)
	if err != nil {
		return door.Fail(err)
	}
	dev.Shop = k.made.Shop
	for i := range dev.Tests {
		dev.Tests[i].Meter = dev.Shop.Meter(dev.Tests[i].With)
	}
	front, err := p.Front(k.made.Library)
	if err != nil {
		return door.Fail(err)
	}
	return door.Write(struct {
		Device door.Device `json:"device"`
		Row    string      `json:"row"`
		Note   string      `json:"note"`
	}{door.Device{Device: *dev, Plate: p.Plate}, blocks.Row(dev.Blocks), front})
}
