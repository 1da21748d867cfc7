package finder

import (
	"errors"
	"strconv"
	"strings"

	"faultleaf/calc/draw/qr"
)

// Code draws an address as a QR code for the foot of a printed page, so that the paper leads
// back to the screen. It is answered here because every page has this binary.
func Code(address string) string {
	if address == "" || len(address) > 1000 {
		return fail(errors.New("this address is too long for a printed code"))
	}
	code, err := qr.Encode(address, qr.M)
	if err != nil {
		return fail(err)
	}
	const quiet = 4 // modules of white around it, by ISO/IEC 18004
	n := strconv.Itoa(code.Size + 2*quiet)
	var b strings.Builder
	b.WriteString(`<svg class="qr" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + n + ` ` + n + `" width="112" height="112" role="img" aria-label="Code with the address of this page" shape-rendering="crispEdges"><rect width="` + n + `" height="` + n + `" fill="#fff"/><path fill="#000" d="`)
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			long := 0
			for code.Black(x+long, y) {
				long++
			}
			if long > 0 {
				l := strconv.Itoa(long)
				b.WriteString("M" + strconv.Itoa(x+quiet) + " " + strconv.Itoa(y+quiet) + "h" + l + "v1h-" + l + "z")
				x += long
			}
		}
	}
	b.WriteString(`"/></svg>`)
	var w writer
	w.object(func() { w.text("svg", b.String()) })
	return w.String()
}
