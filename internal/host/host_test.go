package host

import (
	"compress/gzip"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

var site = fstest.MapFS{
	"index.html":         {Data: []byte("<p>" + strings.Repeat("heater ", 100))},
	"faults/a.html":      {Data: []byte("a")},
	"run/core.ab12.bin":  {Data: []byte(strings.Repeat("x", 1000))},
	".hidden":            {Data: []byte("no")},
	"faults/deep/b.html": {Data: []byte("b")},
}

func get(t *testing.T, h http.Handler, method, target string, head ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, target, nil)
	for i := 0; i+1 < len(head); i += 2 {
		r.Header.Set(head[i], head[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func TestHandler(t *testing.T) {
	h := Handler(site, "/")
	for _, c := range []struct {
		method, target string
		status         int
		kind           string
	}{
		{"GET", "/", 200, "text/html; charset=utf-8"},
		{"HEAD", "/faults/a.html", 200, "text/html; charset=utf-8"},
		{"GET", "/run/core.ab12.bin", 200, "application/octet-stream"},
		{"GET", "/faults", 404, ""}, {"GET", "/faults/", 404, ""}, {"GET", "/none.html", 404, ""}, {"GET", "/.hidden", 404, ""},
		{"GET", "/../secret", 404, ""}, {"GET", "/%2e%2e/secret", 404, ""}, {"GET", "/faults%5ca.html", 404, ""},
		{"POST", "/", 405, ""}, {"DELETE", "/", 405, ""},
	} {
		res := get(t, h, c.method, c.target)
		if res.StatusCode != c.status || c.kind != "" && res.Header.Get("Content-Type") != c.kind {
			t.Errorf("%s %s: %d %s", c.method, c.target, res.StatusCode, res.Header.Get("Content-Type"))
		}
		if res.Header.Get("Content-Security-Policy") != Policy {
			t.Errorf("%s %s has no policy", c.method, c.target)
		}
	}
}

func TestUnchangedAndCompressed(t *testing.T) {
	h := Handler(site, "/")
	plain := get(t, h, "GET", "/")
	packed := get(t, h, "GET", "/", "Accept-Encoding", "br, gzip")
	if packed.Header.Get("Content-Encoding") != "gzip" || packed.Header.Get("ETag") == plain.Header.Get("ETag") {
		t.Fatalf("headers %v", packed.Header)
	}
	z, err := gzip.NewReader(packed.Body)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := io.ReadAll(z)
	b, _ := io.ReadAll(plain.Body)
	if string(a) != string(b) || len(a) == 0 {
		t.Error("the compressed page is not the page")
	}
	if again := get(t, h, "GET", "/", "Accept-Encoding", "gzip", "If-None-Match", packed.Header.Get("ETag")); again.StatusCode != 304 {
		t.Errorf("unchanged page: %d", again.StatusCode)
	}
	if none := get(t, h, "GET", "/", "Accept-Encoding", "gzip;q=0"); none.Header.Get("Content-Encoding") != "" {
		t.Error("compressed for a reader that refuses it")
	}
	if bin := get(t, h, "GET", "/run/core.ab12.bin", "Accept-Encoding", "gzip"); bin.Header.Get("Content-Encoding") != "" ||
		!strings.Contains(bin.Header.Get("Cache-Control"), "immutable") {
		t.Errorf("payload headers %v", bin.Header)
	}
}

func TestUnderAPath(t *testing.T) {
	h := Handler(site, "/shop/notes/")
	if res := get(t, h, "GET", "/shop/notes?q=a"); res.StatusCode != 308 || res.Header.Get("Location") != "/shop/notes/?q=a" {
		t.Errorf("%d %s", res.StatusCode, res.Header.Get("Location"))
	}
	if res := get(t, h, "GET", "/shop/notes/faults/a.html"); res.StatusCode != 200 {
		t.Error(res.Status)
	}
	if res := get(t, h, "GET", "/faults/a.html"); res.StatusCode != 404 {
		t.Error(res.Status)
	}
	if res := get(t, h, "GET", "/shop/notesfaults/a.html"); res.StatusCode != 404 {
		t.Error(res.Status)
	}
}

func TestServeStopsAndStaysInside(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "index.html"), []byte("hello"), 0o644); err != nil {
		t.Fatal(err)
	}
	outside := filepath.Join(t.TempDir(), "secret.html")
	if err := os.WriteFile(outside, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "way-out.html")); err != nil {
		t.Skip("no links on this machine: ", err)
	}
	l, err := Listen(Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(l.Addr().String(), "127.0.0.1:") {
		t.Errorf("listens on %s", l.Addr())
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, dir, Options{}, io.Discard) }()
	base := Addresses(l, Options{})[0]
	for name, want := range map[string]int{"": 200, "way-out.html": 404} {
		res, err := http.Get(base + name)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		if res.StatusCode != want {
			t.Errorf("%q: %s", name, res.Status)
		}
	}
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
}
