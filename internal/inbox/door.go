package inbox

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"
)

// Check says what is wrong with a text as a note of this shop; nil is sound.
type Check func(kind Kind, name string, text []byte) error

// Door answers the pages: everything in JSON, from the shop's own pages only,
// with the passphrase given once on each screen.
type Door struct {
	Box    *Box
	Check  Check
	Notes  fs.FS  // holds content/, for notes that are to be changed; nil lets none be
	Path   string // cookies are sent below this path only
	Secure bool   // the shop is served by TLS
	Fronts Fronts // servers in front of the host

	begun   sync.Once
	callers allowances // requests
	tries   allowances // passphrases
	looking queue      // those that are being looked at
	turns   chan struct{}
}

// turn waits until the content of one more request may be held; false where whoever asked is
// gone meanwhile.
func (d *Door) turn(ctx context.Context) bool {
	d.begin()
	select {
	case d.turns <- struct{}{}:
		return true
	case <-ctx.Done():
		return false
	}
}

const (
	burst, rate           = 600, 60      // requests of one address at once and a second
	triesBurst, triesRate = 10, 1.0 / 12 // passphrases of one caller: ten, then one each twelve seconds
	cookie                = "faultleaf-pass"
	longestRequest        = 2 << 20  // of a screen that was let in
	longestEntry          = 4 << 10  // of one that asks to be: it is held before anybody is known
	readAtOnce            = 8        // requests whose content is held at the same time
	soonSent              = 16 << 10 // of a request that is read before it has a turn
	mostPasses            = 4
	openShown             = 300
)

func (d *Door) begin() {
	d.begun.Do(func() {
		d.callers.most, d.callers.each = burst, rate
		d.tries.most, d.tries.each = triesBurst, triesRate
		d.turns = make(chan struct{}, readAtOnce)
	})
}

// ServeHTTP answers below inbox/, of which the host has taken the path off.
func (d *Door) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	now := time.Now()
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	d.begin()
	if !d.callers.take(d.Fronts.caller(r), now) {
		w.Header().Set("Retry-After", "2")
		say(w, http.StatusTooManyRequests, "Too many at once; wait a moment.")
		return
	}
	secure := d.Secure || d.Fronts.shut(r)
	if !sameOrigin(r, secure) {
		say(w, http.StatusForbidden, "Only this shop's own pages may use its inbox.")
		return
	}
	what := strings.Trim(r.URL.Path, "/")
	if r.Method == http.MethodGet && what == "state" {
		answer(w, map[string]bool{"known": d.known(r, now), "plain": !secure})
		return
	}
	// nothing large is held for somebody who is not known, however many ask
	entering := r.Method == http.MethodPost && what == "enter"
	if !entering && !d.known(r, now) {
		say(w, http.StatusUnauthorized, "Give the passphrase of the inbox first.")
		return
	}
	var body []byte
	if r.Method == http.MethodPost {
		if !strings.HasPrefix(r.Header.Get("Content-Type"), "application/json") {
			say(w, http.StatusUnsupportedMediaType, "Only this shop's own pages may use its inbox.")
			return
		}
		most := int64(longestRequest)
		if entering {
			most = longestEntry
		}
		from := http.MaxBytesReader(w, r.Body, most)
		// what is small, as nearly all is, comes in before it has a turn: a screen whose network is
		// slow holds up nobody
		var err error
		if body, err = io.ReadAll(io.LimitReader(from, soonSent)); err == nil && !entering {
			if !d.turn(r.Context()) {
				return
			}
			defer func() { <-d.turns }()
			var rest []byte
			rest, err = io.ReadAll(from)
			body = append(body, rest...)
		}
		if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
			say(w, http.StatusRequestEntityTooLarge, "This is larger than what the inbox takes; nothing of it was kept.")
			return
		} else if err != nil {
			say(w, http.StatusBadRequest, "Only a part of this came in; nothing of it was kept.")
			return
		}
	}
	if entering {
		d.enter(w, r, body, now)
		return
	}
	folder, code, _ := strings.Cut(what, "/")
	switch {
	case r.Method == http.MethodGet && what == "jobs":
		jobs, err := d.Box.Jobs(openShown)
		if err != nil {
			fails(w, err)
			return
		}
		answer(w, jobs)
	case r.Method == http.MethodPost && folder == "jobs" && code != "":
		var q struct {
			Facts Facts  `json:"facts"`
			Since string `json:"since"`
		}
		if err := json.Unmarshal(body, &q); err != nil {
			fails(w, ErrFacts)
			return
		}
		s, err := d.Box.Merge(code, q.Facts, q.Since)
		if err != nil {
			fails(w, err)
			return
		}
		answer(w, s)
	case r.Method == http.MethodGet && what == "note":
		d.note(w, r.URL.Query().Get("file"))
	case r.Method == http.MethodPost && what == string(Changes):
		d.change(w, body)
	case r.Method == http.MethodPost && (what == string(Sheets) || what == string(Notes)):
		var q struct{ Name, Text string }
		if err := json.Unmarshal(body, &q); err != nil {
			fails(w, ErrFacts)
			return
		}
		if len(q.Text) > longestText {
			fails(w, ErrLarge)
			return
		}
		if !plainName.MatchString(q.Name) {
			fails(w, ErrName)
			return
		}
		if d.Check != nil {
			if err := d.Check(Kind(what), q.Name, []byte(q.Text)); err != nil {
				say(w, http.StatusUnprocessableEntity, err.Error())
				return
			}
		}
		name, err := d.Box.Keep(Kind(what), q.Name, []byte(q.Text))
		if err != nil {
			fails(w, err)
			return
		}
		answer(w, map[string]string{"name": name})
	default:
		say(w, http.StatusNotFound, "The inbox has no such place.")
	}
}

