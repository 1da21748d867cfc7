// Package drawtest looks at a drawing as a reader does: it finds labels that lie on
// one another, on a line, or outside of the drawing. Every letter is reckoned as
// wide as that of a wide face, so that a drawing that passes is legible in any.
package drawtest

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// perLetter is the width of a letter in its size.
const perLetter = .7

type box struct {
	x0, y0, x1, y1 float64
	what           string
}

func (a box) meets(b box) bool {
	const touch = .5 // half a unit may be shared
	return a.x0+touch < b.x1 && b.x0+touch < a.x1 && a.y0+touch < b.y1 && b.y0+touch < a.y1
}

type segment struct{ x0, y0, x1, y1 float64 }

// through tells whether a segment crosses a box, by walking along it.
func (s segment) through(b box) bool {
	steps := 1 + math.Ceil(math.Hypot(s.x1-s.x0, s.y1-s.y0))
	for k := 0.0; k <= steps; k++ {
		x, y := s.x0+(s.x1-s.x0)*k/steps, s.y0+(s.y1-s.y0)*k/steps
		if x > b.x0+.5 && x < b.x1-.5 && y > b.y0+.5 && y < b.y1-.5 {
			return true
		}
	}
	return false
}

// Faults says what is wrong with a drawing, in sentences; none where all is well.
// Faint lines, of a class that ends in -grid, may pass behind a label.
func Faults(svg string) []string {
	d := xml.NewDecoder(strings.NewReader(svg))
	var labels []box
	var lines []segment
	var out []string
	view := box{}
	size := 12.0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return []string{"it is no drawing: " + err.Error()}
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]string{}
		for _, a := range e.Attr {
			at[a.Name.Local] = a.Value
		}
		n := func(name string) float64 { x, _ := strconv.ParseFloat(at[name], 64); return x }
		faint := strings.HasSuffix(at["class"], "-grid")
		switch e.Name.Local {
		case "svg":
			var w, h float64
			_, _ = fmt.Sscanf(at["viewBox"], "%g %g %g %g", &view.x0, &view.y0, &w, &h)
			view.x1, view.y1 = view.x0+w, view.y0+h
			if at["font-size"] != "" {
				size = n("font-size")
			}
		case "line":
			if !faint {
				lines = append(lines, segment{n("x1"), n("y1"), n("x2"), n("y2")})
			}
		case "rect":
			x, y, w, h := n("x"), n("y"), n("width"), n("height")
			if w > 12 || h > 12 { // a block, no mark
				lines = append(lines, segment{x, y, x + w, y}, segment{x + w, y, x + w, y + h}, segment{x + w, y + h, x, y + h}, segment{x, y + h, x, y})
			}
		case "circle":
			if r := n("r"); r > 6 && !strings.Contains(at["class"], "badge") {
				for k := range 24 {
					a, b := float64(k)*math.Pi/12, float64(k+1)*math.Pi/12
					lines = append(lines, segment{n("cx") + r*math.Cos(a), n("cy") + r*math.Sin(a), n("cx") + r*math.Cos(b), n("cy") + r*math.Sin(b)})
				}
			}
		case "path":
			if !faint {
				lines = append(lines, path(at["d"])...)
			}
		case "text":
			text, _ := d.Token()
			says, _ := text.(xml.CharData)
			own := size
			if at["font-size"] != "" {
				own = n("font-size")
			}
			wide := perLetter * own * float64(len([]rune(string(says))))
			x := n("x")
			switch at["text-anchor"] {
			case "middle":
				x -= wide / 2
			case "end":
				x -= wide
			}
			b := box{x, n("y") - .75*own, x + wide, n("y") + .2*own, string(says)}
			var tx, ty float64
			if k, _ := fmt.Sscanf(at["transform"], "translate(%g %g) rotate(-90)", &tx, &ty); k == 2 {
				b = box{tx - .75*own, ty - wide/2, tx + .2*own, ty + wide/2, string(says)}
			}
			if b.x0 < view.x0-.5 || b.x1 > view.x1+.5 || b.y0 < view.y0-.5 || b.y1 > view.y1+.5 {
				out = append(out, fmt.Sprintf("“%s” leaves the drawing", says))
			}
			for _, other := range labels {
				if b.meets(other) {
					out = append(out, fmt.Sprintf("“%s” lies on “%s”", says, other.what))
				}
			}
			labels = append(labels, b)
		}
	}
	for _, b := range labels {
		for _, s := range lines {
			if s.through(b) {
				out = append(out, fmt.Sprintf("“%s” lies on a line", b.what))
				break
			}
		}
	}
	return out
}

// path reads the commands M, L, H, V and Z; curves count as the straight way to
// their end.
func path(d string) []segment {
	var out []segment
	var x, y, sx, sy float64
	for len(d) > 0 {
		c := d[0]
		end := strings.IndexAny(d[1:], "MLHVQCAZ")
		if end < 0 {
			end = len(d) - 1
		}
		var v []float64
		for _, f := range strings.FieldsFunc(d[1:end+1], func(r rune) bool { return r == ' ' || r == ',' }) {
			n, _ := strconv.ParseFloat(f, 64)
			v = append(v, n)
		}
		d = d[end+1:]
		nx, ny := x, y
		switch {
		case c == 'Z':
			nx, ny = sx, sy
		case c == 'H' && len(v) > 0:
			nx = v[len(v)-1]
		case c == 'V' && len(v) > 0:
			ny = v[len(v)-1]
		case len(v) >= 2:
			nx, ny = v[len(v)-2], v[len(v)-1]
		}
		if c == 'M' {
			sx, sy = nx, ny
		} else {
			out = append(out, segment{x, y, nx, ny})
		}
		x, y = nx, ny
	}
	return out
}
