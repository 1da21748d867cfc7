//go:build js && wasm

package door

import (
	"runtime"
	"syscall/js"
)

// Serve puts the functions that a page may call into an object, under a name among the
// page's, and stays for them. One thread computes and collects: the page calls rest when
// nobody waits; until then collections are few, within the bounds that binary.js sets.
func Serve(name string, answers map[string]func(string) string) {
	box := map[string]any{}
	box["rest"] = js.FuncOf(func(js.Value, []js.Value) any {
		runtime.GC()
		return nil
	})
	for what, answer := range answers {
		box[what] = js.FuncOf(func(_ js.Value, args []js.Value) any {
			if len(args) != 1 || args[0].Type() != js.TypeString {
				return `{"error":{"says":"one text is asked for"}}`
			}
			question := args[0].String()
			return Safely(func() string { return answer(question) })
		})
	}
	js.Global().Set(name, js.ValueOf(box))
	select {} // the functions are called from the page from now on
}
