package door

import (
	"errors"

	"faultleaf/search"
)

type finder struct{ index *search.Index }

// Open opens the search index from the bytes of its files.
func (d *Door) Open(parts [][]byte, stats []byte) string {
	ix, err := search.Open(parts, stats)
	if err != nil {
		return fail(err)
	}
	d.find.index = ix
	return `{"ok":true}`
}

type findQuestion struct {
	Query  string `json:"query"`
	Limit  int    `json:"limit"`
	Typing bool   `json:"typing"`
	Device string `json:"device"`
	Kind   string `json:"kind"`
	Here   string `json:"here"`
	Every  bool   `json:"every"` // give all devices and kinds there are, too
}

type foundNote struct {
	ID           string  `json:"id"`
	Kind         string  `json:"kind"`
	KindText     string  `json:"kindText"`
	DeviceTitle  string  `json:"deviceTitle"`
	Address      string  `json:"address"`
	TitleParts   []piece `json:"titleParts"`
	SymptomParts []piece `json:"symptomParts"`
	Snippet      string  `json:"snippet"`
	FirstTest    string  `json:"firstTest"`
	FirstMinutes string  `json:"firstMinutes"`
	Hazard       string  `json:"hazard,omitempty"`
	Also         []also  `json:"also,omitempty"`
}

type piece struct {
	Text string `json:"text"`
	Hit  bool   `json:"hit,omitempty"`
}

type also struct {
	DeviceTitle string `json:"deviceTitle"`
	Address     string `json:"address"`
}

type choice struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

type line struct {
	Kind string `json:"kind"`
	Text string `json:"text"`
}

type answer struct {
	Hits        []foundNote `json:"hits"`
	Devices     []choice    `json:"devices"` // whose notes were found, the likeliest first
	Kinds       []choice    `json:"kinds"`
	Lines       []line      `json:"lines"`
	Vain        bool        `json:"vain,omitempty"`      // no note is about what was asked for
	Unwritten   string      `json:"unwritten,omitempty"` // the thing that no note is about
	Says        []string    `json:"says,omitempty"`      // ids of the complaints that were heard
	EveryDevice []choice    `json:"everyDevice,omitempty"`
}

// kindTexts name the kinds for people.
var kindTexts = map[string]string{
	"device": "device", "block": "common block", "fault": "fault", "checklist": "checklist", "job": "job sheet", "page": "page", "calculator": "calculator",
}

// mostDevices are offered as choices; the rest stands in the whole list.
const mostDevices = 5

// Search answers a query.
func (d *Door) Search(question string) string {
	var q findQuestion
	if err := read(question, &q); err != nil {
		return fail(err)
	}
	if d.find.index == nil {
		return fail(errors.New("the search index is not open yet"))
	}
	found := d.find.index.Ask(q.Query, search.Options{Limit: q.Limit, Typing: q.Typing, Device: q.Device, Kind: q.Kind, Here: q.Here})
	a := answer{Hits: []foundNote{}, Devices: choices(found.Devices[:min(len(found.Devices), mostDevices)]), Kinds: choices(found.Kinds), Lines: []line{},
		Vain: len(found.Hits) == 0 || found.Heard.Missing != "", Unwritten: found.Heard.Missing, Says: found.Heard.IDs}
	for _, h := range found.Hits {
		n := foundNote{
			ID: h.ID, Kind: h.Kind, KindText: kindTexts[h.Kind], DeviceTitle: h.DeviceTitle, Address: h.Address,
			TitleParts: pieces(h.Marks.Title, h.Title), SymptomParts: pieces(h.Marks.Symptom, h.Symptom),
			Snippet: h.Snippet, FirstTest: h.FirstTest, FirstMinutes: h.FirstMinutes, Hazard: h.Hazard,
		}
		for _, o := range h.Also {
			n.Also = append(n.Also, also(o))
		}
		a.Hits = append(a.Hits, n)
	}
	for _, l := range found.Heard.Lines() {
		a.Lines = append(a.Lines, line(l))
	}
	if q.Every {
		a.EveryDevice = choices(d.find.index.Devices())
	}
	return write(a)
}

func choices(list []search.Choice) []choice {
	out := []choice{}
	for _, c := range list {
		out = append(out, choice(c))
	}
	return out
}

func pieces(marked []search.Piece, whole string) []piece {
	out := []piece{}
	for _, p := range marked {
		out = append(out, piece{p.Text, p.Match})
	}
	if len(out) == 0 && whole != "" {
		out = append(out, piece{Text: whole})
	}
	return out
}
