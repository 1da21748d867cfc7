package host

import (
	"bufio"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"io"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// serving runs the host on a folder until the test ends, and gives its address.
func serving(t *testing.T, dir string, o Options) (address string, stop func() error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- Serve(ctx, l, dir, o, io.Discard) }()
	done := false
	stop = func() error {
		cancel()
		if done {
			return nil
		}
		done = true
		return <-ended
	}
	t.Cleanup(func() {
		if err := stop(); err != nil {
			t.Error(err)
		}
	})
	return l.Addr().String(), stop
}

// No spelling of an address leads out of the list of what was published.
func TestHostilePaths(t *testing.T) {
	dir := shop(t)
	put(t, filepath.Dir(dir), "secret", "not published")
	address, _ := serving(t, dir, Options{})
	for _, target := range []string{
		"/../secret", "/%2e%2e/secret", "/%2e%2e%2fsecret", "/..%2fsecret", "/..%5csecret", "/..\\secret", "/\\..\\secret", "/faults/../../secret", "/faults/..;/stray.html", "/./stray.html", "/%252e%252e/secret",
		"/stray.html%00", "/stray.html%00.html", "/index.html%00", "/%00", "/index.html%0d%0aX-Mine:%20yes", "/stray.html", "/stray.html/", "/.git/config", "/.git%2fconfig", "/%2egit/config", "/.faultleaf/lock", "/published.txt", "/README", "/.hidden",
		"//etc/passwd", "///etc/passwd", "/file:///etc/passwd", "/index.html::$DATA", "/INDEX.HTML", "/index.html.", "/index.html%20", "/faults//a.html", "/faults\\a.html", "/faults%5ca.html", "/c:/windows/win.ini", "/con", "/nul.html", "/aux/index.html", "/index.html:x", "/index.html%3ax", "/\\\\?\\C:\\secret", "/%5c%5cserver%5cshare", "//server/share/secret", "/index.html%2e", "/faults%5c..%5c..%5csecret", "/f%61ults/%2e%2e/%2e%2e/secret", "/\u017ftray.html", "/\uff0e\uff0e/secret", "/..%ef%bc%8fsecret", "/\xc0\xae\xc0\xae/secret", "/%c0%ae%c0%ae/secret",
		"http://evil.example/../secret", "*", "", "secret", "?", "#", "/" + strings.Repeat("../", 2000) + "secret", "/" + strings.Repeat("a", 60_000),
	} {
		for _, got := range said(t, address, "GET "+target+" HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n") {
			status, _, _ := strings.Cut(got, "\n")
			if strings.Contains(got, "not published") || strings.Contains(got, "X-Mine") || strings.Contains(status, " 200 ") || strings.Contains(status, " 30") {
				t.Errorf("%.80q: %.200s", target, got)
			}
		}
	}
	for _, method := range []string{"PUT", "DELETE", "PATCH", "TRACE", "CONNECT", "OPTIONS", "PROPFIND", "get", "POST"} {
		if got := said(t, address, method+" /index.html"+plain+"Content-Length: 0\r\n\r\n"); !strings.Contains(got[0], " 405 ") && !strings.Contains(got[0], " 400 ") {
			t.Errorf("%s: %.100s", method, got[0])
		}
	}
}

