// Package tracecmd is the command trace.
package tracecmd

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/model"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
)

// Options of the command.
type Options struct {
	env.Folders
	Args        []string
	Model, Case string
	JSON, Ask   bool
	Terms       trace.Terms
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "trace DEVICE [SYMPTOM ...] [TEST=READING ...]",
		Short: "Say which test to do next on a device, and why",
		Long: `Trace takes the symptoms and the readings so far and says what to do next.
With --ask it goes on: it reads each outcome from the input, a line each,
until the mend. With --model FILE --case ID it solves a bare fault-finding
model in JSON as it is written.`,
		Example: "  faultleaf trace fan-heater air-cold\n  faultleaf trace fan-heater air-cold element-ohms=26Ω --json\n  faultleaf trace fan-heater --ask",
		RunE: func(_ *cobra.Command, args []string) error {
			o.Args = args
			return Run(e, o)
		},
	}
	o.AddFrom(c)
	c.Flags().BoolVar(&o.JSON, "json", false, "print JSON")
	c.Flags().BoolVar(&o.Ask, "ask", false, "ask for each reading and go on to the end")
	c.Flags().Float64Var(&o.Terms.Price, "new", 0, "what a new one costs: stop where replacing is cheaper")
	c.Flags().Float64Var(&o.Terms.Limit, "limit", 0, "what the owner will pay at most")
	c.Flags().StringVar(&o.Model, "model", "", "a file of fault-finding models")
	c.Flags().StringVar(&o.Case, "case", "", "the id of the case in that file")
	return c
}

// Run advises on a device, or solves a model.
func Run(e *env.Env, o Options) error {
	if o.Model != "" {
		return solve(e, o)
	}
	if len(o.Args) == 0 {
		return env.Bad("name a device, like: faultleaf trace fan-heater")
	}
	if err := o.Check(); err != nil {
		return err
	}
	set, mistakes, _ := note.Load(os.DirFS(o.From), all.Find)
	if err := e.Tell(mistakes); err != nil {
		return err
	}
	d := set.TraceDevice(o.Args[0])
	if d == nil {
		var names []string
		for _, d := range set.Devices {
			names = append(names, d.Name)
		}
		return env.Bad("there is no device “" + o.Args[0] + "”; there are " + strings.Join(names, ", "))
	}
	if !(o.Terms.Price >= 0 && o.Terms.Limit >= 0) {
		return env.Bad("--new and --limit take an amount of money, like --limit 30")
	}
	k := trace.Evidence{Terms: o.Terms}
	for _, a := range o.Args[1:] {
		if test, value, ok := strings.Cut(a, "="); ok {
			k.Readings = append(k.Readings, trace.Reading{Test: trace.TestID(test), Value: value})
			continue
		}
		if no, ok := strings.CutPrefix(a, "not:"); ok {
			k.Absent = append(k.Absent, trace.SymptomID(no))
			continue
		}
		k.Symptoms = append(k.Symptoms, trace.SymptomID(a))
	}
	a, err := trace.Next(d, k)
	if err != nil {
		return env.Bad(err.Error())
	}
	switch {
	case o.Ask:
		return ask(e, d, k, a)
	case o.JSON:
		return e.JSON(asJSON(a))
	}
	show(e, d, a)
	return nil
}

type advice struct {
	Next struct {
		Kind    string  `json:"kind"`
		ID      string  `json:"id"`
		Minutes float64 `json:"minutes"`
	} `json:"next"`
	MinutesFromHere float64      `json:"minutes_from_here"`
	LowerBound      float64      `json:"lower_bound"`
	Optimal         bool         `json:"optimal"`
	Chances         []chance     `json:"chances"`
	Rest            float64      `json:"rest"`
	Why             []string     `json:"why"`
	Notes           []string     `json:"notes,omitempty"`
	Stop            string       `json:"stop,omitempty"`
	Money           *trace.Money `json:"money,omitempty"`
}

type chance struct {
	ID     string  `json:"id"`
	Chance float64 `json:"chance"`
}

func asJSON(a trace.Advice) advice {
	out := advice{MinutesFromHere: a.MinutesFromHere, LowerBound: a.LowerBound, Optimal: a.Optimal, Chances: []chance{}, Rest: a.Rest, Why: a.Why, Notes: a.Notes, Stop: string(a.Stop), Money: a.Money}
	out.Next.Kind, out.Next.ID, out.Next.Minutes = a.Kind, a.ID, a.Minutes
	for _, c := range a.Chances {
		out.Chances = append(out.Chances, chance{string(c.ID), c.Chance})
	}
	return out
}

