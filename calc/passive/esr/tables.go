package esr

import (
	"math"

	"faultleaf/calc/quantity"
)

// table of highest ESR of new parts in Ω, by capacitance in µF and rated volts; 0
// where the source gives none or only a bound.
type table struct {
	name  string
	volts []float64
	rows  []row
}

type row struct {
	microfarads float64
	ohms        []float64
}

// tableA is esr-chart on the list of sources; its "< 14" is taken as 14.
var tableA = table{"A", []float64{10, 16, 25, 35, 63, 100, 250}, []row{
	{1, []float64{0, 0, 0, 14, 16, 18, 20}},
	{2.2, []float64{0, 0, 6.0, 8.0, 10, 10, 18}},
	{4.7, []float64{0, 0, 15, 7.5, 4.2, 2.3, 5.0}},
	{10, []float64{0, 8.0, 5.3, 3.2, 2.4, 3.0, 2.5}},
	{22, []float64{5.4, 3.6, 2.1, 1.5, 1.5, 1.5, 1.8}},
	{47, []float64{2.2, 1.6, 1.2, 0.68, 0.56, 0.7, 0.8}},
	{100, []float64{1.2, 0.7, 0.32, 0.32, 0.3, 0.15, 0.8}},
	{220, []float64{0.6, 0.33, 0.23, 0.17, 0.16, 0.09, 0.5}},
	{470, []float64{0.24, 0.18, 0.12, 0.09, 0.09, 0.05, 0.3}},
	{1000, []float64{0.12, 0.09, 0.08, 0.07, 0.05, 0.06, 0}},
	{4700, []float64{0.23, 0.20, 0.12, 0.08, 0.04, 0, 0}},
	{10000, []float64{0.12, 0.08, 0.06, 0.04, 0, 0, 0}},
}}

// tableB is peak-esr70; 100 µF 63 V as in the guide of an ESR
// meter with the same table, where the chart drops a digit.
var tableB = table{"B", []float64{10, 16, 25, 35, 63, 160, 250}, []row{
	{4.7, []float64{0, 35, 29, 24, 19, 16, 13}},
	{10, []float64{20, 16, 14, 11, 9.3, 7.7, 6.3}},
	{22, []float64{9.0, 7.5, 6.2, 5.1, 4.2, 3.5, 2.9}},
	{47, []float64{4.2, 3.5, 2.9, 2.4, 2.0, 1.60, 1.40}},
	{100, []float64{2.0, 1.60, 1.40, 1.10, 0.93, 0.77, 0.63}},
	{220, []float64{0.90, 0.75, 0.62, 0.51, 0.42, 0.35, 0.29}},
	{470, []float64{0.42, 0.35, 0.29, 0.24, 0.20, 0.16, 0.13}},
	{1000, []float64{0.20, 0.16, 0.14, 0.11, 0.09, 0.08, 0.06}},
	{2200, []float64{0.09, 0.07, 0.06, 0.05, 0.04, 0.03, 0.03}},
	{4700, []float64{0.04, 0.03, 0.03, 0.02, 0.02, 0.02, 0.01}},
	{10000, []float64{0.02, 0.02, 0.01, 0.01, 0.01, 0.01, 0.01}},
}}

// between finds the neighbours of x in a rising list and the weight of the upper one
// on logarithms; ok is false outside the list.
func between(list []float64, x float64) (low int, weight float64, ok bool) {
	const slack = 1e-9 // x and list come from decimals
	last := len(list) - 1
	if x < list[0]*(1-slack) || x > list[last]*(1+slack) {
		return 0, 0, false
	}
	for low < last-1 && x >= list[low+1] {
		low++
	}
	weight = math.Log(x/list[low]) / math.Log(list[low+1]/list[low])
	switch {
	case weight < slack:
		weight = 0
	case weight > 1-slack:
		weight = 1
	}
	return low, weight, true
}

// limit is the table's ESR in Ω for a capacitor in µF of these rated volts; ok is
// false where the table does not reach or a neighbour is missing.
func (t table) limit(microfarads, volts float64) (ohms float64, ok bool) {
	var steps []float64
	for _, r := range t.rows {
		steps = append(steps, r.microfarads)
	}
	i, wi, inRows := between(steps, microfarads)
	j, wj, inColumns := between(t.volts, volts)
	if !inRows || !inColumns {
		return 0, false
	}
	total := 0.0
	for _, c := range []struct {
		r, c   int
		weight float64
	}{{i, j, (1 - wi) * (1 - wj)}, {i + 1, j, wi * (1 - wj)}, {i, j + 1, (1 - wi) * wj}, {i + 1, j + 1, wi * wj}} {
		if c.weight == 0 {
			continue
		}
		cell := t.rows[c.r].ohms[c.c]
		if cell == 0 {
			return 0, false
		}
		total += float64(c.weight * math.Log(cell))
	}
	return quantity.Round(math.Exp(total), 10), true // the last bit differs between machines, a verdict must not
}
