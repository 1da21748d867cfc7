package surge

import (
	"strconv"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// mark is what the print on a varistor, or an amount in volts, says of it.
type mark struct {
	rated float64 // V for the line as it is, AC or DC; 0 where only atOne is known
	atOne float64 // V at 1 mA; 0 where only rated is known
	disc  float64 // m; 0 where the print does not say
	says  string  // how the print was read; "" for an amount in volts
}

// of is the rating for the line: as printed, or from the volts at 1 mA.
func (m mark) of(supply string) (volts float64, exact bool) {
	if m.rated > 0 {
		return m.rated, true
	}
	return ratedOf(supply, m.atOne), false
}

// firsts are the two digits that codes of volts at 1 mA begin with; from memory.
var firsts = map[string]bool{"10": true, "11": true, "12": true, "15": true, "18": true, "20": true, "22": true, "24": true, "27": true, "33": true, "36": true, "39": true,
	"43": true, "47": true, "51": true, "56": true, "62": true, "68": true, "75": true, "78": true, "82": true, "91": true}

// lowestCode and highestCode bound the volts at 1 mA of made parts.
const lowestCode, highestCode = 8, 1800

// code reads three digits as volts at 1 mA: 471 is 47 with one nought.
func code(s string) (float64, bool) {
	if len(s) != 3 || strings.Trim(s, "0123456789") != "" || !firsts[s[:2]] {
		return 0, false
	}
	v, _ := strconv.ParseFloat(s[:2], 64)
	for n := s[2]; n > '0'; n-- {
		v *= 10
	}
	return v, v >= lowestCode && v <= highestCode
}

// read takes the print of a varistor ("471K", "14D471K", "S14K275") or an amount with
// its unit ("470 V"). printed says that a bare code is expected, as where volts at 1 mA are asked for; where rated
// volts are asked for, three digits that may be either are asked about.
func read(input, label, text, supply string, printed bool) (mark, error) {
	refuse := func(says string, means ...string) (mark, error) {
		return mark{}, &calc.InputError{Input: input, Says: label + ": “" + text + "” " + says, Means: means}
	}
	s := strings.ToUpper(strings.Join(strings.Fields(text), ""))
	m := mark{}
	// 14D471K: disc, D, code; 07 is 7 mm
	if disc, rest, ok := strings.Cut(s, "D"); ok {
		if n := len(disc); n >= 2 && strings.Trim(disc[n-2:], "0123456789") == "" || n == 1 && strings.Trim(disc, "0123456789") == "" {
			d, _ := strconv.ParseFloat(disc[max(0, n-2):], 64)
			m.disc, s = d/1000, rest
		}
	}
	digits := strings.TrimRight(s, "JKLM") // letter of the tolerance
	if v, ok := code(digits); ok && (digits != s || m.disc > 0 || printed || digits[2] != '0') {
		m.atOne, m.says = v, "The print "+digits+" is "+volts(v)+" at 1 mA."
		if digits == s && m.disc == 0 {
			m.says += " If " + digits + " volts were meant, write " + digits + " V."
		}
		return m, nil
	} else if ok {
		return refuse("can be read in two ways: as print it is "+volts(v)+" at 1 mA", digits+"K", digits+" V")
	}
	// S14K275: disc, K, AC volts
	if disc, rated, ok := strings.Cut(s, "K"); ok && rated != "" && strings.Trim(rated, "0123456789") == "" {
		ac, _ := strconv.ParseFloat(rated, 64)
		dc, made := dcOf(ac)
		if !made {
			return refuse("names no usual varistor; after K stand its AC volts, like K275")
		}
		if d, err := strconv.ParseFloat(strings.TrimLeft(disc, "S"), 64); err == nil {
			m.disc = d / 1000
		}
		m.rated, m.says = ac, "The print K"+rated+" is rated "+volts(ac)+" AC, "+volts(dc)+" DC."
		if supply == "dc" {
			m.rated = dc
		}
		return m, nil
	}
	v, err := quantity.Parse(quantity.Voltage, text)
	switch {
	case err != nil:
		return refuse("is no print of a varistor and no amount; write it like 471K, 14D471K, S14K275 or 470 V")
	case v.Low != v.High:
		return refuse("is a range; write one amount")
	case v.Num < 1 || v.Num > 3000:
		return refuse("is outside 1 V to 3 kV")
	case printed && !strings.Contains(s, "V"):
		return refuse("is no code of volts at 1 mA and has no unit; write the print, like 471K, or volts, like 470 V")
	case printed:
		return mark{atOne: v.Num}, nil
	}
	return mark{rated: v.Num}, nil
}

// dcOf is the DC rating of the part with an AC rating.
func dcOf(ac float64) (float64, bool) {
	for i, v := range usual["ac"] {
		if v == ac {
			return usual["dc"][i], true
		}
	}
	return 0, false
}
