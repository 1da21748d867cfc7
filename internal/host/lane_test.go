package host

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"maps"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// both serve one folder: with the quick lane, and without.
func both(t *testing.T, dir string, o Options) (with, without string) {
	t.Helper()
	listen := func() net.Listener {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	ctx, stop := context.WithCancel(context.Background())
	quick, usual := listen(), listen()
	ended := make(chan error, 1)
	go func() { ended <- Serve(ctx, quick, dir, o, nil) }()
	s := &http.Server{Handler: Handler(dir, o)}
	go s.Serve(usual) //nolint:errcheck // it is closed below
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
		s.Close()
	})
	return quick.Addr().String(), usual.Addr().String()
}

// said sends requests over one connection and gives what came, without the dates.
func said(t *testing.T, address string, requests ...string) []string {
	t.Helper()
	c, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(20 * time.Second))
	r := bufio.NewReader(c)
	var out []string
	for _, request := range requests {
		if _, err := io.WriteString(c, request); err != nil {
			return append(out, "closed")
		}
		res, err := http.ReadResponse(r, &http.Request{Method: strings.SplitN(request, " ", 2)[0]})
		if err != nil {
			return append(out, "closed")
		}
		body, _ := io.ReadAll(res.Body)
		res.Header.Del("Date")
		keys := slices.Sorted(maps.Keys(res.Header))
		text := res.Proto + " " + res.Status
		for _, k := range keys {
			text += "\n" + k + ": " + strings.Join(res.Header[k], " | ")
		}
		out = append(out, text+"\n\n"+string(body))
		if res.Close {
			break
		}
	}
	return out
}

const plain = " HTTP/1.1\r\nHost: 127.0.0.1\r\n"

