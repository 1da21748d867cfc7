// Package core makes the browser binaries: cmd/browser, with the calculators,
// cmd/browser/trace and cmd/browser/find, with the search, built for js/wasm.
//
// On a run from source they are built with the Go toolchain that is there, outside
// the tree, into the user's cache, under a name made from everything the build
// depends on, so a second run finds it. A release build (build tag "release")
// embeds the binaries instead and needs no toolchain.
package core

// Core is the browser binaries and the script of the Go distribution that
// starts them.
type Core struct {
	Wasm   []byte // calculators
	Trace  []byte // the trace
	Find   []byte // the search
	Script []byte // wasm_exec.js of the toolchain that built them
}
