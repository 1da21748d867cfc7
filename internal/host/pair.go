package host

import (
	"crypto/tls"
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// pair is a certificate and its key, as they lie on the disk. One that was renewed is used from
// the next connection on; while the files hold none that can be used, the one before goes on.
type pair struct {
	cert, key  string
	complaints io.Writer

	mu     sync.Mutex
	now    *tls.Certificate
	stamp  [2]os.FileInfo // of the files as they were read
	looked time.Time
}

func (p *pair) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if at := time.Now(); p.now == nil || at.Sub(p.looked) >= glance || at.Before(p.looked) {
		p.looked = at
		if err := p.look(); err != nil {
			if p.now == nil {
				return nil, err
			}
			if p.complaints != nil {
				fmt.Fprintf(p.complaints, "the certificate was changed and cannot be used (%v); the one before goes on\n", err)
			}
		}
	}
	return p.now, nil
}

// look reads the files again where they have changed; what is wrong with them is told once.
func (p *pair) look() error {
	var stamp [2]os.FileInfo
	same := true
	for i, name := range []string{p.cert, p.key} {
		info, err := os.Stat(name)
		if err == nil && p.stamp[i] != nil {
			same = same && os.SameFile(info, p.stamp[i]) && info.ModTime().Equal(p.stamp[i].ModTime()) && info.Size() == p.stamp[i].Size()
		} else {
			same = same && (err == nil) == (p.stamp[i] != nil)
		}
		stamp[i] = info
	}
	if same && p.now != nil {
		return nil
	}
	p.stamp = stamp
	made, err := tls.LoadX509KeyPair(p.cert, p.key)
	if err != nil {
		return err
	}
	p.now = &made
	return nil
}
