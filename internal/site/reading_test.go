package site

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/internal/bigshop"
	"faultleaf/internal/core"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
	"faultleaf/internal/site/record"
)

// readOnly is the reading of a publishing.
func readOnly(t *testing.T, dir, to string, looks bool) (s *stream, mistakes problem.List, whole bool) {
	t.Helper()
	list, err := walk(dir)
	if err != nil {
		t.Fatal(err)
	}
	s = &stream{dir: dir, to: to, tell: func(string, int) {}, heads: map[string]*head{}, made: map[string]*madeOf{}, program: "p", kept: record.Open(to), looks: looks}
	if looks {
		s.kept = record.Look(to)
	}
	defer s.kept.Close()
	s.files = take(list, s.kept, record.Key("files", s.program))
	mistakes, err = s.read()
	if err != nil && !errors.Is(err, asWhole) {
		t.Fatal(err)
	}
	return s, mistakes, err != nil
}

// What is wrong in a shop that is read in parts, most of it from the record, is what the
// reading as a whole says, to the last column, whatever is broken.
func TestMistakesOfParts(t *testing.T) {
	shop := t.TempDir()
	if err := bigshop.Write(shop, bare(t), 220, 5); err != nil {
		t.Fatal(err)
	}
	seed := uint64(7)
	rounds := 60
	if s := os.Getenv("FAULTLEAF_BREAKS"); s != "" {
		fmt.Sscan(s, &rounds, &seed)
	}
	r := rand.New(rand.NewPCG(seed, 2))
	b := breaker{t: t, shop: shop, r: r}
	to := t.TempDir()
	if _, mistakes, whole := readOnly(t, shop, to, false); len(mistakes) > 0 || whole {
		t.Fatal(mistakes, whole)
	}
	wrong, asWholes := 0, 0
	for i := range rounds {
		var did []string
		for range 1 + r.IntN(3) {
			did = append(did, b.breakOne())
		}
		_, got, whole := readOnly(t, shop, to, false)
		_, want, remarks := note.Load(os.DirFS(shop), all.Find)
		if len(want) > 0 {
			wrong++
		}
		if whole {
			asWholes++
			t.Logf("%d as a whole: %s", i, strings.Join(did, "; "))
		} else if !slices.Equal(got, want) {
			t.Errorf("round %d, of %s:\nsaid only in parts:\n%sonly as a whole:\n%s", i, strings.Join(did, "; "), without(got, want), without(want, got))
			return
		}
		if s, said, whole := readOnly(t, shop, to, true); !whole && (!slices.Equal(said, want) || !slices.Equal(s.remarks, remarks)) {
			t.Errorf("round %d, of %s:\nremarked only in parts:\n%sonly as a whole:\n%s", i, strings.Join(did, "; "), without(s.remarks, remarks), without(remarks, s.remarks))
			return
		}
		if r.IntN(3) > 0 { // else it stays broken
			b.mend()
		}
	}
	t.Logf("%d of %d shops had mistakes, %d were read as a whole", wrong, rounds, asWholes)
	if wrong < rounds/2 || asWholes > rounds/10 {
		t.Errorf("%d of %d shops had mistakes, %d were read as a whole", wrong, rounds, asWholes)
	}
}

// without are the lines of a list that another one lacks.
func without(list, other problem.List) string {
	var b strings.Builder
	for _, p := range list {
		if !slices.Contains(other, p) {
			fmt.Fprintf(&b, "%v (%v %s)\n", p, p.Root, p.On)
		}
	}
	return b.String()
}

// breaker breaks notes at random, and mends them.
type breaker struct {
	t    *testing.T
	shop string
	r    *rand.Rand
	was  map[string][]byte // what files held; nil for none
}

func (b *breaker) write(file string, text []byte) {
	at := filepath.Join(b.shop, file)
	if b.was == nil {
		b.was = map[string][]byte{}
	}
	if _, ok := b.was[file]; !ok {
		b.was[file], _ = os.ReadFile(at)
	}
	var err error
	if text == nil {
		err = os.Remove(at)
	} else {
		err = os.WriteFile(at, text, 0o644)
	}
	if err != nil {
		b.t.Fatal(err)
	}
}

func (b *breaker) mend() {
	for file, text := range b.was {
		at := filepath.Join(b.shop, file)
		if text == nil {
			os.Remove(at)
		} else if err := os.WriteFile(at, text, 0o644); err != nil {
			b.t.Fatal(err)
		}
	}
	b.was = nil
}

func (b *breaker) any(pattern string) string {
	list, _ := filepath.Glob(filepath.Join(b.shop, "content", pattern))
	if len(list) == 0 {
		return b.any("faults/*.md")
	}
	file, _ := filepath.Rel(b.shop, list[b.r.IntN(len(list))])
	return filepath.ToSlash(file)
}

