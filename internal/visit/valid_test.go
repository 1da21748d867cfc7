package visit

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Pages of every kind and the stylesheet pass the Nu checker. It is not part of this
// house: its file is named in FAULTLEAF_NU, or lies in node_modules (npm
// vnu-jar), and needs Java.
func TestValid(t *testing.T) {
	jar := os.Getenv("FAULTLEAF_NU")
	if jar == "" {
		jar = filepath.Join(shop, "node_modules", "vnu-jar", "build", "dist", "vnu.jar")
	}
	if _, err := os.Stat(jar); err != nil {
		t.Skip("the Nu checker is not installed: npm install --no-save vnu-jar puts it into node_modules")
	}
	java, err := exec.LookPath("java")
	if err != nil {
		t.Skip("the Nu checker needs Java, which is not installed")
	}
	to, err := published()
	if err != nil {
		t.Fatal(err)
	}
	check := func(args ...string) string {
		t.Helper()
		said, err := exec.Command(java, append([]string{"-Xss4m", "-jar", jar, "--errors-only", "--stdout"}, args...)...).Output()
		var ended *exec.ExitError
		if err != nil && !errors.As(err, &ended) {
			t.Fatal(err)
		}
		if err != nil && len(said) == 0 {
			t.Fatalf("the checker failed: %v: %s", err, ended.Stderr)
		}
		return strings.ReplaceAll(string(said), to, "")
	}
	var pages []string
	for _, p := range sample(t, to, 12) {
		pages = append(pages, filepath.Join(to, filepath.FromSlash(p)))
	}
	if says := check(pages...); says != "" {
		t.Errorf("pages:\n%.4000s", says)
	}
	if says := check("--css", filepath.Join(to, "faultleaf.css")); says != "" {
		t.Errorf("stylesheet:\n%.4000s", says)
	}
	// a check that cannot fail is none
	bad := filepath.Join(t.TempDir(), "bad.html")
	if err := os.WriteFile(bad, []byte("<!doctype html><title>x</title><p><div></p>"), 0o644); err != nil {
		t.Fatal(err)
	}
	if says := check(bad); says == "" {
		t.Error("the checker finds nothing wrong with a broken page")
	}
}
