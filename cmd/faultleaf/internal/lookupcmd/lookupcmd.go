// Package lookupcmd is the command lookup.
package lookupcmd

import (
	"bufio"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/site"
	"faultleaf/search"
)

// Options of the command.
type Options struct {
	env.Folders
	Words        []string
	Queries      string
	JSON         bool
	Limit        int
	Device, Kind string
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "lookup WORDS",
		Short: "Search the notes by symptom, part or number",
		Long: `Lookup searches the notes with the same code as the site's search box. It
opens the index of the published site; where the notes are newer than the site,
or there is none, it reads the notes themselves, which takes longer.
With --queries FILE it answers each line of the file with one line of JSON.`,
		Example: "  faultleaf lookup heater blows cold\n  faultleaf lookup wont turn on --device corded-drill",
		RunE: func(_ *cobra.Command, args []string) error {
			o.Words = args
			return Run(e, o)
		},
	}
	o.AddFrom(c)
	o.AddTo(c)
	c.Flags().BoolVar(&o.JSON, "json", false, "print JSON")
	c.Flags().StringVar(&o.Queries, "queries", "", "a file with one query a line")
	c.Flags().IntVar(&o.Limit, "limit", 10, "at most this many hits")
	c.Flags().StringVar(&o.Device, "device", "", "only notes of this device")
	c.Flags().StringVar(&o.Kind, "kind", "", "only this kind: device, block, fault, checklist, job, page, calculator")
	o.CompleteFlag(c, "device", "devices")
	_ = c.RegisterFlagCompletionFunc("kind", cobra.FixedCompletions([]cobra.Completion{"device", "block", "fault", "checklist", "job", "page", "calculator"}, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// hit is one answer as JSON.
type hit struct {
	ID      string  `json:"id"`
	Kind    string  `json:"kind"`
	Title   string  `json:"title"`
	Device  string  `json:"device"`
	Score   float64 `json:"score"`
	Address string  `json:"address"`
}

// Run answers one query or a file of them.
func Run(e *env.Env, o Options) error {
	query := strings.TrimSpace(strings.Join(o.Words, " "))
	if query == "" && o.Queries == "" {
		return env.Bad("say what to look for, like: faultleaf lookup heater blows cold")
	}
	if o.Limit < 1 {
		return env.Bad("--limit should be 1 or more")
	}
	if err := o.Check(); err != nil {
		return err
	}
	ix, err := open(e, o)
	if err != nil {
		return err
	}
	for _, c := range []struct {
		flag, value string
		among       []search.Choice
	}{{"device", o.Device, ix.Devices()}, {"kind", o.Kind, ix.Kinds()}} {
		if err := oneOf(c.flag, c.value, c.among); err != nil {
			return err
		}
	}
	if o.Queries != "" {
		return queries(e, o, ix)
	}
	a := ask(ix, o, query)
	if o.JSON {
		return e.JSON(hits2json(a.Hits))
	}
	for _, l := range a.Heard.Lines() {
		fmt.Fprintln(e.Out, l.Text)
	}
	if len(a.Hits) == 0 {
		fmt.Fprintln(e.Out, "Nothing in the notes matches; try other words, or the device alone.")
		return nil
	}
	for _, h := range a.Hits {
		fmt.Fprintf(e.Out, "%s\n    %s", h.Title, h.ID)
		if h.DeviceTitle != "" && h.Kind != "device" {
			fmt.Fprintf(e.Out, "  (%s)", h.DeviceTitle)
		}
		if h.Symptom != "" {
			fmt.Fprintf(e.Out, "  %s", h.Symptom)
		}
		if h.FirstTest != "" {
			fmt.Fprintf(e.Out, "\n    first: %s, %s", h.FirstTest, h.FirstMinutes)
		}
		if h.Hazard != "" {
			fmt.Fprintf(e.Out, "\n    %s", h.Hazard)
		}
		var also []string
		for _, o := range h.Also { // a common block's note is of no device
			if o.DeviceTitle != "" && !slices.Contains(also, o.DeviceTitle) {
				also = append(also, o.DeviceTitle)
			}
		}
		if len(also) > 0 {
			fmt.Fprint(e.Out, "\n    also on: ", strings.Join(also, ", "))
		}
		fmt.Fprintln(e.Out)
	}
	return nil
}

// open opens the index of the published site, or makes one from the notes where
// the site cannot answer for them, and says so.
func open(e *env.Env, o Options) (*search.Index, error) {
	ix, why := site.Published(o.From, o.Site())
	if why == nil {
		return ix, nil
	}
	fmt.Fprintf(e.Err, "Looked up in the notes themselves, which takes longer: %s.\n", why)
	ix, mistakes, err := site.Index(o.From)
	if err != nil {
		return nil, err
	}
	if ix == nil {
		return nil, e.Tell(mistakes)
	}
	e.Warn(mistakes)
	return ix, nil
}

func ask(ix *search.Index, o Options, query string) search.Answer {
	return ix.Ask(query, search.Options{Limit: o.Limit, Device: o.Device, Kind: o.Kind})
}

// oneOf refuses a name that nothing has: an empty list would look like an answer.
func oneOf(flag, value string, among []search.Choice) error {
	if value == "" || slices.ContainsFunc(among, func(c search.Choice) bool { return c.Name == value }) {
		return nil
	}
	var names []string
	for _, c := range among {
		names = append(names, c.Name)
	}
	slices.Sort(names)
	return env.None(flag, value, names)
}

func hits2json(hits []search.Hit) []hit {
	out := []hit{}
	for _, h := range hits {
		out = append(out, hit{h.ID, h.Kind, h.Title, h.Device, h.Score, h.Address})
	}
	return out
}

func queries(e *env.Env, o Options, ix *search.Index) error {
	f, err := os.Open(o.Queries)
	if err != nil {
		return env.Bad("the file of queries cannot be read: " + err.Error())
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		q := strings.TrimSpace(lines.Text())
		if q == "" {
			continue
		}
		err := e.JSON(struct {
			Query string `json:"query"`
			Hits  []hit  `json:"hits"`
		}{q, hits2json(ask(ix, o, q).Hits)})
		if err != nil {
			return err
		}
	}
	return lines.Err()
}
