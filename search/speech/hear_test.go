package speech

import (
	"strings"
	"testing"
)

var spoken = Vocabulary{
	Complaints: []Complaint{
		{ID: "dead", Wordings: []string{"not work", "no power", "dead", "not working properly"}},
		{ID: "no-heat", Wordings: []string{"not get hot", "cold"}},
		{ID: "hot", Wordings: []string{"hot", "burnt"}},
		{ID: "smells", Wordings: []string{"smell", "burnt"}},
		{ID: "short", Wordings: []string{"works for a while", "now and then"}},
		{ID: "blows-fuse", Wordings: []string{"fuse"}},
		{ID: "cord", Wordings: []string{"broken lead"}},
	},
	Devices: []Device{{"lamp", "Lamp"}, {"kettle", "Kettle"}, {"drill", "Drill"}, {"charger", "Charger"}},
	Names: []Name{
		{"lamp", "lamp", 1, OfDevice}, {"light", "lamp", 0.6, OfDevice}, {"kettle", "kettle", 1, OfDevice}, {"power drill", "drill", 1, OfDevice},
		{"lead acid charger", "charger", 1, OfDevice}, {"mixer", "drill", 0.4, OfDevice}, {"drum kettle", "", 0, OfNothing},
		{"first aid", "checklists/hurt", 1, OfNote}, {"microwave oven", "pages/shut", 1, OfShut},
	},
	Words: "kaputt = dead",
}

// heard writes what was heard: complaints, then things in brackets, then what was
// tried behind a minus.
func heard(l *Listener, text string) string {
	var sentence []Token
	for _, w := range l.Lexicon.All(text) {
		sentence = append(sentence, Token{w, []Spelling{{w.Stem, 1}}})
	}
	h := l.Hear(sentence)
	var out []string
	for _, s := range h.Complaints {
		for _, m := range s.Means {
			out = append(out, l.Complaints[m].ID)
		}
	}
	for _, s := range append(h.Things, h.Notes...) {
		out = append(out, "["+l.Names[s.Means[0]].Text+"]")
	}
	for _, s := range h.Tried {
		out = append(out, "-"+text[sentence[s.From].Start:sentence[s.To-1].End])
	}
	return strings.Join(out, " ")
}

func TestHear(t *testing.T) {
	l := Listen(spoken)
	for _, c := range []struct{ text, want string }{
		{"My kettle doesn't really work", "dead [kettle]"},
		{"KAPUTT kettle", "dead [kettle]"},
		{"not working properly", "dead"},                         // the longest phrase, once
		{"does not get hot", "no-heat"},                          // not "hot"
		{"no smell", ""},                                         // denied
		{"not working, smell", "dead smells"},                    // that "not" belongs to another
		{"not. work", ""},                                        // never across punctuation
		{"it works for a while", "short"},                        // linking words count in a phrase
		{"works a while", ""},                                    //
		{"burnt", "hot smells"},                                  // one wording may be two complaints
		{"the light comes on but it is cold", "no-heat [light]"}, // weakly: a part that works
		{"its light is dead", "dead"},                            // a part of something else
		{"no light", ""},                                         //
		{"no power drill", "dead"},                               // "power" belongs to "no power"
		{"broken lead acid charger", "[lead acid charger]"},      // the longer name
		{"drum kettle dead", "dead [drum kettle]"},               // a name that holds another
		{"changed fuse and bulb, still dead", "dead -changed fuse and bulb"},
		{"fuse replaced already", "-fuse replaced"},
		{"needs new fuse", "blows-fuse"}, // what is needed was not tried
		{"new battery but dead", "dead -new battery"},
		{"plug ok", "-plug ok"},
		{"printer dead", "dead [printer]"},
		{"mixer dead, microwave oven", "dead [mixer] [microwave oven]"},
		{"first aid", "[first aid]"},
		{"", ""}, {"?!", ""}, {"not", ""}, {"the", ""},
	} {
		if got := heard(l, c.text); got != c.want {
			t.Errorf("%q: heard %q, want %q", c.text, got, c.want)
		}
	}
	if heard(Listen(Vocabulary{}), "printer not working") != "" {
		t.Error("something was heard without a vocabulary")
	}
}

func FuzzHear(f *testing.F) {
	l := Listen(spoken)
	for _, s := range []string{"changed fuse", "no power drill", "not not", "its light but", "a, b. c", "new new new fuse ok", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var sentence []Token
		for _, w := range l.Lexicon.All(text) {
			sentence = append(sentence, Token{w, []Spelling{{w.Stem, 1}, {"kettl", 0.5}}})
		}
		h := l.Hear(sentence)
		for _, list := range [][]Said{h.Complaints, h.Things, h.Notes, h.Tried} {
			last := 0
			for _, s := range list {
				if s.From < last || s.To <= s.From || s.To > len(sentence) || s.Worth < 0 || s.Worth > 1 {
					t.Fatalf("%q: %+v", text, s)
				}
				last = s.To
			}
		}
	})
}
