package surge

import (
	_ "embed"
	"math"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
)

//go:embed doc.go
var doc string

// labels of the inputs that take a print.
var labels = map[string]string{"marked": "Print or rated volts of the old part", "part": "Print or rated volts of the part in hand",
	"code-volts": "Print of the part in hand, or its volts at 1 mA"}

// Calculator judges a varistor.
var Calculator = &calc.Calculator{
	Name:    "surge-part",
	Title:   "Choosing a varistor",
	For:     "Tells whether a varistor may replace the old one: its rated volts, its clamping volts, its energy; and what it does not do.",
	Shelf:   "protection",
	Circuit: circuit,
	Inputs: []calc.Input{
		{Name: "supply", Label: "Line", Default: "ac", Choices: []calc.Choice{{Name: "ac", Label: "AC, voltage as RMS"}, {Name: "dc", Label: "DC"}}},
		{Name: "volts", Label: "Rated voltage of the line", Kind: quantity.Voltage, Default: "230 V", From: calc.Mains, Low: "1 V", High: "1000 V"},
		{Name: "above", Label: "It may stay higher by", Kind: quantity.Percent, Default: "10 %", Low: "0 %", High: "100 %"},
		{Name: "marked", Label: labels["marked"], Text: []string{"275 V", "14D471K", "S14K275"}, Optional: true, Help: "Volts AC or DC as the line. If it can be read, it decides."},
		{Name: "part", Label: labels["part"], Text: []string{"275 V", "300 V", "S14K275", "14D471K"}, Optional: true, Help: "Volts AC or DC as the line."},
		{Name: "code-volts", Label: labels["code-volts"], Text: []string{"471K", "431K", "470 V"}, Optional: true,
			Help: "The print is a code: 471 is 470 V, 470 is 47 V. Used where its rated volts are not known."},
		{Name: "old-disc", Label: "Disc of the old part", Kind: quantity.Length, Optional: true, Low: "3 mm", High: "80 mm", Help: "Its diameter, as printed: 7, 10, 14, 20 mm."},
		{Name: "part-disc", Label: "Disc of the part in hand", Kind: quantity.Length, Optional: true, Low: "3 mm", High: "80 mm"},
		{Name: "clamp", Label: "Clamping voltage", Folded: true, Kind: quantity.Voltage, Optional: true, Low: "5 V", High: "5000 V", Help: "At the surge current below, from the data sheet's curve."},
		{Name: "stands", Folded: true, Label: "Voltage the protected part stands", Kind: quantity.Voltage, Optional: true, Low: "5 V", High: "20 kV"},
		{Name: "surge", Folded: true, Label: "Peak of the surge", Kind: quantity.Current, Optional: true, Low: "10 mA", High: "100 kA"},
		{Name: "lasts", Folded: true, Label: "Surge lasts", Kind: quantity.Duration, Default: "20 µs", Low: "1 ns", High: "1 s", Help: "Down to half for an exponential fall."},
		{Name: "shape", Folded: true, Label: "Shape of the surge", Default: "exponential", Choices: []calc.Choice{{Name: "exponential", Label: "Exponential fall"}, {Name: "rectangle", Label: "Rectangle"},
			{Name: "half-sine", Label: "Half sine"}, {Name: "triangle", Label: "Triangle"}}},
		{Name: "coil", Folded: true, Label: "Coil that is cut off", Kind: quantity.Inductance, Optional: true, Low: "1 µH", High: "1000 H"},
		{Name: "coil-current", Folded: true, Label: "Current in the coil", Kind: quantity.Current, Optional: true, Low: "1 mA", High: "1 kA", Help: "Crest."},
		{Name: "part-energy", Folded: true, Label: "Energy rating of the part in hand", Kind: quantity.Energy, Optional: true, Low: "1 mJ", High: "100 kJ", Help: "For one surge."},
		{Name: "part-surge", Folded: true, Label: "Peak rating of the part in hand", Kind: quantity.Current, Optional: true, Low: "1 A", High: "200 kA", Help: "For one surge."},
	},
	Outputs: []calc.Output{
		{Name: "verdict", Label: "Verdict", Main: true},
		{Name: "least", Label: "Rated voltage at least", Kind: quantity.Voltage, Main: true},
		{Name: "usual", Label: "Next usual rating", Kind: quantity.Voltage, Main: true},
		{Name: "at-1ma", Label: "That is at 1 mA about", Kind: quantity.Voltage, Help: "Within 10 %; what a current-limited source shows on a sound part."},
		{Name: "rated", Label: "Rated voltage of the part in hand", Kind: quantity.Voltage, Help: "As given, or from its volts at 1 mA."},
		{Name: "energy", Label: "Energy of one surge", Kind: quantity.Energy},
		{Name: "energy-share", Label: "That is of its rating", Kind: quantity.Percent},
		{Name: "surge-share", Label: "Peak is of its rating", Kind: quantity.Percent},
		{Name: "margin", Label: "Margin of the protected part", Kind: quantity.Voltage},
	},
	Compute: run,
	Doc:     doc,
	MathML: `<math display="block"><mi>E</mi><mo>=</mo><mi>k</mi><msub><mi>V</mi><mtext>clamp</mtext></msub><msub><mi>I</mi><mtext>peak</mtext></msub><mi>t</mi><mo>,</mo><mspace width="1em"/>` +
		`<msub><mi>E</mi><mtext>coil</mtext></msub><mo>=</mo><mfrac><mn>1</mn><mn>2</mn></mfrac><mi>L</mi><msup><mi>I</mi><mn>2</mn></msup></math>`,
	Cautions: []calc.Caution{
		{Signal: calc.Danger, Text: "A varistor fails as a short circuit and burns: never without a fuse before it, never added to a line that had none, never from line to earth or a touchable part."},
		{Signal: calc.Warning, Text: "Pull the plug and discharge what is behind it. A charred one asks why: look for a lost neutral or a wrong tap. Follow your local code; licensed people where the law says so."},
	},
	Example: calc.Example{
		Says: "The varistor of a mains supply has burst and its print is gone but for 14 mm. In hand is one printed 14D471K.",
		Inputs: []calc.Setting{{Name: "volts", Value: "230 V"}, {Name: "code-volts", Value: "14D471K"}, {Name: "old-disc", Value: "14 mm"},
			{Name: "clamp", Value: "775 V"}, {Name: "stands", Value: "1000 V"}},
		Prints: []calc.Setting{{Name: "least", Value: "253 V"}, {Name: "usual", Value: "275 V"}, {Name: "rated", Value: "299 V"}, {Name: "margin", Value: "225 V"}},
	},
	Plots: []calc.Plot{{Name: "coil", Title: "Voltage and current when a coil is cut off",
		Says: "The clamp holds the volts of the coil level until its current has fallen straight to nothing; without a coil the surge's own shape is drawn.", Chart: chart}},
}

