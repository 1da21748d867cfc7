package say

import (
	"os"
	"slices"
	"strings"
	"testing"

	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
)

func f(x float64) *float64 { return &x }

type reads map[trace.TestID]trace.ReadingID

func stated(r reads) map[trace.TestID][]trace.Read {
	out := map[trace.TestID][]trace.Read{}
	for t, id := range r {
		out[t] = trace.Always(id)
	}
	return out
}

// heater is a small fan heater: enough to need most sentences.
func heater() *trace.Device {
	type often = map[trace.SymptomID]trace.Often
	needs := []trace.AccessID{"grille-off"}
	return &trace.Device{
		ID: "fan-heater", Title: "Fan heater",
		Blocks:   []trace.Block{{ID: "plug"}, {ID: "cord"}, {ID: "switch"}, {ID: "cut-out"}, {ID: "element"}, {ID: "motor"}},
		Symptoms: []trace.Symptom{{ID: "air-cold", Says: "The fan turns and the air stays cold"}, {ID: "dead", Says: "Nothing at all"}, {ID: "smells-hot", Says: "It smells hot"}},
		Access: []trace.Access{{ID: "grille-off", Does: "Take the rear grille off", Minutes: 6, Undo: 4},
			{ID: "plate-out", Does: "Lift the motor plate out", Minutes: 10, Undo: 12, Inside: "grille-off"}},
		Tests: []trace.Test{
			{ID: "plug-ohms", Ask: "Resistance across the plug's pins, switch on", Covers: []trace.BlockID{"plug", "cord", "switch", "cut-out", "element"}, Power: trace.Off, Minutes: 2, Kind: quantity.Resistance,
				Reads: []trace.Band{{ID: "open", Low: f(10e3), Text: "above 10 kΩ"}, {ID: "motor-only", Low: f(60), High: f(2000), Text: "60 Ω to 2 kΩ"}, {ID: "as-rated", Low: f(24), High: f(29), Text: "24–29 Ω", Healthy: true}, {ID: "low", High: f(24), Text: "below 24 Ω"}}},
			{ID: "fuse-ohms", Ask: "Resistance of the plug's fuse", Covers: []trace.BlockID{"plug"}, Power: trace.Off, Minutes: 1, Kind: quantity.Resistance,
				Reads: []trace.Band{{ID: "open", Low: f(1e3), Text: "above 1 kΩ"}, {ID: "whole", High: f(2), Text: "below 2 Ω", Healthy: true}}},
			{ID: "cord-ohms", Ask: "Each core of the cord, end to end, while bending it", Covers: []trace.BlockID{"cord"}, Needs: needs, Power: trace.Off, Minutes: 3, While: []string{"moved"},
				Reads: []trace.Band{{ID: "breaks"}, {ID: "whole", Healthy: true}}},
			{ID: "element-ohms", Ask: "Resistance across the element's two tags", Covers: []trace.BlockID{"element"}, Needs: needs, Power: trace.Off, Minutes: 2, Kind: quantity.Resistance, Caution: "Unplug, and let it cool.",
				Reads: []trace.Band{{ID: "open", Low: f(10e3), Text: "above 10 kΩ"}, {ID: "as-rated", Low: f(24), High: f(29), Text: "24–29 Ω", Healthy: true}}},
			{ID: "cut-out-ohms", Ask: "Resistance across the cut-out", Covers: []trace.BlockID{"cut-out"}, Needs: needs, Power: trace.Off, Minutes: 2, Kind: quantity.Resistance,
				Reads: []trace.Band{{ID: "open", Low: f(1e3), Text: "above 1 kΩ"}, {ID: "closed", High: f(1), Text: "below 1 Ω", Healthy: true}}},
			{ID: "insulation", Ask: "Insulation from the pins to the case at 500 V", Covers: []trace.BlockID{"cord", "element", "motor"}, Power: trace.Off, Minutes: 3, Proves: "insulation",
				Reads: []trace.Band{{ID: "good", Healthy: true}, {ID: "low"}}},
			{ID: "lamp", Ask: "On the series lamp: does it glow?", Covers: []trace.BlockID{"element", "motor"}, Power: trace.SeriesLamp, Minutes: 1, Caution: "It is the mains.",
				Reads: []trace.Band{{ID: "bright", Forbids: "A short: nothing is powered before it is found"}, {ID: "dim", Healthy: true}, {ID: "dark"}}},
		},
		Causes: []trace.Cause{
			{ID: "tag-off", Title: "Element tag burnt off", Block: "element", Seen: 4, Symptoms: often{"air-cold": "always"}, Reads: stated(reads{"element-ohms": "open", "plug-ohms": "motor-only"}),
				Mend: trace.Mend{Does: "Crimp a new tag", Minutes: 25, Needs: needs, Succeeds: .95, Parts: []trace.Part{{Part: "tag", Count: 1}}}, Address: "faults/tag-off.html"},
			{ID: "cut-out-open", Title: "Cut-out open", Block: "cut-out", Seen: 3, Symptoms: often{"air-cold": "always", "smells-hot": "sometimes"}, Reads: stated(reads{"cut-out-ohms": "open", "plug-ohms": "motor-only"}),
				Mend: trace.Mend{Does: "Replace the cut-out by an equal one", Minutes: 20, Needs: []trace.AccessID{"plate-out"}, Succeeds: .9, Parts: []trace.Part{{Part: "cut-out", Count: 1}}}, Protective: true},
			{ID: "fuse-blown", Title: "Plug fuse blown", Block: "plug", Seen: 3, Symptoms: often{"dead": "always"}, Reads: stated(reads{"plug-ohms": "open", "fuse-ohms": "open"}),
				Mend: trace.Mend{Does: "Find why, then fit an equal fuse", Minutes: 10, Succeeds: .9, Parts: []trace.Part{{Part: "fuse", Count: 1}}}},
			{ID: "cord-broken", Title: "Cord broken at its sleeve", Block: "cord", Seen: 5, Symptoms: often{"dead": "often"}, Reads: stated(reads{"plug-ohms": "open", "cord-ohms": "breaks"}), Shown: trace.Shown{Word: "moved", Chance: .6},
				Mend: trace.Mend{Does: "Fit a new cord", Minutes: 20, Needs: needs, Succeeds: .98, Parts: []trace.Part{{Part: "cord", Count: 1}}}},
			{ID: "switch-burnt", Title: "Switch contacts burnt", Block: "switch", Seen: 2, Symptoms: often{"dead": "always"}, Reads: stated(reads{"plug-ohms": "open"}),
				Mend: trace.Mend{Does: "Replace the switch", Minutes: 15, Needs: needs, Succeeds: .95, Parts: []trace.Part{{Part: "switch", Count: 1}}}},
			{ID: "dust", Title: "Inlet blocked by dust", Block: "motor", Seen: 2, Symptoms: often{"smells-hot": "always"},
				Mend: trace.Mend{Does: "Clean the inlet", Minutes: 10, Needs: needs, Succeeds: .95}},
			{ID: "winding-burnt", Title: "Motor winding burnt", Block: "motor", Seen: 1, Symptoms: often{"smells-hot": "often"}, Reads: stated(reads{"lamp": "bright", "insulation": "good"}),
				Mend: trace.Mend{None: "The motor is not sold apart", Minutes: 5}},
		},
		Class: "II", Shop: trace.Shop{PowerMinutes: map[trace.Power]float64{trace.SeriesLamp: 4, trace.Isolated: 8, trace.Mains: 8}, Rate: 30, Currency: "€"},
	}
}

