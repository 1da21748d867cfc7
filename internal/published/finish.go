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
			err = move(root, staging+"/"+from, name)
		case "drop":
			err = drop(root, from, name)
		default:
			err = fmt.Errorf("the journal holds the line %q, which is none", line)
		}
		if err != nil {
			return err
		}
	}
	if err := move(root, stagedList, List); err != nil {
		return err
	}
	if err := settleFolders(root, slices.Sorted(maps.Keys(folders))); err != nil {
		return err
	}
	return root.Remove(journal)
}

func move(root *os.Root, from, to string) error {
	if _, err := root.Lstat(from); errors.Is(err, fs.ErrNotExist) {
		return nil // moved before
	}
	if d := path.Dir(to); d != "." {
		if err := root.MkdirAll(d, 0o755); err != nil {
			return err
		}
	}
	return root.Rename(from, to)
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
