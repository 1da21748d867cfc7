package door_test

import (
	"encoding/json"
	"os"
	"strings"
	"sync"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/cmd/browser/internal/door"
	"faultleaf/cmd/browser/internal/reckoner"
	"faultleaf/cmd/browser/internal/tracer"
	"faultleaf/internal/note"
	"faultleaf/internal/problem"
)

// Door is both that answer a page with a trace. on is its device, as it was given.
type Door struct {
	tracer.Tracer
	reckoner.Reckoner
	on string
}

func (d *Door) Device(page string) string {
	d.on = page
	return d.Tracer.Device(page)
}

// Plate does what the page does for another rating plate.
func (d *Door) Plate(plate string) string {
	got := d.Reckoner.Plate(`{"device":` + d.on + `,"plate":` + plate + `}`)
	var made struct{ Device json.RawMessage }
	if err := json.Unmarshal([]byte(got), &made); err == nil && made.Device != nil {
		d.Device(string(made.Device))
	}
	return got
}

func heater(t *testing.T) string {
	t.Helper()
	page, _ := onPage(t, starter(t), "fan-heater")
	return page
}

// notes are the starter's, read once for all tests, none of which changes them.
var notes = sync.OnceValues(func() (*note.Set, []problem.Problem) {
	set, mistakes, _ := note.Load(os.DirFS("../../../.."), all.Find)
	return set, mistakes
})

func starter(t *testing.T) *note.Set {
	t.Helper()
	set, mistakes := notes()
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return set
}

// onPage is a device with its rating plate as its page writes it, and the plate.
func onPage(t *testing.T, set *note.Set, name string) (page, plate string) {
	t.Helper()
	d, ok := set.Device(name)
	if !ok {
		t.Fatal("no device " + name)
	}
	values := map[string]string{}
	for _, p := range d.Plate {
		values[p.Name] = p.Value
	}
	p, err := json.Marshal(values)
	if err != nil {
		t.Fatal(err)
	}
	dev, err := json.Marshal(set.TraceDevice(name))
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSuffix(string(dev), "}") + `,"plate":` + string(p) + "}", string(p)
}

// A rating plate that is entered again as it was changes nothing, byte for byte,
// on any device; there are bands from calculators on most.
func TestSamePlateChangesNothing(t *testing.T) {
	set := starter(t)
	computed := 0
	for _, dev := range set.Devices {
		page, plate := onPage(t, set, dev.Name)
		var d Door
		has(t, d.Device(page), `"ok":true`)
		var before door.Device
		if err := json.Unmarshal([]byte(page), &before); err != nil {
			t.Fatal(err)
		}
		computed += strings.Count(page, `"link":`)
		has(t, d.Plate(plate), `"bands"`)
		if same, err := json.Marshal(before); err != nil || string(same) != d.on {
			t.Errorf("%s: the same plate makes another device of it:\n%s\n%s", dev.Name, same, d.on)
		}
	}
	if computed < 20 {
		t.Errorf("only %d bands come from a calculator, so this test shows little", computed)
	}
}

// A plate that is edited moves the edges, and every band keeps its side.
func TestPlateKeepsSides(t *testing.T) {
	set := starter(t)
	for _, c := range []struct{ device, plate, test, value, want string }{
		{"kettle", "", "kettle-ohms", "25 Ω", "as rated"},
		{"kettle", `{"power":"2.2 kW","mains":"230 V"}`, "kettle-ohms", "25 Ω", "as rated"},
		{"kettle", `{"power":"1 kW","mains":"230 V"}`, "kettle-ohms", "52 Ω", "as rated"},
		{"kettle", `{"power":"1 kW","mains":"230 V"}`, "kettle-ohms", "200 kΩ", "open or high"},
		{"fan", "", "insulation", "50 MΩ", "good"},
		{"vacuum-cleaner", "", "insulation", "50 MΩ", "good"},
	} {
		page, plate := onPage(t, set, c.device)
		if c.plate != "" {
			plate = c.plate
		}
		var d Door
		d.Device(page)
		has(t, d.Plate(plate), `"bands"`)
		q, _ := json.Marshal(map[string]string{"test": c.test, "value": c.value})
		has(t, d.Reading(string(q)), `"text":"`+c.want+`"`)
	}
}

func has(t *testing.T, answer string, wants ...string) {
	t.Helper()
	if !json.Valid([]byte(answer)) {
		t.Fatalf("no JSON: %s", answer)
	}
	for _, w := range wants {
		if !strings.Contains(answer, w) {
			t.Errorf("%q is not in %s", w, answer)
		}
	}
}

