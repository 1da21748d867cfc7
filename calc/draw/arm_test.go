package draw

import (
	"encoding/xml"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var textAt = regexp.MustCompile(`<text class="([a-z-]+)" font-size="([0-9.]+)" text-anchor="([a-z]+)" x="([0-9.-]+)" y="([0-9.-]+)">([^<]*)</text>`)

// On no arm does a label meet another, leave the arm, or stand in the lane of
// the bar.
func TestArm(t *testing.T) {
	for _, a := range []Arm{
		{ID: "a", Clock: 4, Rest: 34, Spent: []Lap{{0, 2}, {0, 2}}, Now: Lap{0, 2}, Ends: "mended", Cost: "22.80 EUR", Rate: .6, Unit: "EUR"},
		{ID: "b", Clock: 0, Rest: 44, Now: Lap{6, 2}, Ends: "mended"},
		{ID: "c", Clock: 120, Rest: 400, Spent: []Lap{{10, 100}}, Now: Lap{0, 30}, Ends: "a new one", Cost: "300 EUR", Rate: .6, Unit: "EUR", Over: "ask the owner"},
		{ID: "d"},
		{ID: "e", Clock: math.NaN(), Rest: math.Inf(1), Spent: []Lap{{-1, math.NaN()}}, Rate: 1e-9, Cost: "1"},
		{ID: "f", Clock: 44, Rest: 0, Spent: []Lap{{5, 90}}, Ends: "mended"},
		{ID: "g", Clock: 3, Rest: 9, Ends: "mended", Rate: 5, Cost: "60 EUR", Unit: "EUR"},
	} {
		for class, svg := range map[string]string{"wide": a.Wide(), "pocket": a.Pocket()} {
			if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") || strings.Contains(svg, "style=") {
				t.Errorf("%s %s: %s", a.ID, class, svg)
			}
			if err := xml.Unmarshal([]byte(svg), new(struct{})); err != nil {
				t.Error(err)
			}
			type r struct{ x, y, w, h float64 }
			var seen []r
			wide := 106.0
			if class == "pocket" {
				wide = 40
			}
			for _, m := range textAt.FindAllStringSubmatch(svg, -1) {
				f := func(i int) float64 { v, _ := strconv.ParseFloat(m[i], 64); return v }
				w := float64(len([]rune(m[6]))) * f(2) * .62
				b := r{f(4), f(5) - f(2)*.72, w, f(2) * .74}
				switch m[3] {
				case "end":
					b.x -= w
				case "middle":
					b.x -= w / 2
				}
				if b.x < -2 || b.x+b.w > wide+.1 {
					t.Errorf("%s %s: “%s” leaves the arm", a.ID, class, m[6])
				}
				for _, o := range seen {
					if b.x < o.x+o.w && o.x < b.x+b.w && b.y < o.y+o.h && o.y < b.y+b.h {
						t.Errorf("%s %s: “%s” meets another label", a.ID, class, m[6])
					}
				}
				seen = append(seen, b)
			}
		}
	}
}
