package schematic

import (
	"encoding/xml"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"faultleaf/calc/draw/drawtest"
)

var symbols = []Symbol{AC, Battery, Resistor, Capacitor, Reservoir, Inductor, Diode, Zener, LED, Thermistor, Varistor, Fuse, Switch, Lamp, Motor, Voltmeter, Ammeter,
	Ohmmeter, Speaker, Couple, Open, Transformer, Rectifier, Box, Wire}

func words(numbered bool) Words {
	return Words{Title: "A circuit", Label: func(s string) string { return "Field " + s }, Printed: func(s string) string { return "1.234 kΩ" },
		Number: func(s string) int {
			if numbered {
				return int(s[0]-'a') + 8
			}
			return 0
		}}
}

// Nothing lies on anything else, whatever stands beside whatever.
func TestNothingOverlaps(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 5))
	for k := range 2000 {
		var l Ladder
		for range 1 + r.IntN(7) {
			p := Put(symbols[r.IntN(len(symbols))])
			for i := range r.IntN(3) {
				p.Inputs = append(p.Inputs, string(rune('a'+i+r.IntN(9))))
			}
			switch r.IntN(3) {
			case 0:
				p = p.Across()
			case 1:
				if !p.both() {
					p = p.Back()
				}
			}
			if r.IntN(2) == 0 {
				p = p.Named([]string{"load", "seen from here", "W", "auxiliary"}[r.IntN(4)])
			}
			if r.IntN(3) == 0 {
				p = p.Showing("out")
			}
			l = append(l, p)
		}
		svg := l.SVG("x", words(k%2 == 0))
		for _, fault := range drawtest.Faults(svg) {
			t.Fatalf("%s in %v\n%s", fault, l, svg)
		}
		for d := xml.NewDecoder(strings.NewReader(svg)); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
	}
}

// The circuit is told in words, with the numbers and names of its places.
func TestSays(t *testing.T) {
	l := Ladder{Put(AC, "a").Across().Named("mains"), Put(Resistor, "b"), Put(Resistor).Back().Named("neutral"), Put(Wire), Put(Lamp, "a").Across().Showing("out")}
	svg := l.SVG("x", words(true))
	want := "From left to right: mains, place 8 (Field a), across; resistor, place 9 (Field b); neutral, in the return; lamp, place 8 (Field a), 1.234 kΩ, across."
	if !strings.Contains(svg, "<desc id=\"x-d\">"+want+"</desc>") {
		t.Errorf("it says %s", svg[strings.Index(svg, "<desc"):strings.Index(svg, "</desc>")])
	}
	if got := strings.Join(l.Inputs(), " "); got != "a b" {
		t.Errorf("inputs %s", got)
	}
	if (Ladder{}).SVG("x", words(true)) != "" {
		t.Error("no part, and a drawing")
	}
}
