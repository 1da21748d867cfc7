package inbox

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"
)

func opened(t testing.TB, dir string) *Box {
	t.Helper()
	b, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func fact(v string, at int) Fact {
	return Fact{json.RawMessage(v), fmt.Sprintf("%013d-ab", at)}
}

// A text is kept under a name of its own, whatever comes, and the same text once.
func TestKeep(t *testing.T) {
	b := opened(t, t.TempDir())
	for _, c := range []struct{ name, text, want string }{
		{"a-1.md", "one", "a-1.md"}, {"a-1.md", "two", "a-1-2.md"}, {"a-1.md", "one", "a-1.md"}, {"a-1.md", "two", "a-1-2.md"}, {"a-1.md", "three", "a-1-3.md"},
	} {
		if got, err := b.Keep(Sheets, c.name, []byte(c.text)); err != nil || got != c.want {
			t.Errorf("%s %s: %s %v", c.name, c.text, got, err)
		}
	}
	for _, name := range []string{"", "../a.md", "a.md/../../b.md", ".md", "A.md", "a b.md", "passphrase", "a.txt", strings.Repeat("a", 200) + ".md", "a\x00.md"} {
		if got, err := b.Keep(Sheets, name, []byte("x")); err == nil {
			t.Errorf("%q is kept as %s", name, got)
		}
	}
	if _, err := b.Keep(Sheets, "b.md", make([]byte, longestText+1)); !errors.Is(err, ErrLarge) {
		t.Error(err)
	}
	if _, err := b.Keep("jobs", "b.md", nil); err == nil {
		t.Error("a text is kept among the jobs")
	}
	items, err := b.Items()
	if err != nil || len(items) != 3 {
		t.Errorf("%d items, %v", len(items), err)
	}
	// what somebody else put there is not held, however large
	f, err := os.Create(filepath.Join(b.dir, "sheets", "huge.md"))
	if err == nil {
		err = errors.Join(f.Truncate(1<<40), f.Close())
	}
	if err != nil {
		t.Fatal(err)
	}
	if items, err = b.Items(); err != nil || len(items) != 4 || len(items[3].Text) != 0 {
		t.Errorf("%d items, %v", len(items), err)
	}
}

// In whichever order facts come, and however often, the end is the same, and
// nothing newer is lost.
func TestMergeOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var parts []Facts
		newest := map[string]Fact{}
		for i := range 8 {
			f := Facts{}
			for range 5 {
				name := fmt.Sprintf("tick/l/%c", 'a'+r.IntN(6))
				x := fact(fmt.Sprint(r.IntN(1000)), 100+r.IntN(50)*10+i) // no two screens share a moment
				f[name] = x
			}
			parts = append(parts, f)
			for name, x := range f {
				if newest[name].Stamp < x.Stamp {
					newest[name] = x
				}
			}
		}
		var ends []Facts
		for range 4 {
			r.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
			end := Facts{}
			for _, p := range append(parts, parts[r.IntN(len(parts))]) {
				end.Merge(p)
			}
			ends = append(ends, end)
		}
		for _, e := range ends {
			if !reflect.DeepEqual(map[string]Fact(e), newest) {
				t.Fatalf("%v and %v", e, newest)
			}
		}
	}
}

