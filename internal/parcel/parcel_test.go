package parcel

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

// zipped is a parcel made by somebody else's hand.
func zipped(t testing.TB, files ...[2]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		h := &zip.FileHeader{Name: f[0], Method: zip.Deflate}
		if strings.HasPrefix(f[1], "link:") {
			h.SetMode(fs.ModeSymlink | 0o777)
		}
		w, err := z.CreateHeader(h)
		if err == nil {
			_, err = w.Write([]byte(f[1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func read(b []byte) (Files, error) { return Read(bytes.NewReader(b), int64(len(b))) }

// A hostile parcel is refused whole.
func TestHostile(t *testing.T) {
	for _, c := range []struct{ name, text, says string }{
		{"../../etc/passwd", "x", "no note"},
		{"/etc/passwd", "x", "no note"},
		{"content/../../x.md", "x", "no note"},
		{"content/shop.yaml", "name: mine", "no note"},
		{"content/words.txt", "x", "no note"},
		{"content/faults/.git/config", "x", "no note"},
		{".git/hooks/pre-commit", "x", "no note"},
		{"content\\faults\\x.md", "x", "no note"},
		{"content/faults/a\nb.md", "x", "no note"},
		{"content/faults/x.md", "link:/etc/passwd", "a link"},
		{"content/images/x.png", strings.Repeat("0", mostFile+1), "more than a device can need"},
	} {
		if _, err := read(zipped(t, [2]string{c.name, c.text})); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v", c.name, err)
		}
	}
	if _, err := read(zipped(t, [2]string{"content/faults/x.md", "1"}, [2]string{"content/faults/x.md", "2"})); err == nil {
		t.Error("a file that is there twice was taken")
	}
}

func TestForget(t *testing.T) {
	got := string(forget([]byte("---\ndevice: kettle\nowner_says: >\n  It is dead,\n\n  says Mrs X.\ndate: 2026-01-01\n---\nowner_says: in the text\n")))
	if want := "---\ndevice: kettle\ndate: 2026-01-01\n---\nowner_says: in the text\n"; got != want {
		t.Errorf("%q", got)
	}
}

func TestArrive(t *testing.T) {
	shop := fstest.MapFS{
		"content/faults/a.md": {Data: []byte("---\n# from Other (other), 1 May 2026\ntitle: A\n---\n")},
		"content/faults/b.md": {Data: []byte("---\ntitle: Ours\n---\n")},
	}
	f := Files{Origin: []byte("Other\x1b[2J\nother\n"), "content/faults/a.md": []byte("---\ntitle: A\n---\n"), "content/faults/b.md": []byte("---\ntitle: B\n---\n"),
		"content/faults/c.md": []byte("---\ntitle: C\n---\n"), "content/jobs/2026-01-01-kettle-1.md": []byte("---\nowner_says: x\n---\n")}
	a, err := f.Arrive(shop, Options{}, "2 May 2026")
	if err != nil || len(a.Same) != 1 || len(a.Collides) != 1 || len(a.New) != 2 {
		t.Fatalf("%+v %v", a, err)
	}
	if got := string(a.New["content/faults/c.md"]); got != "---\n# from Other[2J (other), 2 May 2026\ntitle: C\n---\n" {
		t.Errorf("%q", got)
	}
	if a, _ = f.Arrive(shop, Options{Sheets: true}, "2 May 2026"); bytes.Contains(a.New["content/jobs/2026-01-01-kettle-1.md"], []byte("owner_says")) {
		t.Error("the owner's words came along")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(zipped(f, [2]string{"content/faults/x.md", "---\ntitle: X\n---\n"}, [2]string{Origin, "a\nb\n"}))
	f.Fuzz(func(t *testing.T, b []byte) {
		files, err := read(b)
		if err != nil {
			return
		}
		for name := range files {
			if !fs.ValidPath(name) || name != Origin && !strings.HasPrefix(name, "content/") {
				t.Fatal(name)
			}
		}
	})
}
