package reading

import (
	"errors"
	"strings"

	"faultleaf/calc/quantity"
)

// ParseAny reads what a meter shows where several kinds of amount are taken; a
// figure without a unit, and OL, are of the first kind.
func ParseAny(kinds []quantity.Kind, text string, m Meter) (Reading, error) {
	var first error
	for _, k := range kinds {
		r, err := Parse(k, text, m)
		if err == nil {
			return r, nil
		}
		if first == nil {
			first = err
		}
	}
	if a := (*Ambiguous)(nil); len(kinds) > 1 && !errors.As(first, &a) && quantity.KindOf(text) == "" {
		var names []string
		for _, k := range kinds {
			names = append(names, string(k))
		}
		first = errors.New(quote(text) + " is neither a " + strings.Join(names, " nor a ") + ", nor OL")
	}
	return Reading{}, first
}

// ParseRow reads several readings parted by blanks, semicolons, or commas with a
// blank behind: "0.52 0.51 OL 0.53 Ω". A unit behind the last one alone is that
// of all; without any they are of the first kind. The row holds one kind; OL
// takes that of the others.
func ParseRow(kinds []quantity.Kind, text string, m Meter) ([]Reading, error) {
	words := split(text)
	if len(words) == 0 {
		return nil, errors.New("the readings are missing; write them like 0.52 0.51 OL 0.53, with a blank between")
	}
	asIfOver(words)
	figures, united, unit, last := 0, 0, "", -1
	for i, w := range words {
		digits := strings.TrimLeft(w, "<>≤≥=0123456789.,-+/ ")
		if digits == w || w == "1 ." { // OL and the like
			continue
		}
		figures++
		last = i
		if digits != "" {
			united, unit = united+1, digits
		}
	}
	behindLast := united == 1 && last >= 0 && strings.HasSuffix(words[last], unit)
	if united > 0 && united < figures && !behindLast {
		return nil, errors.New("some of the readings carry a unit and some do not; write it with all, or behind the last alone")
	}
	if behindLast {
		for i, w := range words {
			if i != last && w != "1" && w != "1." && w != "1 ." && strings.TrimLeft(w, "<>≤≥=0123456789.,-+/ ") == "" {
				words[i] = w + " " + unit
			}
		}
		if k := kindAmong(kinds, unit); k != "" {
			kinds = []quantity.Kind{k}
		}
	} else if united > 0 {
		if k := kindAmong(kinds, unit); k != "" {
			kinds = []quantity.Kind{k}
		}
	} else {
		kinds = kinds[:1]
	}
	row := make([]Reading, len(words))
	for i, w := range words {
		var err error
		if row[i], err = ParseAny(kinds, w, m); err != nil {
			return nil, err
		}
	}
	return row, nil
}

// asIfOver writes a lone 1 as 1.0 where the row is one of whole numbers; where
// the others carry decimals, a display of 1 alone is a range exceeded or a slip,
// and is asked about.
func asIfOver(words []string) {
	for _, w := range words {
		if strings.ContainsAny(w, ".,") && strings.ContainsAny(w, "0123456789") && w != "1." && w != "1 ." {
			return
		}
	}
	for i, w := range words {
		if w == "1" {
			words[i] = "1.0"
		}
	}
}

// kindAmong is the kind, of those taken, that has the unit; "" for none.
func kindAmong(kinds []quantity.Kind, unit string) quantity.Kind {
	for _, k := range kinds {
		if isUnit(k, unit) {
			return k
		}
	}
	return ""
}

// split parts a row into readings: a sign joins what stands behind it, a unit or
// a lone point what stands before it. A comma within a figure is a decimal one.
func split(text string) []string {
	var out []string
	joins := false // the word before was a sign
	for _, f := range strings.FieldsFunc(tidy.Replace(text), func(r rune) bool { return r == ' ' || r == '\n' || r == '\r' || r == ';' || r == '|' }) {
		f = strings.TrimRight(f, ",")
		if f == "" {
			continue
		}
		n := len(out)
		switch {
		case joins:
			out[n-1] += " " + f
		case n > 0 && (f == "." || quantity.KindOf("1 "+f) != "" && !strings.ContainsAny(f, "0123456789")):
			out[n-1] += " " + f
		default:
			out = append(out, f)
		}
		joins = strings.Trim(f, "<>≤≥=") == "" && f != ""
	}
	return out
}
