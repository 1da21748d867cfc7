// Package takecmd is the command take: from the inbox, or from files, into
// content/.
package takecmd

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/inbox"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/whole"
)

// Options of the command.
type Options struct {
	env.Folders
	Look, Commit bool
	Files        []string
}

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "take [FILE...]",
		Short: "Take job sheets and fault notes into content/",
		Long: `Take looks through the inbox, or through the files that are named, checks each
sheet and each begun fault note as inspect would, gives it its name and moves
it into content/. What holds a mistake stays where it is, and is told. A note
that somebody changed on a page is shown line by line before it is taken; one
that was changed here meanwhile stays.

A file may be a sheet as the browser saved it, whatever it was named there; a
CSV with a line of names and a job a row; or a folder of plain Markdown files
of old jobs. Of old jobs it tells what could not be read; they stay where they
are. Nothing of an owner is taken: a column of names or telephone numbers is
left out, and a text that holds one is refused.`,
		RunE: func(_ *cobra.Command, args []string) error {
			o.Files = args
			return Run(e, o)
		},
	}
	o.AddFrom(c)
	c.Flags().BoolVar(&o.Look, "look", false, "only look, and take nothing")
	c.Flags().BoolVar(&o.Commit, "commit", false, "commit what was taken with git")
	return c
}

// found is a text that may be taken.
type found struct {
	where  string // as the shop calls it
	text   []byte
	fault  bool
	change *inbox.Change // a note as somebody would have it
	name   string        // of a fault note
	remove func() error
}

// Run takes what there is.
func Run(e *env.Env, o Options) error {
	if err := o.Check(); err != nil {
		return err
	}
	judge, mistakes := note.NewJudge(os.DirFS(o.From), all.Find)
	if judge == nil {
		fmt.Fprintln(e.Err, "The notes hold mistakes that concern them all, so nothing can be checked against them:")
		return e.Tell(mistakes)
	}
	e.Warn(mistakes)
	t := &taker{e: e, o: o, judge: judge, codes: map[string]string{}, changed: map[string]bool{}}
	for _, j := range judge.Set().Jobs {
		if j.Sheet.Code != "" {
			t.codes[j.Sheet.Code] = j.File
		}
	}
	for file := range judge.Left().Files { // their codes are taken all the same
		if b, err := os.ReadFile(filepath.Join(o.From, filepath.FromSlash(file))); err == nil && strings.HasPrefix(file, "content/jobs/") {
			if m := codeLine.FindSubmatch(b); m != nil {
				t.codes[string(m[1])] = file
			}
		}
	}
	list, err := t.find()
	if err != nil {
		return err
	}
	for _, f := range list {
		if err := t.take(f); err != nil {
			return err
		}
	}
	return t.end()
}

type taker struct {
	e     *env.Env
	o     Options
	judge *note.Judge
	codes map[string]string // code to file

	taken   []string        // files in content/
	changed map[string]bool // those of them that were there before
	already int
	refused int
	unread  int // lines and files of old jobs
}

// find lists what the inbox or the named files hold.
func (t *taker) find() ([]found, error) {
	if len(t.o.Files) == 0 {
		if _, err := os.Stat(t.o.Folders.Inbox()); err != nil {
			return nil, env.Bad("there is no folder " + t.o.Folders.Inbox() + " here; name files, or host with --inbox")
		}
		box, err := inbox.Open(t.o.Folders.Inbox())
		if err != nil {
			return nil, err
		}
		items, err := box.Items()
		if err != nil {
			return nil, err
		}
		var out []found
		for _, it := range items {
			if change, ok := inbox.ReadChange(it.Text); ok && it.Kind == inbox.Changes {
				out = append(out, found{where: "inbox/changes/" + it.Name, change: &change, remove: func() error { return box.Taken(it) }})
				continue
			}
			out = append(out, found{where: "inbox/" + string(it.Kind) + "/" + it.Name, text: it.Text, fault: it.Kind == inbox.Notes, name: it.Name,
				remove: func() error { return box.Taken(it) }})
		}
		return out, nil
	}
	var out []found
	for _, name := range t.o.Files {
		info, err := os.Stat(name)
		if err != nil {
			return nil, env.Bad(name + " cannot be read")
		}
		if info.IsDir() {
			old, err := t.folder(name)
			if err != nil {
				return nil, err
			}
			out = append(out, old...)
			continue
		}
		if !info.Mode().IsRegular() {
			return nil, env.Bad(name + " is no file")
		}
		text, err := read(name, 16<<20)
		switch {
		case errors.Is(err, errLarge):
			t.refuse(name, "it is larger than 16 megabytes")
		case err != nil:
			return nil, env.Bad(name + " cannot be read")
		case strings.EqualFold(filepath.Ext(name), ".csv"):
			out = append(out, t.table(name, text)...)
		case isNote(text):
			out = append(out, found{where: name, text: text, fault: isFault(text), name: faultName(name), remove: func() error { return os.Remove(name) }})
		default:
			if f, ok := t.plain(name, text); ok {
				out = append(out, f)
			}
		}
	}
	return out, nil
}

