package published

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"faultleaf/internal/stat"
)

// put publishes files into dir.
func put(t *testing.T, dir string, files map[string]string) Report {
	t.Helper()
	r, err := publish(dir, files)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func publish(dir string, files map[string]string) (Report, error) {
	w, err := Begin(dir)
	if err != nil {
		return Report{}, err
	}
	for name, text := range files {
		if _, err := w.Put(name, []byte(text)); err != nil {
			break // Commit says it
		}
	}
	return w.Commit()
}

// seen is what stands in a folder, without the list and the workshop.
func seen(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if d != nil && d.Name() == workshop {
				return fs.SkipDir
			}
			return err
		}
		b, err := os.ReadFile(p)
		rel, _ := filepath.Rel(dir, p)
		if rel != List {
			files[filepath.ToSlash(rel)] = string(b)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func same(a, b map[string]string) bool {
	if len(a) != len(b) {
		return false
	}
	for k, v := range a {
		if w, ok := b[k]; !ok || v != w {
			return false
		}
	}
	return true
}

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	p := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	later := time.Now().Add(time.Second) // as after a pause; file times are coarse
	if err := os.Chtimes(p, later, later); err != nil {
		t.Fatal(err)
	}
}

// no remains of a run are left in the workshop.
func clean(t *testing.T, dir string) {
	t.Helper()
	left, err := os.ReadDir(filepath.Join(dir, workshop))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range left {
		if e.Name() != "lock" {
			t.Errorf("the workshop still holds %s", e.Name())
		}
	}
}

func TestChangesOnlyWhatChanged(t *testing.T) {
	dir := t.TempDir()
	if r := put(t, dir, map[string]string{"index.html": "1", "faults/a.html": "a", "faults/b.html": "b"}); r.Written != 3 || r.Pages != 3 {
		t.Errorf("first: %+v", r)
	}
	kept, _ := os.Stat(filepath.Join(dir, "index.html"))
	list, _ := os.Stat(filepath.Join(dir, List))
	if r := put(t, dir, map[string]string{"index.html": "1", "faults/a.html": "A"}); r.Written != 1 || r.Unchanged != 1 || r.Removed != 1 {
		t.Errorf("second: %+v", r)
	}
	if now, _ := os.Stat(filepath.Join(dir, "index.html")); !os.SameFile(kept, now) {
		t.Error("an unchanged page was written again")
	}
	if now, _ := os.Stat(filepath.Join(dir, List)); os.SameFile(list, now) {
		t.Error("the list was not renewed")
	}
	if r := put(t, dir, map[string]string{"index.html": "1"}); r.Removed != 1 || r.Written != 0 {
		t.Errorf("third: %+v", r)
	}
	if _, err := os.Stat(filepath.Join(dir, "faults")); err == nil {
		t.Error("an empty folder is left")
	}
	put(t, dir, map[string]string{"index.html": "1"})
	clean(t, dir)
}

// What did not come from publishing is neither overwritten nor removed, and the
// old site stays whole.
func TestForeignFiles(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(t *testing.T, dir string)
		says string
	}{
		{"another's page", func(t *testing.T, dir string) { write(t, dir, "new.html", "mine") }, "new.html"},
		{"a page changed since", func(t *testing.T, dir string) { write(t, dir, "index.html", "edited") }, "index.html"},
		{"a page changed to the same length", func(t *testing.T, dir string) { write(t, dir, "index.html", "0") }, "index.html"},
		{"a page changed to the same length, with its old time", func(t *testing.T, dir string) {
			at := filepath.Join(dir, "index.html")
			info, err := os.Stat(at)
			if err != nil {
				t.Fatal(err)
			}
			if in, err := os.Open(dir); err == nil {
				told, _ := stat.In(in, "index.html")
				in.Close()
				if told.Change == 0 {
					t.Skip("this system does not tell when anything of a file changed")
				}
			}
			time.Sleep(20 * time.Millisecond) // the clock of a disk is coarse
			write(t, dir, "index.html", "0")
			if err := os.Chtimes(at, info.ModTime(), info.ModTime()); err != nil {
				t.Fatal(err)
			}
		}, "index.html"},
		{"a folder in the place of a page", func(t *testing.T, dir string) { write(t, dir, "new.html/x", "mine") }, "new.html"},
		{"a file in the place of a folder", func(t *testing.T, dir string) { write(t, dir, "jobs", "mine") }, "jobs/a.html"},
		{"a link in the place of a page", func(t *testing.T, dir string) {
			if err := os.Symlink("/etc/hostname", filepath.Join(dir, "new.html")); err != nil {
				t.Skip(err)
			}
		}, "new.html"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			put(t, dir, map[string]string{"index.html": "1"})
			c.do(t, dir)
			before := seen(t, dir)
			_, err := publish(dir, map[string]string{"index.html": "2", "new.html": "n", "jobs/a.html": "j"})
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("it says %v", err)
			}
			if !same(before, seen(t, dir)) {
				t.Errorf("the folder changed: %v", seen(t, dir))
			}
			clean(t, dir)
		})
	}
	t.Run("a page that is gone and was changed", func(t *testing.T) {
		dir := t.TempDir()
		put(t, dir, map[string]string{"index.html": "1", "a.html": "a"})
		write(t, dir, "a.html", "edited")
		if r := put(t, dir, map[string]string{"index.html": "1"}); r.Removed != 0 || !slices.Equal(r.Left, []string{"a.html"}) {
			t.Errorf("%+v", r)
		}
		if seen(t, dir)["a.html"] != "edited" {
			t.Error("it was removed")
		}
	})
	t.Run("a workshop that leads elsewhere", func(t *testing.T) {
		dir, away := t.TempDir(), t.TempDir()
		if err := os.Symlink(away, filepath.Join(dir, workshop)); err != nil {
			t.Skip(err)
		}
		if _, err := publish(dir, map[string]string{"index.html": "1"}); err == nil {
			t.Error("it was followed")
		}
	})
}

