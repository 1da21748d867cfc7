package inbox

import (
	"encoding/json"
	"errors"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// A change is handed in from a page, against the note as it is, and only for notes of content/;
// it is kept with the name of its note, and content/ is not written to.
func TestChange(t *testing.T) {
	dir := t.TempDir()
	box, err := Open(filepath.Join(dir, "inbox"))
	if err != nil {
		t.Fatal(err)
	}
	word, err := box.Passphrase()
	if err != nil {
		t.Fatal(err)
	}
	pass, ok := box.Admit(word, time.Now())
	if !ok {
		t.Fatal("not let in")
	}
	const file = "content/faults/cord-broken.md"
	notes := fstest.MapFS{file: {Data: []byte("old\n")}, "content/shop.yaml": {Data: []byte("name: x\n")}, "content/jobs/2025-03-04-kettle-1.md": {Data: []byte("x")}}
	d := &Door{Box: box, Notes: notes, Path: "/", Check: func(kind Kind, name string, text []byte) error {
		if kind != Changes || name != file {
			t.Errorf("checked as %s, %s", kind, name)
		}
		if strings.Contains(string(text), "wrong") {
			return errors.New("line 1: it is wrong")
		}
		return nil
	}}
	ask := func(method, path string, body any, known bool) (int, map[string]string) {
		var in strings.Builder
		if body != nil {
			_ = json.NewEncoder(&in).Encode(body)
		}
		r := httptest.NewRequest(method, path, strings.NewReader(in.String()))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "http://"+r.Host)
		if known {
			r.AddCookie(&http.Cookie{Name: cookie, Value: pass})
		}
		w := httptest.NewRecorder()
		d.ServeHTTP(w, r)
		got := map[string]string{}
		_ = json.Unmarshal(w.Body.Bytes(), &got)
		return w.Code, got
	}
	if code, _ := ask("GET", "/note?file="+file, nil, false); code != http.StatusUnauthorized {
		t.Error("a note is given without the passphrase:", code)
	}
	code, got := ask("GET", "/note?file="+file, nil, true)
	if code != 200 || got["text"] != "old\n" || got["base"] != Base([]byte("old\n")) {
		t.Fatal(code, got)
	}
	for _, other := range []string{"content/shop.yaml", "content/jobs/2025-03-04-kettle-1.md", "../x.md", "content/faults/../shop.yaml", "/etc/passwd", "content/faults/none.md", ""} {
		if code, _ := ask("GET", "/note?file="+other, nil, true); code != http.StatusNotFound {
			t.Errorf("%s: %d", other, code)
		}
		if code, _ := ask("POST", "/changes", Change{other, got["base"], "new"}, true); code < 400 {
			t.Errorf("%s may be changed", other)
		}
	}
	for _, c := range []struct {
		change Change
		code   int
	}{
		{Change{file, "0000", "new\n"}, http.StatusConflict}, {Change{file, got["base"], "old\r\n"}, http.StatusUnprocessableEntity},
		{Change{file, got["base"], "wrong\n"}, http.StatusUnprocessableEntity}, {Change{file, got["base"], strings.Repeat("x", longestText+1)}, http.StatusBadRequest},
		{Change{file, got["base"], "new\n"}, 200}, {Change{file, got["base"], "new\n"}, 200}, {Change{file, got["base"], "newer\n"}, 200},
	} {
		if code, says := ask("POST", "/changes", c.change, true); code != c.code {
			t.Errorf("%.20q: %d, %v", c.change.Text, code, says)
		}
	}
	items, err := box.Items()
	if err != nil || len(items) != 2 || items[0].Kind != Changes || items[0].Name != "faults-cord-broken-2.md" && items[0].Name != "faults-cord-broken.md" {
		t.Fatal(items, err)
	}
	for _, it := range items {
		if c, ok := ReadChange(it.Text); !ok || c.File != file || !strings.HasPrefix(c.Text, "new") {
			t.Error(c, ok)
		}
	}
	if string(notes[file].Data) != "old\n" {
		t.Error("the note was written to")
	}
	if info, err := os.Stat(filepath.Join(dir, "inbox", "changes")); err != nil || info.Mode().Perm() != 0o700 {
		t.Error(info, err)
	}
}

// A note that is a link or a pipe, or lies in a folder that is one, is not given away.
func TestChangeStaysInside(t *testing.T) {
	dir := t.TempDir()
	secret := filepath.Join(t.TempDir(), "secret.md")
	for _, err := range []error{os.WriteFile(secret, []byte("secret"), 0o600), os.MkdirAll(filepath.Join(dir, "content/faults"), 0o755)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(secret, filepath.Join(dir, "content/faults/a.md")); err != nil {
		t.Skip("no links on this machine:", err)
	}
	if err := os.Symlink(filepath.Dir(secret), filepath.Join(dir, "content/pages")); err != nil {
		t.Fatal(err)
	}
	d := &Door{Notes: os.DirFS(dir)}
	for _, file := range []string{"content/faults/a.md", "content/pages/secret.md"} {
		w := httptest.NewRecorder()
		d.note(w, file)
		if w.Code != http.StatusNotFound || strings.Contains(w.Body.String(), "secret\"") {
			t.Errorf("%s: %d %s", file, w.Code, w.Body)
		}
	}
}

func FuzzReadChange(f *testing.F) {
	f.Add([]byte("change to content/faults/a.md from 00\ntext"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if c, ok := ReadChange(b); ok {
			if back, ok := ReadChange(c.Bytes()); !ok || back != c {
				t.Errorf("%q: %v became %v", b, c, back)
			}
		}
	})
}
