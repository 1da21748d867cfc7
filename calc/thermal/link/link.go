package link

import (
	_ "embed"
	"math"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

var kinds = []calc.Choice{{Name: "one-shot", Label: "One-shot link"}, {Name: "self-resetting", Label: "Closes again by itself"}}

var mountings = []calc.Choice{{Name: "embedded", Label: "Embedded in the winding or body"}, {Name: "surface", Label: "On the surface"}, {Name: "in-air", Label: "In free air"}}

// Calculator judges a thermal link and gives the window for its Tf.
var Calculator = &calc.Calculator{
	Name:  "thermal-link",
	Title: "Choosing a thermal link",
	For:   "Tells whether a thermal link may replace the old one: same mark first, else a window from temperatures.",
	Shelf: "thermal",
	Inputs: []calc.Input{
		{Name: "mark", Label: "Tf printed on the old part", Kind: quantity.Temperature, Optional: true, Low: "40 °C", High: "400 °C",
			Help: "If it can be read, it decides."},
		{Name: "normal", Label: "Highest body temperature in normal use", Kind: quantity.Temperature, Optional: true, Low: "0 °C", High: "400 °C",
			Help: "Where the link sits, hottest ordinary setting, warm room."},
		{Name: "overshoot", Label: "Overshoot of the thermostat", Folded: true, Kind: quantity.Rise, Default: "0 K", Low: "0 K", High: "150 K"},
		{Name: "self-heating", Label: "Link's own heating at load", Folded: true, Kind: quantity.Rise, Default: "0 K", Low: "0 K", High: "100 K"},
		{Name: "class", Label: "Class of insulation", Default: "none", Choices: []calc.Choice{{Name: "none", Label: "Not known"},
			{Name: "90", Label: "90"}, {Name: "105", Label: "105"}, {Name: "120", Label: "120"}, {Name: "130", Label: "130"}, {Name: "155", Label: "155"},
			{Name: "180", Label: "180"}, {Name: "200", Label: "200"}, {Name: "220", Label: "220"}},
			Help: "The number, as letters differ between catalogues. Used where no highest temperature is given."},
		{Name: "highest", Label: "Highest temperature the protected part may reach", Kind: quantity.Temperature, Optional: true, Low: "20 °C", High: "600 °C"},
		{Name: "gradient", Label: "From hottest spot to link", Folded: true, Kind: quantity.Rise, Default: "0 K", Low: "0 K", High: "300 K",
			Help: "How much cooler the link is than the hottest spot."},
		{Name: "tolerance", Label: "May open below Tf by", Folded: true, Kind: quantity.Rise, Default: "10 K", Low: "0 K", High: "30 K", Help: "10 K by IEC 60691."},
		{Name: "holding", Label: "Th of the part in hand", Folded: true, Kind: quantity.Temperature, Optional: true, Low: "20 °C", High: "400 °C"},
		{Name: "limit", Label: "Tm of the part in hand", Folded: true, Kind: quantity.Temperature, Optional: true, Low: "40 °C", High: "600 °C"},
		{Name: "after-peak", Label: "Peak at the link after it opened", Folded: true, Kind: quantity.Temperature, Optional: true, Low: "20 °C", High: "800 °C"},
		{Name: "volts", Label: "Voltage of the circuit", Folded: true, Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "1 V", High: "1000 V"},
		{Name: "amps", Label: "Amperes of the circuit", Folded: true, Kind: quantity.Current, Default: "8.7 A", Low: "1 mA", High: "100 A"},
		{Name: "part-mark", Label: "Tf of the part in hand", Kind: quantity.Temperature, Optional: true, Low: "40 °C", High: "400 °C"},
		{Name: "part-volts", Label: "Rated voltage of the part in hand", Kind: quantity.Voltage, Optional: true, Low: "1 V", High: "1000 V"},
		{Name: "part-amps", Label: "Rated amperes of the part in hand", Kind: quantity.Current, Optional: true, Low: "1 mA", High: "100 A"},
		{Name: "part-kind", Label: "Kind of the part in hand", Default: "one-shot", Choices: kinds},
		{Name: "old-kind", Label: "Kind of the old part", Folded: true, Default: "one-shot", Choices: kinds},
		{Name: "part-mounting", Label: "Mounting of the part in hand", Folded: true, Default: "embedded", Choices: mountings},
		{Name: "old-mounting", Label: "Mounting of the old part", Folded: true, Default: "embedded", Choices: mountings},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "window-low", Label: "Tf at least", Kind: quantity.Temperature, Limit: quantity.Lowest, Help: "Below it the link trips in ordinary use."},
		{Name: "window-high", Label: "Tf at most", Kind: quantity.Temperature, Limit: quantity.Highest, Help: "Above it the link opens too late."},
		{Name: "standard-values", Label: "Usual values in the window"},
		{Name: "opens-from", Label: "Opens from", Kind: quantity.Temperature},
		{Name: "opens-to", Label: "Opens at the latest at", Kind: quantity.Temperature, Limit: quantity.Lowest},
		{Name: "worst", Label: "Worst body temperature in use", Kind: quantity.Temperature, Limit: quantity.Lowest},
		{Name: "margin", Label: "Margin against tripping in use", Kind: quantity.Rise, Limit: quantity.Highest},
		{Name: "peak-margin", Label: "Margin of Tm over the peak after opening", Kind: quantity.Rise, Limit: quantity.Highest},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><msub><mi>T</mi><mtext>normal</mtext></msub><mo>+</mo><msub><mi>ΔT</mi><mtext>overshoot</mtext></msub><mo>+</mo>` +
		`<msub><mi>ΔT</mi><mtext>own</mtext></msub><mo>+</mo><msub><mi>ΔT</mi><mtext>tolerance</mtext></msub><mo>≤</mo><msub><mi>T</mi><mi>f</mi></msub>` +
		`<mo>≤</mo><msub><mi>T</mi><mtext>highest</mtext></msub><mo>−</mo><msub><mi>ΔT</mi><mtext>gradient</mtext></msub></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "Never bypass a thermal link, not even for a test run, and never fit one with a higher Tf: it is what stands between a fault and a fire."},
		{Signal: calc.Warning, Text: "Find out why it opened before the new one goes in. Pull the plug first. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "A heater's link has lost its mark. In use its place reaches 121 °C, the thermostat overshoots by 14 K, its current adds 6 K. In hand is a part of 152 °C whose label gives Th 132 °C.",
		Inputs: []calc.Setting{{Name: "part-mark", Value: "152 °C"}, {Name: "holding", Value: "132 °C"}, {Name: "normal", Value: "121 °C"},
			{Name: "overshoot", Value: "14 K"}, {Name: "self-heating", Value: "6 K"}},
		Prints: []calc.Setting{{Name: "worst", Value: "141.0 °C"}, {Name: "window-low", Value: "151.0 °C"}, {Name: "margin", Value: "-9.0 K"},
			{Name: "verdict", Value: "Would trip in ordinary use: its body reaches 141.0 °C, and it holds only up to 132.0 °C."}},
	},
}

