// Package host serves a published site to the shop.
//
// The published folder is plain files with relative links, so any web server
// will do; this one also compresses, answers unchanged pages with 304, sends
// the policy of the pages as a header, and refuses everything but reading. It
// serves what publishing lists, as it was published, and nothing else that may
// lie in the folder; while a new site is put in place it goes on with the old
// one.
package host

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"strings"
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

// Handler serves the site published in the folder dir.
func Handler(dir string, o Options) http.Handler {
	return &handler{shelf: newShelf(dir), under: "/" + strings.Trim(o.Path, "/"), names: ownNames(o.Names), inbox: o.Inbox, news: o.News, wait: 20 * time.Second}
}

type handler struct {
	shelf *shelf
	under string
	names map[string]bool // under which a browser may ask, besides addresses
	inbox http.Handler    // nil without one
	news  *News           // nil where nothing is told
	wait  time.Duration   // for the first site
}

// ownNames are the names of this machine and those that the shop gave it.
func ownNames(given []string) map[string]bool {
	names := map[string]bool{"": true, "localhost": true} // only a program from long ago sends no name
	if own, err := os.Hostname(); err == nil {
		names[strings.ToLower(own)], names[strings.ToLower(own)+".local"] = true, true
	}
	for _, n := range given {
		names[strings.ToLower(n)] = true
	}
	return names
}

// ours says whether a request asked for this machine: by an address or by one
// of its names. A page of another site, whose name was made to lead here, did
// not.
func (h *handler) ours(asked string) bool {
	name, _, err := net.SplitHostPort(asked)
	if err != nil {
		name = asked
	}
	name = strings.TrimSuffix(strings.ToLower(name), ".")
	return h.names[name] || net.ParseIP(strings.Trim(name, "[]")) != nil
}

