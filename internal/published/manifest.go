package published

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
)

// File is what the list says of one file.
type File struct {
	Sum  string // the first 16 bytes of its SHA-256 in hexadecimal digits; 8 bytes in lists of the first edition
	Size int64  // bytes; -1 where a list of the first edition does not say
	Kept bool   // of the generation before, kept for pages that are open
}

// Is says whether content with the hash sum is this file.
func (f File) Is(sum string) bool { return f.Sum != "" && strings.HasPrefix(sum, f.Sum) }

// Manifest is the list of what was published: path to file.
type Manifest map[string]File

// Sum is the hash by which a file's content is told.
func Sum(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:16])
}

// largestList bounds what is read as a list: 200,000 files with long names.
const largestList = 64 << 20

// ReadManifest reads the list of a published folder. A folder that was never
// published to has an empty one. Lines that are none are left out: their files
// count as somebody else's.
func ReadManifest(fsys fs.FS) (Manifest, error) {
	text, err := readList(fsys)
	if err != nil {
		return nil, err
	}
	return parse(text), nil
}

// readList is the list as it lies there, "" where there is none.
func readList(fsys fs.FS) (string, error) {
	f, err := fsys.Open(List)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	defer f.Close()
	var text strings.Builder
	if info, err := f.Stat(); err == nil {
		text.Grow(int(min(info.Size(), largestList)))
	}
	_, err = io.Copy(&text, io.LimitReader(f, largestList))
	return text.String(), err
}

// Any says whether a site was published into the folder dir.
func Any(dir string) bool {
	m, err := ReadManifest(os.DirFS(dir))
	return err == nil && len(m) > 0
}

func parse(text string) Manifest {
	m := make(Manifest, strings.Count(text, "\n"))
	for line := range strings.SplitSeq(text, "\n") {
		rest, kept := strings.CutPrefix(line, "kept ")
		sum, rest, ok := strings.Cut(rest, " ")
		if !ok || len(sum) < 16 || len(sum)%2 == 1 || !digits(sum) {
			continue
		}
		f := File{Sum: sum, Size: -1, Kept: kept}
		if len(sum) == 32 {
			size, path, _ := strings.Cut(rest, " ")
			n, err := strconv.ParseInt(size, 10, 64)
			if err != nil || n < 0 {
				continue
			}
			f.Size, rest = n, path
		}
		if proper(rest) {
			m[rest] = f
		}
	}
	return m
}

// digits says whether a text holds hexadecimal digits alone.
func digits(s string) bool {
	for i := range len(s) {
		if c := s[i]; (c < '0' || c > '9') && (c < 'a' || c > 'f') && (c < 'A' || c > 'F') {
			return false
		}
	}
	return true
}

// Bytes is the list as it is kept, sorted by path.
func (m Manifest) Bytes() []byte {
	paths := make([]string, 0, len(m))
	for p := range m {
		paths = append(paths, p)
	}
	slices.Sort(paths)
	b := make([]byte, 0, 96*len(m))
	for _, p := range paths {
		f := m[p]
		if f.Kept {
			b = append(b, "kept "...)
		}
		b = append(append(b, f.Sum...), ' ')
		b = append(strconv.AppendInt(b, f.Size, 10), ' ')
		b = append(append(b, p...), '\n')
	}
	return b
}

// proper says whether a path can be one of ours: inside the folder, not hidden,
// not the list, in one line.
func proper(p string) bool {
	if !fs.ValidPath(p) || p == "." || p == List || p[0] == '.' || strings.Contains(p, "/.") {
		return false
	}
	for i := range len(p) {
		switch p[i] {
		case '\\', '\n', '\r', 0:
			return false
		}
	}
	return true
}
