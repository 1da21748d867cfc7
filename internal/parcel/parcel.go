// Package parcel carries a device from one shop to another: its note, its
// faults, the common blocks in its chain, and the checklists, pages and pictures
// that these link to, as one zip file. Job sheets travel only if they are asked
// for, and never with the owners' words.
package parcel

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"sort"
	"strings"

	"faultleaf/internal/note"
)

// Files are the notes of a parcel: "content/faults/x.md" to content.
type Files map[string][]byte

// Origin is the file of a parcel that says where it comes from.
const Origin = "from.txt"

const (
	mostFiles = 5000
	mostBytes = 200 << 20 // unpacked; pictures of a whole device
	mostFile  = 20 << 20
)

// Options say what goes with a device.
type Options struct{ Sheets bool }

// Pack gathers a device of a shop. fsys holds content/.
func Pack(fsys fs.FS, set *note.Set, device string, o Options) (Files, error) {
	d, ok := set.Device(device)
	if !ok {
		return nil, fmt.Errorf("there is no device “%s” in this shop", device)
	}
	p := packer{fsys: fsys, set: set, files: Files{}}
	p.add(d.File)
	for _, f := range set.FaultsOf(device) {
		p.add(f.File)
	}
	words := p.words()
	for _, b := range set.Blocks {
		if words[b.Name] {
			p.add(b.File)
		}
	}
	if o.Sheets {
		for _, j := range set.JobsOf(device) {
			p.add(j.File)
		}
	}
	p.follow()
	for name, b := range p.files {
		if strings.HasPrefix(name, "content/jobs/") {
			p.files[name] = forget(b)
		}
		if strings.HasSuffix(name, ".md") {
			p.files[name] = p.files.unlink(name, p.files[name])
		}
	}
	p.files[Origin] = []byte(set.Shop.Name + "\n" + set.Shop.ID + "\n")
	return p.files, p.err
}

type packer struct {
	fsys  fs.FS
	set   *note.Set
	files Files
	err   error
}

func (p *packer) add(file string) {
	if _, ok := p.files[file]; ok || p.err != nil || file == "" {
		return
	}
	b, err := fs.ReadFile(p.fsys, file)
	if errors.Is(err, fs.ErrNotExist) {
		return // a fault made from a common block has no file of its own
	}
	if err != nil {
		p.err = err
		return
	}
	p.files[file] = b
}

// words are all words of the notes gathered so far; the names of the common
// blocks in a chain are among them.
func (p *packer) words() map[string]bool {
	words := map[string]bool{}
	for _, b := range p.files {
		for _, w := range bytes.FieldsFunc(b, func(c rune) bool { return !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') }) {
			words[string(w)] = true
		}
	}
	return words
}

// link is a link or picture of a note that lies in this shop.
var link = regexp.MustCompile(`(!?)\[([^\[\]]*)\]\(([^()\s:]+)\)`)

// follow adds what the notes link to: pictures, checklists and pages, and of
// these the pictures. Their further links are cut, or a whole shop would follow.
func (p *packer) follow() {
	for _, round := range []func(string) bool{
		func(to string) bool {
			return strings.HasPrefix(to, "content/checklists/") || strings.HasPrefix(to, "content/pages/") || strings.HasPrefix(to, "content/images/")
		},
		func(to string) bool { return strings.HasPrefix(to, "content/images/") },
	} {
		for _, name := range slices.Sorted(maps.Keys(p.files)) {
			for _, m := range link.FindAllSubmatch(p.files[name], -1) {
				if to := target(name, string(m[3])); round(to) {
					p.add(to)
				}
			}
		}
	}
}

func target(from, to string) string {
	to, _, _ = strings.Cut(to, "#")
	return path.Join(path.Dir(from), to)
}

// unlink leaves the words of links that lead to notes which stay behind.
func (f Files) unlink(name string, b []byte) []byte {
	return link.ReplaceAllFunc(b, func(whole []byte) []byte {
		m := link.FindSubmatch(whole)
		to := string(m[3])
		if strings.HasPrefix(to, "#") || !strings.HasSuffix(target(name, to), ".md") {
			return whole
		}
		if _, goes := f[target(name, to)]; goes {
			return whole
		}
		return m[2]
	})
}

// forget takes the owner's words out of a job sheet.
func forget(b []byte) []byte {
	var out []string
	dropping, front := false, 0
	for line := range strings.SplitSeq(string(b), "\n") {
		if strings.TrimRight(line, " \r") == "---" {
			front++
		}
		inside := strings.HasPrefix(line, " ") || strings.HasPrefix(line, "\t") || line == ""
		if dropping && inside {
			continue
		}
		dropping = front == 1 && strings.HasPrefix(line, "owner_says:")
		if !dropping {
			out = append(out, line)
		}
	}
	return []byte(strings.Join(out, "\n"))
}

// Write writes a parcel as a zip file, the same bytes for the same files.
func Write(w io.Writer, files Files) error {
	z := zip.NewWriter(w)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err != nil {
			return err
		}
		if _, err := f.Write(files[name]); err != nil {
			return err
		}
	}
	return z.Close()
}