func (h *handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	head := w.Header()
	for _, f := range fixed {
		head[f.name] = f.value
	}
	switch {
	case !h.ours(r.Host):
		h.turnAway(w)
		return
	case h.toInbox(w, r), h.toNews(w, r):
		return
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		head.Set("Allow", "GET, HEAD")
		h.say(w, http.StatusMethodNotAllowed, "This shop's pages can only be read.")
		return
	}
	if h.beginning(w, r) {
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
	e, err := h.shelf.get(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		h.missing(w)
		return
	case err != nil:
		h.say(w, http.StatusServiceUnavailable, "This page is not as it was published; publish again, then load it again.")
		return
	}
	if strings.HasSuffix(name, ".html") {
		h.sign(w, r, inboxSign, h.inbox != nil)
		h.sign(w, r, newsSign, h.news != nil)
	}
	e.send(w, r, name)
}

// field is a line of a header.
type field struct {
	name  string
	value []string
}

// fixed headers are the same on every answer.
var fixed = []field{
	{"Content-Security-Policy", []string{Policy}},
	{"X-Content-Type-Options", []string{"nosniff"}},
	{"Referrer-Policy", []string{"no-referrer"}},
	{"Cross-Origin-Opener-Policy", []string{"same-origin"}},
	{"Cross-Origin-Resource-Policy", []string{"same-origin"}},
	{"Permissions-Policy", []string{"camera=(), microphone=(), geolocation=(), payment=(), usb=(), serial=()"}},
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
	return name, fs.ValidPath(name)
}

func (h *handler) missing(w http.ResponseWriter) {
	h.say(w, http.StatusNotFound, "There is no such page in this shop.")
}

// turnAway answers who asks by another name. Nothing else is answered by that name either: so
// the page has no stylesheet, and no way on.
func (h *handler) turnAway(w http.ResponseWriter) {
	w.Header().Set("Content-Type", types[".html"])
	w.Header().Set("Cache-Control", "no-cache")
	w.WriteHeader(http.StatusMisdirectedRequest)
	fmt.Fprintf(w, barePage, "This shop does not answer to that name; use its address, or host it with --name.")
}

func (h *handler) say(w http.ResponseWriter, status int, sentence string) {
	home := strings.TrimSuffix(h.under, "/") + "/"
	w.Header().Set("Content-Type", types[".html"])
	w.Header().Set("Cache-Control", "no-cache")
	w.WriteHeader(status)
	fmt.Fprintf(w, ownPage, sentence, home, home, sentence, home, home)
}

// ownPage is a page of the host's own, in the dress of the shop's: a sentence, and the
// ways on from it.
const ownPage = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark">
<title>%s</title><link rel="stylesheet" href="%sfaultleaf.css"></head>
<body><header class="arm-top"><span class="arm-mark"></span><a class="arm-shop" href="%s">Start</a></header><div class="arm-side"></div>
<main><h1>%s</h1><p><a class="button" href="%sfind.html">Search</a> <a class="button" href="%sindex.html">To the start page</a></p></main></body></html>
`

const barePage = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark">
<title>No shop of this name</title></head><body><main><p>%s</p></main></body></html>
`

// Options say where to listen.
type Options struct {
	LAN   bool     // every interface instead of 127.0.0.1
	Port  int      // 0 lets the system choose
	Path  string   // served under this path, "/" if empty
	Names []string // under which this machine is known, besides its own name and its addresses
	// Cert and Key are files with a certificate and its key; with both, the
	// site is served by TLS.
	Cert, Key string
	// Inbox answers below inbox/; nil without one.
	Inbox http.Handler
	// News is told to the pages; nil where the notes are not watched.
	News *News
}

// Certified says what is wrong with the certificate and its key, before anything is opened; nil
// where none is given.
func (o Options) Certified(now time.Time) error {
	if o.Cert == "" {
		return nil
	}
	pair, err := tls.LoadX509KeyPair(o.Cert, o.Key)
	if err != nil {
		return fmt.Errorf("the certificate cannot be used (%w)", err)
	}
	switch c := pair.Leaf; {
	case now.After(c.NotAfter):
		return fmt.Errorf("the certificate %s ended on %s, so no browser would take it; get a new one, or see that the clock of this machine is right", o.Cert, c.NotAfter.Format("2 January 2006"))
	case now.Before(c.NotBefore):
		return fmt.Errorf("the certificate %s begins on %s; see that the clock of this machine is right", o.Cert, c.NotBefore.Format("2 January 2006"))
	}
	return nil
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
	scheme := "http://"
	if o.Cert != "" {
		scheme = "https://"
	}
	list := []string{scheme + "127.0.0.1" + tail}
	if !o.LAN {
		return list
	}
	faces, err := net.InterfaceAddrs()
	if err != nil {
		return list
	}
	for _, a := range faces {
		if n, ok := a.(*net.IPNet); ok && !n.IP.IsLoopback() && n.IP.To4() != nil {
			list = append(list, scheme+n.IP.String()+tail)
		}
	}
	return list
}

// Serve answers requests until the context ends, then lets those under way
// finish. dir is the published folder.
func Serve(ctx context.Context, l net.Listener, dir string, o Options, complaints io.Writer) error {
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no published folder %s; publish first", dir)
	}
	h := Handler(dir, o).(*handler)
	if o.Cert == "" {
		l = newLane(l, h)
	}
	s := &http.Server{
		Handler:           h,
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
	var err error
	if o.Cert != "" {
		// read anew when it was renewed, for a host runs longer than a certificate holds
		pair := &pair{cert: o.Cert, key: o.Key, complaints: complaints}
		s.TLSConfig = &tls.Config{GetCertificate: pair.get}
		if _, err = pair.get(nil); err == nil {
			err = s.ServeTLS(l, "", "")
		} else {
			l.Close()
		}
		if !errors.Is(err, http.ErrServerClosed) {
			err = fmt.Errorf("the certificate cannot be used (%w)", err)
		}
	} else {
		err = s.Serve(l)
	}
	if !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	<-stopped
	return nil
}
