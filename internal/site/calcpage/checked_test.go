package calcpage

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/calc/calctest"
)

const calcFolder = "../../../calc"

var named = regexp.MustCompile(`(?m)^\s*Name:\s+"([a-z0-9-]+)",`)

// rooms finds the folder of every calculator by the name in its source.
func rooms(t *testing.T) map[string]string {
	files, err := filepath.Glob(calcFolder + "/*/*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), "&calc.Calculator{") || strings.HasSuffix(f, "_test.go") {
			continue
		}
		for _, m := range named.FindAllStringSubmatch(string(text), 1) {
			out[m[1]] = filepath.Dir(f)
		}
	}
	return out
}

// The record of the checks on the page is what they really give.
func TestChecked(t *testing.T) {
	folders := rooms(t)
	var b strings.Builder
	total, sum := 0, map[string]int{}
	for _, c := range all.Calculators {
		text, err := os.ReadFile(filepath.Join(folders[c.Name], "testdata", "cases.txt"))
		if err != nil {
			t.Errorf("%s: %v", c.Name, err)
			continue
		}
		got := calctest.Check(c, string(text))
		for _, w := range got.Wrong {
			t.Error(c.Name, w)
		}
		if got.Checks < 3 {
			t.Errorf("%s has %d checks; three are the least", c.Name, got.Checks)
		}
		total += got.Checks
		var apart []string
		counted := 0
		for _, s := range sorts {
			if n := got.Counts[s.Sort]; n > 0 {
				apart = append(apart, fmt.Sprint(n, " ", s.Sort))
				counted += n
				sum[s.Sort] += n
			}
		}
		if counted != got.Checks {
			t.Errorf("%s: %d checks, and %d by what they rest on", c.Name, got.Checks, counted)
		}
		fmt.Fprintf(&b, "%s: %d checks in %d cases: %s\n", c.Name, got.Checks, got.Cases, strings.Join(apart, ", "))
		for _, s := range got.Sources {
			b.WriteString("- " + s + "\n")
		}
		b.WriteString("\n")
	}
	t.Logf("%d checks of %d calculators agreed: %v", total, len(all.Calculators), sum)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile("checked.txt", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if b.String() != checkedText {
		t.Error("the record of the checks is out of date; UPDATE_GOLDEN=1 writes it anew")
	}
}

// Every row of a collection of published values that a program can pass or fail
// is named in some test of the calculators. The values that are tested stand in
// the rooms' testdata; the collection itself may lie in FAULTLEAF_DATA.
func TestEveryRowIsTested(t *testing.T) {
	folder := os.Getenv("FAULTLEAF_DATA")
	if folder == "" {
		t.Skip("FAULTLEAF_DATA names no folder with a collection of published values")
	}
	tables, _ := filepath.Glob(filepath.Join(folder, "checks", "*.csv"))
	if len(tables) == 0 {
		t.Skip("the folder that FAULTLEAF_DATA names holds no checks/*.csv")
	}
	var tests strings.Builder
	for _, pattern := range []string{"/*/*/testdata/cases.txt", "/*/*/*_test.go", "/*/*_test.go", "/*/*/testdata/*"} {
		files, _ := filepath.Glob(calcFolder + pattern)
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err == nil {
				tests.Write(text)
			}
		}
	}
	id := regexp.MustCompile(`(?m)^([A-Z]{4}-\d{3}),`)
	rows, missing := 0, []string{}
	for _, file := range tables {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range id.FindAllStringSubmatch(string(text), -1) {
			rows++
			if m[1] != "MOTR-005" && !strings.Contains(tests.String(), m[1]) { // a rule of thumb, no check
				missing = append(missing, m[1])
			}
		}
	}
	t.Logf("%d published rows", rows)
	if len(missing) > 0 {
		t.Errorf("%d published rows are in no test: %s", len(missing), strings.Join(missing, " "))
	}
}