// folders are those of content/ that a parcel may bring something into.
var folders = []string{"blocks", "checklists", "devices", "faults", "images", "jobs", "pages"}

// Read opens a parcel. One that holds anything else than notes, or more than it
// may, is refused whole.
func Read(r io.ReaderAt, size int64) (Files, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, errors.New("this is no parcel of a device; it should be a zip file that faultleaf export made")
	}
	if len(z.File) > mostFiles {
		return nil, fmt.Errorf("the parcel holds %d files, more than a device has", len(z.File))
	}
	files, total := Files{}, int64(0)
	for _, f := range z.File {
		if strings.HasSuffix(f.Name, "/") {
			continue
		}
		parts := strings.Split(f.Name, "/")
		notes := len(parts) >= 3 && parts[0] == "content" && slices.Contains(folders, parts[1])
		if !fs.ValidPath(f.Name) || f.Name != Origin && !notes || strings.ContainsAny(f.Name, "\\\n\r\x00") || slices.ContainsFunc(parts, func(s string) bool { return strings.HasPrefix(s, ".") }) {
			return nil, fmt.Errorf("the parcel holds %q, which is no note", f.Name)
		}
		if !f.Mode().IsRegular() {
			return nil, fmt.Errorf("the parcel holds a link, %q", f.Name)
		}
		in, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("%s cannot be unpacked: %w", f.Name, err)
		}
		b, err := io.ReadAll(io.LimitReader(in, mostFile+1))
		in.Close()
		if err != nil {
			return nil, fmt.Errorf("%s cannot be unpacked: %w", f.Name, err)
		}
		if total += int64(len(b)); len(b) > mostFile || total > mostBytes {
			return nil, fmt.Errorf("the parcel holds more than a device can need; nothing was taken from it")
		}
		if _, twice := files[f.Name]; twice {
			return nil, fmt.Errorf("the parcel holds %s twice", f.Name)
		}
		files[f.Name] = b
	}
	return files, nil
}

// Shop is the name and id of the shop that a parcel comes from.
func (f Files) Shop() (name, id string) {
	name, rest, _ := strings.Cut(strings.TrimSpace(string(f[Origin])), "\n")
	id, _, _ = strings.Cut(rest, "\n")
	return clean(name), clean(id)
}

func clean(s string) string {
	s = strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f {
			return -1
		}
		return c
	}, s)
	if r := []rune(s); len(r) > 80 {
		s = string(r[:80])
	}
	return strings.TrimSpace(s)
}

// Arrival is what a parcel would bring into a shop.
type Arrival struct {
	New      Files    // not there yet
	Same     []string // there already, word for word
	Collides []string // there already with other words
}

// Arrive compares a parcel with a shop. Job sheets stay out unless they are
// wanted; owners' words always do. day is the date that new notes bear as that of
// their arrival.
func (f Files) Arrive(shop fs.FS, o Options, day string) (Arrival, error) {
	a := Arrival{New: Files{}}
	from, id := f.Shop()
	if from == "" {
		from = "an unnamed shop"
	}
	mark := "# from " + from
	if id != "" {
		mark += " (" + id + ")"
	}
	for _, name := range slices.Sorted(maps.Keys(f)) {
		b := f[name]
		switch {
		case name == Origin:
			continue
		case strings.HasPrefix(name, "content/jobs/"):
			if !o.Sheets {
				continue
			}
			b = forget(b)
		}
		mine, err := fs.ReadFile(shop, name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return a, err
		case bytes.Equal(arrived.ReplaceAll(f.unlink(name, mine), nil), arrived.ReplaceAll(b, nil)): // links that stayed behind aside
			a.Same = append(a.Same, name)
			continue
		default:
			a.Collides = append(a.Collides, name)
		}
		if rest, ok := bytes.CutPrefix(b, []byte("---\n")); ok && strings.HasSuffix(name, ".md") && !arrived.Match(b) {
			b = slices.Concat([]byte("---\n"+mark+", "+day+"\n"), rest)
		}
		a.New[name] = b
	}
	sort.Strings(a.Collides)
	return a, nil
}

// arrived is the line that a note from elsewhere bears.
var arrived = regexp.MustCompile(`(?m)^# from [^\n]*\n`)
