package words

import (
	"bufio"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func spelled(text string) string {
	var out []string
	for _, w := range House().Split(text) {
		s := w.Text
		if w.Extra {
			s = "+" + s
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

// testdata/split.txt: a text, " => ", its words; a word with + is a further
// spelling of its place.
func TestSplit(t *testing.T) {
	for n, line := range lines(t, "testdata/split.txt") {
		text, want, ok := strings.Cut(line, " => ")
		if !ok {
			t.Fatalf("line %d has no arrow: %s", n, line)
		}
		if got := spelled(text); got != strings.TrimSpace(want) {
			t.Errorf("%s\n got %s\nwant %s", text, got, want)
		}
	}
}

// testdata/meet.txt: writings that must be the same word, parted by commas and a
// space.
func TestMeet(t *testing.T) {
	for _, line := range lines(t, "testdata/meet.txt") {
		all := strings.Split(line, ", ")
		first := Plain(House().Split(all[0]))
		for _, other := range all[1:] {
			if got := Plain(House().Split(other)); stems(got) != stems(first) {
				t.Errorf("%q is %q, but %q is %q", all[0], stems(first), other, stems(got))
			}
		}
	}
}

func lines(t *testing.T, name string) map[int]string {
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	out := map[int]string{}
	sc := bufio.NewScanner(f)
	for n := 1; sc.Scan(); n++ {
		if line := strings.TrimSpace(sc.Text()); line != "" && line[0] != '#' {
			out[n] = line
		}
	}
	if len(out) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return out
}

func TestOffsets(t *testing.T) {
	text := "The OWNER’s kettle: doesn't heat to 130 °C, cut-out 4k7."
	got := ""
	for _, w := range House().Split(text) {
		got += "[" + text[w.Start:w.End] + "]"
	}
	want := "[OWNER’s][kettle][doesn't][heat][doesn't heat][130 °C][cut-out][cut][out][cut-out][4k7]"
	if got != want {
		t.Errorf("\n got %s\nwant %s", got, want)
	}
}

func TestAlike(t *testing.T) {
	for _, c := range []struct{ query, phrase, other string }{
		{"the thermal fuse is open", "thermal fuse", "thermal link"},
		{"does it switch on", "switch on", "turn on"},
		{"a volume control", "volum control", "potentiomet"},
		{"flex damaged", "flex", "cord"},
	} {
		plain := Plain(House().Split(c.query))
		found := false
		for _, s := range House().Alike(plain) {
			if strings.TrimSpace(stems(plain[s.From:s.To])) != c.phrase {
				continue
			}
			for _, o := range s.Other {
				found = found || strings.TrimSpace(stems(o)) == c.other
			}
		}
		if !found {
			t.Errorf("%s: %q is not known as %q", c.query, c.phrase, c.other)
		}
	}
}

// Every line of the list must be one of the two forms and do something.
func TestShopList(t *testing.T) {
	for _, f := range Faults(houseText) {
		t.Errorf("shop.txt:%d:%d: %s; %s", f.Line, f.Column, f.Says, f.Do)
	}
	seen := map[string]bool{}
	for _, line := range strings.Split(houseText, "\n") {
		if wrong, _, ok := strings.Cut(line, " = "); ok && !strings.HasPrefix(line, "#") {
			if seen[wrong] {
				t.Errorf("%s stands there twice", wrong)
			}
			seen[wrong] = true
		}
	}
	for _, s := range House().Spellings {
		for _, w := range s.Right {
			if House().Spelled(w) != nil {
				t.Errorf("%s = %s is itself respelled", s.Wrong, w)
			}
		}
	}
}

// A shop's own lines join those of the house, and a broken one hinders nothing.
func TestOwnLines(t *testing.T) {
	own := "# ours\nkaputt = kaput\n\tTwo words = x\nfoo\nstrimmer | grass trimmer | brush cutter\na | | b\nsame = same"
	l := WithOwn(own)
	if got := Plain(l.Split("Kaputt colour")); stems(got) != "kaput colour " {
		t.Errorf("%q", stems(got))
	}
	if same := l.Alike(Plain(l.Split("brush cutter"))); len(same) != 1 || len(same[0].Other) != 2 {
		t.Errorf("%+v", same)
	}
	if House().Alike(Plain(House().Split("strimmer"))) != nil {
		t.Error("the house knows what only one shop says")
	}
	var got []string
	for _, f := range Faults(own) {
		got = append(got, strconv.Itoa(f.Line)+":"+strconv.Itoa(f.Column))
	}
	if s := strings.Join(got, " "); s != "3:2 4:1 6:4 7:8" {
		t.Errorf("faults at %s", s)
	}
}

func TestAll(t *testing.T) {
	var got []string
	for _, w := range House().All("It works for a while, then stops (doesn't it) - cut-out?") {
		s := w.Text
		if w.Idle {
			s = "(" + s + ")"
		}
		if w.Cut {
			s = "/" + s
		}
		got = append(got, s)
	}
	if s := strings.Join(got, " "); s != "(it) works (for) (a) (while) /(then) stops /not (it) /cut out" {
		t.Error(s)
	}
}

func FuzzSplit(f *testing.F) {
	for _, s := range []string{"won't turn on", "4k7 Ω, 130 °C", "0,5 A", "cut-out-x-y", "'’`", "１２", "e\u0301", "\xff\xfe", "....5", "1,2,3", "İ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		ws := House().Split(s)
		last := 0
		for _, w := range ws {
			if w.Start < 0 || w.End > len(s) || w.Start >= w.End {
				t.Fatalf("%q: word %+v lies outside", s, w)
			}
			if w.Text == "" || w.Stem == "" {
				t.Fatalf("%q: empty word %+v", s, w)
			}
			if !w.Extra {
				if w.Start < last {
					t.Fatalf("%q: word %+v goes backwards", s, w)
				}
				last = w.Start
			}
		}
		House().Alike(Plain(ws))
	})
}

func BenchmarkSplit(b *testing.B) {
	text := strings.Repeat("The heater's fan turns but doesn't blow warm air; the 130 °C cut-out is open. ", 20)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		House().Split(text)
	}
}

// One that has met many words, and forgot them, cuts as a new one does.
func TestSplitterForgets(t *testing.T) {
	s := House().Splitter()
	for i := range mostKnown {
		text := "Motor" + strconv.Itoa(i) + " doesn't turn on-" + strconv.Itoa(i) + "k7 at 130 °C, cut-out"
		got := s.Split(text)
		if i%997 == 0 && !slices.Equal(got, House().Splitter().Split(text)) {
			t.Fatalf("%s: %v", text, got)
		}
	}
	if n := len(s.spellings) + len(s.forms); n > mostKnown+100 {
		t.Errorf("%d words are remembered", n)
	}
}