var errLarge = errors.New("the file is too large")

// read reads a plain file that is no larger than most bytes. It is looked at first: a pipe would
// hold up whoever opens it, and a device has no end.
func read(name string, most int64) ([]byte, error) {
	if info, err := os.Stat(name); err != nil {
		return nil, err
	} else if !info.Mode().IsRegular() {
		return nil, fs.ErrInvalid
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(text)) > most {
		err = errLarge
	}
	return text, err
}

// isNote tells a note with front matter from any other text.
func isNote(text []byte) bool {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	return bytes.HasPrefix(text, []byte("---\n")) || bytes.HasPrefix(text, []byte("---\r\n"))
}

var faultKeys = regexp.MustCompile(`(?m)^(block|mend|reads|seen):`)

func isFault(text []byte) bool { return faultKeys.Match(text) }

var copied = regexp.MustCompile(` ?\(\d+\)$`)

// faultName makes a plain name of a file's.
func faultName(file string) string {
	base := copied.ReplaceAllString(strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)), "")
	name := strings.Trim(regexp.MustCompile(`[^a-z0-9]+`).ReplaceAllString(strings.ToLower(base), "-"), "-")
	if name == "" {
		name = "new-fault"
	}
	return name + ".md"
}

func (t *taker) refuse(where, why string) {
	t.refused++
	fmt.Fprintf(t.e.Out, "Left:  %s: %s\n", where, why)
}

func (t *taker) mistakes(where string, list problem.List) {
	t.refused++
	fmt.Fprintf(t.e.Out, "Left:  %s\n", where)
	first, left := list.First()
	for _, m := range first {
		says := m.Says
		if m.Do != "" {
			says += "; " + m.Do
		}
		fmt.Fprintf(t.e.Out, "       line %d: %s\n", max(m.Line, 1), says)
	}
	if left > 0 {
		fmt.Fprintln(t.e.Out, "      ", problem.Follow(left))
	}
}

// take checks one text, names it and puts it into content/.
func (t *taker) take(f found) error {
	if f.change != nil {
		return t.change(f)
	}
	text := bytes.ReplaceAll(bytes.TrimPrefix(f.text, []byte("\ufeff")), []byte("\r\n"), []byte("\n"))
	folder, name := "jobs", ""
	if f.fault {
		folder = "faults"
		name = t.free("faults", strings.TrimSuffix(f.name, ".md"), text)
		if list := t.judge.Rests(name, text); len(list) > 0 {
			t.mistakes(f.where, list)
			return nil
		}
		if list := note.WithFault(os.DirFS(t.o.From), all.Find, strings.TrimSuffix(name, ".md")+".md", text); len(list) > 0 {
			t.mistakes(f.where, list)
			return nil
		}
	} else {
		var list problem.List
		if text, name, list = t.named(text); len(list) > 0 {
			t.mistakes(f.where, list)
			return nil
		}
	}
	at := filepath.Join("content", folder, name)
	if old, err := os.ReadFile(filepath.Join(t.o.From, at)); err == nil {
		if !bytes.Equal(old, text) {
			t.refuse(f.where, at+" is there already and says something else")
			return nil
		}
		t.already++
		fmt.Fprintf(t.e.Out, "There: %s is %s already\n", f.where, filepath.ToSlash(at))
		if !t.o.Look && f.remove != nil {
			return f.remove()
		}
		return nil
	}
	if t.o.Look {
		fmt.Fprintf(t.e.Out, "Sound: %s would be %s\n", f.where, filepath.ToSlash(at))
		t.taken = append(t.taken, at)
		return nil
	}
	if err := put(filepath.Join(t.o.From, at), text); err != nil {
		return fmt.Errorf("%s was not taken: %w", f.where, err)
	}
	t.taken = append(t.taken, at)
	fmt.Fprintf(t.e.Out, "Taken: %s is %s\n", f.where, filepath.ToSlash(at))
	if f.remove != nil {
		return f.remove()
	}
	return nil
}

var codeLine = regexp.MustCompile(`(?m)^code: *["']?([^"'\n]*).*$`)

