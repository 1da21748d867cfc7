package inbox

import (
	"fmt"
	"net/http"
	"net/netip"
	"slices"
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

// Fronts are the servers in front of the host whose word is taken, besides those on this
// machine: what they say in X-Forwarded-For tells for whom they ask, and in X-Forwarded-Proto how
// they were asked. Anybody else who said so could be whoever he likes.
type Fronts []netip.Prefix

// ReadFronts reads addresses, 10.0.0.2, and networks, 10.0.0.0/24.
func ReadFronts(list []string) (Fronts, error) {
	var f Fronts
	for _, text := range list {
		net, err := netip.ParsePrefix(text)
		if err != nil {
			at, aerr := netip.ParseAddr(text)
			if aerr != nil {
				return nil, fmt.Errorf("%q is no address of a server in front, such as 10.0.0.2, and no network, such as 10.0.0.0/24", text)
			}
			at = at.Unmap().WithZone("")
			net = netip.PrefixFrom(at, at.BitLen())
		}
		if net.Bits() == 0 {
			return nil, fmt.Errorf("%s is every address there is, so anybody could say who he is; name the server in front", text)
		}
		f = append(f, net.Masked())
	}
	return f, nil
}

func (f Fronts) holds(at netip.Addr) bool {
	return at.IsLoopback() || slices.ContainsFunc(f, func(net netip.Prefix) bool { return net.Contains(at) })
}

// peer is who sent a request himself.
func peer(r *http.Request) (netip.Addr, bool) {
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	return from.Addr().Unmap().WithZone(""), err == nil
}

// caller tells by its address who asks. Each server in front adds at the end whom it saw itself,
// so the list is read from there for as long as it tells of servers in front. Of IPv6 one line to
// the network has 2^64 addresses, which are one caller.
func (f Fronts) caller(r *http.Request) string {
	at, ok := peer(r)
	if !ok {
		return r.RemoteAddr
	}
	said := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
	for n := len(said) - 1; n >= 0 && f.holds(at); n-- {
		before, ok := spoken(said[n])
		if !ok {
			break
		}
		at = before
	}
	if at.Is6() {
		if net, err := at.Prefix(64); err == nil {
			return net.String()
		}
	}
	return at.String()
}

// spoken reads one address of X-Forwarded-For, with a port or without.
func spoken(text string) (netip.Addr, bool) {
	text = strings.TrimSpace(text)
	at, err := netip.ParseAddr(strings.Trim(text, "[]"))
	if err != nil {
		with, perr := netip.ParseAddrPort(text)
		at, err = with.Addr(), perr
	}
	return at.Unmap().WithZone(""), err == nil
}

// shut tells whether a request came by TLS to a server in front.
func (f Fronts) shut(r *http.Request) bool {
	at, ok := peer(r)
	said := r.Header.Values("X-Forwarded-Proto")
	return ok && f.holds(at) && len(said) == 1 && strings.EqualFold(strings.TrimSpace(said[0]), "https")
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
