//go:build !js

package finder

import (
	"encoding/json"
	"strings"
	"testing"

	"faultleaf/search"
	"faultleaf/search/build"
)

func has(t *testing.T, answer string, wants ...string) {
	t.Helper()
	if !json.Valid([]byte(answer)) {
		t.Fatalf("no JSON: %s", answer)
	}
	for _, w := range wants {
		if !strings.Contains(answer, w) {
			t.Errorf("%q is not in %s", w, answer)
		}
	}
}

func TestSearch(t *testing.T) {
	var f Finder
	has(t, f.Search(Question{Query: "cold"}), "not open yet")
	f.Take("words-0", nil)
	files, err := build.Write([]search.Document{{ID: "faults/a", Kind: "fault", Title: "Element \"tag\"\t\xff", Address: "faults/a.html", Symptoms: []search.Symptom{{Says: "The air stays cold"}}}}, search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	has(t, f.Open([]byte{1, 2, 3}), `"error"`)
	has(t, f.Open(files.Dictionary), `"ok":true`)
	// it says what it waits for, twice: for the words, then for the texts
	q := Question{Query: "cold ai", Typing: true, Every: true}
	for _, kind := range []string{"words-", "texts-"} {
		var a struct{ Waits []string }
		answer := f.Search(q)
		has(t, answer, `"waits":["`+kind)
		if err := json.Unmarshal([]byte(answer), &a); err != nil {
			t.Fatal(err)
		}
		// what cannot be fetched is said, and nothing is held back for it
		has(t, f.Search(Question{Query: q.Query, Missing: a.Waits}), `"kind":"trouble","text":"A part of the search index cannot be read`, "publish again.")
		for _, name := range a.Waits {
			f.Take(name, files.Shards[name])
		}
	}
	has(t, f.Search(q), `"id":"faults/a"`, `"hit":true`, `Element \"tag\"\u0009`, `"everyDevice":[]`, `"says":[]`)
	if len(f.came) > 0 {
		t.Errorf("%d shards are kept twice", len(f.came))
	}
}

// A page's script gives a question part by part.
func TestAnswer(t *testing.T) {
	var f Finder
	args := func(list ...string) (out [][]byte) {
		for _, a := range list {
			out = append(out, []byte(a))
		}
		return out
	}
	files, err := build.Write([]search.Document{{ID: "faults/a", Kind: "fault", Title: "Cold air", Address: "faults/a.html"}}, search.Speech{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	has(t, f.Answer("open", args("no dictionary")), `"error"`)
	has(t, f.Answer("open", args()), `"error"`, "nothing that the search answers")
	has(t, f.Answer("none", args("a")), `"error"`)
	has(t, f.Answer("code", args("https://x")), `"svg"`)
	has(t, f.Answer("open", [][]byte{files.Dictionary}), `"ok":true`)
	asked := args("cold", "3", "1", "1", "", "fault", "", "1", "")
	has(t, f.Answer("search", asked[:8]), `"error"`)
	has(t, f.Answer("search", append(asked, []byte("words-0"))), `"error"`) // a name without its shard
	for name, b := range files.Shards {
		asked = append(asked, []byte(name), b)
	}
	has(t, f.Answer("search", asked), `"id":"faults/a"`, `"everyDevice":[]`)
	q := question(args("heater blows\nno", "40", "-5", "", "kettle", "job", "fan", "", "words-a\ntexts-b"))
	if q.Limit != 40 || q.First != 0 || q.Typing || q.Every || q.Device != "kettle" || q.Kind != "job" || q.Here != "fan" || len(q.Missing) != 2 || q.Missing[1] != "texts-b" {
		t.Errorf("it is read as %+v", q)
	}
}

func TestSafely(t *testing.T) {
	has(t, Safely(func() string { panic("a slip") }), `"error"`)
}

// What is written reads back as what it was, whatever it is.
func FuzzQuote(f *testing.F) {
	f.Add("ohm Ω \"\\\x00\x1f\u2028")
	f.Fuzz(func(t *testing.T, s string) {
		var w writer
		w.quote(s)
		var got string
		if err := json.Unmarshal([]byte(w.String()), &got); err != nil || got != strings.ToValidUTF8(s, "\ufffd") && !strings.Contains(got, "\ufffd") {
			t.Errorf("%q becomes %s: %v", s, w.String(), err)
		}
	})
}
