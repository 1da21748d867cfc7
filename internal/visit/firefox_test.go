package visit

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// firefox is a tab of that browser, driven over its own line: each message is its
// length, a colon and a list in JSON.
type firefox struct {
	t    testing.TB
	conn net.Conn
	in   *bufio.Reader
	last int
}

// openFirefox starts Firefox without a window, or passes the test over.
func openFirefox(t testing.TB) *firefox {
	t.Helper()
	exe := ""
	for _, name := range []string{"firefox-esr", "firefox"} {
		if p, err := exec.LookPath(name); err == nil && exe == "" {
			exe = p
		}
	}
	if exe == "" {
		t.Skip("no firefox is installed")
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	port := free.Addr().(*net.TCPAddr).Port
	free.Close()
	profile, err := os.MkdirTemp("", "faultleaf-firefox-")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(profile, "user.js"), fmt.Appendf(nil, "user_pref(\"marionette.port\", %d);\n", port), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, "--headless", "--no-remote", "--profile", profile, "--marionette")
	cmd.Env = append(os.Environ(), "HOME="+profile)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		os.RemoveAll(profile)
	})
	f := &firefox{t: t}
	for end := time.Now().Add(60 * time.Second); f.conn == nil; time.Sleep(200 * time.Millisecond) {
		if f.conn, err = net.Dial("tcp", "127.0.0.1:"+strconv.Itoa(port)); err != nil && time.Now().After(end) {
			t.Fatal(err)
		}
	}
	t.Cleanup(func() { f.conn.Close() })
	f.in = bufio.NewReader(f.conn)
	f.read() // its greeting
	f.ask("WebDriver:NewSession", map[string]any{})
	f.ask("WebDriver:SetTimeouts", map[string]any{"script": 60000})
	return f
}

func (f *firefox) read() json.RawMessage {
	f.t.Helper()
	size, err := f.in.ReadString(':')
	n, nerr := strconv.Atoi(strings.TrimSuffix(size, ":"))
	if err != nil || nerr != nil {
		f.t.Fatalf("firefox says %q: %v", size, err)
	}
	b := make([]byte, n)
	if _, err := io.ReadFull(f.in, b); err != nil {
		f.t.Fatal(err)
	}
	return b
}

func (f *firefox) ask(what string, with map[string]any) json.RawMessage {
	f.t.Helper()
	f.last++
	b, err := json.Marshal([]any{0, f.last, what, with})
	if err != nil {
		f.t.Fatal(err)
	}
	fmt.Fprintf(f.conn, "%d:%s", len(b), b)
	var answer [4]json.RawMessage
	if err := json.Unmarshal(f.read(), &answer); err != nil {
		f.t.Fatal(err)
	}
	if string(answer[2]) != "null" {
		f.t.Fatalf("%s: %s", what, answer[2])
	}
	return answer[3]
}

// run runs a script in the page; it returns a promise of what it gives.
func (f *firefox) run(script string, into any) {
	f.t.Helper()
	var got struct{ Value json.RawMessage }
	text := f.ask("WebDriver:ExecuteAsyncScript", map[string]any{
		"script": `const done = arguments[0]; (async () => {` + script + `})().then(done, (e) => done('failed: ' + e));`, "args": []any{}})
	if err := json.Unmarshal(text, &got); err != nil {
		f.t.Fatal(err)
	}
	if err := json.Unmarshal(got.Value, into); err != nil {
		f.t.Fatalf("%s: %v", got.Value, err)
	}
}

// In Firefox, too, the search finds from disk: dictionary and shards come as scripts.
func TestFirefoxFromDisk(t *testing.T) {
	f := openFirefox(t)
	dir, err := published()
	if err != nil {
		t.Fatal(err)
	}
	f.ask("WebDriver:Navigate", map[string]any{"url": (&url.URL{Scheme: "file", Path: filepath.ToSlash(dir)}).String() + "/find.html?q=heater+blows+cold"})
	var first string
	f.run(`for (let n = 0; n < 600 && !document.querySelector('.find-hit'); n++) await new Promise((r) => setTimeout(r, 50));
		return document.querySelector('.find-hit')?.dataset.id || document.querySelector('[data-find-panel]').textContent || 'nothing';`, &first)
	if first != "faults/element-tag-burnt-off" {
		t.Errorf("the first hit is %s", first)
	}
	// typed on, letter by letter, with a slip
	f.run(`let first; for (const text of ['k', 'ke', 'ketle', 'ketle not wro', 'ketle not wroking']) {
			const got = await search({query: text, limit: 8, typing: true});
			if (!got.hits.length || got.lines.some((l) => l.kind === 'trouble')) return text + ': ' + JSON.stringify(got);
			first = got.hits[0].id;
		}
		return first;`, &first)
	if first != "devices/kettle" {
		t.Errorf("the first hit is %s", first)
	}
}
