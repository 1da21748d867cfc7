package file

import (
	"encoding/binary"
	"math"

	"faultleaf/search/speech"
)

// Record is what is kept of a note to show it. What else a hit is to show becomes
// one more of its texts.
type Record struct {
	ID, Title, Address, DeviceTitle, Text, FirstTest, FirstMinutes, Hazard, Chain string
	Symptoms                                                                      []Symptom
}

// Symptom is a spoken sentence and the complaints that it is.
type Symptom struct {
	Says string
	Is   []speech.Weighted
}

func (r *Record) texts() []*string {
	return []*string{&r.ID, &r.Title, &r.Address, &r.DeviceTitle, &r.Text, &r.FirstTest, &r.FirstMinutes, &r.Hazard, &r.Chain}
}

// recordForm tells shards of other texts apart; the dictionary carries it.
var recordForm = byte(len(new(Record).texts()))

// Append writes the record behind others of a shard, its length first.
func (r *Record) Append(shard []byte) []byte {
	var b []byte
	for _, s := range r.texts() {
		b = appendText(b, *s)
	}
	b = appendCount(b, len(r.Symptoms))
	for _, s := range r.Symptoms {
		b = appendText(b, s.Says)
		b = appendWeighted(b, s.Is)
	}
	return append(appendCount(shard, len(b)), b...)
}

// FindRecord reads the n-th record of a shard of texts, counted from 0.
func FindRecord(shard []byte, n int) (*Record, error) {
	in := reader{b: shard}
	for ; n > 0; n-- {
		in.take(in.uvarint())
	}
	in.b = in.take(in.uvarint())
	var r Record
	for _, s := range r.texts() {
		*s = in.text()
	}
	for k := in.count(); k > 0 && !in.bad; k-- {
		r.Symptoms = append(r.Symptoms, Symptom{in.text(), in.weighted()})
	}
	if err := in.end(); err != nil {
		return nil, err
	}
	return &r, nil
}

func appendWeighted(b []byte, list []speech.Weighted) []byte {
	b = appendCount(b, len(list))
	for _, w := range list {
		b = appendWeight(appendText(b, w.Name), w.Weight)
	}
	return b
}

func (r *reader) weighted() (out []speech.Weighted) {
	for n := r.count(); n > 0 && !r.bad; n-- {
		out = append(out, speech.Weighted{Name: r.text(), Weight: r.weight()})
	}
	return out
}

// Weights are written in thousandths.
func appendWeight(b []byte, w float64) []byte {
	return binary.AppendUvarint(b, uint64(math.Round(1000*min(max(w, 0), 1))))
}

func (r *reader) weight() float64 { return float64(r.number(1001)) / 1000 }
