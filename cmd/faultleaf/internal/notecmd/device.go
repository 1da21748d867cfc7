package notecmd

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/calc/blocks"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/cmd/faultleaf/internal/tracecmd"
	"faultleaf/internal/format"
	"faultleaf/internal/note"
)

// deviceOptions say what a device is made of.
type deviceOptions struct {
	Picked blocks.Picked
	Plate  []string
}

func (d *deviceOptions) add(c *cobra.Command) { tracecmd.AddPicked(c, &d.Picked, &d.Plate) }

// Device begins a device's note: from its blocks, where they are named, and then
// it is whole; else from nothing but its name.
func Device(e *env.Env, o Options, d deviceOptions) error {
	name, err := plain(o.Name)
	if err != nil {
		return err
	}
	set, err := load(o)
	if err != nil {
		return err
	}
	k, _ := format.Find("device")
	if d.Picked.Title == "" {
		d.Picked.Title = title(name)
	}
	if err := tracecmd.Fill(set, &d.Picked, d.Plate); err != nil {
		return err
	}
	if d.Picked.Blocks == "" {
		return bare(e, o, k, name, d.Picked)
	}
	lib := set.Library()
	if len(lib.Kinds) == 0 {
		return env.Bad("this shop has no block notes in content/blocks; copy some from another shop, or begin the device without --blocks")
	}
	if _, _, err := d.Picked.Expand(lib, all.Compute); err != nil {
		return env.Bad(err.Error())
	}
	text, err := d.Picked.Begin(lib)
	if err != nil {
		return env.Bad(err.Error())
	}
	// what nobody can have checked yet must still be sound
	file := "content/devices/" + name + ".md"
	if mistakes := note.With(os.DirFS(o.From), all.Find, file, []byte(text)); len(mistakes) > 0 {
		fmt.Fprintln(e.Err, "These blocks make no sound device:")
		return e.Tell(mistakes)
	}
	return write(e, o, "devices", name, text)
}

// bare begins a device of which no blocks are known, with what is: its class and its plate.
func bare(e *env.Env, o Options, k *format.Kind, name string, p blocks.Picked) error {
	if len(p.Has) > 0 {
		return env.Bad("--has names an option of a block, so it needs --blocks")
	}
	var plate []string
	for _, line := range slices.Sorted(maps.Keys(p.Plate)) {
		plate = append(plate, line+": "+strconv.Quote(p.Plate[line]))
	}
	known := map[string]string{"title": strconv.Quote(p.Title), "plate": "{" + strings.Join(plate, ", ") + "}"}
	if p.Class != "" {
		if err := blocks.Class(p.Class); err != nil {
			return env.Bad(err.Error())
		}
		known["class"] = p.Class
	}
	return write(e, o, "devices", name, k.Begin(known, ""))
}

// Job begins a job sheet on a device.
func Job(e *env.Env, o Options) error {
	set, err := load(o)
	if err != nil {
		return err
	}
	d, ok := set.Device(o.Device)
	if !ok {
		return noDevice(set, o.Device, "name the device")
	}
	date := o.Date
	if date == "" {
		date = time.Now().Format("2006-01-02")
	}
	if _, err := time.Parse("2006-01-02", date); err != nil {
		return env.Bad("“" + date + "” is no day; write year-month-day, like 2025-03-04")
	}
	k, _ := format.Find("job")
	text := k.Begin(map[string]string{"device": d.Name, "date": date}, "")
	var may strings.Builder
	may.WriteString("# The device's symptoms:\n")
	for _, s := range d.Symptoms {
		fmt.Fprintf(&may, "#   %s: %s\n", s.ID, oneLine(s.Says))
	}
	may.WriteString("# Its tests, and what they may read:\n")
	for _, t := range d.Tests {
		var reads []string
		for _, b := range t.Reads {
			reads = append(reads, string(b.ID))
		}
		fmt.Fprintf(&may, "#   %s: %s: %s\n", t.ID, oneLine(t.Ask), strings.Join(reads, ", "))
	}
	text = strings.Replace(text, "\n---\n", "\n"+may.String()+"---\n", 1)
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s-%s-%d", date, d.Name, n)
		if _, err := os.Lstat(filepath.Join(o.From, "content", "jobs", name+".md")); err != nil {
			return write(e, o, "jobs", name, text)
		}
	}
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
