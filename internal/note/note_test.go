package note

import (
	"flag"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"faultleaf/calc"
	"faultleaf/calc/draw"
	"faultleaf/calc/quantity"
	"faultleaf/calc/trace"
	"faultleaf/internal/problem"
)

var update = flag.Bool("update", false, "write the problems found into testdata/*.txt; read the diff")

// wire is a calculator for these tests: Ohm's law, with a range and a word.
var wire = &calc.Calculator{
	Name: "wire", Title: "Wire", For: "Tests.",
	Inputs: []calc.Input{
		{Name: "volts", Label: "Voltage", Kind: quantity.Voltage, Default: "10 V", Low: "0.1 V", High: "1 kV"},
		{Name: "ohms", Label: "Resistance", Kind: quantity.Resistance, Default: "10 Ω", Low: "1 mΩ", High: "1 MΩ"},
	},
	Outputs: []calc.Output{
		{Name: "amps", Label: "Current", Kind: quantity.Current, Main: true},
		{Name: "ohms-range", Label: "Resistance of a healthy one", Kind: quantity.Resistance},
		{Name: "verdict", Label: "Verdict"},
	},
	Compute: func(in calc.In, out *calc.Out) error {
		out.Set("amps", in.Num("volts")/in.Num("ohms"))
		out.SetRange("ohms-range", in.Num("ohms")*.9, in.Num("ohms")*1.1)
		out.Say("verdict", "fine", "The wire is fine")
		return nil
	},
	Plots: []calc.Plot{{Name: "line", Title: "Current", Says: "A line.", Chart: func(in calc.In) (draw.Chart, error) {
		return draw.Chart{X: draw.Axis{Label: "voltage", Unit: "V"}, Y: draw.Axis{Label: "current", Unit: "A"},
			Series: []draw.Series{{Name: "current", X: []float64{0, 1}, Y: []float64{0, 1 / in.Num("ohms")}}}}, nil
	}}},
}

func findWire(name string) (*calc.Calculator, bool) { return wire, name == "wire" }

// archive is a text with files in it, each below a line "-- NAME --" (the txtar
// form of the Go project). The first part is a comment.
type archive struct {
	comment string
	files   []archived
}

type archived struct{ name, data string }

func readArchive(name string) (archive, error) {
	raw, err := os.ReadFile(name)
	if err != nil {
		return archive{}, err
	}
	var a archive
	for _, line := range strings.SplitAfter(string(raw), "\n") {
		if file, ok := strings.CutPrefix(line, "-- "); ok && strings.HasSuffix(line, " --\n") {
			a.files = append(a.files, archived{name: strings.TrimSuffix(file, " --\n")})
		} else if n := len(a.files); n > 0 {
			a.files[n-1].data += line
		} else {
			a.comment += line
		}
	}
	return a, nil
}

func (a archive) String() string {
	s := a.comment
	for _, f := range a.files {
		s += "-- " + f.name + " --\n" + f.data
	}
	return s
}

// content is the part of an archive that a shop would hold.
func (a archive) content() fstest.MapFS {
	m := fstest.MapFS{}
	for _, f := range a.files {
		if strings.HasPrefix(f.name, "content/") {
			m[f.name] = &fstest.MapFile{Data: []byte(f.data)}
		}
	}
	return m
}

func good(t testing.TB) fstest.MapFS {
	t.Helper()
	ar, err := goodArchive()
	if err != nil {
		t.Fatal(err)
	}
	return ar.content()
}

// goodArchive is read once: fuzzing asks for it each time.
var goodArchive = sync.OnceValues(func() (archive, error) { return readArchive("testdata/good.txtar") })

func printed(l problem.List) string {
	var b strings.Builder
	for _, p := range l { // all there are, not only those to be mended first
		fmt.Fprintln(&b, p)
	}
	return b.String()
}