func TestCalc(t *testing.T) {
	var d Door
	has(t, d.Calc(`{"name":"element","inputs":[["power","2 kW"]],"plots":true}`), `"cold-range"`, "23.3–29.4 Ω", `\u003csvg`, `"link":"calc:element"`)
	has(t, d.Calc(`{"name":"element","inputs":[["power","3kW"]]}`), `"link":"calc:element?power=3kW"`)
	has(t, d.Calc(`{"name":"element","inputs":[["power","x"]]}`), `"error":{"input":"power"`)
	has(t, d.Calc(`{"name":"none"}`), `"error"`)
	has(t, d.Calc(`not JSON`), `"error"`)
}

func TestTrace(t *testing.T) {
	var d Door
	has(t, d.Next(`{}`), "no device is loaded")
	has(t, d.Device(heater(t)), `"ok":true`)
	has(t, d.Next(`{"symptoms":["air-cold"]}`), `"kind":"test"`, `"minutes":"`, `"Element tag burnt off its terminal"`, `Not in these notes`)
	// whatever is asked first: the first step that touches the device bears a signal word
	var step struct{ Kind, ID, Signal string }
	for skipped := []string{}; step.Signal == ""; skipped = append(skipped, `{"test":"`+step.ID+`","why":"not-allowed"}`) {
		said := d.Next(`{"symptoms":["air-cold"],"skipped":[` + strings.Join(skipped, ",") + `],"clock":12}`)
		if err := json.Unmarshal([]byte(said), &step); err != nil {
			t.Fatal(err)
		}
		if step.Kind != "test" {
			t.Fatal("no step of the heater bears a signal word:", said)
		}
		if step.Signal != "" {
			has(t, said, `"key":"`, `"state":"`)
		}
	}
	has(t, d.Arm(`{"clock":14}`), `"arm":["`, "14")
	has(t, d.Next(`{"symptoms":["nothing"]}`), `"kind":"test"`, "there is no symptom") // said, and the trace goes on
	has(t, d.Next(`{"symptoms":null,"readings":null,"tried":["heater-cord-broken"],"suspect":"heater-cord-broken"}`), `"suspect":"heater-cord-broken"`)
	has(t, d.Next(`{"symptoms":5}`), `"error"`)
	has(t, d.Reading(`{"test":"element-ohms","value":"26 Ω"}`), "as rated")
	has(t, d.Reading(`{"test":"element-ohms","value":"banana"}`), `"error"`)
	// another plate moves the bands: twice the power, half the ohms
	has(t, d.Plate(`{"power":"4 kW","mains":"230 V"}`), "11.66–14.69 Ω")
	has(t, d.Reading(`{"test":"element-ohms","value":"13 Ω"}`), "as rated")
	has(t, d.Plate(`{"power":"many","mains":"230 V"}`), `"error"`)
	has(t, d.Reading(`{"test":"element-ohms","value":"13 Ω"}`), "as rated")
}

func TestSheet(t *testing.T) {
	var d Door
	const job = `{"code":"2026-03-04-kb7","device":"fan-heater","date":"2026-03-04",`
	has(t, d.Sheet(job+`"ownerSays":"cold","cause":"unknown","outcome":"given-up","minutes":45,"parts":"2 × tag-6.3 at 0,80; grease"}`),
		`minutes: 45`, `"name":"2026-03-04-kb7-fan-heater.md"`, `code: \"2026-03-04-kb7\"`, `{part: \"tag-6.3\", count: 2, price: 0.8}`, `{part: \"grease\", count: 1, price: 0}`)
	has(t, d.Sheet(job+`"parts":"fuse at many"}`), `"error"`, "no price that can be read")
	has(t, d.Sheet(job+`"cause":"heater-thermal-link-open","protective":true,"outcome":"mended"}`), `"error"`, "protective part")
	has(t, d.Sheet(job+`"cause":"heater-thermal-link-open","protective":true,"reason":"reason not found","soak":"30","outcome":"mended"}`), `soak: 30`)
	has(t, d.Sheet(`{"device":"fan-heater","date":"tomorrow","cause":"unknown","outcome":"given-up"}`), `"error"`, "year-month-day")
	has(t, d.Sheet(job+`"money":"many"}`), `"error"`, "Money for parts")
	// mended is a word of the proofs, not of the form
	needs := `"needs":[["visual"],["bond"],["insulation","leakage"]],"outcome":"mended",`
	has(t, d.Sheet(job+needs+`"proofs":[{"kind":"visual","pass":"ok"}]}`), `"error"`, "only with its proofs", `the earth bond is missing`, `leakage current is missing`)
	has(t, d.Sheet(job+needs+`"proofs":[{"kind":"visual","pass":"ok"},{"kind":"bond","value":"0.1 Ω","limit":"limit 300 mΩ","pass":"ok"},{"kind":"insulation","why":"no 500 V"},{"kind":"leakage","value":"0.2 mA","pass":"ok"}]}`),
		`{proof: bond, value: \"0.1 Ω\", limit: \"limit 300 mΩ\", pass: \"ok\"}`, `"lacks":[]`)
	// what nobody measured is not written, and what was typed stays text
	got := d.Sheet(job + `"readings":[{"test":"element-ohms","value":"open"}],"outcome":"given-up","notes":"see <b> [x](y) & 1. first","gone":["old-test: 5 V"]}`)
	has(t, got, `{test: element-ohms, value: \"open\"}`, `see \\\u003cb\\\u003e`, "old")
	if strings.Contains(got, "minutes") || strings.Contains(got, "money") {
		t.Errorf("invented: %s", got)
	}
}

