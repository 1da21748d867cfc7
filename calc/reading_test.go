package calc_test

import (
	"errors"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
)

// shown is a calculator that takes what a meter shows; aware tells whether it
// looks at a reading before it takes it for an amount.
func shown(aware bool) *calc.Calculator {
	return &calc.Calculator{Name: "shown",
		Inputs: []calc.Input{
			{Name: "ohms", Label: "Reading", Kind: quantity.Resistance, Reading: true, Default: "5 Ω", High: "100 Ω"},
			{Name: "row", Label: "Readings", Kind: quantity.Resistance, Or: []quantity.Kind{quantity.Voltage}, Row: true, Optional: true}},
		Outputs: []calc.Output{{Name: "twice", Label: "Twice", Kind: quantity.Resistance}, {Name: "says", Label: "Says"}, {Name: "row", Label: "Row"}},
		Compute: func(in calc.In, out *calc.Out) error {
			var says []string
			for _, r := range in.Readings("row") {
				says = append(says, r.Says())
			}
			if len(says) > 0 {
				out.Say("row", "row", strings.Join(says, "; "))
			}
			if r := in.Reading("ohms"); aware && !r.Bounded() {
				out.Say("says", "limit", r.Says())
				return nil
			}
			out.Set("twice", 2*in.Num("ohms"))
			return nil
		}}
}

func TestReadingInput(t *testing.T) {
	for text, want := range map[string]string{"5": "10.00 Ω", "5 ± 1": "8.00–12.00 Ω"} {
		r, err := shown(true).Run([]calc.Setting{{Name: "ohms", Value: text}})
		if got, _ := r.Output("twice"); err != nil || got.Text != want {
			t.Errorf("%q: %q, %v; want %q", text, got.Text, err, want)
		}
	}
	for text, want := range map[string]string{"OL": "above 200 Ω", "> 20 MΩ": "above 20.0 MΩ", "beep": "below 250 Ω", "0.L on 2k": "above 2.00 kΩ"} {
		r, err := shown(true).Run([]calc.Setting{{Name: "ohms", Value: text}})
		if got, _ := r.Output("says"); err != nil || got.Text != want {
			t.Errorf("%q: %q, %v; want %q", text, got.Text, err, want)
		}
		// a room that takes every reading for an amount never computes with nothing
		_, err = shown(false).Run([]calc.Setting{{Name: "ohms", Value: text}})
		var bad *calc.InputError
		if text == "OL" {
			want = "shows OL" // the range is not known, so no limit is named
		}
		if !errors.As(err, &bad) || bad.Input != "ohms" || !strings.Contains(bad.Says, want) {
			t.Errorf("%q without looking: %v", text, err)
		}
	}
	var bad *calc.InputError
	if _, err := shown(true).Run([]calc.Setting{{Name: "ohms", Value: "1."}}); !errors.As(err, &bad) || len(bad.Means) != 2 {
		t.Errorf("1. is not asked about: %v", err)
	}
	for _, text := range []string{"", "-5", "banana", "3 V", "200"} {
		if _, err := shown(true).Run([]calc.Setting{{Name: "ohms", Value: text}}); !errors.As(err, &bad) || bad.Input != "ohms" {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestReadingRow(t *testing.T) {
	for text, want := range map[string]string{
		"0.5 0.6 OL 0.7":  "500 mΩ; 600 mΩ; above 200 Ω; 700 mΩ",
		"5, 6, 7 mΩ":      "5.00 mΩ; 6.00 mΩ; 7.00 mΩ",
		"5 mV; OL; 6 mV":  "5.00 mV; above 200 mV; 6.00 mV",
		"> 20 MΩ 1 . 5 Ω": "above 20.0 MΩ; above 200 Ω; 5.00 Ω",
		"0,5 0,6":         "500 mΩ; 600 mΩ",
		"OL OL":           "above 200 Ω; above 200 Ω",
	} {
		r, err := shown(true).Run([]calc.Setting{{Name: "row", Value: text}})
		if got, _ := r.Output("row"); err != nil || got.Text != want {
			t.Errorf("%q: %q, %v; want %q", text, got.Text, err, want)
		}
	}
	for _, text := range []string{"5 6 Ω 7", "5 Ω 6", "5 x", "5.1 1 6.2", "-3 4", "5 V 6 Ω"} {
		if r, err := shown(true).Run([]calc.Setting{{Name: "row", Value: text}}); err == nil {
			t.Errorf("%q was taken: %v", text, r.Outputs)
		}
	}
	if _, err := reading.ParseRow([]quantity.Kind{quantity.Resistance}, "", reading.Meter{}); err == nil {
		t.Error("an empty row was taken")
	}
}
