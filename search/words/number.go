package words

import (
	"strings"
	"sync"
)

// units maps the spellings of a unit to the one that is indexed. Case is lost in
// folding, so 4M7 and 4m7 meet; a repairer reading the hits tells them apart.
var units = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(`
v volt volts vac vdc
mv millivolt millivolts
kv kilovolt kilovolts
a amp amps ampere amperes
ma milliamp milliamps
ua microamp microamps
w watt watts
kw kilowatt kilowatts
mw milliwatt milliwatts
va
wh
kwh
ah
mah
hz hertz
khz
mhz
r ohm ohms
k kohm kohms kilohm kilohms
m mohm mohms megohm megohms
uf mfd microfarad microfarads
nf nanofarad nanofarads
pf picofarad picofarads
mh
uh
c °c degc celsius centigrade
f °f degf fahrenheit
mm millimetre millimetres millimeter millimeters
cm
in inch inches
mm2 mm²
rpm
bar
psi
db
% percent
kg
awg
min minute minutes mins
h hour hours hr hrs
s sec secs second seconds
`), "\n") {
		f := strings.Fields(line)
		for _, w := range f {
			m[w] = f[0]
		}
	}
	return m
})

// apart lists units that are a word of their own when a space precedes them:
// "2 in the box", "5 a day".
const apart = Set("a in m s r h f k")

// splitNumber cuts 4.7kohm into 4.7 and kohm.
func splitNumber(s string) (num, rest string) {
	i := 0
	for i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == '.' || s[i] == ',') {
		i++
	}
	return s[:i], s[i:]
}

// tidyNumber gives a number, with what is written onto it, its one spelling.
func tidyNumber(s string) string {
	s = strings.ReplaceAll(cut(s), "'", "")
	num, rest := splitNumber(s)
	if i := strings.IndexByte(num, ','); i >= 0 {
		if digits := num[i+1:]; len(digits) == 3 && i <= 3 && num[0] != '0' || strings.Count(num, ",") > 1 {
			num = strings.ReplaceAll(num, ",", "") // 1,000
		} else {
			num = strings.Replace(num, ",", ".", 1) // 0,5
		}
	}
	if strings.Count(num, ".") > 1 || num == "" {
		return num + rest // a date, a version
	}
	// 4k7, 2u2f, 5v1, 3r3: the letter stands where the point belongs.
	if len(rest) > 1 && strings.IndexByte("rkmvunpa", rest[0]) >= 0 && !strings.Contains(num, ".") {
		i := 1
		for i < len(rest) && rest[i] >= '0' && rest[i] <= '9' {
			i++
		}
		tail := rest[i:]
		if digits := rest[1:i]; len(digits) > 0 && len(digits) <= 2 && (tail == "" || tail == "f" || tail == "h" || tail == "ohm") {
			num, rest = num+"."+digits, rest[:1]+tail
		}
	}
	if strings.Contains(num, ".") {
		num = strings.TrimRight(strings.TrimRight(num, "0"), ".")
	}
	if unit, ok := units()[rest]; ok {
		rest = unit
	}
	return num + strings.TrimSuffix(strings.TrimSuffix(rest, "°"), "²")
}

// joinUnits puts a bare number and the unit after it together.
func (s *Splitter) joinUnits(raw []piece) []piece {
	out := raw[:0]
	for i := 0; i < len(raw); i++ {
		p := raw[i]
		if p.bare {
			if unit, used := unitAfter(raw[i+1:]); used > 0 {
				p.text += unit
				p.means = s.meant(p.text)
				p.end = raw[i+used].end
				i += used
			}
		}
		out = append(out, p)
	}
	return out
}

// unitAfter reads a unit at the start of the pieces and says how many it took:
// "v", "°c", "deg c", "degrees celsius", "degrees".
func unitAfter(next []piece) (unit string, used int) {
	if len(next) == 0 || next[0].number || !(next[0].space || next[0].hyphen) {
		return "", 0
	}
	switch next[0].text {
	case "deg", "degree", "degrees":
		if len(next) > 1 && next[1].space {
			if u := units()[next[1].text]; u == "c" || u == "f" {
				return u, 2
			}
		}
		return "", 1
	}
	u, ok := units()[next[0].text]
	if !ok || apart.Has(next[0].text) && !next[0].capital {
		return "", 0
	}
	return u, 1
}
