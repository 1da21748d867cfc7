// Package record keeps what was made before, by a key that tells all that went
// into it. It is a cache: whatever of it is lost, or damaged, is made anew, and
// nothing in it is ever the only copy of anything. It is bound to the folder in which it was made:
// one that came along with a shop from elsewhere, and may say anything, is not found.
package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"os"
	"sync"

	"github.com/golang/snappy"
)

// Folder is where a site keeps its record, inside the site's folder.
const Folder = ".faultleaf/record"

// Record is a folder with a file for each key. The zero one keeps nothing. It may
// be used from several goroutines.
type Record struct {
	root *os.Root // of the site: no link leads out of it
	born string   // when the record's folder was made, where that can be told

	mu   sync.Mutex
	used map[string]bool // names of the files asked for or written in this run
}

// Open opens the record of the site in the folder to. Where it cannot be kept,
// it keeps nothing.
func Open(to string) *Record {
	if os.MkdirAll(to, 0o755) != nil {
		return &Record{}
	}
	root, err := os.OpenRoot(to)
	if err != nil {
		return &Record{}
	}
	if root.MkdirAll(Folder, 0o755) != nil {
		root.Close()
		return &Record{}
	}
	r := &Record{root: root, used: map[string]bool{}}
	if dir, err := root.Open(Folder); err == nil {
		r.born = born(dir)
		dir.Close()
	}
	return r
}

// Close ends the use of a record.
func (r *Record) Close() {
	if r.root != nil {
		r.root.Close()
		r.root = nil
	}
}

// Key is the key of something made of all of these, in this order.
func Key(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		n := len(p)
		h.Write([]byte{byte(n), byte(n >> 8), byte(n >> 16), byte(n >> 24)})
		h.Write([]byte(p))
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// name is the file of a key.
func (r *Record) name(key string) string {
	n := Key(r.born, key)
	r.mu.Lock()
	r.used[n] = true
	r.mu.Unlock()
	return Folder + "/" + n
}

// sum stands in front of what is kept, and finds damage.
const sumLen = 8

// Kept gives what was put under a key, nil if that is gone or damaged.
func (r *Record) Kept(key string) []byte {
	if r == nil || r.root == nil {
		return nil
	}
	b, err := r.root.ReadFile(r.name(key))
	if err != nil || len(b) < sumLen {
		return nil
	}
	sum := sha256.Sum256(b[sumLen:])
	if !bytes.Equal(sum[:sumLen], b[:sumLen]) {
		return nil
	}
	out, err := snappy.Decode(nil, b[sumLen:])
	if err != nil {
		return nil
	}
	if out == nil {
		out = []byte{}
	}
	return out
}

// Use keeps what was put under a key from being swept.
func (r *Record) Use(key string) {
	if r != nil && r.root != nil {
		r.name(key)
	}
}

// Put keeps something under a key. That it cannot be kept is no mistake.
func (r *Record) Put(key string, b []byte) {
	if r == nil || r.root == nil {
		return
	}
	name := r.name(key)
	packed := snappy.Encode(nil, b)
	sum := sha256.Sum256(packed)
	if r.root.WriteFile(name+half, append(sum[:sumLen:sumLen], packed...), 0o644) != nil || r.root.Rename(name+half, name) != nil {
		_ = r.root.Remove(name + half)
	}
}

// half ends the name of what is being written.
const half = "-half"

// Sweep removes what nobody asked for since Open.
func (r *Record) Sweep() {
	if r == nil || r.root == nil {
		return
	}
	list, err := fs.ReadDir(r.root.FS(), Folder)
	if err != nil {
		return
	}
	for _, e := range list {
		if !r.used[e.Name()] {
			_ = r.root.Remove(Folder + "/" + e.Name())
		}
	}
}
