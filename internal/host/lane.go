package host

import (
	"bytes"
	"net"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// The quick lane.
//
// Nearly all that a shop's screens ask for is a file of the site, in a request that comes
// whole and says nothing unusual. Such a request is answered here, with one read and one
// write; that takes a third of the work of http.Server. Whatever else comes, and whatever is not
// plainly understood, goes to http.Server with the bytes that were read, and so does the rest of
// that connection. The lane refuses nothing and knows no rule of its own: what it sends is
// what the handler would send (fields), and TestLaneAsHandler asks both.

const (
	firstRequest = 10 * time.Second // until a new connection says something
	nextRequest  = 2 * time.Minute
	sending      = 2 * time.Minute
)

// lane is a listener for http.Server: of the connections that another one accepts, it
// gives those that are not answered here.
type lane struct {
	net.Listener
	h    *handler
	rest chan net.Conn
	done chan struct{}

	mu    sync.Mutex
	conns map[*net.TCPConn]bool
	wrong error // of accepting
}

func newLane(l net.Listener, h *handler) *lane {
	q := &lane{Listener: l, h: h, rest: make(chan net.Conn), done: make(chan struct{}), conns: map[*net.TCPConn]bool{}}
	go q.accept()
	return q
}

func (q *lane) accept() {
	for pause := time.Duration(0); ; {
		c, err := q.Listener.Accept()
		if err != nil {
			//lint:ignore SA1019 too many open files pass, as for http.Server
			if short, ok := err.(net.Error); ok && short.Temporary() {
				q.shed()
				pause = min(max(2*pause, 5*time.Millisecond), time.Second)
				time.Sleep(pause)
				continue
			}
			q.mu.Lock()
			q.wrong = err
			q.mu.Unlock()
			q.end()
			return
		}
		pause = 0
		go q.serve(c)
	}
}

// Accept waits for a connection that http.Server has to answer.
func (q *lane) Accept() (net.Conn, error) {
	select {
	case c := <-q.rest:
		return c, nil
	case <-q.done:
		q.mu.Lock()
		defer q.mu.Unlock()
		if q.wrong != nil {
			return nil, q.wrong
		}
		return nil, net.ErrClosed
	}
}

// Close ends the lane: what is being answered is finished.
func (q *lane) Close() error {
	q.end()
	return q.Listener.Close()
}

func (q *lane) end() {
	q.mu.Lock()
	defer q.mu.Unlock()
	select {
	case <-q.done:
	default:
		close(q.done)
	}
	for c := range q.conns {
		_ = c.SetReadDeadline(time.Now()) // those that wait for a request
	}
}

// shed ends half of the connections that wait for a request, whichever they are: where there
// can be no more of them, somebody who keeps many open is not to keep others out. A browser opens
// another when it has something to ask.
func (q *lane) shed() {
	q.mu.Lock()
	defer q.mu.Unlock()
	left := (len(q.conns) + 1) / 2
	for c := range q.conns {
		if left--; left < 0 {
			break
		}
		_ = c.SetReadDeadline(time.Now())
	}
}

// open tells whether a connection may wait for a request until then.
func (q *lane) open(c *net.TCPConn, until time.Time) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	select {
	case <-q.done:
		return false
	default:
		q.conns[c] = true
		return c.SetReadDeadline(until) == nil
	}
}

// serve answers a connection as long as what it asks is plain.
func (q *lane) serve(conn net.Conn) {
	c, ok := conn.(*net.TCPConn)
	if !ok {
		q.handOver(conn)
		return
	}
	defer func() {
		q.mu.Lock()
		defer q.mu.Unlock()
		delete(q.conns, c)
	}()
	buf, head := make([]byte, 4096), []byte(nil)
	for wait := firstRequest; ; wait = nextRequest {
		if !q.open(c, time.Now().Add(wait)) {
			c.Close()
			return
		}
		n, err := c.Read(buf)
		if err != nil {
			c.Close()
			return
		}
		body, ok := q.answer(buf[:n], &head)
		if !ok {
			q.handOver(&begunConn{c, bytes.Clone(buf[:n])})
			return
		}
		_ = c.SetWriteDeadline(time.Now().Add(sending))
		if _, err := (&net.Buffers{head, body}).WriteTo(c); err != nil {
			c.Close()
			return
		}
	}
}

func (q *lane) handOver(c net.Conn) {
	_ = c.SetDeadline(time.Time{})
	select {
	case q.rest <- c:
	case <-q.done:
		c.Close()
	}
}

