//go:build js && wasm

// Command browser is the door between the page scripts and the Go code: it sets
// the object faultleafCore, whose functions take and give JSON text.
package main

import (
	"runtime"
	"runtime/debug"
	"syscall/js"

	"faultleaf/cmd/browser/internal/door"
)

func main() {
	// one thread computes and collects: the page calls rest when nobody waits, and
	// until then collections are few, within bounds
	debug.SetGCPercent(800)
	debug.SetMemoryLimit(64 << 20)
	var d door.Door
	core := map[string]any{}
	core["rest"] = js.FuncOf(func(js.Value, []js.Value) any {
		runtime.GC()
		return nil
	})
	for name, answer := range map[string]func(string) string{
		"shop": d.Shop, "calc": d.Calc, "device": d.Device, "plate": d.Plate, "next": d.Next, "arm": d.Arm, "reading": d.Reading, "sheet": d.Sheet, "judge": d.Judge, "lookBack": d.LookBack, "draft": d.Draft, "blocks": d.Blocks, "unwritten": d.Unwritten, "qr": d.QR,
	} {
		core[name] = js.FuncOf(func(_ js.Value, args []js.Value) any {
			if len(args) != 1 || args[0].Type() != js.TypeString {
				return `{"error":{"says":"one text is asked for"}}`
			}
			question := args[0].String()
			return door.Safely(func() string { return answer(question) })
		})
	}
	js.Global().Set("faultleafCore", js.ValueOf(core))
	select {} // the functions are called from the page from now on
}
