// Package tracecmd is the command trace.
package tracecmd

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/blocks"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/calc/trace/model"
	"faultleaf/calc/trace/say"
	"faultleaf/calc/trace/solve"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/site"
)

// Options of the command.
type Options struct {
	env.Folders
	Args        []string
	Model, Case string
	JSON, Ask   bool
	Tried       []string // faults mended in vain
	Skip        []string // tests that cannot be taken, TEST or TEST=why
	Suspect     string   // the fault that is asked about
	Terms       trace.Terms

	Picked blocks.Picked // a device that nobody has written up
	Plate  []string      // NAME=VALUE
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "trace DEVICE [SYMPTOM ...] [not:SYMPTOM ...] [TEST=READING ...] [tried:FAULT ...] [looked:BLOCK ...] [byhand:BLOCK ...]",
		Short: "Say which test to do next on a device, and why",
		Long: `Trace takes the symptoms and the readings so far and says what to do next.
A mend that did not cure is named by --tried FAULT, or as tried:FAULT among the
readings, in the order in which things were done; looked:BLOCK is a block looked
into by hand in vain, byhand:BLOCK one in which something that no note describes
was put right, while something is wrong still. A test that cannot be taken is named by --skip TEST, or
--skip TEST=why with no-instrument, not-allowed or would-harm.

With --ask it goes on: it reads each outcome from the input, a line each, until
the mend; "cannot", or "cannot: why", skips a test, and "can TEST" takes that
back. With --model FILE --case ID it solves a bare fault-finding
model in JSON as it is written.

With --blocks it traces a device that nobody has written up, made of common
blocks; its rating plate and its class of protection go with it, and symptoms
are complaints.`,
		Example: "  faultleaf trace fan-heater air-cold\n  faultleaf trace fan-heater air-cold element-ohms=26Ω --json\n  faultleaf trace fan-heater --ask\n  faultleaf trace --blocks \"mains-plug mains-cord contact-switch [ cut-out=thermal-link heating-wire | small-fan-motor ]\" --plate power=2kW --class I dead",
		RunE: func(_ *cobra.Command, args []string) error {
			o.Args = args
			return Run(e, o)
		},
	}
	o.AddFrom(c)
	c.Flags().BoolVar(&o.JSON, "json", false, "print JSON")
	c.Flags().BoolVar(&o.Ask, "ask", false, "ask for each reading and go on to the end")
	c.Flags().StringArrayVar(&o.Tried, "tried", nil, "a fault whose mend did not cure, done after all readings")
	c.Flags().StringArrayVar(&o.Skip, "skip", nil, "a test that cannot be taken, as TEST or TEST=why")
	c.Flags().StringVar(&o.Suspect, "suspect", "", "ask whether it is this fault")
	c.Flags().Float64Var(&o.Terms.Price, "new", 0, "what a new one costs: stop where replacing is cheaper")
	c.Flags().Float64Var(&o.Terms.Limit, "limit", 0, "what the owner will pay at most")
	c.Flags().StringVar(&o.Model, "model", "", "a file of fault-finding models")
	c.Flags().StringVar(&o.Case, "case", "", "the id of the case in that file")
	AddPicked(c, &o.Picked, &o.Plate)
	c.ValidArgsFunction = o.Traced
	_ = c.RegisterFlagCompletionFunc("tried", o.Faults)
	_ = c.RegisterFlagCompletionFunc("suspect", o.Faults)
	_ = c.RegisterFlagCompletionFunc("skip", o.Tests)
	return c
}

