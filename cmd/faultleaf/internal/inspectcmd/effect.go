package inspectcmd

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing/fstest"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/effect"
	"faultleaf/internal/history"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
)

// Effect says what a changed note does to the advice, against what git has of it;
// without git, against the published site.
func Effect(e *env.Env, f env.Folders, name string, asJSON bool) error {
	if err := f.Check(); err != nil {
		return err
	}
	file, err := below(f.From, name)
	if err != nil {
		return err
	}
	now, left, mistakes, _ := note.LoadHealthy(os.DirFS(f.From), all.Find, nil)
	if left.All || left.Files[file] {
		return e.Tell(mistakes)
	}
	e.Warn(mistakes)
	old, from, err := before(e, f, file)
	if err != nil {
		return err
	}
	devices := concerned(now, file)
	if old.set != nil {
		devices = append(devices, concerned(old.set, file)...)
	}
	slices.Sort(devices)
	effects := []effect.Effect{}
	for _, d := range slices.Compact(devices) {
		was, is := old.device(d), now.TraceDevice(d)
		if was == nil && is == nil {
			continue
		}
		x, err := effect.Compare(was, is)
		if err != nil {
			return err
		}
		effects = append(effects, x)
	}
	if asJSON {
		return e.JSON(struct {
			File    string          `json:"file"`
			Against string          `json:"against"`
			Devices []effect.Effect `json:"devices"`
		}{file, from, effects})
	}
	fmt.Fprintf(e.Out, "%s, against %s:\n", file, from)
	if len(effects) == 0 {
		fmt.Fprintln(e.Out, "No trace rests on this note.")
	}
	for _, x := range effects {
		for _, line := range x.Words() {
			fmt.Fprintln(e.Out, problem.Visible(line))
		}
	}
	return nil
}

// earlier is the shop as it was: read from its notes, or from its site.
type earlier struct {
	set  *note.Set
	site string
}

func (o earlier) device(name string) *trace.Device {
	if o.set != nil {
		return o.set.TraceDevice(name)
	}
	b, err := os.ReadFile(filepath.Join(o.site, "devices", name+".html"))
	if err != nil {
		return nil
	}
	m := deviceData.FindSubmatch(b)
	if m == nil {
		return nil
	}
	d := &trace.Device{}
	if json.Unmarshal(m[1], d) != nil || d.ID != name {
		return nil
	}
	return d
}

var deviceData = regexp.MustCompile(`<script type="application/json" data-device>(.*?)</script>`)

// before is the shop with the note as it was committed last.
func before(e *env.Env, f env.Folders, file string) (earlier, string, error) {
	git := func(args ...string) ([]byte, error) { return history.Git(e.Context, f.From, args...).Output() }
	now := os.DirFS(f.From)
	if _, err := git("rev-parse", "--verify", "--quiet", "HEAD"); err == nil {
		fsys, from := fs.FS(nil), "the last commit"
		if text, err := git("show", "--no-ext-diff", "--no-textconv", "HEAD:./"+file); err == nil {
			fsys = note.Over(now, fstest.MapFS{file: {Data: text, Mode: 0o644}})
		} else {
			fsys, from = note.Without(now, file), "the shop without it, for the last commit has no such note"
		}
		set, left, mistakes, _ := note.LoadHealthy(fsys, all.Find, nil)
		if left.All || left.Files[file] {
			return earlier{}, "", &env.Failure{Status: env.Mistakes, Err: errors.New("the note as it was committed last holds a mistake, so there is nothing to compare with: " + mistakes[0].String())}
		}
		return earlier{set: set}, from, nil
	}
	if _, err := os.Stat(filepath.Join(f.Site(), "index.html")); err == nil {
		return earlier{site: f.Site()}, "the published site", nil
	}
	set, _, _, _ := note.LoadHealthy(note.Without(now, file), all.Find, nil)
	return earlier{set: set}, "the shop without it, for there is neither a commit nor a published site", nil
}

// below is a file's path below the shop's folder, as notes are told: it may be
// named from there or from here.
func below(from, name string) (string, error) {
	for _, at := range []string{filepath.Join(from, name), name} {
		rel, err := filepath.Rel(absolute(from), absolute(at))
		if err != nil || !filepath.IsLocal(rel) {
			continue
		}
		if _, err := os.Stat(at); err == nil {
			return filepath.ToSlash(rel), nil
		}
	}
	return "", env.Bad("there is no file " + name + " in this shop")
}

func absolute(p string) string {
	if at, err := filepath.Abs(p); err == nil {
		return at
	}
	return p
}

// concerned are the devices whose trace rests on a file.
func concerned(set *note.Set, file string) []string {
	name := strings.TrimSuffix(path.Base(file), ".md")
	var out []string
	switch path.Dir(file) {
	case "content/devices":
		return []string{name}
	case "content/faults":
		for _, f := range set.Faults {
			if f.Name == name {
				out = append(out, f.Device)
			}
		}
	case "content/jobs":
		for _, j := range set.Jobs {
			if j.Name == name {
				out = append(out, j.Sheet.Device)
			}
		}
	case "content/blocks":
		for _, d := range set.Devices {
			for _, kind := range d.Kinds {
				if kind == name {
					out = append(out, d.Name)
				}
			}
		}
	case "content":
		for _, d := range set.Devices {
			out = append(out, d.Name)
		}
	}
	return out
}