func (b *breaker) text(file string) string {
	text, err := os.ReadFile(filepath.Join(b.shop, file))
	if err != nil {
		b.t.Fatal(err)
	}
	return string(text)
}

// into puts a line behind the first line of a note.
func (b *breaker) into(file, line string) {
	b.write(file, []byte(strings.Replace(b.text(file), "---\n", "---\n"+line+"\n", 1)))
}

func (b *breaker) name(file string) string { return strings.TrimSuffix(filepath.Base(file), ".md") }

var wordsOf = regexp.MustCompile(`[a-z]{3,}`)

// breakOne does one thing that may break a note, and says what.
func (b *breaker) breakOne() string {
	kinds := []string{"devices/*.md", "faults/*.md", "faults/*.md", "faults/*.md", "jobs/*.md", "jobs/*.md"}
	if b.r.IntN(8) == 0 {
		kinds = []string{"pages/*.md", "checklists/*.md", "blocks/*.md"}
	}
	file := b.any(kinds[b.r.IntN(len(kinds))])
	text := b.text(file)
	fault, other, device := b.any("faults/*.md"), b.any("faults/*.md"), b.any("devices/*.md")
	switch n := b.r.IntN(15); n {
	case 0, 1: // a letter more or less in a word
		words := wordsOf.FindAllStringIndex(text, -1)
		w := words[b.r.IntN(min(len(words), 40))]
		at := w[0] + b.r.IntN(w[1]-w[0])
		if b.r.IntN(2) == 0 {
			text = text[:at] + "x" + text[at:]
		} else {
			text = text[:at] + text[at+1:]
		}
		b.write(file, []byte(text))
		return "a letter in " + file
	case 2, 3: // a line is gone
		ls := strings.SplitAfter(text, "\n")
		i := b.r.IntN(min(len(ls), 20))
		b.write(file, []byte(strings.Join(slices.Delete(ls, i, i+1), "")))
		return fmt.Sprintf("line %d of %s gone", i+1, file)
	case 4: // a line has slipped
		ls := strings.SplitAfter(text, "\n")
		i := b.r.IntN(min(len(ls), 12))
		ls[i] = "  " + ls[i]
		b.write(file, []byte(strings.Join(ls, "")))
		return fmt.Sprintf("line %d of %s slipped", i+1, file)
	case 5: // a sign
		at := b.r.IntN(min(len(text), 900))
		sign := []string{"{", "}", "[", "]", ":", ": ", "\"", "#", " # ", "\t", ",", "\n", "<<<<<<< a\n>>>>>>> b\n", "\xff"}[b.r.IntN(14)]
		b.write(file, []byte(text[:at]+sign+text[at:]))
		return fmt.Sprintf("%q at %d of %s", sign, at, file)
	case 6: // a file is gone
		b.write(file, nil)
		return file + " gone"
	case 7: // links across the shop, some to nothing
		to := []string{"../faults/" + filepath.Base(other), "../faults/" + filepath.Base(other) + "#how-to-mend", "../faults/" + filepath.Base(other) + "#nowhere", "../devices/" + filepath.Base(device) + "#trace", "../devices/" + filepath.Base(device) + "#nowhere",
			"../faults/" + b.name(device) + "-cord-broken.md", "../faults/" + b.name(device) + "-cord-broken.md#nowhere", "../faults/nothing-here.md", "../devices/" + b.name(device) + "x.md", "../faults/./" + filepath.Base(other), "../pages/one.md#nowhere", "../faults/former-name.md", "../jobs/" + filepath.Base(b.any("jobs/*.md")), "../devices/" + filepath.Base(other)}[b.r.IntN(14)]
		b.write(file, []byte(text+"\n\nSee [there]("+to+").\n"))
		return "a link to " + to + " in " + file
	case 8:
		b.into(fault, "was: [former-name]")
		if b.r.IntN(2) == 0 {
			b.write(other, []byte(b.text(other)+"\n\nSee [there](former-name.md).\n"))
		}
		return fault + " was former-name, which " + other + " may name"
	case 9:
		old := b.name(other)
		b.into(fault, "was: ["+old+"]")
		return fault + " was " + old
	case 10: // two want a name
		d := b.any("devices/*.md")
		title := regexp.MustCompile(`(?m)^title: .*$`).FindString(b.text(d))
		b.write(device, []byte(regexp.MustCompile(`(?m)^also: .*$`).ReplaceAllString(b.text(device), "also: ["+strings.TrimPrefix(title, "title: ")+"]")))
		return device + " also " + title
	case 11: // a sheet on another device's fault
		job := b.any("jobs/*.md")
		b.write(job, []byte(regexp.MustCompile(`(?m)^cause: .*$`).ReplaceAllString(b.text(job), "cause: "+b.name(other))))
		return job + " of " + other
	case 12: // another device, or none
		to := []string{b.name(device), b.name(device) + "x", "[]", "{a: b}", `"` + b.name(device) + `"`}[b.r.IntN(5)]
		f := b.any([]string{"faults/*.md", "jobs/*.md"}[b.r.IntN(2)])
		b.write(f, []byte(regexp.MustCompile(`(?m)^device: .*$`).ReplaceAllString(b.text(f), "device: "+to)))
		return f + " of the device " + to
	case 13: // a common fault's name
		name := "content/faults/" + b.name(device) + "-cord-broken.md"
		b.write(name, []byte(b.text(fault)))
		return name + " as " + fault
	default: // renamed
		to := filepath.ToSlash(filepath.Join(filepath.Dir(file), b.name(file)+"-anew.md"))
		b.write(file, nil)
		b.write(to, []byte(text))
		return file + " is now " + to
	}
}