func TestJob(t *testing.T) {
	dir := t.TempDir()
	b := opened(t, dir)
	const code = "2026-03-04-kb7"
	first, err := b.Merge(code, Facts{"born": fact(`"one"`, 1), "device": fact(`"kettle"`, 2)}, "")
	if err != nil || len(first.Facts) != 0 {
		t.Fatal(first, err)
	}
	// the tablet adds, the laptop asks since its own revision
	if _, err := b.Merge(code, Facts{"known/readings/x": fact(`{"test":"a","value":"1 Ω"}`, 3)}, ""); err != nil {
		t.Fatal(err)
	}
	got, err := b.Merge(code, Facts{"known/readings/y": fact(`{"test":"a","value":"2 Ω"}`, 3)}, first.Rev)
	if err != nil || len(got.Facts) != 1 || got.Facts["known/readings/x"].Stamp == "" {
		t.Errorf("%v %v", got, err)
	}
	if _, err := b.Merge(code, Facts{"born": fact(`"another"`, 9)}, ""); !errors.Is(err, ErrClash) {
		t.Error("two jobs became one:", err)
	}
	for _, bad := range []Facts{{"a b": fact("1", 1)}, {"../x": fact("1", 1)}, {"a": {json.RawMessage("1"), "now"}}, {"a": {json.RawMessage(`"` + strings.Repeat("x", longestFact) + `"`), "0000000000001-ab"}}} {
		if _, err := b.Merge(code, bad, ""); err == nil {
			t.Errorf("%v is kept", bad)
		}
	}
	if _, err := b.Merge("../../x", Facts{}, ""); err == nil {
		t.Error("a code that leaves the folder")
	}
	// after a restart all of it is there, and a screen that knows an old revision gets it all
	again := opened(t, dir)
	all, err := again.Merge(code, Facts{}, got.Rev)
	if err != nil || len(all.Facts) != 4 {
		t.Errorf("%v %v", all, err)
	}
	if jobs, err := again.Jobs(10); err != nil || len(jobs[code]) != 4 {
		t.Errorf("%v %v", jobs, err)
	}
	if _, err := again.Merge(code, Facts{"end": fact(`"saved"`, 20)}, ""); err != nil {
		t.Fatal(err)
	}
	if jobs, _ := again.Jobs(10); len(jobs) != 0 {
		t.Error("an ended job is open")
	}
	// a deleted job is gone from the disk too, and a screen that lags brings nothing back
	const other = "2026-03-04-kb9"
	for _, facts := range []Facts{{"born": fact(`"two"`, 1), "says": fact(`"something private"`, 2)}, {"end": fact(`"deleted"`, 3)}, {"says": fact(`"something private"`, 4)}} {
		if _, err := again.Merge(other, facts, ""); err != nil {
			t.Fatal(err)
		}
	}
	if text, err := os.ReadFile(filepath.Join(dir, "ended", other+".json")); err != nil || strings.Contains(string(text), "private") || !strings.Contains(string(text), "deleted") {
		t.Errorf("of a deleted job stays %s %v", text, err)
	}
	// a damaged file hides no other
	if err := os.WriteFile(filepath.Join(dir, "jobs", "2026-03-05-kb8.json"), []byte(`{"a":`), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := again.Merge("2026-03-06-kb1", Facts{"device": fact(`"lamp"`, 1)}, ""); err != nil {
		t.Fatal(err)
	}
	if jobs, err := opened(t, dir).Jobs(10); err != nil || len(jobs) != 1 {
		t.Errorf("%v %v", jobs, err)
	}
}

func TestPassphrase(t *testing.T) {
	b := opened(t, t.TempDir())
	says, err := b.Passphrase()
	if err != nil || len(says) != 20 {
		t.Fatal(says, err)
	}
	if again, err := b.Passphrase(); again != "" || err != nil {
		t.Error("it is shown twice")
	}
	now := time.Unix(1e9, 0)
	pass, ok := b.Admit(strings.ToUpper(strings.ReplaceAll(says, "-", " ")), now)
	if !ok || !b.Knows(pass, now.Add(29*24*time.Hour)) || b.Knows(pass, now.Add(31*24*time.Hour)) || b.Knows(pass+"x", now) || b.Knows("", now) {
		t.Error("the pass")
	}
	for _, wrong := range []string{"", says[:19], says + "a", "9", strings.Repeat("ba", 150)} {
		if _, ok := b.Admit(wrong, now); ok {
			t.Errorf("%q is let in", wrong)
		}
	}
	text, _ := os.ReadFile(filepath.Join(b.dir, "passphrase"))
	if strings.Contains(string(text), says) || !strings.HasPrefix(string(text), "argon2id 3 65536 4 ") {
		t.Errorf("it is kept as %s", text)
	}
	if info, _ := os.Stat(filepath.Join(b.dir, "passphrase")); info.Mode().Perm() != 0o600 {
		t.Error(info.Mode())
	}
}

// post sends a question as a page of the shop would.
func post(d http.Handler, path, body string, set func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", "http://bench.shop/"+path, strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", "http://bench.shop")
	if set != nil {
		set(r)
	}
	w := httptest.NewRecorder()
	d.ServeHTTP(w, r)
	return w
}

func TestDoor(t *testing.T) {
	b := opened(t, t.TempDir())
	says := quickPass(t, b)
	d := &Door{Box: b, Path: "/", Check: func(_ Kind, _ string, text []byte) error {
		if bytes.Contains(text, []byte("<script")) {
			return errors.New("HTML is not shown in notes.")
		}
		return nil
	}}
	sheet := `{"name":"a-1.md","text":"x"}`
	if w := post(d, "sheets", sheet, nil); w.Code != 401 {
		t.Error("without the passphrase:", w.Code)
	}
	if w := post(d, "enter", `{"passphrase":"wrong"}`, nil); w.Code != 403 || len(w.Result().Cookies()) != 0 {
		t.Error(w.Code)
	}
	w := post(d, "enter", `{"passphrase":"`+says+`"}`, nil)
	if w.Code != 200 || len(w.Result().Cookies()) != 1 {
		t.Fatal(w.Code, w.Body)
	}
	c := w.Result().Cookies()[0]
	if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
		t.Error(c)
	}
	in := func(r *http.Request) { r.AddCookie(c) }
	if w := post(d, "sheets", sheet, in); w.Code != 200 || !strings.Contains(w.Body.String(), "a-1.md") {
		t.Error(w.Code, w.Body)
	}
	for name, set := range map[string]func(*http.Request){
		"another site": func(r *http.Request) { in(r); r.Header.Set("Origin", "http://evil.example") },
		"no origin":    func(r *http.Request) { in(r); r.Header.Del("Origin") },
		"cross site":   func(r *http.Request) { in(r); r.Header.Set("Sec-Fetch-Site", "cross-site") },
		"a form":       func(r *http.Request) { in(r); r.Header.Set("Content-Type", "text/plain") },
	} {
		if w := post(d, "sheets", sheet, set); w.Code < 400 {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	for body, code := range map[string]int{
		`{"name":"../x.md","text":"x"}`: 400, `{"name":"b.md","text":"<script>"}`: 422, `{`: 400, `{"name":"b.md","text":"` + strings.Repeat("y", longestText+1) + `"}`: 400,
		strings.Repeat("z", longestRequest+1): 413,
	} {
		if w := post(d, "sheets", body, in); w.Code != code {
			t.Errorf("%.40s: %d, not %d", body, w.Code, code)
		}
	}
	if w := post(d, "jobs/2026-03-04-kb7", `{"facts":{"device":["kettle","0000000000001-ab"]}}`, in); w.Code != 200 {
		t.Error(w.Code, w.Body)
	}
	// guesses run dry, and so do floods
	tries := 0
	for post(d, "enter", `{"passphrase":"wrong"}`, nil).Code == 403 {
		if tries++; tries > 20 {
			t.Fatal("passphrases can be guessed without end")
		}
	}
	flood := 0
	for post(d, "jobs/2026-03-04-kb7", `{}`, in).Code != 429 {
		if flood++; flood > 5000 {
			t.Fatal("no limit")
		}
	}
}

// Two hundred writers at once: whatever was answered with success is there.
func TestWriters(t *testing.T) {
	dir := t.TempDir()
	b := opened(t, dir)
	const writers = 200
	var wg sync.WaitGroup
	for i := range writers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			if _, err := b.Keep(Sheets, "2026-03-04-kettle-1.md", []byte(fmt.Sprint("sheet ", i))); err != nil {
				t.Error(err)
			}
			if _, err := b.Merge("2026-03-04-kb7", Facts{fmt.Sprintf("known/readings/%d", i): fact(fmt.Sprint(i), i+1)}, ""); err != nil {
				t.Error(err)
			}
		}()
	}
	wg.Wait()
	items, err := opened(t, dir).Items()
	if err != nil || len(items) != writers {
		t.Errorf("%d sheets, %v", len(items), err)
	}
	texts := map[string]bool{}
	for _, it := range items {
		texts[string(it.Text)] = true
	}
	if len(texts) != writers {
		t.Errorf("%d texts", len(texts))
	}
	s, err := opened(t, dir).Merge("2026-03-04-kb7", Facts{}, "")
	if err != nil || len(s.Facts) != writers {
		t.Errorf("%d readings, %v", len(s.Facts), err)
	}
}

