package published

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"

	"faultleaf/internal/stat"
)

// Finish completes a site that was decided and not put in place, as after a
// power cut. It does nothing while a publisher is at work, and nothing where
// nothing is left to do.
func Finish(dir string) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	if _, err := root.Lstat(journal); err != nil {
		return nil
	}
	l, err := lock(root, dir)
	if errors.Is(err, Busy) {
		return nil
	}
	if err != nil {
		return err
	}
	defer l.Close()
	return errors.Join(finish(root), sweep(root))
}

// ours are the lines that we write: another one could move the workshop itself, or drop what we
// did not write.
var ours = regexp.MustCompile(`^(?:move [0-9]{6,9}|drop [0-9a-fA-F]{16,}) `)

// finish does what the journal says. Each step may have been done before.
func finish(root *os.Root) error {
	text, err := root.ReadFile(journal)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	folders := map[string]bool{".": true, workshop: true}
	m := mover{root: root}
	defer m.close()
	for line := range strings.SplitSeq(strings.TrimSuffix(string(text), "\n"), "\n") {
		what, rest, _ := strings.Cut(line, " ")
		from, name, _ := strings.Cut(rest, " ")
		if line == "" {
			continue
		}
		if !proper(name) || !ours.MatchString(line) {
			return fmt.Errorf("the journal holds the line %q, which is none", line)
		}
		switch what {
		case "move":
			folders[path.Dir(name)] = true
			err = m.move(from, name)
		case "drop":
			m.close() // of a folder that may be empty then
			err = drop(root, from, name)
		default:
			err = fmt.Errorf("the journal holds the line %q, which is none", line)
		}
		if err != nil {
			return err
		}
	}
	if err := m.move(path.Base(stagedList), List); err != nil {
		return err
	}
	m.close()
	if err := settleFolders(root, slices.Sorted(maps.Keys(folders))); err != nil {
		return err
	}
	return root.Remove(journal)
}

// mover moves staged files into place, and holds the folder of staged files and the one where the
// last file went: the way to them is not found anew for each of thousands.
type mover struct {
	root       *os.Root
	stage, dir *os.File
	at         string // path of dir
}

func (m *mover) close() {
	for _, f := range []*os.File{m.stage, m.dir} {
		if f != nil {
			f.Close()
		}
	}
	m.stage, m.dir = nil, nil
}

// move moves a staged file to its place, unless it was moved before.
func (m *mover) move(from, to string) (err error) {
	if m.stage == nil {
		m.stage, err = m.root.Open(staging)
		if errors.Is(err, fs.ErrNotExist) {
			return nil // all were moved before
		}
		if err != nil {
			return err
		}
	}
	dir, name := path.Split(to)
	if dir = path.Clean(dir); m.dir == nil || dir != m.at {
		if m.dir != nil {
			m.dir.Close()
			m.dir = nil
		}
		if _, err := stat.In(m.stage, from); errors.Is(err, fs.ErrNotExist) {
			return nil // and its folder may be gone since
		}
		if err := m.root.MkdirAll(dir, 0o755); err != nil {
			return err
		}
		if m.dir, err = m.root.Open(dir); err != nil {
			return err
		}
		m.at = dir
	}
	err = rename(m.root, m.stage, from, m.dir, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("%s cannot be put in place: %w", to, err)
	}
	return nil
}

// drop removes a file that still is what we wrote, and its folders where they
// are empty then.
func drop(root *os.Root, sum, name string) error {
	info, err := root.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, errNotDir) || err == nil && !info.Mode().IsRegular() {
		return nil
	}
	if err != nil {
		return err
	}
	now, err := sumOf(root, name)
	if err != nil {
		return err
	}
	if !(File{Sum: sum}).Is(now) {
		return nil
	}
	if err := root.Remove(name); err != nil {
		return err
	}
	for d := path.Dir(name); d != "."; d = path.Dir(d) {
		if root.Remove(d) != nil {
			break // not empty
		}
	}
	return nil
}

// sweep removes our own remains from the workshop, unless a journal still needs
// them.
func sweep(root *os.Root) error {
	if _, err := root.Lstat(journal); err == nil {
		return nil
	}
	err := root.Remove(journal + ".new")
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, root.RemoveAll(staging))
}
