package host

import (
	"bytes"
	"compress/gzip"
	"container/list"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"

	"faultleaf/internal/published"
)

const (
	memory   = 48 << 20               // bytes of files that are kept at hand
	large    = 1 << 20                // from here on a file is sent from the disk
	glance   = 200 * time.Millisecond // how often the list is looked at
	patience = 2 * time.Second        // how long a new site may take to be put in place
)

// shelf gives the files of a published folder by name.
type shelf struct {
	dir string

	mu     sync.Mutex
	root   *os.Root // nil while the folder cannot be opened
	list   published.Manifest
	stamp  os.FileInfo // of the list that was read
	looked time.Time
	kept   map[string]*list.Element // of *entry, by the content's hash and whether it is packed
	order  list.List                // the one used last in front
	bytes  int
}

func newShelf(dir string) *shelf { return &shelf{dir: dir, kept: map[string]*list.Element{}} }

// entry is the content of a file, as it is sent.
type entry struct {
	key, name, tag string
	size           int64

	once          sync.Once
	plain, packed []byte                   // packed is nil where gzip does not help; both are where the file is large
	file          func() (*os.File, error) // opens a large one, if it still is the file that was read
	err           error
}

// errChanged: a file is not what the list says.
var errChanged = errors.New("the file is not as it was published")

// any tells whether there is a site; it looks again even where it just has.
func (s *shelf) any() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.list) == 0 {
		s.looked = time.Time{}
	}
	s.look()
	return len(s.list) > 0
}

// get finds a file of the site. While a new site is put in place it waits for
// it, so that a reader gets pages of one site only.
func (s *shelf) get(name string) (*entry, error) {
	for until := time.Now().Add(patience); ; {
		e, err := s.find(name)
		if err == nil || errors.Is(err, fs.ErrNotExist) || time.Now().After(until) {
			return e, err
		}
		if err := published.Finish(s.dir); err != nil {
			return nil, err
		}
		time.Sleep(glance / 4)
		s.mu.Lock()
		s.looked = time.Time{}
		s.mu.Unlock()
	}
}

