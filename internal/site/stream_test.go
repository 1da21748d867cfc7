package site

import (
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"faultleaf/internal/bigshop"
	"faultleaf/internal/core"
	"faultleaf/internal/history"
	"faultleaf/internal/site/record"
)

// tree is all files of a folder, but for what publishing keeps for itself.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == ".faultleaf" {
				return fs.SkipDir
			}
			return nil
		}
		b, err := os.ReadFile(filepath.Join(dir, p))
		if p == "published.txt" { // files kept for pages that are open depend on what came before
			var lines []string
			for line := range strings.Lines(string(b)) {
				if !strings.HasPrefix(line, "kept ") {
					lines = append(lines, line)
				}
			}
			b = []byte(strings.Join(lines, ""))
		}
		out[p] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// alike compares a site that grew with one that was made at once.
func alike(t *testing.T, step string, grown, fresh map[string]string) {
	t.Helper()
	listed := grown["published.txt"]
	for name, b := range grown {
		if f, ok := fresh[name]; !ok && strings.Contains(listed, " "+name+"\n") || ok && f != b {
			t.Errorf("%s: %s is not what a new publishing makes", step, name)
		}
	}
	for name := range fresh {
		if _, ok := grown[name]; !ok {
			t.Errorf("%s: %s is missing", step, name)
		}
	}
}

var leads = regexp.MustCompile(`\]\(\.\./(pages|checklists)/([a-z0-9-]+)\.md(?:#([a-z0-9-]+))?\)`)

// bare is what the starter's devices rest on, without them: a shop that is
// published in little time. Where its block notes lead there are short lists and
// pages.
func bare(t *testing.T) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	heads := map[string]string{"content/checklists/after-repair.md": "", "content/pages/one.md": ""}
	from := os.DirFS(starter)
	for _, pattern := range []string{"content/*.*", "content/blocks/*.md", "content/images/*"} {
		list, err := fs.Glob(from, pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range list {
			b, err := fs.ReadFile(from, name)
			if err != nil {
				t.Fatal(err)
			}
			out[name] = &fstest.MapFile{Data: b, Mode: 0o644}
			for _, m := range leads.FindAllStringSubmatch(string(b), -1) {
				file := "content/" + m[1] + "/" + m[2] + ".md"
				if heads[file] += ""; m[3] != "" {
					heads[file] += "## " + strings.ReplaceAll(m[3], "-", " ") + "\n\n"
				}
			}
		}
	}
	for file, text := range heads {
		out[file] = &fstest.MapFile{Data: []byte("---\ntitle: " + filepath.Base(file) + "\n---\n\n- [ ] One step.\n\n" + text), Mode: 0o644}
	}
	return out
}

// deviceOfFile is what the note in a file says of its device.
func deviceOfFile(t *testing.T, file string) string {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return deviceLine(b)
}

