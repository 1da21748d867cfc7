package record

import (
	"math/rand/v2"
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

// noise is a text of so many bytes that cannot be packed.
func noise(n int) string {
	r := rand.New(rand.NewPCG(1, uint64(n)))
	b := make([]byte, n)
	for i := range b {
		b[i] = byte(r.Uint32())
	}
	return string(b)
}

// What is damaged or lost is not there; what nobody asks for goes.
func TestRecord(t *testing.T) {
	to := t.TempDir()
	r := Open(to)
	big := noise(2 * smallest)
	r.Put("one", []byte("1"))
	r.Put("two", []byte("2"))
	r.Put("none", nil)
	r.Put("big", []byte(big))
	r.Put("big two", []byte(big))
	if string(r.Kept("one")) != "1" || r.Kept("none") == nil || r.Kept("three") != nil || string(r.Kept("big")) != big {
		t.Error("what was put is not what is kept")
	}
	r.Close()
	r = Open(to)
	r.Kept("one")
	r.Use("big")
	r.Sweep()
	r.Close()
	if r = Open(to); string(r.Kept("one")) != "1" || r.Kept("two") != nil || string(r.Kept("big")) != big || r.Kept("big two") != nil {
		t.Error("sweeping took the wrong one")
	}
	list, _ := filepath.Glob(filepath.Join(to, Folder, "*"))
	if len(list) != 2 {
		t.Errorf("%d files are kept", len(list))
	}
	for _, damage := range []string{"", "short", "a text that is long enough and no file of ours, nor one of many small things"} {
		for _, file := range list {
			if err := os.WriteFile(file, []byte(damage), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if r := Open(to); r.Kept("one") != nil || r.Kept("big") != nil {
			t.Errorf("%q was taken for what was kept", damage)
		}
	}
	var nothing *Record
	if nothing.Put("a", nil); nothing.Kept("a") != nil {
		t.Error("no record keeps something")
	}
	nothing.Sweep()
}

// The file of small things holds what was put last, wherever a run or a disk ended; it does not
// grow with what is gone.
func TestSmall(t *testing.T) {
	to := t.TempDir()
	file := filepath.Join(to, Folder, smallFile)
	size := func() int {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		return len(b)
	}
	for i := range 50 {
		r := Open(to)
		if i > 0 && string(r.Kept("same")) != "same" || string(r.Kept("turning")) != map[bool]string{true: "small", false: noise(2 * smallest)}[i%2 == 1] && i > 0 {
			t.Fatalf("run %d: it is not what was put last", i)
		}
		if i == 0 {
			r.Put("same", []byte("same"))
		}
		if i%2 == 0 {
			r.Put("turning", []byte("small"))
		} else {
			r.Put("turning", []byte(noise(2*smallest)))
		}
		r.Put(noise(i+1), []byte(noise(500)))
		r.Sweep()
		r.Close()
	}
	if size() > 3000 {
		t.Errorf("the file grew to %d bytes", size())
	}
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for n := range whole { // ended anywhere, then added to
		if err := os.WriteFile(file, whole[:n], 0o644); err != nil {
			t.Fatal(err)
		}
		r := Open(to)
		r.Put("new", []byte("new"))
		if b := r.Kept("same"); b != nil && string(b) != "same" || string(r.Kept("new")) != "new" {
			t.Fatalf("%d bytes: a wrong thing is kept", n)
		}
		if n%16 == 0 {
			r.Sweep()
			r.Close()
			if r = Open(to); string(r.Kept("new")) != "new" {
				t.Fatalf("%d bytes: a thing is lost behind a torn one", n)
			}
		}
		r.Close()
	}
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
