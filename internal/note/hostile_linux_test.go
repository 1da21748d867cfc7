package note

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A hostile shop's folder gives sentences: nothing outside of it is read,
// nothing hangs, and nothing vanishes without a word.
func TestHostileFiles(t *testing.T) {
	secret := filepath.Join(t.TempDir(), "secret.md")
	write(t, secret, "---\ntitle: Secret\n---\nsecret\n")
	for _, c := range []struct {
		name string
		do   func(dir string) error
		says string
	}{
		{"a note that is a link", func(dir string) error { return os.Symlink(secret, dir+"/pages/a.md") }, "content/pages/a.md: this is a link"},
		{"a picture that is a link", func(dir string) error { return os.Symlink("/etc/hostname", dir+"/images/a.svg") }, "content/images/a.svg: this is a link"},
		{"a folder that is a link", func(dir string) error {
			return os.Symlink(filepath.Dir(secret), dir+"/faults")
		}, "content/faults: this is no folder"},
		{"a shop.yaml that is a link", func(dir string) error {
			return second(os.Remove(dir+"/shop.yaml"), os.Symlink(secret, dir+"/shop.yaml"))
		}, "content/shop.yaml: this is a link"},
		{"a pipe", func(dir string) error { return syscall.Mkfifo(dir+"/images/a.png", 0o644) }, "content/images/a.png: this is no file"},
		{"a note that is a pipe", func(dir string) error { return syscall.Mkfifo(dir+"/pages/a.md", 0o644) }, "content/pages/a.md: this is no file"},
		{"a device", func(dir string) error { return syscall.Mknod(dir+"/images/a.png", syscall.S_IFCHR|0o644, 1<<8|5) }, "content/images/a.png: this is no file"},
		{"a picture without end", func(dir string) error {
			f, err := os.Create(dir + "/images/a.png")
			return second(err, second(f.Truncate(1<<40), f.Close()))
		}, "content/images/a.png: the file is larger than 20 MB"},
		{"a note without end", func(dir string) error {
			f, err := os.Create(dir + "/pages/a.md")
			return second(err, second(f.Truncate(1<<40), f.Close()))
		}, "content/pages/a.md: the file is larger than 1 MB"},
		{"a name of Windows", func(dir string) error { return os.WriteFile(dir+"/pages/con.md", nil, 0o644) }, "content/pages/con.md: Windows cannot hold"},
		{"a name of two lines", func(dir string) error { return os.WriteFile(dir+"/images/a\nb.png", nil, 0o644) }, `content/images/a\u000ab.png: the file's name holds`},
		{"a name that clears the screen", func(dir string) error { return os.WriteFile(dir+"/images/\x1b[2J.png", nil, 0o644) }, `content/images/\u001b[2J.png: the file's name holds`},
		{"a name with a sign that has no width", func(dir string) error { return os.WriteFile(dir+"/images/a\u200b.png", nil, 0o644) }, `content/images/a\u200b.png: the file's name holds`},
		{"a name of tags", func(dir string) error { return os.WriteFile(dir+"/images/a\U000e0041.png", nil, 0o644) }, "the file's name holds"},
		{"a name that turns around", func(dir string) error { return os.WriteFile(dir+"/images/gpj.\u202epng", nil, 0o644) }, "the file's name holds"},
		{"a name with a letter without a shape", func(dir string) error { return os.WriteFile(dir+"/images/a\u3164.png", nil, 0o644) }, "the file's name holds"},
		{"twins by case", func(dir string) error {
			return second(os.WriteFile(dir+"/images/A.png", nil, 0o644), os.WriteFile(dir+"/images/a.png", nil, 0o644))
		}, "content/images/a.png: some machines cannot tell this name from content/images/A.png"},
		{"twins by accent", func(dir string) error {
			return second(os.WriteFile(dir+"/images/\u00e9.png", nil, 0o644), os.WriteFile(dir+"/images/e\u0301.png", nil, 0o644))
		}, "some machines cannot tell this name from"},
		{"twins by an old s", func(dir string) error {
			return second(os.WriteFile(dir+"/images/\u017fo.png", nil, 0o644), os.WriteFile(dir+"/images/so.png", nil, 0o644))
		}, "some machines cannot tell this name from"},
		{"twins by a sharp s", func(dir string) error {
			return second(os.WriteFile(dir+"/images/gro\u00df.png", nil, 0o644), os.WriteFile(dir+"/images/GROSS.png", nil, 0o644))
		}, "some machines cannot tell this name from"},
		{"twins by the sign of kelvin", func(dir string) error {
			return second(os.WriteFile(dir+"/images/\u212a.png", nil, 0o644), os.WriteFile(dir+"/images/k.png", nil, 0o644))
		}, "some machines cannot tell this name from"},
		{"a port of Windows", func(dir string) error { return os.WriteFile(dir+"/images/com\u00b9.x.png", nil, 0o644) }, "content/images/com\u00b9.x.png: Windows cannot hold"},
		{"the console of Windows", func(dir string) error { return os.WriteFile(dir+"/images/CONIN$.png", nil, 0o644) }, "content/images/CONIN$.png: Windows cannot hold"},
		{"a device of Windows with a blank", func(dir string) error { return os.WriteFile(dir+"/images/nul .png", nil, 0o644) }, "content/images/nul .png: Windows cannot hold"},
		{"no plain file among the notes", func(dir string) error { return os.WriteFile(dir+"/pages/a.txt", nil, 0o644) }, "content/pages/a.txt: this is no note"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "content")
			for _, sub := range []string{"pages", "images"} {
				if err := os.MkdirAll(filepath.Join(dir, sub), 0o755); err != nil {
					t.Fatal(err)
				}
			}
			write(t, dir+"/shop.yaml", "name: A\n")
			if err := c.do(dir); err != nil {
				t.Skip("not on this machine:", err)
			}
			set, mistakes, _ := Load(os.DirFS(filepath.Dir(dir)), findWire)
			if !strings.Contains(printed(mistakes), c.says) {
				t.Errorf("it says:\n%s", printed(mistakes))
			}
			for _, d := range set.Documents() {
				if d.Title == "Secret" {
					t.Error("a file outside of the shop was read")
				}
			}
		})
	}
}

func second(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}
