package env

import (
	"bufio"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
)

// mostNamed names are listed where none is near.
const mostNamed = 20

// None is the failure of a name that nothing has: it offers the nearest, or says which there
// are. what is a device, a fault and the like.
func None(what, name string, among []string) error {
	says := "there is no " + what + " “" + name + "”"
	among = slices.Sorted(slices.Values(among))
	near := note.Nearest(name, among)
	switch n := len(among); {
	case near != "":
		says += "; did you mean “" + near + "”"
	case n > mostNamed:
		says += "; there are " + strings.Join(among[:mostNamed], ", ") + " and " + strconv.Itoa(n-mostNamed) + " more"
	case n > 0:
		says += "; there are " + strings.Join(among, ", ")
	}
	return Bad(says)
}

// DeviceNames are the names of a shop's devices.
func DeviceNames(set *note.Set) []string {
	var names []string
	for _, d := range set.Devices {
		names = append(names, d.Name)
	}
	return names
}

// completing is what a shell is told of names that a shop gives: never the names of files.
func completing(list []cobra.Completion) ([]cobra.Completion, cobra.ShellCompDirective) {
	return list, cobra.ShellCompDirectiveNoFileComp
}

// Notes completes the names of a folder's notes, with their titles. Nothing is read of them
// but these, so that a shell answers at once in any shop.
func (f *Folders) Notes(folder string) []cobra.Completion {
	var list []cobra.Completion
	files, _ := filepath.Glob(filepath.Join(f.From, "content", folder, "*.md"))
	for _, file := range files {
		list = append(list, cobra.CompletionWithDesc(strings.TrimSuffix(filepath.Base(file), ".md"), titleOf(file)))
	}
	return list
}

// titleOf is the title in the first lines of a note.
func titleOf(file string) string {
	in, err := os.Open(file)
	if err != nil {
		return ""
	}
	defer in.Close()
	s := bufio.NewScanner(in)
	for n := 0; n < 10 && s.Scan(); n++ {
		if title, ok := strings.CutPrefix(s.Text(), "title:"); ok {
			return strings.Trim(strings.TrimSpace(title), `"'`)
		}
	}
	return ""
}

// Devices completes one device's name; a second word gets nothing.
func (f *Folders) Devices(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return completing(nil)
	}
	return completing(f.Notes("devices"))
}

// CompleteFlag lets a flag complete the notes of a folder.
func (f *Folders) CompleteFlag(c *cobra.Command, flag, folder string) {
	_ = c.RegisterFlagCompletionFunc(flag, func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return completing(f.Notes(folder))
	})
}

// Traced completes what a trace takes: a device; then its symptoms, its tests, and once a test
// is named what it may read; faults behind tried:, blocks behind looked:.
func (f *Folders) Traced(c *cobra.Command, args []string, begun string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return f.Devices(c, args, begun)
	}
	set, _, _ := note.Load(os.DirFS(f.From), all.Find)
	d := set.TraceDevice(args[0])
	if d == nil {
		return completing(nil)
	}
	var list []cobra.Completion
	add := func(word, says string) { list = append(list, cobra.CompletionWithDesc(word, says)) }
	test, _, reads := strings.Cut(begun, "=")
	word, _, behind := strings.Cut(begun, ":")
	switch {
	case reads:
		for i := range d.Tests {
			if string(d.Tests[i].ID) == test {
				for _, b := range d.Tests[i].Reads {
					add(test+"="+string(b.ID), b.Text)
				}
			}
		}
	case behind && word == "not":
		for _, s := range d.Symptoms {
			add("not:"+string(s.ID), s.Says)
		}
	case behind && word == "tried":
		for _, x := range d.Causes {
			add("tried:"+string(x.ID), x.Title)
		}
	case behind && word == "looked":
		for _, b := range flat(d.Blocks) {
			add("looked:"+b, "")
		}
	case behind && word == "byhand":
		for _, b := range flat(d.Blocks) {
			add("byhand:"+b, "")
		}
	default:
		for _, s := range d.Symptoms {
			add(string(s.ID), s.Says)
		}
		for _, t := range d.Tests {
			add(string(t.ID)+"=", t.Ask)
		}
		return list, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	return completing(list)
}

// flat lists the blocks of a chain, branches too.
func flat(chain []trace.Block) (names []string) {
	for _, b := range chain {
		if b.ID != "" {
			names = append(names, string(b.ID))
		}
		for _, branch := range b.Branch {
			names = append(names, flat(branch)...)
		}
	}
	return names
}

// Faults completes the faults of the device that was named, else those with a file of their own.
func (f *Folders) Faults(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return completing(f.Notes("faults"))
	}
	var list []cobra.Completion
	set, _, _ := note.Load(os.DirFS(f.From), all.Find)
	for _, x := range set.FaultsOf(args[0]) {
		list = append(list, cobra.CompletionWithDesc(x.Name, x.Title))
	}
	return completing(list)
}

// Tests completes the tests of the device that was named.
func (f *Folders) Tests(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var list []cobra.Completion
	if len(args) > 0 {
		set, _, _ := note.Load(os.DirFS(f.From), all.Find)
		if d, ok := set.Device(args[0]); ok {
			for _, t := range d.Tests {
				list = append(list, cobra.CompletionWithDesc(string(t.ID), t.Ask))
			}
		}
	}
	return completing(list)
}
