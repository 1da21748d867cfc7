package inbox

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

func from(address string, more ...string) func(*http.Request) {
	return func(r *http.Request) {
		r.RemoteAddr = address
		for i := 0; i+1 < len(more); i += 2 {
			r.Header.Add(more[i], more[i+1])
		}
	}
}

// quickPass makes the passphrase of a box cheap to look at, for tests that try many.
func quickPass(t *testing.T, b *Box) string {
	t.Helper()
	says, err := b.Passphrase()
	if err == nil {
		err = os.WriteFile(filepath.Join(b.dir, "passphrase"), []byte(hashOf(says, []byte("saltsaltsaltsalt"), 1, 8, 1)), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	return says
}

// One who guesses shuts nobody out: not at another address, not behind the same server in
// front, and no screen that was let in before.
func TestGuesserShutsNobodyOut(t *testing.T) {
	b := opened(t, t.TempDir())
	says := quickPass(t, b)
	fronts, err := ReadFronts([]string{"10.7.0.2", "10.7.1.0/24", "2001:db8:7::/64"})
	if err != nil {
		t.Fatal(err)
	}
	d := &Door{Box: b, Path: "/", Fronts: fronts}
	enter := func(pass string, set func(*http.Request)) int {
		return post(d, "enter", `{"passphrase":"`+pass+`"}`, set).Code
	}
	for what, c := range map[string]struct {
		guesser func(i int) func(*http.Request)
		honest  func(*http.Request)
	}{
		"two addresses":         {func(int) func(*http.Request) { return from("10.0.0.9:1") }, from("10.0.0.8:2")},
		"two lines of IPv6":     {func(i int) func(*http.Request) { return from(fmt.Sprintf("[2001:db8:1:1::%x]:1", i+1)) }, from("[2001:db8:1:2::1]:1")},
		"two behind one server": {func(int) func(*http.Request) { return from("127.0.0.1:1", "X-Forwarded-For", "10.0.1.9") }, from("127.0.0.1:2", "X-Forwarded-For", "10.0.1.8")},
		"one who says many": {func(i int) func(*http.Request) {
			return from("127.0.0.1:1", "X-Forwarded-For", fmt.Sprintf("10.9.9.%d, 10.0.2.9", i))
		}, from("127.0.0.1:2", "X-Forwarded-For", "10.0.2.9, 10.0.2.8")},
		"two behind a named server": {func(i int) func(*http.Request) {
			return from("10.7.0.2:1", "X-Forwarded-For", fmt.Sprintf("10.9.8.%d, 10.0.5.9", i))
		}, from("10.7.0.2:2", "X-Forwarded-For", "10.0.5.8")},
		"two behind three servers": {func(i int) func(*http.Request) {
			return from("127.0.0.1:1", "X-Forwarded-For", fmt.Sprintf("10.9.7.%d", i), "X-Forwarded-For", "10.0.6.9, 10.7.1.77", "X-Forwarded-For", "[2001:db8:7::5]:1234")
		}, from("127.0.0.1:2", "X-Forwarded-For", "10.0.6.8, 10.7.1.76, 2001:db8:7::6")},
		"one whose server says nonsense": {func(i int) func(*http.Request) {
			return from("10.7.1.9:1", "X-Forwarded-For", fmt.Sprintf("10.9.6.%d, unknown", i))
		}, from("10.7.0.2:2", "X-Forwarded-For", "10.0.7.8:4321")},
		"an address of two ways": {func(int) func(*http.Request) { return from("[::ffff:10.0.3.9]:1") }, from("10.0.3.8:1")},
	} {
		shut := false
		for i := range 60 {
			switch code := enter("wrong", c.guesser(i)); {
			case code == 429:
				shut = true
			case code != 403 || shut:
				t.Errorf("%s: guess %d: %d", what, i, code)
			}
		}
		if !shut {
			t.Errorf("%s: passphrases can be guessed without end", what)
		}
		if code := enter(says, c.honest); code != 200 {
			t.Errorf("%s: who has the passphrase: %d", what, code)
		}
	}
	// nobody else is believed whom he asks for
	for i := range 60 {
		code := enter("wrong", from("10.0.4.9:1", "X-Forwarded-For", fmt.Sprintf("10.8.8.%d", i)))
		if i > triesBurst && code != 429 {
			t.Fatal("an address that is only said counts:", code)
		}
	}
	// all at one address: a screen that had a pass, though it ended, and one whose pass nobody gave
	old, _ := b.Admit(says, time.Now().Add(-2*passLasts))
	with := func(pass string) func(*http.Request) {
		return func(r *http.Request) { from("10.0.4.9:1")(r); r.AddCookie(&http.Cookie{Name: cookie, Value: pass}) }
	}
	if b.Knows(old, time.Now()) {
		t.Fatal("a pass holds for ever")
	}
	if code := enter(says, with(old+"x")); code != 429 {
		t.Error("a pass that was made up has tries of its own:", code)
	}
	if code := enter(says, with(old)); code != 200 {
		t.Error("a screen that was let in before is shut out:", code)
	}
}

// A server in front is named by its address or its network, and never are all of them.
func TestReadFronts(t *testing.T) {
	for _, text := range []string{"", "x", "bench.shop", "10.0.0.2:80", "10.0.0.0/33", "0.0.0.0/0", "::/0", "10.0.0.2,"} {
		if f, err := ReadFronts([]string{text}); err == nil {
			t.Errorf("%q is read as %v", text, f)
		}
	}
	for text, holds := range map[string]string{"10.0.0.2": "10.0.0.2", "10.0.0.9/24": "10.0.0.77", "::ffff:10.0.0.2": "10.0.0.2", "fe80::1%eth0": "fe80::1", "2001:db8::/32": "2001:db8:1::1"} {
		f, err := ReadFronts([]string{text})
		if err != nil || !f.holds(netip.MustParseAddr(holds)) || f.holds(netip.MustParseAddr("10.1.0.2")) {
			t.Errorf("%s: %v %v", text, f, err)
		}
	}
}

// Whoever asks, and whatever he writes about himself, is counted as whom a server in front saw,
// or as himself.
func FuzzCaller(f *testing.F) {
	fronts, err := ReadFronts([]string{"10.7.0.2", "10.7.1.0/24"})
	if err != nil {
		f.Fatal(err)
	}
	f.Add("10.0.0.9:1", "10.1.1.1, 10.7.1.3")
	f.Add("10.7.0.2:1", "[::1]:1,, unknown")
	f.Add("[fe80::1%eth0]:1", "for=1.2.3.4")
	f.Fuzz(func(t *testing.T, remote, said string) {
		ask := func(remote, said string) string {
			r := &http.Request{RemoteAddr: remote, Header: http.Header{}}
			if said != "" {
				r.Header.Set("X-Forwarded-For", said)
			}
			return fronts.caller(r)
		}
		if at, err := netip.ParseAddrPort(remote); err != nil || !fronts.holds(at.Addr().Unmap().WithZone("")) {
			if ask(remote, said) != ask(remote, "") {
				t.Fatalf("%s is believed that he asks for %q", remote, said)
			}
		}
		if got := ask("10.7.0.2:1", said+", 10.0.0.9"); got != "10.0.0.9" {
			t.Fatalf("%q makes him who was seen at 10.0.0.9 %s", said, got)
		}
		if got := ask("127.0.0.1:1", said+",10.0.0.9,10.7.1.4"); got != "10.0.0.9" {
			t.Fatalf("%q makes him who was seen at 10.0.0.9 behind two %s", said, got)
		}
	})
}

// Whoever waits for a turn and goes away, or waits often, holds up nobody.
func TestTurns(t *testing.T) {
	var q queue
	ask := func(ctx context.Context) *http.Request { return httptest.NewRequest("POST", "/", nil).WithContext(ctx) }
	if !q.wait(ask(context.Background()), "a") {
		t.Fatal("no turn")
	}
	gone, leave := context.WithCancel(context.Background())
	var wait sync.WaitGroup
	wait.Add(1)
	go func() {
		defer wait.Done()
		if q.wait(ask(gone), "a") {
			t.Error("who is gone has a turn")
		}
	}()
	for q.count() < 2 {
		time.Sleep(time.Millisecond)
	}
	if q.wait(ask(context.Background()), "a") {
		t.Error("one caller waits three times")
	}
	leave()
	wait.Wait()
	q.done("a")
	if !q.wait(ask(context.Background()), "b") {
		t.Error("no turn after all")
	}
	q.done("b")
	if len(q.waiting) != 0 || q.all != 0 {
		t.Error("somebody is counted for ever:", q.waiting, q.all)
	}
}

func (q *queue) count() int {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.all
}

// However many ask, what is held of them is bounded, and a clock that jumps shuts nobody out.
func TestCallersAreBounded(t *testing.T) {
	l := allowances{most: 10, each: 1}
	now := time.Unix(1e9, 0)
	for i := range 20_000 {
		l.take(fmt.Sprint(i), now)
		if len(l.of) > mostCallers {
			t.Fatal(len(l.of), "are held")
		}
	}
	one := allowances{most: 10, each: 1}
	for range 10 {
		one.take("a", now)
	}
	if one.take("a", now.Add(-time.Hour)) {
		t.Error("a clock that goes back gives more")
	}
	if !one.take("a", now.Add(-time.Hour).Add(2*time.Second)) {
		t.Error("a clock that went back shuts out for an hour")
	}
}
