package format

import "strconv"

// Short ways to write a value down in the tables.

var (
	text = Value{Shape: Text}
	name = Value{Shape: Name}
	flag = Value{Shape: Flag}
)

func number(low, high float64) Value { return Value{Shape: Number, Low: low, High: high} }
func word(words ...string) Value     { return Value{Shape: Word, Words: words} }
func list(of Value) Value            { return Value{Shape: List, Of: &of} }
func named(of Value) Value           { return Value{Shape: Map, Of: &of} }
func worded(of Value) Value          { of.Worded = true; return named(of) } // called by anybody's words
func group(keys Keys) Value          { return Value{Shape: Group, Keys: keys} }
func either(or ...Value) Value       { return Value{Shape: Either, Or: or} }

// open is a group that also takes names of the note's own.
func open(keys Keys, of Value) Value { return Value{Shape: Group, Keys: keys, Of: &of} }

// refines marks what a device made of common blocks may write in part.
func refines(v Value) Value {
	v.Refines = true
	return v
}

// words turns words of another package into plain ones.
func words[T ~string](list []T) []string {
	var out []string
	for _, w := range list {
		out = append(out, string(w))
	}
	return out
}

// weighted is a list of names, each alone or with its weight.
func weighted(low, high float64) Value {
	return either(list(either(text, worded(number(low, high)))), worded(number(low, high)))
}

// except are the keys without some, and with others behind them.
func (ks Keys) except(names []string, more ...*Key) Keys {
	var out Keys
	for _, k := range ks {
		drop := false
		for _, n := range names {
			drop = drop || n == k.Name
		}
		if !drop {
			out = append(out, k)
		}
	}
	return append(out, more...)
}

func digits(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
