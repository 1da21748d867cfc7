//go:build !js

package words

import (
	_ "embed" // which brings in files and the clock; in a browser a lexicon comes with the index
	"hash/fnv"
	"slices"
	"strings"
	"sync"
)

//go:embed shop.txt
var houseText string

// Fingerprint changes when the rules or the list of the house change.
func Fingerprint() uint32 {
	h := fnv.New32a()
	_, _ = h.Write([]byte(houseText))
	return h.Sum32() + Rules
}

//go:embed ordinary.txt
var ordinaryText string

// ordinary gives the stems of ordinary.txt, sorted.
var ordinary = sync.OnceValue(func() string {
	var stems []string
	for line := range strings.Lines(ordinaryText) {
		if line[0] != '#' {
			for _, w := range strings.Fields(line) {
				stems = append(stems, Stem(w))
			}
		}
	}
	slices.Sort(stems)
	return strings.Join(slices.Compact(stems), " ")
})

// House is the lexicon of shop.txt alone.
var House = sync.OnceValue(func() *Lexicon { return read(houseText, ordinary()) })

// WithOwn is the lexicon of the house and a shop's own lines. Lines that Faults
// finds fault with are passed over.
func WithOwn(own string) *Lexicon {
	if strings.TrimSpace(own) == "" {
		return House()
	}
	return read(houseText+"\n"+own, ordinary())
}
