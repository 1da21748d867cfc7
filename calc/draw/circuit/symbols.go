package circuit

import (
	"maps"
	"slices"
	"strings"
)

// Symbols lists the names of the symbols that a block may bear.
func Symbols() []string { return slices.Sorted(maps.Keys(symbols)) }

// symbols are drawn in a field of 24 by 18 about its middle. Where IEC 60617 has
// a graphical symbol for diagrams it is that one, simplified for its size (from
// memory, as the database is not open); the others are pictures of the thing.
var symbols = map[string]string{
	// conductors and ways in and out
	"plug":      `<path d="M-12 -4h5M-12 4h5M-7 -8h5a7 8 0 0 1 0 16h-5zM5 0h7"/>`,
	"outlet":    `<path d="M-8 7a8 8 0 0 1 16 0M0 -1v-8M-12 7h24"/>`,
	"cord":      `<path d="M-12 2c3 -9 6 -9 8 -2s4 7 7 1 5 -5 9 -3M-12 6c3 -9 6 -9 8 -2s4 7 7 1 5 -5 9 -3"/>`,
	"connector": `<path d="M-12 0h8M2 -5a5 5 0 0 0 0 10M12 0h-6"/><circle cx="-1" cy="0" r="3"/>`,
	"terminal":  `<path d="M-12 0h9M3 0h9"/><circle cx="0" cy="0" r="3"/>`,
	"wire":      `<path d="M-12 0h24"/>`,
	"board":     `<path d="M-11 -8h22v16h-22zM-7 -4h6v5h-6zM3 -4h5M3 0h5M3 4h5M-7 5h6"/>`,
	"earth":     `<path d="M0 -8v8M-8 0h16M-5 4h10M-2 8h4"/>`,
	// contacts and protection
	"switch":           `<path d="M-12 4h5M7 4h5M-6 3l12 -8"/><circle cx="-7" cy="4" r="1.6"/><circle cx="7" cy="4" r="1.6"/>`,
	"push-button":      `<path d="M-12 5h5M7 5h5M-7 1h14M0 1v-7M-4 -6h8"/><circle cx="-7" cy="5" r="1.6"/><circle cx="7" cy="5" r="1.6"/>`,
	"selector":         `<path d="M-12 0h6M-5 0l10 -5M7 -7h5M7 0h5M7 7h5"/><circle cx="-6" cy="0" r="1.6"/>`,
	"thermal-link":     `<path d="M-12 0h4M8 0h4M-8 -4h16v8h-16zM-5 0h3l2 -3 2 6 2 -3h1"/>`,
	"thermal-switch":   `<path d="M-12 5h5M7 5h5M-6 4l13 -5M-6 -5q6 -6 12 0"/><circle cx="-7" cy="5" r="1.6"/><circle cx="7" cy="5" r="1.6"/>`,
	"thermostat":       `<path d="M-12 5h5M7 5h5M-6 4l13 -5M0 1v-4h-4v-4h8"/><circle cx="-7" cy="5" r="1.6"/><circle cx="7" cy="5" r="1.6"/>`,
	"fuse":             `<path d="M-12 0h24M-8 -4h16v8h-16z"/>`,
	"relay":            `<path d="M-11 -8h8v16h-8zM-11 8l8 -16M3 5h2M4 4l7 -8M11 5h1"/>`,
	"residual-current": `<path d="M-12 4h5M7 4h5M-6 3l12 -8M-4 8h8"/><circle cx="0" cy="8" r="3"/>`,
	// passive parts
	"resistor":      `<path d="M-12 0h4M8 0h4M-8 -4h16v8h-16z"/>`,
	"heating":       `<path d="M-12 0h4M8 0h4M-8 -4.5h16v9h-16zM-4 -4.500v9M0 -4.500v9M4 -4.500v9"/>`,
	"potentiometer": `<path d="M-12 2h4M8 2h4M-8 -2h16v8h-16zM0 -9v6M-3 -6l3 4 3 -4"/>`,
	"varistor":      `<path d="M-12 0h4M8 0h4M-8 -4h16v8h-16zM-9 8h4l12 -16"/>`,
	"thermistor":    `<path d="M-12 0h4M8 0h4M-8 -4h16v8h-16zM-9 8h4l12 -15"/><path d="M8 6v3M6.5 6h3"/>`,
	"capacitor":     `<path d="M-12 0h9M3 0h9M-3 -8v16M3 -8v16"/>`,
	"electrolytic":  `<path d="M-12 0h8M3 0h9M-4 -8v16h2v-16zM3 -8v16M-9 -7v4M-11 -5h4"/>`,
	"coil":          `<path d="M-12 3h2a3 4 0 0 1 6 0 3 4 0 0 1 6 0 3 4 0 0 1 6 0h4"/>`,
	"magnet":        `<path d="M-12 4h3a2.5 4 0 0 1 5 0 2.5 4 0 0 1 5 0 2.5 4 0 0 1 5 0h6M-9 -4h16"/>`,
	"transformer":   `<path d="M-12 -7h4a3 2.3 0 0 1 0 4.7 3 2.3 0 0 1 0 4.7 3 2.3 0 0 1 0 4.600h-4M12 -7h-4a3 2.3 0 0 0 0 4.7 3 2.3 0 0 0 0 4.7 3 2.3 0 0 0 0 4.600h4M-1.5 -8v16M1.5 -8v16"/>`,
	"battery":       `<path d="M-12 0h5M7 0h5M-7 -8v16M-2.5 -4v8M2.5 -8v16M7 -4v8"/>`,
	// semiconductors and stages
	"diode":      `<path d="M-12 0h7M5 0h7M-5 -6v12l10 -6zM5 -6v12"/>`,
	"bridge":     `<path d="M0 -9l10 9 -10 9 -10 -9zM-3 -2.500v5l5 -2.500zM2 -2.500v5"/>`,
	"transistor": `<path d="M-9 0h6M-3 -6v12M-3 -2l7 -6M-3 2l7 6M4 8l-4.5 -1.500M4 8l-1.5 -4.5"/>`,
	"triac":      `<path d="M-8 -7h16M-8 7h16M-6 -7l5 14M-1 7M1 -7l5 14M-12 0h4"/>`,
	"regulator":  `<path d="M-9 -6h18v12h-18zM-12 0h3M9 0h3M0 6v3"/>`,
	"amplifier":  `<path d="M-8 -8v16l17 -8zM-12 0h4M9 0h3"/>`,
	"oscillator": `<path d="M-9 -8h18v16h-18zM-6 0q3 -7 6 0t6 0"/>`,
	"radio":      `<path d="M0 9v-14M-6 -9l6 5 6 -5zM-4 9h8"/>`,
	"lamp":       `<path d="M-12 0h5M7 0h5M-5 -5l10 10M-5 5l10 -10"/><circle cx="0" cy="0" r="7"/>`,
	"led":        `<path d="M-12 2h7M5 2h7M-5 -4v12l10 -6zM5 -4v12M1 -6l3 -3M5 -5l3 -3"/>`,
	"motor":      `<path d="M-12 0h4M8 0h4M-4 4v-7l4 5 4 -5v7"/><circle cx="0" cy="0" r="8"/>`,
	"brushes":    `<path d="M-12 0h4M8 0h4M-8 -4h3v8h-3zM5 -4h3v8h-3z"/><circle cx="0" cy="0" r="5"/>`,
	"speaker":    `<path d="M-8 -4h4l7 -5v18l-7 -5h-4zM6 -3q3 3 0 6M9 -6q5 6 0 12"/>`,
	"sensor":     `<path d="M-12 0h5M7 0h5M-3 4l6 -8"/><circle cx="0" cy="0" r="7"/>`,
	"control":    `<path d="M-10 -7h20v14h-20z"/><circle cx="0" cy="0" r="4"/><path d="M0 0l2.5 -3"/>`,
	// what the work is done to, or by
	"vessel": `<path d="M-7 -9h13l2 18h-17zM7 -6h4v11h-3M-7 0q2 -2 4 0t4 0 4 0 2 0"/>`,
	"pump":   `<path d="M-5 -6.200l11 6.2 -11 6.200M-12 0h4M8 0h4"/><circle cx="0" cy="0" r="8"/>`,
	"valve":  `<path d="M-12 0h3M9 0h3M-9 -6v12l18 -12v12z"/>`,
	"hose":   `<path d="M-12 3c4 -10 8 -10 12 -3s8 6 12 -3M-12 8c4 -10 8 -10 12 -3s8 6 12 -3"/>`,
	"fan":    `<path d="M0 0q-7 -9 0 -9 3 3 0 9q9 -6 9 1 -3 3 -9 -1q4 9 -3 9 -3 -4 3 -9q-9 3 -9 -3 4 -3 9 3"/>`,
	"gear":   `<path d="M0 -9v3M0 6v3M-9 0h3M6 0h3M-6.4 -6.400l2.1 2.100M4.3 4.300l2.1 2.100M-6.4 6.400l2.1 -2.100M4.3 -4.300l2.1 -2.1"/><circle cx="0" cy="0" r="5.5"/><circle cx="0" cy="0" r="1.5"/>`,
	"belt":   `<path d="M-7 -4h14M-7 4h14"/><circle cx="-7" cy="0" r="4"/><circle cx="7" cy="0" r="4"/>`,
	"chuck":  `<path d="M-10 -7h9l5 4v6l-5 4h-9zM4 0h8"/>`,
	"tank":   `<path d="M-9 -8v16h18v-16M-9 -2q3 -3 6 0t6 0 6 0"/>`,
	"filter": `<path d="M-10 -8h20l-7 9v7l-6 -3v-4z"/>`,
	"handle": `<path d="M-10 5v-5a5 5 0 0 1 5 -5h10a5 5 0 0 1 5 5v5"/>`,
	"case":   `<path d="M-11 -7h22v14h-22zM-11 -3h22"/>`,
	"stand":  `<path d="M0 -9v14M-9 8q9 -6 18 0M-5 -9h10"/>`,
	"hand":   `<path d="M-6 8v-8l-3 -4M-6 0v-7M-2 -2v-6M2 -2v-6M6 -1v-5M6 0q0 8 -5 8h-7"/>`,
}