// named gives a sheet its name: by its code, or by its date, device and the next
// number. Where another job has the code already, this one's gets a letter.
func (t *taker) named(text []byte) ([]byte, string, problem.List) {
	// the checks ask for the code in the name, so the first look is at the sheet
	s, list := t.judge.Sheet("x.md", text)
	if s.Date == "" || s.Device == "" {
		if len(list) == 0 {
			list.Add("", 1, 1, "the sheet names no device or no date", "write both")
		}
		return text, "", list
	}
	if !s.Coded() { // what is wrong with a code that is none, the note's own place tells
		name := t.free("jobs", s.Date+"-"+s.Device+"-", text)
		_, list = t.judge.Sheet(name, text)
		return text, name, list
	}
	code := s.Code
	for letter := 'b'; letter <= 'z'; letter++ {
		name := code + "-" + s.Device + ".md"
		old, err := os.ReadFile(filepath.Join(t.o.From, "content", "jobs", name))
		_, used := t.codes[code]
		if !used || err == nil && bytes.Equal(old, text) {
			t.codes[code] = name
			_, list = t.judge.Sheet(name, text)
			return text, name, list
		}
		code = s.Code + string(letter)
		text = codeLine.ReplaceAll(text, []byte("code: \""+code+"\""))
	}
	list.Add("", 1, 1, "more than twenty jobs have the code "+s.Code, "give it another one")
	return text, "", list
}

// free finds a name that no other note has; a name that ends in a hyphen gets a
// number in any case.
func (t *taker) free(folder, base string, text []byte) string {
	for n := 1; ; n++ {
		name := base + ".md"
		if strings.HasSuffix(base, "-") {
			name = base + strconv.Itoa(n) + ".md"
		} else if n > 1 {
			name = base + "-" + strconv.Itoa(n) + ".md"
		}
		old, err := os.ReadFile(filepath.Join(t.o.From, "content", folder, name))
		if errors.Is(err, fs.ErrNotExist) && !t.promised(filepath.Join("content", folder, name)) || err == nil && bytes.Equal(old, text) {
			return name
		}
	}
}

func (t *taker) promised(at string) bool {
	for _, x := range t.taken {
		if x == at {
			return true
		}
	}
	return false
}

// put writes a new file as a whole, and never over another.
func put(at string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return err
	}
	return whole.New(at, 0o644, whole.Bytes(text))
}

func (t *taker) end() error {
	words := "taken"
	if t.o.Look {
		words = "to take"
	}
	fmt.Fprintf(t.e.Out, "%d %s, %d there already, %d left", len(t.taken), words, t.already, t.refused)
	if t.unread > 0 {
		fmt.Fprintf(t.e.Out, ", %d that could not be read", t.unread)
	}
	fmt.Fprintln(t.e.Out, ".")
	if !t.o.Commit && !t.o.Look && len(t.taken) > 0 {
		fmt.Fprintln(t.e.Out, "Look at them, then commit content/.")
	}
	if t.o.Commit && !t.o.Look && len(t.taken) > 0 {
		if err := t.commit(); err != nil {
			return err
		}
	}
	if t.refused+t.unread > 0 {
		return &env.Failure{Status: env.Mistakes, Err: env.ErrMistakes}
	}
	return nil
}

// commit commits the files that were taken, and nothing else that is staged.
func (t *taker) commit() error {
	sort.Strings(t.taken)
	jobs, faults, changes := 0, 0, 0
	for _, at := range t.taken {
		switch {
		case t.changed[at]:
			changes++
		case strings.HasPrefix(filepath.ToSlash(at), "content/jobs/"):
			jobs++
		default:
			faults++
		}
	}
	var what []string
	for _, c := range []struct {
		n         int
		one, many string
	}{{jobs, "job sheet", "job sheets"}, {faults, "fault note", "fault notes"}, {changes, "change", "changes"}} {
		if c.n == 1 {
			what = append(what, "1 "+c.one)
		} else if c.n > 1 {
			what = append(what, strconv.Itoa(c.n)+" "+c.many)
		}
	}
	// a list on the input: a first taking may be thousands of files
	paths := strings.Join(t.taken, "\x00") + "\x00"
	for _, args := range [][]string{
		{"add", "--pathspec-from-file=-", "--pathspec-file-nul"},
		{"commit", "--quiet", "-m", "content: " + strings.Join(what, " and ") + " taken in", "--pathspec-from-file=-", "--pathspec-file-nul"},
	} {
		cmd := exec.CommandContext(t.e.Context, "git", append([]string{"-C", t.o.From}, args...)...)
		cmd.Stdin = strings.NewReader(paths)
		if out, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("they are in content/, and git would not commit them (%s); commit them by hand", strings.TrimSpace(string(out)))
		}
	}
	fmt.Fprintln(t.e.Out, "Committed.")
	return nil
}