func show(e *env.Env, d *trace.Device, a trace.Advice) {
	head := map[string]string{"test": "Next", "mend": "Mend", "stop": "Stop"}[a.Kind]
	fmt.Fprintf(e.Out, "%s: %s", head, a.Title)
	if a.Minutes > 0 {
		fmt.Fprintf(e.Out, " (%s)", quantity.Minutes(a.Minutes))
	}
	fmt.Fprintln(e.Out)
	for _, id := range a.Open {
		for _, acc := range d.Access {
			if acc.ID == id {
				fmt.Fprintln(e.Out, "  First:", acc.Does+",", quantity.Minutes(acc.Minutes))
			}
		}
	}
	if a.Caution != "" {
		fmt.Fprintln(e.Out, "  "+a.Caution)
	}
	for _, s := range append(a.Why, a.Notes...) {
		fmt.Fprintln(e.Out, "  "+s)
	}
	for _, o := range a.Outcomes {
		fmt.Fprintf(e.Out, "    %-18s %-18s %s\n", o.Reading, o.Text, quantity.Chance(o.Chance))
	}
	fmt.Fprintln(e.Out, "Chances:")
	for i, c := range a.Chances {
		if i == 5 {
			break
		}
		fmt.Fprintf(e.Out, "  %-11s %s\n", quantity.Chance(c.Chance), c.Title)
	}
	fmt.Fprintf(e.Out, "  %-11s not in these notes\n", quantity.Chance(a.Rest))
	if a.Money != nil && a.Kind != "stop" {
		fmt.Fprintln(e.Out, a.Money.Says(d.Shop))
	} else if a.MinutesFromHere > 0 {
		fmt.Fprintf(e.Out, "About %s from here to the end of the mend, if readings are true.\n", quantity.Minutes(a.MinutesFromHere))
	}
}

// ask goes on until the mend or the end of the input.
func ask(e *env.Env, d *trace.Device, k trace.Evidence, a trace.Advice) error {
	in := bufio.NewScanner(e.In)
	for {
		show(e, d, a)
		switch a.Kind {
		case "stop":
			if a.Stop == trace.StopUnknown {
				fmt.Fprint(e.Out, "\nA fault note to begin with, for content/faults/:\n\n", trace.Draft(d, "", "", k))
			}
			return nil
		case "mend":
			fmt.Fprint(e.Out, "Did it cure? (yes, no, or partly: it was that, and something is wrong still) > ")
		default:
			fmt.Fprint(e.Out, "It reads > ")
		}
		if !in.Scan() {
			fmt.Fprintln(e.Out)
			return in.Err()
		}
		answer := strings.TrimSpace(in.Text())
		then := k
		switch {
		case a.Kind == "mend" && strings.HasPrefix(strings.ToLower(answer), "y"):
			fmt.Fprintln(e.Out, "Found: "+a.Title+". Now the checks after a repair, then write the job sheet.")
			return lookBack(e, d, k, trace.CauseID(a.ID))
		case a.Kind == "mend" && strings.HasPrefix(strings.ToLower(answer), "p"):
			then.Mended = append(then.Mended[:len(then.Mended):len(then.Mended)], trace.Mended{Cause: trace.CauseID(a.ID), Before: len(k.Readings)})
		case a.Kind == "mend" && strings.HasPrefix(strings.ToLower(answer), "n"):
			then.Tried = append(then.Tried, trace.CauseID(a.ID))
		case a.Kind == "mend":
			fmt.Fprintln(e.Out, "Answer yes, no or partly.")
			continue
		default:
			then.Readings = append(then.Readings, trace.Reading{Test: trace.TestID(a.ID), Value: answer})
		}
		next, err := trace.Next(d, then)
		if err != nil {
			fmt.Fprintln(e.Out, err)
			continue
		}
		k, a = then, next
	}
}

// lookBack prints the way taken against the best one.
func lookBack(e *env.Env, d *trace.Device, k trace.Evidence, id trace.CauseID) error {
	l, err := trace.LookBack(d, k, id)
	if err != nil {
		return env.Bad(err.Error())
	}
	fmt.Fprintf(e.Out, "Looking back: %s as planned for the steps taken, %s for the best way if all reads as noted.\n", quantity.Minutes(l.TakenMinutes), quantity.Minutes(l.BestMinutes))
	for _, s := range l.Taken {
		if s.Extra >= .5 {
			fmt.Fprintf(e.Out, "  %s: %s more than the best step, on average\n", s.Title, quantity.Minutes(s.Extra))
		}
	}
	for _, n := range l.ToNote {
		fmt.Fprintln(e.Out, "  To note:", n)
	}
	return nil
}

func solve(e *env.Env, o Options) error {
	f, err := os.Open(o.Model)
	if err != nil {
		return env.Bad("the model file cannot be read: " + err.Error())
	}
	defer f.Close()
	cases, err := model.Read(f)
	if err != nil {
		return env.Bad(err.Error())
	}
	var ids []string
	for _, c := range cases {
		ids = append(ids, c.ID)
		if c.ID != o.Case {
			continue
		}
		if c.Err != nil {
			return env.Bad(c.ID + ": " + c.Err.Error())
		}
		p, err := trace.Solve(&c.Model, trace.Options{})
		if err != nil {
			return env.Bad(c.ID + ": " + err.Error())
		}
		if !o.JSON {
			fmt.Fprintf(e.Out, "First: %s\nExpected cost: %s, at least %s\n", p.FirstAction, quantity.Number(p.ExpectedCost), quantity.Number(p.LowerBound))
			return nil
		}
		return e.JSON(struct {
			ExpectedCost float64 `json:"expected_cost"`
			FirstAction  string  `json:"first_action"`
			Optimal      bool    `json:"optimal"`
			LowerBound   float64 `json:"lower_bound"`
			States       int     `json:"states"`
		}{p.ExpectedCost, p.FirstAction, p.Optimal, p.LowerBound, p.States})
	}
	if o.Case == "" {
		return env.Bad("name a case with --case; the file has " + strings.Join(ids, ", "))
	}
	return env.Bad(errors.New("there is no case “" + o.Case + "” in the file; it has " + strings.Join(ids, ", ")).Error())
}
