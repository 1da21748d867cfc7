//go:build !release

package core

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// parts of the tree that the browser binaries are built from.
var parts = []string{"go.mod", "go.sum", "calc", "search", "cmd/browser"}

// Get finds the binary in the cache or builds it.
func Get() (Core, error) {
	root, err := moduleRoot()
	if err != nil {
		return Core{}, err
	}
	tool, err := exec.LookPath("go")
	if err != nil {
		return Core{}, errors.New("the browser binary has to be built, but no Go toolchain is here; install Go 1.26 or newer, or use a release build of faultleaf, which carries it")
	}
	env, err := exec.Command(tool, "env", "GOROOT", "GOVERSION").Output()
	if err != nil {
		return Core{}, fmt.Errorf("the Go toolchain at %s does not answer: %w", tool, err)
	}
	goroot, version, _ := strings.Cut(strings.TrimSpace(string(env)), "\n")
	script, err := os.ReadFile(filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return Core{}, fmt.Errorf("the Go toolchain lacks lib/wasm/wasm_exec.js (%w); reinstall Go", err)
	}
	key, err := fingerprint(root, version)
	if err != nil {
		return Core{}, err
	}
	cache, err := cacheDir()
	if err != nil { // built anew each time, and kept nowhere
		if cache, err = os.MkdirTemp("", "faultleaf-"); err != nil {
			return Core{}, err
		}
		defer os.RemoveAll(cache)
	}
	c := Core{Script: script}
	for _, one := range []struct {
		command string
		binary  *Binary
	}{{"browser", &c.Wasm}, {"browser/trace", &c.Trace}, {"browser/find", &c.Find}} {
		name := strings.ReplaceAll(one.command, "/", "-") + "-" + key
		kept := filepath.Join(cache, name+".wasm")
		if begins(kept, magic) {
			*one.binary = Binary{name, func() ([]byte, error) { return os.ReadFile(kept) }}
			continue
		}
		b, err := build(tool, root, cache, one.command)
		if err == nil {
			err = keep(kept, b)
		}
		if err != nil {
			return Core{}, err
		}
		*one.binary = Of(name, b)
	}
	return c, nil
}

// begins tells whether a file begins with a text.
func begins(name, text string) bool {
	f, err := os.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	b := make([]byte, len(text))
	_, err = io.ReadFull(f, b)
	return err == nil && string(b) == text
}

func build(tool, root, cache, command string) ([]byte, error) {
	dir, err := os.MkdirTemp(cache, "build-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "browser.wasm")
	cmd := exec.Command(tool, "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", out, "./cmd/"+command)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=", "CGO_ENABLED=0")
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("the browser binary does not build: %w\n%s", err, said)
	}
	return os.ReadFile(out)
}

// moduleRoot is the source tree that this program was built from: where this
// file was compiled, or else the working folder or one above it.
func moduleRoot() (string, error) {
	if _, file, _, ok := runtime.Caller(0); ok {
		if root := filepath.Dir(filepath.Dir(filepath.Dir(file))); isModule(root) {
			return root, nil
		}
	}
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if isModule(dir) {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", errors.New("the source of faultleaf is not here, so the browser binary cannot be built; run from the source folder, or use a release build")
		}
		dir = up
	}
}

func isModule(dir string) bool {
	b, err := os.ReadFile(filepath.Join(dir, "go.mod"))
	return err == nil && strings.HasPrefix(string(b), "module faultleaf\n")
}

// fingerprint hashes all that the binary depends on. Test files and testdata do
// not count.
func fingerprint(root, version string) (string, error) {
	h := sha256.New()
	fmt.Fprintln(h, version)
	for _, part := range parts {
		err := filepath.WalkDir(filepath.Join(root, part), func(p string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() {
				if d.Name() == "testdata" {
					return fs.SkipDir
				}
				return nil
			}
			if strings.HasSuffix(p, "_test.go") {
				return nil
			}
			b, err := os.ReadFile(p)
			if err != nil {
				return err
			}
			rel, err := filepath.Rel(root, p)
			if err != nil {
				return err
			}
			fmt.Fprintf(h, "%s %d\n", filepath.ToSlash(rel), len(b))
			h.Write(b)
			return nil
		})
		if err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:10]), nil
}