// usual AC ratings in volts and the DC ratings of the same parts; from memory.
var usual = map[string][]float64{
	"ac": {11, 14, 17, 20, 25, 30, 35, 40, 50, 60, 75, 95, 115, 130, 140, 150, 175, 230, 250, 275, 300, 320, 385, 420, 460, 510, 550, 625, 680, 1000},
	"dc": {14, 18, 22, 26, 31, 38, 45, 56, 65, 85, 100, 125, 150, 170, 180, 200, 225, 300, 320, 350, 385, 420, 505, 560, 615, 670, 745, 825, 895, 1465},
}

// shapes are the factors of k·V·I·t: the means of the shapes, the exponential over all
// time with t its time to half.
var shapes = map[string]float64{"rectangle": 1, "half-sine": 2 / math.Pi, "triangle": 0.5, "exponential": 1 / math.Ln2}

// late is how many times the next usual rating a part may have before it is said to clamp
// late; our choice, as one or two steps of the list are usual where the line swells.
const late = 1.6

// tolerance of the volts at 1 mA, letter K.
const tolerance = 0.1

// ratedOf is the rating from the volts at 1 mA: on AC their lower limit is the crest; on
// DC makers take 0.82 of them (385 V of 470 V).
func ratedOf(supply string, atOne float64) float64 {
	if supply == "dc" {
		return 0.82 * atOne
	}
	return (1 - tolerance) * atOne / math.Sqrt2
}

// atOneOf is the inverse of ratedOf.
func atOneOf(supply string, rated float64) float64 { return rated / ratedOf(supply, 1) }

