// Package host serves a published site to the shop.
//
// The published folder is plain files with relative links, so any web server
// will do; this one also compresses, answers unchanged pages with 304, sends
// the policy of the pages as a header, and refuses everything but reading. It
// serves only what is inside the folder.
package host

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"path"
	"strings"
	"sync"
	"time"
)

// Policy is what a page may do: its own files only, no other host, no inline
// style or script, and never inside a foreign frame.
const Policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
	"font-src 'self'; connect-src 'self'; worker-src blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// types by file ending; http's own table differs between machines.
var types = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".json": "application/json",
	".svg":  "image/svg+xml",
	".png":  "image/png",
	".jpg":  "image/jpeg",
	".jpeg": "image/jpeg",
	".webp": "image/webp",
	".txt":  "text/plain; charset=utf-8",
	".md":   "text/markdown; charset=utf-8",
	".wasm": "application/wasm",
	".bin":  "application/octet-stream",
}

// Handler serves the files of site under a path such as "/" or "/mending/".
func Handler(site fs.FS, under string) http.Handler {
	return &handler{site: site, under: "/" + strings.Trim(under, "/"), kept: map[string]*entry{}}
}

type handler struct {
	site  fs.FS
	under string

	mu   sync.Mutex
	kept map[string]*entry
}

// entry is a file as it is sent, kept until the file changes.
type entry struct {
	size          int64
	changed       time.Time
	plain, packed []byte // packed is nil where gzip does not help
	tag           string
}

func (h *handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	head := w.Header()
	head.Set("Content-Security-Policy", Policy)
	head.Set("X-Content-Type-Options", "nosniff")
	head.Set("Referrer-Policy", "no-referrer")
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		head.Set("Allow", "GET, HEAD")
		h.say(w, http.StatusMethodNotAllowed, "This shop's pages can only be read.")
		return
	}
	name, ok := h.name(r.URL.Path)
	if !ok {
		h.missing(w)
		return
	}
	if name == "" { // the folder without its slash: relative links need it
		to := h.under + "/"
		if r.URL.RawQuery != "" {
			to += "?" + r.URL.RawQuery
		}
		head.Set("Location", to)
		w.WriteHeader(http.StatusPermanentRedirect)
		return
	}
	e, err := h.load(name)
	if err != nil {
		h.missing(w)
		return
	}
	kind := types[path.Ext(name)]
	if kind == "" {
		kind = "application/octet-stream"
	}
	head.Set("Content-Type", kind)
	if strings.HasPrefix(name, "run/") { // names there carry a hash of their content
		head.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		head.Set("Cache-Control", "no-cache")
	}
	body, tag := e.plain, e.tag
	if e.packed != nil {
		head.Set("Vary", "Accept-Encoding")
		if takesGzip(r.Header.Get("Accept-Encoding")) && r.Header.Get("Range") == "" {
			body, tag = e.packed, e.tag+"-z"
			head.Set("Content-Encoding", "gzip")
		}
	}
	head.Set("ETag", `"`+tag+`"`)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}

// name turns a request path into a file name inside the site.
func (h *handler) name(p string) (string, bool) {
	if h.under != "/" {
		if p == h.under {
			return "", true
		}
		rest, ok := strings.CutPrefix(p, h.under+"/")
		if !ok {
			return "", false
		}
		p = "/" + rest
	}
	if strings.HasSuffix(p, "/") {
		p += "index.html"
	}
	name := strings.TrimPrefix(p, "/")
	if !fs.ValidPath(name) || strings.Contains(name, "\\") || strings.HasPrefix(path.Base(name), ".") {
		return "", false
	}
	return name, true
}

func (h *handler) load(name string) (*entry, error) {
	info, err := fs.Stat(h.site, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fs.ErrNotExist
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if e := h.kept[name]; e != nil && e.size == info.Size() && e.changed.Equal(info.ModTime()) {
		return e, nil
	}
	b, err := fs.ReadFile(h.site, name)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(b)
	e := &entry{size: info.Size(), changed: info.ModTime(), plain: b, tag: hex.EncodeToString(sum[:12])}
	if squeezable(name) && len(b) > 256 {
		var z bytes.Buffer
		zw, _ := gzip.NewWriterLevel(&z, gzip.BestCompression)
		_, _ = zw.Write(b)
		_ = zw.Close()
		if z.Len() < len(b) {
			e.packed = z.Bytes()
		}
	}
	h.kept[name] = e
	return e, nil
}

// squeezable files shrink under gzip; .bin and pictures are compressed already.
func squeezable(name string) bool {
	switch path.Ext(name) {
	case ".html", ".css", ".js", ".json", ".svg", ".txt", ".md", ".wasm":
		return true
	}
	return false
}

func takesGzip(accept string) bool {
	for _, part := range strings.Split(accept, ",") {
		coding, q, _ := strings.Cut(strings.TrimSpace(part), ";")
		if coding == "gzip" || coding == "*" {
			q = strings.ReplaceAll(q, " ", "")
			return !strings.HasPrefix(q, "q=0") || strings.HasPrefix(q, "q=0.") && strings.Trim(q[4:], "0") != ""
		}
	}
	return false
}

func (h *handler) missing(w http.ResponseWriter) {
	h.say(w, http.StatusNotFound, "There is no such page in this shop.")
}

func (h *handler) say(w http.ResponseWriter, status int, sentence string) {
	home := strings.TrimSuffix(h.under, "/") + "/"
	w.Header().Set("Content-Type", types[".html"])
	w.WriteHeader(status)
	fmt.Fprintf(w, "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>%s</title><p>%s <a href=\"%s\">To the start page</a></p></html>\n",
		sentence, sentence, home)
}

// Options say where to listen.
type Options struct {
	LAN  bool   // every interface instead of 127.0.0.1
	Port int    // 0 lets the system choose
	Path string // served under this path, "/" if empty
}

// Listen opens the port. A port that is taken is one sentence.
func Listen(o Options) (net.Listener, error) {
	host := "127.0.0.1"
	if o.LAN {
		host = ""
	}
	l, err := net.Listen("tcp", fmt.Sprintf("%s:%d", host, o.Port))
	if err != nil {
		return nil, fmt.Errorf("port %d cannot be opened (%w); choose another with --port", o.Port, err)
	}
	return l, nil
}

// Addresses are the addresses to type into a browser, this machine's first.
func Addresses(l net.Listener, o Options) []string {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return nil
	}
	tail := ":" + port + strings.TrimSuffix("/"+strings.Trim(o.Path, "/"), "/") + "/"
	list := []string{"http://127.0.0.1" + tail}
	if !o.LAN {
		return list
	}
	faces, err := net.InterfaceAddrs()
	if err != nil {
		return list
	}
	for _, a := range faces {
		if n, ok := a.(*net.IPNet); ok && !n.IP.IsLoopback() && n.IP.To4() != nil {
			list = append(list, "http://"+n.IP.String()+tail)
		}
	}
	return list
}

// Serve answers requests until the context ends, then lets those under way
// finish. dir is the published folder.
func Serve(ctx context.Context, l net.Listener, dir string, o Options, complaints io.Writer) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("the published folder cannot be read (%w); publish first", err)
	}
	defer root.Close()
	s := &http.Server{
		Handler:           Handler(root.FS(), o.Path),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      2 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    64 << 10,
	}
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		<-ctx.Done()
		wait, cancel := context.WithTimeout(context.Background(), 3*time.Second)
		defer cancel()
		if err := s.Shutdown(wait); err != nil && complaints != nil {
			fmt.Fprintln(complaints, "some requests were cut off:", err)
		}
	}()
	if err := s.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	<-stopped
	return nil
}
