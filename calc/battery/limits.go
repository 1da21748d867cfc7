package battery

import (
	"faultleaf/calc"
	"faultleaf/calc/quantity"
)

// Cell is what one chemistry stands: the one table of every room of the shelf. Volts are
// of one cell, currents in shares of the capacity a hour (1 is 1 C), temperatures in °C.
type Cell struct {
	Name, Label string
	Lithium     bool

	Dead    float64 // below it a lead cell is shorted, open or past help; 0 for none
	Lowest  float64 // below it lithium is not charged at all, others slowly and watched
	Rested  float64 // above it the cell stands only just after charging
	Full    float64 // lithium: it is full from here on; 0 for none
	Highest float64 // above it no sound cell stands at rest: overcharged
	None    float64 // above it no such cell reads at all: the count or the unit is wrong

	Usual, Most float64 // charging current where it is warm
	Steps       []Step  // less than Most where it is cold, from the coldest on
	Cold, Hot   float64 // not charged outside

	End                         float64 // discharged down to
	DischargeCold, DischargeHot float64 // not discharged outside
}

// Step is the most charging current below a temperature.
type Step struct{ Below, Most float64 }

// Cells are the chemistries. Lithium: lowest and highest volts are where the protection boards of
// pcm-sheet cut off, the highest of LiFePO4 is what lifepo4-pack-sheet allows at the end of
// charging; currents by temperature as in li-ion-18650-sheet and, for LiFePO4, apl-48-50-lfp and
// ifr10440-sheet; end and temperatures of discharging battsys and ifr10440-sheet. Lead: 1.75 V is empty
// by sw12140e; currents by chbattery and sla-instructions; the dead cell, the volts at which one was just
// charged or is overcharged and the temperatures are practice or memory. NiMH: nimh-sheet;
// its lowest and highest volts practice.
var Cells = []Cell{
	{Name: "lead-flooded", Label: "Lead-acid, flooded", Dead: 1.0, Lowest: 1.75, Rested: 2.20, Highest: 2.65, None: 3, Usual: 0.1, Most: 1.0 / 8, Cold: -20, Hot: 50,
		End: 1.75, DischargeCold: -20, DischargeHot: 50},
	{Name: "lead-agm", Label: "Lead-acid, AGM", Dead: 1.0, Lowest: 1.75, Rested: 2.25, Highest: 2.50, None: 3, Usual: 0.1, Most: 0.3, Cold: -20, Hot: 50,
		End: 1.75, DischargeCold: -20, DischargeHot: 50},
	{Name: "lead-gel", Label: "Lead-acid, gel", Dead: 1.0, Lowest: 1.75, Rested: 2.25, Highest: 2.45, None: 3, Usual: 1.0 / 20, Most: 1.0 / 20, Cold: -20, Hot: 50,
		End: 1.75, DischargeCold: -20, DischargeHot: 50},
	{Name: "lifepo4", Label: "LiFePO4 (3.2 V cells)", Lithium: true, Lowest: 2.0, Rested: 3.60, Full: 3.60, Highest: 3.70, None: 4.5, Usual: 0.2, Most: 0.5,
		Steps: []Step{{5, 0.1}, {15, 0.2}}, Cold: 0, Hot: 45, End: 2.0, DischargeCold: -20, DischargeHot: 60},
	{Name: "li-ion", Label: "Li-ion (3.6 or 3.7 V cells)", Lithium: true, Lowest: 2.5, Rested: 4.25, Full: 4.20, Highest: 4.25, None: 5, Usual: 0.5, Most: 1,
		Steps: []Step{{5, 0.1}, {15, 0.2}}, Cold: 0, Hot: 45, End: 2.75, DischargeCold: -20, DischargeHot: 60},
	{Name: "nimh", Label: "NiMH", Lowest: 0.9, Rested: 1.42, Highest: 1.6, None: 2, Usual: 0.1, Most: 1, Cold: 0, Hot: 45, End: 1.0, DischargeCold: -20, DischargeHot: 50},
}

// Find gives a chemistry by name; the zero Cell, which stands nothing, for a name unknown.
func Find(name string) Cell {
	for _, c := range Cells {
		if c.Name == name {
			return c
		}
	}
	return Cell{}
}

// Choices are the chemistries for a form.
func Choices() []calc.Choice {
	var list []calc.Choice
	for _, c := range Cells {
		list = append(list, calc.Choice{Name: c.Name, Label: c.Label})
	}
	return list
}

// MostAt is the most charging current at a temperature inside Cold and Hot.
func (c Cell) MostAt(celsius float64) float64 {
	for _, s := range c.Steps {
		if celsius < s.Below {
			return s.Most
		}
	}
	return c.Most
}

// The words of State.
const (
	DoNotCharge = "do-not-charge" // lithium below its lowest
	Overcharged = "overcharged"
	Dead        = "dead"
	Flat        = "flat" // lead or nickel below its lowest
	Full        = "full" // lithium
)

// State judges the resting volts of one cell before anything else is said of it; "" where
// nothing speaks against charging. Every room asks it, so that none waves a hurt cell through.
func (c Cell) State(volts float64) (word, sentence string) {
	v := show(volts)
	switch {
	case c.Lithium && volts < c.Lowest:
		return DoNotCharge, "Do not charge: " + v + " a cell is below " + show(c.Lowest) + ". Copper may have grown inside; it can burn later, also if it recovers. Recycle it."
	case c.Lithium && volts > c.Highest:
		return Overcharged, "Overcharged: " + v + " a cell is above " + show(c.Highest) + ". Do not charge or use it: put it outdoors on stone, away from people, for a day, then recycle it. Look for the fault of charger or board."
	case c.Lithium && volts >= c.Full:
		return Full, "Full: " + v + " a cell. Nothing more is put in."
	case volts > c.Highest:
		return Overcharged, "Too high for a cell at rest: " + v + " a cell, and " + show(c.Highest) + " is the most. Is the charger still on? If not, it was overcharged: do not charge it, ventilate, and look for the charger's fault."
	case volts < c.Dead:
		return Dead, "Dead: " + v + " a cell, and even an empty one shows " + show(c.Lowest) + ". A cell is shorted, open or past help, or the leads are off. Do not put it on a charger; measure each cell, else recycle it."
	case volts < c.Lowest && c.Dead > 0:
		return Flat, "Flatter than flat: " + v + " a cell, below " + show(c.Lowest) + ". Charge it at a twentieth of its ampere-hours at most, watched; if it gets warm, or stays below " + show(c.Lowest) + " a cell after two hours, it is done."
	case volts < c.Lowest:
		return Flat, "Flat: " + v + " a cell, or one cell is reversed. Begin with 0.1 C, watched, and measure each cell."
	}
	return "", ""
}

func show(v float64) string { return quantity.Of(quantity.Voltage, v).Text() }
