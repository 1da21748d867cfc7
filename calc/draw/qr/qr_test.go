package qr

import (
	"math/rand/v2"
	"strings"
	"testing"

	lib "rsc.io/qr"
)

// Every version and level gives the very modules of a library that others use.
func TestSameAsLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	sizes := map[int]bool{}
	for n := 1; n < 3000; n += 1 + n/40 {
		b := make([]byte, n)
		for i := range b {
			b[i] = byte('a' + r.IntN(26)) // small letters go in as bytes there, too
		}
		for _, level := range []Level{L, M} {
			text := string(b)
			want, wrong := lib.Encode(text, lib.Level(level))
			got, err := Encode(text, level)
			if (err != nil) != (wrong != nil) {
				t.Fatal(n, level, err, wrong)
			}
			if err != nil {
				continue
			}
			if got.Size != want.Size {
				t.Fatalf("%d bytes, level %d: %d modules, not %d", n, level, got.Size, want.Size)
			}
			sizes[got.Size] = true
			for y := range got.Size {
				for x := range got.Size {
					if got.Black(x, y) != want.Black(x, y) {
						t.Fatalf("%d bytes, level %d: module %d, %d", n, level, x, y)
					}
				}
			}
		}
	}
	if len(sizes) != 40 {
		t.Errorf("only %d of 40 versions were tried", len(sizes))
	}
	if _, err := Encode(strings.Repeat("x", 3000), L); err == nil {
		t.Error("3000 bytes fit no code")
	}
}
