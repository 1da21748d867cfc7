package press

import (
	"bytes"
	"fmt"
	"html/template"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"faultleaf/internal/press/presstest"
)

// whole has all that a template may hold here, in all the places where a value may stand.
const whole = `{{define "whole"}}<p title="{{.Text}}" class="a {{.Name}}">{{.Text}} {{.Name}} {{.Count}} {{.Good}}</p>
<title>{{.Text}}</title><textarea>{{.Name}}</textarea>
<a href="{{.Text}}">{{.Text}}</a><a href="../{{.Text}}">b</a><a href="{{.Text}}x.html#{{.Name}}">c</a><a href="?q={{.Text}}&amp;n={{.Count}}">d</a><a href="{{.Count}}">e</a>
<script type="application/json">{{.Data}}</script>
{{if .Yes}}yes{{else}}no{{end}}{{if .Text}}text{{else if .Count}}count{{end}}{{if not .List}}none{{end}}{{if and .Yes (ne .Text "b")}}both{{end}}
{{with .One}}<b>{{.Text}} {{$.Text}}</b>{{template "small" .}}{{else}}nothing, {{.Text}}{{end}}{{with .Text}}{{.}}{{end}}{{with .In}}{{.Text}}{{end}}
{{$t := .Text}}{{range $i, $x := .List}}{{if $i}}, {{end}}{{$i}} {{$x.Text}} {{.Count}} {{$t}} {{if eq .Text $t}}same{{end}}{{range $x := .Deep}}{{$x.Text}}{{end}}{{$x.Text}}{{else}}none, {{.Text}}{{end}}
{{range $x := .Words}}{{$x}}{{end}}{{if gt (len .List) 1}}{{(index .List 1).Text}}{{end}}{{len .Words}} {{len .Text}}
{{.In.Text}} {{.Deep}} {{template "tree" .Tree}}{{template "bare"}}{{/* nobody reads this */}}<!-- nor this -->
{{end}}
{{define "small"}}<i title='{{.Text}}'>{{.Text}}</i>{{end}}{{define "bare"}}<hr>{{end}}
{{define "tree"}}{{if .}}<li>{{.Name}}{{range .Ways}}{{template "tree" .Then}}{{end}}{{$n := .Name}}{{$n}}</li>{{end}}{{end}}`

type name string

type view struct {
	Text  string
	Name  name
	Count int
	Yes   bool
	Good  template.HTML
	Data  template.JS
	One   *part
	In    part
	List  []part
	Words []string
	Tree  *tree
	shared
}

type shared struct{ Deep string }

type part struct {
	Text  string
	Count int
	Deep  []part
}

type tree struct {
	Name string
	Ways []struct{ Then *tree }
}

func both(t testing.TB, text string) (*template.Template, *Press) {
	t.Helper()
	set, err := template.New("").Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(template.Must(set.Clone()))
	if err != nil {
		t.Fatal(err)
	}
	return set, p
}

// Whatever the values are, the bytes are html/template's.
func TestSame(t *testing.T) {
	set, p := both(t, whole)
	r := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		var v view
		presstest.Fill(r, reflect.ValueOf(&v).Elem())
		same(t, set, p, "whole", v)
	}
}

func same(t testing.TB, set *template.Template, p *Press, name string, v any) {
	t.Helper()
	var want bytes.Buffer
	if err := set.ExecuteTemplate(&want, name, v); err != nil {
		t.Fatal(err)
	}
	got, err := p.Append([]byte("before"), name, v)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != "before"+want.String() {
		t.Fatalf("of %#v\n%s\nwant\n%s", v, got, want.String())
	}
}