// Run advises on a device, or solves a model.
func Run(e *env.Env, o Options) error {
	if o.Model != "" {
		return solveModel(e, o)
	}
	if len(o.Args) == 0 && o.Picked.Blocks == "" {
		return env.Bad("name a device, like: faultleaf trace fan-heater")
	}
	if err := o.Check(); err != nil {
		return err
	}
	set, left, mistakes := site.Healthy(o.From, "")
	if left.All {
		return e.Tell(mistakes)
	}
	if o.Picked.Blocks == "" && left.Has(o.Args[0]) {
		fmt.Fprintf(e.Err, "A note on which the advice about “%s” rests holds a mistake, so there is none:\n", o.Args[0])
		return e.Tell(mistakes)
	}
	e.Warn(mistakes)
	var err error
	var d *trace.Device
	args := o.Args
	if o.Picked.Blocks != "" {
		if d, err = picked(e, set, o); err != nil {
			return err
		}
	} else {
		if d = set.TraceDevice(o.Args[0]); d == nil {
			return fmt.Errorf("%w; --blocks makes one of common blocks", env.None("device", o.Args[0], env.DeviceNames(set)))
		}
		if n, ok := set.Device(o.Args[0]); ok && n.Draft {
			fmt.Fprintf(e.Err, "The note of “%s” is a draft: something is still to be filled in, so this rests on little.\n", n.Title)
		}
		args = o.Args[1:]
	}
	if !(o.Terms.Price >= 0 && o.Terms.Limit >= 0) {
		return env.Bad("--new and --limit take an amount of money, like --limit 30")
	}
	k, err := evidence(o, args)
	if err != nil {
		return err
	}
	if dev, ok := set.Device(d.ID); ok {
		k = dev.Names.Today(d, k)
	}
	a, err := trace.Next(d, k)
	if err != nil {
		return env.Bad(err.Error())
	}
	for _, r := range a.Remarks { // a slip in what was just typed is told at once
		if r.Unusable() {
			return env.Bad(say.Problem(d, r))
		}
	}
	switch {
	case o.Ask:
		return ask(e, d, k, a, trace.Next)
	case o.JSON:
		return e.JSON(asJSON(d, a))
	}
	show(e, d, a)
	for _, id := range leftOut(a) {
		fmt.Fprintf(e.Out, "To take it after all, leave out --skip %s.\n", id)
	}
	return nil
}

// leftOut lists the tests that were let go and without which others are left out.
func leftOut(a trace.Advice) (ids []trace.TestID) {
	for _, r := range a.Remarks {
		if r.About == trace.LeftOut {
			ids = append(ids, r.Test)
		}
	}
	return ids
}

// evidence reads what is known from the arguments, in their order.
func evidence(o Options, args []string) (trace.Evidence, error) {
	k := trace.Evidence{Terms: o.Terms, Suspect: trace.CauseID(o.Suspect)}
	for _, a := range args {
		if no, ok := strings.CutPrefix(a, "not:"); ok {
			k.Absent = append(k.Absent, trace.SymptomID(no))
		} else if id, ok := strings.CutPrefix(a, "tried:"); ok {
			k.Tried = append(k.Tried, trace.Mended{Cause: trace.CauseID(id), Before: len(k.Readings)})
		} else if id, ok := strings.CutPrefix(a, "looked:"); ok {
			if id == "outside" {
				id = ""
			}
			k.Looked = append(k.Looked, trace.BlockID(id))
		} else if id, ok := strings.CutPrefix(a, "byhand:"); ok {
			if id == "outside" {
				id = ""
			}
			k.ByHand = append(k.ByHand, trace.ByHand{Block: trace.BlockID(id), Before: len(k.Readings)})
		} else if test, value, ok := strings.Cut(a, "="); ok {
			k.Readings = append(k.Readings, trace.Reading{Test: trace.TestID(test), Value: value})
		} else {
			k.Symptoms = append(k.Symptoms, trace.SymptomID(a))
		}
	}
	for _, id := range o.Tried {
		k.Tried = append(k.Tried, trace.Mended{Cause: trace.CauseID(id), Before: len(k.Readings)})
	}
	for _, text := range o.Skip {
		test, why, _ := strings.Cut(text, "=")
		w, err := whyNot(why)
		if err != nil {
			return k, err
		}
		k.Skipped = append(k.Skipped, trace.Skip{Test: trace.TestID(test), Why: w})
	}
	return k, nil
}

func whyNot(text string) (trace.WhyNot, error) {
	text = strings.ReplaceAll(strings.TrimSpace(text), " ", "-")
	var names []string
	for _, w := range trace.WhyNots() {
		if text == string(w) {
			return w, nil
		}
		names = append(names, string(w))
	}
	if text == "" {
		return "", nil
	}
	return "", env.Bad("“" + text + "” is no reason why a test cannot be taken; it is one of " + strings.Join(names, ", "))
}

type advice struct {
	Next struct {
		Kind    string  `json:"kind"`
		ID      string  `json:"id"`
		Minutes float64 `json:"minutes"`
	} `json:"next"`
	MinutesFromHere float64         `json:"minutes_from_here"`
	LowerBound      float64         `json:"lower_bound"`
	Optimal         bool            `json:"optimal"`
	Chances         []chance        `json:"chances"`
	Rest            float64         `json:"rest"`
	Unknown         []unknown       `json:"unknown"`
	Located         []trace.BlockID `json:"located"`
	Forbids         []trace.Forbid  `json:"forbids"`
	Why             []string        `json:"why"`
	Notes           []string        `json:"notes,omitempty"`
	Stop            string          `json:"stop,omitempty"`
	Money           *trace.Money    `json:"money,omitempty"`
}

