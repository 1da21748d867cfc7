//go:build !(js && wasm)

// Command browser is the binary of the calculators and of what needs them. It is built for
// js/wasm; elsewhere it just says so.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "browser is the part of faultleaf that runs inside a page; build it with GOOS=js GOARCH=wasm")
	os.Exit(2)
}
