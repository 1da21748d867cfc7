package inbox

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv("INBOX_WRITER"); dir != "" {
		keepWriting(dir, os.Getenv("INBOX_RUN"))
	}
	os.Exit(m.Run())
}

// keepWriting writes sheets and facts until it is killed, and says each once it
// was answered with success.
func keepWriting(dir, run string) {
	b, err := Own(dir)
	if err != nil {
		fmt.Println("failed", err)
		os.Exit(1)
	}
	fmt.Println("ready")
	for i := 0; ; i++ {
		text := strings.Repeat(fmt.Sprintf("run %s sheet %d\n", run, i), 200)
		name, err := b.Keep(Sheets, "s-1.md", []byte(text))
		if err != nil {
			fmt.Println("failed", err)
			os.Exit(1)
		}
		fmt.Println("sheet", name, len(text))
		fact := fmt.Sprintf("known/readings/%s-%d", run, i)
		if _, err := b.Merge("2026-03-04-kb7", Facts{fact: {[]byte(`"1 Ω"`), "0000000000001-ab"}}, ""); err != nil {
			fmt.Println("failed", err)
			os.Exit(1)
		}
		fmt.Println("fact", fact, 0)
	}
}

// A host that is killed at any moment has kept everything that it said it had. FAULTLEAF_KILLS
// sets how often.
func TestKilled(t *testing.T) {
	dir := t.TempDir()
	sheets, facts := map[string]int{}, map[string]bool{}
	kills := 12
	if n := os.Getenv("FAULTLEAF_KILLS"); n != "" {
		_, _ = fmt.Sscan(n, &kills)
	}
	for run := range kills {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), "INBOX_WRITER="+dir, fmt.Sprint("INBOX_RUN=", run))
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// somewhere in the writing after some answers, however busy the machine is
		answers := rand.IntN(12)
		for lines := bufio.NewScanner(out); lines.Scan(); answers-- {
			if answers == 0 {
				time.AfterFunc(time.Duration(rand.IntN(20_000))*time.Microsecond, func() { _ = cmd.Process.Kill() })
			}
			var kind, name string
			var size int
			if n, _ := fmt.Sscan(lines.Text(), &kind, &name, &size); n < 3 {
				continue // the first one, or the one under way when it was killed
			}
			switch kind {
			case "sheet":
				sheets[name] = size
			case "fact":
				facts[name] = true
			default:
				t.Fatal(lines.Text())
			}
		}
		_ = cmd.Wait()
	}
	b, err := Own(dir) // the host begun anew sweeps what was half written
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	items, err := b.Items()
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]int{}
	for _, it := range items {
		have[it.Name] = len(it.Text)
		if !strings.HasSuffix(string(it.Text), "\n") || !strings.HasPrefix(string(it.Text), "run ") {
			t.Errorf("%s is half written", it.Name)
		}
	}
	for name, size := range sheets {
		if have[name] != size {
			t.Errorf("%s was kept with %d bytes and has %d", name, size, have[name])
		}
	}
	s, err := b.Merge("2026-03-04-kb7", Facts{}, "")
	if err != nil {
		t.Fatal(err)
	}
	for name := range facts {
		if _, ok := s.Facts[name]; !ok {
			t.Errorf("the reading %s is lost", name)
		}
	}
	if halves, _ := filepath.Glob(filepath.Join(dir, "*", ".half-*")); len(halves) != 0 {
		t.Errorf("%v", halves)
	}
	if len(sheets) < kills/3 {
		t.Errorf("only %d sheets were written between the kills", len(sheets))
	}
	t.Logf("%d sheets and %d readings through %d kills", len(sheets), len(facts), kills)
}

// A full disk refuses, and harms nothing that was kept before.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("a small disk cannot be mounted here: %s", out)
	}
	t.Cleanup(func() { _ = exec.Command("umount", "-l", dir).Run() })
	b := opened(t, dir)
	const code = "2026-03-04-kb7"
	kept, facts := map[string]string{}, 0
	full, fullJob := false, false
	for i := 0; i < 400 && !(full && fullJob); i++ {
		text := strings.Repeat(fmt.Sprintf("sheet %d ", i), 300)
		name, err := b.Keep(Sheets, fmt.Sprintf("s-%d.md", i), []byte(text))
		switch {
		case err == nil:
			kept[name] = text
		case errors.Is(err, syscall.ENOSPC):
			full = true
		default:
			t.Fatal(err)
		}
		_, err = b.Merge(code, Facts{fmt.Sprintf("known/readings/%d", facts): {[]byte(`"` + strings.Repeat("x", 900) + `"`), "0000000000001-ab"}}, "")
		switch {
		case err == nil:
			facts++
		case errors.Is(err, syscall.ENOSPC):
			fullJob = true
		default:
			t.Fatal(err)
		}
	}
	if !full || !fullJob || len(kept) == 0 {
		t.Fatalf("the disk never was full: %d sheets, %d facts", len(kept), facts)
	}
	again := opened(t, dir)
	items, err := again.Items()
	if err != nil || len(items) != len(kept) {
		t.Fatalf("%d sheets of %d, %v", len(items), len(kept), err)
	}
	for _, it := range items {
		if kept[it.Name] != string(it.Text) {
			t.Errorf("%s changed", it.Name)
		}
	}
	if s, err := again.Merge(code, Facts{}, ""); err != nil || len(s.Facts) != facts {
		t.Errorf("%d readings of %d, %v", len(s.Facts), facts, err)
	}
	// with room made, it goes on
	os.Remove(items[0].Path)
	os.Remove(items[1].Path)
	if _, err := again.Keep(Sheets, "after.md", []byte("x")); err != nil {
		t.Error(err)
	}
}
