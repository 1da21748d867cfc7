//go:build js && wasm

// Command find is the search box's binary. It stands apart from the calculators and the
// trace, so that who only looks something up need not wait for those.
package main

import (
	"faultleaf/cmd/browser/internal/finder"
	"faultleaf/cmd/browser/internal/serve"
)

func main() {
	var f finder.Finder
	serve.Page(func(what string, args [][]byte) string {
		return finder.Safely(func() string { return f.Answer(what, args) })
	})
}
