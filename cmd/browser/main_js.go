//go:build js && wasm

// Command browser is the binary of the calculators and of what needs them: rating plates,
// proofs, sheets, devices made of blocks. Trace and search are binaries of their own (trace,
// find), so that nobody waits for what a page does not use.
package main

import (
	"faultleaf/cmd/browser/internal/door"
	"faultleaf/cmd/browser/internal/reckoner"
)

func main() {
	var r reckoner.Reckoner
	door.Serve(map[string]func(string) string{"shop": r.Shop, "calc": r.Calc, "plate": r.Plate, "sheet": r.Sheet, "judge": r.Judge, "blocks": r.Blocks, "unwritten": r.Unwritten})
}