type chance struct {
	ID     string  `json:"id"`
	Chance float64 `json:"chance"`
}

// unknown is the chance of a fault of a block that no note describes; the block
// "" is outside the chain.
type unknown struct {
	Block  string  `json:"block"`
	Chance float64 `json:"chance"`
}

func asJSON(d *trace.Device, a trace.Advice) advice {
	said := say.Advice(d, a)
	out := advice{MinutesFromHere: a.MinutesFromHere, LowerBound: a.LowerBound, Optimal: a.Optimal, Chances: []chance{}, Rest: a.Rest, Unknown: []unknown{},
		Located: append([]trace.BlockID{}, a.Located...), Forbids: append([]trace.Forbid{}, a.Forbids...), Why: said.Why, Notes: said.Notes, Stop: string(a.Stop), Money: a.Money}
	out.Next.Kind, out.Next.ID, out.Next.Minutes = string(a.Kind), a.ID(), a.Minutes
	for _, c := range a.Chances {
		out.Chances = append(out.Chances, chance{string(c.ID), c.Chance})
	}
	for _, u := range a.Unknown {
		out.Unknown = append(out.Unknown, unknown{string(u.Block), u.Chance})
	}
	return out
}

// shownChances is how many noted faults are listed, shownUnknown from which chance
// a fault that no note describes is.
const (
	shownChances = 5
	shownUnknown = .02
)

func show(e *env.Env, d *trace.Device, a trace.Advice) {
	said := say.Advice(d, a)
	fmt.Fprintf(e.Out, "%s: %s", said.Head, said.Title)
	if a.Minutes > 0 {
		fmt.Fprintf(e.Out, " (%s)", quantity.Minutes(a.Minutes))
	}
	fmt.Fprintln(e.Out)
	for _, o := range said.Open {
		fmt.Fprintln(e.Out, "  First:", o.Does+",", o.Minutes)
	}
	if a.Caution != "" {
		fmt.Fprintln(e.Out, "  "+a.Caution)
	}
	for _, s := range append(said.Why, said.Notes...) {
		fmt.Fprintln(e.Out, "  "+s)
	}
	for _, o := range said.Outcomes {
		fmt.Fprintf(e.Out, "    %-18s %-18s %s\n", o.Reading, o.Text, o.Chance)
	}
	fmt.Fprintln(e.Out, "Chances:")
	known := 0
	for _, c := range said.Chances {
		if known++; c.Cause != "" && known > shownChances || c.Cause == "" && c.Share < shownUnknown {
			continue
		}
		fmt.Fprintf(e.Out, "  %-11s %s\n", c.Chance, c.Title)
	}
	fmt.Fprintf(e.Out, "  %-11s not in these notes, all together\n", said.Rest)
	if said.Money != "" && a.Kind != trace.DoStop && a.Kind != trace.Replace {
		fmt.Fprintln(e.Out, said.Money)
	} else if said.FromHere != "" {
		fmt.Fprintln(e.Out, said.FromHere)
	}
}

// ask goes on until the mend or the end of the input.
func ask(e *env.Env, d *trace.Device, k trace.Evidence, a trace.Advice, advise func(*trace.Device, trace.Evidence) (trace.Advice, error)) error {
	in := bufio.NewScanner(e.In)
	for {
		show(e, d, a)
		if a.Stop == trace.StopUnknown {
			fmt.Fprint(e.Out, "\nA fault note to begin with, for content/faults/:\n\n", trace.Draft(d, "", a.Block, k), "\n")
		}
		for _, id := range leftOut(a) {
			fmt.Fprintf(e.Out, "To take it after all, answer: can %s\n", id)
		}
		switch {
		case a.Kind == trace.DoTest:
			fmt.Fprint(e.Out, "It reads > ")
		case a.Kind == trace.DoMend:
			fmt.Fprint(e.Out, "Did it cure? (yes, no, or partly: it was that, and something is wrong still) > ")
		case a.Stop == trace.StopUnknown:
			fmt.Fprint(e.Out, "Was it there? (yes; no: nothing found, go on; or partly: put right, and something is wrong still) > ")
		default:
			return nil
		}
		if !in.Scan() {
			fmt.Fprintln(e.Out)
			return in.Err()
		}
		then, done, err := answered(e, d, k, a, strings.TrimSpace(in.Text()))
		if done || err != nil {
			return err
		}
		next, err := advise(d, then)
		if err != nil {
			fmt.Fprintln(e.Out, err)
			continue
		}
		slip := false
		for _, r := range next.Remarks {
			if r.Unusable() {
				fmt.Fprintln(e.Out, say.Problem(d, r))
				slip = true
			}
		}
		if !slip {
			k, a = then, next
		}
	}
}

