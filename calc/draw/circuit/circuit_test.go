package circuit

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var kettle = Chain{
	ID: "k", Title: "Kettle: from plug to boiling water", Says: "Switch 35 %, element 36 %.", Back: true, Poles: [2]string{"L", "N"}, Ends: "it boils and stops",
	Parts: []Part{
		{Block: &Block{ID: "plug", Name: "plug", Symbol: "plug", Share: .12, Said: "12 %", Letters: []string{"E"}}},
		{Block: &Block{ID: "cord", Name: "cord", Symbol: "cord", Share: .12, Said: "12 %", Letters: []string{"D"}}},
		{Block: &Block{ID: "base", Name: "base", Symbol: "connector", Cleared: "2 bright"}},
		{Block: &Block{ID: "switch", Name: "switch", Symbol: "switch", Share: .35, Said: "35 %", Letters: []string{"A"}}},
		{Block: &Block{ID: "cut-out", Name: "cut-out", Symbol: "thermal-switch", Cleared: "1 snaps"}},
		{Block: &Block{ID: "element", Name: "element", Symbol: "heating", Share: .36, Said: "36 %", Letters: []string{"B", "C"}}},
		{Block: &Block{ID: "vessel", Name: "vessel", Symbol: "vessel", Share: .03, Said: "3 %", Beyond: true}},
	},
	Reach: Reach{Step: "3", Says: "tells about these: 72 %", Blocks: []string{"switch", "cut-out", "element"}},
	Meter: Meter{Shows: "? Ω", Red: Point{Block: "base", Side: After}, Black: Point{Block: "base", Side: Return}},
	Apart: "base",
}

var heater = Chain{
	ID: "h", Title: "Fan heater", Says: "Element 64 %.", Back: true, Poles: [2]string{"L", "N"}, Ends: "warm air",
	Parts: []Part{
		{Block: &Block{ID: "plug", Name: "plug", Symbol: "plug", Cleared: "1"}},
		{Block: &Block{ID: "cord", Name: "cord", Symbol: "cord", Cleared: "1"}},
		{Block: &Block{ID: "switch", Name: "switch", Symbol: "switch", Cleared: "1"}},
		{Ways: [][]Block{
			{{ID: "cut-out", Name: "cut-out", Symbol: "thermal-link", Share: .35, Said: "35 %", Letters: []string{"B"}}, {ID: "element", Name: "element", Symbol: "heating", Share: .64, Said: "64 %", Letters: []string{"A"}}},
			{{ID: "motor", Name: "motor", Symbol: "motor", Cleared: "1 turns"}, {ID: "blades", Name: "blades", Symbol: "fan", Beyond: true}},
		}},
	},
	Reach: Reach{Step: "2", Says: "64 %", Blocks: []string{"element", "cut-out"}},
	Room:  Room{Says: "behind the grille, 6 min", Blocks: []string{"cut-out", "element", "motor"}},
}

// random is a chain of n blocks with ways, long names and everything on it.
func random(rng *rand.Rand, n int) Chain {
	names := []string{"plug", "cord", "switch", "thermostat", "thermal link", "suppression capacitor", "element", "residual-current breaker", "W", "Übertemperaturschutz", "speed control", "change-over switch of the two heats"}
	syms := Symbols()
	count := 0
	block := func() Block {
		count++
		b := Block{ID: fmt.Sprint("b", count), Name: names[rng.IntN(len(names))], Symbol: syms[rng.IntN(len(syms))]}
		switch rng.IntN(3) {
		case 0:
			b.Cleared = fmt.Sprint(rng.IntN(9), " ", names[rng.IntN(len(names))])
		case 1:
			b.Share = rng.Float64()
			b.Said = fmt.Sprintf("%.0f %%", b.Share*100)
			b.Letters = []string{"A", "B", "C", "D"}[:rng.IntN(4)]
		}
		return b
	}
	c := Chain{ID: "r", Title: "Random", Says: "random", Back: rng.IntN(4) > 0, Poles: [2]string{"L", "N"}, Ends: "it works, and it goes on working for a long while in a sentence of some length"}
	for count < n {
		if left := n - count; left >= 2 && rng.IntN(4) == 0 {
			ways := make([][]Block, 2+rng.IntN(2))
			for i := range ways {
				for range rng.IntN(1 + min(left, 6)) {
					if count < n {
						ways[i] = append(ways[i], block())
					}
				}
				if k := len(ways[i]); k > 1 && rng.IntN(4) == 0 {
					ways[i][k-1].Beyond = true
				}
			}
			c.Parts = append(c.Parts, Part{Ways: ways})
			continue
		}
		b := block()
		b.Separates = rng.IntN(5) == 0
		if rng.IntN(3) == 0 {
			b.Short = "short one"
		}
		c.Parts = append(c.Parts, Part{Block: &b})
	}
	if last := c.Parts[len(c.Parts)-1].Block; last != nil && n > 2 {
		last.Beyond = rng.IntN(2) == 0
	}
	some := func() (ids []string) {
		for i := range n {
			if rng.IntN(3) == 0 {
				ids = append(ids, fmt.Sprint("b", i+1))
			}
		}
		return ids
	}
	c.Reach = Reach{Step: fmt.Sprint(1 + rng.IntN(20)), Says: "tells about these blocks: 72 %", Blocks: some()}
	c.Room = Room{Says: "behind the lower cover and its six screws, 12 min", Blocks: some()}
	sides := []Side{Before, After, Return, Line, Neutral, Metal, Earth}
	c.Meter = Meter{Shows: "? Ω", Red: Point{fmt.Sprint("b", 1+rng.IntN(n)), sides[rng.IntN(7)]}, Black: Point{fmt.Sprint("b", 1+rng.IntN(n)), sides[rng.IntN(7)]}}
	c.Apart = fmt.Sprint("b", 1+rng.IntN(n))
	return c
}

