package speech

import (
	"faultleaf/search/words"
)

// What people change or look at before they come, and the words for it.
var (
	changeable = words.Set(`fuse fuses bulb bulbs lamp plug battery batteries cell cells cable lead flex cord
		switch element motor charger socket sockets outlet filter filters bag hose belt brushes wiring
		wire connections thermostat contacts adaptor`)
	changed = words.Set("changed replaced checked tried swapped tested fitted renewed cleaned changing replacing")
	fresh   = words.Set("new another different other spare")
	sound   = words.Set("ok okay fine good")
	wanted  = words.Set("need needs needed want wants required requires require")
	joins   = words.Set("and or the a his her my both plus with")
)

// tried finds what was changed or found good: "changed fuse and bulb", "fuse
// replaced", "new battery", "plug ok". What is needed was not tried.
func tried(s []Token) []Said {
	var out []Said
	add := func(from, to int) {
		if n := len(out); n > 0 && out[n-1].To > from {
			return
		}
		out = append(out, Said{From: from, To: to, Worth: 1})
	}
	for i := 0; i < len(s); i++ {
		switch {
		case changed.Has(s[i].Text):
			if to := partsAfter(s, i+1); to > 0 {
				add(i, to)
				i = to - 1
			} else if from := partBefore(s, i); from >= 0 {
				add(from, i+1)
			}
		case fresh.Has(s[i].Text) && !near(s, i, wanted):
			if to := partsAfter(s, i+1); to > 0 && !near(s, to, wanted) && !goes(s, to) {
				add(i, to)
				i = to - 1
			}
		case sound.Has(s[i].Text):
			if from := partBefore(s, i); from >= 0 {
				add(from, i+1)
			}
		}
	}
	return out
}

// partsAfter gives the end of a list of parts that begins at a token, 0 if none does.
func partsAfter(s []Token, i int) (to int) {
	for ; i < len(s) && (i == 0 || !s[i].Cut); i++ {
		switch text := s[i].Text; {
		case changeable.Has(text):
			to = i + 1
		case !joins.Has(text) && !fresh.Has(text) && !(to == 0 && words.Silent(text)):
			return to
		}
	}
	return to
}

// partBefore gives the part that a token says something of, -1 if it says it of none.
func partBefore(s []Token, i int) int {
	for !s[i].Cut && i > 0 {
		i--
		if changeable.Has(s[i].Text) {
			return i
		}
		if !words.Small(s[i].Text) {
			break
		}
	}
	return -1
}

// goes says whether what was put in went too: "new fuse blows straight away" tells of the
// fault, not of what was tried.
func goes(s []Token, i int) bool {
	for i < len(s) && !s[i].Cut && words.Silent(s[i].Text) {
		i++
	}
	return i < len(s) && !s[i].Cut && gone.Has(s[i].Stem)
}

var gone = words.Set("blow pop go went burn die open trip keep")

// near says whether one of some words stands just before or at a token.
func near(s []Token, i int, among words.Set) bool {
	for j := max(i-2, 0); j <= i && j < len(s); j++ {
		if among.Has(s[j].Text) {
			return true
		}
	}
	return false
}

// Changeable says whether a word is a part that people change.
func Changeable(text string) bool { return changeable.Has(text) }
