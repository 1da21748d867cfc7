package format_test

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"faultleaf/internal/format"
)

func compiled(t *testing.T, name string, schema []byte) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// value reads YAML as an editor would.
func value(t *testing.T, text string) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return plain(v)
}

func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			v[k] = plain(x)
		}
	case []any:
		for i, x := range v {
			v[i] = plain(x)
		}
	case uint64:
		return float64(v)
	case int64:
		return float64(v)
	}
	return v
}

func front(text string) string {
	if rest, ok := strings.CutPrefix(text, "---\n"); ok {
		text, _, _ = strings.Cut(rest, "\n---")
	}
	return text
}

var folders = map[string]string{"devices": "device", "faults": "fault", "blocks": "block", "checklists": "checklist", "pages": "page", "jobs": "job"}

func kindOf(file string) string {
	switch path.Base(file) {
	case "shop.yaml":
		return "shop"
	case "complaints.yaml":
		return "complaints"
	}
	return folders[path.Base(path.Dir(file))]
}

// TestSchema: every note of the starter shop and every example fits the schema of
// its kind, and a slip does not. The schema itself is one of draft 2020-12, as
// the library that compiles it checks.
func TestSchema(t *testing.T) {
	schemas := map[string]*jsonschema.Schema{}
	for _, k := range format.Kinds {
		schemas[k.Name] = compiled(t, k.Name+".json", k.Schema())
	}
	checked := map[string]int{}
	fits := func(file, text string) {
		kind := kindOf(file)
		if err := schemas[kind].Validate(value(t, front(text))); err != nil {
			t.Errorf("%s: %v", file, err)
		}
		checked[kind]++
	}
	for _, s := range format.Samples {
		fits(s.File, s.Text)
	}
	shop := os.DirFS("../..")
	_ = fs.WalkDir(shop, "content", func(p string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() && kindOf(p) != "" {
			b, err := fs.ReadFile(shop, p)
			if err != nil {
				t.Fatal(err)
			}
			fits(p, string(b))
		}
		return nil
	})
	for _, k := range format.Kinds {
		if checked[k.Name] == 0 {
			t.Errorf("no note of the kind %s was checked", k.Name)
		}
	}
	for kind, slip := range map[string]string{
		"fault":     "{title: T, device: d, block: b, cause: c, mend: {does: x, minutes: 3}, symptom: {a: always}}",
		"device":    "{title: T, blocks: [a], symptoms: {a: b}, tests: {x: {ask: a, covers: [a], power: of, minutes: 1, reads: [a, {b: , healthy: true}]}}}",
		"checklist": "{when: now}",
		"page":      "{title: {a: b}}",
		"job":       "{device: d, date: 2025-03-04, cause: c, outcome: mendet}",
		"block":     "{title: T, work: heats}",
		"shop":      "{name: n, id: a b, mains: 230 V, hertz: 50, currency: EUR, rate: 3}",
	} {
		if schemas[kind].Validate(value(t, slip)) == nil {
			t.Errorf("the slip %s passes as a %s", slip, kind)
		}
	}
}

// TestExamples: the example of every key fits its key, and every key has its
// words.
func TestExamples(t *testing.T) {
	seen := map[*format.Key]bool{}
	var check func(where string, keys format.Keys)
	var inside func(where string, v format.Value)
	inside = func(where string, v format.Value) {
		check(where, v.Keys)
		if v.Of != nil {
			inside(where, *v.Of)
		}
		for _, o := range v.Or {
			inside(where, o)
		}
	}
	check = func(where string, keys format.Keys) {
		names := map[string]bool{}
		for _, k := range keys {
			if names[k.Name] {
				t.Errorf("%s.%s stands in its table twice", where, k.Name)
			}
			names[k.Name] = true
			if seen[k] || k.Refused != "" {
				continue
			}
			seen[k] = true
			at := where + "." + k.Name
			if k.Help == "" || !strings.HasSuffix(k.Help, ".") {
				t.Errorf("%s has no sentence: %q", at, k.Help)
			}
			if k.From() > format.Latest {
				t.Errorf("%s is of a format to come", at)
			}
			if k.Example == "" && k.Name != "tests" {
				t.Errorf("%s has no example", at)
			}
			if k.Example != "" {
				one := &format.Kind{Name: k.Name, Keys: format.Keys{{Name: k.Name, Value: k.Value}}}
				if err := compiled(t, at+".json", one.Schema()).Validate(value(t, k.Name+": "+k.Example)); err != nil {
					t.Errorf("%s: %v", at, err)
				}
			}
			inside(at, k.Value)
		}
	}
	for _, k := range format.Kinds {
		check(k.Name, k.Keys)
	}
	for _, c := range format.Changes {
		if c.Format < 2 || c.Format > format.Latest {
			t.Errorf("the change %+v is of no format", c)
		}
	}
}
