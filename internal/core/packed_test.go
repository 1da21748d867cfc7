package core

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// A binary is packed once, and what is kept of it is used only while it is whole.
func TestPack(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	for _, b := range [][]byte{nil, []byte("a text"), []byte("\x00asm a binary, a binary")} {
		for range 2 {
			z, err := Pack(b)
			if err != nil {
				t.Fatal(err)
			}
			r, err := gzip.NewReader(bytes.NewReader(z))
			if err != nil {
				t.Fatal(err)
			}
			if got, err := io.ReadAll(r); err != nil || !bytes.Equal(got, b) {
				t.Errorf("%q was packed and is %q: %v", b, got, err)
			}
		}
	}
	one := []byte("\x00asm another one")
	fresh, err := Pack(one)
	if err != nil {
		t.Fatal(err)
	}
	kept, _ := filepath.Glob(filepath.Join(os.Getenv("XDG_CACHE_HOME"), "faultleaf", "packed-*"))
	if len(kept) != 2 {
		t.Fatalf("kept are %v", kept)
	}
	for _, damage := range [][]byte{nil, fresh[:len(fresh)-1], append([]byte("x"), fresh[1:]...)} {
		for _, name := range kept {
			if err := os.WriteFile(name, damage, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if z, err := Pack(one); err != nil || !bytes.Equal(z, fresh) {
			t.Errorf("damaged, it is packed otherwise: %v", err)
		}
	}
}
