package page

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc"
	"faultleaf/internal/note"
)

const glossary = `---
title: Glossary
---

**Cut-out.** Opens when it is hot. Closes again.

**RCD, GFCI.** A switch.

**Series lamp.** A lamp in the line, *never* “alone” & "bare".

**Lamp.** Gives light.

*Load.* What takes the current.

Not **bold** at the beginning.

- **Listed.** No paragraph of its own.
`

func shopWith(t testing.TB, pages map[string]string) *Shop {
	t.Helper()
	files := fstest.MapFS{"content/shop.yaml": {Data: []byte("name: Test\nid: test\nmains: 230 V\nhertz: 50\ncurrency: £\nrate: 10\n")}}
	for name, text := range pages {
		files["content/pages/"+name+".md"] = &fstest.MapFile{Data: []byte(text)}
	}
	part := note.Open(files, func(string) (*calc.Calculator, bool) { return nil, false }, false).Alone()
	for _, m := range part.Mistakes {
		t.Fatal(m)
	}
	return NewShop(part.Set, nil)
}

// body is the HTML of a page of that text, with links to terms written as [WORD>PLACE].
func body(t testing.TB, glossary, text string) string {
	pages := map[string]string{"x": "---\ntitle: X\n---\n\n" + text + "\n"}
	if glossary != "" {
		pages["glossary"] = glossary
	}
	s := shopWith(t, pages)
	for _, p := range s.Pages {
		if p.Name == "x" {
			h, err := s.Body(&p.Document, p.Address())
			if err != nil {
				t.Fatal(err)
			}
			return string(h)
		}
	}
	t.Fatal("no page")
	return ""
}

var shown = regexp.MustCompile(`\[[^]>]*>[^]]*\]`)

var termLink = regexp.MustCompile(`<a class="term" href="\.\./pages/glossary\.html#([^"]*)" title="[^"]*">([^<]*)</a>`)

func TestTerms(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"The cut-out opens. The cut-out closes.", "The [cut-out>cut-out] opens. The cut-out closes."},
		{"Cut-outs age.", "[Cut-outs>cut-out] age."},
		{"An RCD, or GFCI.", "An [RCD>rcd], or GFCI."},
		{"An rcd is no RCDX, no XRCD and no RCD-like part.", "An rcd is no RCDX, no XRCD and no RCD-like part."},
		{"A series lamp is a lamp.", "A [series lamp>series-lamp] is a [lamp>lamp]."},
		{"A series of lamps.", "A series of [lamps>lamp]."},
		{"A lamp's glass, “lamp”.", "A [lamp>lamp]'s glass, “lamp”."},
		{"It is under load, bold and listed.", "It is under load, bold and listed."},
		{"## The lamp\n\n`lamp` [lamp](x.md) *lamp*", "<code>lamp</code> <a href=\"x.html\">lamp</a> <em>[lamp>lamp]</em>"},
		{"| lamp |\n|---|\n| lamp |", "[lamp>lamp]"},
		{"5 < 6 \\* 7 & a lamp &amp; b", "5 &lt; 6 * 7 &amp; a [lamp>lamp] &amp; b"},
		{"one\\\ntwo\nlamp", "one<br>\ntwo\n[lamp>lamp]"},
		{"- [ ] Lamp out", "[Lamp>lamp] out"},
	} {
		h := body(t, glossary, c.text)
		if got := termLink.ReplaceAllString(h, "[$2>$1]"); !strings.Contains(got, c.want) {
			t.Errorf("%q gives %q, not %q", c.text, got, c.want)
		}
		if got, want := strings.Count(h, `class="term"`), len(shown.FindAllString(c.want, -1)); got != want {
			t.Errorf("%q has %d links, not %d: %s", c.text, got, want, h)
		}
	}
}

// The glossary has a place for each term, and links none of its own words; a shop
// without a glossary links nothing.
func TestGlossaryPage(t *testing.T) {
	s := shopWith(t, map[string]string{"glossary": glossary})
	h, err := s.Body(&s.Pages[0].Document, s.Pages[0].Address())
	if err != nil {
		t.Fatal(err)
	}
	for _, place := range []string{"cut-out", "rcd", "series-lamp", "lamp"} {
		if n := strings.Count(string(h), `<strong id="`+place+`">`); n != 1 {
			t.Errorf("%d places %s", n, place)
		}
	}
	if strings.Count(string(h), "<strong id=") != 4 || strings.Contains(string(h), `class="term"`) {
		t.Errorf("%s", h)
	}
	if got := body(t, glossary, "A series lamp."); !strings.Contains(got, `title="A lamp in the line, never “alone” &amp; &#34;bare&#34;."`) {
		t.Errorf("%s", got)
	}
	if got := body(t, "", "A cut-out."); got != "<p>A cut-out.</p>\n" {
		t.Errorf("%s", got)
	}
}

// go test -run xxx -bench Terms ./internal/site/page: what finding the terms of a
// glossary of fifty adds to a note's text of 250 words, beside the same text with none.
func BenchmarkTerms(b *testing.B) {
	text := strings.Repeat("Every part before the switch reads through, and with the cover off nobody needs a meter to see which of them is brown. ", 12)
	many := "---\ntitle: Glossary\n---\n"
	for i := range 50 {
		many += fmt.Sprintf("\n**Word%c%c thing.** A thing.\n", 'a'+i/26, 'a'+i%26)
	}
	for _, c := range []struct{ name, glossary string }{{"none", ""}, {"fifty", many}} {
		b.Run(c.name, func(b *testing.B) {
			pages := map[string]string{"x": "---\ntitle: X\n---\n\n" + text + "\n"}
			if c.glossary != "" {
				pages["glossary"] = c.glossary
			}
			s := shopWith(b, pages)
			p := s.Pages[len(s.Pages)-1]
			for b.Loop() {
				if _, err := s.Body(&p.Document, p.Address()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
