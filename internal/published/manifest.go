package published

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sort"
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
	f, err := fsys.Open(List)
	if errors.Is(err, fs.ErrNotExist) {
		return Manifest{}, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, largestList))
	if err != nil {
		return nil, err
	}
	return parse(b), nil
}

// Any says whether a site was published into the folder dir.
func Any(dir string) bool {
	m, err := ReadManifest(os.DirFS(dir))
	return err == nil && len(m) > 0
}

func parse(b []byte) Manifest {
	m := Manifest{}
	for line := range strings.SplitSeq(string(b), "\n") {
		rest, kept := strings.CutPrefix(line, "kept ")
		sum, rest, ok := strings.Cut(rest, " ")
		if _, err := hex.DecodeString(sum); !ok || err != nil || len(sum) < 16 {
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

// Bytes is the list as it is kept, sorted by path.
func (m Manifest) Bytes() []byte {
	paths := make([]string, 0, len(m))
	for p := range m {
		paths = append(paths, p)
	}
	sort.Strings(paths)
	var b bytes.Buffer
	for _, p := range paths {
		f := m[p]
		if f.Kept {
			b.WriteString("kept ")
		}
		fmt.Fprintf(&b, "%s %d %s\n", f.Sum, f.Size, p)
	}
	return b.Bytes()
}

// proper says whether a path can be one of ours: inside the folder, not hidden,
// not the list, in one line.
func proper(p string) bool {
	if !fs.ValidPath(p) || p == "." || p == List || strings.ContainsAny(p, "\\\n\r\x00") {
		return false
	}
	for part := range strings.SplitSeq(p, "/") {
		if strings.HasPrefix(part, ".") {
			return false
		}
	}
	return true
}
