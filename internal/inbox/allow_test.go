package inbox

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
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
	d := &Door{Box: b, Path: "/"}
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
