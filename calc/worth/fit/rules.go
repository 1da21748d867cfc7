package fit

// how a rating of the new part has to stand to the old one's.
type how int

const (
	equal   how = iota // within the share given
	atLeast            // no lower
	same               // the same class, or one named as better
)

// rule is one rating of a kind of part.
type rule struct {
	rating string // name of the inputs, before -old and -new
	how    how
	low    float64 // share that an equal rating may be lower
	high   float64 // share that it may be higher
	must   bool    // not known means that nothing can be said of the part
	says   string  // the rule in words
}

// kind is a kind of part with its rules.
type kind struct {
	label string
	never string // what may never differ
	rules []rule
}

var kinds = map[string]kind{
	"fuse": {"Fuse", "The ampere mark, the speed and the size; a fuse is never bridged.", []rule{
		{"current", equal, .001, .001, true, "the ampere mark is equal, never higher"},
		{"volts", atLeast, 0, 0, true, "voltage is no lower"},
		{"breaking", atLeast, 0, 0, true, "breaking capacity is no lower"},
		{"class", same, 0, 0, true, "the speed is the same"}}},
	"link": {"Thermal link or cut-out", "The temperature and the kind: one-shot stays one-shot. It is never bridged.", []rule{
		{"temperature", equal, .001, .001, true, "it bears the same temperature: a higher one opens too late, a lower one may trip in use and is not the maker's value"},
		{"class", same, 0, 0, true, "one-shot stays one-shot"},
		{"current", atLeast, 0, 0, true, "amperes are no lower"},
		{"volts", atLeast, 0, 0, true, "voltage is no lower"}}},
	"electrolytic": {"Electrolytic capacitor", "The polarity.", []rule{
		{"value", equal, .2, .5, true, "the value is equal, or up to half as much again"},
		{"volts", atLeast, 0, 0, true, "voltage is no lower"},
		{"temperature", atLeast, 0, 0, false, "the temperature mark is no lower"}}},
	"film": {"Film or ceramic capacitor", "The AC rating where it lies on the mains.", []rule{
		{"value", equal, .1, .1, true, "the value is equal"},
		{"volts", atLeast, 0, 0, true, "voltage is no lower, AC compared with AC"}}},
	"x-y": {"X or Y capacitor", "The class: a Y is never replaced by an X, and both carry approval marks.", []rule{
		{"class", same, 0, 0, true, "the class is the same or better: Y for X, 1 for 2; never X for Y"},
		{"value", equal, .2, .2, true, "the value is equal; of a Y never more, since it leaks more"},
		{"volts", atLeast, 0, 0, true, "AC voltage is no lower"}}},
	"resistor": {"Resistor", "A fusible or flameproof one stays so.", []rule{
		{"value", equal, .05, .05, true, "ohms are equal"},
		{"power", atLeast, 0, 0, true, "watts are no lower, and those of a fusible one the same"},
		{"class", same, 0, 0, false, "a fusible or flameproof one stays so"},
		{"volts", atLeast, 0, 0, false, "its own highest voltage is no lower"}}},
	"diode": {"Diode", "The direction, and a fast or Schottky one stays as fast.", []rule{
		{"volts", atLeast, 0, 0, true, "reverse voltage is no lower"},
		{"current", atLeast, 0, 0, true, "amperes are no lower"},
		{"class", same, 0, 0, false, "it is as fast: standard, fast, ultrafast or Schottky"}}},
	"transistor": {"Transistor", "NPN or PNP, the channel, and the order of the pins.", []rule{
		{"class", same, 0, 0, true, "the same polarity and technology"},
		{"volts", atLeast, 0, 0, true, "collector voltage is no lower"},
		{"current", atLeast, 0, 0, true, "amperes are no lower"},
		{"power", atLeast, 0, 0, true, "watts are no lower"}}},
	"regulator": {"Voltage regulator", "The output voltage and the order of the pins.", []rule{
		{"value", equal, .01, .01, true, "output voltage is equal"},
		{"current", atLeast, 0, 0, true, "amperes are no lower"},
		{"volts", atLeast, 0, 0, false, "highest input voltage is no lower"},
		{"class", same, 0, 0, false, "a low-dropout one stays so, and its capacitors suit"}}},
	"relay": {"Relay", "Coil voltage and AC or DC; the distance between coil and contacts.", []rule{
		{"value", equal, .05, .05, true, "coil voltage is equal"},
		{"class", same, 0, 0, true, "an AC coil stays AC, the contacts are of the same form"},
		{"current", atLeast, 0, 0, true, "contact amperes are no lower, for this kind of load"},
		{"volts", atLeast, 0, 0, true, "contact voltage is no lower"}}},
	"switch": {"Switch", "It stays in the line conductor, with as many poles.", []rule{
		{"current", atLeast, 0, 0, true, "amperes are no lower; the figure in brackets is for motors"},
		{"volts", atLeast, 0, 0, true, "voltage is no lower"},
		{"class", same, 0, 0, false, "as many poles, and its temperature mark no lower"}}},
	"cord": {"Cord", "The number of cores: an earth core stays, class II gets none.", []rule{
		{"area", atLeast, 0, 0, true, "cores are no thinner"},
		{"class", same, 0, 0, true, "as many cores, and rubber or heat-proof stays so"},
		{"temperature", atLeast, 0, 0, false, "the temperature mark is no lower"},
		{"volts", atLeast, 0, 0, false, "voltage is no lower"}}},
}

// order of the kinds in the form.
var order = []string{"fuse", "link", "electrolytic", "film", "x-y", "resistor", "diode", "transistor", "regulator", "relay", "switch", "cord"}
