// Package calccmd is the command calc.
package calccmd

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
)

// Options of the command.
type Options struct {
	env.Folders
	Args []string
	JSON bool
	All  bool
}

// calculators are the shop's, with its mains, rate and rules as defaults; outside any shop
// they have their own.
func (o *Options) calculators(e *env.Env) (all.List, error) {
	if _, err := os.Stat(filepath.Join(o.From, "content", "shop.yaml")); errors.Is(err, fs.ErrNotExist) {
		if o.From != "." {
			return nil, o.Check()
		}
		return all.Calculators, nil
	}
	shop, mistakes := note.LoadShop(os.DirFS(o.From), all.Find)
	if len(mistakes) > 0 {
		return nil, e.Tell(mistakes)
	}
	return all.At(shop.Values()), nil
}

// New makes the command with one command below it for each calculator.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "calc [NAME] [input=value ...]",
		Short: "Compute, with the calculators of the site",
		Long: `Calc without a name lists the calculators by shelf. With a name and inputs
it computes: amounts are written as on a bench (4k7, 100n, 17V±2%, 0,5 A).
Inputs that are not given take their default: mains, hertz, rate and rules those of
the shop whose folder this is. A reading has none and is asked for.`,
		Example: "  faultleaf calc rectifier ac=17V load=0.5A\n  faultleaf calc element --help",
		RunE: func(_ *cobra.Command, args []string) error {
			o.Args = args
			return Run(e, o)
		},
	}
	c.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
		var list []cobra.Completion
		for _, k := range all.Calculators {
			list = append(list, cobra.CompletionWithDesc(k.Name, k.Title))
		}
		return list, cobra.ShellCompDirectiveNoFileComp
	}
	c.PersistentFlags().StringVar(&o.From, "from", ".", "the folder of the shop whose values are the defaults")
	c.PersistentFlags().BoolVar(&o.JSON, "json", false, "print JSON, in SI units")
	c.Flags().BoolVar(&o.All, "all", false, "describe every calculator (with --json)")
	for _, k := range all.Calculators {
		one := &cobra.Command{
			Use: k.Name + " [input=value ...]", Short: k.Title, Hidden: true, ValidArgsFunction: inputs(k),
			RunE: func(_ *cobra.Command, args []string) error {
				return Run(e, Options{Folders: o.Folders, Args: append([]string{k.Name}, args...), JSON: o.JSON})
			},
		}
		usual := one.HelpFunc()
		one.SetHelpFunc(func(c *cobra.Command, args []string) {
			one.Long = help(k)
			if list, err := o.calculators(e); err == nil { // else it is said when it computes
				if at, ok := list.Find(k.Name); ok {
					one.Long = help(at)
				}
			}
			usual(c, args)
		})
		c.AddCommand(one)
	}
	return c
}

func names() (list []string) {
	for _, c := range all.Calculators {
		list = append(list, c.Name)
	}
	return list
}

// inputs completes the inputs of a calculator, and the words that one may be.
func inputs(k *calc.Calculator) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, begun string) (list []cobra.Completion, _ cobra.ShellCompDirective) {
		for _, in := range k.Inputs {
			if len(in.Choices) == 0 || !strings.HasPrefix(begun, in.Name+"=") {
				list = append(list, cobra.CompletionWithDesc(in.Name+"=", in.Label))
				continue
			}
			for _, word := range in.Choices {
				list = append(list, in.Name+"="+word.Name)
			}
		}
		return list, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
}