// A journal that we did not write does nothing to what is not ours.
func TestHostileJournal(t *testing.T) {
	for _, line := range []string{"move .. x.html", "move . x.html", "move 000000 ../x.html", "move 000000 .git/x", "move ../lock x.html", "move lock x.html", "drop  mine.html", "drop a mine.html", "drop " + Sum([]byte("mine"))[:15] + " mine.html",
		"drop " + Sum([]byte("mine"))[:16] + " ../mine.html", "keep 000000 x.html", "move 000000", "\x00", "move 000000 published.txt"} {
		dir := t.TempDir()
		put(t, dir, map[string]string{"index.html": "1"})
		write(t, dir, "mine.html", "mine")
		before := seen(t, dir)
		write(t, dir, journal, line+"\n")
		if err := Finish(dir); err == nil {
			t.Errorf("%q is done", line)
		}
		if !same(before, seen(t, dir)) {
			t.Errorf("%q: the folder changed: %v", line, seen(t, dir))
		}
	}
}

// A list of the first edition, with shorter hashes and no sizes, still says
// what is ours.
func TestFirstEditionList(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "index.html", "1")
	write(t, dir, "old.html", "o")
	write(t, dir, List, Sum([]byte("1"))[:16]+" index.html\n"+Sum([]byte("o"))[:16]+" old.html\nnonsense\n0123456789abcdef ../../out\n")
	if r := put(t, dir, map[string]string{"index.html": "2"}); r.Written != 1 || r.Removed != 1 {
		t.Errorf("%+v", r)
	}
}

// Pages that are open go on with the files of run/ they began with, for one
// more site.
func TestGenerationBefore(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, map[string]string{"index.html": "1", "run/a.1.js": "1"})
	put(t, dir, map[string]string{"index.html": "2", "run/a.2.js": "2"})
	put(t, dir, map[string]string{"index.html": "2", "run/a.2.js": "2"})
	put(t, dir, map[string]string{"index.html": "3", "run/a.2.js": "2"})
	if got := seen(t, dir); got["run/a.1.js"] != "1" {
		t.Errorf("the generation before is gone: %v", got)
	}
	put(t, dir, map[string]string{"index.html": "3", "run/a.3.js": "3"})
	if got := seen(t, dir); got["run/a.1.js"] != "" || got["run/a.2.js"] != "2" {
		t.Errorf("after the third generation: %v", got)
	}
}

