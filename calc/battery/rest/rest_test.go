package rest

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"faultleaf/calc"
	"faultleaf/calc/battery"
	"faultleaf/calc/calctest"
)

func TestRest(t *testing.T) { calctest.Run(t, Calculator) }

// Each published row is given back by its own table: BATT-001 (recreational-vehicle magazine
// Q&A), BATT-002 (mailing-list table), BATT-003 (the same volts in all).
func TestRows(t *testing.T) {
	flooded := chemistries["lead-flooded"].tables
	agm := chemistries["lead-agm"].tables
	for _, row := range []struct {
		id           string
		of           table
		volts, share float64
		tolerance    float64
	}{
		{"BATT-001", flooded[0], 12.66, 1, 0}, {"BATT-001", flooded[0], 12.45, 0.75, 0}, {"BATT-001", flooded[0], 12.30, 0.5, 0}, {"BATT-001", flooded[0], 12.15, 0.25, 0},
		{"BATT-002", flooded[1], 12.6, 1, 0}, {"BATT-002", flooded[1], 12.4, 0.75, 0}, {"BATT-002", flooded[1], 12.2, 0.5, 0}, {"BATT-002", flooded[1], 12.0, 0.25, 0}, {"BATT-002", flooded[1], 11.6, 0, 0},
		{"BATT-003 A", flooded[0], 12.15, 0.25, 0}, {"BATT-003 B", flooded[1], 12.15, 0.44, 0.005}, {"BATT-003 third", flooded[2], 12.15, 0.48, 0.005}, {"BATT-003 linear", agm[3], 12.15, 0.5, 0.001},
	} {
		if got := row.of.share(row.volts / 6); math.Abs(got-row.share) > row.tolerance+1e-9 {
			t.Errorf("%s: %v V is %v, want %v", row.id, row.volts, got, row.share)
		}
	}
}

// Volts fall with the share in every table, and the band never falls as volts rise.
func TestMonotone(t *testing.T) {
	for name, c := range chemistries {
		for _, tb := range append(c.tables, gravities.tables...) {
			for i := 1; i < len(tb.volts); i++ {
				if tb.volts[i] >= tb.volts[i-1] || tb.shares[i] >= tb.shares[i-1] {
					t.Errorf("%s, %s: row %d does not fall", name, tb.name, i)
				}
			}
		}
		lastLow, lastHigh := 0.0, 0.0
		stands := battery.Find(name)
		for v := 0.5 * stands.Lowest; v < 1.1*stands.Highest; v += 0.001 {
			low, high := c.band(v, v)
			if low > high || low < lastLow-1e-9 || high < lastHigh-1e-9 || low < -1e-9 || high > 1 {
				t.Fatalf("%s at %v V: %v to %v", name, v, low, high)
			}
			lastLow, lastHigh = low, high
		}
	}
}

// The band over a meter's error holds the answer of every table for every voltage inside.
func TestBandHoldsSamples(t *testing.T) {
	for name, c := range chemistries {
		stands := battery.Find(name)
		for v := stands.Lowest; v < stands.Highest; v += (stands.Highest - stands.Lowest) / 37 {
			low, high := c.band(v*0.99, v*1.01)
			for f := 0.99; f <= 1.01; f += 0.001 {
				for _, tb := range c.tables {
					if x := tb.share(v * f); x < low-1e-12 || x > high+1e-12 {
						t.Fatalf("%s, %s: %v V gives %v outside %v to %v", name, tb.name, v*f, x, low, high)
					}
				}
			}
		}
	}
}

// Every printed row comes out of its table, and none is missing.
func TestPrintedRows(t *testing.T) {
	text, err := os.ReadFile("testdata/tables.txt")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]int{}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(line, "; ")
		var n [3]float64
		for i := range n {
			if n[i], err = strconv.ParseFloat(f[2+i], 64); err != nil {
				t.Fatal(line)
			}
		}
		c := chemistries[f[0]]
		if f[0] == "gravity" {
			c = gravities
		}
		found := false
		for _, tb := range c.tables {
			if tb.name == f[1] {
				found = true
				if got := tb.share(n[1] / n[0]); math.Abs(got-n[2]/100) > 1e-9 {
					t.Errorf("%s: the table gives %v", line, got)
				}
				rows[f[0]+f[1]]++
			}
		}
		if !found {
			t.Errorf("%s: no such table", line)
		}
	}
	for name, c := range chemistries {
		for _, tb := range c.tables {
			if n := rows[name+tb.name]; n != len(tb.volts) && n != len(tb.volts)-1 { // a table that ends above empty goes on
				t.Errorf("%s, %s: %d rows of %d are printed", name, tb.name, n, len(tb.volts))
			}
		}
	}
}

func TestPlot(t *testing.T) {
	for _, ch := range Calculator.Inputs[0].Choices {
		r, err := Calculator.Run([]calc.Setting{{Name: "chemistry", Value: ch.Name}, {Name: "volts", Value: "3 V"}, {Name: "cells", Value: "2"}})
		if err != nil {
			t.Fatal(err)
		}
		if svg, err := Calculator.Draw(Calculator.Plots[0], r.In()); err != nil || len(svg) < 500 {
			t.Errorf("%s: %v", ch.Name, err)
		}
	}
}
