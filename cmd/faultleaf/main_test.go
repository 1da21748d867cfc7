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
