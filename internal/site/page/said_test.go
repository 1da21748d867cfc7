package page

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/internal/note"
)

// A hazard of a word or two stands as a sentence beside its signal word, on the page
// and in what the search shows.
func TestHazardsAreSentences(t *testing.T) {
	for given, want := range map[string]string{"electric shock": "Electric shock.", "Hot for half an hour.": "Hot for half an hour.", "öl": "Öl.", "fire (shed)": "Fire (shed).", "gone?": "Gone?", "": ""} {
		if got := SignalOf(calc.Caution{Signal: calc.Danger, Text: given}).Text; got != want {
			t.Errorf("%q is shown as %q, not %q", given, got, want)
		}
	}
	if got, want := Hazards([]string{"DANGER: electric shock", "stored charge: some"}), "DANGER: Electric shock. Stored charge: some."; got != want {
		t.Errorf("the search shows %q, not %q", got, want)
	}
}

// Nobody calls a calculator by its id: a link that does is shown with the title, in a
// text of its own it keeps that.
func TestCalculatorByTitle(t *testing.T) {
	c, _ := all.Find("esr")
	files := fstest.MapFS{"content/shop.yaml": {Data: []byte(bodyShop)}, "content/pages/x.md": {Data: []byte("---\ntitle: X\n---\nSee [esr](calc:esr), or [the calculator](calc:esr).\n")}}
	set, mistakes, err := note.Load(files, all.Find)
	if err != nil || len(mistakes) > 0 {
		t.Fatal(err, mistakes)
	}
	got, wrong := NewShop(set, all.Calculators).Body(&set.Pages[0].Document, "pages/x.html")
	if wrong != nil {
		t.Fatal(wrong)
	}
	for _, want := range []string{"“" + c.Title + "”", "the calculator"} {
		if !strings.Contains(string(got), `calc/esr.html">`+want+"</a>") {
			t.Errorf("no link reads %s in %s", want, got)
		}
	}
}

// A row of readings has a field that wraps: it is longer than any line.
func TestRowWraps(t *testing.T) {
	templates, err := Templates()
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for _, c := range all.Calculators {
		r, err := c.Run(nil)
		if err != nil {
			continue
		}
		f, err := NewForm(r, calc.Link{Calculator: c.Name}, "", "")
		if err != nil {
			t.Fatal(err)
		}
		b, err := templates.Append(nil, "calc-form", f)
		if err != nil {
			t.Fatal(err)
		}
		for _, in := range c.Inputs {
			if in.Row {
				rows++
				if !regexp.MustCompile(`<textarea [^>]*name="` + in.Name + `"`).Match(b) {
					t.Errorf("%s: the row %s has a field of one line", c.Name, in.Name)
				}
			}
		}
	}
	if rows == 0 {
		t.Error("no calculator takes a row of readings")
	}
}

// Between a number and its unit no line ends; words that only begin like a unit are left.
func TestUnbroken(t *testing.T) {
	for given, want := range map[string]string{"120 Ω to 5 kΩ": "120\u00a0Ω to 5\u00a0kΩ", "open, above 10 kΩ": "open, above 10\u00a0kΩ", "at 5 % (3 V)": "at 5\u00a0% (3\u00a0V)",
		"2 Volt cells": "2 Volt cells", "20.4–33.1 Ω": "20.4–33.1\u00a0Ω", "class 2 has none": "class 2 has none", "": ""} {
		if got := Unbroken(given); got != want {
			t.Errorf("%q becomes %q, not %q", given, got, want)
		}
	}
}

// A list that is read by its titles goes by their letters, great or small.
func TestByTitle(t *testing.T) {
	titles := []string{"Small loudspeaker", "CD player", "audio amplifier", "Cassette player", "Record player"}
	slices.SortFunc(titles, ByTitle)
	if got := strings.Join(titles, ", "); got != "audio amplifier, Cassette player, CD player, Record player, Small loudspeaker" {
		t.Error(got)
	}
}