// Named is the symbol that a block's name leads to where no note says one, ""
// where it leads to none.
func Named(name string) string {
	for _, s := range bySound {
		if strings.Contains(name, s.word) {
			return s.symbol
		}
	}
	return ""
}

// Outside tells whether what a symbol shows stands outside the circuit, where no
// note says so: it is what the work is done to, or what moves.
func Outside(symbol string) bool { return worked[symbol] }

var worked = map[string]bool{"vessel": true, "valve": true, "hose": true, "fan": true, "gear": true, "belt": true, "chuck": true, "tank": true, "filter": true, "handle": true, "case": true, "stand": true, "hand": true}

// bySound gives a block the symbol of what its name says, the longest word first.
var bySound = []struct{ word, symbol string }{
	{"thermal-link", "thermal-link"}, {"thermal-fuse", "thermal-link"}, {"thermostat", "thermostat"}, {"cut-out", "thermal-switch"}, {"cutout", "thermal-switch"}, {"link", "thermal-link"},
	{"outlet", "outlet"}, {"socket", "outlet"}, {"plug", "plug"}, {"cord", "cord"}, {"lead", "cord"}, {"cable", "cord"}, {"fuse", "fuse"}, {"trigger", "switch"}, {"switch", "switch"},
	{"dimmer", "triac"}, {"control", "control"}, {"timer", "control"}, {"button", "push-button"}, {"knob", "potentiometer"}, {"volume", "potentiometer"}, {"element", "heating"}, {"heater", "heating"}, {"plate", "heating"},
	{"motor", "motor"}, {"armature", "motor"}, {"brush", "brushes"}, {"field", "coil"}, {"coil", "coil"}, {"winding", "coil"}, {"magnet", "magnet"}, {"transformer", "transformer"}, {"primary", "transformer"}, {"secondary", "transformer"},
	{"rectifier", "bridge"}, {"bridge", "bridge"}, {"diode", "diode"}, {"capacitor", "electrolytic"}, {"reservoir", "electrolytic"}, {"smoothing", "electrolytic"}, {"transistor", "transistor"}, {"regulator", "regulator"}, {"pass", "transistor"},
	{"chopper", "oscillator"}, {"converter", "oscillator"}, {"oscillator", "oscillator"}, {"tuner", "radio"}, {"aerial", "radio"}, {"antenna", "radio"}, {"amplifier", "amplifier"}, {"output-stage", "amplifier"}, {"preamp", "amplifier"}, {"output", "amplifier"}, {"input", "connector"},
	{"battery", "battery"}, {"cells", "battery"}, {"cell", "battery"}, {"pack", "battery"}, {"bulb", "lamp"}, {"lamp", "lamp"}, {"led", "led"}, {"holder", "connector"}, {"speaker", "speaker"}, {"relay", "relay"}, {"sensor", "sensor"}, {"thermistor", "thermistor"}, {"clip", "connector"},
	{"contact", "connector"}, {"connector", "connector"}, {"base", "connector"}, {"jack", "connector"}, {"terminal", "terminal"}, {"board", "board"}, {"electronics", "board"}, {"charger", "board"}, {"reel", "cord"}, {"outlets", "outlet"},
	{"pump", "pump"}, {"valve", "valve"}, {"hose", "hose"}, {"pipe", "hose"}, {"waterway", "hose"}, {"steam", "hose"}, {"airway", "fan"}, {"air", "fan"}, {"blade", "fan"}, {"impeller", "fan"}, {"fan", "fan"}, {"gear", "gear"}, {"head", "gear"}, {"belt", "belt"}, {"chuck", "chuck"},
	{"tank", "tank"}, {"vessel", "vessel"}, {"jug", "vessel"}, {"basket", "filter"}, {"filter", "filter"}, {"bag", "filter"}, {"sole", "case"}, {"case", "case"}, {"box", "case"}, {"carriage", "handle"}, {"lever", "handle"}, {"stand", "stand"}, {"use", "hand"}, {"owner", "hand"},
	{"tip-over", "switch"}, {"neck", "stand"}, {"swing", "gear"}, {"remote", "radio"}, {"group", "valve"}, {"bowl", "vessel"}, {"body", "tank"}, {"tip", "chuck"}, {"wire", "wire"},
	{"lid", "case"}, {"door", "case"}, {"grille", "filter"}, {"pins", "plug"}, {"stage", "amplifier"}, {"bearing", "gear"}, {"spring", "connector"}, {"bulk", "electrolytic"}, {"start", "electrolytic"}, {"barrier", "transformer"}, {"change", "selector"}, {"band", "selector"},
}
