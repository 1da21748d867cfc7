package note

import (
	"strings"
	"sync"
	"testing"
)

// A sheet is judged alone as it would be among the others, by several at once.
func TestJudge(t *testing.T) {
	fsys := good(t)
	judge, mistakes := NewJudge(fsys, findWire)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	before := len(judge.Set().Jobs)
	const head = "---\ncode: 2025-06-01-kb7\ndevice: fan-heater\ndate: 2025-06-01\n"
	var wg sync.WaitGroup
	for range 8 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for _, c := range []struct{ name, text, want string }{
				{"2025-06-01-kb7-fan-heater.md", head + "symptoms: [air-cold]\nreadings: [{test: look, value: dark}]\ncause: element-tag-burnt-off\noutcome: given-up\n---\nSee [it](../faults/element-tag-burnt-off.md).\n", ""},
				{"2025-06-01-kb8-fan-heater.md", head + "cause: unknown\noutcome: given-up\n---\n", "the code differs"},
				{"2025-06-01-fan-heater-1.md", strings.Replace(head, "01-kb7", "32-kb7", 1) + "cause: unknown\noutcome: given-up\n---\n", "“2025-06-32-kb7” is no code of a job of this date"},
				{"2025-06-01-fan-heater-1.md", strings.Replace(head, "code: 2025-06-01-kb7", "code: ../kb7", 1) + "cause: unknown\noutcome: given-up\n---\n", "is no code of a job of this date"},
				{"2025-06-01-kb7-fan-heater.md", head + "cause: unknown\noutcome: given-up\n---\n<script>x</script>\n", "HTML is not shown"},
				{"2025-06-01-kb7-fan-heater.md", head + "cause: unknown\noutcome: given-up\n---\n[x](javascript:1)\n", "no known kind"},
				{"2025-06-01-kb7-fan-heater.md", head + "cause: nothing\noutcome: mended\nowner: me\n---\n", "there is no fault"},
				{"2025-06-01-kb7-fan-heater.md", "", "the file is empty"},
				{"2025-06-01-kb7-fan-heater.md", "---\n" + strings.Repeat("[", 5000), "front matter"},
				{"2025-06-01-kb7-fan-heater.md", head + "cuase: unknown\noutcome: given-up\n---\n", "“cuase” is not known here"},
				{"x.txt", head, "is no note"},
				{"../shop.yaml", "name: x", "is no note"},
			} {
				_, wrong := judge.Sheet(c.name, []byte(c.text))
				var says []string
				for _, m := range wrong {
					says = append(says, m.Says)
				}
				if got := strings.Join(says, "; "); c.want == "" && got != "" || !strings.Contains(got, c.want) {
					t.Errorf("%s %.40q: %q, not %q", c.name, c.text, got, c.want)
				}
			}
		}()
	}
	wg.Wait()
	if _, again := NewJudge(fsys, findWire); len(again) > 0 || len(judge.Set().Jobs) != before {
		t.Error("the judge has changed the shop")
	}
	if wrong := WithFault(fsys, findWire, "new.md", []byte("---\ntitle: New\ndevice: fan-heater\nblock: nothing\ncause: x\nmend: {does: x, minutes: 1}\n---\n")); len(wrong) != 1 {
		t.Errorf("%v", wrong)
	}
}
