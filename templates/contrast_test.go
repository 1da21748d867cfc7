package templates

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var token = regexp.MustCompile(`--([a-z0-9-]+):(#[0-9a-fA-F]{3,6})`)

// tokens are the colours of the stylesheet: light, dark as the system says, and
// dark as somebody chose.
func tokens(t *testing.T) (light, dark, chosen map[string]string) {
	t.Helper()
	b, err := Files.ReadFile("faultleaf.css")
	if err != nil {
		t.Fatal(err)
	}
	css := string(b)
	block := func(begins string, under map[string]string) map[string]string {
		_, rest, ok := strings.Cut(css, begins)
		if !ok {
			t.Fatalf("there is no %s", begins)
		}
		rest, _, _ = strings.Cut(rest, "}")
		out := map[string]string{}
		for k, v := range under {
			out[k] = v
		}
		for _, m := range token.FindAllStringSubmatch(rest, -1) {
			out[m[1]] = m[2]
		}
		return out
	}
	light = block(":root{", nil)
	return light, block("@media (prefers-color-scheme:dark){:root:not([data-scheme=light]){", light), block(":root[data-scheme=dark]{", light)
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	var sum float64
	for i, weight := range []float64{.2126, .7152, .0722} {
		v, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(hex, err)
		}
		c := float64(v) / 255
		if c <= .04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (math.Max(x, y) + .05) / (math.Min(x, y) + .05)
}

// Text stands out by 4.5 to 1 or more, and what bounds a control by 3 to 1 (WCAG
// 2.2, 1.4.3 and 1.4.11), light and dark.
func TestContrast(t *testing.T) {
	light, dark, chosen := tokens(t)
	for name, v := range dark {
		if chosen[name] != v {
			t.Errorf("--%s is %s where the system is dark, and %s where somebody chose it", name, v, chosen[name])
		}
	}
	grounds := []string{"ground", "well", "steel", "chosen"}
	for mode, c := range map[string]map[string]string{"light": light, "dark": dark} {
		ask := func(front, back string, least float64) {
			if c[front] == "" || c[back] == "" {
				t.Errorf("%s: there is no --%s or --%s", mode, front, back)
			} else if got := contrast(t, c[front], c[back]); got < least {
				t.Errorf("%s: --%s on --%s stands out by %.2f to 1, wanted %.1f", mode, front, back, got, least)
			}
		}
		for _, back := range grounds {
			for _, text := range []string{"ink", "soft", "petrol", "copper", "good", "bad"} {
				ask(text, back, 4.5)
			}
			ask("edge", back, 3)
		}
		for _, heat := range []string{"heat-0", "heat-1", "heat-2", "heat-3"} {
			ask("on-heat", heat, 4.5)
		}
		ask("on-heat-4", "heat-4", 4.5)
		ask("on-petrol", "petrol", 4.5)
		ask("on-plate", "plate", 7)
		ask("plate-soft", "plate", 4.5)
		ask("good", "good-tint", 4.5)
		ask("lead", "ground", 3)
	}
}

// No control is bounded by the hairline, which only parts rows of text.
func TestControlsAreBounded(t *testing.T) {
	for _, name := range []string{"faultleaf.css", "script/script.css"} {
		b, err := Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, rule := range strings.Split(string(b), "}") {
			names, body, ok := strings.Cut(rule, "{")
			if ok && regexp.MustCompile(`(^|[\s,>])(button|input|select|textarea|\.button)([\s,:.\[]|$)`).MatchString(names) && regexp.MustCompile(`border(-color)?:[^;]*var\(--hair\)`).MatchString(body) {
				t.Errorf("%s: %s is bounded by the hairline", name, strings.TrimSpace(names))
			}
		}
	}
}