// usual values of Tf, in °C, from memory; the ends are those of the pellet family in
// the catalogue of NEC Schott.
var usual = []float64{73, 77, 84, 94, 99, 104, 110, 113, 117, 121, 128, 133, 139, 144, 152, 157, 167, 172, 184, 192, 205, 216, 229, 240}

// Tf outside this is a suspicious reading of the mark: wider than both families in the
// catalogue of NEC Schott (73 to 240 °C).
const lowestPlausible, highestPlausible = 70, 260

// thermal is what the temperatures say, in °C; an amount counts only where its
// has… is true.
type thermal struct {
	worst, low, high      float64
	hasWorst, hasHigh     bool
	mark, part            float64
	hasMark, hasPart      bool
	tolerance             float64
	holding               float64
	hasHolding, peakAbove bool
	allowed               float64 // at the link, by the protected part alone
	hasAllowed            bool
}

// apart prints two temperatures that are compared so that they differ in print too.
func apart(a, b float64) (string, string) {
	return quantity.Apart(quantity.Of(quantity.Temperature, a), quantity.Of(quantity.Temperature, b))
}

// worstBody is the hottest the link's body gets in ordinary use.
func worstBody(normal, overshoot, own float64) float64 { return normal + overshoot + own }

func measure(in calc.In) thermal {
	t := thermal{tolerance: in.Num("tolerance"), mark: in.Num("mark"), hasMark: in.Has("mark"),
		part: in.Num("part-mark"), hasPart: in.Has("part-mark"), holding: in.Num("holding"), hasHolding: in.Has("holding"), hasWorst: in.Has("normal")}
	if t.hasWorst {
		t.worst = worstBody(in.Num("normal"), in.Num("overshoot"), in.Num("self-heating"))
		t.low = t.worst + t.tolerance
	}
	highest, known := in.Num("highest"), in.Has("highest")
	if v, err := quantity.Parse(quantity.Temperature, in.Word("class")); !known && err == nil {
		highest, known = v.Num, true
	}
	if known {
		t.allowed, t.hasAllowed = highest-in.Num("gradient"), true
		t.high, t.hasHigh = t.allowed, true
	}
	if t.hasMark {
		// the maker knew more than we do: never above the mark
		t.high = t.mark
		t.hasHigh = true
	}
	t.peakAbove = in.Has("limit") && in.Has("after-peak") && in.Num("after-peak") >= in.Num("limit")
	return t
}

