// Package notecmd is the command note: it begins notes of every kind, and gives
// them other names.
package notecmd

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/format"
	"faultleaf/internal/note"
)

// Options of the command.
type Options struct {
	env.Folders
	Name, Device, Block string
	Date                string
}

// New makes the command with one below it for every kind of note.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "note KIND NAME",
		Short: "Begin a note, or give one another name",
		Long: `Note begins a note of any kind from what is known, and writes into it every
other key that it may have, commented out, with what the key says. A begun note
is a draft: the trace and all counts leave it out until it is filled in and its
line draft: true is gone. note KIND --help lists the kind's keys, and
note KIND --schema prints a JSON Schema for an editor.

note NAME --device DEVICE begins a fault note, as note fault does.`,
		Example: "  faultleaf note fault cord-broken --device fan-heater\n  faultleaf note device soup-warmer --blocks plug,cord,switch,heating-wire --class II\n  faultleaf note rename cord-broken cord-broken-at-entry",
		Args:    cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return c.Help()
			}
			if len(args) > 1 || o.Device == "" && note.Nearest(args[0], kinds()) != "" {
				return env.None("kind of note", args[0], kinds())
			}
			o.Name = args[0]
			if o.Device == "" {
				return env.Bad("say what “" + o.Name + "” is to be: faultleaf note fault " + o.Name + " --device DEVICE, or another kind; faultleaf note --help lists them")
			}
			return Fault(e, o)
		},
	}
	o.AddFrom(c)
	c.Flags().StringVar(&o.Device, "device", "", "the device that has the fault")
	c.Flags().StringVar(&o.Block, "block", "", "the part that fails")
	o.CompleteFlag(c, "device", "devices")
	for _, k := range format.Kinds {
		c.AddCommand(kind(e, k))
	}
	c.AddCommand(rename(e))
	return c
}

// kinds are the names of the kinds of notes.
func kinds() []string {
	var names []string
	for _, k := range format.Kinds {
		names = append(names, k.Name)
	}
	return names
}

// kind is the command that begins one kind of note.
func kind(e *env.Env, k *format.Kind) *cobra.Command {
	var o Options
	var d deviceOptions
	var schema bool
	c := &cobra.Command{
		Use:   k.Name,
		Short: k.Title + ": " + k.Says,
		Long:  k.Help(),
		Args:  env.Words(0, 1),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case schema:
				_, err := e.Out.Write(k.Schema())
				return err
			case k.Below == "":
				return c.Help()
			case len(args) == 0 && k.Name == "job":
				return env.Bad("name the device: faultleaf note job DEVICE")
			case len(args) == 0:
				return env.Bad("name the note: faultleaf note " + k.Name + " NAME")
			}
			o.Name = args[0]
			switch k.Name {
			case "fault":
				return Fault(e, o)
			case "device":
				return Device(e, o, d)
			case "job":
				o.Device = args[0]
				return Job(e, o)
			}
			return Other(e, o, k)
		},
	}
	o.AddFrom(c)
	c.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of its keys")
	switch k.Name {
	case "fault":
		c.Use = "fault NAME --device DEVICE"
		c.Flags().StringVar(&o.Device, "device", "", "the device that has the fault")
		c.Flags().StringVar(&o.Block, "block", "", "the part that fails")
		o.CompleteFlag(c, "device", "devices")
	case "device":
		c.Use = "device NAME"
		d.add(c)
	case "job":
		c.Use = "job DEVICE"
		c.ValidArgsFunction = o.Devices
		c.Flags().StringVar(&o.Date, "date", "", "the day of the job, like 2025-03-04 (today)")
	case "shop", "complaints":
	default:
		c.Use = k.Name + " NAME"
	}
	return c
}

// title is a name as the title of a note.
func title(name string) string {
	words := strings.ReplaceAll(name, "-", " ")
	return strings.ToUpper(words[:1]) + words[1:]
}

// plain checks the name of a note, and takes .md off it.
func plain(name string) (string, error) {
	name = strings.TrimSuffix(name, ".md")
	if !note.IsName(name) {
		return "", env.Bad("the name “" + name + "” is not plain; use small letters, digits and hyphens, like cord-broken")
	}
	return name, nil
}

// load reads the shop. Its mistakes are no matter for a new note: what is sound
// is enough to begin with.
func load(o Options) (*note.Set, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	set, _, _ := note.Load(os.DirFS(o.From), all.Find)
	return set, nil
}

// write puts a begun note into its place; a file that is there already is left
// alone.
func write(e *env.Env, o Options, folder, name, text string) error {
	path := filepath.Join(o.From, "content", folder, name+".md")
	if err := env.WriteNew(path, []byte(text)); err != nil {
		return err
	}
	fmt.Fprintln(e.Out, "Begun:", filepath.ToSlash(path))
	return nil
}

// Fault begins a fault note.
func Fault(e *env.Env, o Options) error {
	name, err := plain(o.Name)
	if err != nil {
		return err
	}
	set, err := load(o)
	if err != nil {
		return err
	}
	d, ok := set.Device(o.Device)
	if !ok {
		return noDevice(set, o.Device, "name the device with --device")
	}
	if o.Block != "" {
		var ids []string
		for _, b := range set.TraceDevice(d.Name).Chain() {
			ids = append(ids, string(b.ID))
		}
		if !slices.Contains(ids, o.Block) {
			return env.Bad("there is no block “" + o.Block + "” on this device; it has " + strings.Join(ids, ", "))
		}
	}
	return write(e, o, "faults", name, trace.Draft(set.TraceDevice(d.Name), title(name), trace.BlockID(o.Block), trace.Evidence{}))
}

// noDevice says which devices there are.
func noDevice(set *note.Set, name, do string) error {
	names := env.DeviceNames(set)
	switch {
	case len(names) == 0:
		return env.Bad("there is no device in this shop yet; begin one with faultleaf note device NAME")
	case name != "":
		return env.None("device", name, names)
	}
	return env.Bad(do + "; there are " + strings.Join(names, ", "))
}

// Other begins a note of which only the name is known.
func Other(e *env.Env, o Options, k *format.Kind) error {
	name, err := plain(o.Name)
	if err != nil {
		return err
	}
	if err := o.Check(); err != nil {
		return err
	}
	below := ""
	if k.Name == "checklist" {
		below = "- [ ] " + format.BegunStep
	}
	return write(e, o, k.Name+"s", name, k.Begin(map[string]string{"title": title(name)}, below))
}
