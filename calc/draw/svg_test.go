package draw

import (
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"
)

func wellFormed(t *testing.T, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		_, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("%v in %s", err, svg)
		}
	}
}

func TestSVG(t *testing.T) {
	c := Chart{Title: "Volts < over time", Says: "They fall & fall", X: Axis{Label: "time", Unit: "s"}, Y: Axis{Label: "volts", Unit: "V"},
		Series: []Series{{Name: "capacitor", X: []float64{0, 1, 2}, Y: []float64{30, 11, 4}}, {Name: "limit", X: []float64{0, 2}, Y: []float64{5, 5}, Dashed: true}},
		Marks:  []Mark{{Y: 5, Level: true, Name: "safe"}, {X: 1, Y: 11, Name: "here"}, {X: 1.8, Upright: true, Name: "then"}}}
	svg := c.SVG("plot-x")
	wellFormed(t, svg)
	for _, want := range []string{`<title id="plot-x-t">Volts &lt; over time</title>`, "They fall &amp; fall", "time, s", "volts, V", ">capacitor<", ">safe<", `class="draw-line-2"`, ">30<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("%s is missing in %s", want, svg)
		}
	}
	for _, never := range []string{"style=", "NaN", "Inf", "fill=\"#"} {
		if strings.Contains(svg, never) {
			t.Errorf("%s in the drawing", never)
		}
	}
	if svg != c.SVG("plot-x") {
		t.Error("two drawings of one chart differ")
	}
}

func FuzzSVG(f *testing.F) {
	f.Add(0.0, 1.0, 2.0, "a<b")
	f.Add(math.NaN(), math.Inf(1), -1e300, "\x00\xff")
	f.Add(1e-12, 1e-12, 1e-12, "")
	f.Fuzz(func(t *testing.T, a, b, c float64, name string) {
		svg := Chart{Title: name, Says: name, X: Axis{From: a, To: b}, Series: []Series{{Name: name, X: []float64{a, b, c}, Y: []float64{c, a, b}}, {}},
			Marks: []Mark{{X: a, Y: b, Name: name}, {Y: c, Level: true}, {X: c, Upright: true}}}.SVG(name)
		wellFormed(t, svg)
		if strings.Contains(svg, `"NaN`) || strings.Contains(svg, "Inf") && !strings.Contains(name, "Inf") {
			t.Fatal(svg)
		}
	})
}
