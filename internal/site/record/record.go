// Package record keeps what was made before, by a key that tells all that went
// into it. It is a cache: whatever of it is lost, or damaged, is made anew, and
// nothing in it is ever the only copy of anything. It is bound to the folder in which it was made:
// one that came along with a shop from elsewhere, and may say anything, is not found.
package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"unsafe"

	"github.com/golang/snappy"
)

// Folder is where a site keeps its record, inside the site's folder.
const Folder = ".faultleaf/record"

// Record is a folder with a file for each key, but for what is small: thousands of
// that lie in one file, one behind the other, which is read at once and to which what is
// new is added. The zero one keeps nothing. It may be used from several goroutines.
type Record struct {
	root  *os.Root // the folder
	still bool     // nothing is put into it
	born  string   // when the record's folder was made, where that can be told

	mu      sync.Mutex
	used    map[string]bool   // names asked for or written in this run
	small   map[string][]byte // by name, as a file would hold it
	size    int               // bytes in the file of small things, with those that hold no longer
	torn    bool              // that file holds what is no entry
	pending []byte            // entries that are not in it yet
}

// Open opens the record of the site in the folder to. Where it cannot be kept,
// it keeps nothing.
func Open(to string) *Record {
	if os.MkdirAll(to, 0o755) != nil {
		return &Record{}
	}
	site, err := os.OpenRoot(to)
	if err != nil {
		return &Record{}
	}
	defer site.Close() // no link leads out of it
	if site.MkdirAll(Folder, 0o755) != nil {
		return &Record{}
	}
	root, err := site.OpenRoot(Folder) // the way to a file is found anew for each
	if err != nil {
		return &Record{}
	}
	r := &Record{root: root, used: make(map[string]bool, 4096), small: make(map[string][]byte, 4096)}
	if dir, err := root.Open("."); err == nil {
		r.born = born(dir)
		dir.Close()
	}
	r.readSmall()
	return r
}

// Look opens the record of a site to be looked at: nothing is put into it. It is nil
// where there is none.
func Look(to string) *Record {
	if info, err := os.Stat(filepath.Join(to, filepath.FromSlash(Folder))); err != nil || !info.IsDir() {
		return nil
	}
	r := Open(to)
	r.still = true
	return r
}

// Close ends the use of a record.
func (r *Record) Close() {
	if r.root != nil {
		r.mu.Lock()
		defer r.mu.Unlock()
		r.flush()
		r.root.Close()
		r.root = nil
	}
}

// What is small when it is packed, where it lies, and how much is added to that at a time. An entry
// is its length in four bytes, the name and what a file would hold; of two with one name the later
// one holds, and one of nothing says that a file does.
const (
	smallest  = 8 << 10
	smallFile = "small"
	addedAt   = 64 << 10
	nameLen   = 32
	entryHead = 4 + nameLen
	largest   = 1 << 30 // of a file, which else is none of ours
)

func (r *Record) readSmall() {
	b, err := r.root.ReadFile(smallFile)
	if err != nil {
		return
	}
	r.size = len(b)
	for len(b) > 0 {
		if len(b) < entryHead {
			r.torn = true
			return
		}
		n, name := int(binary.LittleEndian.Uint32(b)), string(b[4:entryHead])
		b = b[entryHead:]
		if n > smallest || n > len(b) {
			r.torn = true
			return
		}
		r.small[name] = b[:n:n]
		b = b[n:]
	}
}

// setSmall adds an entry; the lock is held.
func (r *Record) setSmall(name string, data []byte) {
	r.small[name] = data
	r.pending = appendEntry(r.pending, name, data)
	if len(r.pending) >= addedAt {
		r.flush()
	}
}

func appendEntry(b []byte, name string, data []byte) []byte {
	b = binary.LittleEndian.AppendUint32(b, uint32(len(data)))
	return append(append(b, name...), data...)
}

// flush writes the entries that are not in the file yet; the lock is held.
func (r *Record) flush() {
	if len(r.pending) == 0 {
		return
	}
	if f, err := r.root.OpenFile(smallFile, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644); err == nil {
		_, _ = f.Write(r.pending)
		f.Close()
	}
	r.size += len(r.pending)
	r.pending = nil
}