func TestBackup(t *testing.T) {
	dir := t.TempDir()
	b := opened(t, filepath.Join(dir, "a"))
	for i := range 5 {
		if _, err := b.Keep(Sheets, "s-1.md", []byte(fmt.Sprint(i))); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := b.Merge("2026-03-04-kb7", Facts{"born": fact(`"x"`, 1), "device": fact(`"kettle"`, 2)}, ""); err != nil {
		t.Fatal(err)
	}
	items, _ := b.Items()
	if err := b.Taken(items[0]); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Passphrase(); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "backup")
	n, _, err := b.BackupTo(file)
	if err != nil || n != 6 {
		t.Fatal(n, err)
	}
	if _, _, err := b.BackupTo(file); err == nil {
		t.Error("a backup is written over")
	}
	text, _ := os.ReadFile(file)
	to := opened(t, filepath.Join(dir, "b"))
	for range 2 { // twice is once
		if n, err := to.Restore(bytes.NewReader(text)); err != nil || n != 6 {
			t.Fatal(n, err)
		}
	}
	back, _ := to.Items()
	if len(back) != 4 {
		t.Errorf("%d texts are back", len(back))
	}
	if jobs, _ := to.Jobs(9); len(jobs["2026-03-04-kb7"]) != 2 {
		t.Errorf("%v", jobs)
	}
	if _, err := os.Stat(filepath.Join(dir, "b", "passphrase")); err == nil {
		t.Error("the passphrase travels")
	}
	// cut short or foreign, it changes nothing
	for _, bad := range [][]byte{nil, []byte("x"), text[:len(text)/2], text[:len(text)-9]} {
		c := opened(t, t.TempDir())
		if _, err := c.Restore(bytes.NewReader(bad)); err == nil {
			t.Errorf("%d bytes of %d are restored", len(bad), len(text))
		}
		if items, _ := c.Items(); len(items) != 0 {
			t.Error("half a backup is restored")
		}
	}
}

