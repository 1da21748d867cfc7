package inorder

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The order is the library's, of equals too, and of what is no number.
func TestBy(t *testing.T) {
	type thing struct {
		key float64
		at  int
	}
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 200 {
		var list []thing
		for i := range n {
			list = append(list, thing{float64(r.IntN(1 + n/3)), i})
			if r.IntN(20) == 0 {
				list[i].key = math.NaN()
			}
		}
		want := slices.Clone(list)
		by := func(a, b thing) int { return cmp.Compare(b.key, a.key) }
		slices.SortStableFunc(want, by)
		By(list, by)
		if !slices.EqualFunc(list, want, func(a, b thing) bool { return a.at == b.at }) {
			t.Fatalf("%d things: %v, not %v", n, list, want)
		}
	}
	words := []string{"b", "", "c", "a", "b"}
	if Up(words); !slices.Equal(words, []string{"", "a", "b", "b", "c"}) {
		t.Error(words)
	}
}
