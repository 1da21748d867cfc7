package note

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
	"faultleaf/internal/format"
)

// samples are the examples of the format's tables as a shop.
func samples() fstest.MapFS {
	shop := fstest.MapFS{}
	for _, s := range format.Samples {
		shop[s.File] = &fstest.MapFile{Data: []byte(s.Text)}
	}
	return shop
}

// TestSamples: the examples that teach the format hold no mistake.
func TestSamples(t *testing.T) {
	set, mistakes, _ := Load(samples(), all.Find)
	if len(mistakes) > 0 {
		t.Fatal(printed(mistakes))
	}
	if len(set.FaultsOf("soup-warmer")) != 1 || len(set.FaultsOf("fan-heater")) != 1 {
		t.Error("a fault of the examples is lost")
	}
}

// TestTables: a reader asks for no key that is in no table, and for every key
// that is. What only the expansion of common blocks reads it asks for by name.
func TestTables(t *testing.T) {
	read := map[*format.Key]bool{}
	asked = func(keys format.Keys, k *format.Key) {
		if keys.Find(k.Name) != k {
			t.Errorf("a reader asks for “%s”, and its table has only %v", k.Name, keys.Names(true))
		}
		read[k] = true
	}
	defer func() { asked = nil }()
	Load(samples(), all.Find)
	Load(good(t), findWire)
	Load(os.DirFS("../.."), all.Find)

	expansion := ""
	files, _ := filepath.Glob("../../calc/blocks/*.go")
	files = append(files, "blocks.go")
	for _, f := range files {
		if !strings.HasSuffix(f, "_test.go") {
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			expansion += string(b)
		}
	}
	var check func(where string, keys format.Keys, ofBlocks bool)
	var inside func(where string, v format.Value, ofBlocks bool)
	inside = func(where string, v format.Value, ofBlocks bool) {
		check(where, v.Keys, ofBlocks)
		if v.Of != nil {
			inside(where, *v.Of, ofBlocks)
		}
		for _, o := range v.Or {
			inside(where, o, ofBlocks)
		}
	}
	check = func(where string, keys format.Keys, ofBlocks bool) {
		for _, k := range keys {
			at := where + "." + k.Name
			blocks := ofBlocks || k.In == format.OfBlocks
			switch {
			case k.Refused != "" || read[k]:
			case blocks && strings.Contains(expansion, `"`+k.Name+`"`):
			default:
				t.Errorf("%s is in the tables, and nothing reads it", at)
			}
			inside(at, k.Value, blocks)
		}
	}
	for _, k := range format.Kinds {
		check(k.Name, k.Keys, k.Name == "block")
	}
}

// TestNoStrayKeys: the starter's notes use no key that the tables do not have; the
// reader would refuse it, and this shows that it looks.
func TestNoStrayKeys(t *testing.T) {
	shop := samples()
	for file, f := range shop {
		text := string(f.Data)
		switch {
		case strings.HasPrefix(text, "---\n"):
			text = "---\nnonsense: 1\n" + text[4:]
		case strings.HasSuffix(file, "complaints.yaml"):
			text += "x: {says: X, nonsense: 1}\n"
		default:
			text = "nonsense: 1\n" + text
		}
		shop[file] = &fstest.MapFile{Data: []byte(text)}
	}
	_, mistakes, _ := Load(shop, all.Find)
	var told []string
	for _, m := range mistakes {
		if !strings.HasPrefix(m.Says, "“nonsense” is not known here") {
			t.Errorf("%v", m)
		}
		told = append(told, m.File)
	}
	for file := range shop {
		if !slices.Contains(told, file) {
			t.Errorf("%s: a stray key passes", file)
		}
	}
}

// TestNewerFormat: notes of a format to come are one sentence, whatever they hold.
func TestNewerFormat(t *testing.T) {
	shop := samples()
	shop["content/shop.yaml"] = &fstest.MapFile{Data: []byte("name: X\nformat: 9\nshelves: [a]\nmains: many\n")}
	shop["content/faults/x.md"] = &fstest.MapFile{Data: []byte("---\nnew: thing\n---\n")}
	_, mistakes, remarks := Load(shop, all.Find)
	want := "content/shop.yaml:2:9: these notes are of format 9, and this faultleaf knows formats up to 2; install a newer faultleaf; nothing else was looked at\n"
	if got := printed(mistakes); got != want || len(remarks) > 0 {
		t.Errorf("%s, wanted %s", got, want)
	}
}
