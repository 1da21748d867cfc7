package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strings"
)

// claims are what is said of loss and of intruders, each with the tests that hold
// it.
var claims = []struct{ says, pkg, tests string }{
	{"200 kills while publishing: the old site or the new one, whole", "./internal/published", "TestKills"},
	{"a full disk while publishing: the old site stays", "./internal/published", "TestFullDisk"},
	{"a disk that cannot be written", "./internal/published", "TestReadOnly"},
	{"two publishers: one goes on, one is told", "./internal/published", "TestTwoPublishers"},
	{"files of others: neither overwritten nor removed", "./internal/published", "TestForeignFiles"},
	{"a page that is open goes on after a new site", "./internal/published", "TestGenerationBefore"},
	{"a record that is lost or damaged: the same site", "./internal/site", "TestStreamEqualsFull"},
	{"the same notes twice: the same bytes", "./internal/site", "TestPublishTwice"},
	{"links, devices and pipes among the notes", "./internal/note", "TestHostileFiles"},
	{"a folder that cannot be read: a mistake, no empty shelf", "./internal/note", "TestUnreadableFolder"},
	{"Markdown that would take minutes", "./internal/note", "TestHeavyMarkdown"},
	{"hostile parcels from another shop", "./internal/parcel", "TestHostile"},
	{"kills while a sheet is handed over: what was answered is kept", "./internal/inbox", "TestKilled"},
	{"a full disk while a sheet is handed over", "./internal/inbox", "TestFullDisk"},
	{"nothing but the list's files is served, and none from outside", "./internal/host", "TestServeStopsAndStaysInside"},
	{"other names for the host: refused", "./internal/host", "TestOtherNames"},
	{"the host's memory is bounded", "./internal/host", "TestMemoryIsBounded"},
}

// proof runs them and prints a table.
func proof() error {
	fmt.Print("| what is proved | tests | outcome |\n|---|---|---|\n")
	failed := 0
	for _, c := range claims {
		cmd := exec.Command("go", "test", "-count=1", "-v", "-run", "^("+c.tests+")$", c.pkg)
		cmd.Env = append(os.Environ(), "FAULTLEAF_KILLS=200")
		out, err := cmd.CombinedOutput()
		outcome := outcomeOf(out)
		if err != nil || outcome == "" {
			outcome = "FAILS"
			failed++
		}
		fmt.Printf("| %s | %s %s | %s |\n", c.says, strings.TrimPrefix(c.pkg, "./"), c.tests, outcome)
	}
	if failed > 0 {
		return fmt.Errorf("%d of %d do not hold", failed, len(claims))
	}
	return nil
}

// outcomeOf counts what a test run says of its tests; "" if it says of none.
func outcomeOf(out []byte) string {
	passed, skipped := 0, ""
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		line := strings.TrimSpace(lines.Text())
		if strings.HasPrefix(line, "--- PASS") {
			passed++
		}
		if _, why, ok := strings.Cut(line, "_test.go:"); ok && skipped == "" {
			_, skipped, _ = strings.Cut(why, ": ")
		}
	}
	if bytes.Contains(out, []byte("--- SKIP")) {
		return "not tried here: " + skipped
	}
	if passed == 0 {
		return ""
	}
	return "holds"
}