// inside fails where a problem lies outside its file's lines.
func inside(t testing.TB, fsys fs.FS, l problem.List) {
	t.Helper()
	for _, p := range l {
		if p.Says == "" || strings.HasSuffix(p.Says, ".") || strings.HasSuffix(p.Do, ".") && !strings.HasSuffix(p.Do, "...") || strings.ContainsAny(p.Says+p.Do, "\n\r") {
			t.Errorf("%v is not one sentence without a full stop", p)
		}
		if p.Line == 0 {
			continue
		}
		raw, err := fs.ReadFile(fsys, p.File)
		if err != nil {
			t.Errorf("%v: %v", p, err)
			continue
		}
		s := strings.TrimPrefix(string(raw), "\ufeff")
		s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
		lines := strings.Split(s, "\n")
		if p.Line > len(lines) {
			t.Errorf("%v: the file has %d lines", p, len(lines))
			continue
		}
		if long := utf8.RuneCountInString(lines[p.Line-1]) + 1; p.Column < 1 || p.Column > long {
			t.Errorf("%v: the line %q ends at column %d", p, lines[p.Line-1], long)
		}
	}
}

// TestProblems reads each testdata/*.txt: files that replace or join those of
// the good shop, and the problems that they give.
func TestProblems(t *testing.T) {
	names, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(names) == 0 {
		t.Fatal("no cases", err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) {
			ar, err := readArchive(name)
			if err != nil {
				t.Fatal(err)
			}
			fsys := good(t)
			for file, f := range ar.content() {
				if strings.TrimSpace(string(f.Data)) == "(absent)" {
					delete(fsys, file)
					continue
				}
				fsys[file] = f
			}
			_, mistakes, remarks := Load(fsys, findWire)
			inside(t, fsys, mistakes)
			inside(t, fsys, remarks)
			got := map[string]string{"mistakes": printed(mistakes), "remarks": printed(remarks)}
			wrote := false
			for i, f := range ar.files {
				g, ok := got[f.name]
				if !ok {
					continue
				}
				delete(got, f.name)
				if g == f.data {
					continue
				}
				if *update {
					ar.files[i].data, wrote = g, true
					continue
				}
				t.Errorf("%s:\n%s\nwanted:\n%s", f.name, g, f.data)
			}
			if g := got["mistakes"]; g != "" {
				t.Errorf("mistakes that the case does not name:\n%s", g)
			}
			if wrote {
				if err := os.WriteFile(name, []byte(ar.String()), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

func TestGood(t *testing.T) {
	set, mistakes, remarks := Load(good(t), findWire)
	if len(mistakes)+len(remarks) > 0 {
		t.Fatalf("%s%s", printed(mistakes), printed(remarks))
	}
	d, ok := set.Device("fan-heater")
	if !ok || len(d.Tests) != 3 || len(set.FaultsOf("fan-heater")) != 2 || len(set.JobsOf("fan-heater")) != 3 {
		t.Fatalf("%+v", set)
	}
	bands := d.Tests[0].Reads
	edge := func(p *float64) float64 {
		if p == nil {
			return math.NaN()
		}
		return *p
	}
	for i, want := range []struct {
		id, text  string
		low, high float64
		healthy   bool
	}{
		{"open", "above 10 kΩ", 10e3, math.NaN(), false},
		{"half", "40–60 Ω", 40, 60, false},
		{"as-rated", "18.00–22.0 Ω", 18, 22, true},
		{"low", "below 18.00 Ω", math.NaN(), 18, false},
	} {
		b := bands[i]
		if string(b.ID) != want.id || b.Text != want.text || b.Healthy != want.healthy || !same(edge(b.Low), want.low) || !same(edge(b.High), want.high) {
			t.Errorf("band %d is %+v (%v to %v), wanted %+v", i, b, edge(b.Low), edge(b.High), want)
		}
	}
	if b := d.Tests[1].Reads; b[0].Low != nil || b[0].High != nil || !b[1].Healthy || d.Tests[1].Kind != "" {
		t.Errorf("word-only readings: %+v", b)
	}
	if len(d.Blocks) != 4 || len(d.Blocks[2].Branch) != 2 || d.Blocks[2].Branch[1][1].ID != "fan" {
		t.Errorf("blocks: %+v", d.Blocks)
	}
	var texts []string
	for _, n := range d.Numbers {
		texts = append(texts, n.Text)
	}
	if len(texts) != 2 || !strings.Contains(d.Plain(), "draws 11.5 A") || !strings.Contains(d.Plain(), "and 5.75 A at half") {
		t.Errorf("numbers %q in %q", texts, d.Plain())
	}
	tr := set.TraceDevice("fan-heater")
	for _, c := range tr.Causes {
		want := map[trace.CauseID]float64{"cut-out-open": 1, "element-tag-burnt-off": 0}[c.ID] // one of its two came back
		if c.Jobs != want {
			t.Errorf("%s has %v votes, wanted %v", c.ID, c.Jobs, want)
		}
		if c.ID == "cut-out-open" && (!c.Protective || c.Shown != trace.Shown{Word: "now-and-then", Chance: .3}) {
			t.Errorf("%+v", c)
		}
	}
	p := set.Pages[0]
	var kinds []string
	for b, c := range p.Blocks {
		kinds = append(kinds, string(b.Language(p.Source))+c.Plot)
		if c.Result.Calculator == nil || c.Result.Calculator.Name != wire.Name {
			t.Error("a block without its result")
		}
	}
	if len(kinds) != 2 {
		t.Errorf("blocks %q", kinds)
	}
	var says []string
	for _, s := range set.Checklists[0].Steps {
		says = append(says, s.ID+": "+s.Text)
	}
	if got := strings.Join(says, "|"); got != "unplug-it: Unplug it|wait-for-to-fall: Wait for 1.000 A to fall|test-the-fuse: Test the fuse" {
		t.Errorf("steps %q", got)
	}
}

func same(a, b float64) bool {
	return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) < 1e-9*math.Abs(b)
}

// TestLineEnds: a byte order mark and carriage returns move no problem.
func TestLineEnds(t *testing.T) {
	fsys := good(t)
	broken := strings.Replace(string(fsys["content/devices/fan-heater.md"].Data), "minutes: 6", "minutes: six", 1) + "\nÄ [x](nowhere.md)\n"
	fsys["content/devices/fan-heater.md"].Data = []byte(broken)
	_, plain, _ := Load(fsys, findWire)
	if len(plain) != 2 {
		t.Fatalf("%s", printed(plain))
	}
	for _, end := range []string{"\r\n", "\r"} {
		fsys["content/devices/fan-heater.md"].Data = []byte("\ufeff" + strings.ReplaceAll(broken, "\n", end))
		if _, got, _ := Load(fsys, findWire); printed(got) != printed(plain) {
			t.Errorf("with %q:\n%swanted:\n%s", end, printed(got), printed(plain))
		}
	}
}

// TestOneDigit: a claim is refused one off in its last written digit, and only then.
func TestOneDigit(t *testing.T) {
	for claim, ok := range map[string]bool{"2.30 A": true, "2.31 A": false, "2.3 A": true, "2 A": true, "3 A": false, "2300 mA": true, "2.3": false, "2.3 V": false, "=": true} {
		fsys := good(t)
		fsys["content/pages/x.md"] = &fstest.MapFile{Data: []byte("---\ntitle: X\n---\n[" + claim + "](calc:wire?volts=230_V&ohms=100_Ω#amps)\n")}
		_, mistakes, _ := Load(fsys, findWire)
		if (len(mistakes) == 0) != ok {
			t.Errorf("%s: %s", claim, printed(mistakes))
		}
		for _, p := range mistakes {
			if p.File != "content/pages/x.md" || p.Line != 4 || p.Column != 1 {
				t.Errorf("%s: %v", claim, p)
			}
		}
		if claim == "2.31 A" && !strings.Contains(printed(mistakes), "2.31 A, but wire gives 2.30 A") {
			t.Errorf("both values are missing: %s", printed(mistakes))
		}
	}
}

// TestSheets: what the trace writes at its end is read back unchanged.
func FuzzSheet(f *testing.F) {
	f.Add("It blows cold", "no: thing", 12.5)
	f.Add("a\nb\t\"c\" \\ # { [ ] } & * ! | > ' % @ `", "---\n", 0.0)
	f.Add("calc: \u2028 \ufeff \x00 \x1f \u0085 é 漢", "=", 1e5)
	f.Add("calc:wire#amps", "<b>", 3.0)
	f.Fuzz(func(t *testing.T, says, reason string, minutes float64) {
		if minutes < 0 || minutes > 1e5 || minutes != minutes {
			return
		}
		minutes = quantity.Round(minutes, 6)
		s := trace.Sheet{Device: "fan-heater", Date: "2025-03-04", OwnerSays: says, Tried: reason, Reason: reason, Symptoms: []trace.SymptomID{"air-cold"},
			Readings: []trace.Reading{{Test: "element-ohms", Value: "25.9 Ω", Minutes: 2}, {Test: "look", Value: "dark"}},
			Cause:    "element-tag-burnt-off", Parts: []trace.Part{{Part: "tag " + reason, Count: 1, Price: .8}}, Minutes: minutes, Money: 12.5, Outcome: "mended"}
		fsys := good(t)
		fsys["content/jobs/2025-03-04-fan-heater-9.md"] = &fstest.MapFile{Data: []byte(s.Markdown())}
		set, mistakes, _ := Load(fsys, findWire)
		if len(mistakes) > 0 {
			t.Fatalf("%s\n%s", printed(mistakes), s.Markdown())
		}
		for _, j := range set.Jobs {
			if j.Name != "2025-03-04-fan-heater-9" {
				continue
			}
			got := j.Sheet
			want := strings.TrimSpace(strings.ToValidUTF8(says, "\ufffd"))
			if got.OwnerSays != want || got.Minutes != minutes || got.Cause != s.Cause || len(got.Readings) != 2 || got.Readings[0] != s.Readings[0] || len(got.Parts) != 1 {
				t.Fatalf("read back %+v\nfrom %s", got, s.Markdown())
			}
			return
		}
		t.Fatal("the sheet is lost")
	})
}

// FuzzLoad: no bytes in any note make the reader panic or point outside the file.
func FuzzLoad(f *testing.F) {
	fsys := good(f)
	var names []string
	_ = fs.WalkDir(fsys, ".", func(p string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			names = append(names, p)
		}
		return nil
	})
	for i, n := range names {
		f.Add(uint8(i), fsys[n].Data)
	}
	cases, _ := filepath.Glob("testdata/*.txt")
	for _, c := range cases {
		if ar, err := readArchive(c); err == nil {
			for _, file := range ar.files {
				for i, n := range names {
					if filepath.Dir(n) == filepath.Dir(file.name) {
						f.Add(uint8(i), []byte(file.data))
					}
				}
			}
		}
	}
	for _, s := range []string{"---\na: &x *x\n---\n", "---\n? [a]\n: b\n<<: *y\n---\n", "---\n" + strings.Repeat("[", 5000) + "\n---\n", "---\ntitle: |\n\n---\n<a>[=](calc:\n", "\xff\xfe---\n", "---\n!!x\n--- \n", "---\n{\n---\n", "---\n\"a\": \"\\x\"\n...\n---\n"} {
		for i := range names {
			f.Add(uint8(i), []byte(s))
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, raw []byte) {
		set, mistakes := loadsWith(t, names[int(which)%len(names)], raw)
		for _, d := range set.Documents() {
			_ = d.Plain()
			if len(mistakes) == 0 && d.Body != nil {
				_ = ast.Walk(d.Body, func(n ast.Node, in bool) (ast.WalkStatus, error) {
					if l, ok := n.(*ast.Link); ok && in && strings.HasPrefix(string(l.Destination), calc.Scheme) {
						if _, ok := d.Numbers[l]; !ok {
							t.Errorf("%s: a computed number without its value: %s", d.File, l.Destination)
						}
					}
					return ast.WalkContinue, nil
				})
			}
		}
		for _, d := range set.Devices {
			if tr := set.TraceDevice(d.Name); tr == nil {
				t.Error("no trace")
			}
		}
	})
}

// BenchmarkLoad reads a shop of 1,000 fault notes and of 100, to show that the
// time grows with the notes and not faster.
func BenchmarkLoad(b *testing.B) {
	for _, n := range []int{100, 1000} {
		fsys := good(b)
		for i := range n {
			name := "content/faults/f-" + quantity.Number(float64(i)) + ".md"
			fsys[name] = fsys["content/faults/element-tag-burnt-off.md"]
		}
		b.Run(quantity.Number(float64(n)), func(b *testing.B) {
			for b.Loop() {
				if _, mistakes, _ := Load(fsys, findWire); len(mistakes) > 0 {
					b.Fatal(printed(mistakes))
				}
			}
		})
	}
}

// loadsWith reads the good shop with one file of it replaced, and sees that all that is
// told lies inside the files.
func loadsWith(t *testing.T, name string, raw []byte) (*Set, problem.List) {
	t.Helper()
	fsys := good(t)
	fsys[name] = &fstest.MapFile{Data: raw}
	set, mistakes, remarks := Load(fsys, findWire)
	inside(t, fsys, mistakes)
	inside(t, fsys, remarks)
	return set, mistakes
}