// A backup brings everything back: changes too, and what was taken beside another text of
// its name. Where a job is another one here, nothing is put back.
func TestBackupLosesNothing(t *testing.T) {
	dir := t.TempDir()
	a, b := opened(t, filepath.Join(dir, "a")), opened(t, filepath.Join(dir, "b"))
	for kind, text := range map[Kind]string{Sheets: "sheet", Notes: "note", Changes: "change to content/faults/x.md from 00\ntext"} {
		if _, err := a.Keep(kind, "x-1.md", []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	for box, text := range map[*Box]string{a: "of a", b: "of b"} {
		if _, err := box.Keep(Sheets, "y-1.md", []byte(text)); err != nil {
			t.Fatal(err)
		}
		items, _ := box.Items()
		for _, it := range items {
			if string(it.Text) == text {
				if err := box.Taken(it); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	var file bytes.Buffer
	if n, _, err := a.Backup(&file); err != nil || n != 4 {
		t.Fatal(n, err)
	}
	for range 2 {
		if _, err := b.Restore(bytes.NewReader(file.Bytes())); err != nil {
			t.Fatal(err)
		}
	}
	items, _ := b.Items()
	taken, _ := os.ReadDir(filepath.Join(b.dir, "taken"))
	if len(items) != 3 || len(taken) != 2 {
		t.Errorf("%d texts and %d taken ones", len(items), len(taken))
	}
	file.Reset()
	for box, born := range map[*Box]string{a: `"a"`, b: `"b"`} {
		if _, err := box.Merge("2026-03-04-kb7", Facts{"born": fact(born, 1)}, ""); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := a.Keep(Sheets, "z-1.md", []byte("later")); err != nil {
		t.Fatal(err)
	}
	if _, _, err := a.Backup(&file); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Restore(&file); err == nil || !strings.Contains(err.Error(), "nothing was restored") {
		t.Error(err)
	}
	if after, _ := b.Items(); len(after) != 3 {
		t.Errorf("half of it was restored: %d texts", len(after))
	}
}

// packed is a backup that somebody else made.
func packed(files ...tar.Header) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	t := tar.NewWriter(z)
	for _, h := range files {
		if h.Typeflag == 0 {
			h.Typeflag = tar.TypeReg
		}
		_ = t.WriteHeader(&h)
		for left := h.Size; left > 0; left -= 1 << 20 {
			_, _ = t.Write(bytes.Repeat([]byte(" "), int(min(left, 1<<20))))
		}
	}
	_ = t.Close()
	_ = z.Close()
	return b.Bytes()
}

// fill makes a limit small enough to be filled by a test.
func fill[N int | int64](t *testing.T, limit *N, to N) {
	was := *limit
	*limit = to
	t.Cleanup(func() { *limit = was })
}

// A hostile backup puts nothing anywhere, and fills no memory.
func TestHostileBackup(t *testing.T) {
	fill(t, &mostBytes, 8<<20)
	bomb := make([]tar.Header, 0, 3)
	for i := range 3 {
		bomb = append(bomb, tar.Header{Name: fmt.Sprintf("sheets/a-%d.md", i), Size: mostJob})
	}
	for name, file := range map[string][]byte{
		"out of it":        packed(tar.Header{Name: "sheets/../../x.md", Size: 1}),
		"absolute":         packed(tar.Header{Name: "/etc/x.md", Size: 1}),
		"the key":          packed(tar.Header{Name: "key", Size: 1}),
		"the passphrase":   packed(tar.Header{Name: "passphrase", Size: 1}),
		"a link":           packed(tar.Header{Name: "sheets/a.md", Typeflag: tar.TypeSymlink, Linkname: "/etc/passwd"}),
		"a device":         packed(tar.Header{Name: "sheets/a.md", Typeflag: tar.TypeChar}),
		"a name of escape": packed(tar.Header{Name: "sheets/\x1b[2J.md", Size: 1}),
		"one large file":   packed(tar.Header{Name: "jobs/2026-03-04-kb7.json", Size: mostJob + 1}),
		"many large files": packed(bomb...),
		"no facts":         packed(tar.Header{Name: "jobs/2026-03-04-kb7.json", Size: 3}),
	} {
		b := opened(t, t.TempDir())
		if n, err := b.Restore(bytes.NewReader(file)); err == nil || n != 0 {
			t.Errorf("%s: %d files, %v", name, n, err)
		}
		if items, _ := b.Items(); len(items) != 0 {
			t.Errorf("%s: something was restored", name)
		}
	}
}

func FuzzRestore(f *testing.F) {
	f.Add(packed(tar.Header{Name: "sheets/a.md", Size: 3}, tar.Header{Name: "taken/a-1.md", Size: 2}))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, file []byte) {
		b, err := Open(filepath.Join(dir, "inbox"))
		if err != nil {
			t.Fatal(err)
		}
		n, err := b.Restore(bytes.NewReader(file))
		if left, _ := os.ReadDir(dir); len(left) != 1 {
			t.Fatalf("%d files were put beside the inbox", len(left)-1)
		}
		if err != nil && n != 0 {
			t.Fatalf("%d files and %v", n, err)
		}
	})
}

// Somebody who was not let in, and many of them, make the host hold next to nothing.
func TestStrangersSendNothingLarge(t *testing.T) {
	b := opened(t, t.TempDir())
	says := quickPass(t, b)
	d := &Door{Box: b, Path: "/"}
	for _, path := range []string{"sheets", "jobs/2026-03-04-kb7", "changes", "nothing", "enter"} {
		in := &counted{r: strings.NewReader(strings.Repeat("x", longestRequest))}
		r := httptest.NewRequest("POST", "http://bench.shop/"+path, in)
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "http://bench.shop")
		w := httptest.NewRecorder()
		d.ServeHTTP(w, r)
		if w.Code < 400 || in.n > 2*longestEntry {
			t.Errorf("%s: %d after %d bytes", path, w.Code, in.n)
		}
	}
	pass, _ := b.Admit(says, time.Now())
	gone, cancel := context.WithCancel(context.Background())
	for range readAtOnce {
		if !d.turn(gone) {
			t.Fatal("no turn")
		}
	}
	cancel()
	w := post(d, "sheets", `{"name":"a-1.md","text":"x"}`, func(r *http.Request) {
		r.AddCookie(&http.Cookie{Name: cookie, Value: pass})
		*r = *r.WithContext(gone)
	})
	if w.Body.Len() > 0 {
		t.Error("more contents are held at once than there may be:", w.Body)
	}
}

// Screens whose network is slow hold up nobody, as long as what they send is no large job.
func TestSlowScreens(t *testing.T) {
	b := opened(t, t.TempDir())
	says := quickPass(t, b)
	d := &Door{Box: b, Path: "/"}
	pass, _ := b.Admit(says, time.Now())
	send := func(body io.Reader) *httptest.ResponseRecorder {
		r := httptest.NewRequest("POST", "http://bench.shop/sheets", body)
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "http://bench.shop")
		r.AddCookie(&http.Cookie{Name: cookie, Value: pass})
		w := httptest.NewRecorder()
		d.ServeHTTP(w, r)
		return w
	}
	const slow = 3 * readAtOnce
	var wait sync.WaitGroup
	var ends []*io.PipeWriter
	codes := make([]int, slow)
	for i := range slow {
		from, to := io.Pipe()
		ends = append(ends, to)
		wait.Go(func() { codes[i] = send(from).Code })
		if _, err := io.WriteString(to, `{"name":"`); err != nil { // it is being read
			t.Fatal(err)
		}
	}
	said := make(chan int, 1)
	go func() { said <- send(strings.NewReader(`{"name":"b-1.md","text":"y"}`)).Code }()
	select {
	case code := <-said:
		if code != 200 {
			t.Error(code)
		}
	case <-time.After(20 * time.Second):
		t.Error("a screen waits for those that are slow")
	}
	for i, to := range ends {
		if i%2 == 0 {
			fmt.Fprintf(to, `a-%d.md","text":"x"}`, i)
			to.Close()
		} else {
			to.CloseWithError(io.ErrUnexpectedEOF) // it goes away
		}
	}
	wait.Wait()
	for i, code := range codes {
		if want := []int{200, 400}[i%2]; code != want {
			t.Errorf("slow screen %d: %d, not %d", i, code, want)
		}
	}
	if items, err := b.Items(); err != nil || len(items) != 1+slow/2 {
		t.Errorf("%d sheets are kept, %v", len(items), err)
	}
}

// A page of this host is told by the way it came too, and a cookie that another service on the
// machine set shuts nobody out.
func TestWhoseCookie(t *testing.T) {
	b := opened(t, t.TempDir())
	says := quickPass(t, b)
	fronts, err := ReadFronts([]string{"10.7.0.2"})
	if err != nil {
		t.Fatal(err)
	}
	plain, shut := &Door{Box: b, Path: "/", Fronts: fronts}, &Door{Box: b, Path: "/", Secure: true}
	pass, _ := b.Admit(says, time.Now())
	for _, c := range []struct {
		what   string
		d      *Door
		origin string
		peer   string
		head   []string
		code   int
		secure bool
	}{
		{"plainly", plain, "http://bench.shop", "10.0.0.9:1", nil, 200, false},
		{"by TLS", shut, "https://bench.shop", "10.0.0.9:1", nil, 200, true},
		{"a page that came without TLS", shut, "http://bench.shop", "10.0.0.9:1", nil, 403, false},
		{"by TLS to a server in front", plain, "https://bench.shop", "10.7.0.2:1", []string{"X-Forwarded-Proto", "https"}, 200, true},
		{"by TLS to a server in front here", plain, "https://bench.shop", "127.0.0.1:1", []string{"X-Forwarded-Proto", "https"}, 200, true},
		{"a page that came without TLS to a server in front", plain, "http://bench.shop", "10.7.0.2:1", []string{"X-Forwarded-Proto", "https"}, 403, false},
		{"one who says so himself", plain, "http://bench.shop", "10.0.0.9:1", []string{"X-Forwarded-Proto", "https"}, 200, false},
		{"a server in front that says both", plain, "http://bench.shop", "10.7.0.2:1", []string{"X-Forwarded-Proto", "https", "X-Forwarded-Proto", "http"}, 200, false},
		{"an origin that is none", plain, "null", "10.0.0.9:1", nil, 403, false},
		{"another port", plain, "http://bench.shop:8080", "10.0.0.9:1", nil, 403, false},
	} {
		w := post(c.d, "enter", `{"passphrase":"`+says+`"}`, func(r *http.Request) {
			from(c.peer, c.head...)(r)
			r.Header.Set("Origin", c.origin)
		})
		cookies := w.Result().Cookies()
		if w.Code != c.code || (c.code == 200) != (len(cookies) == 1) || len(cookies) == 1 && cookies[0].Secure != c.secure {
			t.Errorf("%s: %d %v", c.what, w.Code, cookies)
		}
	}
	for what, cookies := range map[string]string{
		"alone": cookie + "=" + pass, "behind another's": cookie + "=mine; " + cookie + "=" + pass, "before another's": cookie + "=" + pass + "; " + cookie + "=mine",
		"none": "", "another's": cookie + "=mine", "quoted": cookie + `="` + pass + `"`, "many": strings.Repeat(cookie+"=mine; ", 3000) + cookie + "=" + pass,
	} {
		w := post(plain, "sheets", `{"name":"a-1.md","text":"x"}`, func(r *http.Request) { r.Header.Set("Cookie", cookies) })
		want := 200
		if what == "none" || what == "another's" || what == "many" {
			want = 401
		}
		if w.Code != want {
			t.Errorf("the pass %s: %d, not %d", what, w.Code, want)
		}
	}
}

// What the inbox answers is kept by no browser and no server between, and by TLS its pass
// travels by TLS alone.
func TestNothingIsKeptOnTheWay(t *testing.T) {
	b := opened(t, t.TempDir())
	says := quickPass(t, b)
	d := &Door{Box: b, Path: "/bench", Secure: true}
	w := post(d, "enter", `{"passphrase":"`+says+`"}`, func(r *http.Request) { r.Header.Set("Origin", "https://bench.shop") })
	if len(w.Result().Cookies()) != 1 {
		t.Fatal(w.Code, w.Body)
	}
	c := w.Result().Cookies()[0]
	if !c.Secure || !c.HttpOnly || c.Path != "/bench" || c.Domain != "" || c.MaxAge > int(passLasts.Seconds()) {
		t.Error(c)
	}
	for _, path := range []string{"state", "jobs", "note?file=content/faults/a.md", "nothing"} {
		r := httptest.NewRequest("GET", "http://bench.shop/"+path, nil)
		r.AddCookie(c)
		w := httptest.NewRecorder()
		d.ServeHTTP(w, r)
		if w.Header().Get("Cache-Control") != "no-store" || !strings.HasPrefix(w.Header().Get("Content-Type"), "application/json") {
			t.Errorf("%s: %v", path, w.Header())
		}
	}
}

type counted struct {
	r io.Reader
	n int
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += n
	return n, err
}

// Whatever is sent as facts, a job can be read again afterwards, and merging in another order
// gives the same.
func FuzzFacts(f *testing.F) {
	f.Add([]byte(`{"device":["kettle","0000000000001-ab"],"known/readings/1":[{"a":1},"0000000000002-ab"]}`), []byte(`{"device":["lamp","0000000000003-ab"]}`))
	f.Fuzz(func(t *testing.T, one, other []byte) {
		a, b := Facts{}, Facts{}
		if a.read(one) != nil || b.read(other) != nil {
			return
		}
		ab, ba := Facts{}, Facts{}
		ab.Merge(a)
		ab.Merge(b)
		ba.Merge(b)
		ba.Merge(a)
		for name, x := range ab {
			if y := ba[name]; x.Stamp != y.Stamp {
				t.Fatalf("%s: %v and %v", name, x, y)
			}
		}
		text, err := json.Marshal(ab)
		if err != nil {
			t.Fatal(err)
		}
		again := Facts{}
		if err := again.read(text); err != nil || len(again) != len(ab) {
			t.Fatalf("%s cannot be read again: %v", text, err)
		}
	})
}

// Whatever is typed or sent, nobody is let in without the passphrase or a pass that was given.
func FuzzPass(f *testing.F) {
	b, err := Open(f.TempDir())
	if err != nil {
		f.Fatal(err)
	}
	if _, err := b.Passphrase(); err != nil {
		f.Fatal(err)
	}
	now := time.Unix(1e9, 0)
	f.Add("4102444800." + b.sign("4102444801"))
	f.Add("4102444800.")
	f.Fuzz(func(t *testing.T, pass string) {
		until, sign, _ := strings.Cut(pass, ".")
		if b.Knows(pass, now) && sign != b.sign(until) {
			t.Fatalf("%q is let in", pass)
		}
	})
}

// A job that was closed takes no memory and no place among the open ones, for however many
// years, and a screen that lags learns that it is closed and brings nothing back.
func TestClosedJobs(t *testing.T) {
	dir := t.TempDir()
	b := opened(t, dir)
	open := func(i int) string { return fmt.Sprintf("2026-03-04-kb%d", i) }
	lag := ""
	for i := range 60 {
		s, err := b.Merge(open(i), Facts{"born": fact(fmt.Sprint(`"b`, i, `"`), 1), "says": fact(`"private"`, 2)}, "")
		if err != nil {
			t.Fatal(err)
		}
		if lag == "" {
			lag = s.Rev
		}
		if _, err := b.Merge(open(i), Facts{"end": fact(`"saved"`, 9)}, ""); err != nil {
			t.Fatal(err)
		}
	}
	files, _ := os.ReadDir(filepath.Join(dir, "jobs"))
	if len(b.open) != 0 || b.size != 0 || len(files) != 0 {
		t.Errorf("%d closed jobs are held, %d bytes; %d lie among the open ones", len(b.open), b.size, len(files))
	}
	for range 2 { // from the disk, as often as it asks
		s, err := b.Merge(open(0), Facts{"says": fact(`"older"`, 1)}, lag)
		if err != nil || s.Facts["end"].Stamp == "" || s.Facts["says"].Stamp == "" {
			t.Error("a screen that lags hears:", s, err)
		}
	}
	if jobs, _ := b.Jobs(10); len(jobs) != 0 {
		t.Error("a closed job is open:", jobs)
	}
	// what another screen says of one that was closed is kept, and it can be opened again
	if _, err := b.Merge(open(1), Facts{"notes": fact(`"n"`, 20), "end": fact("null", 21)}, ""); err != nil {
		t.Fatal(err)
	}
	again := opened(t, dir)
	if jobs, _ := again.Jobs(10); len(jobs[open(1)]) != 4 {
		t.Error("a job that was opened again:", jobs)
	}
}

// A power cut between the two steps of closing leaves one job, and of a deleted one nothing;
// jobs that an older program closed are put where they belong.
func TestHalfClosed(t *testing.T) {
	dir := t.TempDir()
	b := opened(t, dir)
	for folder, text := range map[string]string{
		"jobs/2026-03-04-kb1.json":  `{"says":["private","0000000000001-ab"]}`,
		"ended/2026-03-04-kb1.json": `{"end":["deleted","0000000000002-ab"]}`,
		"jobs/2026-03-04-kb2.json":  `{"says":["x","0000000000001-ab"],"end":["saved","0000000000002-ab"]}`,
		"jobs/2026-03-04-kb3.json":  `{"says":["y","0000000000001-ab"],"end":[null,"0000000000003-ab"]}`,
		"ended/2026-03-04-kb3.json": `{"says":["y","0000000000001-ab"],"end":["saved","0000000000002-ab"]}`,
	} {
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(folder)), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s, err := b.Merge("2026-03-04-kb1", Facts{}, "")
	if err != nil || len(s.Facts) != 1 || s.Facts["end"].Stamp == "" {
		t.Error("of a deleted job comes back:", s, err)
	}
	jobs, err := b.Jobs(10)
	if err != nil || len(jobs) != 1 || len(jobs["2026-03-04-kb3"]) != 2 {
		t.Error(jobs, err)
	}
	for name, want := range map[string]bool{"jobs/2026-03-04-kb1.json": false, "ended/2026-03-04-kb1.json": true, "jobs/2026-03-04-kb2.json": false, "ended/2026-03-04-kb2.json": true, "jobs/2026-03-04-kb3.json": true} {
		if _, err := os.Lstat(filepath.Join(dir, filepath.FromSlash(name))); (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
	// a backup made meanwhile has it once
	var file bytes.Buffer
	if _, _, err := b.Backup(&file); err != nil {
		t.Fatal(err)
	}
	other := opened(t, t.TempDir())
	if _, err := other.Restore(&file); err != nil {
		t.Fatal(err)
	}
	if jobs, _ := other.Jobs(10); len(jobs) != 1 || len(jobs["2026-03-04-kb3"]) != 2 {
		t.Error("restored:", jobs)
	}
}

// Many open jobs take bounded memory, and are all there.
func TestOpenJobsAreBounded(t *testing.T) {
	fill(t, &mostHeld, 1<<20)
	fill(t, &mostShown, 256<<10)
	b := opened(t, t.TempDir())
	long := strings.Repeat("x", longestFact-2)
	const jobs, each = 60, 1 // 2 MB
	for i := range jobs {
		f := Facts{"born": fact(fmt.Sprint(`"b`, i, `"`), 1)}
		for n := range each {
			f[fmt.Sprintf("known/readings/%d", n)] = fact(`"`+long+`"`, 2)
		}
		if _, err := b.Merge(fmt.Sprintf("2026-03-04-kb%d", i), f, ""); err != nil {
			t.Fatal(err)
		}
		if b.size > mostHeld {
			t.Fatalf("%d bytes are held", b.size)
		}
	}
	for i := range jobs {
		s, err := b.Merge(fmt.Sprintf("2026-03-04-kb%d", i), Facts{"says": fact(`"s"`, 3)}, "x:7")
		if err != nil || len(s.Facts) != each+1 {
			t.Fatalf("job %d: %d facts, %v", i, len(s.Facts), err)
		}
	}
	list, err := b.Jobs(300)
	size := 0
	for _, f := range list {
		for _, x := range f {
			size += len(x.Value)
		}
	}
	if err != nil || size > mostShown || len(list) < 5 {
		t.Errorf("%d jobs of %d bytes in one answer, %v", len(list), size, err)
	}
}

// Two hosts never write one inbox, a backup can be made beside one, and taking sheets beside one
// takes nothing of what it is writing.
func TestOneOwner(t *testing.T) {
	dir := t.TempDir()
	one, err := Own(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Own(dir); !errors.Is(err, Busy) {
		t.Error("a second host:", err)
	}
	half := filepath.Join(dir, "sheets", ".half-1")
	if err := os.WriteFile(half, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	beside := opened(t, dir)
	if _, _, err := beside.Backup(io.Discard); err != nil {
		t.Error(err)
	}
	if _, err := os.Lstat(half); err != nil {
		t.Error("what the host was writing is swept away:", err)
	}
	if err := one.Close(); err != nil {
		t.Fatal(err)
	}
	two, err := Own(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer two.Close()
	if _, err := os.Lstat(half); err == nil {
		t.Error("halves stay for ever")
	}
}
