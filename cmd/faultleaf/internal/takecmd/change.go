package takecmd

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"faultleaf/calc/all"
	"faultleaf/internal/inbox"
	"faultleaf/internal/note"
	"faultleaf/internal/whole"
)

// change takes a note as somebody would have it, and shows what differs.
func (t *taker) change(f found) error {
	c := f.change
	at := filepath.Join(t.o.From, filepath.FromSlash(c.File))
	old, err := os.ReadFile(at)
	switch {
	case err != nil:
		t.refuse(f.where, c.File+" is not there any more")
		return nil
	case string(old) == c.Text:
		t.already++
		fmt.Fprintf(t.e.Out, "There: %s is in %s already\n", f.where, c.File)
		if t.o.Look {
			return nil
		}
		return f.remove()
	}
	fmt.Fprintf(t.e.Out, "%s would change %s:\n", f.where, c.File)
	for _, line := range differ(string(old), c.Text) {
		fmt.Fprintln(t.e.Out, "  "+line)
	}
	if inbox.Base(old) != c.Base {
		t.refuse(f.where, c.File+" was changed here meanwhile; put in by hand what is still wanted, and delete the file in the inbox")
		return nil
	}
	if list := note.With(os.DirFS(t.o.From), all.Find, c.File, []byte(c.Text)); len(list) > 0 {
		t.mistakes(f.where, list)
		return nil
	}
	t.taken = append(t.taken, filepath.FromSlash(c.File))
	t.changed[filepath.FromSlash(c.File)] = true
	if t.o.Look {
		fmt.Fprintf(t.e.Out, "Sound: %s would be taken\n", f.where)
		return nil
	}
	if err := whole.Over(at, 0o644, whole.Bytes([]byte(c.Text))); err != nil {
		return fmt.Errorf("%s was not taken: %w", f.where, err)
	}
	fmt.Fprintf(t.e.Out, "Taken: %s is %s\n", f.where, c.File)
	return f.remove()
}

// mostCompared pairs of lines are compared.
const mostCompared = 20_000_000

// around is how many equal lines are shown beside a change.
const around = 2

// differ lists the lines that go, with -, and those that come, with +, with a few equal
// ones around them and "..." where more are left out.
func differ(old, text string) []string {
	a, b := strings.Split(old, "\n"), strings.Split(text, "\n")
	if len(a)*len(b) > mostCompared {
		return []string{fmt.Sprintf("%d lines become %d; they are too many to be shown side by side", len(a), len(b))}
	}
	// how many lines the rests of both have in common, in order
	common := make([][]int32, len(a)+1)
	for i := range common {
		common[i] = make([]int32, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	var lines []string
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			lines = append(lines, "  "+a[i])
			i, j = i+1, j+1
		case i < len(a) && (j == len(b) || common[i+1][j] >= common[i][j+1]):
			lines = append(lines, "- "+a[i])
			i++
		default:
			lines = append(lines, "+ "+b[j])
			j++
		}
	}
	near := make([]bool, len(lines))
	for n, line := range lines {
		if line[0] != ' ' {
			for k := max(0, n-around); k <= min(len(lines)-1, n+around); k++ {
				near[k] = true
			}
		}
	}
	var out []string
	for n, line := range lines {
		switch {
		case near[n]:
			out = append(out, strings.TrimRight(line, " "))
		case n > 0 && near[n-1]:
			out = append(out, "...")
		}
	}
	return out
}