// Ranges and conditions, however many and however odd, cost no more than the file: nothing is
// sent that is larger, and nothing goes wrong.
func TestHostileRanges(t *testing.T) {
	dir := shop(t)
	h := Handler(dir, Options{})
	for _, name := range []string{"/index.html", "/run/big.ab12.bin"} {
		whole := get(t, h, "GET", name)
		b, _ := io.ReadAll(whole.Body)
		tag := whole.Header.Get("Etag")
		var many, twice strings.Builder
		for i := range 3000 {
			fmt.Fprintf(&many, ",%d-%d", 2*i, 2*i)
			fmt.Fprint(&twice, ",0-")
		}
		for _, r := range []string{"bytes=0-", "bytes=5-1", "bytes=-0", "bytes=-1", "bytes=--1", "bytes=99999999999999999999-", "bytes=0-99999999999999999999", "bytes=-99999999999999999999", "bytes=0-0,-1", "bytes=", "bytes=,", "bits=0-1", "bytes=\t0-1", "bytes=0-1\x00",
			"bytes=" + many.String()[1:], "bytes=" + twice.String()[1:]} {
			for _, more := range [][]string{nil, {"If-Range", tag}, {"If-Range", `"another"`}, {"If-None-Match", tag}, {"If-Match", `"another"`}, {"Accept-Encoding", "gzip"}, {"If-Modified-Since", "Fri, 31 Dec 9999 23:59:59 GMT"}} {
				for _, method := range []string{"GET", "HEAD"} {
					res := get(t, h, method, name, append([]string{"Range", r}, more...)...)
					got, _ := io.ReadAll(res.Body)
					switch {
					case method == "HEAD" && len(got) > 0 && res.StatusCode < 400, res.StatusCode == http.StatusNotModified && len(got) > 0:
						t.Errorf("%s %s %.40q %v: a body of %d bytes", method, name, r, more, len(got))
					case res.StatusCode >= 500, len(got) > len(b)+1<<20:
						t.Errorf("%s %s %.40q %v: %s with %d bytes of %d", method, name, r, more, res.Status, len(got), len(b))
					case method == "GET" && res.StatusCode == http.StatusOK && res.Header.Get("Content-Encoding") == "" && string(got) != string(b):
						t.Errorf("%s %.40q %v: another file", name, r, more)
					}
				}
			}
		}
	}
}

// What is swapped in for a file while the site is served is not sent, and holds nobody up.
func TestSwappedWhileServed(t *testing.T) {
	secret := filepath.Join(t.TempDir(), "secret")
	put(t, filepath.Dir(secret), "secret", strings.Repeat("not published ", large/10))
	for what, swap := range map[string]func(at string) error{
		"a link":       func(at string) error { return os.Symlink(secret, at) },
		"a folder":     func(at string) error { return os.Mkdir(at, 0o755) },
		"another file": func(at string) error { return os.WriteFile(at, []byte("not published"), 0o644) },
		"one as large": func(at string) error {
			return os.WriteFile(at, []byte(strings.Repeat("n", len(site["run/big.ab12.bin"]))), 0o644)
		},
		"a pipe":        mkfifo,
		"nothing":       func(string) error { return nil },
		"a parent link": nil,
	} {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			dir := shop(t)
			h := Handler(dir, Options{})
			names := []string{"run/big.ab12.bin", "faults/a.html"}
			if res := get(t, h, "GET", "/"+names[0]); res.StatusCode != 200 { // it is known, but not at hand
				t.Fatal(res.Status)
			}
			for _, name := range names {
				at := filepath.Join(dir, filepath.FromSlash(name))
				if err := os.Remove(at); err != nil {
					t.Fatal(err)
				}
				if swap != nil {
					if err := swap(at); err != nil {
						t.Skip(what, err)
					}
					continue
				}
				away := t.TempDir()
				put(t, away, filepath.Base(name), "not published")
				if err := os.RemoveAll(filepath.Dir(at)); err != nil {
					t.Fatal(err)
				}
				if err := os.Symlink(away, filepath.Dir(at)); err != nil {
					t.Skip(err)
				}
			}
			for _, name := range names {
				told := make(chan *http.Response, 1)
				go func() { told <- get(t, h, "GET", "/"+name) }()
				select {
				case res := <-told:
					if b, _ := io.ReadAll(res.Body); res.StatusCode == 200 || strings.Contains(string(b), "not published") {
						t.Errorf("%s in the place of %s: %s", what, name, res.Status)
					}
				case <-time.After(20 * time.Second):
					t.Errorf("%s in the place of %s is waited for", what, name)
				}
			}
		})
	}
}

// Heads without end are refused before they are held, and so is what never ends.
func TestLongHeads(t *testing.T) {
	address, _ := serving(t, shop(t), Options{})
	for name, request := range map[string]string{
		"a long line":    "GET /" + strings.Repeat("a", 1<<20),
		"a long field":   "GET /" + plain + "X: " + strings.Repeat("a", 1<<20),
		"a long cookie":  "GET /index.html" + plain + "Cookie: " + strings.Repeat("a=b; ", 1<<18),
		"many fields":    "GET /" + plain + strings.Repeat("X: y\r\n", 1<<18),
		"a long version": "GET / HTTP/" + strings.Repeat("1", 1<<20),
		"no lines":       strings.Repeat("\r\n", 1<<19),
		"zeros":          strings.Repeat("\x00", 1<<20),
	} {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		_ = c.SetDeadline(time.Now().Add(20 * time.Second))
		sent, _ := io.WriteString(c, request) // it may be cut off before its end
		b := make([]byte, 200)
		n, err := io.ReadAtLeast(c, b, 12)
		c.Close()
		if ne, ok := err.(net.Error); ok && ne.Timeout() {
			t.Errorf("%s: after %d bytes it still waits", name, sent)
		}
		if n > 0 && !strings.HasPrefix(string(b[:n]), "HTTP/1.1 4") && !strings.HasPrefix(string(b[:n]), "HTTP/1.1 505") {
			t.Errorf("%s: %q", name, b[:n])
		}
	}
}

