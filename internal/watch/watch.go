// Package watch tells when a file below a folder has changed.
//
// The system tells of changes at once. Where it does not, as on a network share
// that another machine writes to, names, sizes and times are compared now and
// then, and more often once they told what the system had not; no file is read.
package watch

import (
	"context"
	"hash/fnv"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// How long things take; variables, so that tests need not wait.
var (
	quiet  = 150 * time.Millisecond // after the last event, as editors write in several steps
	seldom = 10 * time.Second       // between comparisons while the system tells
	often  = time.Second            // while it does not
)

// share is how much longer than a comparison the wait for the next must be, so
// that a great folder does not keep the machine busy.
const share = 50

// Stamp is a sum over names, sizes and times of the files below a folder; it
// differs when one of them changes. Hidden ones do not count: editors keep their
// own there.
func Stamp(dir string) uint64 {
	sum := fnv.New64a()
	_ = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if p != dir && strings.HasPrefix(filepath.Base(p), ".") {
			if d != nil && d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		line := p
		if err != nil {
			line += " is not readable"
		} else if info, err := d.Info(); err == nil && !d.IsDir() {
			line += " " + strconv.FormatInt(info.Size(), 10) + " " + strconv.FormatInt(info.ModTime().UnixNano(), 10)
		}
		_, _ = sum.Write([]byte(line + "\n"))
		return nil
	})
	return sum.Sum64()
}

// Changes calls changed after files below dir have changed since the stamp
// last, until the context ends. What changes meanwhile leads to one more call.
func Changes(ctx context.Context, dir string, last uint64, changed func()) {
	var events chan fsnotify.Event
	var wrong chan error
	told, err := fsnotify.NewWatcher()
	if err == nil {
		defer told.Close()
		events, wrong = told.Events, told.Errors
		follow(told, dir)
	}
	silent := err != nil
	wake := time.NewTimer(0) // what changed since last is told at once
	defer wake.Stop()
	asked := true
	for {
		select {
		case <-ctx.Done():
			return
		case e, ok := <-events:
			if !ok {
				events, silent = nil, true
				continue
			}
			if e.Has(fsnotify.Create) {
				follow(told, e.Name)
			}
			asked = true
			wake.Reset(quiet)
			continue
		case <-wrong: // events were lost
			asked = true
			wake.Reset(quiet)
			continue
		case <-wake.C:
		}
		begun := time.Now()
		now := Stamp(dir)
		took := time.Since(begun)
		if now != last {
			silent = silent || !asked
			last = now
			changed()
		}
		asked = false
		wait := seldom
		if silent {
			wait = often
		}
		wake.Reset(max(wait, share*took))
	}
}

// follow adds a folder and those below it. One that the system cannot follow is
// left to the comparisons.
func follow(w *fsnotify.Watcher, dir string) {
	_ = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return nil
		}
		if p != dir && strings.HasPrefix(d.Name(), ".") {
			return fs.SkipDir
		}
		_ = w.Add(p)
		return nil
	})
}
