package note

import (
	"maps"
	"math/rand/v2"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
)

// slip spoils one line as a hand does: two letters swapped, a sign or the line lost, another
// unit, a line that has moved. It is "" where that changes nothing here.
func slip(rnd *rand.Rand, lines []string, i int) (spoilt string, ok bool) {
	was := lines[i]
	switch rnd.IntN(5) {
	case 0:
		words := strings.FieldsFunc(was, func(r rune) bool { return (r < 'a' || r > 'z') && r != '-' })
		words = slices.DeleteFunc(words, func(w string) bool { return len(w) < 4 })
		if len(words) == 0 {
			return "", false
		}
		w := words[rnd.IntN(len(words))]
		k := 1 + rnd.IntN(len(w)-2)
		return strings.Replace(was, w, w[:k]+w[k+1:k+2]+w[k:k+1]+w[k+2:], 1), w[k] != w[k+1]
	case 1:
		var at []int
		for k, r := range was {
			if strings.ContainsRune("[]{}:,\"", r) {
				at = append(at, k)
			}
		}
		if len(at) == 0 {
			return "", false
		}
		k := at[rnd.IntN(len(at))]
		return was[:k] + was[k+1:], true
	case 2:
		return "", true
	case 3:
		spoilt = strings.NewReplacer(" Ω", " V", " W", " A", " V", " Ω").Replace(was)
		return spoilt, spoilt != was
	}
	if strings.HasPrefix(was, " ") && rnd.IntN(2) == 0 {
		return was[1:], true
	}
	return " " + was, true
}

// TestOneSlip: of one slip in the front matter of a device, fault, sheet or block a repairer is mostly told
// one thing or two, not a screen of what follows from it. FAULTLEAF_SLIPS="500 7" tries so many, and from that seed.
func TestOneSlip(t *testing.T) {
	shop := samples()
	rounds, seed := 200, uint64(1)
	if f := strings.Fields(os.Getenv("FAULTLEAF_SLIPS")); len(f) == 2 {
		n, err := strconv.Atoi(f[0])
		s, err2 := strconv.ParseUint(f[1], 10, 64)
		if err != nil || err2 != nil {
			t.Fatal("FAULTLEAF_SLIPS is a number of slips and a seed")
		}
		rounds, seed = n, s
	}
	rnd := rand.New(rand.NewPCG(seed, 0))
	var files []string
	for _, f := range slices.Sorted(maps.Keys(shop)) {
		if dir := path.Base(path.Dir(f)); strings.HasSuffix(f, ".md") && dir != "pages" && dir != "checklists" {
			files = append(files, f)
		}
	}
	tried, many := 0, 0
	for tried < rounds {
		f := files[rnd.IntN(len(files))]
		whole := string(shop[f].Data)
		_, rest, _ := strings.Cut(whole, "---\n")
		front, body, ok := strings.Cut(rest, "\n---\n")
		if !ok {
			t.Fatal(f)
		}
		lines := strings.Split(front, "\n")
		i := rnd.IntN(len(lines))
		spoilt, ok := slip(rnd, lines, i)
		if !ok {
			continue
		}
		tried++
		was := lines[i]
		lines[i] = spoilt
		shop[f] = &fstest.MapFile{Data: []byte("---\n" + strings.Join(lines, "\n") + "\n---\n" + body)}
		_, mistakes, _ := Load(shop, all.Find)
		inside(t, shop, mistakes)
		if first, _ := mistakes.First(); len(first) > 2 {
			many++
			t.Logf("%s: %q -> %q\n%s", f, was, spoilt, printed(first))
		}
		shop[f] = &fstest.MapFile{Data: []byte(whole)}
	}
	if many*100 > tried*2 {
		t.Errorf("of %d slips %d are told as more than two mistakes", tried, many)
	}
}