// sound sees that nothing in a drawing lies on anything else, or outside.
func sound(t *testing.T, c Chain, s size) {
	t.Helper()
	svg, _ := c.draw(s)
	for _, what := range c.unsound(s) {
		t.Error(what)
	}
	for d := xml.NewDecoder(strings.NewReader(svg)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("%s: %v", s.class, err)
		}
	}
	if strings.Contains(svg, "NaN") || strings.Contains(svg, "style=") {
		t.Error("no number, or style inline")
	}
}

func TestNothingOverlaps(t *testing.T) {
	for _, s := range []size{wideSize, pocketSize} {
		sound(t, kettle, s)
		sound(t, heater, s)
	}
	rng := rand.New(rand.NewPCG(3, 14))
	for i := range 500 {
		c := random(rng, 2+i%13)
		for _, s := range []size{wideSize, pocketSize} {
			if sound(t, c, s); t.Failed() {
				t.Fatalf("chain %d of %d parts: %+v", i, len(c.Parts), c)
			}
		}
	}
}

// Every block is drawn once, with its name.
func TestEveryBlock(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 7))
	for range 100 {
		c := random(rng, 2+rng.IntN(13))
		n := 0
		for _, p := range c.Parts {
			if p.Block != nil {
				n++
			}
			for _, w := range p.Ways {
				n += len(w)
			}
		}
		if got := strings.Count(c.Wide(), `class="part-box"`); got != n {
			t.Errorf("%d of %d blocks drawn", got, n)
		}
	}
}

func TestHeat(t *testing.T) {
	for share, want := range map[float64]int{0: 0, .0149: 0, .015: 1, .059: 1, .06: 2, .15: 3, .3: 4, 1: 4} {
		if Heat(share) != want {
			t.Errorf("%v is heat %d", share, Heat(share))
		}
	}
}

func TestSymbols(t *testing.T) {
	number := regexp.MustCompile(`-?[0-9.]+`)
	for name, s := range symbols {
		if err := xml.Unmarshal([]byte("<g>"+s+"</g>"), new(struct{})); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, n := range number.FindAllString(s, -1) {
			if v, err := strconv.ParseFloat(n, 64); err != nil || math.Abs(v) > 24 {
				t.Errorf("%s: %s", name, n)
			}
		}
	}
}

// Every symbol that a name leads to is drawn.
func TestNamed(t *testing.T) {
	for _, s := range bySound {
		if _, ok := symbols[s.symbol]; !ok {
			t.Errorf("%s: there is no symbol %s", s.word, s.symbol)
		}
	}
	for s := range worked {
		if _, ok := symbols[s]; !ok {
			t.Errorf("there is no symbol %s", s)
		}
	}
}

// Where a name of several words is too long for its box, its last one stands there and no half of the first.
func TestNoun(t *testing.T) {
	c := random(rand.New(rand.NewPCG(1, 1)), 4)
	for i := range c.Parts {
		if b := c.Parts[i].Block; b != nil {
			b.Name, b.Short, b.Said, b.Cleared = "sheathed-element", "", "27 %", ""
		}
	}
	if svg := c.Pocket(); strings.Contains(svg, "sheathed"+cut) || !strings.Contains(svg, ">element<") {
		t.Error(svg)
	}
}

func FuzzChain(f *testing.F) {
	f.Add(uint64(1), "plug", "35 %")
	f.Fuzz(func(t *testing.T, seed uint64, name, said string) {
		rng := rand.New(rand.NewPCG(seed, 1))
		c := random(rng, 2+rng.IntN(13))
		for i := range c.Parts {
			if b := c.Parts[i].Block; b != nil {
				b.Name, b.Said = name, said
			}
		}
		if svg := c.Pocket(); strings.Contains(svg, "NaN") {
			t.Fatal("NaN")
		}
	})
}

