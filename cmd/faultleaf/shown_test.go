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

// Whatever notes, sheets, changes and file names say, no command hands on what steers a
// terminal.
func TestNothingSteersTheTerminal(t *testing.T) {
	dir := t.TempDir()
	said := func(args ...string) string {
		var out, errs bytes.Buffer
		run(&env.Env{Context: context.Background(), In: strings.NewReader("yours\n"), Out: &out, Err: &errs}, args)
		return out.String() + errs.String()
	}
	said("outfit", dir, "--bare")
	title := regexp.MustCompile(`(?m)^(title|ask|says|does|name): *([A-Za-z][^\n"{]*)$`)
	spoilt := 0
	err := filepath.WalkDir(filepath.Join(dir, "content"), func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".md") && d.Name() != "shop.yaml" {
			return err
		}
		b, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		b = title.ReplaceAllFunc(b, func(line []byte) []byte {
			spoilt++
			return title.ReplaceAll(line, []byte(`$1: "$2\e]0;owned\a\x9b2J\u202e"`))
		})
		return os.WriteFile(p, b, 0o644)
	})
	if err != nil || spoilt < 3 {
		t.Fatal(spoilt, err)
	}
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
		text := said(args...)
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
