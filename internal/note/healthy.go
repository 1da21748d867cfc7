package note

import (
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

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
	left.Files = map[string]bool{}
	bad, on := map[string]bool{}, map[string]bool{}
	add := func(list problem.List) {
		for _, m := range list {
			if m.On == "" {
				bad[m.File] = true
			}
			for _, device := range strings.Fields(m.On) { // the block's note is sound on others
				on[device] = true
			}
		}
	}
	add(first.mistakes)
	const most = 8 // rounds, in each of which at least one more note is left
	for range most {
		if !first.leave(bad, on, &left, known) {
			left.All = true
			return first, left, first.mistakes, first.remarks
		}
		l := loadBut(fsys, find, left.Files)
		if len(l.mistakes) == 0 {
			return l, left, first.mistakes, first.remarks
		}
		add(l.mistakes)
	}
	left.All = true
	return first, left, first.mistakes, first.remarks
}

var deviceLine = regexp.MustCompile(`(?m)^device:[ \t]*["']?([a-z0-9-]+)`)

// leave works out which notes are not used for mistakes in some files, and in what
// common blocks make of some devices; ok is false where they concern the whole shop.
func (l *loader) leave(bad, on map[string]bool, left *Left, known func(string) string) (ok bool) {
	devices := maps.Clone(on)
	raw := func(file string) string {
		if says, _ := l.file(file, longest); says != "" {
			return ""
		}
		b, _ := fs.ReadFile(l.fsys, file)
		return string(b)
	}
	for file := range bad {
		name := strings.TrimSuffix(path.Base(file), ".md")
		left.Files[file] = true
		switch dir := path.Dir(file); dir {
		case "content/devices":
			devices[name] = true
		case "content/faults", "content/jobs":
			device := ""
			if m := deviceLine.FindStringSubmatch(raw(file)); m != nil {
				device = l.now(m[1])
			}
			if device == "" && known != nil {
				device = known(file)
			}
			devices[device] = true
		case "content/blocks":
			for device, p := range l.planned {
				quiet := *p.m.r
				quiet.problems = &problem.List{}
				chain, _ := quiet.treeOf(p.m).Get("blocks")
				if names(chain, name) {
					devices[device] = true
				}
			}
		case "content/checklists", "content/pages":
		default:
			if !strings.HasPrefix(file, "content/images/") {
				return false
			}
			for d, b := range l.byDoc { // a page without its picture is not whole
				if b.shows(file) {
					left.Files[d.File] = true
					if d.Kind == KindDevice {
						devices[d.Name] = true
					} else if device := l.deviceOf[d]; device != "" {
						devices[device] = true
					}
				}
			}
		}
	}
	delete(devices, "")
	for _, f := range l.set.Faults {
		if devices[f.Device] {
			left.Files[f.File] = true
		}
	}
	for _, j := range l.set.Jobs {
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

// names tells whether a chain names a block note.
func names(chain blocks.Tree, kind string) bool {
	for _, v := range chain.Items() {
		if v.List != nil && names(v, kind) {
			return true
		}
		for _, f := range v.Fields {
			if f.Value.Text == kind || f.Value.Str("is") == kind {
				return true
			}
		}
	}
	return false
}

// shows tells whether a text shows a picture.
func (b *body) shows(file string) (found bool) {
	if b.doc.Body == nil {
		return false
	}
	_ = ast.Walk(b.doc.Body, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if i, ok := n.(*ast.Image); ok && entering && path.Join(path.Dir(b.doc.File), string(i.Destination)) == file {
			found = true
		}
		return ast.WalkContinue, nil
	})
	return found
}