// Each byte, and each two, in each place.
func TestEscapes(t *testing.T) {
	set, p := both(t, `{{define "x"}}<title>{{.}}</title><p title="{{.}}">{{.}}</p><a href="{{.}}">a</a><a href="/{{.}}">a</a><a href="/?{{.}}">a</a>{{end}}`)
	for a := range 256 {
		same(t, set, p, "x", string([]byte{byte(a)}))
		for b := range 256 {
			same(t, set, p, "x", string([]byte{byte(a), byte(b), 'a', ':'}))
		}
	}
	for _, s := range []string{"", "javascript:alert(1)", "JAVASCRIPT:a", "mailto:a@b", "HttpS://a/b?c=d&e=%20%2", "a/b:c", "%", "%a", "%zz", "%41", "\xff\xfe", "￾", "﷐", "a\x00b"} {
		same(t, set, p, "x", s)
	}
}

// What is not known is refused with its place, and nothing is written.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		text string
		view any
		want string
	}{
		{`{{.Nothing}}`, view{}, ":1:16: .Nothing: a press.view has no Nothing"},
		{`{{.List}}`, view{}, "is not written"},
		{`{{.Good}}`, struct{ Good *string }{}, "is not written"},
		{`<p title="{{.Good}}">`, view{}, "is not written through"},
		{`<title>{{.Good}}</title>`, view{}, "is not written through"},
		{`<a href="{{.X}}">`, struct{ X template.URL }{}, "is not written through"},
		{`<script>{{.Text}}</script>`, view{}, "is not written through"},
		{`<p style="{{.Text}}">`, view{}, "is not written through"},
		{`<p {{.Text}}>`, view{}, "is not written through"},
		{`{{printf "%s" .Text}}`, view{}, "printf is not known for string string"},
		{`{{range .Text}}{{end}}`, view{}, "is no list"},
		{`{{range .Many}}{{end}}`, struct{ Many map[string]int }{}, "is no list"},
		{`{{if .F}}{{end}}`, struct{ F float64 }{}, "is neither so nor not"},
		{`{{.X}}`, struct{ X any }{}, "is not written"},
		{`{{.X}}`, struct{ X says }{}, "is not written"},
		{`{{.X.Loud}}`, struct{ X says }{}, "Loud of press.says is a method"},
		{`{{if $x := .Text}}{{$x}}{{end}}`, view{}, "not known here"},
		{`{{.}}`, nil, "is not written"},
		{`<p{{template "y" .}}>`, view{}, "there is no template"},
	} {
		_, p := both(t, `{{define "x"}}`+c.text+`{{end}}{{define "y"}} title="{{.Text}}"{{end}}`)
		b, err := p.Append(nil, "x", c.view)
		if err == nil || !strings.Contains(err.Error(), c.want) || b != nil {
			t.Errorf("%s gives %q, %v, not %s", c.text, b, err, c.want)
		}
	}
	_, p := both(t, `{{define "x"}}{{.One.Text}}{{end}}{{define "y"}}{{(index .List 2).Text}}{{end}}`)
	for _, name := range []string{"x", "y", "z"} {
		if _, err := p.Append(nil, name, view{List: make([]part, 2)}); err == nil {
			t.Errorf("%s is not refused", name)
		}
	}
	set := template.Must(template.New("").Parse(`{{define "x"}}<a href={{end}}`))
	if _, err := New(set); err == nil {
		t.Error("an open attribute is not refused")
	}
}

type says string

func (s says) String() string { return strings.ToUpper(string(s)) }
func (s says) Loud() string   { return s.String() }

// go test -run xxx -bench . -benchmem ./internal/press
func BenchmarkPress(b *testing.B) {
	set, p := both(b, whole)
	var v view
	presstest.Fill(rand.New(rand.NewPCG(1, 2)), reflect.ValueOf(&v).Elem())
	v.List = make([]part, 50)
	for i := range v.List {
		v.List[i].Text = fmt.Sprint("A text of some words, the ", i)
	}
	b.Run("template", func(b *testing.B) {
		var out bytes.Buffer
		for b.Loop() {
			out.Reset()
			_ = set.ExecuteTemplate(&out, "whole", v)
		}
	})
	b.Run("press", func(b *testing.B) {
		var out []byte
		for b.Loop() {
			out, _ = p.Append(out[:0], "whole", v)
		}
	})
}
