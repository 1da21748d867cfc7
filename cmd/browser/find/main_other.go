//go:build !(js && wasm)

// Command find is the search box's binary. It is built for js/wasm; elsewhere it just says
// so.
package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "find is the part of faultleaf that runs inside a page; build it with GOOS=js GOARCH=wasm")
	os.Exit(2)
}
