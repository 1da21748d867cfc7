package draw

import (
	"encoding/xml"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"faultleaf/calc/draw/drawtest"
)

// sound: the drawing is well-formed XML, names itself, and holds neither a style,
// a script nor a coordinate that is no number.
func sound(t *testing.T, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	for first := true; ; first = false {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("%v in %s", err, svg)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if e.Name.Local == "style" || e.Name.Local == "script" {
			t.Fatalf("a %s element in %s", e.Name.Local, svg)
		}
		var role string
		for _, a := range e.Attr {
			switch name := a.Name.Local; name {
			case "role":
				role = a.Value
			case "aria-hidden":
				role = "img" // a picture beside words that say the same
			case "style":
				t.Fatalf("a style attribute in %s", svg)
			case "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "width", "height", "viewBox":
				for _, n := range strings.Fields(a.Value) {
					if !number.MatchString(n) {
						t.Fatalf("%s is %q in %s", name, a.Value, svg)
					}
				}
				if (name == "width" || name == "height") && strings.HasPrefix(a.Value, "-") {
					t.Fatalf("%s is %q in %s", name, a.Value, svg)
				}
			case "d":
				if !path.MatchString(a.Value) {
					t.Fatalf("a path %q", a.Value)
				}
			}
		}
		if first && role != "img" {
			t.Fatalf("role %q", role)
		}
	}
}

var (
	number = regexp.MustCompile(`^-?\d+(\.\d)?$`)
	path   = regexp.MustCompile(`^M(-?\d+(\.\d)?|[MLHV ])*$`)
)

// golden compares a drawing with testdata; UPDATE_GOLDEN=1 rewrites it.
func golden(t *testing.T, name, svg string) {
	t.Helper()
	sound(t, svg)
	file := filepath.Join("testdata", name)
	lines := strings.ReplaceAll(svg, "><", ">\n<") + "\n"
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(file, []byte(lines), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if lines != string(want) {
		t.Errorf("the drawing differs from %s; UPDATE_GOLDEN=1 rewrites it. Got\n%s", file, lines)
	}
}

var (
	chart = Chart{Title: "Volts < over time", Says: "They fall & fall", X: Axis{Label: "time", Unit: "s"}, Y: Axis{Label: "volts", Unit: "V"},
		Series: []Series{{Name: "capacitor", X: []float64{0, 1, 2}, Y: []float64{30, 11, 4}}, {Name: "limit", X: []float64{0, 2}, Y: []float64{5, 5}, Dashed: true}},
		Marks:  []Mark{{Y: 5, Level: true, Name: "safe"}, {X: 1, Y: 11, Name: "here"}, {X: 1.8, Upright: true, Name: "then"}}}
	twoAxes = Chart{Title: "Volts and amperes", Says: "Current flows at the peaks.", X: Axis{Label: "time", Unit: "ms"}, Y: Axis{Label: "volts", Unit: "V"}, Right: Axis{Label: "current", Unit: "A"},
		Series: []Series{{Name: "volts", X: []float64{0, 5, 10}, Y: []float64{12, 14, 12}}, {Name: "current", X: []float64{0, 4, 5, 6, 10}, Y: []float64{0, 0, 2.4, 0, 0}, Right: true}}}
)

func TestGolden(t *testing.T) {
	golden(t, "chart.svg", chart.SVG("plot-x"))
	golden(t, "two-axes.svg", twoAxes.SVG("plot-y"))
	golden(t, "ruler.svg", Ruler{At: 8.5, Opens: 6, Works: 2, Waits: 40}.SVG())
	golden(t, "span.svg", Span{At: 8, Opens: 6, Works: 2, End: 70}.SVG())
	golden(t, "strip.svg", Strip{{"A", .6}, {"B", .3}, {"", .1}}.SVG())
}

func TestSVG(t *testing.T) {
	svg := chart.SVG("plot-x")
	for _, want := range []string{`<title id="plot-x-t">Volts &lt; over time</title>`, "They fall &amp; fall", "time, s", "volts, V", ">capacitor<", ">safe<", `class="draw-line-2"`, ">30<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("%s is missing in %s", want, svg)
		}
	}
	if svg != chart.SVG("plot-x") {
		t.Error("two drawings of one chart differ")
	}
	if strings.Count(svg, "draw-axis") != 1 {
		t.Error("a right axis without a series that asks for it")
	}
	// 2.4 A is drawn at the height of the lower plot's 2.4 of 3, not at volts
	two := twoAxes.SVG("plot-y")
	if !strings.Contains(two, ">current, A<") || strings.Count(two, "draw-axis") != 2 {
		t.Error("the right axis is missing")
	}
	if !strings.Contains(two, "L241.6 294L") {
		t.Errorf("the peak of the current stands elsewhere: %s", two)
	}
	for _, empty := range []string{Chart{}.SVG(""), Chart{Series: []Series{{Name: "none", Right: true}}}.SVG("a"), Ruler{}.SVG(), Strip{}.SVG()} {
		sound(t, empty)
	}
}

