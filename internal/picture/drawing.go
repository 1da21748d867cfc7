package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// foreign elements run something, or show what is no drawing.
var foreign = map[string]bool{"script": true, "foreignobject": true, "iframe": true, "embed": true, "object": true, "audio": true, "video": true,
	"handler": true, "listener": true, "link": true, "meta": true, "canvas": true}

// leads are attributes that say where something else is.
var leads = map[string]bool{"href": true, "src": true, "srcset": true, "ping": true, "data": true, "poster": true, "background": true, "action": true, "formaction": true}

// mostCopied elements are shown of a drawing with all that it repeats by <use>.
const mostCopied = 500_000

var (
	within   = regexp.MustCompile(`^#|^data:image/(png|jpeg|webp);base64,`)
	cssReach = regexp.MustCompile(`(?i)url\s*\(\s*["']?\s*([^"')\s]*)`)
	cssRuns  = regexp.MustCompile(`(?i)@import|image-set\s*\(|\b(?:image|src|cross-fade)\s*\(|expression\s*\(|javascript:|-moz-binding|behavior\s*:|\\`)
	length   = regexp.MustCompile(`^([0-9.]+)(px)?$`)
)

// drawing checks an SVG file: well made, without scripts, handlers, rules of its
// own for how it is read, or anything from outside. It gives the drawing's size
// where it says one.
func drawing(b []byte) (width, height int, err error) {
	fail := func(at int64, says, do string) error {
		return &Problem{Line: 1 + bytes.Count(b[:min(at, int64(len(b)))], []byte("\n")), Says: says, Do: do}
	}
	d := xml.NewDecoder(bytes.NewReader(b))
	d.Strict = true
	if !utf8.Valid(b) {
		return 0, 0, fail(0, "the drawing is no UTF-8 text", "save it with the encoding UTF-8")
	}
	depth, rooted := 0, false
	style, rules := 0, strings.Builder{} // how deep the open <style> lies, and what stands in it, however it is cut up
	var copies copies
	for {
		at := d.InputOffset()
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return 0, 0, fail(d.InputOffset(), "the drawing is damaged here", "save it anew")
		}
		switch t := t.(type) {
		case xml.Directive:
			return 0, 0, fail(at, "the drawing brings a document type of its own", "take out the <!DOCTYPE ...>")
		case xml.ProcInst:
			if t.Target != "xml" {
				return 0, 0, fail(at, "the drawing asks for another file", "take out the <?"+t.Target+" ...?>")
			}
		case xml.StartElement:
			at = d.InputOffset() - 1 // the tag's end is where a reader looks
			name := strings.ToLower(t.Name.Local)
			if depth == 0 {
				if name != "svg" || rooted {
					return 0, 0, fail(at, "this is no drawing", "an SVG file begins with <svg ...>")
				}
				rooted = true
				width, height = size(t)
			}
			depth++
			if foreign[name] || t.Name.Space == "http://www.w3.org/1999/xhtml" {
				return 0, 0, fail(at, "the drawing holds <"+clip(t.Name.Local)+">, which is no drawing", "take it out")
			}
			if says := attributes(t); says != "" {
				return 0, 0, fail(at, says, "take it out")
			}
			if name == "style" && style == 0 {
				style = depth
			}
			copies.begin(name, t)
		case xml.EndElement:
			if depth == style {
				if says := css(rules.String()); says != "" {
					return 0, 0, fail(d.InputOffset()-1, says, "take it out")
				}
				style = 0
				rules.Reset()
			}
			depth--
			copies.end()
		case xml.CharData:
			if style > 0 {
				rules.Write(t)
			}
		}
	}
	if copies.all() > mostCopied {
		return 0, 0, fail(0, fmt.Sprintf("the drawing repeats parts of itself until it has more than %d", mostCopied), "repeat less")
	}
	if !rooted {
		return 0, 0, fail(0, "this is no drawing", "an SVG file begins with <svg ...>")
	}
	return width, height, nil
}