// begunConn is a connection of which something was read.
type begunConn struct {
	*net.TCPConn // with its ways to send a file
	read         []byte
}

func (c *begunConn) Read(b []byte) (int, error) {
	if len(c.read) > 0 {
		n := copy(b, c.read)
		if c.read = c.read[n:]; len(c.read) == 0 {
			c.read = nil // a slow client is not to hold on to it
		}
		return n, nil
	}
	return c.TCPConn.Read(b)
}

// harmless header lines change nothing about a file that is sent whole.
var harmless = []string{"accept", "accept-language", "user-agent", "referer", "cache-control", "pragma", "origin", "priority", "dnt", "upgrade-insecure-requests"}

// answer makes the head of an answer and gives its body; false where this is not for
// the lane.
func (q *lane) answer(request []byte, head *[]byte) ([]byte, bool) {
	text, ok := bytes.CutSuffix(request, []byte("\r\n\r\n"))
	if !ok || bytes.Contains(text, []byte("\r\n\r\n")) || bytes.HasSuffix(text, []byte("\r\n")) {
		return nil, false
	}
	line, rest, _ := bytes.Cut(text, []byte("\r\n"))
	line, ok = bytes.CutSuffix(line, []byte(" HTTP/1.1"))
	target, get := bytes.CutPrefix(line, []byte("GET "))
	if !ok || !get || len(target) == 0 || target[0] != '/' {
		return nil, false
	}
	if !made(target, "/-_.") {
		return nil, false
	}
	var asked, accept, cookies string
	hosts := 0
	for len(rest) > 0 {
		line, rest, _ = bytes.Cut(rest, []byte("\r\n"))
		key, value, ok := bytes.Cut(line, []byte(":"))
		if !ok || len(key) == 0 || !made(key, "-") {
			return nil, false
		}
		for _, b := range value {
			if b < ' ' || b > '~' {
				return nil, false
			}
		}
		value = bytes.TrimSpace(value)
		switch key := strings.ToLower(string(key)); {
		case key == "host":
			asked = string(value)
			if !made(value, ".-:[]") {
				return nil, false
			}
			hosts++
		case key == "accept-encoding" && accept == "":
			accept = string(value)
		case key == "cookie" && cookies == "":
			cookies = string(value)
		case key == "connection" && strings.EqualFold(string(value), "keep-alive"):
		case slices.Contains(harmless, key) || strings.HasPrefix(key, "sec-fetch-") || strings.HasPrefix(key, "sec-ch-"):
		default:
			return nil, false
		}
	}
	if hosts != 1 || asked == "" || !q.h.ours(asked) {
		return nil, false
	}
	name, ok := q.h.name(string(target))
	if !ok || name == "" || strings.HasPrefix(name, "inbox/") || strings.HasPrefix(name, "host/") {
		return nil, false
	}
	if strings.HasSuffix(name, ".html") && (signed(cookies, inboxSign) != (q.h.inbox != nil) || signed(cookies, newsSign) != (q.h.news != nil)) {
		return nil, false // a cookie is to be set
	}
	e, err := q.h.shelf.get(name)
	if err != nil || e.file != nil {
		return nil, false
	}
	body, list := e.fields(name, takesGzip(accept))
	b := append((*head)[:0], "HTTP/1.1 200 OK\r\n"...)
	for _, f := range list {
		b = append(append(append(append(b, f.name...), ": "...), f.value[0]...), "\r\n"...)
	}
	b = append(b, "Accept-Ranges: bytes\r\nContent-Length: "...)
	b = strconv.AppendInt(b, int64(len(body)), 10)
	b = append(b, "\r\nDate: "...)
	b = time.Now().UTC().AppendFormat(b, http.TimeFormat)
	*head = append(b, "\r\n\r\n"...)
	return body, true
}

// made tells whether a text is made of letters, digits and some signs alone.
func made(text []byte, signs string) bool {
	for _, b := range text {
		if !(b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= '0' && b <= '9' || strings.IndexByte(signs, b) >= 0) {
			return false
		}
	}
	return true
}

// signed tells whether a cookie is among those of a request.
func signed(cookies, name string) bool {
	for one := range strings.SplitSeq(cookies, ";") {
		if key, _, ok := strings.Cut(strings.TrimSpace(one), "="); ok && key == name {
			return true
		}
	}
	return false
}
