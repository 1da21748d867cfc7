package words

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/blevesearch/snowballstem"
	"github.com/blevesearch/snowballstem/english"
)

// The stems are those of the library that bleve uses: of every word of the shop's notes, of
// words put together from the endings that the rules know, and of letters thrown together.
func TestStem(t *testing.T) {
	tried := map[string]bool{}
	try := func(word string) {
		if len(word) < 3 || tried[word] {
			return
		}
		tried[word] = true
		env := snowballstem.NewEnv(word)
		english.Stem(env)
		if got := Stem(word); got != env.Current() {
			t.Errorf("%s: %s, not %s", word, got, env.Current())
		}
	}
	word := regexp.MustCompile(`[a-z]+`)
	files, err := filepath.Glob("../../content/*/*.md")
	if err != nil || len(files) < 100 {
		t.Fatal(len(files), err)
	}
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range word.FindAllString(strings.ToLower(string(b)), -1) {
			try(w)
		}
	}
	var endings, begins []string
	for _, w := range irregular {
		begins = append(begins, w[0])
	}
	begins = append(begins, strings.Fields(string(keptThen))...)
	begins = append(begins, "gener", "commun", "arsen", "", "b", "by", "y", "yy", "ay", "o", "hop", "tr", "bead", "beau", "controll", "rate", "fix", "bow", "play", "l", "st", "geolog", "ski", "ti", "cri", "agre", "fe")
	for _, step := range [][]ending{step2, step3, step4} {
		for _, e := range step {
			endings = append(endings, e.suffix, e.after+e.suffix)
		}
	}
	endings = append(endings, "", "s", "ss", "us", "ies", "ied", "sses", "ed", "eed", "ing", "edly", "eedly", "ingly", "y", "ly", "e", "l", "ll", "le", "bb", "tt", "zz", "at", "bl", "iz")
	for _, b := range begins {
		for _, x := range endings {
			for _, y := range endings {
				try(b + x + y)
			}
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 60000 {
		w := make([]byte, 3+r.IntN(9))
		for i := range w {
			w[i] = "aeiouystlnrdgbcmpzwxf"[r.IntN(21)]
		}
		try(string(w) + endings[r.IntN(len(endings))])
	}
	if len(tried) < 100000 {
		t.Errorf("only %d words were tried", len(tried))
	}
	for _, w := range []string{"", "a", "ie", "bc547", "größe", "Heats", "it's"} {
		if Stem(w) != w {
			t.Errorf("%q became %q", w, Stem(w))
		}
	}
}
