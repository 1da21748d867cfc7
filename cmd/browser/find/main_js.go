//go:build js && wasm

// Command find is the search box's binary: it sets the object faultleafFind, whose
// functions give JSON text. It stands apart from the calculators and the trace, so
// that who only looks something up need not wait for those.
package main

import (
	"runtime"
	"syscall/js"

	"faultleaf/cmd/browser/internal/finder"
)

func main() {
	var f finder.Finder
	js.Global().Set("faultleafFind", js.ValueOf(map[string]any{
		"open": js.FuncOf(func(_ js.Value, args []js.Value) any {
			if len(args) != 1 {
				return `{"error":{"says":"open takes the dictionary"}}`
			}
			return finder.Safely(func() string { return f.Open(bytesOf(args[0])) })
		}),
		"search": js.FuncOf(func(_ js.Value, args []js.Value) any { // a question, and the shards that came for it: names, and their bytes
			if len(args) != 3 || args[0].Type() != js.TypeObject {
				return `{"error":{"says":"one question is asked for"}}`
			}
			for i := range args[1].Length() {
				f.Take(args[1].Index(i).String(), bytesOf(args[2].Index(i)))
			}
			q := question(args[0])
			return finder.Safely(func() string { return f.Search(q) })
		}),
		"code": js.FuncOf(func(_ js.Value, args []js.Value) any {
			return finder.Safely(func() string { return finder.Code(args[0].String()) })
		}),
		"rest": js.FuncOf(func(js.Value, []js.Value) any {
			runtime.GC()
			return nil
		}),
	}))
	select {} // the functions are called from the page from now on
}

// question reads what a page asks; what is not there is empty.
func question(v js.Value) finder.Question {
	text := func(name string) string {
		if v.Get(name).Type() == js.TypeString {
			return v.Get(name).String()
		}
		return ""
	}
	q := finder.Question{Query: text("query"), Device: text("device"), Kind: text("kind"), Here: text("here"),
		Typing: v.Get("typing").Truthy(), Every: v.Get("every").Truthy()}
	number := func(name string) int {
		if v.Get(name).Type() == js.TypeNumber {
			return v.Get(name).Int()
		}
		return 0
	}
	q.Limit, q.First = number("limit"), number("first")
	if list := v.Get("missing"); list.Truthy() {
		for i := range list.Length() {
			q.Missing = append(q.Missing, list.Index(i).String())
		}
	}
	return q
}

func bytesOf(v js.Value) []byte {
	b := make([]byte, v.Get("length").Int())
	js.CopyBytesToGo(b, v)
	return b
}