func TestJudge(t *testing.T) {
	var d Door
	has(t, d.Judge(`{"kind":"bond","value":"0.12 Ω","inputs":"length=5 m&area=1.5 mm²&rule=en"}`), `"word":"passes"`, `"limit":"limit 300 mΩ"`)
	has(t, d.Judge(`{"kind":"bond","value":"0.5 Ω","inputs":"length=5 m&area=1.5 mm²&rule=en"}`), `"word":"fails"`, "It stays here")
	has(t, d.Judge(`{"kind":"bond","value":"0.12"}`), `"error"`, "write the unit too")
	has(t, d.Judge(`{"kind":"bond","value":">10 Ω"}`), `"word":"fails"`, "above 10.00 Ω")
	has(t, d.Judge(`{"kind":"bond","value":"OL"}`), `"word":"fails"`, "no earth at all")
	has(t, d.Judge(`{"kind":"bond","value":"1."}`), `"error"`, `"means":["OL"`)
	has(t, d.Judge(`{"kind":"insulation","value":"OL on 200 MΩ"}`), `"word":"passes"`)
	has(t, d.Judge(`{"kind":"insulation","value":"0.L"}`), `"error"`, "above its range")
	has(t, d.Judge(`{"kind":"bond","value":"many"}`), `"error"`)
	// the class of the device decides
	has(t, d.Judge(`{"kind":"insulation","value":"1.5 MΩ","inputs":"rule=en","class":"I"}`), `"word":"passes"`)
	has(t, d.Judge(`{"kind":"insulation","value":"1.5 MΩ","inputs":"rule=en","class":"II"}`), `"word":"fails"`)
	has(t, d.Judge(`{"kind":"insulation","value":">300 MΩ"}`), `"word":"passes"`)
	has(t, d.Judge(`{"kind":"insulation","value":"OL"}`), `"error"`, "above its range")
	has(t, d.Judge(`{"kind":"leakage","value":"0.2 mA","class":"I"}`), `"word":"passes"`)
	has(t, d.Judge(`{"kind":"touch-current","value":"0.9 mA","inputs":"rule=en","class":"II"}`), `"word":"fails"`)
	has(t, d.Judge(`{"kind":"polarity","value":"right"}`), `"word":"passes"`)
	has(t, d.Judge(`{"kind":"polarity","value":"crossed"}`), `"word":"fails"`)
	has(t, d.Judge(`{"kind":"voltage","value":"12.6 V"}`), `"says":"12.60 V"`)
	has(t, d.Judge(`{"kind":"voltage","value":"12.6"}`), `"error"`, "write the unit too")
	has(t, d.Judge(`{"kind":"colour","value":"red"}`), `"error"`)
}

func TestSafely(t *testing.T) {
	has(t, door.Safely(func() string { panic("a slip") }), `"error"`)
}

func TestLookBackAndDraft(t *testing.T) {
	var d Door
	has(t, d.LookBack(`{}`), "no device is loaded")
	d.Device(heater(t))
	has(t, d.LookBack(`{"known":{"symptoms":["air-cold"],"readings":[{"test":"pins-ohms","value":"motor-only"}]},"cause":"element-tag-burnt-off"}`), `"taken":[`, `"best":[`, `ruler`)
	has(t, d.LookBack(`{"known":{},"cause":"nothing"}`), `"error"`)
	has(t, d.Draft(`{"symptoms":["air-cold"]}`), "device: fan-heater", "air-cold: often")
}
