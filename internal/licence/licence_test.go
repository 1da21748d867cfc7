// Package licence holds the test that knows under which licence each library in
// the program stands.
package licence

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"
)

const list = "testdata/licences.txt"

// marks are sentences by which a licence's text is told, the longer ones first.
var marks = []struct{ licence, says string }{
	{"Apache-2.0", "Apache License"},
	{"MPL-2.0", "Mozilla Public License"},
	{"GPL", "GNU GENERAL PUBLIC LICENSE"},
	{"LGPL", "GNU LESSER GENERAL PUBLIC LICENSE"},
	{"BSD-3-Clause", "Neither the name of"},
	{"BSD-2-Clause", "Redistributions in binary form"},
	{"MIT", "Permission is hereby granted, free of charge"},
	{"ISC", "Permission to use, copy, modify, and/or distribute"},
}

// fine with the project's own licence (MIT), with their text beside the program.
var fine = map[string]bool{"Apache-2.0": true, "BSD-3-Clause": true, "BSD-2-Clause": true, "MIT": true, "ISC": true}

// Every library that is built into the program, for each machine a release is
// made for, stands in the list with its licence. UPDATE_GOLDEN=1 writes it.
func TestLibraries(t *testing.T) {
	found := map[string]string{}
	for _, goos := range []string{"linux", "windows", "darwin"} {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Dir}}{{end}}{{end}}", "./cmd/faultleaf")
		cmd.Dir = "../.."
		cmd.Env = append(os.Environ(), "GOOS="+goos, "CGO_ENABLED=0")
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		for s := bufio.NewScanner(strings.NewReader(string(out))); s.Scan(); {
			if module, dir, ok := strings.Cut(s.Text(), "\t"); ok {
				found[module] = licenceIn(dir)
			}
		}
	}
	var lines []string
	for module, licence := range found {
		if !fine[licence] {
			t.Errorf("%s stands under %q", module, licence)
		}
		lines = append(lines, fmt.Sprintf("%-14s %s\n", licence, module))
	}
	sort.Strings(lines)
	got := strings.Join(lines, "")
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(list, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(list)
	if err != nil || string(want) != got {
		t.Errorf("the libraries are\n%swhich %s does not say; run with UPDATE_GOLDEN=1 and read the diff", got, list)
	}
}

func licenceIn(dir string) string {
	names, _ := filepath.Glob(filepath.Join(dir, "[LlCc][IiOo][CcPp]*"))
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			continue
		}
		for _, m := range marks {
			if strings.Contains(strings.Join(strings.Fields(string(b)), " "), m.says) {
				return m.licence
			}
		}
	}
	return "no licence found"
}
