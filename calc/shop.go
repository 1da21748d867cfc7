package calc

import (
	"math"
	"strings"

	"faultleaf/calc/quantity"
)

// Shop is what a shop says about itself that its calculators take as defaults. Its
// zero value changes nothing. It is JSON, because the page's binary is told it too.
type Shop struct {
	Mains    string  `json:"mains,omitempty"` // RMS volts, "120 V"
	Hertz    float64 `json:"hertz,omitempty"`
	Currency string  `json:"currency,omitempty"` // of sums that name none
	Rate     float64 `json:"rate,omitempty"`     // money per hour; used where there is a currency
	// Rules are the choices that decide, by calculator: "leakage": "en".
	Rules map[string]string `json:"rules,omitempty"`
	// Style is how results are written; in sentences too, but not on the scales of plots.
	Style quantity.Style `json:"style"`
}

// FromShop names the value of a shop that is an input's default.
type FromShop string

// What an input may take from the shop. Of the mains Rated is what the plate of a device
// says, Mains what comes out of the shop's outlet, as a device for 100–240 V runs on the
// latter, and Lamp what the shop's tools are for, whatever the device.
const (
	Mains      FromShop = "the mains"
	Rated      FromShop = "the rated mains"
	Lamp       FromShop = "the mains that the shop's own lamps are for"
	LowMains   FromShop = "mains that are a tenth low"
	Peak       FromShop = "the peak of the mains"
	Hertz      FromShop = "the mains frequency"
	TwiceHertz FromShop = "twice the mains frequency"
	Rate       FromShop = "the rate"
	Rule       FromShop = "the rule"
)

// PlateMains and PlateHertz are the lines of a rating plate that go before the shop's values.
const PlateMains, PlateHertz = "mains", "hertz"

// text is what a shop puts into an input; "" where it says nothing.
func (s Shop) text(of *Calculator, from FromShop) string {
	switch from {
	case Mains, Rated, Lamp:
		return s.Mains
	case LowMains:
		return times(s.Mains, .9)
	case Peak:
		return times(s.Mains, math.Sqrt2)
	case Hertz, TwiceHertz:
		if s.Hertz <= 0 {
			return ""
		}
		if from == TwiceHertz {
			return quantity.Number(2*s.Hertz) + " Hz"
		}
		return quantity.Number(s.Hertz) + " Hz"
	case Rate:
		if s.Currency == "" {
			return ""
		}
		return quantity.Number(s.Rate) + " " + s.Currency + "/h"
	case Rule:
		return s.Rules[of.Name]
	}
	return ""
}

// times is a voltage times a factor; the crest of a sine is √2 times its RMS.
func times(mains string, factor float64) string {
	v, err := quantity.Parse(quantity.Voltage, mains)
	if err != nil {
		return ""
	}
	v.Low, v.Num, v.High, v.Unit = v.Low*factor, v.Num*factor, v.High*factor, ""
	v.Digits = 3 // 170 V, as the trade says
	return v.Text()
}

// At is the calculator as a shop has it: its values are the defaults. The worked example
// keeps what it was worked with, and says so.
func (c *Calculator) At(s Shop) *Calculator {
	at := *c
	at.currency, at.style, at.places = s.Currency, s.Style, new(placed)
	at.Inputs = append([]Input(nil), c.Inputs...)
	at.Example.Inputs = append([]Setting(nil), c.Example.Inputs...)
	for i := range at.Inputs {
		d := &at.Inputs[i]
		if d.Kind != "" && !d.Row {
			d.Default, d.Like = s.Style.Input(d.Kind, d.Default), s.Style.Input(d.Kind, d.Like)
		}
		text := s.text(c, d.From)
		if text == "" || text == c.Inputs[i].Default {
			continue
		}
		if !set(c.Example.Inputs, d.Name) {
			at.Example.Inputs = append(at.Example.Inputs, Setting{d.Name, c.Inputs[i].Default})
		}
		d.Default = text
	}
	return &at
}

func set(settings []Setting, name string) bool {
	for _, s := range settings {
		if s.Name == name {
			return true
		}
	}
	return false
}

// Plated fills the inputs of a link that would take a value of the shop by what the rating
// plate says, for a device may be made for other mains than the shop's. What the plate
// says just as the shop stays out of the link.
func (c *Calculator) Plated(l Link, plate map[string]string) Link {
	for i := range c.Inputs {
		d := &c.Inputs[i]
		if text, ok := d.plated(plate); ok && text != d.Default && !set(l.Inputs, d.Name) {
			l.Inputs = append(l.Inputs[:len(l.Inputs):len(l.Inputs)], Setting{d.Name, text})
		}
	}
	return l
}

// plated is what a plate says of an input; not ok where it says nothing.
func (d *Input) plated(plate map[string]string) (string, bool) {
	volts, hasVolts := plate[PlateMains]
	hertz, hasHertz := plate[PlateHertz]
	switch d.From {
	case Rated:
		return volts, hasVolts
	case Mains:
		return d.supplied(volts, d.Default), hasVolts
	case Peak:
		// the default is the peak of the shop's mains, and so is compared as one
		return d.supplied(times(volts, math.Sqrt2), d.Default), hasVolts && times(volts, math.Sqrt2) != ""
	case Hertz:
		return hertz, hasHertz
	}
	return "", false
}

// supplied is what a device with such a plate is run on: the shop's mains where they suit
// the plate within a tenth, as mains are allowed to stray (EN 50160), else what the plate says.
func (d *Input) supplied(plate, shop string) string {
	p, err := quantity.Parse(quantity.Voltage, plate)
	if err != nil {
		return plate
	}
	s, err := quantity.Parse(quantity.Voltage, shop)
	if err != nil || s.Low < .9*p.Low || s.High > 1.1*p.High {
		return plate
	}
	return shop
}

// OfShop tells which inputs of a link are left to the shop, so that its result differs from
// shop to shop. Of a device's note the plate says the rest.
func (c *Calculator) OfShop(l Link, plate map[string]string) []*Input {
	var left []*Input
	for i := range c.Inputs {
		d := &c.Inputs[i]
		if d.From == "" || set(l.Inputs, d.Name) {
			continue
		}
		if _, ok := d.plated(plate); !ok {
			left = append(left, d)
		}
	}
	return left
}

// Elsewhere gives other values that another shop may have for an input which takes the shop's.
func (d *Input) Elsewhere() []string {
	switch d.From {
	case Mains, Rated, Lamp:
		return []string{"120 V", "230 V"}
	case LowMains:
		return []string{"108 V", "207 V"}
	case Peak:
		return []string{"170 V", "325 V"}
	case Hertz:
		return []string{"50 Hz", "60 Hz"}
	case TwiceHertz:
		return []string{"100 Hz", "120 Hz"}
	case Rate:
		return []string{"20/h", "60/h"}
	}
	var words []string
	for _, ch := range d.Choices {
		words = append(words, ch.Name)
	}
	return words
}

// signs are the signs of currencies whose code somebody may write as well.
var signs = map[string]string{"EUR": "€", "GBP": "£", "USD": "$", "CAD": "$", "AUD": "$", "NZD": "$", "JPY": "¥", "CNY": "¥", "INR": "₹"}

// sameCurrency tells whether two writings may mean one currency.
func sameCurrency(a, b string) bool {
	return a == b || strings.EqualFold(a, b) || signs[strings.ToUpper(a)] == b || signs[strings.ToUpper(b)] == a
}
