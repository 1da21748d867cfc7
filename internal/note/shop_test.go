package note

import (
	"strings"
	"testing"
	"testing/fstest"

	"faultleaf/calc/all"
)

const shopOf120 = "format: 2\nname: Elm\nid: elm\nmains: 120 V\nhertz: 60\ncurrency: USD\nrate: 45\n"

func shopWith(shop, page string) fstest.MapFS {
	fsys := fstest.MapFS{"content/shop.yaml": {Data: []byte(shop), Mode: 0o644}}
	if page != "" {
		fsys["content/pages/x.md"] = &fstest.MapFile{Data: []byte("---\ntitle: X\n---\n" + page + "\n"), Mode: 0o644}
	}
	return fsys
}

// What a note says is true in any shop: typed digits that rest on the shop's own mains are
// a mistake, also where they are right here; filled in, they are the shop's.
func TestClaimsOfShop(t *testing.T) {
	for text, want := range map[string]string{
		"[9.60 Ω](calc:pins?kind=heater&power=1500_W#rated-ohms)":              "“9.60 Ω” rests on the rated mains of this shop",
		"[529 Ω](calc:pins?kind=heater&power=100_W#rated-ohms)":                "“529 Ω” rests on the rated mains",
		"[9.60 Ω](calc:pins?kind=heater&power=1500_W&mains=120_V#rated-ohms)":  "",
		"[=](calc:pins?kind=heater&power=1500_W#rated-ohms)":                   "",
		"[2.00 MΩ](calc:insulation?class=ii#limit)":                            "rests on the rule of this shop",
		"[24.0 V](calc:rectifier?ac=17_V#open-circuit-peak)":                   "",
		"[100 W](calc:plate?volts=12_V&rating=100_W#watts)":                    "",
		"[as-rated](calc:pins?kind=heater&power=1500_W&reading=9.6_Ω#verdict)": "“as-rated” rests on",
	} {
		_, mistakes, _ := Load(shopWith(shopOf120, text), all.Find)
		said := ""
		for _, m := range mistakes {
			said += m.String() + "\n"
		}
		if want == "" && said != "" || !strings.Contains(said, want) {
			t.Errorf("%s: %q", text, said)
		}
	}
	set, _, _ := Load(shopWith(shopOf120, "[=](calc:pins?kind=heater&power=1500_W#rated-ohms)"), all.Find)
	for _, n := range set.Pages[0].Numbers {
		if n.Text != "9.60 Ω" {
			t.Error(n.Text)
		}
	}
}

// Every value of the shop is used or refused.
func TestShopFile(t *testing.T) {
	for line, want := range map[string]string{
		"mains: 12 kV":                 "mains of 12 kV are outside 50 V to 500 V",
		"mains: 3 A":                   "a voltage is asked for",
		"hertz: 0":                     "hertz",
		"currency: shillings":          "cannot stand behind a sum",
		"currency: 3 €":                "cannot stand behind a sum",
		"touch_current_rule: my own":   "touch_current_rule cannot be “my own”",
		"lang: German":                 "“German” is no code of a language",
		"logo: images/none.png":        "there is no picture “images/none.png”",
		"decimals: dot":                "decimals cannot be “dot”",
		"bond_rule: uk":                "",
		"insulation_rule: AS/NZS 3760": "",
		"discharge_rule: en":           "it should be one of strictest, household",
		"volts: 230 V":                 "is not known here",
	} {
		key, _, _ := strings.Cut(line, ":")
		var lines []string
		for _, l := range strings.Split(shopOf120, "\n") {
			if !strings.HasPrefix(l, key+":") {
				lines = append(lines, l)
			}
		}
		set, mistakes, _ := Load(shopWith(strings.Join(lines, "\n")+line+"\n", ""), all.Find)
		switch {
		case want == "" && len(mistakes) > 0, want != "" && len(mistakes) != 1:
			t.Errorf("%s: %v", line, mistakes)
		case want != "" && !strings.Contains(mistakes[0].String(), want):
			t.Errorf("%s: %s", line, mistakes[0])
		case want == "" && len(set.Shop.Rules) != 1:
			t.Errorf("%s: %v", line, set.Shop.Rules)
		}
	}
}

// A page whose pictures are heavy is remarked on, with the figure.
func TestPictureBudget(t *testing.T) {
	shop := shopWith(shopOf120, "![a](../images/a.svg) ![a](../images/a.svg) ![b](../images/b.svg)")
	drawing := "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><!--" + strings.Repeat("x", 1<<20) + "--></svg>"
	shop["content/images/a.svg"] = &fstest.MapFile{Data: []byte(drawing), Mode: 0o644}
	shop["content/images/b.svg"] = &fstest.MapFile{Data: []byte(drawing[:len(drawing)-6-3-600000] + "--></svg>"), Mode: 0o644}
	said := func() string {
		_, mistakes, remarks := Load(shop, all.Find)
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		all := ""
		for _, r := range remarks {
			all += r.String() + "\n"
		}
		return all
	}
	if s := said(); strings.Contains(s, "weigh") {
		t.Error("1.4 MB are remarked on:", s)
	}
	shop["content/images/b.svg"] = shop["content/images/a.svg"]
	shop["content/images/b.svg"] = &fstest.MapFile{Data: []byte(strings.Replace(drawing, "x", strings.Repeat("y", 2<<20), 1)), Mode: 0o644}
	if s := said(); !strings.Contains(s, "content/pages/x.md: the pictures of this note weigh about 4.0 MB together, and a page should do with 2.0 MB") {
		t.Error(s)
	}
}

// In the first format what is a mistake now was none, and is remarked on.
func TestClaimsOfFirstFormat(t *testing.T) {
	old := strings.TrimPrefix(shopOf120, "format: 2\n") + "touch_current_rule: our own\n"
	_, mistakes, remarks := Load(shopWith(old, "[9.60 Ω](calc:pins?kind=heater&power=1500_W#rated-ohms)"), all.Find)
	if len(mistakes) > 0 {
		t.Error(mistakes)
	}
	said := ""
	for _, r := range remarks {
		said += r.String() + "\n"
	}
	if !strings.Contains(said, "“9.60 Ω” rests on") || !strings.Contains(said, "touch_current_rule cannot be “our own”, and so the strictest decides") {
		t.Error(said)
	}
}
