package record

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"
)

type inner struct {
	text  string // of its package alone
	Parts map[string][]float64
}

type thing struct {
	Name  string
	On    bool
	N     int
	Count uint16
	Inner *inner
	None  *inner
	List  []inner
	Empty []string
	Nil   []string
	Any   any
	Pair  [2]string
	Rows  map[string][]byte
}

var example = thing{Name: "käfer", On: true, N: -7, Count: 9, Inner: &inner{"x", map[string][]float64{"b": {1, 2.5}, "a": nil}},
	List: []inner{{}, {text: "y"}}, Empty: []string{}, Pair: [2]string{"l", "r"}, Rows: map[string][]byte{"a": {1, 200}, "b": {}, "c": nil}}

func TestCode(t *testing.T) {
	var got thing
	b := Encode(example)
	if err := Decode(b, &got); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, example) {
		t.Errorf("%+v", got)
	}
	if string(Encode(&example)) != string(b) {
		t.Error("what points to a value is kept otherwise than the value")
	}
	for range 20 {
		if string(Encode(example)) != string(b) {
			t.Fatal("equal values give other bytes")
		}
	}
}

// What is damaged or lost is not there; what nobody asks for goes.
func TestRecord(t *testing.T) {
	to := t.TempDir()
	r := Open(to)
	r.Put("one", []byte("1"))
	r.Put("two", []byte("2"))
	r.Put("none", nil)
	if string(r.Kept("one")) != "1" || r.Kept("none") == nil || r.Kept("three") != nil {
		t.Error("what was put is not what is kept")
	}
	r = Open(to)
	r.Kept("one")
	r.Sweep()
	if r = Open(to); string(r.Kept("one")) != "1" || r.Kept("two") != nil {
		t.Error("sweeping took the wrong one")
	}
	list, _ := filepath.Glob(filepath.Join(to, Folder, "*"))
	for _, damage := range []string{"", "short", "a text that is long enough and no file of ours"} {
		if err := os.WriteFile(list[0], []byte(damage), 0o644); err != nil {
			t.Fatal(err)
		}
		if Open(to).Kept("one") != nil {
			t.Errorf("%q was taken for what was kept", damage)
		}
	}
	var nothing *Record
	if nothing.Put("a", nil); nothing.Kept("a") != nil {
		t.Error("no record keeps something")
	}
	nothing.Sweep()
}

func FuzzDecode(f *testing.F) {
	f.Add(Encode(example))
	f.Fuzz(func(t *testing.T, b []byte) {
		var x thing
		if Decode(b, &x) == nil {
			Encode(x)
		}
	})
}

// A record that came from elsewhere, whatever its keys are, is not taken for ours.
func TestFromElsewhere(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	r := Open(from)
	if r.born == "" {
		t.Skip("this disk does not tell when a folder was made")
	}
	r.Put("page", []byte("forged"))
	r.Close()
	time.Sleep(20 * time.Millisecond) // the clock of a disk is coarse
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	r = Open(to)
	if got := r.Kept("page"); got != nil {
		t.Errorf("%q of another folder is taken over", got)
	}
	r.Sweep()
	if left, _ := filepath.Glob(filepath.Join(to, Folder, "*")); len(left) != 0 {
		t.Error("it stays:", left)
	}
	r.Close()
	if string(Open(from).Kept("page")) != "forged" {
		t.Error("ours is lost")
	}
}