// Whatever is asked, the quick lane and http.Server say the same, line for line; and what
// browsers ask is answered in the lane.
func TestLaneAsHandler(t *testing.T) {
	dir := shop(t)
	for _, o := range []Options{{}, {Path: "/bench"}, {News: &News{}}} {
		under := strings.TrimSuffix("/"+strings.Trim(o.Path, "/"), "/")
		with, without := both(t, dir, o)
		q := &lane{h: Handler(dir, o).(*handler)}
		sign := "Cookie: theme=dark\r\n"
		if o.News != nil {
			sign = "Cookie: theme=dark; " + newsSign + "=open\r\n"
		}
		var head []byte
		for _, name := range []string{"/", "/index.html", "/faults/a.html", "/run/core.ab12.bin"} {
			browser := "GET " + under + name + plain + "User-Agent: x (y; z)\r\nAccept: text/html,*/*;q=0.8\r\nAccept-Language: en\r\nAccept-Encoding: gzip, deflate, br\r\nConnection: keep-alive\r\n" + sign +
				"Referer: http://127.0.0.1/\r\nSec-Fetch-Dest: document\r\nsec-ch-ua: \"a\";v=\"1\"\r\nUpgrade-Insecure-Requests: 1\r\n\r\n"
			if _, ok := q.answer([]byte(browser), &head); !ok {
				t.Errorf("%s of a browser is not answered in the lane", name)
			}
		}
		for _, r := range []string{
			"GET " + under + "/index.html" + plain + "\r\n",
			"GET " + under + "/index.html" + plain + "Accept-Encoding: gzip\r\n" + sign + "\r\n",
			"GET " + under + "/index.html" + plain + "Accept-Encoding: gzip;q=0\r\n\r\n",
			"GET " + under + "/run/core.ab12.bin" + plain + "\r\n",
			"GET " + under + "/run/big.ab12.bin" + plain + "\r\n",
			"GET " + under + "/run/big.ab12.bin" + plain + "Range: bytes=5-9\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Range: bytes=5-9\r\n\r\n",
			"GET " + under + "/index.html" + plain + "If-None-Match: *\r\n\r\n",
			"GET " + under + "/index.html?q=kettle" + plain + "\r\n",
			"GET " + under + "/faults/%61.html" + plain + "\r\n",
			"GET " + under + "/faults/../index.html" + plain + "\r\n",
			"GET " + under + "/.git/config" + plain + "\r\n",
			"GET " + under + "/host/news" + plain + "\r\n",
			"GET " + under + "/inbox/state" + plain + "\r\n",
			"GET " + under + "/nothing" + plain + "\r\n",
			"GET " + under + plain + "\r\n",
			"HEAD " + under + "/index.html" + plain + "\r\n",
			"POST " + under + "/index.html" + plain + "Content-Length: 3\r\n\r\nabc",
			"GET " + under + "/index.html" + plain + "Content-Length: 3\r\n\r\nabc",
			"GET " + under + "/index.html" + plain + "Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: evil.example\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Host: evil.example\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Host: 127.0.0.1\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Accept: a\x00b\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Cookie: a=b\r\nCookie: c=d\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.0\r\nHost: 127.0.0.1\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Connection: close\r\n\r\n",
			"GET " + under + "/index.html" + plain + "X: y\r\n folded\r\n\r\n",
			"GET " + under + "/index.html" + plain + "no colon\r\n\r\n",
			"GET " + under + "/index.html" + plain + "A b: c\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Accept : c\r\n\r\n",
			// names that only begin as one that is harmless, with a request inside
			"GET " + under + "/index.html" + plain + "Sec-Fetch-a\nContent-Length: 40\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Sec-CH-a\n\nGET /stray.html HTTP/1.1\nHost: 127.0.0.1\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Sec-Fetch-a b: c\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Sec-Fetch-\x00: c\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Sec-Fetch-\xe2\x80\xa8: c\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Sec-Fetch-Mode : c\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Sec-Fetch-\tMode: c\r\n\r\n",
			"GET " + under + "/index.html" + plain + ": c\r\n\r\n",
			"GET " + under + "/index.html" + plain + "\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: 127.0.0.1:80 x\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: 127.0.0.1:80/x\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: 127.0.0.1:80<x>\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: 127.0.0.1:80:90\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: user@127.0.0.1\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: 127.0.0.1, 127.0.0.1\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost:\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\nHost: [::1]:7411\r\n\r\n",
			"GET " + under + "/index.html HTTP/2.0\r\nHost: 127.0.0.1\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1 \r\nHost: 127.0.0.1\r\n\r\n",
			"GET " + under + "/index.html HTTP/1.1\r\n Host: 127.0.0.1\r\n\r\n",
			"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Accept: a\nb: c\r\n\r\n",
			"POST " + under + "/index.html" + plain + "Content-Length: 6\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /stray.html" + plain + "\r\n",
			"POST " + under + "/index.html" + plain + "Content-Length: 0\r\nContent-Length: 40\r\n\r\nGET /stray.html" + plain + "\r\n",
			"GET " + under + "/index.html" + plain + "Content-Length: 31\r\n\r\nGET /stray.html" + plain + "\r\n",
			"GET " + under + "/index.html" + plain + "Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Transfer-Encoding : chunked\r\n\r\n0\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Transfer-Encoding:\tchunked\r\n\r\n0\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Content-Length: +3\r\n\r\nabc",
			"GET " + under + "/index.html HTTP/1.1\nHost: 127.0.0.1\n\n",
			"GET http://evil.example" + under + "/index.html" + plain + "\r\n",
			"GET " + under + "/index.html" + plain + "Upgrade: h2c\r\nConnection: Upgrade\r\n\r\n",
			"GET " + under + "/index.html" + plain + "Expect: 100-continue\r\n\r\n",
			"GET  " + under + "/index.html" + plain + "\r\n",
			"nonsense\r\n\r\n",
			"\r\n\r\n",
		} {
			one, other := said(t, with, r, r), said(t, without, r, r)
			if !slices.Equal(one, other) {
				t.Errorf("%q\nin the lane: %.700q\nwithout: %.700q", r, one, other)
			}
		}
	}
}

