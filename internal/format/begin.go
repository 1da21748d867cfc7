package format

import (
	"slices"
	"strings"
	"unicode/utf8"

	"faultleaf/calc/trace"
)

// What a begun note of other kinds than a fault holds until somebody fills it in.
const (
	BegunSymptom = "What an owner sees or hears"
	BegunStep    = "The first step"
)

// Unfilled tells whether a text is what a begun note holds for want of a better
// one: a note in which it still stands is a draft.
func Unfilled(text string) bool {
	text = strings.TrimSpace(text)
	if text == trace.BegunCause || text == trace.BegunMend || text == BegunSymptom || text == BegunStep {
		return true
	}
	return text != "" && slices.ContainsFunc(Kinds, func(k *Kind) bool { return k.Below == text })
}

// LongestUnfilled is the length in bytes of the longest of these texts.
var LongestUnfilled = func() int {
	n := max(len(trace.BegunCause), len(trace.BegunMend), len(BegunSymptom), len(BegunStep))
	for _, k := range Kinds {
		n = max(n, len(k.Below))
	}
	return n
}()

// Begin begins a note: with what is known, as it is written behind each key, with
// a placeholder where something must stand, and with everything else that the
// note may say commented out.
func (k *Kind) Begin(known map[string]string, below string) string {
	var b strings.Builder
	b.WriteString("---\n" + trace.BegunFirst)
	var rest []string
	wide := 0
	for _, key := range k.Keys {
		if key.Refused != "" || key == draft {
			continue
		}
		value, has := known[key.Name]
		if !has && key.Need != "" && key.In == Everywhere {
			value, has = key.Begin, key.Begin != ""
		}
		switch {
		case has && strings.HasPrefix(value, "\n"):
			b.WriteString(key.Name + ":" + strings.TrimRight(value, "\n") + "\n")
		case has:
			b.WriteString(key.Name + ": " + value + "\n")
		case key.In == Everywhere && key.Example != "":
			line := "# " + key.Name + ": " + key.Example
			wide = max(wide, utf8.RuneCountInString(line))
			rest = append(rest, line+"\x00"+key.Help)
		}
	}
	if wide = min(wide, 60); len(rest) > 0 {
		b.WriteString("# It may also say:\n")
	}
	for _, line := range rest {
		line, help, _ := strings.Cut(line, "\x00")
		b.WriteString(line + strings.Repeat(" ", max(wide-utf8.RuneCountInString(line), 0)) + "  # " + help + "\n")
	}
	if below == "" {
		below = k.Below
	}
	b.WriteString("---\n" + below + "\n")
	return b.String()
}
