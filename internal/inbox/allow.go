package inbox

import (
	"net"
	"net/http"
	"net/netip"
	"strings"
	"sync"
	"time"
)

// allowance is a bucket that fills with time.
type allowance struct {
	left float64
	at   time.Time
}

// allowances are buckets of several callers: so much at once, so much a second. They are
// bounded, however many ask.
type allowances struct {
	most, each float64

	mu sync.Mutex
	of map[string]*allowance
}

const mostCallers = 4096

// take takes one from a caller's bucket, if it holds one.
func (l *allowances) take(who string, now time.Time) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	a := l.of[who]
	if a == nil {
		l.fit(now)
		a = &allowance{l.most, now}
		l.of[who] = a
	}
	l.fill(a, now)
	if a.left < 1 {
		return false
	}
	a.left--
	return true
}

// back gives back what was taken.
func (l *allowances) back(who string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if a := l.of[who]; a != nil {
		a.left = min(l.most, a.left+1)
	}
}

func (l *allowances) fill(a *allowance, now time.Time) {
	if past := now.Sub(a.at).Seconds(); past > 0 { // a clock that was set back takes nothing away
		a.left = min(l.most, a.left+past*l.each)
	}
	a.at = now
}

// fit makes room for one more: a full bucket says nothing, and where all say something, any
// may go.
func (l *allowances) fit(now time.Time) {
	if l.of == nil {
		l.of = map[string]*allowance{}
	}
	if len(l.of) < mostCallers {
		return
	}
	for who, a := range l.of {
		if l.fill(a, now); a.left >= l.most {
			delete(l.of, who)
		}
	}
	for who := range l.of {
		if len(l.of) <= mostCallers/2 {
			break
		}
		delete(l.of, who)
	}
}

// callerOf tells by its address who asks. A server in front, on this machine, says for whom;
// anybody else who said so could be whoever he likes. Of IPv6 one line to the
// network has 2^64 addresses, which are one caller.
func callerOf(r *http.Request) string {
	from, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	at, err := netip.ParseAddr(from)
	if err != nil {
		return from
	}
	if at.Unmap().IsLoopback() {
		said := r.Header.Values("X-Forwarded-For")
		if len(said) > 0 {
			last := said[len(said)-1] // what the server in front saw itself stands last
			last = strings.TrimSpace(last[strings.LastIndexByte(last, ',')+1:])
			if asked, err := netip.ParseAddr(strings.Trim(last, "[]")); err == nil {
				at = asked
			}
		}
	}
	at = at.Unmap().WithZone("")
	if at.Is6() {
		if net, err := at.Prefix(64); err == nil {
			return net.String()
		}
	}
	return at.String()
}

// queue is where those wait whose passphrase is to be looked at: each takes 64 MiB and a
// part of a second, so they are looked at one after the other, in the order in which they
// came. Of one caller few wait, so that one who guesses holds nobody up for long.
type queue struct {
	mu      sync.Mutex
	waiting map[string]int
	all     int
	turn    chan struct{}
}

const (
	mostWaiting = 300
	eachWaiting = 2
)

// wait waits for a turn; false where too many wait, or who asked is gone. After true, done is
// to be called.
func (q *queue) wait(r *http.Request, who string) bool {
	q.mu.Lock()
	if q.turn == nil {
		q.turn, q.waiting = make(chan struct{}, 1), map[string]int{}
	}
	if q.waiting[who] >= eachWaiting || q.all >= mostWaiting {
		q.mu.Unlock()
		return false
	}
	q.waiting[who]++
	q.all++
	q.mu.Unlock()
	select {
	case q.turn <- struct{}{}:
		return true
	case <-r.Context().Done():
		q.leave(who)
		return false
	}
}

func (q *queue) done(who string) {
	<-q.turn
	q.leave(who)
}

func (q *queue) leave(who string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.all--
	if q.waiting[who]--; q.waiting[who] == 0 {
		delete(q.waiting, who)
	}
}