// Requests of random pieces, several on one connection.
func TestLaneAtRandom(t *testing.T) {
	dir := shop(t)
	with, without := both(t, dir, Options{})
	r := rand.New(rand.NewPCG(3, 4))
	pieces := []string{"GET ", "HEAD ", "/", "index.html", "faults/a.html", "faults", "%", "?", "#", " HTTP/1.1", " HTTP/1.0", "\r\n", "\r\n", "\r\n\r\n", "Host: 127.0.0.1", "Host:", "Accept-Encoding: gzip", "Cookie: a=b", ": ", "Connection: keep-alive", "X-Y: z", " ", "\t", "\n"}
	for range 300 {
		text := "GET /index.html HTTP/1.1\r\nHost: 127.0.0.1\r\n"
		for range r.IntN(5) {
			p := pieces[r.IntN(len(pieces))]
			at := r.IntN(len(text) + 1)
			text = text[:at] + p + text[at:]
		}
		text += "Connection: close\r\n\r\n"
		if one, other := said(t, with, "GET /faults/a.html"+plain+"\r\n", text), said(t, without, "GET /faults/a.html"+plain+"\r\n", text); !slices.Equal(one, other) {
			t.Errorf("%q\nin the lane: %.700q\nwithout: %.700q", text, one, other)
		}
	}
}

// A request that comes in pieces is answered all the same, and one that never ends holds
// nobody up.
func TestLaneInPieces(t *testing.T) {
	with, _ := both(t, shop(t), Options{})
	c, err := net.Dial("tcp", with)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	for _, piece := range []string{"GET /fau", "lts/a.html HTTP/1.1\r\nHo", "st: 127.0.0.1\r\n", "\r\n"} {
		if _, err := io.WriteString(c, piece); err != nil {
			t.Fatal(err)
		}
		time.Sleep(20 * time.Millisecond)
	}
	res, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil || res.StatusCode != http.StatusOK {
		t.Fatal(res, err)
	}
	two := "GET /faults/a.html" + plain + "\r\n"
	if got := said(t, with, two+two); len(got) != 1 || !strings.HasPrefix(got[0], "HTTP/1.1 200") {
		t.Error("two at once:", got)
	}
}

// crowded is a listener that has no room for a second connection while the first is open.
type crowded struct {
	net.Listener
	room chan struct{}
}

func (c *crowded) Accept() (net.Conn, error) {
	select {
	case <-c.room:
		return c.Listener.Accept()
	case <-time.After(10 * time.Millisecond):
		return nil, &net.OpError{Op: "accept", Err: syscall.EMFILE}
	}
}

// Where no more connections can be open, those that only wait make room.
func TestLaneMakesRoom(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	c := &crowded{l, make(chan struct{}, 1)}
	c.room <- struct{}{}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- Serve(ctx, c, shop(t), Options{}, nil) }()
	idle, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer idle.Close()
	_ = idle.SetDeadline(time.Now().Add(firstRequest - time.Second)) // by then it would end anyway
	if _, err := idle.Read(make([]byte, 1)); err != io.EOF {
		t.Error("one that only waits keeps its place:", err)
	}
	c.room <- struct{}{}
	if got := said(t, l.Addr().String(), "GET /faults/a.html"+plain+"\r\n"); !strings.HasPrefix(got[0], "HTTP/1.1 200") {
		t.Error(got)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// Whatever the lane answers, the handler answers the same.
func FuzzLane(f *testing.F) {
	dir := shop(f)
	h := Handler(dir, Options{}).(*handler)
	q := &lane{h: h}
	f.Add([]byte("GET /index.html" + plain + "Accept-Encoding: gzip\r\nCookie: a=b\r\n\r\n"))
	f.Add([]byte("GET /faults/a.html" + plain + "Accept-Encoding: br;q=0, *;q=0.1\r\nConnection: keep-alive\r\n\r\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		var head []byte
		body, ok := q.answer(b, &head)
		if !ok {
			return
		}
		r, err := http.ReadRequest(bufio.NewReader(bytes.NewReader(b)))
		if err != nil {
			t.Fatalf("%q is answered, and no request: %v", b, err)
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusOK || !bytes.Equal(w.Body.Bytes(), body) {
			t.Fatalf("%q: the handler says %d and %d bytes, not %d", b, w.Code, w.Body.Len(), len(body))
		}
		res, err := http.ReadResponse(bufio.NewReader(bytes.NewReader(append(head, body...))), r)
		if err != nil {
			t.Fatal(err)
		}
		for key := range res.Header {
			if key != "Date" && res.Header.Get(key) != w.Header().Get(key) {
				t.Fatalf("%q: %s is %q, not %q", b, key, res.Header.Get(key), w.Header().Get(key))
			}
		}
	})
}