// Ticks are 1, 2 or 5 times a power of ten and cover the range.
func TestTicks(t *testing.T) {
	for _, c := range []struct{ from, to, step float64 }{{0, 30, 5}, {0, 1, .2}, {-3, 4, 2}, {1e-6, 9e-6, 2e-6}, {95, 105, 2}, {0, 1e6, 2e5}} {
		s := ticks(c.from, c.to, 5)
		if c.from == 0 && c.to == 30 {
			s = ticks(c.from, c.to, 6)
		}
		if math.Abs(s.step/c.step-1) > 1e-9 || s.from > c.from+1e-9*s.step || s.to < c.to-1e-9*s.step || len(s.at) < 3 || len(s.at) > 8 {
			t.Errorf("%v to %v: %+v, want steps of %v", c.from, c.to, s, c.step)
		}
	}
}

// The block's length is its minutes, and the ticks stand on whole minutes.
func TestRuler(t *testing.T) {
	one, two := Ruler{Works: 10}.SVG(), Ruler{Works: 20}.SVG()
	if !strings.Contains(one, `height="50"`) || !strings.Contains(two, `height="100"`) {
		t.Errorf("twice the minutes are not twice as long: %s", two)
	}
	if n := strings.Count(Ruler{At: .5, Works: 3}.SVG(), "ruler-tick"); n != 3 {
		t.Errorf("%d whole minutes between 0.5 and 3.5", n)
	}
	if svg := (Ruler{Works: 1e9}).SVG(); len(svg) > 20000 {
		t.Error("an endless ruler")
	}
}

func FuzzSVG(f *testing.F) {
	f.Add(0.0, 1.0, 2.0, "a<b")
	f.Add(math.NaN(), math.Inf(1), -1e300, "\x00\xff")
	f.Add(1e-12, 1e-12, 1e-12, "")
	f.Add(1e14, 1e14+.02, -1e-300, `"'>]]>`)
	f.Fuzz(func(t *testing.T, a, b, c float64, name string) {
		sound(t, Chart{Title: name, Says: name, X: Axis{From: a, To: b}, Series: []Series{{Name: name, X: []float64{a, b, c}, Y: []float64{c, a, b}}, {}, {X: []float64{b, c}, Y: []float64{a, c}, Right: true}},
			Marks: []Mark{{X: a, Y: b, Name: name}, {Y: c, Level: true}, {X: c, Upright: true}}}.SVG(name))
		sound(t, Chart{Y: Axis{From: b, To: c}, Right: Axis{From: a, To: c, Label: name}, Series: []Series{{X: []float64{a, b, c, a}, Y: []float64{c, a, b}, Right: true, Name: name}}}.SVG(name))
		plain := strings.Map(func(r rune) rune {
			if r < ' ' || r > '~' {
				return 'n'
			}
			return r
		}, name)
		if len(plain) > 40 {
			plain = plain[:40]
		}
		if finite(a) && finite(b) && finite(c) { // no name lies on a curve or on another, wherever curves and marks lie
			svg := Chart{X: Axis{Label: "time", Unit: "s"}, Y: Axis{Label: "volts", Unit: "V"}, Series: []Series{{Name: plain, X: []float64{a, b, c}, Y: []float64{c, a, b}}, {Name: "other", X: []float64{b, c}, Y: []float64{a, c}}},
				Marks: []Mark{{X: a, Y: b, Name: plain}, {Y: c, Level: true, Name: "limit"}, {Y: a, Level: true, Name: "rated"}, {X: c, Upright: true, Name: "here"}, {X: b, Upright: true, Name: "there"}}}.SVG("x")
			for _, fault := range drawtest.Faults(svg) {
				t.Errorf("%v %v %v %q: %s", a, b, c, plain, fault)
			}
		}
		sound(t, Ruler{At: a, Opens: b, Works: c, Waits: a}.SVG())
		sound(t, Span{a, b, c, a}.SVG())
		sound(t, Strip{{name, a}, {name, b}, {"", c}}.SVG())
	})
}
