package site

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"faultleaf/internal/bigshop"
	"faultleaf/internal/host"
)

// What runs at the same time where a host publishes: all cores make pages, and screens ask for
// them meanwhile. It is small, so that the race detector can watch all of it.
func TestTogether(t *testing.T) {
	shop, to := t.TempDir(), t.TempDir()
	if err := bigshop.Write(shop, bare(t), 160, 3); err != nil {
		t.Fatal(err)
	}
	news := host.NewNews(false)
	h := host.Handler(to, host.Options{News: news})
	var wait sync.WaitGroup
	done := make(chan struct{})
	defer func() { close(done); wait.Wait() }()
	for i := range 3 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for n := 0; ; n++ {
				select {
				case <-done:
					return
				case <-time.After(2 * time.Millisecond):
				}
				at := []string{"/index.html", "/find.html", "/host/news", "/faultleaf.js"}[(n+i)%4]
				w := httptest.NewRecorder()
				r := httptest.NewRequest("GET", "http://127.0.0.1"+at, nil).WithContext(t.Context())
				if h.ServeHTTP(w, r); w.Code != http.StatusOK && w.Code != http.StatusServiceUnavailable {
					t.Errorf("%s: %d", at, w.Code)
				}
			}
		}()
	}
	edit := func(pattern, old, new string) {
		t.Helper()
		list, _ := filepath.Glob(filepath.Join(shop, "content", pattern))
		if len(list) == 0 {
			t.Fatal("no", pattern)
		}
		b, err := os.ReadFile(list[0])
		if err != nil || !strings.Contains(string(b), old) {
			t.Fatalf("%s holds no %q, %v", list[0], old, err)
		}
		if err := os.WriteFile(list[0], []byte(strings.Replace(string(b), old, new, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	publish := func(sound bool) {
		t.Helper()
		r, mistakes, err := PublishTelling(shop, to, func(string, int) {})
		if err != nil || (len(mistakes) == 0) != sound {
			t.Fatal(mistakes, err)
		}
		if sound {
			news.Made(r.Written > 0)
			return
		}
		if _, left, _, err := PublishHealthy(shop, to, func(string, int) {}); err != nil || left.All {
			t.Fatal(left, err)
		}
		news.Partly(true, []string{mistakes[0].String()}, time.Now())
	}
	publish(true)
	edit("faults/*-1[0-9][0-9]-*.md", "## How to mend", "## How to mend\n\nTake care.\n")
	publish(true)
	edit("faults/*-1[0-9][0-9]-*.md", "seen: ", "sean: 1")
	publish(false)
	edit("faults/*-1[0-9][0-9]-*.md", "sean: 1", "seen: ")
	publish(true)
}
