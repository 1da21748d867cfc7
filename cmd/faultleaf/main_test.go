package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"faultleaf/cmd/faultleaf/internal/env"
)

// The scripts in testdata/script call the whole program.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"faultleaf": main})
}

func TestScripts(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: os.Getenv("UPDATE_GOLDEN") != "",
		Setup: func(e *testscript.Env) error {
			e.Setenv("SHOP", root) // the starter shop
			e.Setenv("FORMAT1", filepath.Join(root, "cmd/faultleaf/testdata/format-1"))
			e.Setenv("PICTURES", filepath.Join(root, "internal/picture/testdata"))
			for _, name := range []string{"HOME", "GOCACHE", "GOMODCACHE", "GOPATH", "XDG_CACHE_HOME"} {
				if v := os.Getenv(name); v != "" {
					e.Setenv(name, v)
				}
			}
			return nil
		},
	})
}

// Every command has its help and no command ends in a panic on odd words.
func TestOddWords(t *testing.T) {
	for _, args := range [][]string{{}, {"nothing"}, {"calc", "nothing"}, {"calc", "element", "x"}, {"calc", "element", "power=-3kW"}, {"calc", "element", "power=1", "power=2"},
		{"trace"}, {"trace", "nothing", "--from", "../.."}, {"trace", "--model", "missing.json", "--case", "a"}, {"lookup"}, {"lookup", "x", "--limit", "0"}, {"inspect", "--from", "nowhere"},
		{"publish", "too", "many"}, {"note", "Bad Name", "--device", "x"}, {"host", "--port", "banana"}, {"calc", "--all"}, {"outfit"}} {
		var out, errs bytes.Buffer
		status := run(&env.Env{Context: context.Background(), In: strings.NewReader(""), Out: &out, Err: &errs}, args)
		if len(args) > 0 && status == 0 {
			t.Errorf("%v: status 0", args)
		}
		if strings.Contains(errs.String(), "panic") || len(args) > 0 && errs.Len() == 0 {
			t.Errorf("%v says %q", args, errs.String())
		}
	}
}

// The commands of the README by which a shop begins are those that the script tries, and
// fewer than ten.
func TestReadmeBegins(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	script, err := os.ReadFile("testdata/script/newshop.txt")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(readme), "## Your own shop\n")
	section, _, _ = strings.Cut(section, "\n## ")
	n := 0
	for _, line := range strings.Split(section, "\n") {
		command, ok := strings.CutPrefix(line, "    ")
		if !ok {
			continue
		}
		command, _, _ = strings.Cut(command, "  #")
		n++
		if command = strings.TrimSpace(command); !strings.Contains(string(script), command+"\n") {
			t.Errorf("no script tries: %s", command)
		}
	}
	if n == 0 || n >= 10 {
		t.Errorf("%d commands", n)
	}
}
