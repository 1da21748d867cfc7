// Package finder answers the search box of a page. It knows nothing of JavaScript,
// so the same answers are tested natively; and it writes its JSON by itself, because
// a library for it would make the binary, which every visitor waits for, larger by
// half.
package finder

import (
	"errors"
	"strings"

	"faultleaf/search"
)

// Finder holds the index that a page has opened, and the shards that came for it.
type Finder struct {
	index   *search.Index
	came    map[string][]byte
	missing []string // shards that could not be fetched for the present question
}

// Question is what a page asks.
type Question struct {
	Query              string
	Limit, First       int  // at most so many hits, and how many of them are given now
	Typing             bool // the last word may be unfinished
	Device, Kind, Here string
	Every              bool     // give all devices there are, too
	Missing            []string // shards that cannot be fetched
}

// Answer answers what a page's script asks for by name: "open", with the dictionary; "code", with an
// address; "search", with a question, part by part, and the shards that came for it, each as its name and
// its bytes. JSON comes back.
func (f *Finder) Answer(what string, args [][]byte) string {
	switch {
	case what == "open" && len(args) == 1:
		return f.Open(args[0])
	case what == "code" && len(args) == 1:
		return Code(string(args[0]))
	case what == "search" && len(args) >= parts && (len(args)-parts)%2 == 0:
		for shards := args[parts:]; len(shards) > 0; shards = shards[2:] {
			f.Take(string(shards[0]), shards[1])
		}
		return f.Search(question(args))
	}
	return fail(errors.New("this is nothing that the search answers"))
}

// parts of a question: query, limit, first, typing, device, kind, here, every, and the shards that cannot be
// fetched, one a line. What is not there is empty, as is what does not hold.
const parts = 9

func question(p [][]byte) Question {
	q := Question{Query: string(p[0]), Limit: number(p[1]), First: number(p[2]), Typing: len(p[3]) > 0,
		Device: string(p[4]), Kind: string(p[5]), Here: string(p[6]), Every: len(p[7]) > 0}
	if len(p[8]) > 0 {
		q.Missing = strings.Split(string(p[8]), "\n")
	}
	return q
}

// number reads a small number, 0 for what is none.
func number(b []byte) int {
	n := 0
	for _, c := range b {
		if c < '0' || c > '9' || n > 1000 {
			return 0
		}
		n = n*10 + int(c-'0')
	}
	return n
}

// Open opens the index from its dictionary.
func (f *Finder) Open(dictionary []byte) string {
	f.came = map[string][]byte{}
	ix, err := search.Open(dictionary, f.shard)
	if err != nil {
		return fail(err)
	}
	f.index = ix
	return `{"ok":true}`
}

// Take takes a shard that was fetched.
func (f *Finder) Take(name string, b []byte) {
	if f.came != nil {
		f.came[name] = b
	}
}

// shard gives one that came, once: the index keeps what it needs.
func (f *Finder) shard(name string) ([]byte, error) {
	if b, ok := f.came[name]; ok {
		delete(f.came, name)
		return b, nil
	}
	for _, m := range f.missing {
		if m == name {
			return nil, errors.New("it cannot be fetched")
		}
	}
	return nil, search.Later
}

// kindText names a kind for people.
func kindText(kind string) string {
	switch kind {
	case "block":
		return "common block"
	case "job":
		return "job sheet"
	}
	return kind
}

// mostDevices are offered as choices; the rest stands in the whole list.
const mostDevices = 5

// Search answers a query, or says in "waits" which shards it waits for.
func (f *Finder) Search(q Question) string {
	if f.index == nil {
		return fail(errors.New("the search index is not open yet"))
	}
	f.missing = q.Missing
	found := f.index.Ask(q.Query, search.Options{Limit: q.Limit, First: q.First, Typing: q.Typing, Device: q.Device, Kind: q.Kind, Here: q.Here})
	var w writer
	if len(found.Waits) > 0 {
		w.object(func() {
			w.list("waits", len(found.Waits), func(i int) { w.quote(found.Waits[i]) })
		})
		return w.String()
	}
	w.object(func() {
		w.list("hits", len(found.Hits), func(i int) { w.hit(&found.Hits[i]) })
		w.choices("devices", found.Devices[:min(len(found.Devices), mostDevices)]) // whose notes were found, the likeliest first
		w.choices("kinds", found.Kinds)
		lines := found.Heard.Lines()
		if found.Trouble != nil {
			lines = append(lines, search.Line{Kind: "trouble", Text: sentence(found.Trouble)})
		}
		w.list("lines", len(lines), func(i int) {
			w.object(func() { w.text("kind", lines[i].Kind); w.text("text", lines[i].Text) })
		})
		w.yes("vain", found.Trouble == nil && (len(found.Hits) == 0 || found.Heard.Missing != "")) // no note is about what was asked for
		w.some("unwritten", found.Heard.Missing)                                                   // the thing that no note is about
		w.list("says", len(found.Heard.IDs), func(i int) { w.quote(found.Heard.IDs[i]) })          // complaints that were heard
		if q.Every {
			w.choices("everyDevice", f.index.Devices())
		}
	})
	return w.String()
}

// hit writes one answer.
func (w *writer) hit(h *search.Hit) {
	w.object(func() {
		w.text("id", h.ID)
		w.text("kind", h.Kind)
		w.text("kindText", kindText(h.Kind))
		w.text("deviceTitle", h.DeviceTitle)
		w.text("address", h.Address)
		w.pieces("titleParts", h.Marks.Title, h.Title)
		w.pieces("symptomParts", h.Marks.Symptom, h.Symptom)
		w.text("snippet", h.Snippet)
		w.text("firstTest", h.FirstTest)
		w.text("firstMinutes", h.FirstMinutes)
		w.some("hazard", h.Hazard)
		w.some("chain", h.Chain)
		if len(h.Also) > 0 {
			w.list("also", len(h.Also), func(i int) {
				w.object(func() { w.text("deviceTitle", h.Also[i].DeviceTitle); w.text("address", h.Also[i].Address) })
			})
		}
	})
}

func (w *writer) pieces(name string, marked []search.Piece, whole string) {
	if len(marked) == 0 && whole != "" {
		marked = []search.Piece{{Text: whole}}
	}
	w.list(name, len(marked), func(i int) {
		w.object(func() { w.text("text", marked[i].Text); w.yes("hit", marked[i].Match) })
	})
}

func (w *writer) choices(name string, list []search.Choice) {
	w.list(name, len(list), func(i int) {
		w.object(func() { w.text("name", list[i].Name); w.text("title", list[i].Title) })
	})
}

// sentence begins an error as a sentence does.
func sentence(err error) string {
	s := err.Error()
	if s != "" && 'a' <= s[0] && s[0] <= 'z' {
		s = string(s[0]-'a'+'A') + s[1:]
	}
	return s + "."
}

// Safely runs one answer and turns a slip of ours into a sentence, so that a page
// stays usable.
func Safely(answer func() string) (text string) {
	defer func() {
		if recover() != nil {
			text = `{"error":{"says":"this could not be searched; that is a mistake in faultleaf, please report the words"}}`
		}
	}()
	return answer()
}

func fail(err error) string {
	var w writer
	w.object(func() { w.name("error"); w.object(func() { w.text("says", err.Error()) }) })
	return w.String()
}
