package door

import (
	"errors"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// deviceOnPage is the device of the page, and its bands as the plate makes them.
type deviceOnPage struct {
	trace.Device
	Plate map[string]string `json:"plate"`
}

// Device loads the page's device.
func (d *Door) Device(question string) string {
	var dev deviceOnPage
	if err := read(question, &dev); err != nil {
		return fail(err)
	}
	d.device, d.arm = &dev, nil
	return `{"ok":true}`
}

var errNoDevice = errors.New("no device is loaded yet")

type bandText struct {
	Test    trace.TestID    `json:"test"`
	Reading trace.ReadingID `json:"reading"`
	Text    string          `json:"text"`
}

// Plate computes the bands again for another rating plate. Nothing changes
// when any of them cannot be computed.
func (d *Door) Plate(question string) string {
	if d.device == nil {
		return fail(errNoDevice)
	}
	plate := map[string]string{}
	if err := read(question, &plate); err != nil {
		return fail(err)
	}
	tests := make([]trace.Test, len(d.device.Tests))
	texts := []bandText{}
	for i, t := range d.device.Tests {
		if err := t.Rebase(func(address string) (quantity.Value, error) { return d.valueAt(address, plate) }); err != nil {
			return fail(err)
		}
		tests[i] = t
		for k := range t.Reads { // Rebase made them anew
			b := &t.Reads[k]
			b.Text = d.style.Says(b.Text)
			if b.Text != "" {
				texts = append(texts, bandText{t.ID, b.ID, b.Text})
			}
		}
	}
	d.device.Tests, d.device.Plate = tests, plate
	return write(map[string]any{"bands": texts})
}

// valueAt is the value at a calculator's address, filled from a rating plate.
func (d *Door) valueAt(address string, plate map[string]string) (quantity.Value, error) {
	l, err := calc.ParseLink(address)
	if err != nil {
		return quantity.Value{}, err
	}
	if l, err = l.Fill(plate); err != nil {
		return quantity.Value{}, err
	}
	c, ok := d.calculators().Find(l.Calculator)
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
