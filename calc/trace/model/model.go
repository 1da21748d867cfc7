// Package model reads fault-finding models from JSON, in the form of published
// check cases: a file {"cases": [...]}, each case with goal, causes, tests,
// repairs and access.
package model

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/big"
	"sort"
	"strings"
	"unicode/utf8"

	"faultleaf/calc/trace/solve"
)

// Case is one model and, where the file has them, its recomputed results.
type Case struct {
	ID, Title string
	Model     solve.Model
	Err       error // why the case cannot be solved here; nil if it can
	// From the file, for checks: the optimum (0 if not given) and every first
	// action that reaches it.
	Optimum float64
	Firsts  []string
	Large   bool
}

// Unsupported is the error of a case with a feature that the engine lacks.
type Unsupported struct{ Feature string }

func (u *Unsupported) Error() string {
	return "this case needs " + strings.ReplaceAll(u.Feature, "_", " ") + ", which the engine does not have"
}

type file struct {
	Cases []rawCase `json:"cases"`
}

type rawCase struct {
	ID         string      `json:"id"`
	Title      string      `json:"title"`
	Goal       string      `json:"goal"`
	Needs      []string    `json:"needs"`
	Causes     []rawCause  `json:"causes"`
	Tests      []rawAction `json:"tests"`
	Repairs    []rawAction `json:"repairs"`
	Access     []rawGroup  `json:"access_groups"`
	Generator  any         `json:"generator"`
	Recomputed struct {
		Decimal float64  `json:"decimal"`
		Firsts  []string `json:"optimal_first_actions"`
	} `json:"recomputed"`
}

type rawCause struct {
	Name  string `json:"name"`
	Prior number `json:"prior"`
	Class string `json:"class"`
}

type rawGroup struct {
	Name   string `json:"name"`
	Cost   number `json:"cost"`
	Inside string `json:"inside"`
}

type rawAction struct {
	Name     string          `json:"name"`
	Cost     number          `json:"cost"`
	Outcomes json.RawMessage `json:"outcomes"`
	Access   names           `json:"access"`
	Needs    names           `json:"needs"`
	After    names           `json:"after"`
	Fixes    names           `json:"fixes"` // "all", or the causes' names
	Succeeds number          `json:"succeeds"`
}

// number is a JSON number or an exact string such as "8/23".
type number float64

func (n *number) UnmarshalJSON(b []byte) error {
	text := strings.Trim(string(b), `"`)
	if text == "null" || strings.Trim(text, "0123456789+-./eE") != "" {
		return fmt.Errorf("%s is no number", b)
	}
	if len(text) > 60 || strings.ContainsAny(text, "eE") {
		var f float64
		if err := json.Unmarshal([]byte(text), &f); err != nil {
			return fmt.Errorf("%s is no number", text)
		}
		*n = number(f)
		return nil
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return fmt.Errorf("%s is no number", b)
	}
	f, _ := r.Float64()
	*n = number(f)
	return nil
}

// names is a list of names, or a single one.
type names []string

func (n *names) UnmarshalJSON(b []byte) error {
	var one string
	if json.Unmarshal(b, &one) == nil {
		*n = names{one}
		return nil
	}
	return json.Unmarshal(b, (*[]string)(n))
}

// Read reads all cases of a file. A case that cannot be used carries its error;
// an error is returned only if the file as a whole cannot be read.
func Read(r io.Reader) ([]Case, error) {
	b, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	var f file
	if err := json.Unmarshal(b, &f); err != nil {
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			line := 1 + strings.Count(string(b[:min(int(syntax.Offset), len(b))]), "\n")
			return nil, fmt.Errorf("line %d of the model file is no JSON (%v); mend it there", line, err)
		}
		return nil, fmt.Errorf("the model file does not have the form of fault-finding cases (%v)", err)
	}
	if len(f.Cases) == 0 {
		return nil, errors.New(`the model file holds no cases; it should be {"cases": [...]}`)
	}
	var cases []Case
	for _, c := range f.Cases {
		out := Case{ID: c.ID, Title: c.Title, Optimum: c.Recomputed.Decimal, Firsts: c.Recomputed.Firsts}
		for _, n := range c.Needs {
			out.Large = out.Large || n == "large"
		}
		out.Model, out.Err = build(c)
		cases = append(cases, out)
	}
	return cases, nil
}

