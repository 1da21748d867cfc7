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
	Wasm   Binary // calculators
	Trace  Binary // the trace
	Find   Binary // the search
	Script []byte // wasm_exec.js of the toolchain that built them
}

// Binary is one of them. It is megabytes, and a site in which it stands already asks for none.
type Binary struct {
	Key  string // tells, beside this program, what Read gives
	Read func() ([]byte, error)
}

// Of is a binary that is at hand.
func Of(key string, b []byte) Binary {
	return Binary{key, func() ([]byte, error) { return b, nil }}
}
