package reckoner

import (
	"errors"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/cmd/browser/internal/door"
)

type bandText struct {
	Test    trace.TestID    `json:"test"`
	Reading trace.ReadingID `json:"reading"`
	Text    string          `json:"text"`
}

// Plate computes the bands of a device again for another rating plate. Nothing changes
// when any of them cannot be computed.
func (k *Reckoner) Plate(question string) string {
	var q struct {
		Device door.Device       `json:"device"`
		Plate  map[string]string `json:"plate"`
	}
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	dev := &q.Device
	texts := []bandText{}
	for i := range dev.Tests {
		t := &dev.Tests[i]
		if err := t.Rebase(func(address string) (quantity.Value, error) { return k.valueAt(address, q.Plate) }); err != nil {
			return door.Fail(err)
		}
		for n := range t.Reads {
			b := &t.Reads[n]
			b.Text = k.style.Says(b.Text)
			if b.Text != "" {
				texts = append(texts, bandText{t.ID, b.ID, b.Text})
			}
		}
	}
	dev.Plate = q.Plate
	return door.Write(map[string]any{"bands": texts, "device": dev})
}

// valueAt is the value at a calculator's address, filled from a rating plate.
func (k *Reckoner) valueAt(address string, plate map[string]string) (quantity.Value, error) {
	l, err := calc.ParseLink(address)
	if err != nil {
		return quantity.Value{}, err
	}
	if l, err = l.Fill(plate); err != nil {
		return quantity.Value{}, err
	}
	c, ok := k.calculators().Find(l.Calculator)
	if !ok {
		return quantity.Value{}, errors.New("there is no calculator " + l.Calculator)
	}
	r, err := c.Run(c.Plated(l, plate).Inputs)
	if err != nil {
		return quantity.Value{}, err
	}
	got, ok := r.Output(l.Output)
	if !ok || got.Value.Kind == "" {
		return quantity.Value{}, errors.New(l.Calculator + " gives no " + l.Output + " for this plate")
	}
	return got.Value, nil
}
