//go:build release

package core

import _ "embed"

// Both files are made by .ci/release before the release build; they are not in
// git.

//go:embed browser.wasm
var wasm []byte

//go:embed wasm_exec.js
var script []byte

// Get gives the embedded binary.
func Get() (Core, error) { return Core{wasm, script}, nil }
