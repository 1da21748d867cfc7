package reckoner

import (
	"errors"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/calc/reading"
	"faultleaf/calc/trace"
	"faultleaf/cmd/browser/internal/door"
)

// sheetForm is a job as its page sends it: numbers as typed.
type sheetForm struct {
	Code       string            `json:"code"`
	Device     string            `json:"device"`
	Type       string            `json:"type"`
	By         string            `json:"by"`
	Date       string            `json:"date"`
	OwnerSays  string            `json:"ownerSays"`
	Before     string            `json:"before"`
	Tried      string            `json:"tried"`
	Limit      string            `json:"limit"`
	Reproduced string            `json:"reproduced"`
	Symptoms   []trace.SymptomID `json:"symptoms"`
	Readings   []trace.Reading   `json:"readings"`
	ByHand     []trace.BlockID   `json:"byHand"` // where something that no note describes was put right
	Gone       []string          `json:"gone"`   // symptoms and readings of which the notes know no more
	Cause      string            `json:"cause"`
	CauseGone  string            `json:"causeGone"`
	Protective bool              `json:"protective"`
	Reason     string            `json:"reason"`
	Soak       string            `json:"soak"`
	Parts      string            `json:"parts"`
	Minutes    float64           `json:"minutes"`
	Money      string            `json:"money"`
	Outcome    string            `json:"outcome"`
	Told       string            `json:"told"`
	Notes      string            `json:"notes"`
	Proofs     []struct {
		Kind  trace.ProofKind `json:"kind"`
		Value string          `json:"value"`
		Limit string          `json:"limit"`
		Pass  string          `json:"pass"`
		Why   string          `json:"why"`
	} `json:"proofs"`
	Needs []trace.Need `json:"needs"`
}

// Sheet writes the job sheet as Markdown. Beside it stands what is still missing
// for the word "mended"; with something missing there is no such sheet.
func (k *Reckoner) Sheet(question string) string {
	var f sheetForm
	if err := door.Read(question, &f); err != nil {
		return door.Fail(err)
	}
	s := trace.Sheet{Code: f.Code, Device: f.Device, Type: f.Type, By: f.By, Date: f.Date, OwnerSays: f.OwnerSays, Before: f.Before, Tried: f.Tried, Limit: f.Limit,
		Reproduced: f.Reproduced, Symptoms: f.Symptoms, Readings: f.Readings, Cause: f.Cause, Reason: f.Reason, Minutes: f.Minutes, Outcome: f.Outcome, Told: f.Told}
	for _, p := range f.Proofs {
		s.Proofs = append(s.Proofs, trace.Proof(p))
	}
	lacks := trace.Lacks(f.Needs, s.Proofs)
	answer := func(err error, markdown string) string {
		a := struct {
			Error    *door.Problem `json:"error,omitempty"`
			Markdown string        `json:"markdown,omitempty"`
			Name     string        `json:"name,omitempty"`
			Lacks    []string      `json:"lacks"`
		}{Markdown: markdown, Lacks: append([]string{}, lacks...)}
		if err != nil {
			a.Error = &door.Problem{Says: err.Error()}
		} else {
			a.Name = f.Code + "-" + f.Device + ".md"
		}
		return door.Write(a)
	}
	var err error
	if s.Money, err = plainNumber("Money for parts", f.Money); err != nil {
		return answer(err, "")
	}
	if s.Soak, err = plainNumber("Minutes of the soak under load", f.Soak); err != nil {
		return answer(err, "")
	}
	if s.Parts, err = usedParts(f.Parts); err != nil {
		return answer(err, "")
	}
	if !date(f.Date) {
		return answer(errors.New("the date should be written year-month-day, like 2025-03-04"), "")
	}
	for _, r := range s.Readings {
		if !(r.Minutes >= 0 && r.Minutes < 6000) {
			return answer(errors.New("a reading cannot have taken "+quantity.Number(r.Minutes)+" minutes"), "")
		}
	}
	if f.Outcome == "mended" {
		switch {
		case f.Protective && strings.TrimSpace(f.Reason) == "":
			return answer(errors.New("this is a protective part: write why it opened, or “reason not found” and the minutes of a soak under load that it passed"), "")
		case f.Protective && trace.NoReason(f.Reason) && s.Soak == 0:
			return answer(errors.New("no reason was found for a protective part: run it under full load, watched, and write the minutes it passed"), "")
		case len(lacks) > 0:
			return answer(errors.New("“mended” stands on a sheet only with its proofs; show them, or choose another outcome"), "")
		}
	}
	var notes []string
	if t := strings.TrimSpace(f.Notes); t != "" {
		notes = append(notes, t)
	}
	if len(f.ByHand) > 0 {
		notes = append(notes, putRight(f.ByHand))
	}
	if f.CauseGone != "" {
		notes = append(notes, "The notes have no fault "+f.CauseGone+" any more.")
	}
	if len(f.Gone) > 0 {
		notes = append(notes, "Entered before the notes changed: "+strings.Join(f.Gone, "; ")+".")
	}
	s.Notes = strings.Join(notes, "\n\n")
	return answer(nil, s.Markdown())
}

