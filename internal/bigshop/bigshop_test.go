package bigshop

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
)

// What is made is a shop without mistakes, of about as many notes, and the same
// each time.
func TestWrite(t *testing.T) {
	base := os.DirFS(filepath.Join("..", ".."))
	one, two := t.TempDir(), t.TempDir()
	for _, dir := range []string{one, two} {
		if err := Write(dir, base, 600, 7); err != nil {
			t.Fatal(err)
		}
	}
	if sum(t, one) != sum(t, two) {
		t.Error("the same seed gives other notes")
	}
	set, mistakes, _ := note.Load(os.DirFS(one), all.Find)
	for _, m := range mistakes {
		t.Error(m)
	}
	starter, _, _ := note.Load(base, all.Find) // whose blocks and own devices come along
	if n := len(set.Documents()); n < 600 || n > 600+len(starter.Documents()) {
		t.Errorf("%d notes instead of 600, and a starter of %d", n, len(starter.Documents()))
	}
}

func sum(t *testing.T, dir string) string {
	t.Helper()
	h := sha256.New()
	err := fs.WalkDir(os.DirFS(dir), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(filepath.Join(dir, p))
		fmt.Fprintln(h, p, len(b))
		h.Write(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("%x", h.Sum(nil))
}
