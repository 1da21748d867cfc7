package schematic

// part draws the symbol of a column with the wires that join it.
func (d *drawing) part(c column) {
	switch {
	case c.Symbol == Wire && c.At != across:
	case c.both():
		d.block(c)
	case c.At == across:
		d.line(c.at, upper, c.at, middle-half)
		d.line(c.at, middle+half, c.at, lower)
		d.symbol(c.Symbol, c.at, middle, true)
	case c.At == back:
		d.symbol(c.Symbol, c.at, lower, false)
	default:
		d.symbol(c.Symbol, c.at, upper, false)
	}
}

// block draws what lies in both conductors.
func (d *drawing) block(c column) {
	r := c.reach()
	switch c.Symbol {
	case Transformer:
		for _, side := range []float64{-1, 1} {
			x := c.at + side*14
			d.path("M" + num(c.at+side*r) + " " + num(upper) + "H" + num(x) + "V" + num(middle-32))
			d.path("M" + num(c.at+side*r) + " " + num(lower) + "H" + num(x) + "V" + num(middle+32))
			for k := range 4 {
				y := middle - 32 + 16*float64(k)
				sweep := "1"
				if side > 0 {
					sweep = "0"
				}
				d.path("M" + num(x) + " " + num(y) + "A8 8 0 0 " + sweep + " " + num(x) + " " + num(y+16))
			}
		}
		for _, x := range []float64{-2.5, 2.5} {
			d.line(c.at+x, middle-36, c.at+x, middle+36)
		}
	case Rectifier:
		d.rect(c.at-r, upper-12, 2*r, lower-upper+24)
		d.diode(c.at, middle, false)
		d.text("sch-word", c.at-r+9, upper+9, "middle", size, "~")
		d.text("sch-word", c.at+r-9, upper+9, "middle", size, "+")
		d.text("sch-word", c.at-r+9, lower+1, "middle", size, "~")
		d.text("sch-word", c.at+r-9, lower+1, "middle", size, "−")
	default:
		d.rect(c.at-r, upper-12, 2*r, lower-upper+24)
	}
}

func (d *drawing) rect(x, y, w, h float64) {
	d.add(`<rect class="sch-line" x="`, num(x), `" y="`, num(y), `" width="`, num(w), `" height="`, num(h), `"/>`)
}

