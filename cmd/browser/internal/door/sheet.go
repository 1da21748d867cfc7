package door

import (
	"errors"
	"strings"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

// sheetForm is the job sheet's form as the page sends it: numbers as typed.
type sheetForm struct {
	Device     string            `json:"device"`
	Date       string            `json:"date"`
	OwnerSays  string            `json:"ownerSays"`
	Before     string            `json:"before"`
	Tried      string            `json:"tried"`
	Limit      string            `json:"limit"`
	Reproduced string            `json:"reproduced"`
	Symptoms   []trace.SymptomID `json:"symptoms"`
	Readings   []trace.Reading   `json:"readings"`
	Cause      string            `json:"cause"`
	Reason     string            `json:"reason"`
	Soak       string            `json:"soak"`
	Parts      string            `json:"parts"`
	Priced     []trace.Part      `json:"priced"` // the mend's parts, for their prices
	Minutes    string            `json:"minutes"`
	Money      string            `json:"money"`
	Outcome    string            `json:"outcome"`
}

// Sheet writes the job sheet as Markdown.
func (d *Door) Sheet(question string) string {
	if d.device == nil {
		return fail(errNoDevice)
	}
	var f sheetForm
	if err := read(question, &f); err != nil {
		return fail(err)
	}
	minutes, err := plainNumber("Minutes in all", f.Minutes)
	if err != nil {
		return fail(err)
	}
	money, err := plainNumber("Money for parts", f.Money)
	if err != nil {
		return fail(err)
	}
	soak, err := plainNumber("Minutes of the soak under load", f.Soak)
	if err != nil {
		return fail(err)
	}
	if !date(f.Date) {
		return fail(errors.New("the date should be written year-month-day, like 2025-03-04"))
	}
	if c := d.device.Cause(trace.CauseID(f.Cause)); c != nil && c.Protective && f.Outcome == "mended" {
		switch {
		case strings.TrimSpace(f.Reason) == "":
			return fail(errors.New("this is a protective part: write why it opened, or “reason not found” and the minutes of a soak under load that it passed"))
		case trace.NoReason(f.Reason) && soak == 0:
			return fail(errors.New("no reason was found for a protective part: run it under full load, watched, and write the minutes it passed"))
		}
	}
	s := trace.Sheet{Device: f.Device, Date: f.Date, OwnerSays: f.OwnerSays, Before: f.Before, Tried: f.Tried, Limit: f.Limit,
		Reproduced: f.Reproduced, Symptoms: f.Symptoms, Cause: f.Cause, Reason: f.Reason, Soak: soak, Minutes: minutes, Money: money, Outcome: f.Outcome}
	spent := 0.0
	for _, r := range f.Readings {
		if t := d.device.Test(r.Test); t != nil && r.Minutes == 0 {
			r.Minutes = t.Minutes
		}
		spent += r.Minutes
		s.Readings = append(s.Readings, r)
	}
	if s.Minutes == 0 {
		s.Minutes = spent
	}
	for _, name := range strings.Split(f.Parts, ",") {
		name = strings.TrimSpace(name)
		if name == "" {
			continue
		}
		p := trace.Part{Part: name, Count: 1}
		for _, known := range f.Priced {
			if known.Part == name {
				p = known
			}
		}
		s.Parts = append(s.Parts, p)
	}
	return write(map[string]string{"markdown": s.Markdown(), "name": f.Date + "-" + f.Device + "-1.md"})
}

func plainNumber(what, text string) (float64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	v, err := quantity.Parse(quantity.Money, text)
	if err != nil || v.Num < 0 {
		return 0, errors.New(what + ": write a plain number such as 45")
	}
	return v.Num, nil
}

func date(s string) bool {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return false
	}
	return strings.Trim(s[:4]+s[5:7]+s[8:], "0123456789") == ""
}
