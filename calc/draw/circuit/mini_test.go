package circuit

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestMini(t *testing.T) {
	m := Mini{{Symbol: "plug"}, {Symbol: "heating", Heat: 3}, {Symbol: "", Heat: 7}, {Symbol: "switch", Here: true}}
	if got := m.Text(); got != "plug0 heating3 4 switch9" {
		t.Error(got)
	}
	svg, sprite := m.SVG(), Sprite(m, m)
	for _, want := range []string{`class="h3" href="#s-heating" x="36"`, `class="h4 mini-here" href="#s-switch"`, `width="142"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in %s", want, svg)
		}
	}
	if strings.Count(sprite, `id="s-plug"`) != 1 || strings.Count(sprite, "<g id=") != 4 {
		t.Error(sprite)
	}
	if Sprite() != "" || Sprite(Mini{}) != "" {
		t.Error("a sprite without symbols")
	}
	var list map[string]string
	text := strings.TrimSuffix(strings.TrimPrefix(string(Script()), "const symbols = "), ";\n")
	if err := json.Unmarshal([]byte(text), &list); err != nil || len(list) != len(symbols) || list["plug"] != symbols["plug"] {
		t.Error(err, len(list))
	}
}
