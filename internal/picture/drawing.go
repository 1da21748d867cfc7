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

var (
	within   = regexp.MustCompile(`^#|^data:image/(png|jpeg|webp);base64,`)
	cssReach = regexp.MustCompile(`(?i)url\s*\(\s*["']?\s*([^"')\s]*)`)
	cssRuns  = regexp.MustCompile(`(?i)@import|expression\s*\(|javascript:|-moz-binding|behavior\s*:|\\`)
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
	depth, rooted, style := 0, false, false
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
			style = name == "style"
			if foreign[name] {
				return 0, 0, fail(at, "the drawing holds <"+clip(t.Name.Local)+">, which is no drawing", "take it out")
			}
			if says := attributes(t); says != "" {
				return 0, 0, fail(at, says, "take it out")
			}
		case xml.EndElement:
			depth--
			style = false
		case xml.CharData:
			if style {
				if says := css(string(t)); says != "" {
					return 0, 0, fail(at, says, "take it out")
				}
			}
		}
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
		case (name == "href" || name == "src") && !within.MatchString(value):
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
