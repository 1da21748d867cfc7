package draw

import (
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func at(x float64) *float64 { return &x }

func TestBands(t *testing.T) {
	kettle := Bands{Parts: []Part{{High: at(21.2)}, {Low: at(21.2), High: at(26.7), Healthy: true}, {Low: at(26.7)}}, End: "open"}.SVG()
	for _, want := range []string{`x="226.7" y="14">21.2<`, `x="453.3" y="14">26.7<`, `>10<`, `>1 k<`, `>open<`, "bands-ok"} {
		if !strings.Contains(kettle, want) {
			t.Errorf("the kettle's scale lacks %s:\n%s", want, kettle)
		}
	}
	gap := Bands{Parts: []Part{{}, {High: at(.5), Healthy: true}, {Low: at(1), High: at(1e4)}, {Low: at(1e4)}}}.SVG()
	if !strings.Contains(gap, ">0.5<") || !strings.Contains(gap, `text-anchor="start" x="344" y="14">1<`) || strings.Count(gap, ">10 k<") != 1 || !strings.Contains(gap, "l4 -14") {
		t.Errorf("a gap is not drawn as one:\n%s", gap)
	}
	if s := (Bands{Parts: []Part{{}, {High: at(1)}}}).SVG(); s != "" {
		t.Errorf("one amount has a scale: %s", s)
	}
}

var bandText = regexp.MustCompile(`<text class="(bands-\w+)" text-anchor="(\w+)" x="([^"]+)" y="14">([^<]+)<`)

// Whatever the limits, no number is missing or meets another, and none is NaN.
func TestBandsNumbersStandApart(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for n := range 2000 {
		k := 2 + r.IntN(3)
		var s Bands
		edge := math.Pow(10, r.Float64()*9-4)
		for i := range k {
			p := Part{Healthy: r.IntN(3) == 0}
			if i > 0 {
				p.Low = at(edge)
			}
			if r.IntN(3) == 0 && i > 0 {
				p.Low = at(edge * (1 + r.Float64()*5))
				edge = *p.Low
			}
			if i < k-1 {
				edge *= 1 + math.Pow(10, r.Float64()*5-1.5)
				p.High = at(edge)
			}
			s.Parts = append(s.Parts, p)
		}
		svg := s.SVG()
		if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") || svg == "" {
			t.Fatalf("%d: %s", n, svg)
		}
		var spans [][2]float64
		for _, m := range bandText.FindAllStringSubmatch(svg, -1) {
			x, _ := strconv.ParseFloat(m[3], 64)
			w := 6.8 * float64(len([]rune(m[4])))
			from := map[string]float64{"start": x, "middle": x - w/2, "end": x - w}[m[2]]
			if slices.ContainsFunc(spans, func(o [2]float64) bool { return from < o[1] && o[0] < from+w }) {
				t.Fatalf("%d: %q meets another number:\n%s", n, m[4], svg)
			}
			spans = append(spans, [2]float64{from, from + w})
		}
	}
}