func help(k *calc.Calculator) string {
	var b strings.Builder
	b.WriteString(k.For + "\n\nInputs:\n")
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, in := range k.Inputs {
		def := in.Default
		switch {
		case in.Measured && !in.Optional:
			def = "to be measured"
		case def == "":
			def = "may be left out"
		}
		hint := in.Help
		if len(in.Choices) > 0 {
			var names []string
			for _, c := range in.Choices {
				names = append(names, c.Name)
			}
			hint = strings.TrimSpace("one of " + strings.Join(names, ", ") + ". " + hint)
		}
		if len(in.Text) > 0 {
			hint = strings.TrimSpace("like " + strings.Join(in.Text, "; ") + ". " + hint)
		}
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s\n", in.Name, def, in.Label, hint)
	}
	w.Flush()
	b.WriteString("\nOutputs:\n")
	for _, o := range k.Outputs {
		fmt.Fprintf(w, "  %s\t%s\n", o.Name, o.Label)
	}
	w.Flush()
	for _, c := range k.Cautions {
		b.WriteString("\n" + string(c.Signal) + ": " + c.Text + "\n")
	}
	return b.String()
}

// Run lists, describes or computes.
func Run(e *env.Env, o Options) error {
	if o.All {
		return describe(e, o)
	}
	if len(o.Args) == 0 {
		return list(e)
	}
	calculators, err := o.calculators(e)
	if err != nil {
		return err
	}
	c, ok := calculators.Find(o.Args[0])
	if !ok {
		if near := note.Nearest(o.Args[0], names()); near != "" {
			return env.None("calculator", o.Args[0], names())
		}
		return env.Bad("there is no calculator “" + o.Args[0] + "”; faultleaf calc lists them")
	}
	var settings []calc.Setting
	for _, a := range o.Args[1:] {
		name, value, ok := strings.Cut(a, "=")
		if !ok {
			return env.Bad("“" + a + "” is no input; write name=value, with quotes around it if it holds a space")
		}
		settings = append(settings, calc.Setting{Name: strings.TrimSpace(name), Value: value})
	}
	r, err := c.Run(settings)
	if err != nil {
		var bad *calc.InputError
		if errors.As(err, &bad) {
			return env.Bad(bad.Says)
		}
		return env.Bad(err.Error())
	}
	if o.JSON {
		return e.JSON(asJSON(r))
	}
	w := tabwriter.NewWriter(e.Out, 0, 0, 2, ' ', 0)
	for _, out := range r.Outputs {
		def, _ := c.Output(out.Name)
		fmt.Fprintf(w, "%s\t%s\n", def.Label, out.Text)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if taken := taken(r); taken != "" {
		fmt.Fprintln(e.Out, taken)
	}
	for _, n := range r.Notes {
		fmt.Fprintln(e.Out, "Note:", n)
	}
	for _, c := range c.Cautions {
		fmt.Fprintln(e.Out, string(c.Signal)+":", c.Text)
	}
	return nil
}

// taken says on which values nobody entered the result rests.
func taken(r calc.Result) string {
	var list []string
	for _, g := range r.Inputs {
		if d, _ := r.Calculator.Input(g.Name); g.Default && g.Written != "" && !d.Folded {
			list = append(list, g.Name+"="+g.Written)
		}
	}
	switch {
	case len(list) == 0:
		return ""
	case r.Example:
		return "An example, with " + strings.Join(list, ", ") + ". Enter your own."
	}
	return "Taken, as not entered: " + strings.Join(list, ", ") + "."
}

func list(e *env.Env) error {
	shelf := calc.Shelf("")
	w := tabwriter.NewWriter(e.Out, 0, 0, 2, ' ', 0)
	for _, c := range all.Calculators {
		if c.Shelf != shelf {
			shelf = c.Shelf
			fmt.Fprintln(w, strings.ToUpper(string(shelf[:1]))+string(shelf[1:]))
		}
		fmt.Fprintf(w, "  %s\t%s\n", c.Name, c.Title)
	}
	return w.Flush()
}

// result is one computation as JSON: SI values, and the text as printed.
type result struct {
	Calculator string   `json:"calculator"`
	Inputs     []input  `json:"inputs"`
	Outputs    []output `json:"outputs"`
	Notes      []string `json:"notes,omitempty"`
	Example    bool     `json:"example,omitempty"` // nothing was entered
}

type input struct {
	Name    string   `json:"name"`
	Value   *float64 `json:"value"`
	Unit    string   `json:"unit"`
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	Text    string   `json:"text"`
	Default bool     `json:"default,omitempty"`
}

type output struct {
	Name  string   `json:"name"`
	Value any      `json:"value"` // a number in SI units, or a word
	Unit  string   `json:"unit"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
	Text  string   `json:"text"`
}

func asJSON(r calc.Result) result {
	out := result{Calculator: r.Calculator.Name, Inputs: []input{}, Outputs: []output{}, Notes: r.Notes, Example: r.Example}
	for _, g := range r.Inputs {
		in := input{Name: g.Name, Text: g.Written, Default: g.Default}
		if g.Value.Kind != "" {
			v := g.Value
			in.Value, in.Low, in.High, in.Unit = &v.Num, &v.Low, &v.High, v.Kind.Unit()
		}
		out.Inputs = append(out.Inputs, in)
	}
	for _, c := range r.Outputs {
		o := output{Name: c.Name, Value: c.Word, Text: c.Text}
		if c.Value.Kind != "" {
			v := c.Value
			o.Value, o.Low, o.High, o.Unit = v.Num, &v.Low, &v.High, v.Kind.Unit()
		}
		out.Outputs = append(out.Outputs, o)
	}
	return out
}

// described is one calculator as JSON, for editors and scripts.
type described struct {
	Name    string           `json:"name"`
	Title   string           `json:"title"`
	For     string           `json:"for"`
	Shelf   string           `json:"shelf"`
	Inputs  []describedIn    `json:"inputs"`
	Outputs []describedOut   `json:"outputs"`
	Plots   []string         `json:"plots"`
	Caution []map[string]any `json:"cautions"`
}

type describedIn struct {
	Name     string   `json:"name"`
	Label    string   `json:"label"`
	Kinds    []string `json:"kinds"`
	Choices  []string `json:"choices,omitempty"`
	Texts    []string `json:"texts,omitempty"` // a marking or reading in words; possible ones
	Default  string   `json:"default"`
	Low      string   `json:"low,omitempty"`
	High     string   `json:"high,omitempty"`
	Optional bool     `json:"optional"`
	Measured bool     `json:"measured,omitempty"` // no default: it is read off a meter or a part
	Help     string   `json:"help,omitempty"`
}

type describedOut struct {
	Name  string `json:"name"`
	Label string `json:"label"`
	Kind  string `json:"kind"`
	Unit  string `json:"unit"`
}

func describe(e *env.Env, o Options) error {
	if !o.JSON {
		return env.Bad("--all describes the calculators as JSON; add --json")
	}
	list := []described{}
	calculators, err := o.calculators(e)
	if err != nil {
		return err
	}
	for _, c := range calculators {
		d := described{Name: c.Name, Title: c.Title, For: c.For, Shelf: string(c.Shelf), Plots: []string{}, Caution: []map[string]any{}}
		for _, in := range c.Inputs {
			di := describedIn{Name: in.Name, Label: in.Label, Kinds: []string{}, Default: in.Default, Low: in.Low, High: in.High, Optional: in.Optional, Measured: in.Measured, Help: in.Help, Texts: in.Text}
			if in.Kind != "" {
				di.Kinds = append(di.Kinds, string(in.Kind))
			}
			for _, k := range in.Or {
				di.Kinds = append(di.Kinds, string(k))
			}
			for _, ch := range in.Choices {
				di.Choices = append(di.Choices, ch.Name)
			}
			d.Inputs = append(d.Inputs, di)
		}
		for _, out := range c.Outputs {
			d.Outputs = append(d.Outputs, describedOut{out.Name, out.Label, string(out.Kind), out.Kind.Unit()})
		}
		for _, p := range c.Plots {
			d.Plots = append(d.Plots, p.Name)
		}
		for _, x := range c.Cautions {
			d.Caution = append(d.Caution, map[string]any{"signal": string(x.Signal), "text": x.Text})
		}
		list = append(list, d)
	}
	return e.JSON(list)
}
