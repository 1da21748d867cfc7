// Package hostcmd is the command host.
package hostcmd

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/cmd/faultleaf/internal/publishcmd"
	"faultleaf/internal/host"
	"faultleaf/internal/inbox"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/published"
	"faultleaf/internal/watch"
)

// Options of the command.
type Options struct {
	env.Folders
	host.Options
	AsIs    bool
	Behind  []string // servers in front, as they were typed
	Inbox   bool     // keep sheets, begun notes and open jobs of the shop's screens
	Clear   bool     // with a backup: afterwards remove what is old from the inbox
	Backup  string   // write what the inbox holds to this file, and host nothing
	Restore string   // put such a file back, and host nothing
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "host",
		Short: "Publish the site and serve it to this machine, or to the shop",
		Long: `Host serves the last good site at once, says its address, and publishes the
notes. While it runs it publishes again whenever a note changes, and an open
page follows; while a note holds a mistake it goes on with the last good site,
and the pages say since when and why. It serves this machine alone unless --lan
is given; then it also draws the address as a code for a phone's camera. A
browser may ask for it by its address, by this machine's name, or by a name
given with --name. With --cert and --key it serves by TLS, and takes up a
certificate that was renewed. Stop it with Ctrl-C.

With --inbox, every screen in the shop that was given the passphrase can save
job sheets and begun fault notes in the folder inbox/ beside content/, and go
on with a job that was begun on another screen. The passphrase is made at the
first time and shown that once; delete inbox/passphrase to have another made.
Nothing in the inbox is published: look at it and take it in with faultleaf
take. --backup FILE writes all that is in it to one file, --restore FILE puts
such a file back. A closed job and a text that was taken stay for a year; then
they go, if their note stands in content/. What no note holds goes only with
--backup FILE --clear-old, once that file holds it.`,
		Args: env.Words(0, 0),
		RunE: func(*cobra.Command, []string) error { return Run(e, o) },
	}
	o.AddFrom(c)
	o.AddTo(c)
	c.Flags().BoolVar(&o.LAN, "lan", false, "serve the whole local network")
	c.Flags().IntVar(&o.Port, "port", 7411, "the port; 0 takes a free one")
	c.Flags().StringVar(&o.Path, "path", "/", "serve under this path")
	c.Flags().StringSliceVar(&o.Names, "name", nil, "a name under which browsers may ask for this machine, such as bench.shop")
	c.Flags().StringSliceVar(&o.Behind, "behind", nil, "the address of a server in front, on another machine, that says for whom it asks")
	c.Flags().StringVar(&o.Cert, "cert", "", "a file with a certificate, to serve by TLS")
	c.Flags().StringVar(&o.Key, "key", "", "the file with the certificate's key")
	c.Flags().BoolVar(&o.Inbox, "inbox", false, "let the shop's screens save sheets and share open jobs")
	c.Flags().StringVar(&o.Backup, "backup", "", "write what the inbox holds to this file, and host nothing")
	c.Flags().StringVar(&o.Restore, "restore", "", "put a backup back into the inbox, and host nothing")
	c.Flags().BoolVar(&o.Clear, "clear-old", false, "with --backup: then remove from the inbox what was closed or taken over a year ago")
	c.MarkFlagsMutuallyExclusive("backup", "restore")
	c.Flags().BoolVar(&o.AsIs, "as-is", false, "serve what was published before, without publishing")
	return c
}

// Run serves until the context ends.
func Run(e *env.Env, o Options) error {
	if (o.Cert == "") != (o.Key == "") {
		return env.Bad("--cert and --key go together")
	}
	if o.Clear && o.Backup == "" {
		return env.Bad("--clear-old goes with --backup FILE, which is to hold what is removed")
	}
	if o.Backup != "" || o.Restore != "" {
		return keepOrRestore(e, o)
	}
	if err := o.Certified(time.Now()); err != nil {
		return err
	}
	fronts, err := inbox.ReadFronts(o.Behind)
	if err != nil {
		return env.Bad("--behind: " + err.Error())
	}
	if o.Inbox {
		door, err := openInbox(e, o, fronts)
		if err != nil {
			return err
		}
		defer door.Box.Close()
		go tidy(e, o, door.Box)
		o.Options.Inbox = door
	}
	content := filepath.Join(o.From, "content")
	last := watch.Stamp(content) // before publishing, so that no change meanwhile is missed
	if !o.AsIs {
		if err := o.Check(); err != nil {
			return err
		}
		o.News = host.NewNews(published.Any(o.Site()))
		if err := os.MkdirAll(o.Site(), 0o755); err != nil {
			return err
		}
	}
	l, err := host.Listen(o.Options)
	if err != nil {
		return err
	}
	e.EndsItself.Store(true)
	addresses := host.Addresses(l, o.Options)
	for i, a := range addresses {
		where := "This machine:"
		if i > 0 {
			where = "The shop:    "
		}
		fmt.Fprintln(e.Out, where, a)
	}
	if len(addresses) > 1 {
		fmt.Fprint(e.Out, "\n", host.Code(addresses[1]), "\n")
	}
	if !o.AsIs {
		if published.Any(o.Site()) {
			fmt.Fprintln(e.Out, "The notes are being published; the site as it was last is served meanwhile.")
		} else {
			fmt.Fprintln(e.Out, "The notes are being published for the first time, which takes a while; a page that is opened waits.")
		}
		go func() {
			publish(e, o)
			watch.Changes(e.Context, content, last, func() { publish(e, o) })
		}()
	}
	return host.Serve(e.Context, l, o.Site(), o.Options, e.Err)
}

// publish makes the site anew, and tells the pages what came of it. Where notes hold mistakes the
// others go on; pages that rest on these say that they are old.
func publish(e *env.Env, o Options) {
	at := time.Now()
	var r published.Report
	var left note.Left
	var mistakes problem.List
	err := patiently(e, func() (err error) {
		r, left, mistakes, err = publishcmd.PublishHealthy(e, o.Folders)
		return err
	})
	if err != nil {
		fmt.Fprintln(e.Err, err)
		o.News.Stale([]string{err.Error()}, at)
		return
	}
	if len(mistakes) == 0 {
		o.News.Made(r.Written+r.Removed > 0)
		return
	}
	_ = e.Tell(mistakes) // what it gives ends a command, and this one goes on
	var why []string
	first, follow := mistakes.First()
	for _, m := range first {
		why = append(why, m.String())
	}
	if follow > 0 {
		why = append(why, problem.Follow(follow))
	}
	if left.All {
		fmt.Fprintln(e.Err, publishcmd.Stays)
		o.News.Stale(why, at)
		return
	}
	fmt.Fprintln(e.Err, "Published without these notes; the pages that rest on them stay as they were.")
	o.News.Partly(r.Written+r.Removed > 0, why, at)
}

// patiently tries again while somebody else publishes into the same folder: what they read may be
// older than what the notes say now.
func patiently(e *env.Env, try func() error) error {
	for said := false; ; said = true {
		err := try()
		if !errors.Is(err, published.Busy) {
			return err
		}
		if !said {
			fmt.Fprintln(e.Err, "Somebody else is publishing into this folder; when that is done, it is looked at again.")
		}
		select {
		case <-e.Context.Done():
			return err
		case <-time.After(pause):
		}
	}
}

// pause between two tries.
const pause = 2 * time.Second