func celsius(x float64) string { return quantity.Of(quantity.Temperature, x).Text() }

func run(in calc.In, out *calc.Out) error {
	if in.Has("holding") && in.Has("part-mark") && in.Num("holding") >= in.Num("part-mark") {
		return calc.Bad("holding", "Th of the part in hand: it must lie below its Tf of "+celsius(in.Num("part-mark"))+"; look at the label again")
	}
	if in.Has("limit") && in.Has("part-mark") && in.Num("limit") < in.Num("part-mark") {
		return calc.Bad("limit", "Tm of the part in hand: it must not lie below its Tf of "+celsius(in.Num("part-mark"))+"; look at the label again")
	}
	t := measure(in)
	if t.hasWorst {
		out.Set("worst", t.worst)
		out.Set("window-low", t.low)
	}
	if t.hasHigh {
		out.Set("window-high", t.high)
	}
	if t.hasWorst && t.hasHigh {
		values(out, t.low, t.high)
	}
	if tf := t.part; t.hasPart || t.hasMark {
		if !t.hasPart {
			tf = t.mark
		}
		out.Set("opens-from", tf-t.tolerance)
		out.Set("opens-to", tf)
		if tf < lowestPlausible || tf > highestPlausible {
			out.Note("Links are made for about 73 to 240 °C; read the mark again, it may be a date or a current.")
		}
		switch {
		case t.hasWorst && t.hasHolding:
			out.Set("margin", t.holding-t.worst)
		case t.hasWorst:
			out.Set("margin", tf-t.tolerance-t.worst)
			out.Note("Th of the part is not given; it may lie 20 to 40 K below Tf and must not be below " + celsius(t.worst) + ".")
		}
	}
	if in.Has("limit") && in.Has("after-peak") {
		out.Set("peak-margin", in.Num("limit")-in.Num("after-peak"))
	}
	if t.hasAllowed && t.hasMark && t.mark > t.allowed {
		out.Note("By these temperatures the old part's mark opens later than the highest temperature allows; check them, and never go above the mark.")
	}
	if t.hasMark && t.hasWorst && t.low > t.mark {
		out.Note("By these temperatures even the old part's own mark trips in use: the temperatures are wrong, or something runs too hot and is why it opened.")
	}
	word, sentence := judge(in, t)
	out.Say("verdict", word, sentence)
	out.Note("Find out why the old one opened; no link may be bypassed.")
	return nil
}

