// Package layers holds the test that keeps the direction of imports.
package layers

import (
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// room is what every calculator may import.
const room = "calc calc/quantity calc/draw calc/reading"

// may lists, from the bottom up, what each part of the house may import of the
// house; a part also covers the packages below it. What is not listed here may
// not exist.
var may = []struct{ part, imports string }{
	{"calc/quantity", ""},
	{"calc/inorder", ""},
	{"calc/draw", "calc/quantity calc/inorder"},
	{"calc/draw/qr", ""},                            // codes on paper and in a terminal
	{"calc/draw/circuit", "calc/draw calc/inorder"}, // a chain of blocks, drawn
	{"calc/draw/looks", ""},                         // how faults look; never in the browser's binaries: the pages and a payload carry them
	{"calc/reading", "calc/quantity"},
	{"calc/root", ""},
	{"calc/diode", ""},
	{"calc/trace/solve", "calc/inorder"}, // knows no device
	{"calc/trace", "calc/quantity calc/inorder calc/reading calc/trace/solve"},
	{"calc/trace/say", "calc/quantity calc/trace"}, // every sentence of the trace
	{"calc/trace/drawn", "calc/quantity calc/inorder calc/draw calc/draw/circuit calc/trace calc/trace/say"},
	{"calc/trace/model", "calc/trace/solve"},
	{"calc/blocks", "calc calc/quantity calc/reading calc/trace"}, // a device made of common blocks; the trace knows nothing of them
	{"calc", "calc/quantity calc/draw calc/reading"},
	{"calc/sources", ""}, // never in the browser: a page cites by id, and publishing looks it up
	{"calc/calctest", "calc calc/quantity calc/reading calc/sources"},
	{"calc/all", "calc calc/supply calc/winding calc/thermal calc/passive calc/heat calc/worth calc/battery calc/protection calc/wire calc/semiconductor calc/sensor calc/audio calc/meter calc/safety"},
	// a shelf may hold formulas that its rooms share, and those of another shelf may use;
	// that no room imports another is TestRoomsStandAlone's work
	{"calc/supply", room + " calc/supply calc/heat calc/root calc/diode"}, // a series lamp obeys the lamp law
	{"calc/winding", room + " calc/supply"},                               // what a transformer loses by its size
	{"calc/thermal", room},
	{"calc/passive", room + " calc/passive"},
	{"calc/heat", room + " calc/heat"},
	{"calc/worth", room},
	{"calc/battery", room + " calc/battery"},
	{"calc/protection", room + " calc/root"},
	{"calc/wire", room + " calc/wire"},
	{"calc/semiconductor", room + " calc/passive calc/diode"}, // made values of resistors,
	{"calc/sensor", room + " calc/root"},
	{"calc/audio", room},
	{"calc/meter", room},
	{"calc/safety", room + " calc/passive calc/safety calc/wire"},
	{"search/words", ""},
	{"search/speech", "search/words"},
	{"search/internal/file", "search/words search/speech"},
	{"search/internal/segment", "search/internal/file search/words search/speech"},
	{"search", "search/words search/speech search/internal/file"},
	{"search/build", "search search/words search/speech search/internal/file search/internal/segment"},
	{"search/judge", ""}, // tests only
	{"faultleaf", ""},    // the notes that a new shop begins with
	{"templates", ""},
	{"internal/press", ""}, // executes them
	{"internal/problem", ""},
	{"internal/core", ""},
	{"internal/whole", ""},
	{"internal/watch", ""},
	{"internal/stat", ""},
	{"internal/published", "internal/stat"},
	{"internal/picture", ""},
	{"internal/history", "internal/problem"},
	{"internal/parcel", "internal/note"},
	{"internal/inbox", "internal/whole"},
	{"internal/host", "internal/published calc/draw/qr"},
	{"internal/layers", ""},
	{"internal/licence", ""}, // a test only
	{"internal/bigshop", ""}, // a shop to measure with
	{"cmd/measure", "internal/bigshop"},
	{"internal/format", "calc/blocks calc/draw/circuit calc/draw/looks calc/sources calc/trace"}, // the tables of what notes may hold
	{"internal/outfit", "internal/format internal/whole"},
	{"internal/note", "internal/format calc calc/blocks calc/draw/circuit calc/quantity calc/reading calc/sources calc/trace internal/problem internal/picture internal/history search/words"},
	{"internal/site/record", ""}, // what was made before
	{"internal/site/page", "internal/press internal/site/record calc calc/quantity calc/draw/looks calc/trace internal/note search templates calc/trace/say"},
	{"internal/site", "internal/press internal/site/record internal/format calc/draw/circuit calc/draw/looks calc/trace/drawn internal/history calc calc/blocks calc/draw calc/quantity calc/sources calc/trace calc/all internal/core internal/host internal/note internal/problem internal/published internal/stat internal/site/page internal/site search search/build templates calc/trace/say"},
	{"internal/effect", "calc/quantity calc/trace calc/trace/say"}, // what a changed note does to the advice
	{"internal/openworld", ""},                                     // tests only
	{"internal/visit", ""},                                         // tests only; they use whatever a reader does
	{"cmd/browser/internal/serve", ""},
	{"cmd/browser/internal/door", "cmd/browser/internal/serve calc calc/reading calc/trace"},
	{"cmd/browser/internal/reckoner", "cmd/browser/internal/door calc calc/all calc/blocks calc/quantity calc/reading calc/trace"},
	{"cmd/browser/internal/tracer", "cmd/browser/internal/door calc calc/draw calc/draw/circuit calc/inorder calc/quantity calc/trace calc/trace/say calc/trace/drawn"},
	{"cmd/browser/internal/finder", "search calc/draw/qr"},
	{"cmd/browser/find", "cmd/browser/internal/serve cmd/browser/internal/finder"},
	{"cmd/browser/trace", "cmd/browser/internal/door cmd/browser/internal/tracer"},
	{"cmd/browser", "cmd/browser/internal/door cmd/browser/internal/reckoner"},
	{"cmd/faultleaf", "internal/effect internal/history internal/format internal/outfit internal/whole internal/watch internal/inbox internal/parcel internal/published calc calc/all calc/blocks calc/quantity calc/trace calc/trace/model calc/trace/say calc/trace/solve cmd/faultleaf internal/host internal/note internal/problem internal/site search"},
}

// unwanted in the browser binary, each with its reason.
var unwanted = map[string]string{
	"github.com/blevesearch/bleve/v2": "the library that writes the index is not needed to read it, and doubles the binary",
	"github.com/yuin/goldmark":        "notes are rendered at publish",
	"html/template":                   "4.5 MB",
	"github.com/spf13/cobra":          "there is no command line in a page",
	"os/exec":                         "there are no processes in a page",
	"net/http":                        "the page fetches by itself",
	"faultleaf/calc/sources":          "the list of documents is looked up at publish",
	"text/template":                   "reflection keeps dead code alive",
	"github.com/blevesearch/zapx/v16": "the index has a form of its own, which needs no reader of segments",
}

// unwantedInTrace is what the binary of the trace does without besides: a trace that was
// shared waits for it.
var unwantedInTrace = map[string]string{
	"faultleaf/calc/all": "calculators are the other binary",
	"rsc.io/qr":          "codes are drawn by the search's binary, which every page has",
}

// unwantedInFind is what the binary of the search, which every visitor waits for,
// does without besides.
var unwantedInFind = map[string]string{
	"encoding/json":  "reflection keeps dead code alive: half as much again",
	"faultleaf/calc": "calculators and trace are other binaries",
	"fmt":            "with os and reflection a twentieth more",
}

type pkg struct {
	ImportPath string
	Imports    []string
	Deps       []string
}

func list(t *testing.T, env []string, args ...string) []pkg {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-json=ImportPath,Imports,Deps"}, args...)...)
	cmd.Dir = "../.."
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var pkgs []pkg
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p pkg
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		pkgs = append(pkgs, p)
	}
	return pkgs
}