// FAULTLEAF_PICTURES=FOLDER keeps the drawings as files to look at.
func TestKeep(t *testing.T) {
	dir := os.Getenv("FAULTLEAF_PICTURES")
	if dir == "" {
		t.Skip("FAULTLEAF_PICTURES names no folder")
	}
	rng := rand.New(rand.NewPCG(3, 14))
	var page strings.Builder
	page.WriteString(`<!doctype html><meta charset="utf-8"><style>svg{margin:8px;background:#fbfcfb;font-family:sans-serif}.wire,.wire-back{stroke:#14191c;stroke-width:2.5}.link{stroke:#14191c;stroke-width:5;stroke-dasharray:2 3}.part-box{fill:#fff;stroke:#14191c;stroke-width:1.5}.part-heat1 .part-box{fill:#fdf0e3}.part-heat2 .part-box{fill:#f9d2ab}.part-heat3 .part-box{fill:#ef9f5b}.part-heat4 .part-box{fill:#b34100}.part-heat4 text{fill:#fff}.symbol{fill:none;stroke:currentColor;stroke-width:1.5}.part-name{font-weight:700}.part-share{font-weight:700}.tag{fill:#14191c}.tag-text{fill:#fff;font-weight:700}.reach{stroke:#0b5560;stroke-width:3}.reach-box{fill:#0b5560}.reach-step{fill:#fff}.reach-says{fill:#0b5560}.room{stroke:#9a3b00;stroke-dasharray:5 4;stroke-width:2}.part-tick{stroke:#0d5c2d;stroke-width:3}.apart{stroke:#47535a;stroke-dasharray:2 5;stroke-width:2}.meter-glass{fill:#fff}.lead-red{stroke:#a3151a;stroke-width:3}.lead-black{stroke:#000;stroke-width:3}.gauge-all{fill:#fff;stroke:#000}.node{fill:#14191c}.post{fill:#fff;stroke:#000}.metal{fill:#ccc}</style>`)
	for i, c := range []Chain{kettle, heater, random(rng, 14), random(rng, 11), random(rng, 9), random(rng, 12), random(rng, 5)} {
		c.ID = fmt.Sprint("x", i)
		page.WriteString(c.Wide() + "<br>" + c.Pocket() + "<hr>")
	}
	if err := os.WriteFile(dir+"/circuit.html", []byte(page.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A length is written as the shortest number of two decimals.
func TestNum(t *testing.T) {
	for _, x := range []float64{0, math.Copysign(0, -1), .004, -.004, .005, -.005, .1, 1.10, -1.01, 99.999, 120, 12345.678, math.NaN(), math.Inf(1)} {
		checkNum(t, x)
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range 100000 {
		checkNum(t, (r.Float64()-.5)*math.Pow(10, float64(r.IntN(9))))
	}
}

func checkNum(t *testing.T, x float64) {
	t.Helper()
	want := x
	if math.IsNaN(x) || math.IsInf(x, 0) {
		want = 0
	}
	if got, want := num(x), strconv.FormatFloat(math.Round(want*100)/100+0, 'f', -1, 64); got != want {
		t.Fatalf("%v is written %s, not %s", x, got, want)
	}
}

// In short every block has its place in its row, what reaches lies above it and its
// letters below, and nothing meets or leaves the drawing.
func TestSlim(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for n := 1; n < 40; n++ {
		c := random(rng, n)
		for _, most := range []int{8, 16} {
			svg, p := c.slim("slim", most)
			if err := xml.Unmarshal([]byte(svg), new(struct{})); err != nil {
				t.Fatal(err)
			}
			parts := 0
			for i, a := range p.boxes {
				if a.kind == "part" {
					parts++
				}
				if a.x < 0 || a.y < 0 || a.x+a.w > float64(most)*slimPitch+2 || a.y+a.h > p.high {
					t.Errorf("%d blocks, %d in a row: %+v is outside of %g", n, most, a, p.high)
				}
				for _, b := range p.boxes[i+1:] {
					if meets(a, b) {
						t.Errorf("%d blocks, %d in a row: %+v meets %+v", n, most, a, b)
					}
				}
			}
			if parts != n || strings.Count(svg, `class="part-box"`) != n {
				t.Errorf("%d blocks, %d drawn", n, parts)
			}
		}
	}
	if svg := kettle.SlimPocket(); strings.Count(svg, `class="reach"`) != 1 || !strings.Contains(svg, ">BC<") || strings.Count(svg, "part-tick") != 2 {
		t.Error(svg)
	}
}
