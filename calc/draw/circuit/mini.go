package circuit

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"faultleaf/calc/inorder"
)

// Mini is a chain in small, where many stand below one another: the symbols of its
// blocks in squares on one wire, shaded by suspicion, or with the one block that
// something is about filled.
type Mini []Small

// Small is one block of it.
type Small struct {
	Symbol string
	Heat   int  // 0 to 4
	Here   bool // the block that it is about
}

// A square's size and the way to the next; what a page's own script draws has the
// same.
const (
	miniWide, miniHigh, miniPitch = 30, 26, 36
)

// SVG draws it with the symbols of the page's sprite.
func (m Mini) SVG() string {
	wide := strconv.Itoa(max(len(m), 1)*miniPitch - 2)
	var b strings.Builder
	b.WriteString(`<svg class="mini" viewBox="-2 -1 ` + wide + ` 28" width="` + wide + `" height="28" aria-hidden="true" focusable="false"><path class="mini-wire" d="M-2 13H` + wide + `"/>`)
	for i, s := range m {
		b.WriteString(`<use class="` + s.class() + `" href="#` + spriteID(s.Symbol) + `" x="` + strconv.Itoa(i*miniPitch) + `"/>`)
	}
	b.WriteString(`</svg>`)
	return b.String()
}

func (s Small) class() string {
	if s.Here {
		return "h4 mini-here"
	}
	return "h" + strconv.Itoa(max(0, min(4, s.Heat)))
}

// Text is the same for an index and for scripts: each block's symbol with a digit,
// 0 to 4 for the shade and 9 for the one it is about, "plug0 cord1 heating9".
func (m Mini) Text() string {
	var list []string
	for _, s := range m {
		digit := strconv.Itoa(max(0, min(4, s.Heat)))
		if s.Here {
			digit = "9"
		}
		list = append(list, s.Symbol+digit)
	}
	return strings.Join(list, " ")
}

func spriteID(symbol string) string { return "s-" + symbol }

func small(symbol string) string {
	return `<path class="mini-box" d="M0 0h` + strconv.Itoa(miniWide) + `v` + strconv.Itoa(miniHigh) + `H0z"/><g class="mini-symbol" transform="translate(15 13)">` + symbols[symbol] + `</g>`
}

// Sprite holds, once for a page, the symbols that its small chains use.
func Sprite(chains ...Mini) string {
	var names []string
	for _, m := range chains {
		for _, s := range m {
			if !slices.Contains(names, s.Symbol) {
				names = append(names, s.Symbol)
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	inorder.Up(names)
	var b strings.Builder
	b.WriteString(`<svg class="sprite" width="0" height="0" aria-hidden="true" focusable="false"><defs>`)
	for _, n := range names {
		b.WriteString(`<g id="` + spriteID(n) + `">` + small(n) + `</g>`)
	}
	b.WriteString(`</defs></svg>`)
	return b.String()
}

// Script gives the symbols to the pages' script, by name.
func Script() []byte {
	list, _ := json.Marshal(symbols)
	list = []byte(strings.NewReplacer(`\u003c`, `<`, `\u003e`, `>`).Replace(string(list)))
	return append(append([]byte("const symbols = "), list...), ";\n"...)
}