// partOf is the longest listed part that holds a package.
func partOf(path string) (string, string) {
	best, imports := "", ""
	for _, m := range may {
		if (path == m.part || strings.HasPrefix(path, m.part+"/")) && len(m.part) > len(best) {
			best, imports = m.part, m.imports
		}
	}
	return best, imports
}

func TestDirection(t *testing.T) {
	for _, p := range list(t, nil, "./...") {
		path := strings.TrimPrefix(p.ImportPath, "faultleaf/")
		part, imports := partOf(path)
		if part == "" {
			t.Errorf("%s is in no part of the house; add it to the table", path)
			continue
		}
		allowed := strings.Fields(imports)
		for _, imp := range p.Imports {
			to, ours := strings.CutPrefix(imp, "faultleaf/")
			if !ours {
				continue
			}
			target, _ := partOf(to)
			ok := false
			for _, a := range allowed {
				// a part in the list stands for itself; what lies deeper and is
				// listed on its own must be named on its own
				ok = ok || a == target
			}
			if !ok {
				t.Errorf("%s imports %s, which lies above it or beside it", path, to)
			}
		}
	}
}

// TestNothingAllowedInVain keeps the table as narrow as the house is: what it allows and
// nobody does would be the way in for a cycle of ideas.
func TestNothingAllowedInVain(t *testing.T) {
	used := map[[2]string]bool{}
	for _, p := range append(list(t, nil, "./..."), list(t, []string{"GOOS=js", "GOARCH=wasm"}, "./cmd/browser/...")...) {
		part, _ := partOf(strings.TrimPrefix(p.ImportPath, "faultleaf/"))
		for _, imp := range p.Imports {
			if to, ours := strings.CutPrefix(imp, "faultleaf/"); ours {
				target, _ := partOf(to)
				used[[2]string{part, target}] = true
			}
		}
	}
	for _, m := range may {
		for _, to := range strings.Fields(strings.TrimPrefix(m.imports, room)) {
			if !used[[2]string{m.part, to}] {
				t.Errorf("%s may import %s, and does not; take it out of the table", m.part, to)
			}
		}
	}
}