// enter gives a screen its pass. Wrong passphrases are counted by who gave them, so that one who
// guesses shuts out nobody else; a screen that was let in before is told by its old pass, also
// where all come from one address.
func (d *Door) enter(w http.ResponseWriter, r *http.Request, body []byte, now time.Time) {
	var q struct{ Passphrase string }
	_ = json.Unmarshal(body, &q)
	who := d.Fronts.caller(r)
	for _, pass := range passesOf(r) {
		if d.Box.Gave(pass) {
			who = "screen " + pass
		}
	}
	if !d.tries.take(who, now) || !d.looking.wait(r, who) {
		w.Header().Set("Retry-After", "12")
		say(w, http.StatusTooManyRequests, "Too many tries; wait a minute.")
		return
	}
	pass, ok := d.Box.Admit(q.Passphrase, now)
	d.looking.done(who)
	if !ok {
		say(w, http.StatusForbidden, "That is not the passphrase of this inbox.")
		return
	}
	d.tries.back(who) // a right one costs nothing
	http.SetCookie(w, &http.Cookie{Name: cookie, Value: pass, Path: d.Path, MaxAge: int(passLasts.Seconds()), HttpOnly: true, Secure: d.Secure || d.Fronts.shut(r), SameSite: http.SameSiteStrictMode})
	answer(w, map[string]bool{"known": true})
}

func (d *Door) known(r *http.Request, now time.Time) bool {
	return slices.ContainsFunc(passesOf(r), func(pass string) bool { return d.Box.Knows(pass, now) })
}

// passesOf are the passes that a screen shows. There may be more than one: cookies know no
// port, so another service on this machine can set one of this name, and is not to shut the
// screen out.
func passesOf(r *http.Request) []string {
	var out []string
	for _, c := range r.CookiesNamed(cookie) {
		if out = append(out, c.Value); len(out) == mostPasses {
			break
		}
	}
	return out
}

// sameOrigin: the request comes from a page of this host. Browsers say so by
// Sec-Fetch-Site or, over plain HTTP, by Origin; a request that carries neither is
// only read. Where the shop is served by TLS, a page that came without it is another's:
// whoever sits in the network may have written it.
func sameOrigin(r *http.Request, secure bool) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" {
		return false
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return r.Method == http.MethodGet
	}
	u, err := url.Parse(origin)
	return err == nil && u.Host != "" && u.Host == r.Host && (!secure || u.Scheme == "https")
}

func answer(w http.ResponseWriter, v any) {
	b, err := json.Marshal(v)
	if err != nil {
		say(w, http.StatusInternalServerError, "The answer cannot be written.")
		return
	}
	_, _ = w.Write(b)
}

func say(w http.ResponseWriter, status int, sentence string) {
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(map[string]string{"error": sentence})
}

// fails says an error in a sentence; what the page holds stays on the page.
func fails(w http.ResponseWriter, err error) {
	switch {
	case errors.Is(err, ErrClash):
		say(w, http.StatusConflict, "Another job has this code.")
	case errors.Is(err, ErrName), errors.Is(err, ErrFacts), errors.Is(err, ErrLarge):
		say(w, http.StatusBadRequest, strings.ToUpper(err.Error()[:1])+err.Error()[1:]+".")
	case errors.Is(err, ErrMany):
		say(w, http.StatusInsufficientStorage, strings.ToUpper(err.Error()[:1])+err.Error()[1:]+".")
	case errors.Is(err, ErrFull), errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		say(w, http.StatusInsufficientStorage, "The host has no more room: nothing was kept there. Download the sheet, and make room on the host.")
	default:
		say(w, http.StatusInternalServerError, "The host could not keep it: "+err.Error()+". Download the sheet, or copy it.")
	}
}