// A site that grew by edits, renames and deletions, with its record whole, lost or
// damaged, is byte for byte the site that is made at once.
func TestStreamEqualsFull(t *testing.T) {
	if testing.Short() {
		t.Skip("it publishes many times")
	}
	shop, to := t.TempDir(), t.TempDir()
	if err := bigshop.Write(shop, bare(t), 350, 3); err != nil {
		t.Fatal(err)
	}
	git := func(args ...string) {
		cmd := exec.Command("git", append([]string{"-c", "user.name=a", "-c", "user.email=a@b.invalid", "-c", "commit.gpgsign=false"}, args...)...)
		cmd.Dir = shop
		cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null", "GIT_COMMITTER_DATE=2026-01-01T12:00:00Z")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %v: %s", args, out)
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	any := func(pattern string) string {
		list, err := filepath.Glob(filepath.Join(shop, "content", pattern))
		if err != nil || len(list) == 0 {
			t.Fatal(pattern, err)
		}
		return list[r.IntN(len(list))]
	}
	edit := func(file, old, new string) {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(b), old) {
			t.Fatalf("%s holds no %q", file, old)
		}
		if err := os.WriteFile(file, []byte(strings.Replace(string(b), old, new, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var mu sync.Mutex
	read, made := 0, 0 // devices whose notes were read, and whose pages were looked at
	publish := func(to string) {
		t.Helper()
		read, made = 0, 0
		_, mistakes, err := PublishTelling(shop, to, func(doing string, left int) {
			mu.Lock()
			defer mu.Unlock()
			if strings.HasPrefix(doing, "reading") {
				read = max(read, left)
			}
			if strings.HasPrefix(doing, "making the pages") {
				made = max(made, left)
			}
		})
		if err != nil || len(mistakes) > 0 {
			t.Fatal(err, mistakes)
		}
	}
	generated := "faults/*-1[0-9][0-9]-*.md"
	const all, some = 1000, 999 // of the devices' notes
	// most counts devices whose notes are read again; those whose pages are made again
	// are as many, or so many as few tells
	steps := []struct {
		name string
		most int
		do   func()
		few  int
	}{
		{"at first", all, func() {}, all},
		{"a text edited, and the cases of a fault", 2, func() {
			edit(any(generated), "## How to mend", "## How to mend\n\nTake care.\n")
			edit(any(generated), "seen: ", "seen: 1")
		}, 0},
		{"texts alone", 2, func() {
			for range 2 {
				edit(any(generated), "## How to mend", "## How to mend\n\nMind the spring.\n")
			}
		}, 0},
		{"a text, a heading and a mend edited, and a list lost", 3, func() {
			edit(any(generated), "## Why it happened", "## Why it happened\n\nNobody knows.\n")
			edit(any(generated), "## How to confirm", "## How to confirm it")
			edit(any(generated), "mend: {does: \"Fit", "mend: {does: \"Slowly fit")
			if err := os.Remove(filepath.Join(to, "index.html")); err != nil {
				t.Fatal(err)
			}
		}, 0},
		{"a new sheet of a common fault", 1, func() {
			device := strings.TrimSuffix(filepath.Base(any("devices/*-102.md")), ".md")
			text := "---\ndevice: " + device + "\ndate: 2026-01-02\nowner_says: It is dead\ncause: " + device + "-cord-broken\nminutes: 20\nproofs: [{proof: visual, pass: ok}, {proof: insulation, value: 200 MΩ, limit: limit 2.00 MΩ, pass: ok}, {proof: function, pass: ok}]\noutcome: mended\n---\n\nAn invented job.\n"
			if err := os.WriteFile(filepath.Join(shop, "content/jobs/2026-01-02-"+device+"-1.md"), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}, all}, // it counts on others
		{"a new sheet of the device's own fault", 1, func() {
			fault := any(generated)
			id := strings.TrimSuffix(filepath.Base(fault), ".md")
			device := deviceOfFile(t, fault)
			text := "---\ndevice: " + device + "\ndate: 2026-01-03\nowner_says: It is dead\ncause: " + id + "\nminutes: 20\noutcome: given-up\nreason: not worth it\n---\n\nAn invented job.\n"
			if err := os.WriteFile(filepath.Join(shop, "content/jobs/2026-01-03-"+device+"-1.md"), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}, 0},
		{"a new fault, and one renamed that no sheet names", 2, func() {
			copied := any(generated)
			b, err := os.ReadFile(copied)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(strings.TrimSuffix(copied, ".md")+"-again.md", []byte(strings.Replace(string(b), "title: ", "title: Again ", 1)), 0o644); err != nil {
				t.Fatal(err)
			}
			if err := os.Rename(strings.TrimSuffix(copied, ".md")+"-again.md", strings.TrimSuffix(copied, ".md")+"-anew.md"); err != nil {
				t.Fatal(err)
			}
		}, 0},
		{"the fault is gone again", 2, func() {
			if err := os.Remove(any("faults/*-anew.md")); err != nil {
				t.Fatal(err)
			}
		}, 0},
		{"a plain page and a list alone", 0, func() {
			edit(any("pages/*.md"), "---\n\n", "---\n\nA little more of it.\n\n")
			edit(any("checklists/*.md"), "- [ ] ", "- [ ] Slowly. ")
		}, 0},
		{"a sheet renamed and one removed", 2, func() {
			file := any("jobs/*-1[0-9][0-9]-1.md")
			if err := os.Rename(file, strings.TrimSuffix(file, "-1.md")+"-91.md"); err != nil {
				t.Fatal(err)
			}
			if err := os.Remove(any("jobs/*-1[0-9][0-9]-2.md")); err != nil {
				t.Fatal(err)
			}
		}, 0},
		{"a picture", all, func() {
			edit(any("images/*.svg"), "</svg>", "<!-- seen anew --></svg>")
		}, 0},
		{"a common block and a plain page edited", all, func() {
			edit(filepath.Join(shop, "content/blocks/mains-cord.md"), "minutes: 15", "minutes: 17")
			edit(any("pages/*.md"), "---\n\n", "---\n\nMore of it.\n\n")
		}, 0},
		{"a glossary: texts lead to it", all, func() {
			text := "---\ntitle: Glossary\n---\n\n**Thermal link.** Opens once.\n"
			if err := os.WriteFile(filepath.Join(shop, "content/pages/glossary.md"), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}, 0},
		{"the shop's name", all, func() { edit(filepath.Join(shop, "content/shop.yaml"), "name: ", "name: The ") }, 0},
		{"the first commit", 0, func() {
			git("init", "-q")
			git("add", "content")
			git("commit", "-q", "-m", "all", "--date", "2026-01-01T12:00:00Z")
		}, all},
		{"a fault edited and committed", 1, func() {
			edit(any(generated), "## How to mend", "## How to mend\n\nOnce more.\n")
			git("add", "content")
			git("commit", "-q", "-m", "a fault edited", "--date", "2026-01-02T12:00:00Z")
		}, 0},
		{"the record damaged", some, func() {
			list, err := filepath.Glob(filepath.Join(to, record.Folder, "*"))
			if err != nil || len(list) < 20 {
				t.Fatal("there is hardly a record:", len(list), err)
			}
			for i, name := range list {
				if filepath.Base(name) == "small" { // in it lie thousands, one behind the other
					b, err := os.ReadFile(name)
					if err != nil || len(b) < 10_000 {
						t.Fatal("hardly anything small is kept:", len(b), err)
					}
					for at := 500; at < len(b); at += 3001 {
						b[at] ^= 0x55
					}
					os.WriteFile(name, b[:len(b)-100], 0o644)
					continue
				}
				switch i % 5 {
				case 0:
					os.Remove(name)
				case 1:
					os.WriteFile(name, []byte("nonsense, and more of it than a hash is long"), 0o644)
				}
			}
		}, 0},
		{"pages lost", some, func() {
			for range 5 {
				list, _ := filepath.Glob(filepath.Join(to, "faults", "*.html"))
				if err := os.Remove(list[r.IntN(len(list))]); err != nil {
					t.Fatal(err)
				}
			}
		}, 0},
		{"a device removed", some, func() {
			device := strings.TrimSuffix(filepath.Base(any("devices/*-101.md")), ".md")
			for _, pattern := range []string{"devices/" + device + ".md", "faults/" + device + "-*.md", "jobs/*-" + device + "-*.md"} {
				list, _ := filepath.Glob(filepath.Join(shop, "content", pattern))
				for _, file := range list {
					if err := os.Remove(file); err != nil {
						t.Fatal(err)
					}
				}
			}
		}, 0},
	}
	for _, s := range steps {
		s.do()
		publish(to)
		t.Log(s.name)
		if read > s.most {
			t.Errorf("%s: the notes of %d devices are read again", s.name, read)
		}
		if made > max(s.most, s.few) {
			t.Errorf("%s: the pages of %d devices are made again", s.name, made)
		}
		if s.name == "at first" {
			continue
		}
		fresh := t.TempDir()
		publish(fresh)
		alike(t, s.name, tree(t, to), tree(t, fresh))
		if t.Failed() {
			return
		}
		os.RemoveAll(fresh)
	}
	// and by the other way, with the whole shop in memory
	set := load(t, shop)
	set.Past = history.Read(t.Context(), shop)
	binary, err := core.Get()
	if err != nil {
		t.Fatal(err)
	}
	files, err := Make(set, os.DirFS(shop), binary)
	if err != nil {
		t.Fatal(err)
	}
	fresh := map[string]string{}
	for name, b := range files {
		fresh[name] = string(b)
	}
	grown := tree(t, to)
	fresh["published.txt"] = grown["published.txt"]
	alike(t, "in memory", grown, fresh)
}
