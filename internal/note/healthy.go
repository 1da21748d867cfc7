package note

import (
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"faultleaf/calc/blocks"
	"faultleaf/internal/problem"
)

// Left is what of a shop with mistakes is not used, so that the rest can be.
type Left struct {
	// All tells that nothing can be used: what is wrong concerns every note.
	All bool
	// Files are the notes with mistakes, and all notes of Devices.
	Files map[string]bool
	// Devices are those with a mistake in their own note, a block's, a fault's or
	// a sheet's: without that note their advice would be another one than with it,
	// and nobody would know.
	Devices []string
}

// Has tells whether a device's notes are left.
func (l Left) Has(device string) bool { return slices.Contains(l.Devices, device) }

// LoadHealthy reads a shop with mistakes as it would be without the notes that
// cannot be relied on. known may say whose note a file is that does not tell
// itself; it may be nil. The mistakes are all there are, as Load gives them.
func LoadHealthy(fsys fs.FS, find Find, known func(file string) (device string)) (set *Set, left Left, mistakes, remarks problem.List) {
	l, left, mistakes, remarks := loadHealthy(fsys, find, known)
	return l.set, left, mistakes, remarks
}

func loadHealthy(fsys fs.FS, find Find, known func(file string) (device string)) (healthy *loader, left Left, mistakes, remarks problem.List) {
	first := load(fsys, find)
	if len(first.mistakes) == 0 {
		return first, left, nil, first.remarks
	}
	whose := func(file string) string {
		if says, _ := first.file(file, longest); says == "" {
			if b, err := fs.ReadFile(fsys, file); err == nil {
				if device := DeviceLine(b); device != "" {
					return device
				}
			}
		}
		if known == nil {
			return ""
		}
		return known(file)
	}
	wrong := first.mistakes
	for range MostRounds {
		if !first.set.Leave(wrong, &left, whose) {
			break
		}
		l := loadBut(fsys, find, left.Files)
		if len(l.mistakes) == 0 {
			return l, left, first.mistakes, first.remarks
		}
		wrong = l.mistakes
	}
	left.All = true
	return first, left, first.mistakes, first.remarks
}

// MostRounds is how often a shop is read to see whether what was not left is sound: in
// each round at least one more note is left.
const MostRounds = 8

var deviceLine = regexp.MustCompile(`(?m)^device:[ \t]*["']?([a-z0-9-]+)`)

// DeviceLine is the device that a note names in a line of its own, whatever is wrong
// in it; "" for none.
func DeviceLine(text []byte) string {
	if m := deviceLine.FindSubmatch(text); m != nil {
		return string(m[1])
	}
	return ""
}

// Leave adds to what is left for mistakes: the notes that hold them, and the devices
// that rest on these. whose names the device of a fault or a sheet, "" for none that is
// known. It is false where they concern the whole shop. Of the set's notes it looks at
// names, devices, the block notes that these use, and the pictures.
func (s *Set) Leave(mistakes problem.List, left *Left, whose func(file string) (device string)) bool {
	devices := map[string]bool{}
	for _, device := range left.Devices {
		devices[device] = true
	}
	bad := map[string]bool{}
	for _, m := range mistakes {
		if m.On == "" {
			bad[m.File] = true
		}
		for _, device := range strings.Fields(m.On) { // the block's note is sound on others
			devices[device] = true
		}
	}
	were := map[string]string{}
	for _, m := range s.Moved {
		were[m.From] = m.To
	}
	if left.Files == nil {
		left.Files = map[string]bool{}
	}
	for file := range bad {
		name := strings.TrimSuffix(path.Base(file), ".md")
		left.Files[file] = true
		switch dir := path.Dir(file); dir {
		case "content/devices":
			devices[name] = true
		case "content/faults", "content/jobs":
			device := whose(file)
			if now, ok := were["devices/"+device]; ok {
				device = strings.TrimPrefix(now, "devices/")
			}
			devices[device] = true
		case "content/blocks":
			for _, d := range s.Devices {
				if slices.Contains(d.Uses, name) {
					devices[d.Name] = true
				}
			}
		case "content/checklists", "content/pages":
		default:
			if !strings.HasPrefix(file, "content/images/") {
				return false
			}
			// a page without its picture is not whole
			for _, d := range s.Devices {
				if slices.Contains(d.Shows, file) {
					devices[d.Name] = true
				}
			}
			for _, f := range s.Faults {
				if slices.Contains(f.Shows, file) && f.Device != "" {
					devices[f.Device] = true
				}
			}
			for _, d := range s.Documents() {
				if slices.Contains(d.Shows, file) {
					left.Files[d.File] = true
				}
			}
			for _, b := range s.Blocks {
				if slices.ContainsFunc(b.Faults, func(f BlockFault) bool { return slices.Contains(f.Shows, file) }) {
					left.Files[b.File] = true
				}
			}
		}
	}
	delete(devices, "")
	for _, f := range s.Faults {
		if devices[f.Device] {
			left.Files[f.File] = true
		}
	}
	for _, j := range s.Jobs {
		if devices[j.Sheet.Device] {
			left.Files[j.File] = true
		}
	}
	left.Devices = keys(devices)
	for _, name := range left.Devices {
		left.Files["content/devices/"+name+".md"] = true
	}
	return true
}

// named are the texts in a chain that may name block notes.
func named(chain blocks.Tree) (out []string) {
	for _, v := range chain.Items() {
		if v.List != nil {
			out = append(out, named(v)...)
		}
		for _, f := range v.Fields {
			for _, name := range []string{f.Value.Text, f.Value.Str("is")} {
				if name != "" {
					out = append(out, name)
				}
			}
		}
	}
	return out
}
