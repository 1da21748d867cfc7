package quantity

// Kind names a kind of quantity. The empty Kind is no quantity at all.
type Kind string

// The kinds. Each has its units in the table below.
const (
	Voltage       Kind = "voltage"
	Current       Kind = "current"
	Resistance    Kind = "resistance"
	Power         Kind = "power"
	ApparentPower Kind = "apparent power"
	Capacitance   Kind = "capacitance"
	Inductance    Kind = "inductance"
	Charge        Kind = "charge"
	Energy        Kind = "energy"
	Duration      Kind = "time"
	Temperature   Kind = "temperature"
	Rise          Kind = "temperature difference"
	Frequency     Kind = "frequency"
	Speed         Kind = "rotational speed"
	Length        Kind = "length"
	Area          Kind = "area"
	ThermalRes    Kind = "thermal resistance"
	Melting       Kind = "melting integral"
	Ratio         Kind = "ratio"
	Percent       Kind = "share"
	Count         Kind = "count"
	Money         Kind = "money"
	MoneyPerHour  Kind = "money per hour"
	Years         Kind = "age"
	TempCo        Kind = "volts per kelvin"
	Level         Kind = "level"
	LineRes       Kind = "resistance per length"
	Gravity       Kind = "specific gravity"
)

// unit is one spelling of a unit: base value = number*factor + offset.
type unit struct {
	name           string   // as printed
	also           []string // other spellings that are read
	factor, offset float64
	prefix         string // SI prefixes that may stand before it, "" for none
	plain          bool   // used when printing without a wished unit
}

// prefixes in order of size; µ is printed, u and μ are read as well.
var prefixes = []struct {
	letter string
	factor float64
}{
	{"p", 1e-12}, {"n", 1e-9}, {"µ", 1e-6}, {"m", 1e-3}, {"", 1}, {"k", 1e3}, {"M", 1e6}, {"G", 1e9},
}