// coilEnergy is ½·L·I² in joules.
func coilEnergy(henries, amps float64) float64 { return henries * amps * amps / 2 }

func volts(x float64) string { return quantity.Of(quantity.Voltage, x).Text() }

// fit is what there is to know of the part in hand.
type fit struct {
	least, rated               float64
	energyShare, surgeShare    float64
	hasRated, exact, hasShares bool
	next                       float64 // the next usual rating for the line
	marked                     float64 // rated volts of the old part; 0 where not known
	markedExact                bool
	disc, oldDisc              float64 // m; 0 where not known
}

func run(in calc.In, out *calc.Out) error {
	supply := in.Word("supply")
	f := fit{least: in.Num("volts") * (1 + in.Num("above"))}
	out.Set("least", f.least)
	for _, v := range usual[supply] {
		if v >= f.least {
			out.Set("usual", v)
			f.next = v
			out.Set("at-1ma", atOneOf(supply, v))
			break
		}
	}
	for _, name := range []string{"part", "code-volts"} {
		if f.hasRated || !in.Has(name) {
			continue
		}
		m, err := read(name, labels[name], in.Word(name), supply, name == "code-volts")
		if err != nil {
			return err
		}
		f.rated, f.exact = m.of(supply)
		f.hasRated, f.disc = true, m.disc
		if m.says != "" {
			out.Note(m.says)
		}
	}
	if in.Has("part-disc") {
		f.disc = in.Num("part-disc")
	}
	if in.Has("marked") {
		m, err := read("marked", labels["marked"], in.Word("marked"), supply, false)
		if err != nil {
			return err
		}
		f.marked, f.markedExact = m.of(supply)
		f.oldDisc = m.disc
		if m.says != "" {
			out.Note("Old part: " + m.says)
		}
	}
	if in.Has("old-disc") {
		f.oldDisc = in.Num("old-disc")
	}
	if f.hasRated {
		out.Set("rated", f.rated)
	}
	if in.Has("clamp") && f.hasRated && in.Num("clamp") <= f.rated {
		return calc.Bad("clamp", "Clamping volts: they lie above the rated volts of "+volts(f.rated)+"; look at the data sheet again")
	}
	energy, hasEnergy := 0.0, false
	switch {
	case in.Has("coil") != in.Has("coil-current"):
		missing, label := "coil", "Coil that is cut off"
		if in.Has("coil") {
			missing, label = "coil-current", "Current in the coil"
		}
		return calc.Bad(missing, label+": give both the henries and the current, or neither")
	case in.Has("coil"):
		energy, hasEnergy = coilEnergy(in.Num("coil"), in.Num("coil-current")), true
	case in.Has("surge") && in.Has("clamp"):
		energy, hasEnergy = shapes[in.Word("shape")]*in.Num("clamp")*in.Num("surge")*in.Num("lasts"), true
	}
	if hasEnergy {
		out.Set("energy", energy)
		if in.Has("part-energy") {
			f.energyShare, f.hasShares = energy/in.Num("part-energy"), true
			out.Set("energy-share", f.energyShare)
		}
	}
	if peak, ok := peakOf(in); ok && in.Has("part-surge") {
		f.surgeShare = peak / in.Num("part-surge")
		out.Set("surge-share", f.surgeShare)
	}
	if in.Has("clamp") && in.Has("stands") {
		out.Set("margin", in.Num("stands")-in.Num("clamp"))
	}
	word, sentence := judge(in, f)
	out.Say("verdict", word, sentence)
	out.Note("It takes short surges only: volts that stay too high burn it. There must be a fuse before it.")
	return nil
}

func peakOf(in calc.In) (float64, bool) {
	if in.Has("coil-current") {
		return in.Num("coil-current"), true
	}
	return in.Num("surge"), in.Has("surge")
}

