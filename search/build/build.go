// Package build writes the index that package search reads. It is the only
// importer of bleve, whose analysis and documents feed zap segments; what a word
// is comes from search/words, wrapped as a bleve analyzer.
//
// Write takes these steps:
//
//  1. Sort the documents by ID and deal them to parts by a hash of the ID, so
//     that one changed note changes one part.
//  2. Cut each field into stemmed words and write each part as a zap segment,
//     its sections in a fixed order, so that equal notes give equal bytes.
//  3. Write the statistics over all parts: lengths of the fields for the ranking,
//     and every unstemmed word for unfinished words and slips.
package build

import (
	"bytes"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/document"
	index "github.com/blevesearch/bleve_index_api"
	zap "github.com/blevesearch/zapx/v16"

	"faultleaf/search"
	"faultleaf/search/internal/file"
	"faultleaf/search/speech"
	"faultleaf/search/words"
)

// Files are the files of an index. The same documents, in any order, give the
// same bytes.
type Files struct {
	Parts [][]byte // zap segments; a document's part follows from its ID
	Stats []byte
}

// perPart is about how many notes a part holds: small enough to send again when
// one note changed, large enough to keep the words' lists short in number.
const perPart = 1000

// Write makes the index of the documents and of how people speak of them. IDs must
// be unique and not empty.
func Write(docs []search.Document, say search.Speech) (*Files, error) {
	docs = slices.Clone(docs)
	slices.SortFunc(docs, func(a, b search.Document) int { return strings.Compare(a.ID, b.ID) })
	for i, d := range docs {
		switch {
		case d.ID == "":
			return nil, fmt.Errorf("the note %q has no id, so search cannot lead to it", d.Title)
		case i > 0 && docs[i-1].ID == d.ID:
			return nil, fmt.Errorf("two notes have the id %s; rename one", d.ID)
		}
	}

	stats := file.Stats{Words: words.Fingerprint(), Docs: len(docs), Heard: vocabulary(docs, say)}
	tally := tally{terms: map[string]int{}, lexicon: words.WithOwn(say.Words)}
	files := &Files{}
	for _, part := range deal(docs) {
		b, err := segment(part, &tally)
		if err != nil {
			return nil, fmt.Errorf("writing the search index: %w", err)
		}
		foot, err := file.ReadFooter(b)
		if err != nil {
			return nil, fmt.Errorf("writing the search index: %w", err)
		}
		files.Parts = append(files.Parts, b)
		stats.Parts = append(stats.Parts, foot.CRC)
	}
	for text, n := range tally.terms {
		stats.Terms = append(stats.Terms, file.Term{Text: text, Docs: n})
	}
	slices.SortFunc(stats.Terms, func(a, b file.Term) int { return strings.Compare(a.Text, b.Text) })
	for i, n := range tally.having {
		if n > 0 {
			stats.Mean[i] = tally.words[i] / n
		}
	}
	files.Stats = stats.Bytes()
	return files, nil
}

// deal gives each document its part. The number of parts is a power of two, so
// that a shop that grows splits each part in two instead of stirring all. Parts
// without a document are left out.
func deal(docs []search.Document) [][]search.Document {
	n := 1
	for n*perPart*3/2 < len(docs) {
		n *= 2
	}
	parts := make([][]search.Document, n)
	for _, d := range docs {
		h := fnv.New32a()
		io.WriteString(h, d.ID)
		sum := h.Sum32()
		i := int(sum^sum>>16) & (n - 1)
		parts[i] = append(parts[i], d)
	}
	return slices.DeleteFunc(parts, func(p []search.Document) bool { return len(p) == 0 })
}

// tally is what all parts together hold.
type tally struct {
	words, having [len(file.Fields)]float64 // words of each field; notes that have any in it
	terms         map[string]int            // notes that hold an unstemmed word
	lexicon       *words.Lexicon
}

// vocabulary gathers what can be heard: the complaints, and the names of the
// notes. Titles of common faults, lists, pages and calculators lead to them if they are all
// that is asked for.
func vocabulary(docs []search.Document, say search.Speech) speech.Vocabulary {
	v := speech.Vocabulary{Complaints: say.Complaints, Words: say.Words}
	listed := map[string]bool{}
	for _, d := range docs {
		if d.Device != "" && !listed[d.Device] {
			listed[d.Device] = true
			v.Devices = append(v.Devices, speech.Device{Name: d.Device, Title: called(d.DeviceTitle, docs)})
		}
		name := func(text, of string, weight float64, kind speech.Kind) {
			v.Names = append(v.Names, speech.Name{Text: text, Of: of, Weight: weight, Kind: kind})
		}
		switch d.Kind {
		case "device":
			name(d.Title, d.Device, 1, speech.OfDevice)
			for _, n := range d.Names {
				name(n.Name, d.Device, n.Weight, speech.OfDevice)
			}
		case "block", "checklist", "page", "calculator":
			name(d.Title, d.ID, titleWeight, speech.OfNote)
			for _, n := range d.Names {
				name(n.Name, d.ID, n.Weight, speech.OfNote)
			}
		}
		for _, n := range d.Unlike {
			name(n, "", 0, speech.OfNothing)
		}
		for _, n := range d.Shut {
			name(n, d.ID, 1, speech.OfShut)
		}
	}
	return v
}

