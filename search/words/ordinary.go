package words

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed ordinary.txt
var ordinaryText string

// ordinary are the stems of ordinary.txt. They are cut when the first word that no note holds is met.
var ordinary = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for line := range strings.Lines(ordinaryText) {
		if line[0] != '#' {
			for _, w := range strings.Fields(line) {
				out[Stem(w)] = true
			}
		}
	}
	return out
})

// Ordinary says whether a word is an ordinary one that people use beside those of the trade, so that it is no slip for
// another, however near.
func Ordinary(w Word) bool { return ordinary()[w.Stem] }
