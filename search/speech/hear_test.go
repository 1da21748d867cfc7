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
		{"lead acid charger", "charger", 1, OfDevice}, {"mixer", "drill", 0.4, OfDevice}, {"drum kettle", "", 0, OfNothing}, {"cold drill", "drill", 0.8, OfDevice}, {"globe", "lamp", 0.3, OfDevice}, {"walkie talkie", "drill", 0.3, OfDevice},
		{"first aid", "checklists/hurt", 1, OfNote}, {"microwave oven", "pages/shut", 1, OfShut},
	},
	Words: "kaputt = dead",
}

// heard writes what was heard: complaints, then things in brackets, then what was
// tried behind a minus.
func heard(l *Learned, text string) string {
	var sentence []Token
	for _, w := range l.Lexicon.All(text) {
		sentence = append(sentence, Token{w, []Spelling{{Stem: w.Stem, Worth: 1}}})
	}
	h := l.Hear(sentence)
	var out []string
	for _, s := range h.Complaints {
		for _, m := range s.Means {
			out = append(out, l.Vocabulary.Complaints[m].ID)
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
		{"it stopped getting hot", "no-heat"}, // what denies the next word
		{"fails to get hot", "no-heat"},
		{"unable to get hot", "no-heat"},
		{"broken cord", "cord"},                              // a lead by another name
		{"spoken of as a lead", ""},                          // and by itself no complaint
		{"fixer dead", "dead"},                               // no mixer
		{"it has no smell but power drill", "[power drill]"}, // a phrase ends at "but"
		{"hot, but not getting hot", "hot no-heat"},          //
		{"no, but power", ""},                                //
		{"it won't open", ""},                                // no can opener
		{"can opener dead", "dead [can opener]"},             //
		{"cold drill dead", "dead [cold drill]"},             // a name is not what is said of it
		{"not get hot but light ok", "no-heat [light]"},      // weakly
		{"lights up, dead", "dead"},                          // it does so, it is none
		{"works, except light", ""},                          //
		{"new fuse blows", "blows-fuse"},                     // what went too was not tried
		{"replaced fuse, dead", "dead -replaced fuse"},       //
		{"lamp on 110 V", "[lamp]"},                          //
		{"globe dead", "dead [globe]"},                       //
		{"walkie talkie dead", "dead [walkie talkie]"},       //
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

// What comes near a device is a thing by itself only where people bring it: nobody is told that
// no note is about a globe.
func TestParts(t *testing.T) {
	l := Listen(spoken)
	kind := map[string]Kind{}
	for _, n := range l.Names {
		kind[n.Text] = n.Kind
	}
	for name, want := range map[string]Kind{"globe": OfPart, "walkie talkie": OfDevice, "mixer": OfPart, "printer": OfNothing, "light": OfDevice} {
		if kind[name] != want {
			t.Errorf("%s is of kind %d, want %d", name, kind[name], want)
		}
	}
	if spoken.Names[len(spoken.Names)-1].Kind != OfShut {
		t.Error("the caller's names were changed")
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
			sentence = append(sentence, Token{w, []Spelling{{Stem: w.Stem, Worth: 1}, {Stem: "kettl", Worth: 0.5}}})
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
