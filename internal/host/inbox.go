package host

import (
	"net/http"
	"strings"
)

// inboxAt is where the inbox answers, below the shop's path. No page is published
// there.
const inboxAt = "inbox/"

// inboxSign is a cookie that tells the pages' scripts that there is an inbox, so
// that they ask for none where there is none.
const inboxSign = "faultleaf-inbox"

// toInbox hands a request over to the inbox, if it is for it.
func (h *handler) toInbox(w http.ResponseWriter, r *http.Request) bool {
	base := strings.TrimSuffix(h.under, "/") + "/" + inboxAt
	if h.inbox == nil || !strings.HasPrefix(r.URL.Path, base) {
		return false
	}
	http.StripPrefix(strings.TrimSuffix(base, "/"), h.inbox).ServeHTTP(w, r)
	return true
}

// sign says on a page's answer, by a cookie, whether there is something to ask.
func (h *handler) sign(w http.ResponseWriter, r *http.Request, name string, there bool) {
	_, err := r.Cookie(name)
	path := strings.TrimSuffix(h.under, "/") + "/"
	switch {
	case there && err != nil:
		http.SetCookie(w, &http.Cookie{Name: name, Value: "open", Path: path, SameSite: http.SameSiteStrictMode})
	case !there && err == nil:
		http.SetCookie(w, &http.Cookie{Name: name, Path: path, MaxAge: -1, SameSite: http.SameSiteStrictMode})
	}
}