// Every fault, played through with its true readings, ends at its own mend; and
// with its note left out, without a mend in vain or at a block. The traces are
// kept in words to be read.
func TestTraces(t *testing.T) {
	var log strings.Builder
	for _, noted := range []bool{true, false} {
		for i := range heater().Causes {
			d := heater()
			c := d.Causes[i]
			if !noted {
				d.Causes = slices.Delete(d.Causes, i, i+1)
				log.WriteString("not noted: ")
			}
			var e trace.Evidence
			for _, s := range d.Symptoms {
				if c.Symptoms[s.ID] == "always" || c.Symptoms[s.ID] == "often" {
					e.Symptoms = append(e.Symptoms, s.ID)
				}
			}
			log.WriteString(c.Title + ":\n")
			for step := 0; ; step++ {
				if step > 12 {
					t.Fatalf("%s does not end\n%s", c.ID, log.String())
				}
				a, err := trace.Next(d, e)
				if err != nil {
					t.Fatal(err)
				}
				said := Advice(d, a)
				log.WriteString("  " + said.Head + ": " + said.Title + ", " + quantity.Minutes(a.Minutes))
				why := "\n      " + strings.Join(append(said.Why, said.Notes...), "\n      ") + "\n"
				if a.Kind == trace.DoTest {
					id, ok := c.Likeliest(a.Test)
					for _, b := range d.Test(a.Test).Reads {
						if !ok && b.Healthy {
							id = b.ID
						}
					}
					log.WriteString(" reads " + string(id) + why)
					e.Readings = append(e.Readings, trace.Reading{Test: a.Test, Value: string(id)})
					continue
				}
				log.WriteString(why)
				if a.Kind != trace.DoMend || a.Cause == c.ID {
					if noted && a.Cause != c.ID {
						t.Errorf("%s ends at %s %s", c.ID, a.Kind, a.ID())
					}
					break
				}
				e.Tried = append(e.Tried, trace.Mended{Cause: a.Cause, Before: len(e.Readings)})
			}
		}
	}
	const golden = "testdata/heater.txt"
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(golden, []byte(log.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil || string(want) != log.String() {
		t.Errorf("the traces differ from %s (set UPDATE_GOLDEN=1 to rewrite it):\n%s", golden, log.String())
	}
}

// An hour that stands for giving up is no work, and is told apart from it.
func TestGivingUpIsNoWork(t *testing.T) {
	for _, c := range []struct {
		chance float64
		want   string
	}{{0, "to the end of the mend, if readings are true; "}, {.04, "to the end of the mend, if readings are true; "}, {.45, "to the end, if readings are true, where giving it up (45 %) counts as 60 min; "}} {
		a := trace.Advice{Action: trace.Action{Kind: trace.DoTest, Test: "fuse-ohms"}, MinutesFromHere: 62, LowerBound: 62, GivenUp: c.chance, GivesUp: 60}
		if got := Advice(heater(), a).FromHere; !strings.Contains(got, c.want) {
			t.Errorf("at %v: %s", c.chance, got)
		}
	}
}

// Every remark and every lesson has its sentence.
func TestEverySentence(t *testing.T) {
	d := heater()
	for about, wants := range map[trace.About]string{trace.NoSuchSymptom: "air-cold, dead", trace.NoSuchTest: "cord-ohms", trace.NoSuchFault: "no fault", trace.NoSuchBlock: "no block", trace.Unreadable: "Of no use",
		trace.ThereAndNot: "counts as there", trace.ReadDifferently: "comes and goes", trace.FitsNone: "fits no band", trace.OnlyALimit: "fuse", trace.OnEdge: "The edge is at 10",
		trace.ReadBad: "did not read good", trace.Unproved: "insulation tester", trace.LeftOut: "was let go", trace.Powerless: "unplugged", trace.TakesOthers: "follows the old one", trace.Protects: "Never leave it bypassed", trace.SuspectNow: "changes no chance"} {
		r := trace.Remark{About: about, Test: "fuse-ohms", Cause: "tag-off", Symptom: "dead", Proof: trace.Insulation, Reading: "open", Other: "whole", Typed: "9.9 Ω", Text: "why not", Edge: 10, Needs: .01}
		if got := Remark(d, r); !strings.Contains(got, wants) || strings.Contains(got, "..") {
			t.Errorf("%s: %q lacks %q", about, got, wants)
		}
	}
	scrap := Remark(d, trace.Remark{About: trace.Powerless, Test: "fuse-ohms", Reading: "open", Text: "It is scrap", Past: true})
	if !strings.Contains(scrap, "It is scrap. ") || !strings.Contains(scrap, "no mend") || strings.Contains(scrap, "reads good") {
		t.Errorf("what is past mending: %q", scrap)
	}
	for _, l := range []trace.Learns{trace.UnnamedSymptom, trace.NeverSymptom, trace.NoBand, trace.NoReading, trace.OtherReading, trace.NotThisTime} {
		if got := Lesson(d, trace.Lesson{About: l, Symptom: "dead", Test: "fuse-ohms", Typed: "9 Ω", Got: "open", Want: "whole", Chance: .3}); len(got) < 20 || !strings.HasSuffix(got, ".") {
			t.Errorf("%s: %q", l, got)
		}
	}
}
