package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// Report counts what a publishing did.
type Report struct {
	Pages, Written, Unchanged, Removed int
}

// manifest lists what was published: a line per file, its hash and its path. By
// it a later publishing removes what is no longer there, and never a file that
// it did not write.
const manifest = "published.txt"

// write brings the folder to the state of files. Each file is written beside
// its place and then moved there, so that a reader or a power cut never meets
// half of one; pages come last, so that none names a file that is not there yet.
func write(files Files, to string) (Report, error) {
	var r Report
	var list strings.Builder
	paths := make([]string, 0, len(files))
	for p := range files {
		paths = append(paths, p)
		if strings.HasSuffix(p, ".html") {
			r.Pages++
		}
	}
	sort.Strings(paths)
	for _, p := range paths {
		sum := sha256.Sum256(files[p])
		list.WriteString(hex.EncodeToString(sum[:8]) + " " + p + "\n")
	}
	if err := os.MkdirAll(to, 0o755); err != nil {
		return r, fmt.Errorf("the folder for the site cannot be made: %w", err)
	}
	before, err := os.ReadFile(filepath.Join(to, manifest))
	if err != nil && !os.IsNotExist(err) {
		return r, err
	}
	sort.SliceStable(paths, func(i, j int) bool { return order(paths[i]) < order(paths[j]) })
	for _, p := range paths {
		changed, err := writeFile(filepath.Join(to, filepath.FromSlash(p)), files[p])
		if err != nil {
			return r, fmt.Errorf("%s cannot be written: %w", p, err)
		}
		if changed {
			r.Written++
		} else {
			r.Unchanged++
		}
	}
	for _, line := range strings.Split(string(before), "\n") {
		_, p, ok := strings.Cut(line, " ")
		if _, still := files[p]; !ok || still || !fs.ValidPath(p) {
			continue
		}
		switch err := os.Remove(filepath.Join(to, filepath.FromSlash(p))); {
		case err == nil:
			r.Removed++
			os.Remove(filepath.Dir(filepath.Join(to, filepath.FromSlash(p)))) // only if it is empty now
		case !os.IsNotExist(err):
			return r, err
		}
	}
	_, err = writeFile(filepath.Join(to, manifest), []byte(list.String()))
	return r, err
}

func order(p string) int {
	switch {
	case strings.HasPrefix(p, "run/"):
		return 0
	case p == "faultleaf.js" || p == "faultleaf.css":
		return 1
	}
	return 2
}

func writeFile(name string, b []byte) (changed bool, err error) {
	if old, err := os.ReadFile(name); err == nil && bytes.Equal(old, b) {
		return false, nil
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return false, err
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".half-")
	if err != nil {
		return false, err
	}
	_, err = f.Write(b)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err == nil, err
}