func TestTwoPublishers(t *testing.T) {
	dir := t.TempDir()
	w, err := Begin(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Begin(dir); !errors.Is(err, Busy) {
		t.Errorf("the second publisher gets %v", err)
	}
	if err := w.Abort(); err != nil {
		t.Fatal(err)
	}
	put(t, dir, map[string]string{"index.html": "1"})
}

func TestNames(t *testing.T) {
	for _, name := range []string{"../out.html", "/etc/x", ".hidden", "a/.git/x", "", "a\nb.html", List, "a\\b.html", "."} {
		dir := t.TempDir()
		if _, err := publish(dir, map[string]string{name: "x"}); err == nil {
			t.Errorf("%q was written", name)
		}
	}
}

func TestPutFromManySides(t *testing.T) {
	dir := t.TempDir()
	w, err := Begin(dir)
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			for j := range 50 {
				_, _ = w.Put(fmt.Sprintf("faults/%d-%d.html", i, j), fmt.Append(nil, i, j))
			}
		})
	}
	wait.Wait()
	if r, err := w.Commit(); err != nil || r.Written != 400 || len(seen(t, dir)) != 400 {
		t.Errorf("%+v, %v", r, err)
	}
}

// site is the n-th of the sites that the killed publisher turns between: other
// pages, other texts, a link between pages, and files in run/.
func site(n int) map[string]string {
	files := map[string]string{"faultleaf.js": fmt.Sprintf("run/words.%d.js", n), fmt.Sprintf("run/words.%d.js", n): strings.Repeat("w", 1000*n)}
	for i := range 40 {
		if i%7 != n%7 {
			files[fmt.Sprintf("faults/%d.html", i)] = strings.Repeat(fmt.Sprint(n, " "), 50+i)
		}
	}
	return files
}

// A publisher that is killed at any moment leaves the old site or the new one
// once the next command has run, and nothing of its own. FAULTLEAF_KILLS sets
// how often.
func TestKills(t *testing.T) {
	if dir := os.Getenv("FAULTLEAF_KILLED"); dir != "" {
		for n := 1; ; n = n%3 + 1 {
			if _, err := publish(dir, site(n)); err != nil {
				t.Fatal(err)
			}
			fmt.Println(n)
		}
	}
	kills := 40
	if n := os.Getenv("FAULTLEAF_KILLS"); n != "" {
		fmt.Sscan(n, &kills)
	}
	dir := t.TempDir()
	rng := rand.New(rand.NewPCG(1, 2))
	before, amid := 0, 0
	for range kills {
		cmd := exec.Command(os.Args[0], "-test.run=^TestKills$")
		cmd.Env = append(os.Environ(), "FAULTLEAF_KILLED="+dir)
		out, err := cmd.StdoutPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		_, _ = out.Read(make([]byte, 1)) // the first site stands
		time.Sleep(time.Duration(rng.IntN(40)) * time.Millisecond)
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		if _, err := os.Stat(filepath.Join(dir, journal)); err == nil {
			amid++
		} else if _, err := os.Stat(filepath.Join(dir, staging)); err == nil {
			before++
		}
		if err := Finish(dir); err != nil {
			t.Fatal(err)
		}
		m, err := ReadManifest(os.DirFS(dir))
		if err != nil {
			t.Fatal(err)
		}
		got := seen(t, dir)
		matched := false
		for n := 1; n <= 3; n++ {
			ours := map[string]string{}
			for name, text := range got {
				if !m[name].Kept {
					ours[name] = text
				}
			}
			matched = matched || same(ours, site(n))
		}
		for name, f := range m {
			if text, ok := got[name]; !ok || !f.Is(Sum([]byte(text))) {
				t.Errorf("%s is not what the list says", name)
			}
		}
		if !matched {
			t.Fatalf("a mixed site of %d files", len(got))
		}
	}
	put(t, dir, site(1))
	clean(t, dir)
	t.Logf("%d kills, %d before a site was decided and %d while it was put in place; each left a whole one", kills, before, amid)
}

func FuzzList(f *testing.F) {
	f.Add("0123456789abcdef index.html\n")
	f.Add("kept 0123456789abcdef0123456789abcdef 12 run/a.js\n")
	f.Fuzz(func(t *testing.T, text string) {
		m := parse(text)
		for p, file := range m {
			if !proper(p) {
				t.Fatalf("%q is let through", p)
			}
			if file.Size < 0 {
				file.Size, file.Sum = 0, strings.Repeat("0", 32)
				m[p] = file
			}
		}
		again := parse(string(m.Bytes()))
		if len(again) != len(m) {
			t.Fatalf("%d files became %d", len(m), len(again))
		}
	})
}
