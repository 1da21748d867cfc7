package door

import (
	"errors"
	"strings"

	"rsc.io/qr"

	"faultleaf/calc/quantity"
)

// QR draws an address as a code for the foot of a printed page, so that the
// paper leads back to the screen.
func (d *Door) QR(question string) string {
	var q struct {
		Text string `json:"text"`
	}
	if err := read(question, &q); err != nil {
		return fail(err)
	}
	if q.Text == "" || len(q.Text) > 1000 {
		return fail(errors.New("this address is too long for a printed code"))
	}
	code, err := qr.Encode(q.Text, qr.M)
	if err != nil {
		return fail(err)
	}
	const quiet = 4 // modules of white around it, by ISO/IEC 18004
	n := quantity.Number(float64(code.Size + 2*quiet))
	var b strings.Builder
	b.WriteString(`<svg class="qr" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + n + ` ` + n + `" width="112" height="112" role="img" aria-label="Code with the address of this page" shape-rendering="crispEdges"><rect width="` + n + `" height="` + n + `" fill="#fff"/><path fill="#000" d="`)
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			long := 0
			for x+long < code.Size && code.Black(x+long, y) {
				long++
			}
			if long > 0 {
				l := quantity.Number(float64(long))
				b.WriteString("M" + quantity.Number(float64(x+quiet)) + " " + quantity.Number(float64(y+quiet)) + "h" + l + "v1h-" + l + "z")
				x += long
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return write(map[string]string{"svg": b.String()})
}
