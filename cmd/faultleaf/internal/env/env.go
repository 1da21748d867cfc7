// Package env carries what a command may ask the process for, so that a test
// can call the whole program without one.
package env

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync/atomic"

	"github.com/spf13/cobra"

	"faultleaf/internal/problem"
)

// Env is the world of a command.
type Env struct {
	Context context.Context // ends when the process is asked to stop
	In      io.Reader
	Out     io.Writer
	Err     io.Writer
	// Terminal is where a line may be written and taken away again; nil where nobody watches.
	Terminal *os.File
	// EndsItself is set by a command that ends by itself when Context does;
	// others are ended at once.
	EndsItself atomic.Bool
}

// Exit statuses besides 0.
const (
	Mistakes = 1 // the notes hold mistakes, or the work could not be done
	Usage    = 2 // the command's words cannot be followed
)

// Failure is an error with the exit status it leads to.
type Failure struct {
	Status int
	Err    error
}

func (f *Failure) Error() string { return f.Err.Error() }
func (f *Failure) Unwrap() error { return f.Err }

// Bad is a failure of the command's words.
func Bad(sentence string) error { return &Failure{Usage, errors.New(sentence)} }

// ErrMistakes is returned when the mistakes themselves have been printed.
var ErrMistakes = errors.New("the notes hold mistakes")

// Folders are the two flags that name where a shop's notes and its site are.
type Folders struct{ From, To string }

// AddFrom adds --from.
func (f *Folders) AddFrom(c *cobra.Command) {
	c.Flags().StringVar(&f.From, "from", ".", "the folder that holds content/")
}

// AddTo adds --to.
func (f *Folders) AddTo(c *cobra.Command) {
	c.Flags().StringVar(&f.To, "to", "", "the folder to publish into (public/ inside the --from folder)")
}

// Site is the folder to publish into.
func (f *Folders) Site() string {
	if f.To != "" {
		return f.To
	}
	return filepath.Join(f.From, "public")
}

// Inbox is the folder in which the host keeps what screens hand over.
func (f *Folders) Inbox() string { return filepath.Join(f.From, "inbox") }

// Check says early if there is no shop in the folder.
func (f *Folders) Check() error {
	if info, err := os.Stat(filepath.Join(f.From, "content")); err != nil || !info.IsDir() {
		return Bad("there is no folder content/ in " + f.From + "; go to the shop's folder, name it with --from, or begin a shop with faultleaf outfit")
	}
	return nil
}

// Tell prints mistakes to the error stream and returns the matching failure.
func (e *Env) Tell(mistakes problem.List) error {
	if len(mistakes) == 0 {
		return nil
	}
	if err := mistakes.Print(e.Err); err != nil {
		return err
	}
	return &Failure{Mistakes, ErrMistakes}
}

// Warn says that some notes are left out, where the others are enough to go on.
func (e *Env) Warn(mistakes problem.List) {
	if len(mistakes) == 0 {
		return
	}
	files := map[string]bool{}
	for _, m := range mistakes {
		files[m.File] = true
	}
	fmt.Fprintf(e.Err, "Mistakes in %d of the notes; these, and what rests on them, are left out. faultleaf inspect says which.\n", len(files))
}

// JSON writes v with a line end, as one line unless it is a list of objects.
func (e *Env) JSON(v any) error {
	enc := json.NewEncoder(e.Out)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
