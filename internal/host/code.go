package host

import (
	"strings"

	"faultleaf/calc/draw/qr"
)

// Code draws an address as a QR code of half blocks, light on dark as most
// terminals are, with the quiet zone of four squares that ISO/IEC 18004 asks
// for. It is empty where the address is too long for one.
func Code(address string) string {
	code, err := qr.Encode(address, qr.L)
	if err != nil {
		return ""
	}
	const quiet = 4
	light := func(x, y int) bool { return !code.Black(x, y) } // outside the code nothing is black
	var b strings.Builder
	for y := -quiet; y < code.Size+quiet; y += 2 {
		for x := -quiet; x < code.Size+quiet; x++ {
			switch up, down := light(x, y), light(x, y+1); {
			case up && down:
				b.WriteString("█")
			case up:
				b.WriteString("▀")
			case down:
				b.WriteString("▄")
			default:
				b.WriteString(" ")
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}
