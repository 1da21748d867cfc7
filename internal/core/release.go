//go:build release

package core

import _ "embed"

// The files are made by .ci/release before the release build; they are not in
// git.

//go:embed browser.wasm
var wasm []byte

//go:embed trace.wasm
var trace []byte

//go:embed find.wasm
var find []byte

//go:embed wasm_exec.js
var script []byte

// Get gives the embedded binaries, which go with this program.
func Get() (Core, error) {
	return Core{Of("core", wasm), Of("trace", trace), Of("find", find), script}, nil
}
