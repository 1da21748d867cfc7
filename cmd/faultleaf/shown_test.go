package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"faultleaf/cmd/faultleaf/internal/env"
)

// says is what a command says, and the status that it ends with.
func says(args ...string) (string, int) {
	var out, errs bytes.Buffer
	status := run(&env.Env{Context: context.Background(), In: strings.NewReader("yours\n"), Out: &out, Err: &errs}, args)
	return out.String() + errs.String(), status
}

// spoilt is a small shop in whose notes titles, questions and sentences end with something evil, as
// it stands in a YAML text with quotes.
func spoilt(t *testing.T, evil string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	if text, status := says("outfit", dir, "--bare"); status != 0 {
		t.Fatal(text)
	}
	whole := regexp.MustCompile(`(?m)^( *(?:title|ask|says|does|name|caution|why|cause): *)([A-Z][^\n"{}]*)$`)
	part := regexp.MustCompile(`([{,] *(?:says|does|title|why): *)([A-Z][^\n"{},:]*)([,}])`)
	n := 0
	err := filepath.WalkDir(filepath.Join(dir, "content"), func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".md") && d.Name() != "shop.yaml" {
			return err
		}
		b, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		n += len(whole.FindAll(b, -1)) + len(part.FindAll(b, -1))
		front, body, _ := strings.Cut(string(b)[min(4, len(b)):], "\n---\n")
		front = part.ReplaceAllString(whole.ReplaceAllString(front, `$1"${2}`+evil+`"`), `$1"${2}`+evil+`"$3`)
		if strings.HasSuffix(p, ".md") {
			return os.WriteFile(p, []byte("---\n"+front+"\n---\n"+body), 0o644)
		}
		return os.WriteFile(p, []byte(string(b)[:4]+front), 0o644)
	})
	if err != nil || n < 20 {
		t.Fatal(n, err)
	}
	return dir
}

// Whatever notes say, on the pages it is text.
func TestTextsStayTexts(t *testing.T) {
	dir := spoilt(t, `'\"><img src=x onerror=owned()></script></style></svg></template><script>owned()</script>{{.}}&lt;b&gt;`)
	faults, _ := filepath.Glob(filepath.Join(dir, "content/faults/*.md"))
	if len(faults) == 0 {
		t.Fatal("no fault")
	}
	f, err := os.OpenFile(faults[0], os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.WriteString("\n\\<img src=x onerror=owned()> `<script>owned()</script>` &lt;script&gt;owned()&lt;/script&gt;\n\n```html\n</code><script>owned()</script>\n```\n")
	if cerr := f.Close(); err != nil || cerr != nil {
		t.Fatal(err, cerr)
	}
	if text, status := says("publish", "--from", dir, "--to", filepath.Join(dir, "public")); status != 0 {
		t.Fatalf("%.3000s", text)
	}
	met := 0
	err = filepath.WalkDir(filepath.Join(dir, "public"), func(p string, d os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(p, ".html") && !strings.HasSuffix(p, ".svg") {
			return err
		}
		b, err := os.ReadFile(p)
		for _, raw := range []string{"<img src=x", "<script>owned", "</script></style>", "onerror=owned()>", "&lt;b&gt;</script"} {
			if strings.Contains(string(b), raw) {
				t.Errorf("%s holds %s", filepath.Base(p), raw)
			}
		}
		met += strings.Count(string(b), "owned()")
		return err
	})
	if err != nil || met < 20 {
		t.Error(met, err)
	}
}

// Whatever notes, sheets, changes and file names say, no command hands on what steers a
// terminal.
func TestNothingSteersTheTerminal(t *testing.T) {
	dir := spoilt(t, `\e]0;owned\a\x9b2J\u202e`)
	put := func(name, text string) {
		t.Helper()
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Skip("not on this machine:", err)
		}
	}
	devices, _ := filepath.Glob(filepath.Join(dir, "content/devices/*.md"))
	if len(devices) == 0 {
		t.Fatal("the shop has no device")
	}
	device := strings.TrimSuffix(filepath.Base(devices[0]), ".md")
	note, err := os.ReadFile(devices[0])
	if err != nil {
		t.Fatal(err)
	}
	put("inbox/changes/devices-"+device+".md", "change to content/devices/"+device+".md from 0000\n"+string(note)+"\n\x1b[2J\u202eturned\n")
	put("inbox/sheets/\x1b[2J.md", "---\ndevice: \"\\e[2J\"\ncause: \"\\u202e\\e[2J\"\n---\n")
	put("old\x1b[2J.csv", "device,date\n\x1b[2J,x\n")
	put("parcel\x1b[2J.zip", "\x1b[2J")
	heard := 0
	for _, args := range [][]string{
		{"inspect"}, {"inspect", "--json"}, {"inspect", "--effect", "content/devices/" + device + ".md"}, {"lookup", "lamp", "dead"}, {"lookup", "--json", "lamp", "dead"}, {"trace", device}, {"trace", device, "--json"},
		{"take", "--look"}, {"take", "--look", filepath.Join(dir, "old\x1b[2J.csv")}, {"import", filepath.Join(dir, "parcel\x1b[2J.zip")}, {"import", "\x1b[2J"}, {"trace", "\x1b[2J"},
		{"export", device, filepath.Join(dir, "out.zip")}, {"__complete", "trace", ""}, {"__complete", "trace", device, ""}, {"host", "--backup", filepath.Join(dir, "\x1b[2J")}, {"\x1b[2J"},
	} {
		if args[0] != "__complete" && args[0] != "\x1b[2J" {
			args = append(args, "--from", dir)
		}
		text, _ := says(args...)
		if strings.Contains(text, `\u001b`) || strings.Contains(text, `\u202e`) {
			heard++
		}
		for _, c := range text {
			if unicode.IsControl(c) && c != '\n' && c != '\t' || unicode.Is(unicode.Bidi_Control, c) {
				t.Errorf("%q hands on %q: %.300q", args, c, text)
				break
			}
		}
	}
	if heard < 8 {
		t.Errorf("only %d commands said anything of it", heard)
	}
}
