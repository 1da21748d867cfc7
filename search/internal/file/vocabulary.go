package file

import (
	"encoding/binary"
	"math"

	"faultleaf/search/speech"
)

// A vocabulary is written as counted lists of texts; weights are in thousandths.

func appendVocabulary(b []byte, v *speech.Vocabulary) []byte {
	b = binary.AppendUvarint(b, uint64(len(v.Complaints)))
	for _, c := range v.Complaints {
		b = appendText(appendText(b, c.ID), c.Short)
		b = binary.AppendUvarint(b, uint64(len(c.Wordings)))
		for _, w := range c.Wordings {
			b = appendText(b, w)
		}
		b = appendWeighted(b, c.Finds)
	}
	b = binary.AppendUvarint(b, uint64(len(v.Devices)))
	for _, d := range v.Devices {
		b = appendText(appendText(b, d.Name), d.Title)
	}
	b = binary.AppendUvarint(b, uint64(len(v.Names)))
	for _, n := range v.Names {
		b = appendText(appendText(b, n.Text), n.Of)
		b = append(appendWeight(b, n.Weight), byte(n.Kind))
	}
	return appendText(b, v.Words)
}

func (r *reader) vocabulary(v *speech.Vocabulary) {
	for n := r.count(); n > 0 && !r.bad; n-- {
		c := speech.Complaint{ID: r.text(), Short: r.text()}
		for k := r.count(); k > 0 && !r.bad; k-- {
			c.Wordings = append(c.Wordings, r.text())
		}
		c.Finds = r.weighted()
		v.Complaints = append(v.Complaints, c)
	}
	for n := r.count(); n > 0 && !r.bad; n-- {
		v.Devices = append(v.Devices, speech.Device{Name: r.text(), Title: r.text()})
	}
	for n := r.count(); n > 0 && !r.bad; n-- {
		name := speech.Name{Text: r.text(), Of: r.text(), Weight: r.weight()}
		if b := r.take(1); b != nil {
			name.Kind = speech.Kind(b[0])
		}
		v.Names = append(v.Names, name)
	}
	v.Words = r.text()
}

func appendWeighted(b []byte, list []speech.Weighted) []byte {
	b = binary.AppendUvarint(b, uint64(len(list)))
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

func appendWeight(b []byte, w float64) []byte {
	return binary.AppendUvarint(b, uint64(math.Round(1000*min(max(w, 0), 1))))
}

func (r *reader) weight() float64 {
	v := r.uvarint()
	if v > 1000 {
		r.bad = true
		return 0
	}
	return float64(v) / 1000
}
