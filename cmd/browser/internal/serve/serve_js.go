//go:build js && wasm

package serve

import (
	"runtime"
	_ "syscall/js" // hands the runtime's own timers on
	"unsafe"
)

var (
	handler func(what string, args [][]byte) string
	asked   []byte // what the script writes
	text    string // the last answer, until the script has read it
)

// Page has a page's script call answer, with a name and what it takes, and stays for it. One
// thread computes and collects: the page asks for "rest" when nobody waits; until then collections
// are few, within the bounds that binary.js sets.
func Page(answer func(what string, args [][]byte) string) {
	handler = answer
	select {} // the functions below are called from the page from now on
}

// room makes room for n bytes, and gives its place in memory.
//
//go:wasmexport room
func room(n uint32) uint32 {
	asked = make([]byte, n)
	return uint32(uintptr(unsafe.Pointer(unsafe.SliceData(asked))))
}

// answer answers what was written there, and gives the answer's length in bytes.
//
//go:wasmexport answer
func answer() uint32 {
	p := parts(asked)
	asked, text = nil, ""
	switch {
	case len(p) == 0:
		text = `{"error":{"says":"nothing is asked for"}}`
	case string(p[0]) == "rest":
		runtime.GC()
	default:
		text = handler(string(p[0]), p[1:])
	}
	return uint32(len(text))
}

// said gives the answer's place in memory.
//
//go:wasmexport said
func said() uint32 { return uint32(uintptr(unsafe.Pointer(unsafe.StringData(text)))) }