// Key is the key of something made of all of these, in this order.
func Key(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		add(h, unsafe.Slice(unsafe.StringData(p), len(p))) // which only reads, and some are long
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// KeyOf is Key of what is no text.
func KeyOf(parts [][]byte) string {
	h := sha256.New()
	for _, p := range parts {
		add(h, p)
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

func add(h hash.Hash, part []byte) {
	n := len(part)
	h.Write([]byte{byte(n), byte(n >> 8), byte(n >> 16), byte(n >> 24)})
	h.Write(part)
}

// name is under what a key is kept.
func (r *Record) name(key string) string {
	n := Key(r.born, key)
	r.mu.Lock()
	r.used[n] = true
	r.mu.Unlock()
	return n
}

// sum stands in front of what is kept, and finds damage.
const sumLen = 8

// Kept gives what was put under a key, nil if that is gone or damaged.
func (r *Record) Kept(key string) []byte {
	if r == nil || r.root == nil {
		return nil
	}
	name := r.name(key)
	r.mu.Lock()
	b := r.small[name]
	r.mu.Unlock()
	if len(b) == 0 {
		packed := buffers.Get().(*[]byte)
		defer buffers.Put(packed)
		if !r.read(name, packed) {
			return nil
		}
		b = *packed
	}
	if len(b) < sumLen {
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

// read reads a whole file into a buffer, which grows as it must.
func (r *Record) read(name string, into *[]byte) bool {
	f, err := r.root.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || info.Size() > largest {
		return false
	}
	b := slices.Grow((*into)[:0], int(info.Size()))[:info.Size()]
	*into = b
	_, err = io.ReadFull(f, b)
	return err == nil
}

// Use keeps what was put under a key from being swept.
func (r *Record) Use(key string) {
	if r != nil && r.root != nil {
		r.name(key)
	}
}

// Put keeps something under a key. That it cannot be kept is no mistake.
func (r *Record) Put(key string, b []byte) {
	if r == nil || r.root == nil || r.still {
		return
	}
	name := r.name(key)
	packed := buffers.Get().(*[]byte)
	defer buffers.Put(packed)
	most := sumLen + snappy.MaxEncodedLen(len(b))
	*packed = slices.Grow((*packed)[:0], most)[:most]
	data := (*packed)[:sumLen+len(snappy.Encode((*packed)[sumLen:], b))]
	sum := sha256.Sum256(data[sumLen:])
	copy(data, sum[:sumLen])
	r.mu.Lock()
	if len(data) <= smallest {
		r.setSmall(name, bytes.Clone(data))
	} else if len(r.small[name]) > 0 {
		r.setSmall(name, nil)
	}
	r.mu.Unlock()
	if len(data) > smallest {
		r.write(name, data)
	}
}

// write puts a whole file in the place of another, or leaves none.
func (r *Record) write(name string, b []byte) {
	if r.root.WriteFile(name+half, b, 0o644) != nil || r.root.Rename(name+half, name) != nil {
		_ = r.root.Remove(name + half)
	}
}

// half ends the name of what is being written.
const half = "-half"

// Sweep removes what nobody asked for since Open.
func (r *Record) Sweep() {
	if r == nil || r.root == nil || r.still {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	live := 0
	for name, b := range r.small {
		if r.used[name] && len(b) > 0 {
			live += entryHead + len(b)
		}
	}
	if r.torn || r.size+len(r.pending) > 2*live {
		r.pending, r.size, r.torn = nil, live, false
		b := make([]byte, 0, live)
		for _, name := range slices.Sorted(maps.Keys(r.small)) {
			if data := r.small[name]; r.used[name] && len(data) > 0 {
				b = appendEntry(b, name, data)
			}
		}
		if live > 0 {
			r.write(smallFile, b)
		} else {
			_ = r.root.Remove(smallFile)
		}
	}
	r.flush()
	list, err := fs.ReadDir(r.root.FS(), ".")
	if err != nil {
		return
	}
	for _, e := range list {
		if name := e.Name(); name != smallFile && (!r.used[name] || len(r.small[name]) > 0) {
			_ = r.root.Remove(name)
		}
	}
}