// Many that are slow hold up nobody.
func TestSlowClients(t *testing.T) {
	address, _ := serving(t, shop(t), Options{})
	var conns []net.Conn
	for i := range 300 {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Skip("not so many connections on this machine:", err)
		}
		defer c.Close()
		conns = append(conns, c)
		switch i % 3 {
		case 0: // says nothing
		case 1:
			_, _ = io.WriteString(c, "GET /ind")
		case 2: // asks, and never reads
			_, _ = io.WriteString(c, strings.Repeat("GET /run/big.ab12.bin"+plain+"\r\n", 5))
		}
	}
	for range 20 {
		got := said(t, address, "GET /faults/a.html"+plain+"\r\n")
		if !strings.Contains(got[0], "200 OK") {
			t.Fatal(got)
		}
	}
	// those that were slow are answered when they go on
	if _, err := io.WriteString(conns[1], "ex.html"+plain+"\r\n"); err != nil {
		t.Fatal(err)
	}
	_ = conns[1].SetDeadline(time.Now().Add(20 * time.Second))
	if res, err := http.ReadResponse(bufio.NewReader(conns[1]), nil); err != nil || res.StatusCode != 200 {
		t.Error(res, err)
	}
}

// Every answer, whoever gives it, says what a page may do, and shuts other sites out.
func TestEveryAnswerIsShut(t *testing.T) {
	asked := 0
	inbox := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { asked++; w.WriteHeader(401) })
	h := Handler(shop(t), Options{Inbox: inbox, News: NewNews(true)})
	tag := get(t, h, "GET", "/").Header.Get("Etag")
	for _, c := range []struct {
		method, target string
		head           []string
		status         int
	}{
		{"GET", "/", nil, 200}, {"GET", "/", []string{"If-None-Match", tag}, 304}, {"GET", "/run/big.ab12.bin", []string{"Range", "bytes=1-2"}, 206}, {"GET", "/none", nil, 404}, {"POST", "/", nil, 405},
		{"GET", "/host/news", nil, 200}, {"GET", "/inbox/state", nil, 401}, {"POST", "/inbox/enter", nil, 401},
	} {
		res := get(t, h, c.method, c.target, c.head...)
		if res.StatusCode != c.status {
			t.Errorf("%s %s: %s", c.method, c.target, res.Status)
		}
		for name, want := range map[string]string{"Content-Security-Policy": "frame-ancestors 'none'", "Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Permissions-Policy": "camera=()"} {
			if !strings.Contains(res.Header.Get(name), want) {
				t.Errorf("%s %s: %s is %q", c.method, c.target, name, res.Header.Get(name))
			}
		}
		if res.Header.Get("Access-Control-Allow-Origin") != "" {
			t.Error("other sites are let in")
		}
	}
	// a page whose name was made to lead here reaches neither the inbox nor the news
	before := asked
	for _, target := range []string{"/inbox/state", "/inbox/enter", "/inbox/jobs", "/host/news", "/"} {
		for _, name := range []string{"evil.example", "evil.example:7411", "127.0.0.1.evil.example", "0x7f.1", "2130706433", "localhost.evil.example", "[::1].evil.example", "127.0.0.1@evil.example", "evil.example\\@127.0.0.1"} {
			r, err := http.NewRequest("POST", "http://127.0.0.1"+target, nil)
			if err != nil {
				t.Fatal(err)
			}
			r.Host = name
			w := &answered{header: http.Header{}}
			h.ServeHTTP(w, r)
			if w.status != http.StatusMisdirectedRequest {
				t.Errorf("%s for %s: %d", target, name, w.status)
			}
		}
	}
	if asked != before {
		t.Error("the inbox was asked under another name")
	}
}

type answered struct {
	header http.Header
	status int
}

