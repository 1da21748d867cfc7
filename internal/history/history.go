// Package history asks git when each note last changed, and why. A shop without
// git, or without commits, simply has no history.
package history

import (
	"bufio"
	"bytes"
	"context"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"faultleaf/internal/problem"
)

// Change is one commit that touched notes.
type Change struct {
	Date time.Time
	Why  string   // the first line of its message
	Did  []string // the notes it touched, "content/faults/x.md"
}

// History is what is known of the notes' past. The zero one knows nothing.
type History struct {
	Changes []Change // the newest first
	Head    string   // the commit at which it was read
	last    map[string]int
}

// Known is the past as it was known at a commit.
func Known(changes []Change, head string) History {
	h := History{Changes: changes, Head: head}
	h.index()
	return h
}

// commit is the name of one. What was kept may have come with the shop from elsewhere, and git
// would take a name that begins with a hyphen for something to do.
var commit = regexp.MustCompile(`^[0-9a-f]{40}([0-9a-f]{24})?$`)

// most is how many commits are read; a note that has not changed since is an old
// one, of which nothing is said.
const most = 5000

// Read asks for the history of content/ inside dir.
func Read(ctx context.Context, dir string) History { return ReadOn(ctx, dir, History{}) }

// ReadOn is Read for somebody who has read before: of a shop that was only added to, just
// the commits since are asked for, as all of some thousands take seconds.
func ReadOn(ctx context.Context, dir string, was History) History {
	ctx, cancel := context.WithTimeout(ctx, 20*time.Second)
	defer cancel()
	out, err := Git(ctx, dir, "rev-parse", "--verify", "HEAD").Output()
	head := strings.TrimSpace(string(out))
	if err != nil || !commit.MatchString(head) {
		return History{}
	}
	if was.Head == head {
		return was
	}
	commits := head
	if commit.MatchString(was.Head) && follows(ctx, dir, was.Head, head) {
		commits = was.Head + ".." + head
	} else {
		was = History{}
	}
	out, err = Git(ctx, dir, "-c", "core.quotePath=false", "log", "--no-ext-diff", "--no-textconv", "--no-merges", "--no-renames", "--relative", "-n", strconv.Itoa(most),
		"-z", "--name-only", "--format=%x01%ct%x02%s", commits, "--", "content").Output()
	if err != nil {
		return History{}
	}
	h := parse(out)
	h.Head = head
	if len(was.Changes) > 0 {
		h.Changes = append(h.Changes, was.Changes...)
		h.Changes = h.Changes[:min(len(h.Changes), most)]
		h.index()
	}
	return h
}

// follows tells whether one commit leads to another by single steps, with no merge
// among them: then what came before stands in its order behind what came since.
func follows(ctx context.Context, dir, from, to string) bool {
	out, err := Git(ctx, dir, "rev-list", "--parents", "-n", strconv.Itoa(most), from+".."+to).Output()
	if err != nil {
		return false
	}
	next := to
	for line := range strings.Lines(string(out)) {
		f := strings.Fields(line)
		if len(f) != 2 || f[0] != next {
			return false
		}
		next = f[1]
	}
	return next == from
}

// index finds the last change of each note.
func (h *History) index() {
	n := 0
	for _, c := range h.Changes {
		n += len(c.Did)
	}
	h.last = make(map[string]int, n)
	for i, c := range h.Changes {
		for _, name := range c.Did {
			if _, known := h.last[name]; !known {
				h.last[name] = i
			}
		}
	}
}

// Git is a command that only reads a repository. The settings of one from elsewhere must
// run nothing, and what it lacks is fetched from nowhere: a fetch runs what the settings say.
func Git(ctx context.Context, dir string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, "git", append([]string{"--no-pager", "-c", "core.fsmonitor=false", "-c", "core.hooksPath=/dev/null", "-c", "log.showSignature=false"}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(cmd.Environ(), "GIT_TERMINAL_PROMPT=0", "GIT_OPTIONAL_LOCKS=0", "GIT_NO_LAZY_FETCH=1", "GIT_ALLOW_PROTOCOL=", "LC_ALL=C.UTF-8")
	return cmd
}

// parse reads the log: \x01 seconds \x02 message, then the names, all ended by
// zeros.
func parse(out []byte) History {
	h := History{last: map[string]int{}}
	s := bufio.NewScanner(bytes.NewReader(out))
	s.Buffer(nil, 1<<24)
	s.Split(func(data []byte, atEOF bool) (int, []byte, error) {
		if i := bytes.IndexByte(data, 0); i >= 0 {
			return i + 1, data[:i], nil
		}
		if atEOF && len(data) > 0 {
			return len(data), data, nil
		}
		return 0, nil, nil
	})
	for s.Scan() {
		text := strings.TrimLeft(s.Text(), "\n")
		if head, ok := strings.CutPrefix(text, "\x01"); ok {
			seconds, why, _ := strings.Cut(head, "\x02")
			var at int64
			for _, c := range seconds {
				if c < '0' || c > '9' || at > 1<<40 {
					at = 0
					break
				}
				at = at*10 + int64(c-'0')
			}
			if len(h.Changes) == most {
				break
			}
			h.Changes = append(h.Changes, Change{Date: time.Unix(at, 0).UTC(), Why: plain(why)})
			continue
		}
		if text == "" || len(h.Changes) == 0 {
			continue
		}
		name := filepath.ToSlash(text)
		i := len(h.Changes) - 1
		h.Changes[i].Did = append(h.Changes[i].Did, name)
		if _, known := h.last[name]; !known {
			h.last[name] = i
		}
	}
	return h
}

// plain is a message without signs that cannot be seen.
func plain(s string) string {
	return strings.Map(func(c rune) rune {
		if problem.Hidden(c) {
			return -1
		}
		return c
	}, s)
}

// Of is the last change of a note.
func (h History) Of(file string) (Change, bool) {
	i, ok := h.last[file]
	if !ok {
		return Change{}, false
	}
	return h.Changes[i], true
}

// parts are the small words with which a message begins that names the parts it is about.
var parts = regexp.MustCompile(`^[a-z][a-z-]*(?:, [a-z][a-z-]*)*: +`)

// Says is the message as a page gives it, beside the notes that changed: without the
// parts that it may begin with, and begun as a sentence is.
func (c Change) Says() string {
	why := parts.ReplaceAllString(c.Why, "")
	if why == "" {
		return c.Why
	}
	r, n := utf8.DecodeRuneInString(why)
	return string(unicode.ToUpper(r)) + why[n:]
}

// Day is a date as pages write it.
func (c Change) Day() string { return c.Date.Format("2 January 2006") }
