package door_test

import (
	"encoding/json"
	"strings"
	"testing"

	"faultleaf/cmd/browser/internal/reckoner"
	"faultleaf/cmd/browser/internal/tracer"
)

// FuzzQuestions: whatever a page's script, its storage, or a link that somebody sent makes of a
// question, it is answered, without the net of Safely, in JSON that can be written.
func FuzzQuestions(f *testing.F) {
	set, mistakes := notes()
	if len(mistakes) > 0 {
		f.Fatal(mistakes)
	}
	kettle, ok := set.Device("kettle")
	if !ok {
		f.Fatal("no kettle")
	}
	dev, err := json.Marshal(set.TraceDevice("kettle"))
	if err != nil {
		f.Fatal(err)
	}
	page := strings.TrimSuffix(string(dev), "}") + `,"plate":{"power":"2 kW","mains":"230 V"}}`
	library, err := json.Marshal(map[string]any{"library": set.Library(), "shop": set.TraceDevice("kettle").Shop})
	if err != nil {
		f.Fatal(err)
	}
	var t tracer.Tracer
	var k, bare reckoner.Reckoner
	if says := t.Device(page) + k.Blocks(string(library)); says != `{"ok":true}{"ok":true}` {
		f.Fatal(says)
	}
	asks := []func(string) string{
		t.Next, t.Arm, t.LookBack, t.Draft, t.Reading, bare.Calc, bare.Judge, bare.Sheet, k.Unwritten,
		func(q string) string { return bare.Plate(`{"device":` + page + `,"plate":` + q + `}`) },
		func(q string) string {
			var fresh reckoner.Reckoner
			return fresh.Shop(q) + fresh.Calc(`{"name":"element","inputs":[["power","2 kW"]],"plots":true}`)
		},
		func(q string) string { return new(reckoner.Reckoner).Blocks(q) },
	}
	fault := set.FaultsOf(kettle.Name)[0].Name
	for which, seeds := range [][]string{
		{`{"symptoms":["dead"],"readings":[{"test":"kettle-ohms","value":"25 Ω"},{"test":"insulation","value":"OL on 200 MΩ"}],"tried":[{"cause":"` + fault + `","after":1}],"suspect":"` + fault + `","clock":14}`, `{"symptoms":["dead"],"skipped":["kettle-ohms"],"looked":[""]}`},
		{`{"clock":14}`, `{"clock":-1e308}`},
		{`{"known":{"symptoms":["dead"],"readings":[{"test":"kettle-ohms","value":"open"}]},"cause":"` + fault + `"}`},
		{`{"symptoms":["dead"]}`},
		{`{"test":"kettle-ohms","value":"26 Ω"}`, `{"test":"insulation","value":"0.L"}`},
		{`{"name":"element","inputs":[["power","2 kW"],["mains","1e308 V"]],"plots":true}`, `{"name":"rectifier","inputs":[["ac","17V"],["load","0.5A"]],"plots":true}`},
		{`{"kind":"bond","value":"0.12 Ω","inputs":"length=5 m&area=1.5 mm²&rule=en"}`, `{"kind":"insulation","value":"1.5 MΩ","inputs":"rule=en","class":"II"}`, `{"kind":"voltage","value":"12.6"}`},
		{`{"code":"2026-03-04-kb7","device":"kettle","date":"2026-03-04","cause":"unknown","outcome":"mended","minutes":"20","parts":"2 x cord","proofs":[{"kind":"bond","value":"0.1 Ω","pass":"ok"}],"needs":[{"proof":"visual"}]}`},
		{`{"row":"plug cord switch element","title":"A thing","class":"I","plate":{"power":"2 kW"},"blocks":[{"name":"mains-plug"},{"name":"mains-cord"},{"name":"sheathed-element"}]}`},
		{`{"power":"1 kW","mains":"230 V"}`, `{"power":"1e308 kW"}`},
		{`{"mains":"120V","hertz":60,"rate":30,"style":{"comma":true}}`},
		{string(library)},
	} {
		for _, q := range seeds {
			f.Add(uint8(which), q)
		}
	}
	f.Fuzz(func(test *testing.T, which uint8, question string) {
		answer := asks[int(which)%len(asks)](question)
		for dec := json.NewDecoder(strings.NewReader(answer)); dec.More(); {
			var v map[string]any
			if err := dec.Decode(&v); err != nil {
				test.Fatalf("%q is answered by %q: %v", question, answer, err)
			}
		}
		if answer == "" || strings.Contains(answer, "cannot be written") || strings.Contains(answer, `"NaN`) || strings.Contains(answer, "+Inf") {
			test.Fatalf("%q is answered by %q", question, answer)
		}
	})
}
