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
}

type piece struct {
	Text string `json:"text"`
	Hit  bool   `json:"hit,omitempty"`
}

// kindTexts name the kinds for people.
var kindTexts = map[string]string{
	"device": "device", "fault": "fault", "checklist": "checklist", "job": "job sheet", "page": "page", "calculator": "calculator",
}

// Search answers a query.
func (d *Door) Search(question string) string {
	var q findQuestion
	if err := read(question, &q); err != nil {
		return fail(err)
	}
	if d.find.index == nil {
		return fail(errors.New("the search index is not open yet"))
	}
	hits := d.find.index.Search(q.Query, search.Options{Limit: q.Limit, Typing: q.Typing, Device: q.Device, Kind: q.Kind})
	found := []foundNote{}
	for _, h := range hits {
		found = append(found, foundNote{
			ID: h.ID, Kind: h.Kind, KindText: kindTexts[h.Kind], DeviceTitle: h.DeviceTitle, Address: h.Address,
			TitleParts: pieces(h.Marks.Title, h.Title), SymptomParts: pieces(h.Marks.Symptom, h.Symptom),
			Snippet: h.Snippet, FirstTest: h.FirstTest, FirstMinutes: h.FirstMinutes,
		})
	}
	return write(map[string]any{"hits": found})
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
