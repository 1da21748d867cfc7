package host

import (
	"bufio"
	"bytes"
	"crypto/tls"
	"crypto/x509"
	"encoding/binary"
	"io"
	"net/http"
	"os"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

// A certificate that is renewed while the host runs is used from the next connection on; while
// what lies there cannot be used, the one before goes on, and that is told once.
func TestRenewedCertificate(t *testing.T) {
	cert, key, _ := certificate(t)
	newCert, newKey, renewed := certificate(t)
	var told bytes.Buffer
	p := &pair{cert: cert, key: key, complaints: &told}
	serial := func() []byte {
		t.Helper()
		p.looked = time.Time{}
		got, err := p.get(nil)
		if err != nil {
			t.Fatal(err)
		}
		return got.Certificate[0]
	}
	over := func(at, from string) {
		t.Helper()
		b, err := os.ReadFile(from)
		if err == nil {
			err = os.WriteFile(at+".new", b, 0o600)
		}
		if err == nil {
			err = os.Rename(at+".new", at)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	first := serial()
	over(cert, newCert) // the key comes a little later
	for range 3 {
		if !bytes.Equal(serial(), first) {
			t.Error("a certificate without its key is used")
		}
	}
	if n := strings.Count(told.String(), "\n"); n != 1 {
		t.Errorf("told %d times: %s", n, told.String())
	}
	over(key, newKey)
	if bytes.Equal(serial(), first) {
		t.Error("the renewed certificate is not used")
	}
	second := serial()
	for _, name := range []string{cert, key} {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(serial(), second) {
		t.Error("without its files the certificate does not go on")
	}

	// and over the wire
	cert, key, old := certificate(t)
	address, _ := serving(t, shop(t), Options{Cert: cert, Key: key})
	trusts := func(pool *x509.CertPool) bool {
		c, err := tls.Dial("tcp", address, &tls.Config{RootCAs: pool})
		if err != nil {
			return false
		}
		c.Close()
		return true
	}
	if !trusts(old) || trusts(renewed) {
		t.Fatal("not the first certificate")
	}
	over(cert, newCert)
	over(key, newKey)
	for until := time.Now().Add(20 * time.Second); !trusts(renewed); {
		if time.Now().After(until) {
			t.Fatal("the renewed certificate is never used")
		}
		time.Sleep(glance)
	}
}

// frame is one of HTTP/2 (RFC 9113, 4.1).
func frame(kind, flags byte, stream uint32, payload []byte) []byte {
	b := []byte{byte(len(payload) >> 16), byte(len(payload) >> 8), byte(len(payload)), kind, flags}
	return append(binary.BigEndian.AppendUint32(b, stream), payload...)
}

// asks is the block of fields of GET / (RFC 7541: three entries of the static table, and the
// authority in plain letters).
func asks(authority string, more ...byte) []byte {
	b := append([]byte{0x82, 0x87, 0x84, 0x41, byte(len(authority))}, authority...)
	return append(b, more...)
}

// By HTTP/2, one who asks and takes back what he asked as fast as he can, or who never ends his
// fields, holds up nobody and fills no memory.
func TestRapidReset(t *testing.T) {
	cert, key, pool := certificate(t)
	address, _ := serving(t, shop(t), Options{Cert: cert, Key: key})
	client := &http.Client{Timeout: 20 * time.Second, Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}, ForceAttemptHTTP2: true}}
	defer client.CloseIdleConnections()
	res, err := client.Get("https://" + address + "/")
	if err != nil || res.ProtoMajor != 2 {
		t.Fatal(res, err)
	}
	res.Body.Close()
	before := runtime.NumGoroutine()
	for what, flood := range map[string]func(w io.Writer) error{
		"asked and taken back": func(w io.Writer) (err error) {
			for n := uint32(1); n < 20_000 && err == nil; n += 2 {
				_, err = w.Write(append(frame(1, 5, n, asks("127.0.0.1")), frame(3, 0, n, []byte{0, 0, 0, 8})...))
			}
			return err
		},
		"fields without end": func(w io.Writer) (err error) {
			_, err = w.Write(frame(1, 1, 1, asks("127.0.0.1")))
			for range 20_000 {
				if err == nil { // a literal field that is not kept: "a" without a value
					_, err = w.Write(frame(9, 0, 1, bytes.Repeat([]byte{0x00, 1, 'a', 0}, 500)))
				}
			}
			return err
		},
		"settings and pings": func(w io.Writer) (err error) {
			for range 20_000 {
				if err == nil {
					_, err = w.Write(append(frame(4, 0, 0, nil), frame(6, 0, 0, make([]byte, 8))...))
				}
			}
			return err
		},
		"another name": func(w io.Writer) error {
			_, err := w.Write(frame(1, 5, 1, asks("evil.example")))
			return err
		},
	} {
		t.Run(what, func(t *testing.T) {
			c, err := tls.Dial("tcp", address, &tls.Config{RootCAs: pool, NextProtos: []string{"h2"}})
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			_ = c.SetDeadline(time.Now().Add(30 * time.Second))
			var wait sync.WaitGroup
			if what != "settings and pings" { // whoever never reads is not written to without end either
				wait.Go(func() { _, _ = io.Copy(io.Discard, c) })
			}
			_, err = io.WriteString(c, "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"+string(frame(4, 0, 0, nil)))
			if err == nil {
				_ = flood(c) // it may be cut off
			}
			res, err := client.Get("https://" + address + "/faults/a.html")
			if err != nil {
				t.Fatal("somebody else is held up:", err)
			}
			if b, _ := io.ReadAll(res.Body); string(b) != "a" {
				t.Errorf("%q", b)
			}
			res.Body.Close()
			c.Close()
			wait.Wait()
		})
	}
	client.CloseIdleConnections()
	for until := time.Now().Add(20 * time.Second); runtime.NumGoroutine() > before+20; time.Sleep(50 * time.Millisecond) {
		if time.Now().After(until) {
			t.Fatalf("%d are at work where %d were", runtime.NumGoroutine(), before)
		}
	}
}

// Who asks for another protocol is given the page, and goes on in this one.
func TestNoUpgrade(t *testing.T) {
	address, _ := serving(t, shop(t), Options{})
	for _, upgrade := range []string{
		"Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n",
		"Connection: Upgrade, HTTP2-Settings\r\nUpgrade: h2c\r\nHTTP2-Settings: AAMAAABkAAQAAP__\r\n",
		"Connection: Upgrade\r\nUpgrade: TLS/1.0\r\n",
	} {
		for _, got := range said(t, address, "GET /faults/a.html"+plain+upgrade+"\r\n") {
			res, err := http.ReadResponse(bufio.NewReader(strings.NewReader(got)), nil)
			if err != nil || res.StatusCode != 200 || res.Header.Get("Upgrade") != "" {
				t.Errorf("%q: %.200s %v", upgrade, got, err)
			}
		}
	}
	// what begins as HTTP/2 without TLS is no request
	got := said(t, address, "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"+string(frame(4, 0, 0, nil))+string(frame(1, 5, 1, asks("127.0.0.1"))))
	if strings.Contains(strings.Join(got, ""), "200 OK") || strings.Contains(strings.Join(got, ""), "\x00\x00\x01\x01") {
		t.Errorf("%q", got)
	}
}