// A shop with mistakes is published without what rests on them: what a site that grew
// holds then is what the sound notes make at once, read as a whole, and pages that say
// that they are old.
func TestHealthyOfParts(t *testing.T) {
	if testing.Short() {
		t.Skip("it publishes many times")
	}
	shop, to := t.TempDir(), t.TempDir()
	if err := bigshop.Write(shop, bare(t), 160, 5); err != nil {
		t.Fatal(err)
	}
	seed := uint64(3)
	rounds := 6
	if s := os.Getenv("FAULTLEAF_BREAKS"); s != "" {
		fmt.Sscan(s, &rounds, &seed)
	}
	if _, mistakes, err := Publish(shop, to); err != nil || len(mistakes) > 0 {
		t.Fatal(err, mistakes)
	}
	binary, err := core.Get()
	if err != nil {
		t.Fatal(err)
	}
	b := breaker{t: t, shop: shop, r: rand.New(rand.NewPCG(seed, 2))}
	partly := 0
	for i := range rounds {
		did := b.breakOne()
		set, wantLeft, want, _ := note.LoadHealthy(os.DirFS(shop), all.Find, func(file string) string { return whose(to, file) })
		before := tree(t, to)
		_, left, mistakes, err := PublishHealthy(shop, to, func(string, int) {})
		if err != nil {
			t.Fatal(did, err)
		}
		if !slices.Equal(mistakes, want) {
			t.Fatalf("%s: said only in parts:\n%sonly as a whole:\n%s", did, without(mistakes, want), without(want, mistakes))
		}
		if left.All != wantLeft.All || !left.All && (!slices.Equal(left.Devices, wantLeft.Devices) || !maps.Equal(left.Files, wantLeft.Files)) {
			t.Fatalf("%s: left are\n%v, not\n%v", did, left, wantLeft)
		}
		after := tree(t, to)
		if left.All {
			if !maps.Equal(before, after) {
				t.Fatalf("%s: the site changed", did)
			}
			b.mend()
			continue
		}
		if len(mistakes) > 0 {
			partly++
		}
		files, err := Make(set, os.DirFS(shop), binary)
		if err != nil {
			t.Fatal(did, err)
		}
		for name, b := range files {
			if after[name] != string(b) {
				t.Errorf("round %d, %s: %s is not what the sound notes make", i, did, name)
			}
		}
		for name, b := range after {
			if _, made := files[name]; !made && strings.HasSuffix(name, ".html") && !strings.Contains(b, staleBegins) {
				t.Errorf("round %d, %s: %s says not that it is old", i, did, name)
			}
		}
		if t.Failed() {
			return
		}
		if again, _, said, err := PublishHealthy(shop, to, func(string, int) {}); err != nil || again.Written+again.Removed > 0 || !slices.Equal(said, want) {
			now := tree(t, to)
			for name := range after {
				if now[name] != after[name] {
					t.Logf("%s changed", name)
				}
			}
			t.Fatalf("%s: a second time %+v was written, %v, %v", did, again, said, err)
		}
		if _, said, err := Publish(shop, to); err != nil || !slices.Equal(said, want) {
			t.Fatalf("%s: publishing says %v, %v", did, said, err)
		}
		if b.r.IntN(3) > 0 {
			b.mend()
		}
	}
	if partly == 0 {
		t.Error("none of the shops had mistakes")
	}
	b.mend()
	if _, mistakes, err := Publish(shop, to); err != nil || len(mistakes) > 0 {
		t.Fatal(err, mistakes)
	}
	fresh := t.TempDir()
	if _, _, err := Publish(shop, fresh); err != nil {
		t.Fatal(err)
	}
	alike(t, "mended", tree(t, to), tree(t, fresh))
}