// kinds is the table of all units. The first unit of a kind is its base unit.
var kinds = map[Kind][]unit{
	Voltage: {{name: "V", also: []string{"v", "volt", "volts", "Vac", "Vdc", "VAC", "VDC", "V~", "V=", "V⎓", "Vrms", "vac", "vdc"}, factor: 1, prefix: "nµmkM", plain: true}},
	Current: {{name: "A", also: []string{"a", "amp", "amps", "ampere", "amperes"}, factor: 1, prefix: "pnµmk", plain: true}},
	Resistance: {
		{name: "Ω", also: []string{"\u2126", "ohm", "ohms", "Ohm", "Ohms", "OHM", "OHMS", "R", "r", "E"}, factor: 1, prefix: "µmkMG", plain: true},
		{name: "MΩ", also: []string{"meg", "Meg", "MEG", "megohm", "megohms", "Megohm", "megs"}, factor: 1e6},
	},
	Power: {
		{name: "W", also: []string{"w", "watt", "watts", "Watt", "Watts"}, factor: 1, prefix: "nµmkM", plain: true},
		{name: "hp", factor: 745.69987158227022}, // mechanical horsepower, 550 ft·lbf/s
	},
	ApparentPower: {{name: "VA", also: []string{"va"}, factor: 1, prefix: "mkM", plain: true}},
	Capacitance: {
		{name: "F", also: []string{"farad"}, factor: 1, prefix: "pnµm", plain: true},
		// as printed on old and American parts: never mega, never milli
		{name: "µF", also: []string{"MFD", "Mfd", "mfd", "MF", "uf", "µf", "UF", "µfd", "ufd", "microfarad", "microfarads"}, factor: 1e-6},
		{name: "nF", also: []string{"nf", "NF"}, factor: 1e-9},
		{name: "pF", also: []string{"pf", "PF", "MMFD", "mmfd", "MMF", "mmf", "µµF", "uuF"}, factor: 1e-12},
	},
	Inductance: {{name: "H", also: []string{"henry"}, factor: 1, prefix: "nµm", plain: true}},
	Charge: {
		{name: "Ah", factor: 3600, prefix: "m", plain: true},
		{name: "C", factor: 1, prefix: "nµm"},
	},
	Energy: {
		{name: "J", also: []string{"joule", "joules"}, factor: 1, prefix: "nµmkM", plain: true},
		{name: "Wh", factor: 3600, prefix: "mkM"},
	},
	Duration: {
		{name: "s", also: []string{"sec", "second", "seconds"}, factor: 1, prefix: "nµm", plain: true},
		{name: "min", also: []string{"minute", "minutes"}, factor: 60, plain: true},
		{name: "h", also: []string{"hour", "hours", "hr", "hrs"}, factor: 3600, plain: true},
		{name: "d", also: []string{"day", "days"}, factor: 86400, plain: true},
		{name: "weeks", also: []string{"week", "wk", "wks"}, factor: 7 * 86400},
		{name: "months", also: []string{"month"}, factor: 365.25 / 12 * 86400},
		{name: "years", also: []string{"year", "yr", "yrs"}, factor: 365.25 * 86400},
	},
	Temperature: {
		{name: "°C", also: []string{"C", "degC", "ºC", "℃", "celsius", "deg C"}, factor: 1, plain: true},
		{name: "°F", also: []string{"F", "degF", "ºF", "℉", "fahrenheit", "deg F"}, factor: 5.0 / 9, offset: -32 * 5.0 / 9},
		{name: "K", also: []string{"kelvin"}, factor: 1, offset: -273.15},
	},
	Rise: {
		{name: "K", also: []string{"°C", "C", "degC", "kelvin"}, factor: 1, plain: true},
		{name: "°F", also: []string{"F", "degF"}, factor: 5.0 / 9},
	},
	Frequency: {{name: "Hz", also: []string{"hz", "HZ", "hertz", "c/s"}, factor: 1, prefix: "mkMG", plain: true}},
	Speed:     {{name: "rpm", also: []string{"r/min", "1/min", "/min"}, factor: 1, plain: true}},
	Length: {
		{name: "m", factor: 1, prefix: "µmk", plain: true},
		{name: "cm", factor: 0.01},
		{name: "in", also: []string{"inch", "inches", "\""}, factor: 0.0254},
		{name: "ft", also: []string{"foot", "feet"}, factor: 0.3048},
	},
	Area: {
		{name: "mm²", also: []string{"mm2", "sqmm", "mm^2"}, factor: 1e-6, plain: true},
		{name: "m²", also: []string{"m2", "m^2"}, factor: 1},
	},
	ThermalRes:   {{name: "K/W", also: []string{"°C/W", "C/W"}, factor: 1, plain: true}},
	Melting:      {{name: "A²s", also: []string{"A2s", "A^2s"}, factor: 1, plain: true}},
	Ratio:        {{name: "", also: []string{"×", "x", "C"}, factor: 1, plain: true}, {name: "%", also: []string{"percent"}, factor: 0.01}},
	Percent:      {{name: "%", also: []string{"percent", "per cent"}, factor: 0.01, plain: true}},
	Count:        {{name: "", factor: 1, plain: true}},
	Money:        {{name: "", factor: 1, plain: true}},
	MoneyPerHour: {{name: "/h", also: []string{"per hour", "an hour"}, factor: 1, plain: true}},
	Years: {
		{name: "years", also: []string{"year", "a", "yr", "yrs", "y"}, factor: 1, plain: true},
		{name: "months", also: []string{"month"}, factor: 1.0 / 12},
	},
	TempCo:  {{name: "V/K", also: []string{"V/°C"}, factor: 1, prefix: "µm", plain: true}},
	Level:   {{name: "dB", factor: 1, plain: true}},
	LineRes: {{name: "Ω/m", also: []string{"ohm/m"}, factor: 1, prefix: "µm", plain: true}},
	Gravity: {
		{name: "", also: []string{"SG", "sg", "kg/l", "g/ml", "g/cm³", "g/cm3"}, factor: 1, plain: true},
		{name: "kg/m³", also: []string{"kg/m3", "points"}, factor: 1e-3},
	},
}

// Kinds lists every kind in a fixed order.
func Kinds() []Kind {
	return []Kind{Voltage, Current, Resistance, Power, ApparentPower, Capacitance, Inductance, Charge, Energy,
		Duration, Temperature, Rise, Frequency, Speed, Length, Area, ThermalRes, Melting, Ratio, Percent, Count,
		Money, MoneyPerHour, Years, TempCo, Level, LineRes, Gravity}
}

// Known tells whether k is in the table.
func (k Kind) Known() bool { return len(kinds[k]) > 0 }

// Unit is the printed name of the base unit in which a Value of this kind is
// held, e.g. "V"; "" for plain numbers. A share is held as a plain fraction.
func (k Kind) Unit() string {
	switch k {
	case Percent:
		return ""
	case Charge:
		return "C"
	case Area:
		return "m²"
	}
	if us := kinds[k]; len(us) > 0 {
		return us[0].name
	}
	return ""
}

func (k Kind) isMoney() bool { return k == Money || k == MoneyPerHour }

// Units lists the units of a kind for a form's hint, e.g. "V, mV, kV".
func (k Kind) Units() []string {
	var names []string
	for _, u := range kinds[k] {
		if u.name != "" {
			names = append(names, u.name)
		}
	}
	return names
}
