package looks

import (
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestLooks holds every look to what a page rests on: two drawings that differ, in
// words too, each whole, within its frame and of known classes.
func TestLooks(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range all {
		if seen[l.Name] || !regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`).MatchString(l.Name) {
			t.Errorf("%q is no name, or stands twice", l.Name)
		}
		seen[l.Name] = true
		for _, says := range []string{l.Title, l.Sound, l.Fault} {
			if says == "" || strings.ToUpper(says[:1]) != says[:1] {
				t.Errorf("%s: %q is no sentence", l.Name, says)
			}
		}
		sound, fault := l.SVG(false), l.SVG(true)
		if l.Sound == l.Fault || strings.SplitN(sound, ">", 2)[1] == strings.SplitN(fault, ">", 2)[1] {
			t.Errorf("%s: sound and fault are alike", l.Name)
		}
		for _, svg := range []string{sound, fault} {
			if out := outside(svg); out != "" {
				t.Errorf("%s: %s", l.Name, out)
			}
		}
	}
	if _, ok := Find("bulged-can"); !ok || len(Names()) != len(all) {
		t.Error("a look is not found by its name")
	}
	if _, ok := Find("bulged"); ok {
		t.Error("half a name finds a look")
	}
}

var token = regexp.MustCompile(`[A-Za-z]|-?(?:\d+\.?\d*|\.\d+)`)

// outside says what of a drawing is no XML, of an unknown class, or far beyond
// its frame; points that bend a curve may lie a little beyond it.
func outside(svg string) string {
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return ""
		}
		if err != nil {
			return err.Error()
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range e.Attr {
			switch a.Name.Local {
			case "class":
				if a.Value != "look" && !regexp.MustCompile(`^look-[ltfdewbmgk]$`).MatchString(a.Value) {
					return "class " + a.Value
				}
			case "d":
				if bad := beyond(a.Value); bad != "" {
					return bad
				}
			}
		}
	}
}

func beyond(path string) string {
	var letter string
	var nums []float64
	check := func() string {
		for i, n := range nums {
			x := letter == "H" || letter != "V" && letter != "A" && i%2 == 0 || letter == "A" && i%7 == 5
			y := letter == "V" || letter != "H" && letter != "A" && i%2 == 1 || letter == "A" && i%7 == 6
			if letter != "h" && (x && (n < -6 || n > Width+6) || y && (n < -6 || n > Height+6)) {
				return letter + " goes to " + strconv.FormatFloat(n, 'f', -1, 64)
			}
		}
		return ""
	}
	for _, tok := range token.FindAllString(path, -1) {
		n, err := strconv.ParseFloat(tok, 64)
		if err == nil {
			nums = append(nums, n)
			continue
		}
		if bad := check(); bad != "" {
			return bad
		}
		letter, nums = tok, nil
	}
	return check()
}

// TestKeep keeps every drawing to look at, in the folder that FAULTLEAF_PICTURES
// names.
func TestKeep(t *testing.T) {
	folder := os.Getenv("FAULTLEAF_PICTURES")
	if folder == "" {
		t.Skip("FAULTLEAF_PICTURES names no folder")
	}
	css, err := os.ReadFile("../../../templates/faultleaf.css")
	if err != nil {
		t.Fatal(err)
	}
	for _, scheme := range []string{"light", "dark"} {
		var b strings.Builder
		b.WriteString("<!doctype html><html data-scheme=" + scheme + "><style>" + string(css) + "body{display:block;background:var(--ground)}.looks{display:grid;grid-template-columns:repeat(auto-fill,minmax(20rem,1fr));gap:1rem}</style><div class=looks>")
		for _, l := range all {
			b.WriteString("<figure class=look-pair><div>" + l.SVG(false) + "</div><div>" + l.SVG(true) + "</div><figcaption>" + l.Name + "</figcaption></figure>")
		}
		if err := os.WriteFile(filepath.Join(folder, "looks-"+scheme+".html"), []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