// called is a device's title without what tells it from others of its sort, "Lamp"
// for "Lamp with a cord dimmer", where no other device is called so.
func called(title string, docs []search.Document) string {
	short := func(title string) string {
		for _, w := range []string{" with ", " and ", " for "} {
			title, _, _ = strings.Cut(title, w)
		}
		return title
	}
	for _, d := range docs {
		if d.DeviceTitle != title && short(d.DeviceTitle) == short(title) {
			return title
		}
	}
	return short(title)
}

// titleWeight is less than whole: a title leads to its note only where it is all
// that is asked for.
const titleWeight = 0.5

// segment writes one part and counts its words.
func segment(docs []search.Document, all *tally) ([]byte, error) {
	var list []index.Document
	for _, d := range docs {
		doc := document.NewDocument(d.ID)
		var says []string
		for _, s := range d.Symptoms {
			says = append(says, s.Says)
		}
		texts := [len(file.Fields)]string{d.Title, strings.Join(says, "\n"), d.Cause,
			d.DeviceTitle + "\n" + strings.ReplaceAll(d.Device, "-", " "), d.Text}
		// One name counts once, whether it stands here as id, name or title.
		if strings.EqualFold(d.DeviceTitle, strings.ReplaceAll(d.Device, "-", " ")) {
			texts[3] = d.DeviceTitle
		}
		if strings.EqualFold(d.DeviceTitle, d.Title) {
			texts[3] = ""
		}
		here := map[string]bool{}
		for i, name := range file.Fields {
			a := &analyzer{seen: here, lexicon: all.lexicon}
			f := document.NewTextFieldCustom(name, nil, []byte(texts[i]), index.IndexField, a)
			f.Analyze()
			if n := f.AnalyzedLength(); n > 0 {
				all.words[i] += float64(n)
				all.having[i]++
			}
			doc.AddField(f)
		}
		for text := range here {
			all.terms[text]++
		}
		whole := func(name, value string) {
			if value != "" {
				f := document.NewTextFieldCustom(name, nil, []byte(value), index.IndexField, nil)
				f.Analyze()
				doc.AddField(f)
			}
		}
		whole(file.KindOf, d.Kind)
		whole(file.DeviceIDs, d.Device)
		whole(file.Likes, d.Like)
		if len(d.Complaints) > 0 {
			f := document.NewTextFieldCustom(file.Complaints, nil, nil, index.IndexField, complaints(d.Complaints))
			f.Analyze()
			doc.AddField(f)
		}
		r := file.Record{Kind: d.Kind, Title: d.Title, Address: d.Address, Device: d.Device, DeviceTitle: d.DeviceTitle,
			Text: d.Text, FirstTest: d.FirstTest, FirstMinutes: d.FirstMinutes, Hazard: d.Hazard, Like: d.Like}
		for _, s := range d.Symptoms {
			r.Symptoms = append(r.Symptoms, file.Symptom(s))
		}
		doc.AddField(document.NewTextFieldCustom(file.Note, nil, r.Bytes(), index.StoreField, nil))
		doc.AddIDField()
		doc.VisitFields(func(f index.Field) {
			if f.Name() == "_id" {
				f.Analyze()
			}
		})
		list = append(list, doc)
	}
	seg, _, err := new(zap.ZapPlugin).New(list)
	if err != nil {
		return nil, err
	}
	w, ok := seg.(io.WriterTo)
	if !ok {
		return nil, errors.New("zapx gave a segment that cannot be written")
	}
	var b bytes.Buffer
	if _, err := w.WriteTo(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), file.SortSections(b.Bytes())
}

// analyzer is search/words as bleve wants it: stemmed words, with the unstemmed
// ones noted beside.
type analyzer struct {
	seen    map[string]bool
	lexicon *words.Lexicon
}

func (a *analyzer) Analyze(text []byte) analysis.TokenStream {
	var out analysis.TokenStream
	for i, w := range a.lexicon.Split(string(text)) {
		if !w.Pair {
			a.seen[w.Text] = true
		}
		out = append(out, &analysis.Token{Term: []byte(w.Stem), Start: w.Start, End: w.End, Position: i + 1, Type: analysis.AlphaNumeric})
	}
	return out
}

// complaints gives each id as often as its note is about it: the segment keeps
// its form, and how often is how strongly.
type complaints []search.Weighted

func (c complaints) Analyze([]byte) analysis.TokenStream {
	var out analysis.TokenStream
	for _, w := range c {
		for n := math.Round(file.Strength * min(w.Weight, 1)); n > 0; n-- {
			out = append(out, &analysis.Token{Term: []byte(w.Name), Position: len(out) + 1, Type: analysis.AlphaNumeric})
		}
	}
	return out
}
