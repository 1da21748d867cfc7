package page

import (
	"encoding/xml"
	"html"
	"io"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/alecthomas/chroma/v2/lexers"

	"faultleaf/calc/all"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
)

const bodyShop = "name: A\nid: a\nmains: 230 V\nhertz: 50\ncurrency: €\nrate: 20\n"

var inTag = regexp.MustCompile(`<[a-zA-Z/!][^>]*>`)

// harm says what a text of HTML holds that could run, reach outside or stand open, "" for nothing.
func harm(text string) string {
	for _, tag := range inTag.FindAllString(text, -1) {
		name := strings.ToLower(strings.FieldsFunc(tag, func(c rune) bool { return c == '<' || c == '>' || c == ' ' || c == '/' || c == '\n' })[0])
		switch name {
		case "script", "style", "iframe", "object", "embed", "link", "meta", "base":
			return tag
		}
	}
	d := xml.NewDecoder(strings.NewReader("<div>" + text + "</div>"))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		t, err := d.Token()
		if err == io.EOF {
			return ""
		}
		if err != nil {
			return "" // what only a browser reads was looked at above
		}
		e, ok := t.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range e.Attr {
			value := strings.ToLower(strings.TrimSpace(html.UnescapeString(a.Value)))
			switch name := strings.ToLower(a.Name.Local); {
			case strings.HasPrefix(name, "on"), name == "style", name == "srcdoc":
				return e.Name.Local + " " + name
			case name == "href" || name == "src" || name == "action":
				scheme, _, ok := strings.Cut(value, ":")
				if ok && !strings.ContainsAny(scheme, "/?#") && scheme != "http" && scheme != "https" && scheme != "mailto" && scheme != "tel" {
					return e.Name.Local + " " + name + " " + value
				}
			}
		}
	}
}

// FuzzBody: whatever Markdown the reader lets through, its page holds text and links.
func FuzzBody(f *testing.F) {
	for _, s := range []string{"# A\n\n[a](javascript:b) <javascript:b>\n", "![a](x.png \"onload=1\")\n\n| a | b |\n|:-|-:|\n| `<b>` | **\\<i>** |\n", "- [ ] a\n- [x] <b\n", "```html\"><script>\n</code></pre><script>\n```\n", "[a]: <javascript:b> 'x'\n\n[a] [a][] [b][a]\n",
		"a &lt;script&gt; &#60;script&#62; \\<script>\n", "~~a~~ [=](calc:wire?volts=10V#amps) [1](calc:x#y)\n", "<http://a.example/\"onclick=b> <a@b.example>\n", "[a](http://a.example/?\"onclick='b')\n", "a\n===\n\n1. b\n   > c\n\n---\n", "## a {#b onclick=c}\n", "[a](x.md#\"onclick=b)\n"} {
		f.Add(s)
	}
	load := func(body string) (*note.Set, problem.List) {
		fsys := fstest.MapFS{"content/shop.yaml": {Data: []byte(bodyShop), Mode: 0o644}, "content/pages/x.md": {Data: []byte("---\ntitle: X\n---\n" + body), Mode: 0o644},
			"content/pages/glossary.md": {Data: []byte("---\ntitle: Words\n---\n\n**Cord.** What leads.\n"), Mode: 0o644}}
		set, mistakes, _ := note.Load(fsys, all.Find)
		return set, mistakes
	}
	if set, mistakes := load("A cord, and a [link](glossary.md).\n"); len(mistakes) > 0 || len(set.Pages) != 2 {
		f.Fatal(mistakes)
	}
	f.Fuzz(func(t *testing.T, body string) {
		set, mistakes := load(body)
		if len(mistakes) > 0 {
			return
		}
		s := NewShop(set, nil)
		for _, p := range set.Pages {
			text, err := s.Body(&p.Document, "pages/x.html")
			if err != nil {
				t.Fatal(err)
			}
			if says := harm(string(text)); says != "" {
				t.Fatalf("%q becomes %q: %s", body, text, says)
			}
		}
	})
}

// What looks for harm finds it.
func TestHarm(t *testing.T) {
	for _, bad := range []string{"<script>a</script>", "<p onclick=\"a\">b</p>", "<a href=\"javascript:a\">b</a>", "<a href=\"java&#115;cript:a\">b</a>", "<a href=' data:text/html,a'>b</a>", "<p style=\"a\">b</p>", "<p>a<IFRAME src=x></IFRAME></p>"} {
		if harm(bad) == "" {
			t.Errorf("%s is found harmless", bad)
		}
	}
	for _, good := range []string{"<p>a &lt;script&gt; <br> <a href=\"../x.html#b\">c</a> <a href=\"http://a.example/\">d</a></p>", "<a href=\"x.html?a:b\">c</a>"} {
		if says := harm(good); says != "" {
			t.Errorf("%s: %s", good, says)
		}
	}
}

// Code is coloured where it is short; neither a name that is no language's nor any amount of code
// makes a page wait, and how busy a machine is changes no page.
func TestCodeIsBounded(t *testing.T) {
	w := &writer{}
	if got := w.lexerOf("Go", "package a\n").Config().Name; got != "Go" {
		t.Error(got)
	}
	for _, c := range []struct{ language, text string }{
		{"", "a\n"}, {"no-language", "a\n"}, {"x.go", "a\n"}, {"../go", "a\n"}, {"go", strings.Repeat("\"", mostLine+1) + "\n"},
	} {
		if got := w.lexerOf(c.language, c.text); got != lexers.Fallback {
			t.Errorf("%q: %s", c.language, got.Config().Name)
		}
	}
	coloured := 0
	for range 1000 {
		if w.lexerOf("go", strings.Repeat("a := 1\n", 100)) != lexers.Fallback {
			coloured++
		}
	}
	if coloured == 0 || coloured > mostCode/700 {
		t.Errorf("%d pieces are coloured", coloured)
	}
}
