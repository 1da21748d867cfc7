// Package publishcmd is the command publish.
package publishcmd

import (
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/published"
	"faultleaf/internal/site"
)

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var f env.Folders
	var healthy bool
	c := &cobra.Command{
		Use:   "publish",
		Short: "Turn the notes into the shop's site",
		Long: `Publish checks every note, computes every number, and writes the site.
If a note holds a mistake, nothing is written and the old site stays. With
--healthy the other notes go on: pages that rest on a note with a mistake stay
as they were last published, and say so; no trace changes without a word.`,
		Args: env.Words(0, 0),
		RunE: func(*cobra.Command, []string) error {
			if healthy {
				return Healthy(e, f)
			}
			return Run(e, f)
		},
	}
	f.AddFrom(c)
	f.AddTo(c)
	c.Flags().BoolVar(&healthy, "healthy", false, "publish the notes without mistakes, and keep the pages of the others as they were")
	return c
}

// Stays is said where notes with mistakes kept a site from being published.
const Stays = "Nothing was published; the old site stays."

// Healthy publishes what is without mistakes. It ends as with mistakes where there
// are any, so that nobody takes the site for whole.
func Healthy(e *env.Env, f env.Folders) error {
	_, left, mistakes, err := PublishHealthy(e, f)
	if err != nil {
		return err
	}
	if left.All {
		defer fmt.Fprintln(e.Err, "Nothing was published, for this concerns every note; the old site stays.")
	}
	return e.Tell(mistakes)
}

// PublishHealthy publishes what is without mistakes, and says what it did. The mistakes are
// given for whoever says them.
func PublishHealthy(e *env.Env, f env.Folders) (published.Report, note.Left, problem.List, error) {
	if err := f.Check(); err != nil {
		return published.Report{}, note.Left{}, nil, err
	}
	tell, end := progress(e)
	r, left, mistakes, err := site.PublishHealthy(f.From, f.Site(), tell)
	end()
	if err != nil || left.All {
		return r, left, mistakes, err
	}
	did(e, f, r)
	if len(mistakes) > 0 {
		fmt.Fprintf(e.Out, "%d notes were left as they were last published", len(left.Files))
		if len(left.Devices) > 0 {
			fmt.Fprintf(e.Out, ", with all of %s", strings.Join(left.Devices, ", "))
		}
		fmt.Fprintln(e.Out)
	}
	return r, left, mistakes, nil
}

// did says what a publishing did.
func did(e *env.Env, f env.Folders, r published.Report) {
	for _, name := range r.Left {
		fmt.Fprintf(e.Err, "%s is no longer part of the site, and was changed since it was published; it stays where it is\n", name)
	}
	fmt.Fprintf(e.Out, "%d pages in %s; %d files written, %d unchanged, %d removed\n", r.Pages, f.Site(), r.Written, r.Unchanged, r.Removed)
}

// Run publishes and says what it did.
func Run(e *env.Env, f env.Folders) error {
	mistakes, err := publish(e, f)
	if len(mistakes) > 0 {
		fmt.Fprintln(e.Err, Stays)
	}
	return err
}

func publish(e *env.Env, f env.Folders) (problem.List, error) {
	if err := f.Check(); err != nil {
		return nil, err
	}
	tell, end := progress(e)
	r, mistakes, err := site.PublishTelling(f.From, f.Site(), tell)
	end()
	if err != nil {
		return nil, err
	}
	if len(mistakes) > 0 {
		return mistakes, e.Tell(mistakes)
	}
	did(e, f, r)
	return nil, nil
}

// progress is a line on a terminal that says how much is left, and what takes it
// away again; elsewhere nothing is said.
func progress(e *env.Env) (tell site.Progress, end func()) {
	f := e.Terminal
	if f == nil {
		return func(string, int) {}, func() {}
	}
	const clear = "\r\x1b[K"
	var mu sync.Mutex
	last := time.Time{}
	return func(doing string, left int) {
		mu.Lock()
		defer mu.Unlock()
		if time.Since(last) < 100*time.Millisecond && left > 0 {
			return
		}
		last = time.Now()
		if left > 0 {
			doing += fmt.Sprintf(", %d left", left)
		}
		fmt.Fprint(f, clear, problem.Visible(doing))
	}, func() { fmt.Fprint(f, clear) }
}
