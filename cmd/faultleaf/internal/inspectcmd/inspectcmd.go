// Package inspectcmd is the command inspect.
package inspectcmd

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/site"
)

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var f env.Folders
	var quiet bool
	var expand, changed string
	var asJSON bool
	c := &cobra.Command{
		Use:   "inspect [FILE...]",
		Short: "Check all notes and write nothing",
		Long: `Inspect reads and checks every note as publishing would, and prints each
mistake with its file, line and column; first those that others may follow
from. It exits with 0 if all is well and with 1 if there are mistakes. Remarks
stop nothing. With files named, it says what is wrong in these, and reads of
the other notes only what they rest on. With --expand it prints a device that
is made of common blocks as it would be written without them.`,
		Example: "  faultleaf inspect\n  faultleaf inspect content/faults/kettle-limed-up.md\n  faultleaf inspect --expand kettle",
		RunE: func(_ *cobra.Command, files []string) error {
			if len(files) > 0 && expand == "" {
				return Some(e, f, files, quiet, asJSON)
			}
			if expand != "" {
				return Expand(e, f, expand)
			}
			if changed != "" {
				return Effect(e, f, changed, asJSON)
			}
			return Run(e, f, quiet, asJSON)
		},
	}
	f.AddFrom(c)
	c.Flags().BoolVar(&quiet, "quiet", false, "leave the remarks out")
	c.Flags().StringVar(&changed, "effect", "", "say what this changed note does to the advice, before it is committed")
	c.Flags().BoolVar(&asJSON, "json", false, "print what is wrong as JSON")
	c.Flags().StringVar(&expand, "expand", "", "print this device as it stands without common blocks")
	f.CompleteFlag(c, "expand", "devices")
	return c
}

// Expand prints a device and its faults as they would be written without common
// blocks; what is wrong with the notes follows, as the reason to look.
func Expand(e *env.Env, f env.Folders, device string) error {
	if err := f.Check(); err != nil {
		return err
	}
	set, mistakes, _ := note.Load(os.DirFS(f.From), all.Find)
	d, ok := set.Device(device)
	if !ok {
		return env.None("device", device, env.DeviceNames(set))
	}
	if len(d.Expanded) == 0 {
		fmt.Fprintln(e.Out, d.File+" is written out already: none of its blocks names a block note")
	}
	for _, x := range d.Expanded {
		fmt.Fprintf(e.Out, "%s\n---\n%s", x.File, x.Text)
		if x.File == d.File {
			fmt.Fprintln(e.Out, "---")
		}
		fmt.Fprintln(e.Out)
	}
	return e.Tell(mistakes)
}

// List prints what is wrong as JSON: one list, an object for each.
func List(e *env.Env, mistakes, remarks problem.List, quiet bool) error {
	type told struct {
		Kind   string `json:"kind"` // mistake or remark
		File   string `json:"file"`
		Line   int    `json:"line,omitempty"` // from 1; none where the whole file is meant
		Column int    `json:"column,omitempty"`
		Says   string `json:"says"`
		Do     string `json:"do,omitempty"`
		Root   bool   `json:"root,omitempty"` // others may follow from it
	}
	list := []told{}
	for _, m := range mistakes {
		list = append(list, told{"mistake", m.File, m.Line, m.Column, problem.Visible(m.Says), problem.Visible(m.Do), m.Root})
	}
	if !quiet {
		for _, r := range remarks {
			list = append(list, told{"remark", r.File, r.Line, r.Column, problem.Visible(r.Says), problem.Visible(r.Do), r.Root})
		}
	}
	if err := e.JSON(list); err != nil {
		return err
	}
	if len(mistakes) > 0 {
		return &env.Failure{Status: env.Mistakes, Err: env.ErrMistakes}
	}
	return nil
}

// summary counts the notes; a draft counts as nothing but a draft.
func summary(set *note.Set) string {
	n := map[note.Kind]int{}
	for _, d := range set.Documents() {
		if !d.Draft {
			n[d.Kind]++
		}
	}
	var counts []string
	for _, of := range []struct {
		kind note.Kind
		what string
	}{{note.KindDevice, "device"}, {note.KindFault, "fault"}, {note.KindChecklist, "checklist"}, {note.KindJob, "job sheet"}, {note.KindPage, "page"}} {
		if n[of.kind] != 1 {
			of.what += "s"
		}
		counts = append(counts, fmt.Sprintf("%d %s", n[of.kind], of.what))
	}
	says := strings.Join(counts, ", ")
	switch drafts := len(set.Drafts()); {
	case drafts == 1:
		says += ", 1 still a draft"
	case drafts > 1:
		says += fmt.Sprintf(", %d still drafts", drafts)
	}
	return says
}

// Some checks some notes, each named from here or from the shop's folder.
func Some(e *env.Env, f env.Folders, files []string, quiet, asJSON bool) error {
	if err := f.Check(); err != nil {
		return err
	}
	below := make([]string, len(files))
	for i, name := range files {
		below[i] = name
		shop, err := filepath.Abs(f.From)
		if err != nil {
			return err
		}
		if at, err := filepath.Abs(name); err == nil {
			if rel, err := filepath.Rel(shop, at); err == nil && filepath.IsLocal(rel) {
				below[i] = rel
			}
		}
	}
	mistakes, remarks, err := site.CheckSome(f.From, below)
	if err != nil {
		return env.Bad(err.Error())
	}
	return tell(e, mistakes, remarks, quiet, asJSON, fmt.Sprintf("no mistakes in %d of the notes", len(files)))
}

// Run checks the notes.
func Run(e *env.Env, f env.Folders, quiet, asJSON bool) error {
	if err := f.Check(); err != nil {
		return err
	}
	set, mistakes, remarks, err := site.Check(f.From, f.Site())
	if err != nil {
		return err
	}
	return tell(e, mistakes, remarks, quiet, asJSON, summary(set)+": no mistakes")
}

// tell prints what was found, and sound where there is no mistake.
func tell(e *env.Env, mistakes, remarks problem.List, quiet, asJSON bool, sound string) error {
	if asJSON {
		return List(e, mistakes, remarks, quiet)
	}
	if !quiet {
		for _, r := range remarks {
			fmt.Fprintln(e.Out, "remark:", r)
		}
	}
	if err := e.Tell(mistakes); err != nil {
		return err
	}
	fmt.Fprintln(e.Out, sound)
	return nil
}