func (a *answered) Header() http.Header         { return a.header }
func (a *answered) WriteHeader(status int)      { a.status = status }
func (a *answered) Write(b []byte) (int, error) { return len(b), nil }

// Who is being served when the host stops gets the whole file; nobody new is let in.
func TestStopsGracefully(t *testing.T) {
	dir := t.TempDir()
	publish(t, dir, map[string]string{"run/huge.ab12.bin": strings.Repeat("0123456789", 3<<20), "index.html": "i"})
	address, stop := serving(t, dir, Options{})
	c, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(20 * time.Second))
	if _, err := io.WriteString(c, "GET /run/huge.ab12.bin"+plain+"\r\n"); err != nil {
		t.Fatal(err)
	}
	res, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- stop() }()
	time.Sleep(200 * time.Millisecond)
	if n, err := io.Copy(io.Discard, res.Body); err != nil || n != 30<<20 {
		t.Errorf("%d bytes, %v", n, err)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if c, err := net.Dial("tcp", address); err == nil {
		c.Close()
		t.Error("it still listens")
	}
}

// certificate makes one for 127.0.0.1, as a shop would make it for itself.
func certificate(t *testing.T) (cert, key string, pool *x509.CertPool) {
	t.Helper()
	k, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	of := &x509.Certificate{SerialNumber: big.NewInt(1), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, of, of, &k.PublicKey, k)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := x509.MarshalECPrivateKey(k)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	cert, key, pool = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem"), x509.NewCertPool()
	pool.AppendCertsFromPEM(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}))
	put(t, dir, "cert.pem", string(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})))
	put(t, dir, "key.pem", string(pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: raw})))
	return cert, key, pool
}

// other is the key of another certificate.
func other(t *testing.T) string {
	_, key, _ := certificate(t)
	return key
}

// By TLS the site is served with a certificate that was given, and by nothing older than TLS 1.2;
// who speaks plainly gets no page.
func TestTLS(t *testing.T) {
	cert, key, pool := certificate(t)
	address, _ := serving(t, shop(t), Options{Cert: cert, Key: key})
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
	defer client.CloseIdleConnections()
	res, err := client.Get("https://" + address + "/faults/a.html")
	if err != nil {
		t.Fatal(err)
	}
	if b, _ := io.ReadAll(res.Body); string(b) != "a" || res.Header.Get("Content-Security-Policy") != Policy {
		t.Errorf("%q %v", b, res.Header)
	}
	res.Body.Close()
	if got := said(t, address, "GET /faults/a.html"+plain+"\r\n"); strings.Contains(got[0], "200 OK") {
		t.Error("a page is served without TLS:", got)
	}
	if c, err := tls.Dial("tcp", address, &tls.Config{RootCAs: pool, MaxVersion: tls.VersionTLS11}); err == nil {
		c.Close()
		t.Error("TLS 1.1 is spoken")
	}
	if _, err := http.Get("https://" + address + "/"); err == nil {
		t.Error("a certificate that nobody knows was taken")
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	if err := Serve(context.Background(), l, t.TempDir(), Options{Cert: cert, Key: cert}, io.Discard); err == nil || !strings.Contains(err.Error(), "the certificate cannot be used") {
		t.Error(err)
	}
	// a wrong one is told before anything is opened
	now := time.Now()
	for _, c := range []struct {
		o    Options
		at   time.Time
		says string
	}{
		{Options{}, now, ""}, {Options{Cert: cert, Key: key}, now, ""},
		{Options{Cert: cert, Key: cert}, now, "cannot be used"}, {Options{Cert: key, Key: key}, now, "cannot be used"}, {Options{Cert: cert + "x", Key: key}, now, "cannot be used"},
		{Options{Cert: cert, Key: other(t)}, now, "cannot be used"}, {Options{Cert: t.TempDir(), Key: key}, now, "cannot be used"},
		{Options{Cert: cert, Key: key}, now.Add(2 * time.Hour), "ended on"}, {Options{Cert: cert, Key: key}, now.Add(-2 * time.Hour), "begins on"},
	} {
		if err := c.o.Certified(c.at); (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s, %s: %v", filepath.Base(c.o.Cert), filepath.Base(c.o.Key), err)
		}
	}
	for _, o := range []Options{{Cert: cert, Port: 7411}, {Cert: cert, LAN: true}} {
		for _, a := range Addresses(l, o) {
			if !strings.HasPrefix(a, "https://") {
				t.Error(a)
			}
		}
	}
}
