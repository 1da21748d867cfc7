package note

import (
	"io/fs"
	"path"
	"strings"
	"sync"

	"github.com/goccy/go-yaml/ast"

	"faultleaf/calc"
	"faultleaf/calc/quantity"
	"faultleaf/internal/problem"
)

// Values are what the shop's calculators take as their defaults.
func (s *Shop) Values() calc.Shop {
	return calc.Shop{Mains: s.Mains, Hertz: s.Hertz, Currency: s.Currency, Rate: s.Rate, Rules: s.Rules, Style: s.Style()}
}

// LoadShop reads content/shop.yaml alone.
func LoadShop(fsys fs.FS, find Find) (Shop, problem.List) {
	l := newLoader(fsys, find)
	_ = l.readShop()
	return l.set.Shop, l.mistakes
}

// Style is how the shop writes amounts.
func (s *Shop) Style() quantity.Style {
	return quantity.Style{Comma: s.Comma, Imperial: s.Units == "imperial"}
}

// at finds calculators with the defaults of a shop. It may be asked by several at once.
func at(find Find, shop calc.Shop) Find {
	var made sync.Map // by name
	return func(name string) (*calc.Calculator, bool) {
		if c, ok := made.Load(name); ok {
			return c.(*calc.Calculator), true
		}
		c, ok := find(name)
		if !ok {
			return nil, false
		}
		c = c.At(shop)
		made.Store(name, c)
		return c, true
	}
}

// claimsOfShop is the format since which typed claims that rest on a value of the shop, and a
// touch_current_rule that no calculator knows, are mistakes. In notes that keep to the first one
// they are remarked on, so that what was valid stays valid.
const claimsOfShop = 2

// shopRules are the keys of shop.yaml that choose a rule of a calculator.
var shopRules = []struct{ key, calculator string }{
	{"touch_current_rule", "leakage"}, {"bond_rule", "earth-bond"}, {"insulation_rule", "insulation"}, {"discharge_rule", "plug-pins"},
}

// rule reads a choice of a calculator's rule, by its name or as its page calls it.
func (l *loader) rule(r *reader, n ast.Node, key, calculator string) string {
	text := r.text(n, key)
	c, ok := l.find(calculator)
	if !ok || text == "" {
		return ""
	}
	in, _ := c.Input("rule")
	var names []string
	for _, choice := range in.Choices {
		if strings.EqualFold(text, choice.Name) || strings.EqualFold(text, choice.Label) {
			return choice.Name
		}
		names = append(names, choice.Name)
	}
	says, do := key+" cannot be "+quote(text), "it should be one of "+strings.Join(names, ", ")+"; the page of the calculator "+calculator+" says what they are"
	if l.set.Shop.Format >= claimsOfShop {
		r.at(n, says, do)
		return ""
	}
	line, column := r.place(n)
	l.remarks.Add(r.file, line, column, says+", and so the strictest decides", do)
	return ""
}

// The mains that every calculator takes.
const lowestMains, highestMains = "50 V", "500 V"

// mains reads the volts at the outlets.
func (r *reader) mains(n ast.Node) string {
	text := r.text(n, "mains")
	v, err := quantity.Parse(quantity.Voltage, text)
	low, _ := quantity.Parse(quantity.Voltage, lowestMains)
	high, _ := quantity.Parse(quantity.Voltage, highestMains)
	switch {
	case text == "":
	case err != nil:
		r.at(n, err.Error(), "write it like 230 V")
	case v.Low < low.Num || v.High > high.Num:
		r.at(n, "mains of "+text+" are outside "+lowestMains+" to "+highestMains, "write the volts between line and neutral, like 230 V")
	default:
		return text
	}
	return ""
}

// currency reads a currency that can stand behind a sum.
func (r *reader) currency(n ast.Node) string {
	text := r.text(n, "the currency")
	if v, err := quantity.Parse(quantity.MoneyPerHour, "30 "+text+"/h"); text != "" && (err != nil || v.Unit != text) {
		r.at(n, "the currency "+quote(text)+" cannot stand behind a sum", "write it like € or EUR")
		return ""
	}
	return text
}

// ofShop names the values of the shop that a claim rests on; "" if it would be the same in
// any shop.
func (l *loader) ofShop(link, filled calc.Link, d *Document) string {
	c, ok := l.find(filled.Calculator)
	if !ok {
		return ""
	}
	plate, _ := l.plateFor(d)
	here, err := c.Run(filled.Inputs)
	if err != nil {
		return ""
	}
	want, _ := here.Output(filled.Output)
	var rests []string
	for _, in := range c.OfShop(link, plate) {
		for _, value := range in.Elsewhere() {
			there, err := c.Run(append(filled.Inputs[:len(filled.Inputs):len(filled.Inputs)], calc.Setting{Name: in.Name, Value: value}))
			if err != nil {
				continue // that rule has nothing to say here
			}
			if got, _ := there.Output(filled.Output); got.Text != want.Text {
				rests = append(rests, string(in.From))
				break
			}
		}
	}
	return strings.Join(rests, " and ")
}

// checkLogo says if the shop's logo is no picture of content/images.
func (l *loader) checkLogo(r *reader, n ast.Node) {
	if logo := l.set.Shop.Logo; logo != "" && !l.pictures[path.Join("content", logo)] {
		l.set.Shop.Logo = ""
		r.at(n, "there is no picture "+quote(logo), "put it into content/images and write logo: images/NAME")
	}
}

// lang reads the name of a language as the web writes it (BCP 47): a code of two or three
// letters, then parts joined by hyphens.
func (r *reader) lang(n ast.Node) string {
	text := r.text(n, "the language")
	for i, part := range strings.Split(text, "-") {
		plain := strings.IndexFunc(part, func(c rune) bool {
			return !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || i > 0 && c >= '0' && c <= '9')
		}) < 0
		if !plain || len(part) > 8 || len(part) < 1 || i == 0 && (len(part) < 2 || len(part) > 3) {
			r.at(n, quote(text)+" is no code of a language", "write it like en, de or pt-BR")
			return ""
		}
	}
	return text
}
