// Package core makes the browser binary: cmd/browser built for js/wasm.
//
// On a run from source it is built with the Go toolchain that is there, outside
// the tree, into the user's cache, under a name made from everything the build
// depends on, so a second run finds it. A release build (build tag "release")
// embeds the binary instead and needs no toolchain.
package core

// Core is the browser binary and the script of the Go distribution that
// starts it.
type Core struct {
	Wasm   []byte
	Script []byte // wasm_exec.js of the toolchain that built Wasm
}