// answered is what is known after an answer; done tells that the trace ends with
// it.
func answered(e *env.Env, d *trace.Device, k trace.Evidence, a trace.Advice, answer string) (then trace.Evidence, done bool, err error) {
	then = k
	low := strings.ToLower(answer)
	if id, ok := strings.CutPrefix(low, "can "); ok {
		at := slices.IndexFunc(k.Skipped, func(x trace.Skip) bool { return string(x.Test) == strings.TrimSpace(id) })
		if at < 0 {
			fmt.Fprintln(e.Out, "That test was not let go.")
			return then, false, nil
		}
		then.Skipped = slices.Delete(slices.Clone(k.Skipped), at, at+1)
		return then, false, nil
	}
	switch {
	case a.Kind == trace.DoTest:
		if rest, ok := strings.CutPrefix(low, "cannot"); ok {
			why, err := whyNot(strings.TrimLeft(rest, ": "))
			if err != nil {
				fmt.Fprintln(e.Out, err)
				return then, false, nil
			}
			then.Skipped = append(then.Skipped[:len(then.Skipped):len(then.Skipped)], trace.Skip{Test: a.Test, Why: why})
			return then, false, nil
		}
		then.Readings = append(then.Readings[:len(then.Readings):len(then.Readings)], trace.Reading{Test: a.Test, Value: answer})
	case a.Kind == trace.DoMend && strings.HasPrefix(low, "y"):
		fmt.Fprintln(e.Out, "Found: "+say.Step(d, a.Action, false)+". Now the checks after a repair, then write the job sheet.")
		return then, true, lookBack(e, d, k, a.Cause)
	case strings.HasPrefix(low, "y"):
		fmt.Fprintln(e.Out, "Write the note, so that the next one takes minutes.")
		return then, true, nil
	case a.Kind == trace.DoMend && strings.HasPrefix(low, "p"):
		then.Mended = append(then.Mended[:len(then.Mended):len(then.Mended)], trace.Mended{Cause: a.Cause, Before: len(k.Readings)})
	case a.Kind == trace.DoMend && strings.HasPrefix(low, "n"):
		then.Tried = append(then.Tried[:len(then.Tried):len(then.Tried)], trace.Mended{Cause: a.Cause, Before: len(k.Readings)})
	case strings.HasPrefix(low, "p"):
		then.ByHand = append(then.ByHand[:len(then.ByHand):len(then.ByHand)], trace.ByHand{Block: a.Block, Before: len(k.Readings)})
	case strings.HasPrefix(low, "n"):
		then.Looked = append(then.Looked[:len(then.Looked):len(then.Looked)], a.Block)
	default:
		fmt.Fprintln(e.Out, "Answer yes, no or partly.")
	}
	return then, false, nil
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
			fmt.Fprintf(e.Out, "  %s: %s more than the best step, on average\n", say.Step(d, s.Action, s.Again), quantity.Minutes(s.Extra))
		}
	}
	for _, n := range l.ToNote {
		fmt.Fprintln(e.Out, "  To note:", say.Lesson(d, n))
	}
	return nil
}

func solveModel(e *env.Env, o Options) error {
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
		p, err := solve.Solve(&c.Model, solve.Options{})
		if err != nil {
			return env.Bad(c.ID + ": " + err.Error())
		}
		if !o.JSON {
			fmt.Fprintf(e.Out, "First: %s\nExpected cost: %s, at least %s\n", c.Model.Name(p.First), quantity.Number(p.ExpectedCost), quantity.Number(p.LowerBound))
			return nil
		}
		return e.JSON(struct {
			ExpectedCost float64 `json:"expected_cost"`
			FirstAction  string  `json:"first_action"`
			Optimal      bool    `json:"optimal"`
			LowerBound   float64 `json:"lower_bound"`
			States       int     `json:"states"`
		}{p.ExpectedCost, c.Model.Name(p.First), p.Optimal, p.LowerBound, p.States})
	}
	if o.Case == "" {
		return env.Bad("name a case with --case; the file has " + strings.Join(ids, ", "))
	}
	return env.Bad(errors.New("there is no case “" + o.Case + "” in the file; it has " + strings.Join(ids, ", ")).Error())
}