// attributes says what is wrong with those of an element.
func attributes(t xml.StartElement) string {
	for _, a := range t.Attr {
		name, value := strings.ToLower(a.Name.Local), strings.TrimSpace(a.Value)
		switch {
		case a.Name.Space == "xmlns" || name == "xmlns":
		case strings.HasPrefix(name, "on"):
			return "the drawing runs something by “" + clip(a.Name.Local) + "”"
		case name == "base":
			return "the drawing says where it is read from"
		case leads[name] && !within.MatchString(value):
			return "the drawing reaches outside, to “" + clip(value) + "”"
		case name == "attributename" && (strings.EqualFold(value, "href") || strings.HasSuffix(strings.ToLower(value), ":href") || strings.HasPrefix(strings.ToLower(value), "on")):
			return "the drawing changes where it leads"
		default:
			if says := css(value); says != "" {
				return says
			}
		}
	}
	return ""
}

// css says what is wrong with rules of style, or with a value that may be one.
func css(s string) string {
	for _, m := range cssReach.FindAllStringSubmatch(s, -1) {
		if !within.MatchString(m[1]) {
			return "the drawing reaches outside, to “" + clip(m[1]) + "”"
		}
	}
	if m := cssRuns.FindString(s); m != "" {
		return "the drawing holds “" + clip(m) + "”"
	}
	return ""
}

// size is what a drawing says of its size, in pixels.
func size(t xml.StartElement) (w, h int) {
	at := map[string]string{}
	for _, a := range t.Attr {
		at[a.Name.Local] = strings.TrimSpace(a.Value)
	}
	number := func(s string) int {
		m := length.FindStringSubmatch(s)
		if m == nil {
			return 0
		}
		v, err := strconv.ParseFloat(m[1], 64)
		if err != nil || v < 1 || v > 1e5 {
			return 0
		}
		return int(math.Round(v))
	}
	w, h = number(at["width"]), number(at["height"])
	if box := strings.FieldsFunc(at["viewBox"], func(c rune) bool { return c == ' ' || c == ',' }); (w == 0 || h == 0) && len(box) == 4 {
		w, h = number(box[2]), number(box[3])
	}
	if w == 0 || h == 0 {
		return 0, 0
	}
	return w, h
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return fmt.Sprint(s)
}

// copies counts the elements of a drawing with those that <use> repeats: a few lines that use
// one another ten times each would keep a browser busy for ever.
type copies struct {
	parts []*part // the drawing first, then those inside that have a name, as they are met
	open  []*part // by depth; the same where an element has no name
	named map[string]*part
}

type part struct {
	own     int
	holds   []*part
	repeats []string
	total   int // 0 before it is counted, -1 meanwhile
}

func (c *copies) begin(name string, t xml.StartElement) {
	id, to := "", ""
	for _, a := range t.Attr {
		switch strings.ToLower(a.Name.Local) {
		case "id":
			id = a.Value
		case "href":
			to = strings.TrimSpace(a.Value)
		}
	}
	var p *part
	if len(c.open) > 0 {
		p = c.open[len(c.open)-1]
	}
	if p == nil || id != "" {
		inner := &part{}
		if p != nil {
			p.holds = append(p.holds, inner)
		} else {
			c.named = map[string]*part{}
		}
		if _, twice := c.named[id]; id != "" && !twice {
			c.named[id] = inner
		}
		c.parts, p = append(c.parts, inner), inner
	}
	p.own++
	if name == "use" && strings.HasPrefix(to, "#") {
		p.repeats = append(p.repeats, to[1:])
	}
	c.open = append(c.open, p)
}

func (c *copies) end() { c.open = c.open[:len(c.open)-1] }

// all is how many elements are shown, counted no further than just beyond the limit. What
// repeats itself is shown once, as browsers have it. A part is counted after those that it
// rests on, without one call inside another, for a hostile drawing is as deep as it likes.
func (c *copies) all() int {
	if len(c.parts) == 0 {
		return 0
	}
	work := []*part{c.parts[0]}
	for len(work) > 0 {
		p := work[len(work)-1]
		if p.total > 0 {
			work = work[:len(work)-1]
			continue
		}
		rests := p.holds
		for _, id := range p.repeats {
			if q := c.named[id]; q != nil {
				rests = append(rests[:len(rests):len(rests)], q)
			}
		}
		if p.total == 0 {
			p.total = -1
			for _, q := range rests {
				if q.total == 0 {
					work = append(work, q)
				}
			}
			continue
		}
		p.total = p.own
		for _, q := range rests {
			p.total = min(p.total+max(q.total, 0), mostCopied+1)
		}
		work = work[:len(work)-1]
	}
	return c.parts[0].total
}