// symbol draws a part of two ends with its middle at x, y, its ends half a length
// away: along the line that it lies in, upright or level.
func (d *drawing) symbol(s Symbol, x, y float64, upright bool) {
	// at turns a place along and beside the part into the drawing's
	at := func(along, beside float64) string {
		if upright {
			return num(x+beside) + " " + num(y+along)
		}
		return num(x+along) + " " + num(y-beside)
	}
	lead := func(from float64) { // from the symbol's body to its ends
		d.path("M" + at(-half, 0) + "L" + at(-from, 0))
		d.path("M" + at(from, 0) + "L" + at(half, 0))
	}
	body := func(w, h float64) {
		lead(w)
		if upright {
			w, h = h, w
		}
		d.rect(x-w, y-h, 2*w, 2*h)
	}
	round := func(says string) {
		lead(15)
		d.add(`<circle class="sch-line" cx="`, num(x), `" cy="`, num(y), `" r="15"/>`)
		if says != "" {
			d.text("sch-word", x, y+size*.35, "middle", size, says)
		}
	}
	switch s {
	case AC:
		round("")
		d.path("M" + num(x-8) + " " + num(y) + "Q" + num(x-4) + " " + num(y-9) + " " + num(x) + " " + num(y) + "Q" + num(x+4) + " " + num(y+9) + " " + num(x+8) + " " + num(y))
	case Battery:
		lead(4)
		d.path("M" + at(-4, -12) + "L" + at(-4, 12))
		d.path("M" + at(4, -6) + "L" + at(4, 6))
	case Capacitor, Reservoir:
		lead(4)
		d.path("M" + at(-4, -13) + "L" + at(-4, 13))
		d.path("M" + at(4, -13) + "L" + at(4, 13))
		if s == Reservoir {
			d.path("M" + at(-14, -12) + "L" + at(-14, -6))
			d.path("M" + at(-17, -9) + "L" + at(-11, -9))
		}
	case Inductor:
		lead(20)
		for k := range 4 {
			from := -20 + 10*float64(k)
			d.path("M" + at(from, 0) + "A5 5 0 0 1 " + at(from+10, 0))
		}
	case Diode, Zener, LED:
		d.diode(x, y, upright)
		lead(9)
		if s == Zener {
			d.path("M" + at(9, 9) + "L" + at(14, 9))
		}
		if s == LED {
			for _, k := range []float64{-4, 4} {
				d.path("M" + at(k, 13) + "L" + at(k+7, 20) + "M" + at(k+3, 20) + "L" + at(k+7, 20) + "L" + at(k+7, 16))
			}
		}
	case Thermistor:
		body(15, 7)
		d.path("M" + at(-14, -13) + "L" + at(-8, -13) + "L" + at(12, 14))
	case Varistor:
		body(15, 7)
		d.path("M" + at(-14, -13) + "L" + at(-8, -13) + "L" + at(12, 14))
		if upright {
			d.text("sch-word", x-15, y+size, "middle", size, "U")
		} else {
			d.text("sch-word", x+15, y+18, "middle", size, "U")
		}
	case Fuse:
		body(17, 6)
		d.path("M" + at(-17, 0) + "L" + at(17, 0))
	case Switch:
		d.path("M" + at(-half, 0) + "L" + at(-12, 0) + "L" + at(12, 11))
		d.path("M" + at(12, 0) + "L" + at(half, 0))
	case Lamp:
		round("")
		d.path("M" + num(x-10.6) + " " + num(y-10.6) + "L" + num(x+10.6) + " " + num(y+10.6) + "M" + num(x-10.6) + " " + num(y+10.6) + "L" + num(x+10.6) + " " + num(y-10.6))
	case Motor:
		round("M")
	case Voltmeter:
		round("V")
	case Ammeter:
		round("A")
	case Ohmmeter:
		round("Ω")
	case Speaker:
		lead(8)
		d.rect(x-6, y-8, 12, 16)
		d.path("M" + num(x+6) + " " + num(y-8) + "L" + num(x+15) + " " + num(y-16) + "V" + num(y+16) + "L" + num(x+6) + " " + num(y+8))
	case Couple:
		d.path("M" + at(-half, 0) + "L" + at(0, 10) + "L" + at(half, 0))
		d.add(`<circle class="sch-dot" cx="`, num(x+up(upright, 10)), `" cy="`, num(y-up(!upright, 10)), `" r="4"/>`)
	case Open:
		d.path("M" + at(-half, 0) + "L" + at(-11, 0) + "M" + at(11, 0) + "L" + at(half, 0))
		for _, k := range []float64{-8, 8} {
			d.add(`<circle class="sch-end" cx="`, num(x+up(!upright, k)), `" cy="`, num(y+up(upright, k)), `" r="3"/>`)
		}
	case Wire:
		d.path("M" + at(-half, 0) + "L" + at(half, 0))
	default:
		body(15, 7)
	}
}

// diode draws its arrow and its bar, 18 long.
func (d *drawing) diode(x, y float64, upright bool) {
	if upright {
		d.path("M" + num(x-9) + " " + num(y-9) + "H" + num(x+9) + "L" + num(x) + " " + num(y+9) + "Z")
		d.path("M" + num(x-9) + " " + num(y+9) + "H" + num(x+9))
		return
	}
	d.path("M" + num(x-9) + " " + num(y-9) + "V" + num(y+9) + "L" + num(x+9) + " " + num(y) + "Z")
	d.path("M" + num(x+9) + " " + num(y-9) + "V" + num(y+9))
}

// up is a distance where it counts, else none.
func up(counts bool, x float64) float64 {
	if counts {
		return x
	}
	return 0
}
