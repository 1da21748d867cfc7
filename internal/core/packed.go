package core

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"sync"
)

// Pack compresses what a page loads, without a time or a name, so that the same
// bytes give the same file.
func Pack(b []byte) ([]byte, error) {
	if isBinary(b) {
		return packedOnce(b)
	}
	return pack(b, &quick)
}

// packers are used again: each holds more than a megabyte. The smallest form takes many
// times as long as one that is a tenth larger, so only what is packed once gets it; shards of
// words are packed again at nearly every change, and one 6 % smaller takes twice as long.
var (
	quick    = sync.Pool{New: func() any { return packer(2) }}
	smallest = sync.Pool{New: func() any { return packer(gzip.BestCompression) }}
)

func packer(level int) *gzip.Writer {
	w, _ := gzip.NewWriterLevel(nil, level) // the level is one
	return w
}

func pack(b []byte, packers *sync.Pool) ([]byte, error) {
	w := packers.Get().(*gzip.Writer)
	defer packers.Put(w)
	var z bytes.Buffer
	w.Reset(&z)
	if _, err := w.Write(b); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return z.Bytes(), nil
}

// magic begins every browser binary.
const magic = "\x00asm"

func isBinary(b []byte) bool { return bytes.HasPrefix(b, []byte(magic)) }

// packedOnce packs a browser binary, which takes longer than a small shop, and keeps
// it in the user's cache for the next site. That it cannot be kept is no mistake.
func packedOnce(b []byte) ([]byte, error) {
	cache, err := cacheDir()
	if err != nil {
		return pack(b, &smallest)
	}
	sum := sha256.Sum256(b)
	kept := filepath.Join(cache, "packed-"+hex.EncodeToString(sum[:10]))
	if z, ok := whole(os.ReadFile(kept)); ok {
		return z, nil
	}
	z, err := pack(b, &smallest)
	if err == nil {
		_ = keep(kept, slices.Concat(guard(z), z))
	}
	return z, err
}

// guard is a hash that stands before what is kept.
func guard(b []byte) []byte {
	sum := sha256.Sum256(b)
	return sum[:16]
}

// whole takes the hash off again, and tells whether it is that of the rest.
func whole(b []byte, err error) ([]byte, bool) {
	if err != nil || len(b) < 16 {
		return nil, false
	}
	return b[16:], bytes.Equal(b[:16], guard(b[16:]))
}

// keep writes by a temporary file, so that a run that is cut off leaves no half
// of a binary behind.
func keep(name string, b []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), "half-")
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// cacheDir is where binaries are kept. Where a user has no folder of its own there is none: in one
// that all users share another one could lay a binary of its own.
func cacheDir() (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	dir := filepath.Join(base, "faultleaf")
	return dir, os.MkdirAll(dir, 0o755)
}
