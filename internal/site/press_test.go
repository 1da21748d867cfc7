package site

import (
	"bytes"
	"html/template"
	"math/rand/v2"
	"reflect"
	"testing"

	"faultleaf/internal/press/presstest"
	"faultleaf/internal/site/page"
	"faultleaf/templates"
)

// Every page of the starter is what html/template makes of its view, and so is a page
// of each template whose every text tries to break out.
func TestPressed(t *testing.T) {
	set, _ := notes()
	pages, _, err := Pages(set)
	if err != nil {
		t.Fatal(err)
	}
	slow, err := template.ParseFS(templates.Files, "*.html")
	if err != nil {
		t.Fatal(err)
	}
	fast, err := page.Templates()
	if err != nil {
		t.Fatal(err)
	}
	same := func(name string, view any) {
		t.Helper()
		var want bytes.Buffer
		if err := slow.ExecuteTemplate(&want, name, view); err != nil {
			t.Fatal(err)
		}
		if got, err := fast.Append(nil, name, view); err != nil || !bytes.Equal(got, want.Bytes()) {
			t.Fatalf("%s: %v\n%s\nwant\n%s", name, err, got, want.Bytes())
		}
	}
	views := map[string]reflect.Type{}
	for _, p := range append(pages, page.Page{Template: "missing", View: missing{}}) {
		around := around(set, p, "")
		same(p.Template, p.View)
		same("head", around)
		views["head"], views["foot"] = reflect.TypeOf(around), reflect.TypeOf(around)
		if p.View != nil {
			views[p.Template] = reflect.TypeOf(p.View)
		}
	}
	r := rand.New(rand.NewPCG(3, 4))
	for name, of := range views {
		for range 20 {
			v := reflect.New(of).Elem()
			presstest.Fill(r, v)
			same(name, v.Interface())
		}
	}
	t.Logf("%d pages of %d templates", len(pages), len(views))
}
