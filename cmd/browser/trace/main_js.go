//go:build js && wasm

// Command trace is the binary of the trace: which test is next on the page's device, and
// why.
package main

import (
	"faultleaf/cmd/browser/internal/door"
	"faultleaf/cmd/browser/internal/tracer"
)

func main() {
	var t tracer.Tracer
	door.Serve(map[string]func(string) string{"device": t.Device, "next": t.Next, "arm": t.Arm, "reading": t.Reading, "lookBack": t.LookBack, "draft": t.Draft})
}
