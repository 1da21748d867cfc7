// Package serve is how a page's script calls a binary: texts and bytes in, a text out. They
// pass through the binary's memory and not through syscall/js, whose values, functions and
// finalizers take a browser longer to translate than all else in which a binary starts.
package serve

import "encoding/binary"

// parts cuts what a script wrote into its parts, each behind its length in four bytes, the
// lowest first. What is cut short gives none.
func parts(b []byte) [][]byte {
	var out [][]byte
	for len(b) >= 4 {
		n := binary.LittleEndian.Uint32(b)
		if b = b[4:]; uint64(n) > uint64(len(b)) {
			return nil
		}
		out = append(out, b[:n:n])
		b = b[n:]
	}
	return out
}
