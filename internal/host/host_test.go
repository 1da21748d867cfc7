package host

import (
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"faultleaf/internal/published"
)

// site is what a shop has published, by name.
var site = map[string]string{
	"index.html":         "<p>" + strings.Repeat("heater ", 100),
	"faults/a.html":      "a",
	"run/core.ab12.bin":  strings.Repeat("x", 1000),
	"run/big.ab12.bin":   strings.Repeat("0123456789", large/10+5),
	"faults/deep/b.html": "b",
}

// publish puts files into dir as publishing does.
func publish(t testing.TB, dir string, files map[string]string) {
	t.Helper()
	w, err := published.Begin(dir)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		if _, err := w.Put(name, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := w.Commit(); err != nil {
		t.Fatal(err)
	}
}

// shop is a published folder, with what may lie beside the pages.
func shop(t testing.TB) string {
	dir := t.TempDir()
	publish(t, dir, site)
	for _, name := range []string{".hidden", "README", ".git/config", "stray.html"} {
		put(t, dir, name, "not published")
	}
	return dir
}

func put(t testing.TB, dir, name, text string) {
	t.Helper()
	p := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func get(t testing.TB, h http.Handler, method, target string, head ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, target, nil)
	r.Host = "127.0.0.1:7411"
	for i := 0; i+1 < len(head); i += 2 {
		r.Header.Set(head[i], head[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func TestHandler(t *testing.T) {
	h := Handler(shop(t), Options{})
	for _, c := range []struct {
		method, target string
		status         int
		kind           string
	}{
		{"GET", "/", 200, "text/html; charset=utf-8"},
		{"HEAD", "/faults/a.html", 200, "text/html; charset=utf-8"},
		{"GET", "/run/core.ab12.bin", 200, "application/octet-stream"},
		{"GET", "/faults", 404, ""}, {"GET", "/faults/", 404, ""}, {"GET", "/none.html", 404, ""}, {"GET", "/.hidden", 404, ""},
		{"GET", "/README", 404, ""}, {"GET", "/.git/config", 404, ""}, {"GET", "/stray.html", 404, ""}, {"GET", "/published.txt", 404, ""}, {"GET", "/.faultleaf/lock", 404, ""},
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
	h := Handler(shop(t), Options{})
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
	h := Handler(shop(t), Options{Path: "/shop/notes/"})
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
	publish(t, dir, map[string]string{"index.html": "hello", "way-out.html": "inside"})
	if err := os.Remove(filepath.Join(dir, "way-out.html")); err != nil {
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
	for name, want := range map[string]int{"": 200, "way-out.html": 503} {
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

// A page of another site whose name was made to lead to this machine gets
// nothing.
func TestOtherNames(t *testing.T) {
	h := Handler(shop(t), Options{Names: []string{"bench.shop"}})
	for name, want := range map[string]int{
		"127.0.0.1:7411": 200, "localhost": 200, "[::1]:80": 200, "192.168.1.7": 200, "Bench.Shop:80": 200, "": 200,
		"evil.example": 421, "evil.example:7411": 421, "127.0.0.1.evil.example": 421, "bench.shop.evil.example": 421,
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = name
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != want {
			t.Errorf("%q: %d, not %d", name, w.Code, want)
		}
		if w.Result().Header.Get("Cross-Origin-Resource-Policy") != "same-origin" {
			t.Errorf("%q: no resource policy", name)
		}
	}
}

// A new site is seen at once and whole; a folder that was removed and made
// again is opened again; a page that somebody changed is not sent.
func TestFollowsTheSite(t *testing.T) {
	dir := shop(t)
	h := Handler(dir, Options{})
	says := func(name string) (int, string) {
		res := get(t, h, "GET", name)
		b, _ := io.ReadAll(res.Body)
		return res.StatusCode, string(b)
	}
	settle := func() { time.Sleep(glance + 20*time.Millisecond) }
	if code, text := says("/faults/a.html"); code != 200 || text != "a" {
		t.Fatal(code, text)
	}
	publish(t, dir, map[string]string{"index.html": "new", "faults/a.html": "A"})
	settle()
	if code, text := says("/faults/a.html"); code != 200 || text != "A" {
		t.Errorf("after a new site: %d %s", code, text)
	}
	if code, _ := says("/faults/deep/b.html"); code != 404 {
		t.Errorf("a page that is gone: %d", code)
	}
	if code, _ := says("/run/core.ab12.bin"); code != 200 {
		t.Errorf("a file that an open page still needs: %d", code)
	}
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	settle()
	if code, _ := says("/faults/a.html"); code != 404 {
		t.Errorf("without a folder: %d", code)
	}
	publish(t, dir, map[string]string{"faults/a.html": "again"})
	settle()
	if code, text := says("/faults/a.html"); code != 200 || text != "again" {
		t.Errorf("after the folder was made again: %d %s", code, text)
	}
	put(t, dir, "faults/b.html", "stray")
	publish(t, dir, map[string]string{"faults/a.html": "again", "index.html": "i"})
	put(t, dir, "index.html", "changed by somebody")
	settle()
	if code, text := says("/index.html"); code != 503 || strings.Contains(text, "somebody") {
		t.Errorf("a page that was changed: %d %s", code, text)
	}
}

// Large files come from the disk, in parts where a reader asks for parts.
func TestLargeFiles(t *testing.T) {
	h := Handler(shop(t), Options{})
	res := get(t, h, "GET", "/run/big.ab12.bin", "Range", "bytes=10-14")
	if b, _ := io.ReadAll(res.Body); res.StatusCode != 206 || string(b) != "01234" {
		t.Errorf("%d %q", res.StatusCode, b)
	}
	res = get(t, h, "GET", "/run/big.ab12.bin")
	if b, _ := io.ReadAll(res.Body); len(b) != len(site["run/big.ab12.bin"]) {
		t.Errorf("%d bytes", len(b))
	}
	if again := get(t, h, "GET", "/run/big.ab12.bin", "If-None-Match", res.Header.Get("ETag")); again.StatusCode != 304 {
		t.Error(again.Status)
	}
}

// What is kept at hand stays bounded, however many pages are read.
func TestMemoryIsBounded(t *testing.T) {
	dir := t.TempDir()
	files := map[string]string{}
	for i := range 80 {
		files[fmt.Sprintf("images/%d.png", i)] = strings.Repeat(fmt.Sprint(i), 900_000/len(fmt.Sprint(i)))
	}
	publish(t, dir, files)
	h := Handler(dir, Options{}).(*handler)
	for name := range files {
		if res := get(t, h, "GET", "/"+name); res.StatusCode != 200 {
			t.Fatal(res.Status)
		}
	}
	if h.shelf.bytes > memory || h.shelf.order.Len() == 0 {
		t.Errorf("%d bytes in %d files", h.shelf.bytes, h.shelf.order.Len())
	}
}

func BenchmarkSmallPage(b *testing.B) {
	h := Handler(shop(b), Options{})
	r := httptest.NewRequest("GET", "/", nil)
	r.Host = "127.0.0.1"
	r.Header.Set("Accept-Encoding", "gzip")
	b.ReportAllocs()
	for b.Loop() {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
	}
}
