package door

import (
	"errors"

	"faultleaf/calc"
	"faultleaf/calc/all"
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
	d.device = &dev
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
		bands, err := Rebase(t.Reads, plate)
		if err != nil {
			return fail(err)
		}
		t.Reads = bands
		tests[i] = t
		for _, b := range bands {
			if b.Text != "" {
				texts = append(texts, bandText{t.ID, b.ID, b.Text})
			}
		}
	}
	d.device.Tests, d.device.Plate = tests, plate
	return write(map[string]any{"bands": texts})
}

// Rebase computes the bands that come from a calculator for a rating plate. A
// band that is open below one of them moves along with it.
func Rebase(bands []trace.Band, plate map[string]string) ([]trace.Band, error) {
	out := append([]trace.Band(nil), bands...)
	for i := range out {
		b := &out[i]
		if b.Link == "" {
			continue
		}
		l, err := calc.ParseLink(b.Link)
		if err != nil {
			return nil, err
		}
		if l, err = l.Fill(plate); err != nil {
			return nil, err
		}
		c, ok := all.Find(l.Calculator)
		if !ok {
			return nil, errors.New("there is no calculator " + l.Calculator)
		}
		r, err := c.Run(l.Inputs)
		if err != nil {
			return nil, err
		}
		got, ok := r.Output(l.Output)
		if !ok || got.Value.Kind == "" {
			return nil, errors.New(l.Calculator + " gives no " + l.Output + " for this plate")
		}
		low, high := got.Value.Low, got.Value.High
		b.Low, b.High, b.Text = &low, &high, got.Text
	}
	for i := range out {
		// "below": from nothing up to the lower edge of the band above it
		if b := &out[i]; b.Link == "" && b.Low == nil && b.High != nil && i > 0 && out[i-1].Link != "" && out[i-1].Low != nil {
			edge := *out[i-1].Low
			b.High = &edge
			b.Text = "below " + quantity.Of(kindOf(out[i-1].Link), edge).Text()
		}
	}
	return out, nil
}

// kindOf is the kind of quantity that a link's output has.
func kindOf(link string) quantity.Kind {
	l, err := calc.ParseLink(link)
	if err != nil {
		return ""
	}
	if c, ok := all.Find(l.Calculator); ok {
		if o, ok := c.Output(l.Output); ok {
			return o.Kind
		}
	}
	return ""
}
