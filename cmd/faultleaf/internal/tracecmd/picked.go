package tracecmd

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/calc/blocks"
	"faultleaf/calc/trace"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
)

// AddPicked adds the flags that make a device of common blocks.
func AddPicked(c *cobra.Command, p *blocks.Picked, plate *[]string) {
	c.Flags().StringVar(&p.Blocks, "blocks", "", "common blocks in the order the energy goes, as id=kind or kind; [ a | b ] are ways side by side")
	c.Flags().StringArrayVar(plate, "plate", nil, "a line of its rating plate, like power=2kW")
	c.Flags().StringVar(&p.Class, "class", "", "its class of protection: I, II or III")
	c.Flags().StringArrayVar(&p.Has, "has", nil, "an option of a block, like fuse")
	c.Flags().StringVar(&p.Title, "title", "", "what it is")
}

// Fill puts the plate into what was picked, and refuses what stays shut.
func Fill(set *note.Set, p *blocks.Picked, plate []string) error {
	if page := set.StaysShut(p.Title); page != nil {
		return env.Bad("a " + strings.ToLower(strings.TrimSpace(p.Title)) + " stays shut in this shop; " + page.Address() + " says why, and who can")
	}
	p.Plate = map[string]string{"mains": set.Shop.Mains}
	for _, line := range plate {
		name, value, ok := strings.Cut(line, "=")
		if !ok || strings.TrimSpace(name) == "" || strings.TrimSpace(value) == "" {
			return env.Bad("“" + line + "” is no line of a rating plate; write it like power=2kW")
		}
		p.Plate[strings.TrimSpace(name)] = strings.TrimSpace(value)
	}
	return nil
}

// picked makes the device of --blocks and says what it rests on.
func picked(e *env.Env, set *note.Set, o Options) (*trace.Device, error) {
	if err := Fill(set, &o.Picked, o.Plate); err != nil {
		return nil, err
	}
	for _, a := range o.Args {
		if _, _, reading := strings.Cut(a, "="); !reading {
			o.Picked.Shows = append(o.Picked.Shows, strings.TrimPrefix(a, "not:"))
		}
	}
	d, _, err := o.Picked.Expand(set.Library(), all.At(set.Shop.Values()).Compute)
	if err != nil {
		return nil, env.Bad(err.Error())
	}
	set.Bench(d)
	if !o.JSON {
		fmt.Fprintln(e.Out, "From common blocks; nobody has written this device up, and opening it is reckoned at 10 minutes.")
		fmt.Fprintln(e.Out, "  "+blocks.Row(d.Blocks))
	}
	return d, nil
}