// features that the engine has.
var has = map[string]bool{"multi_outcome": true, "classes": true, "repairs": true, "prerequisites": true, "large": true, "noisy": true,
	"access": true, "noise": true, "clusters": true}

func build(c rawCase) (solve.Model, error) {
	m := solve.Model{Goal: solve.Goal(c.Goal)}
	if c.Goal != string(solve.Identify) && c.Goal != string(solve.Confirm) && c.Goal != string(solve.Fix) {
		return m, &Unsupported{"the goal " + c.Goal}
	}
	for _, n := range c.Needs {
		if !has[n] {
			return m, &Unsupported{n}
		}
	}
	if c.Generator != nil && len(c.Causes) == 0 {
		return m, &Unsupported{"a generator for its causes"}
	}
	index := map[string]int{}
	for i, x := range c.Causes {
		index[x.Name] = i
		m.Causes = append(m.Causes, solve.Cause{Name: x.Name, Prior: float64(x.Prior), Class: x.Class})
	}
	for _, g := range c.Access {
		m.Access = append(m.Access, solve.Group{Name: g.Name, Cost: float64(g.Cost), Inside: g.Inside})
	}
	for _, t := range c.Tests {
		spreads, err := outcomes(t.Outcomes, len(c.Causes))
		if err != nil {
			return m, fmt.Errorf("the test %s: %w", t.Name, err)
		}
		m.Tests = append(m.Tests, solve.Test{Name: t.Name, Cost: float64(t.Cost), Needs: append(t.Access, t.Needs...), After: t.After, Outcomes: spreads})
	}
	for _, r := range c.Repairs {
		rep := solve.Repair{Name: r.Name, Cost: float64(r.Cost), Needs: append(r.Access, r.Needs...), After: r.After, Succeeds: float64(r.Succeeds)}
		for _, f := range r.Fixes {
			if i, ok := index[f]; ok {
				rep.Fixes = append(rep.Fixes, i)
				continue
			}
			if f != "all" {
				return m, fmt.Errorf("the repair %s cures %s, which is no cause", r.Name, f)
			}
			for i := range c.Causes {
				rep.Fixes = append(rep.Fixes, i)
			}
		}
		m.Repairs = append(m.Repairs, rep)
	}
	return m, nil
}

// outcomes reads a string with a character per cause, or a list with a label or
// {label: chance} per cause.
func outcomes(raw json.RawMessage, n int) ([]solve.Spread, error) {
	var text string
	if json.Unmarshal(raw, &text) == nil {
		if utf8.RuneCountInString(text) != n {
			return nil, fmt.Errorf("%d outcomes for %d causes", utf8.RuneCountInString(text), n)
		}
		var out []solve.Spread
		for _, r := range text {
			out = append(out, solve.Sure(string(r)))
		}
		return out, nil
	}
	var list []json.RawMessage
	if err := json.Unmarshal(raw, &list); err != nil {
		return nil, errors.New("its outcomes are neither a string nor a list")
	}
	if len(list) != n {
		return nil, fmt.Errorf("%d outcomes for %d causes", len(list), n)
	}
	var out []solve.Spread
	for _, item := range list {
		var label string
		if json.Unmarshal(item, &label) == nil {
			out = append(out, solve.Sure(label))
			continue
		}
		var spread map[string]number
		if json.Unmarshal(item, &spread) != nil {
			out = append(out, solve.Sure(string(item))) // a bare number as label
			continue
		}
		var labels []string
		for l := range spread {
			labels = append(labels, l)
		}
		sort.Strings(labels)
		var s solve.Spread
		for _, l := range labels {
			s = append(s, solve.LabelChance{Label: l, Chance: float64(spread[l])})
		}
		out = append(out, s)
	}
	return out, nil
}