// values lists the usual Tf inside the window.
func values(out *calc.Out, low, high float64) {
	var inside []string
	for _, v := range usual {
		if v >= low && v <= high {
			inside = append(inside, quantity.Number(v))
		}
	}
	if len(inside) == 0 {
		out.Say("standard-values", "none", "None of the usual values lies in the window.")
		return
	}
	out.Say("standard-values", strings.Join(inside, "-"), strings.Join(inside, ", ")+" °C")
}

// judge gives the verdict on the part in hand. What differs at any temperature comes
// first, then ratings, then temperatures, and "fits" only where all is known.
func judge(in calc.In, t thermal) (word, sentence string) {
	if in.Word("part-kind") != in.Word("old-kind") {
		if in.Word("part-kind") == "self-resetting" {
			return "not-equal", "Not equal at any temperature: it would switch the fault on again and again, where a one-shot link ends it."
		}
		return "not-equal", "Not equal at any temperature: a one-shot link in place of one that closes again would end the device at its first trip."
	}
	if in.Word("part-mounting") != in.Word("old-mounting") {
		return "not-equal", "Not equal at any temperature: mounted differently it feels other temperatures; fit the kind of mounting that the old part had, in its place."
	}
	if in.Has("part-volts") && in.Num("part-volts") < in.Num("volts") {
		return "volts-too-low", "Its rated volts are below those of the circuit: it may not break the arc."
	}
	if in.Has("part-amps") && in.Num("part-amps") < in.Num("amps") {
		return "amps-too-low", "Its rated amperes are below those of the circuit: it would heat itself and open early."
	}
	if !t.hasMark && t.hasWorst && t.hasHigh && t.low > t.high {
		return "no-window", "No Tf fits: it must be at least " + celsius(t.low) + " not to trip and at most " + celsius(t.high) + " to open in time; move the link nearer to the hottest spot or find what runs too hot."
	}
	if !t.hasPart {
		return "cannot-tell", "Enter the Tf of the part in hand for a verdict."
	}
	const same = 0.05 // printed marks are whole degrees
	if t.hasHigh && t.part > t.high+same {
		if t.hasMark {
			old, here := apart(t.mark, t.part)
			return "opens-too-late", "Opens too late: the old part was marked " + old + ", this one " + here + "."
		}
		at, by := apart(t.part, t.high)
		return "opens-too-late", "Opens too late: at " + at + ", and it should by " + by + "."
	}
	if t.hasWorst && t.hasHolding && t.holding < t.worst {
		reached, held := apart(t.worst, t.holding)
		return "trips-in-use", "Would trip in ordinary use: its body reaches " + reached + ", and it holds only up to " + held + "."
	}
	if t.hasWorst && t.part < t.low {
		return "trips-in-use", "Would trip in ordinary use: its body reaches " + celsius(t.worst) + ", and it may open from " + celsius(t.part-t.tolerance) + "."
	}
	if t.peakAbove {
		return "peak-above-limit", "After opening its place reaches " + celsius(in.Num("after-peak")) + ", not below its Tm of " + celsius(in.Num("limit")) + ": it may close again."
	}
	if t.hasMark && math.Abs(t.part-t.mark) > same {
		return "not-equal", "Marked lower than the old part: safe against fire but not the maker's value; get " + celsius(t.mark) + "."
	}
	if !in.Has("part-volts") || !in.Has("part-amps") {
		return "cannot-tell", "The temperatures agree; enter the rated volts and amperes of the part in hand for a verdict."
	}
	switch {
	case t.hasMark:
		return "fits", "Fits: same mark, kind and mounting, and its volts and amperes suffice."
	case t.hasWorst && t.hasHigh:
		return "fits", "Fits by these temperatures: it holds in ordinary use and opens in time. The mark of the old part would be surer."
	case t.hasHigh:
		return "cannot-tell", "It opens in time; whether it trips in ordinary use needs the highest temperature in normal use."
	case t.hasWorst:
		return "cannot-tell", "It holds in ordinary use; whether it opens in time needs the highest temperature allowed, or the class of insulation."
	}
	return "cannot-tell", "Nothing says what the Tf should be; enter the mark of the old part, or temperatures."
}
