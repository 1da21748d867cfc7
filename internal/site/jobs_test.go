package site

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/calc/trace"
	"faultleaf/internal/note"
	"faultleaf/internal/outfit"
)

// The starter's sheets keep the shop's own rules: proofs, minutes that hold
// their readings, nothing that contradicts itself or the calendar.
func TestStarterSheets(t *testing.T) {
	set := load(t, starter)
	proved := 0
	for _, j := range set.Jobs {
		s := j.Sheet
		d, _ := set.Device(s.Device)
		if s.Outcome == "mended" {
			for _, lack := range trace.Lacks(set.Needs(d), s.Proofs) {
				t.Errorf("%s: mended, but %s", j.Name, lack)
			}
			proved++
		}
		sum := 0.0
		for _, r := range s.Readings {
			sum += r.Minutes
		}
		if s.Minutes > 0 && sum > s.Minutes {
			t.Errorf("%s: readings of %v minutes in a job of %v", j.Name, sum, s.Minutes)
		}
		text := strings.ToLower(s.OwnerSays + " " + s.Before)
		has := func(words ...string) bool {
			for _, w := range words {
				if strings.Contains(text, w) {
					return true
				}
			}
			return false
		}
		if has("all of a sudden", "only yesterday", "since sunday") && has("for weeks", "for a week", "got worse") {
			t.Errorf("%s: sudden and slow: %s", j.Name, text)
		}
		if has("a present", "every day", "old friend") && has("jumble sale") {
			t.Errorf("%s: both given and bought: %s", j.Name, text)
		}
		if month := s.Date[5:7]; month > "05" && month < "10" && (strings.Contains(s.Reason, "frozen") || strings.Contains(text, "over the winter")) {
			t.Errorf("%s: frost in month %s", j.Name, month)
		}
	}
	if proved < 100 {
		t.Errorf("only %d mended sheets", proved)
	}
}

// many puts n sheets of some years into a shop of its own.
func many(t testing.TB, n int) string {
	dir := t.TempDir()
	if err := outfit.Usual.Example(filepath.Join(dir, "content")); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "content/jobs"), 0o755); err != nil {
		t.Fatal(err)
	}
	outcomes := []string{"mended", "given-up", "replaced", "came-back"}
	for i := range n {
		date := fmt.Sprintf("%d-%02d-%02d", 2016+i*10/n, 1+i%12, 1+i%28)
		text := fmt.Sprintf("---\ndevice: table-lamp\ntype: TL-%d\ndate: %s\nowner_says: \"It is dark, number %d\"\nsymptoms: [dark]\nreadings:\n  - {test: bulb-ohms, value: 120 Ω, minutes: 1}\ncause: lamp-switch-worn\nreason: many years\nminutes: %d\noutcome: %s\n---\nInvented for a test.\n",
			i%40, date, i, 10+i%50, outcomes[i%4])
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("content/jobs/%s-table-lamp-%d.md", date, i)), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestManySheets(t *testing.T) {
	files := made(t, many(t, 1300))
	years, sheets := 0, 0
	for name := range files {
		if strings.HasPrefix(name, "jobs/2") && strings.HasSuffix(name, ".html") {
			if len(name) == len("jobs/2016.html") {
				years++
			} else {
				sheets++
			}
		}
	}
	if years != 9 || sheets != 1300 {
		t.Errorf("%d pages of years, %d of sheets", years, sheets)
	}
	if n := strings.Count(string(files["devices/table-lamp.html"]), "jobs/2"); n > 30 {
		t.Errorf("the device's page lists %d sheets", n)
	}
	if n := strings.Count(string(files["jobs/index.html"]), "<tr data-device"); n != 130 {
		t.Errorf("the last year has %d", n)
	}
}

// BenchmarkTenThousandSheets prints what ten thousand sheets weigh.
func BenchmarkTenThousandSheets(b *testing.B) {
	dir := many(b, 10000)
	for b.Loop() {
		set, mistakes, _ := note.Load(os.DirFS(dir), all.Find)
		if len(mistakes) > 0 {
			b.Fatal(mistakes[0])
		}
		files, err := Make(set, os.DirFS(dir), stub)
		if err != nil {
			b.Fatal(err)
		}
		index, largest := 0, 0
		for name, text := range files {
			if strings.HasPrefix(name, "run/words") || strings.HasPrefix(name, "run/texts") || strings.HasPrefix(name, "run/dictionary") {
				if strings.HasSuffix(name, ".bin") {
					index += len(text)
				}
			}
			if strings.HasSuffix(name, ".html") && !strings.HasPrefix(name, "jobs/2") {
				largest = max(largest, len(text))
			}
		}
		b.ReportMetric(float64(index)/1000, "kB-index")
		b.ReportMetric(float64(largest)/1000, "kB-largest-page")
	}
}
