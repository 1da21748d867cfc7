package hostcmd

import (
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"

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

func keepOrRestore(e *env.Env, o Options) error {
	if _, err := os.Stat(o.Folders.Inbox()); err != nil && o.Backup != "" {
		return env.Bad("there is no inbox " + o.Folders.Inbox() + " to back up; host with --inbox makes one")
	}
	open := inbox.Own
	if o.Backup != "" { // also while a host is at work
		open = inbox.Open
	}
	box, err := open(o.Folders.Inbox())
	if err != nil {
		return err
	}
	defer box.Close()
	if o.Backup != "" {
		n, err := box.BackupTo(o.Backup)
		if err != nil {
			return fmt.Errorf("the backup was not written: %w", err)
		}
		fmt.Fprintf(e.Out, "%d files of the inbox are in %s.\n", n, o.Backup)
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
	fmt.Fprintf(e.Out, "%d files are in the inbox %s again.\n", n, o.Folders.Inbox())
	return nil
}