func (s *shelf) find(name string) (*entry, error) {
	s.mu.Lock()
	s.look()
	f, ok := s.list[name]
	root := s.root
	if !ok || root == nil {
		s.mu.Unlock()
		return nil, fs.ErrNotExist
	}
	e := s.at(name, f)
	s.mu.Unlock()
	e.once.Do(func() { e.load(root, f) })
	err := e.err
	if err == nil && e.file != nil {
		var open *os.File
		if open, err = e.file(); err == nil {
			open.Close()
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if err != nil {
		s.drop(e.key) // the next one looks again
		return nil, err
	}
	s.fit(e)
	return e, nil
}

// look reads the list again where it has changed, and opens the folder again
// where it was replaced.
func (s *shelf) look() {
	if now := time.Now(); now.Sub(s.looked) < glance {
		return
	} else {
		s.looked = now
	}
	dir, err := os.Stat(s.dir)
	if s.root != nil {
		if open, oerr := s.root.Stat("."); err != nil || oerr != nil || !os.SameFile(dir, open) {
			s.root.Close()
			s.root, s.list, s.stamp = nil, nil, nil
			s.kept, s.bytes = map[string]*list.Element{}, 0
			s.order.Init()
		}
	}
	if err != nil {
		return
	}
	if s.root == nil {
		if s.root, err = os.OpenRoot(s.dir); err != nil {
			s.root = nil
			return
		}
	}
	stamp, err := s.root.Stat(published.List)
	if err != nil {
		s.list, s.stamp = nil, nil
		return
	}
	if s.stamp != nil && os.SameFile(stamp, s.stamp) && stamp.ModTime().Equal(s.stamp.ModTime()) && stamp.Size() == s.stamp.Size() {
		return
	}
	if list, err := published.ReadManifest(s.root.FS()); err == nil {
		s.list, s.stamp = list, stamp
	}
}

// at is the entry of a file, new where it is not at hand.
func (s *shelf) at(name string, f published.File) *entry {
	key := f.Sum
	if squeezable(name) {
		key += " packed"
	}
	if f.Size >= large || f.Size < 0 {
		key = f.Sum + " " + name
	}
	if el := s.kept[key]; el != nil {
		s.order.MoveToFront(el)
		return el.Value.(*entry)
	}
	e := &entry{key: key, name: name}
	s.kept[key] = s.order.PushFront(e)
	return e
}

// fit counts an entry that has been loaded, and lets go of those that have not
// been asked for longest.
func (s *shelf) fit(e *entry) {
	if e.size == 0 { // not counted yet
		e.size = int64(len(e.plain) + len(e.packed) + 500)
		s.bytes += int(e.size)
	}
	for s.bytes > memory && s.order.Len() > 1 {
		s.drop(s.order.Back().Value.(*entry).key)
	}
}

func (s *shelf) drop(key string) {
	if el := s.kept[key]; el != nil {
		s.bytes -= int(el.Value.(*entry).size)
		s.order.Remove(el)
		delete(s.kept, key)
	}
}

// load reads a file, sees that it is the one that was published, and packs it.
func (e *entry) load(root *os.Root, f published.File) {
	info, err := root.Lstat(e.name)
	if err != nil || !info.Mode().IsRegular() || f.Size >= 0 && info.Size() != f.Size {
		e.err = errChanged // or it is on its way
		return
	}
	file, err := root.Open(e.name)
	if err != nil {
		e.err = errChanged
		return
	}
	defer file.Close()
	b, err := io.ReadAll(io.LimitReader(file, info.Size()+1))
	sum := published.Sum(b)
	if err != nil || !f.Is(sum) {
		e.err = errChanged
		return
	}
	e.tag = sum[:24]
	if len(b) >= large {
		e.file = func() (*os.File, error) {
			if info, err := root.Lstat(e.name); err != nil || !info.Mode().IsRegular() { // opening a pipe would wait for ever
				return nil, errChanged
			}
			now, err := root.Open(e.name)
			if err != nil {
				return nil, err
			}
			if again, err := now.Stat(); err != nil || !os.SameFile(info, again) || !again.ModTime().Equal(info.ModTime()) {
				now.Close()
				return nil, errChanged
			}
			return now, nil
		}
		return
	}
	e.plain = b
	if squeezable(e.name) && len(b) > 256 {
		var z bytes.Buffer
		zw, _ := gzip.NewWriterLevel(&z, gzip.DefaultCompression)
		_, _ = zw.Write(b)
		_ = zw.Close()
		if z.Len() < len(b) {
			e.packed = bytes.Clone(z.Bytes())
		}
	}
}

var (
	forever = []string{"public, max-age=31536000, immutable"}
	anew    = []string{"no-cache"}
	gzipped = []string{"gzip"}
	varies  = []string{"Accept-Encoding"}
)

// fields is the content as it is sent, packed where that is taken, and the header of a
// file: what all answers have, and what tells of this one. A large file has no content here.
func (e *entry) fields(name string, packed bool) ([]byte, []field) {
	list := make([]field, len(fixed), len(fixed)+5)
	copy(list, fixed)
	kind := types[path.Ext(name)]
	if kind == "" {
		kind = "application/octet-stream"
	}
	keep := anew
	if strings.HasPrefix(name, published.Hashed) {
		keep = forever
	}
	list = append(list, field{"Content-Type", []string{kind}}, field{"Cache-Control", keep})
	body, tag := e.plain, e.tag
	if e.packed != nil {
		list = append(list, field{"Vary", varies})
		if packed {
			body, tag = e.packed, e.tag+"-z"
			list = append(list, field{"Content-Encoding", gzipped})
		}
	}
	return body, append(list, field{"Etag", []string{`"` + tag + `"`}})
}

// send answers a request with the file.
func (e *entry) send(w http.ResponseWriter, r *http.Request, name string) {
	head := w.Header()
	body, list := e.fields(name, r.Header.Get("Range") == "" && takesGzip(r.Header.Get("Accept-Encoding")))
	for _, f := range list {
		head[f.name] = f.value
	}
	if e.file != nil {
		f, err := e.file()
		if err != nil {
			http.Error(w, "The file is gone; load the page again.", http.StatusServiceUnavailable)
			return
		}
		defer f.Close()
		http.ServeContent(w, r, "", time.Time{}, f)
		return
	}
	if r.Header.Get("Range") == "" && r.Header.Get("If-None-Match") == "" && r.Header.Get("If-Match") == "" {
		head["Accept-Ranges"] = []string{"bytes"}
		head["Content-Length"] = []string{strconv.Itoa(len(body))}
		if r.Method != http.MethodHead {
			_, _ = w.Write(body)
		}
		return
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}

// squeezable files shrink under gzip; .bin and pictures are compressed already.
func squeezable(name string) bool {
	switch path.Ext(name) {
	case ".html", ".css", ".js", ".json", ".svg", ".txt", ".md", ".wasm":
		return true
	}
	return false
}

// takesGzip reads an Accept-Encoding header (RFC 9110, 12.5.3).
func takesGzip(accept string) bool {
	for part := range strings.SplitSeq(accept, ",") {
		coding, q, _ := strings.Cut(strings.TrimSpace(part), ";")
		if coding == "gzip" || coding == "*" {
			q = strings.ReplaceAll(q, " ", "")
			return !strings.HasPrefix(q, "q=0") || strings.HasPrefix(q, "q=0.") && strings.Trim(q[4:], "0") != ""
		}
	}
	return false
}
