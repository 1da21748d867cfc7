package hostcmd

import (
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/inbox"
	"faultleaf/internal/note"
	"faultleaf/internal/watch"
)

// openInbox opens the shop's inbox and says its passphrase when it is new.
func openInbox(e *env.Env, o Options, fronts inbox.Fronts) (*inbox.Door, error) {
	box, err := inbox.Own(o.Folders.Inbox())
	if err != nil {
		return nil, err
	}
	made, err := box.Passphrase()
	if err != nil {
		return nil, fmt.Errorf("the inbox's passphrase cannot be kept: %w", err)
	}
	if made != "" {
		fmt.Fprintf(e.Out, "The inbox's passphrase is %s\nIt is shown this once; each screen asks for it once in thirty days.\n", made)
	}
	if o.LAN && o.Cert == "" {
		fmt.Fprintln(e.Out, "Over plain HTTP the passphrase and what is saved can be overheard in this network; --cert and --key prevent that.")
	}
	c := &checker{from: o.From}
	return &inbox.Door{Box: box, Check: c.check, Notes: os.DirFS(o.From), Path: path.Join("/", strings.Trim(o.Path, "/")), Secure: o.Cert != "", Fronts: fronts}, nil
}

// checker holds what comes in against the shop's notes as they are now.
type checker struct {
	from string

	mu    sync.Mutex
	last  uint64 // the stamp of the content that the judge has read
	judge *note.Judge
}

// now gives a judge of the notes as they are; while they hold a mistake that concerns
// them all, of those before.
func (c *checker) now() (*note.Judge, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if at := watch.Stamp(filepath.Join(c.from, "content")); at != c.last || c.judge == nil {
		if j, _ := note.NewJudge(os.DirFS(c.from), all.Find); j != nil {
			c.judge, c.last = j, at
		}
	}
	if c.judge == nil {
		return nil, errors.New("The shop's notes hold mistakes, so nothing can be checked against them now; download the sheet.") //nolint:staticcheck // a sentence for the page
	}
	return c.judge, nil
}

func (c *checker) check(kind inbox.Kind, name string, text []byte) error {
	judge, err := c.now()
	if err != nil {
		return err
	}
	if says := note.Portable(path.Base(name)); says != "" {
		return errors.New(strings.ToUpper(says[:1]) + says[1:] + ".")
	}
	if kind == inbox.Changes {
		return note.Error(note.With(os.DirFS(c.from), all.Find, name, text))
	}
	if kind == inbox.Sheets {
		_, mistakes := judge.Sheet(name, text)
		return note.Error(mistakes)
	}
	if mistakes := judge.Rests(name, text); mistakes != nil {
		return note.Error(mistakes)
	}
	return note.Error(note.WithFault(os.DirFS(c.from), all.Find, name, text))
}

// tidy removes from the inbox what is old and stands among the notes, at once and each day.
func tidy(e *env.Env, o Options, box *inbox.Box) {
	for {
		switch gone, err := box.Tidy(os.DirFS(o.From), time.Now()); {
		case err != nil:
			fmt.Fprintln(e.Err, "the inbox could not be tidied:", err)
		case gone > 0:
			fmt.Fprintf(e.Out, "%d files of jobs that ended over a year ago, which stand in content/, went from the inbox.\n", gone)
		}
		select {
		case <-e.Context.Done():
			return
		case <-time.After(24 * time.Hour):
		}
	}
}

func keepOrRestore(e *env.Env, o Options) error {
	if _, err := os.Stat(o.Folders.Inbox()); err != nil && o.Backup != "" {
		return env.Bad("there is no inbox " + o.Folders.Inbox() + " to back up; host with --inbox makes one")
	}
	open := inbox.Own
	if o.Backup != "" && !o.Clear { // also while a host is at work
		open = inbox.Open
	}
	box, err := open(o.Folders.Inbox())
	if err != nil {
		return err
	}
	defer box.Close()
	if o.Backup != "" {
		var n, gone int
		var left []string
		if o.Clear {
			n, gone, left, err = box.BackupAndClear(o.Backup, time.Now())
		} else {
			n, left, err = box.BackupTo(o.Backup)
		}
		if err != nil {
			return fmt.Errorf("the backup was not written: %w", err)
		}
		fmt.Fprintf(e.Out, "%d files of the inbox are in %s.\n", n, o.Backup)
		for _, name := range left {
			fmt.Fprintf(e.Err, "%s is not among them: no inbox wrote it as it is, and none could take it back; look at it\n", filepath.Join(o.Folders.Inbox(), filepath.FromSlash(name)))
		}
		switch {
		case o.Clear && gone == 0:
			fmt.Fprintln(e.Out, "Nothing in it was closed or taken over a year ago, so nothing went from the inbox.")
		case o.Clear:
			fmt.Fprintf(e.Out, "%d of them, closed or taken over a year ago, are now there alone.\n", gone)
		}
		return nil
	}
	f, err := os.Open(o.Restore)
	if err != nil {
		return env.Bad("the backup " + o.Restore + " cannot be read")
	}
	defer f.Close()
	n, err := box.Restore(f)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "%d files are in %s again.\n", n, o.Folders.Inbox())
	return nil
}
