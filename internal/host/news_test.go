package host

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func asked(h http.Handler, method, path string, head map[string]string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, nil)
	r.Host = "localhost"
	for name, value := range head {
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func toldBy(t *testing.T, h http.Handler) told {
	t.Helper()
	var now told
	if err := json.Unmarshal(asked(h, "GET", "/host/news", nil).Body.Bytes(), &now); err != nil {
		t.Fatal(err)
	}
	return now
}

// The pages are told what is wrong by the host and by no published file, are told it once,
// and since when; a site that was made again takes it back.
func TestNews(t *testing.T) {
	news := NewNews(true)
	h := Handler(shop(t), Options{News: news})
	first := asked(h, "GET", "/host/news", nil)
	if first.Code != 200 || first.Header().Get("Cache-Control") != "no-cache" {
		t.Fatal(first.Code, first.Header())
	}
	tag := map[string]string{"If-None-Match": first.Header().Get("ETag")}
	if w := asked(h, "GET", "/host/news", tag); w.Code != 304 || w.Body.Len() > 0 {
		t.Error("what is known is told again", w.Code)
	}
	if c := asked(h, "GET", "/index.html", nil).Header().Get("Set-Cookie"); !strings.Contains(c, newsSign+"=open") {
		t.Error("the pages do not know that there is news:", c)
	}
	at := time.Date(2025, 3, 4, 10, 42, 0, 0, time.Local)
	news.Stale([]string{"a.md:3:1: <b>"}, at)
	if now := toldBy(t, h); now.Stale != "10:42" || len(now.Mistakes) != 1 || now.Made != toldBy(t, h).Made {
		t.Errorf("%+v", now)
	}
	many := make([]string, 40)
	news.Stale(many, at.Add(time.Hour))
	if now := toldBy(t, h); now.Stale != "10:42" || len(now.Mistakes) != mostTold || now.More != 40-mostTold {
		t.Errorf("%+v", now)
	}
	news.Stale(many, at.AddDate(0, 0, 1))
	if now := toldBy(t, h); now.Stale != "2025-03-04 10:42" {
		t.Errorf("the next day it says only %s", now.Stale)
	}
	before := toldBy(t, h).Made
	news.Made(false)
	if now := toldBy(t, h); now.Made != before || now.Stale != "" || len(now.Mistakes) > 0 {
		t.Errorf("nothing changed: %+v", now)
	}
	news.Made(true)
	if now := toldBy(t, h); now.Made == before {
		t.Error("a new site is not told")
	}
	if w := asked(h, "POST", "/host/news", nil); w.Code == 200 && w.Body.Len() == 0 {
		t.Error("a post is answered")
	}
	// below a path, and not at all without news
	under := Handler(shop(t), Options{News: news, Path: "/mend/"})
	if w := asked(under, "GET", "/mend/host/news", nil); w.Code != 200 {
		t.Error(w.Code)
	}
	if w := asked(Handler(shop(t), Options{}), "GET", "/host/news", nil); w.Code != 404 {
		t.Error(w.Code)
	}
}

// Before the first site there is a page that waits for it, and says what keeps it.
func TestBeginning(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "public")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	news := NewNews(false)
	h := Handler(dir, Options{News: news}).(*handler)
	h.wait = 10 * time.Millisecond
	if w := asked(h, "GET", "/", nil); w.Code != 503 || !strings.Contains(w.Body.String(), "being made for the first time") {
		t.Error(w.Code, w.Body)
	}
	news.Stale([]string{"content/shop.yaml:3:1: <script>"}, time.Now())
	if w := asked(h, "GET", "/faults/x.html", nil); w.Code != 503 || !strings.Contains(w.Body.String(), "shop.yaml:3:1: &lt;script&gt;") {
		t.Error(w.Code, w.Body)
	}
	publish(t, dir, site)
	if w := asked(h, "GET", "/", nil); w.Code != 200 {
		t.Error("the site is not found at once:", w.Code, w.Body)
	}

	// one that comes while somebody waits is shown
	waits := filepath.Join(t.TempDir(), "public")
	if err := os.Mkdir(waits, 0o755); err != nil {
		t.Fatal(err)
	}
	news = NewNews(false)
	later := Handler(waits, Options{News: news})
	go func() {
		time.Sleep(50 * time.Millisecond)
		publish(t, waits, site)
		news.Made(true)
	}()
	if w := asked(later, "GET", "/", nil); w.Code != 200 {
		t.Error(w.Code, w.Body)
	}
}
