package junction

import (
	"math"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// matrix[i][j] is the reading with red on leg i and black on leg j.
type matrix [3][3]seen

func volts(r seen) string { return quantity.Of(quantity.Voltage, r.volts).Text() }

// two judges a part with two legs.
func two(ab, ba seen) finding {
	switch {
	case ab.short() && ba.short():
		return finding{state: "shorted", stateSays: "Shorted: next to no volts either way."}
	case ab.short() || ba.short():
		return contact("legs 1 and 2")
	case ab.open && ba.open:
		return finding{state: "open", stateSays: "Open both ways.",
			notes: []string{"A suppressor for both polarities, a stack of high-voltage diodes and a light-emitting diode beyond the meter's volts read so when healthy."}}
	case ab.conducts() && ba.conducts():
		if low, high := math.Min(ab.volts, ba.volts), math.Max(ab.volts, ba.volts); low >= lightFrom {
			return finding{state: calc.CannotTell, stateSays: "Conducts both ways at the volts of a light-emitting diode.",
				part: "two-way", partSays: "Two light-emitting diodes back to back, or a resistor of some kilohms."}
		} else if high-low > alikeWithin && high > siliconTo && low >= siliconFrom && low <= siliconTo {
			return finding{state: calc.CannotTell, stateSays: "A junction one way and " + quantity.Of(quantity.Voltage, high).Text() + " the other.",
				part: "zener-or-leaky", partSays: "A Zener diode for so few volts, or a leaky diode: compare with its mark."}
		}
		return finding{state: "leaky", stateSays: "Conducts both ways: a leaky diode, or a resistor.", notes: []string{inCircuit}}
	}
	a, c, r := 0, 1, ab
	if ab.open {
		a, c, r = 1, 0, ba
	}
	word, says := r.material()
	f := finding{state: "junctions-intact", stateSays: "Junction intact; breakdown untested.", part: word + "-diode",
		partSays: "A diode that drops " + volts(r) + ": " + says + ".", legs: [][2]string{{"anode", leg(a)}, {"cathode", leg(c)}}}
	if word == "low" || word == "two-junctions" {
		f.state, f.stateSays = calc.CannotTell, "Conducts one way only, but at unusual volts; compare with a new one."
	}
	return f
}

// contact is the finding for a short one way only, which no part does.
func contact(between string) finding {
	return finding{state: calc.CannotTell, stateSays: "A short one way only, between " + between + ", is no reading of a part: clean the legs and read again."}
}

func between(p [2]int) string { return "legs " + legs[p[0]] + " and " + legs[p[1]] }

// three judges a part with three legs: shorts first, then pairs that conduct both
// ways, then the pattern of one-way pairs.
func three(m matrix) finding {
	var shorts, both []string
	var bothPairs, ways [][2]int
	for _, p := range pairs {
		ab, ba := m[p[0]][p[1]], m[p[1]][p[0]]
		switch {
		case ab.short() && ba.short():
			shorts = append(shorts, between(p))
		case ab.short() || ba.short():
			return contact(between(p))
		case ab.conducts() && ba.conducts():
			both, bothPairs = append(both, between(p)), append(bothPairs, p)
		case ab.conducts():
			ways = append(ways, p)
		case ba.conducts():
			ways = append(ways, [2]int{p[1], p[0]})
		}
	}
	if len(shorts) > 0 {
		return finding{state: "shorted", stateSays: "Shorted between " + strings.Join(shorts, " and ") + ".",
			notes: []string{chargedFET, "A part in a three-leg case may have two legs joined by design; compare with its data sheet.", inCircuit}}
	}
	if len(both) > 0 {
		return twoWay(m, both, bothPairs, ways)
	}
	switch len(ways) {
	case 0:
		return finding{state: "open", stateSays: "Nothing conducts: as a bipolar transistor it is open.", part: calc.CannotTell,
			partSays: "An IGBT without a diode, and some thyristors, read so when healthy."}
	case 1:
		return one(m, ways[0])
	case 2:
		return pair(m, ways)
	}
	return ring(m, ways)
}

// twoWay judges parts of which some pairs conduct both ways. Only a path between
// collector and emitter past two good junctions is surely a leak.
func twoWay(m matrix, both []string, bothPairs, ways [][2]int) finding {
	if len(bothPairs) == 1 && len(ways) == 2 {
		if f := pair(m, ways); f.state == "junctions-intact" {
			f.state = "leaky"
			f.stateSays = "Leaky: both junctions conduct one way, but " + both[0] + ", collector and emitter, conduct both ways."
			f.notes = []string{inCircuit}
			return f
		}
	}
	return finding{state: calc.CannotTell, stateSays: "Conducts both ways between " + strings.Join(both, " and ") + ": a leak, or resistors inside.",
		part:     calc.CannotTell,
		partSays: "Darlingtons, transistors with built-in resistors and some with a diode across them read so when healthy; compare with the data sheet or a new one.",
		notes:    []string{chargedFET, inCircuit}}
}

// one judges a part of which a single pair conducts, one way.
func one(m matrix, w [2]int) finding {
	r := m[w[0]][w[1]]
	_, says := r.material()
	return finding{state: calc.CannotTell, stateSays: "One junction only, " + volts(r) + " from " + leg(w[0]) + " to " + leg(w[1]) + ": " + says + ".",
		part: "one-junction", partSays: "A transistor with its other junction open; or, healthy, a MOSFET's body diode (anode at the source of an N-channel one), or one diode in a three-leg case. The mark on the part decides.",
		legs:  [][2]string{{"anode", leg(w[0])}, {"cathode", leg(w[1])}},
		notes: []string{"A MOSFET's gate is not tested by this, and a charged one may hide the diode: short its legs together and read again."}}
}

// pair judges a part of which two pairs conduct, each one way.
func pair(m matrix, ways [][2]int) finding {
	p, q := ways[0], ways[1]
	var base, x, y int
	var bx, by seen
	var kind, says string
	switch {
	case p[0] == q[0]:
		base, x, y = p[0], p[1], q[1]
		bx, by = m[base][x], m[base][y]
		kind, says = "npn", "NPN transistor: red on "+leg(base)+" conducts to both others. A double diode with joined anodes reads the same."
	case p[1] == q[1]:
		base, x, y = p[1], p[0], q[0]
		bx, by = m[x][base], m[y][base]
		kind, says = "pnp", "PNP transistor: black on "+leg(base)+" conducts from both others. A double diode with joined cathodes reads the same."
	default:
		if p[0] == q[1] {
			p, q = q, p
		}
		return finding{state: calc.CannotTell, stateSays: "Two junctions in a row, " + leg(p[0]) + " to " + leg(p[1]) + " to " + leg(q[1]) + ".",
			part: "series-diodes", partSays: "Two diodes in series with their middle at " + leg(p[1]) + ", or a faulty transistor; no plain transistor reads so."}
	}
	low, high := math.Min(bx.volts, by.volts), math.Max(bx.volts, by.volts)
	switch {
	case low >= lightFrom:
		return finding{state: calc.CannotTell, stateSays: "Two junctions at the volts of light-emitting diodes.",
			part: "light-emitting-pair", partSays: "A light-emitting diode of two colours with its common leg at " + leg(base) + "."}
	case high > siliconTo && high < lightFrom && low >= siliconFrom && low <= siliconTo:
		return finding{state: calc.CannotTell, stateSays: "One reading is that of two junctions in series.",
			part: "darlington", partSays: "A Darlington of the " + strings.ToUpper(kind) + " kind, its base at " + leg(base) + ", or a bad contact; compare with a new one."}
	case low < lowBelow || high > siliconTo:
		return finding{state: calc.CannotTell, stateSays: "A reading of " + quantity.Of(quantity.Voltage, pick(low < lowBelow, low, high)).Text() + " is that of no good junction: a leak or a bad contact.",
			part: calc.CannotTell, partSays: "The pattern is that of " + strings.ToUpper(kind) + " with its base at " + leg(base) + "."}
	case high-low > alikeWithin:
		return finding{state: calc.CannotTell, stateSays: "The two junctions differ by " + quantity.Of(quantity.Voltage, high-low).Text() + "; those of one transistor agree within a few hundredths of a volt.",
			part: calc.CannotTell, partSays: "The pattern is that of " + strings.ToUpper(kind) + " with its base at " + leg(base) + "; compare with a new one."}
	}
	f := finding{state: "junctions-intact", stateSays: intact, part: kind, partSays: says, legs: [][2]string{{"base", leg(base)}}}
	if high < siliconFrom {
		f.notes = append(f.notes, "So few volts are those of germanium; a double Schottky diode is likelier in anything made since the seventies.")
	}
	if quantity.Round(high-low, 6) < tellsEmitter {
		f.notes = append(f.notes, "The two junctions read too much alike to tell emitter from collector; a double diode does so.")
		return f
	}
	emitter, collector := x, y
	if by.volts > bx.volts {
		emitter, collector = y, x
	}
	f.legs = append(f.legs, [2]string{"emitter", leg(emitter) + ", as its junction reads more"}, [2]string{"collector", leg(collector)})
	return f
}

func pick(first bool, a, b float64) float64 {
	if first {
		return a
	}
	return b
}

// ring judges a part of which all three pairs conduct, each one way.
func ring(m matrix, ways [][2]int) finding {
	var from, to [3]int
	for _, w := range ways {
		from[w[0]]++
		to[w[1]]++
	}
	source, sink := -1, -1
	for i := range legs {
		if from[i] == 2 {
			source = i
		}
		if to[i] == 2 {
			sink = i
		}
	}
	if source < 0 {
		return finding{state: calc.CannotTell, stateSays: "Conducts round in a ring, which no ordinary part does: read again, and write each reading in its own place."}
	}
	middle := 3 - source - sink
	first, second, across := m[source][middle], m[middle][sink], m[source][sink]
	if across.volts > siliconTo && across.volts > 0.8*(first.volts+second.volts) {
		return finding{state: "junctions-intact", stateSays: "Junctions intact; breakdown untested.", part: "series-diodes",
			partSays: "Two diodes in series, from " + leg(source) + " over " + leg(middle) + " to " + leg(sink) + "."}
	}
	return finding{state: calc.CannotTell, stateSays: "Three junctions, none of them shorted or leaky here.", part: "transistor-with-diode",
		partSays: "A transistor or Darlington with a diode from emitter to collector: NPN with base at " + leg(source) + " and emitter at " + leg(middle) +
			", or PNP with base at " + leg(sink) + " and emitter at " + leg(middle) + ". The readings are the same."}
}
