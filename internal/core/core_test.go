//go:build !release

package core

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The binary is built outside the tree, kept, and found again.
func TestGet(t *testing.T) {
	built, err := exec.Command("go", "env", "GOCACHE").Output() // what the toolchain has built may be used
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("GOCACHE", strings.TrimSpace(string(built)))
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	one, err := Get()
	if err != nil {
		t.Fatal(err)
	}
	read := func(b Binary) []byte {
		out, err := b.Read()
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	wasm, find, trace := read(one.Wasm), read(one.Find), read(one.Trace)
	if !isBinary(wasm) || !isBinary(find) || !isBinary(trace) || bytes.Equal(wasm, find) || bytes.Equal(wasm, trace) || !bytes.Contains(one.Script, []byte("globalThis.Go")) {
		t.Error("this is no browser binary with its script")
	}
	kept, err := filepath.Glob(filepath.Join(os.Getenv("XDG_CACHE_HOME"), "faultleaf", "*"))
	if err != nil || len(kept) != 3 {
		t.Fatalf("the cache holds %v", kept)
	}
	// a marked copy shows that the second time nothing is built
	if err := os.WriteFile(kept[0], []byte("\x00asm kept"), 0o644); err != nil {
		t.Fatal(err)
	}
	if two, err := Get(); err != nil || string(read(two.Wasm)) != "\x00asm kept" || two.Wasm.Key != one.Wasm.Key {
		t.Errorf("the kept binary was not used: %v", err)
	}
	// half a file is not taken for a binary
	if err := os.WriteFile(kept[0], nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if three, err := Get(); err != nil || !bytes.Equal(read(three.Wasm), wasm) {
		t.Errorf("an empty kept file: %v", err)
	}
}

func TestNoToolchain(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	if _, err := Get(); err == nil || !strings.Contains(err.Error(), "no Go toolchain is here") || !strings.Contains(err.Error(), "release build") {
		t.Errorf("without a toolchain: %v", err)
	}
}

// Without a folder of the user's own nothing is kept where others could change it.
func TestNoSharedCache(t *testing.T) {
	for _, name := range []string{"HOME", "XDG_CACHE_HOME", "LocalAppData", "home"} {
		t.Setenv(name, "")
	}
	if dir, err := cacheDir(); err == nil {
		t.Errorf("binaries would be kept in %s", dir)
	}
	b := []byte("\x00asm a binary")
	if z, err := packedOnce(b); err != nil || len(z) == 0 {
		t.Error(len(z), err)
	}
}
