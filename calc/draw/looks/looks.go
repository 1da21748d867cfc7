// Package looks draws how faults look: each one a part of the bench twice, once
// sound and once with the fault, as line work. A note names a look by its word
// (look: bulged-can); pages show the two drawings beside each other.
//
// A drawing carries classes and places only, so that light, dark, print and the
// reader's own colours need no second one. Soot, dust, rust and lime are dots:
// colour says none of it.
package looks

import (
	"html"
	"math"
	"strconv"
	"strings"
)

// Look is one way in which a part shows its fault.
type Look struct {
	Name  string // as notes write it
	Title string // as a page names it
	Sound string // what is to be seen on a sound one, in a sentence
	Fault string // what is to be seen with the fault
	draw  func(p *pen, bad bool)
}

// The size of every drawing, in its own units.
const Width, Height = 160, 120

// Names are the words that a note may write, in the order of the tables.
func Names() []string {
	out := make([]string, len(all))
	for i, l := range all {
		out[i] = l.Name
	}
	return out
}

// Find gives the look of a name; ok is false where there is none.
func Find(name string) (l Look, ok bool) {
	for _, l := range all {
		if l.Name == name {
			return l, true
		}
	}
	return Look{}, false
}

// SVG draws the part, with the fault or sound. What it shows is said in words.
func (l Look) SVG(fault bool) string {
	says := l.Sound
	if fault {
		says = l.Fault
	}
	p := &pen{}
	p.b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="look" role="img" viewBox="0 0 160 120" aria-label="` + html.EscapeString("Drawing: "+says) + `">`)
	l.draw(p, fault)
	p.b.WriteString(`</svg>`)
	return p.b.String()
}

// Drawings are all drawings by name, a sound part before a faulty one, without words:
// for where an answer beside them says what they show.
func Drawings() map[string][2]string {
	out := map[string][2]string{}
	for _, l := range all {
		var pair [2]string
		for i, fault := range []bool{false, true} {
			p := &pen{}
			l.draw(p, fault)
			pair[i] = p.b.String()
		}
		out[l.Name] = pair
	}
	return out
}

// pen writes a drawing. Its classes are kinds of line and of ground:
//
//	l line, t thin line, f fat line
//	b body: the ground, outlined; m metal: tinted, outlined; k black
type pen struct{ b strings.Builder }

func (p *pen) path(class, d string) {
	p.b.WriteString(`<path class="look-` + class + `" d="` + d + `"/>`)
}

func (p *pen) circle(class string, x, y, r float64) {
	p.b.WriteString(`<circle class="look-` + class + `" cx="` + num(x) + `" cy="` + num(y) + `" r="` + num(r) + `"/>`)
}

func (p *pen) oval(class string, x, y, rx, ry float64) {
	p.b.WriteString(`<ellipse class="look-` + class + `" cx="` + num(x) + `" cy="` + num(y) + `" rx="` + num(rx) + `" ry="` + num(ry) + `"/>`)
}

// dots are soot, dust, rust or lime: n of them, spread evenly over an oval.
func (p *pen) dots(x, y, rx, ry float64, n int) {
	var d strings.Builder
	for i := range n {
		a, r := 2.39996*float64(i), math.Sqrt((float64(i)+.5)/float64(n)) // the golden angle
		d.WriteString("M" + num(x+float64(rx*r)*math.Cos(a)) + " " + num(y+float64(ry*r)*math.Sin(a)) + "h.1")
	}
	p.path("d", d.String())
}

// coil is a wire wound n times between two places; sag lets it hang in the middle.
func (p *pen) coil(class string, x0, x1, y, r, sag float64, n int) {
	var d strings.Builder
	step := (x1 - x0) / float64(n)
	d.WriteString("M" + num(x0) + " " + num(y))
	for i := range n {
		at := func(k float64) (x, low float64) {
			f := (float64(i) + k) / float64(n)
			return x0 + float64((x1-x0)*f), y + float64(sag*4*f*(1-f))
		}
		_, low := at(.5)
		x, end := at(1)
		d.WriteString("C" + num(x-step*.2) + " " + num(low-r) + " " + num(x+step*.9) + " " + num(low-r) + " " + num(x-step*.1) + " " + num(low+r*.2))
		d.WriteString("C" + num(x-step*.6) + " " + num(low+r) + " " + num(x-step*.5) + " " + num(low+r) + " " + num(x) + " " + num(end))
	}
	p.path(class, d.String())
}

// gear is a wheel with n teeth, of which some are gone.
func (p *pen) gear(class string, x, y, r float64, n int, gone func(i int) bool) {
	var d strings.Builder
	to := func(first bool, a, r float64) {
		letter := "L"
		if first {
			letter = "M"
		}
		d.WriteString(letter + num(x+float64(r*math.Cos(a))) + " " + num(y+float64(r*math.Sin(a))))
	}
	step := 2 * math.Pi / float64(n)
	for i := range n {
		a, tip := float64(i)*step, r
		to(i == 0, a, r*.8)
		if gone(i) {
			tip = r * (.82 + .04*float64(i%2))
		}
		to(false, a+step*.15, tip)
		to(false, a+step*.45, tip)
		to(false, a+step*.6, r*.8)
	}
	p.path(class, d.String()+"Z")
}

// rows draws one line again and again, each a step further.
func (p *pen) rows(class string, n int, one func(i float64) string) {
	var d strings.Builder
	for i := range n {
		d.WriteString(one(float64(i)))
	}
	p.path(class, d.String())
}

func num(x float64) string {
	return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64)
}

// either picks by the state.
func either[T any](bad bool, sound, fault T) T {
	if bad {
		return fault
	}
	return sound
}