// judge gives the verdict: first what is dangerous, then what is not equal, then what
// protects too little, and "fits" only where the rated volts are known for sure.
func judge(in calc.In, f fit) (word, sentence string) {
	const same = 1e-9
	if !f.hasRated {
		return calc.CannotTell, "Enter the rated volts of the part in hand, or its volts at 1 mA, for a verdict."
	}
	// a rating that was worked out is good to a few per cent only
	loose := 1.0
	if !f.exact || f.marked > 0 && !f.markedExact {
		loose = 1.03
	}
	if f.rated*loose < f.least*(1-same) {
		return "volts-too-low", "No: rated " + volts(f.rated) + ", and the line may stay at " + volts(f.least) + ": it would conduct and burn."
	}
	if f.marked > 0 {
		markLoose := 1.0
		if !f.markedExact {
			markLoose = 1.03
		}
		switch m := f.marked; {
		case m*markLoose < f.least*(1-same):
			return calc.CannotTell, "The old part's " + volts(m) + " lie below what this line may stay at; check line and mark before fitting any."
		case f.rated*loose < m*(1-same):
			return "not-equal", "Not equal: rated below the old part's " + volts(m) + ", so it works more often and wears sooner."
		case f.rated > m*loose*(1+same):
			return "not-equal", "Not equal: rated above the old part's " + volts(m) + ", so it clamps later and protects less."
		}
	}
	if f.oldDisc > 0 && f.disc > 0 && f.disc < f.oldDisc*(1-same) {
		return "disc-too-small", "No: its disc is smaller than the old one's and takes less energy."
	}
	if f.surgeShare > 1 {
		return "peak-too-high", "No: the peak of the surge is above its rating; it may burst."
	}
	if f.energyShare > 1 {
		return "energy-too-high", "No: one surge carries more energy than it is rated for; it may burst."
	}
	if in.Has("clamp") && in.Has("stands") && in.Num("clamp") >= in.Num("stands") {
		return "protects-too-little", "It lets " + volts(in.Num("clamp")) + " through and the protected part stands " + volts(in.Num("stands")) + ": a lower rated part is no cure; a second stage behind a choke or resistor is."
	}
	if f.marked == 0 && f.next > 0 && f.rated > late*f.next {
		return "clamps-late", "Rated " + volts(f.rated) + ", and " + volts(f.next) + " is the next usual rating for this line: it clamps late and protects little. Look for the mark of the old part, or take the usual one."
	}
	switch {
	case !f.exact:
		return calc.CannotTell, "Nothing speaks against it; its rated volts are worked out from those at 1 mA: look them up for a verdict."
	case f.oldDisc == 0 || f.disc == 0:
		return calc.CannotTell, "Its volts suit; compare the discs for a verdict."
	case f.marked > 0:
		return "fits", "Fits: rated volts as marked on the old one, and its disc suffices."
	}
	return "fits", "Fits this line: rated volts and disc suffice. The mark of the old part would be surer."
}

func chart(in calc.In) (draw.Chart, error) {
	clamp := in.Num("clamp")
	if !in.Has("clamp") {
		clamp = 2.4 * in.Num("volts") // just for the picture
	}
	peak, ok := peakOf(in)
	if !ok {
		peak = 1
	}
	end := in.Num("lasts")
	at := func(x float64) float64 { return 1 - x }
	if in.Has("coil") && in.Has("coil-current") {
		end = in.Num("coil") * peak / clamp
	} else {
		switch in.Word("shape") {
		case "exponential":
			end *= 5
			at = func(x float64) float64 { return math.Exp(-5 * math.Ln2 * x) }
		case "rectangle":
			at = func(float64) float64 { return 1 }
		case "half-sine":
			at = func(x float64) float64 { return math.Sin(math.Pi * x) }
		}
	}
	unit, factor := "ms", 1e-3
	if end < 1e-3 {
		unit, factor = "µs", 1e-6
	}
	amps, level := draw.Series{Name: "current"}, draw.Series{Name: "volts", Dashed: true, Right: true}
	for i := 0; i <= 80; i++ {
		x := float64(i) / 80
		amps.X, amps.Y = append(amps.X, end*x/factor), append(amps.Y, peak*at(x))
		level.X, level.Y = append(level.X, end*x/factor), append(level.Y, clamp)
	}
	return draw.Chart{X: draw.Axis{Label: "time", Unit: unit}, Y: draw.Axis{Label: "current", Unit: "A"}, Right: draw.Axis{Label: "clamped", Unit: "V"}, Series: []draw.Series{amps, level}}, nil
}