// besideRoom is the room that a room imports though it may not: what two rooms share lies
// in the package of their shelf. "" for none.
func besideRoom(path string, imports []string) string {
	for _, imp := range imports {
		to := strings.TrimPrefix(imp, "faultleaf/")
		if isRoom(path) && isRoom(to) && to != imp && !strings.HasPrefix(path, to+"/") {
			return to
		}
	}
	return ""
}

// isRoom: calc/SHELF/ROOM and what lies below it; calc/trace/... is no shelf.
func isRoom(path string) bool {
	parts := strings.Split(path, "/")
	return len(parts) >= 3 && parts[0] == "calc" && parts[1] != "trace" && parts[1] != "draw"
}

func TestRoomsStandAlone(t *testing.T) {
	for _, p := range list(t, nil, "./calc/...") {
		path := strings.TrimPrefix(p.ImportPath, "faultleaf/")
		if to := besideRoom(path, p.Imports); to != "" {
			t.Errorf("%s imports the room %s; put what they share into the package of a shelf", path, to)
		}
	}
	// and the test sees what it is for
	for _, c := range []struct{ path, imp, want string }{
		{"calc/supply/pins", "faultleaf/calc/supply/plate", "calc/supply/plate"},
		{"calc/supply/pins", "faultleaf/calc/heat/lamplaw", "calc/heat/lamplaw"},
		{"calc/supply/pins", "faultleaf/calc/supply", ""},
		{"calc/supply/pins", "faultleaf/calc/quantity", ""},
		{"calc/supply/pins", "calc/supply/plate", ""}, // another module's
		{"calc/all", "faultleaf/calc/supply/pins", ""},
	} {
		if got := besideRoom(c.path, []string{c.imp}); got != c.want {
			t.Errorf("%s importing %s: %q, want %q", c.path, c.imp, got, c.want)
		}
	}
}

func TestBrowserBinaryStaysSmall(t *testing.T) {
	for _, p := range list(t, []string{"GOOS=js", "GOARCH=wasm"}, "./cmd/browser", "./cmd/browser/trace", "./cmd/browser/find") {
		for _, dep := range p.Deps {
			why, bad := unwanted[dep]
			if strings.HasSuffix(p.ImportPath, "/trace") && !bad {
				why, bad = unwantedInTrace[dep]
			}
			if strings.HasSuffix(p.ImportPath, "/find") && !bad {
				why, bad = unwantedInFind[dep]
			}
			if bad {
				t.Errorf("%s contains %s: %s", p.ImportPath, dep, why)
			}
		}
	}
}

// The arithmetic core does no input or output and asks no clock.
func TestCoreIsPure(t *testing.T) {
	for _, p := range list(t, nil, "./calc/...") {
		path := strings.TrimPrefix(p.ImportPath, "faultleaf/")
		if strings.HasPrefix(path, "calc/calctest") || path == "calc/draw/drawtest" || path == "calc/trace/model" || path == "calc/sources" {
			continue // helpers of tests, of publishing and of the command line
		}
		for _, imp := range p.Imports {
			switch imp {
			case "os", "io", "time", "net", "net/http", "math/rand", "math/rand/v2", "fmt", "log":
				t.Errorf("%s imports %s", path, imp)
			}
		}
	}
}
