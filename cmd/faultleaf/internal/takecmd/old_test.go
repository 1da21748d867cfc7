package takecmd

import (
	"io"
	"os"
	"strings"
	"testing"

	"faultleaf/calc/all"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
)

// FuzzOld: whatever stands in a table or a text of old jobs, what is read of it is a sheet of a
// device and a day, whose texts have not become keys, or it is told as unread.
func FuzzOld(f *testing.F) {
	judge, mistakes := note.NewJudge(os.DirFS("../../../.."), all.Find)
	if judge == nil || len(mistakes) > 0 {
		f.Fatal(mistakes)
	}
	f.Add(true, "date;device;problem;outcome;minutes;parts;notes\n4.3.2021;Kettle;dead: it says \"no\";fixed;1 h;cord, 2 plugs;---\n2021-02-30;kettle;x;scrap;;;\n")
	f.Add(true, "\ufeffDate\tItem\tStatus\n2021-03-04\tfan heater\tnot fixed\n")
	f.Add(false, "# Kettle\n\nDate: 2021-03-04\n- **Fault**: cord broken\nResult: repaired\nTime: 20 min\nCost: 3.50\n\nouter: &a [x]\n---\noutcome: mended\n")
	f.Fuzz(func(test *testing.T, table bool, text string) {
		var said strings.Builder
		t := &taker{e: &env.Env{Out: &said, Err: io.Discard}, judge: judge, codes: map[string]string{}, changed: map[string]bool{}}
		var list []found
		if table {
			list = t.table("old.csv", []byte(text))
		} else if one, ok := t.plain("old.md", []byte(text)); ok {
			list = append(list, one)
		}
		if len(list) == 0 && !table && t.unread != 1 {
			test.Fatalf("%q vanishes without a word: %s", text, said.String())
		}
		for _, one := range list {
			s, mistakes := judge.Sheet("x.md", one.text)
			if s.Date == "" || s.Device == "" || s.Outcome == "" || s.Cause == "" {
				test.Fatalf("%q is taken for\n%s\n%v", text, one.text, mistakes)
			}
			if s.Code != "" || len(s.Readings) > 0 || len(s.Proofs) > 0 {
				test.Fatalf("%q brings keys of its own:\n%s", text, one.text)
			}
		}
	})
}