// putRight says where something that no note describes was put right by hand.
func putRight(where []trace.BlockID) string {
	var names []string
	for _, id := range where {
		name := "the " + string(id)
		if id == "" {
			name = "outside the chain"
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return "Put right by hand, in no note: " + strings.Join(names, "; ") + "."
}

// usedParts reads "1 × fuse-5a at 0.40; 2 × tag".
func usedParts(text string) ([]trace.Part, error) {
	var out []trace.Part
	for _, one := range strings.Split(text, ";") {
		one = strings.TrimSpace(one)
		if one == "" {
			continue
		}
		p := trace.Part{Part: one, Count: 1}
		for _, sign := range []string{"×", " x ", "*"} {
			if n, rest, ok := strings.Cut(one, sign); ok {
				if v, err := quantity.Parse(quantity.Ratio, strings.TrimSpace(n)); err == nil && v.Num > 0 && v.Num <= 1e6 {
					p.Count, p.Part = v.Num, strings.TrimSpace(rest)
					break
				}
			}
		}
		if i := strings.LastIndex(p.Part, " at "); i > 0 {
			v, err := plainNumber("Parts", strings.TrimSpace(p.Part[i+4:]))
			if err != nil {
				return nil, errors.New("Parts: “" + one + "” has no price that can be read; write it like 1 × fuse-5a at 0.40")
			}
			p.Price, p.Part = v, strings.TrimSpace(p.Part[:i])
		}
		if p.Part == "" {
			return nil, errors.New("Parts: “" + one + "” names no part; write it like 1 × fuse-5a at 0.40")
		}
		out = append(out, p)
	}
	return out, nil
}

func plainNumber(what, text string) (float64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	v, err := quantity.Parse(quantity.Money, text)
	if err != nil || v.Num < 0 || v.Ranged() {
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

// plainKinds are readings that a step takes and nothing judges.
var plainKinds = map[string]quantity.Kind{"voltage": quantity.Voltage, "current": quantity.Current, "resistance": quantity.Resistance,
	"temperature": quantity.Temperature, "power": quantity.Power, "time": quantity.Duration}

// Judge holds the reading of a checklist's step against its rule.
func (k *Reckoner) Judge(question string) string {
	var q struct {
		Kind   string `json:"kind"`
		Value  string `json:"value"`
		Inputs string `json:"inputs"` // name=value&name=value
		Class  string `json:"class"`
	}
	if err := door.Read(question, &q); err != nil {
		return door.Fail(err)
	}
	type verdict struct {
		Value string `json:"value"`
		Word  string `json:"word,omitempty"` // passes, fails, or another word of the calculator
		Says  string `json:"says"`
		Limit string `json:"limit,omitempty"`
	}
	value := strings.TrimSpace(q.Value)
	if kind, ok := plainKinds[q.Kind]; ok {
		v, err := measured(kind, value)
		if err != nil {
			return door.Fail(err)
		}
		return door.Write(verdict{Value: value, Says: v.Text()})
	}
	if q.Kind == string(trace.Polarity) {
		if value == "right" {
			return door.Write(verdict{Value: value, Word: "passes", Says: "Passes: line and neutral stand where they belong."})
		}
		return door.Write(verdict{Value: value, Word: "fails", Says: "Fails: it stays here."})
	}
	name, inputs := trace.ProofKind(q.Kind).Judge()
	c, ok := k.calculators().Find(name)
	if !ok {
		return door.Fail(errors.New("there is no reading " + q.Kind))
	}
	in, _ := c.Input("reading")
	shown, err := reading.Parse(in.Kind, value, reading.Meter{})
	switch {
	case err != nil:
		return door.Fail(err)
	case shown.Bounded():
		if _, err := measured(in.Kind, value); err != nil {
			return door.Fail(err)
		}
	case q.Kind == string(trace.Insulation) && shown.Shows == reading.Over && !shown.Stated:
		return door.Fail(errors.New("write what the tester shows above its range, like >300 MΩ"))
	}
	settings := []calc.Setting{{Name: "reading", Value: value}}
	given := map[string]bool{}
	for _, pair := range strings.Split(q.Inputs, "&") {
		if n, v, ok := strings.Cut(pair, "="); ok {
			settings = append(settings, calc.Setting{Name: n, Value: v})
			given[n] = true
		}
	}
	for _, pair := range inputs {
		settings = append(settings, calc.Setting{Name: pair[0], Value: pair[1]})
	}
	if _, has := c.Input("class"); has && !given["class"] && q.Class != "" {
		settings = append(settings, calc.Setting{Name: "class", Value: strings.ToLower(q.Class)})
	}
	r, err := c.Run(settings)
	if err != nil {
		return door.Fail(err)
	}
	v := verdict{Value: value}
	if o, ok := r.Output("verdict"); ok {
		v.Word, v.Says = o.Word, o.Text
	}
	if o, ok := r.Output("limit"); ok {
		v.Limit = "limit " + o.Text
	}
	if v.Word != "passes" {
		v.Says += " It stays here."
		v.Word = "fails"
	}
	return door.Write(v)
}

// measured reads an amount that somebody writes down from a meter: a bare number
// could be anything, so its unit has to stand there.
func measured(kind quantity.Kind, text string) (quantity.Value, error) {
	v, err := quantity.Parse(kind, text)
	if err != nil {
		return v, err
	}
	if strings.Trim(text, "0123456789.,+- ") == "" {
		return v, errors.New("write the unit too, like " + quantity.Of(kind, v.Num).Text())
	}
	return v, nil
}
