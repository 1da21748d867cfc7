package host

import (
	"encoding/json"
	"fmt"
	"hash/fnv"
	"html"
	"net/http"
	"strings"
	"sync"
	"time"
)

// newsAt is where the pages' scripts ask whether the site is as the notes are. No
// page is published there.
const newsAt = "host/news"

// newsSign is a cookie that tells the pages' scripts that there is somebody to
// ask, so that they ask nowhere else.
const newsSign = "faultleaf-host"

// mostTold mistakes are told on a page; more are a number.
const mostTold = 12

// News is what the pages are told about the site that they belong to: when it
// was last made, and what keeps a newer one from being made. It is told by the
// host alone, and stands in no published file.
type News struct {
	mu    sync.Mutex
	body  []byte
	tag   string
	first chan struct{} // closed once the first try to publish has ended
	tried bool
	now   told
}

// told is the news as JSON.
type told struct {
	Made     string   `json:"made"`               // changes with the site
	Stale    string   `json:"stale,omitempty"`    // since when the notes are newer than the site, "10:42" or with its day
	Mistakes []string `json:"mistakes,omitempty"` // why
	More     int      `json:"more,omitempty"`     // mistakes that are not told
	since    time.Time
}

// NewNews is news of a site that is not made yet; standing says that an older one is there.
func NewNews(standing bool) *News {
	n := &News{first: make(chan struct{})}
	if standing {
		n.tried = true
		close(n.first)
	}
	n.say(told{Made: stampOf(time.Now())})
	return n
}

func stampOf(at time.Time) string { return fmt.Sprintf("%x", at.UnixNano()) }

// Made says that the site is as the notes are; changed, that it differs from before.
func (n *News) Made(changed bool) {
	n.mu.Lock()
	defer n.mu.Unlock()
	now := told{Made: n.now.Made}
	if changed {
		now.Made = stampOf(time.Now())
	}
	n.say(now)
	n.end()
}

// Stale says that the notes have changed and that no site could be made of them.
func (n *News) Stale(why []string, at time.Time) {
	n.mu.Lock()
	defer n.mu.Unlock()
	now := told{Made: n.now.Made, since: n.now.since, Mistakes: why}
	if now.since.IsZero() {
		now.since = at
	}
	now.Stale = now.since.Format("15:04")
	if y, m, d := at.Date(); now.since.Before(time.Date(y, m, d, 0, 0, 0, 0, at.Location())) {
		now.Stale = now.since.Format("2006-01-02 15:04")
	}
	if len(why) > mostTold {
		now.Mistakes, now.More = why[:mostTold], len(why)-mostTold
	}
	n.say(now)
	n.end()
}

// Partly says that only some of the notes could be published; changed, that the
// site differs from before.
func (n *News) Partly(changed bool, why []string, at time.Time) {
	if changed {
		n.mu.Lock()
		n.now.Made = stampOf(time.Now())
		n.mu.Unlock()
	}
	n.Stale(why, at)
}

func (n *News) end() {
	if !n.tried {
		n.tried = true
		close(n.first)
	}
}

func (n *News) say(now told) {
	n.now = now
	n.body, _ = json.Marshal(now)
	sum := fnv.New64a()
	_, _ = sum.Write(n.body)
	n.tag = fmt.Sprintf(`"%x"`, sum.Sum64())
}

// toNews answers the pages' scripts.
func (h *handler) toNews(w http.ResponseWriter, r *http.Request) bool {
	if h.news == nil || r.URL.Path != strings.TrimSuffix(h.under, "/")+"/"+newsAt || r.Method != http.MethodGet && r.Method != http.MethodHead {
		return false
	}
	h.news.mu.Lock()
	body, tag := h.news.body, h.news.tag
	h.news.mu.Unlock()
	head := w.Header()
	head.Set("Content-Type", types[".json"])
	head.Set("Cache-Control", "no-cache")
	head.Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return true
	}
	if r.Method != http.MethodHead {
		_, _ = w.Write(body)
	}
	return true
}

// beginning answers while there is no site yet: it waits for the first one a while, and
// says what keeps it from being made. ok is false once there is a site.
func (h *handler) beginning(w http.ResponseWriter, r *http.Request) (ok bool) {
	if h.news == nil || h.shelf.any() {
		return false
	}
	select {
	case <-h.news.first:
		if h.shelf.any() {
			return false
		}
	case <-r.Context().Done():
	case <-time.After(h.wait):
	}
	h.news.mu.Lock()
	now := h.news.now
	h.news.mu.Unlock()
	says := "<p>The site is being made for the first time."
	if len(now.Mistakes) > 0 {
		says = "<p>There is no site yet: the notes hold mistakes. Mend them, and it is made.</p><ul>"
		for _, m := range now.Mistakes {
			says += "<li>" + html.EscapeString(m) + "</li>"
		}
		says += "</ul><p>"
		if now.More > 0 {
			says += fmt.Sprintf("And %d more. ", now.More)
		}
	}
	head := w.Header()
	head.Set("Content-Type", types[".html"])
	head.Set("Cache-Control", "no-store")
	head.Set("Retry-After", "2")
	w.WriteHeader(http.StatusServiceUnavailable)
	fmt.Fprintf(w, "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta http-equiv=\"refresh\" content=\"2\"><title>No site yet</title>%s This page looks again by itself.</p></html>\n", says)
	return true
}
