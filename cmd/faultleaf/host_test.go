package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/published"
)

// said is what a command writes while it runs.
type said struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *said) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(b)
}

func (s *said) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// The host serves a shop whose notes hold mistakes from the first moment on, says what is
// wrong, makes the site once that is mended, goes on with it when there is a new mistake,
// and stops at once when it is told to.
func TestHost(t *testing.T) {
	dir := t.TempDir()
	var out, errs said
	if status := run(&env.Env{Context: context.Background(), In: strings.NewReader(""), Out: &out, Err: &errs}, []string{"outfit", dir, "--bare"}); status != 0 {
		t.Fatal(errs.String())
	}
	shop := filepath.Join(dir, "content", "shop.yaml")
	sound, err := os.ReadFile(shop)
	if err != nil {
		t.Fatal(err)
	}
	put := func(text string) {
		t.Helper()
		if err := os.WriteFile(shop, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put(string(sound) + "volts: 230 V\n")
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan int, 1)
	go func() {
		ended <- run(&env.Env{Context: ctx, In: strings.NewReader(""), Out: &out, Err: &errs}, []string{"host", "--from", dir, "--port", "0"})
	}()
	address := ""
	until := func(what string, ok func() bool) {
		t.Helper()
		for end := time.Now().Add(2 * time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
			if ok() {
				return
			}
		}
		t.Fatalf("%s never came; it says %s, %s", what, out.String(), errs.String())
	}
	until("the address", func() bool {
		if m := regexp.MustCompile(`http://127[^ \n]+`).FindString(out.String()); m != "" {
			address = m
		}
		return address != ""
	})
	get := func(path string) (int, string) {
		answer, err := http.Get(address + path)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		b, _ := io.ReadAll(answer.Body)
		return answer.StatusCode, string(b)
	}
	until("the mistake", func() bool {
		code, page := get("")
		return code == 503 && strings.Contains(page, "“volts” is not known here")
	})
	put(string(sound))
	until("the site", func() bool {
		code, page := get("devices/table-lamp.html")
		return code == 200 && strings.Contains(page, "Table lamp")
	})
	_, news := get("host/news")
	put(string(sound) + "volts: 230 V\n")
	until("the news", func() bool {
		_, now := get("host/news")
		return now != news && strings.Contains(now, "volts")
	})
	if code, _ := get(""); code != 200 {
		t.Error("the last good site is not served:", code)
	}
	begun := time.Now()
	stop()
	select {
	case status := <-ended:
		if status != 0 {
			t.Errorf("it ended with %d: %s", status, errs.String())
		}
	case <-time.After(30 * time.Second):
		t.Error("it does not stop")
	}
	t.Logf("it stopped after %v", time.Since(begun))
}

// While somebody else publishes into the same folder the host waits, and then publishes what the
// notes say now; a certificate that cannot be used is told before any address.
func TestHostBesideAnother(t *testing.T) {
	dir := t.TempDir()
	var out, errs said
	do := func(ctx context.Context, args ...string) int {
		return run(&env.Env{Context: ctx, In: strings.NewReader(""), Out: &out, Err: &errs}, args)
	}
	if status := do(context.Background(), "outfit", dir, "--bare"); status != 0 {
		t.Fatal(errs.String())
	}
	out.b.Reset()
	if status := do(context.Background(), "host", "--from", dir, "--port", "0", "--cert", filepath.Join(dir, "none"), "--key", filepath.Join(dir, "none")); status == 0 || out.String() != "" || !strings.Contains(errs.String(), "the certificate cannot be used") {
		t.Errorf("%d %q %q", status, out.String(), errs.String())
	}
	another, err := published.Begin(filepath.Join(dir, "public"))
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan int, 1)
	go func() { ended <- do(ctx, "host", "--from", dir, "--port", "0") }()
	until := func(says *said, what string) {
		t.Helper()
		for end := time.Now().Add(2 * time.Minute); !strings.Contains(says.String(), what); time.Sleep(50 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("it never says %q: %s, %s", what, out.String(), errs.String())
			}
		}
	}
	until(&out, "for the first time")
	until(&errs, "Somebody else is publishing")
	if err := another.Abort(); err != nil {
		t.Fatal(err)
	}
	until(&out, "files written")
	stop()
	if status := <-ended; status != 0 {
		t.Error(status, errs.String())
	}
}
