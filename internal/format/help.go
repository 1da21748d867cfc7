package format

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Inner is a group of keys inside a note, with where it stands.
type Inner struct {
	Where string // "tests, of each"; "" for the note itself
	Keys  Keys
}

// Groups lists the groups of a kind: the note itself, then those inside it, each
// once.
func (k *Kind) Groups() []Inner {
	out := []Inner{{k.Each, k.Keys}}
	seen := map[*Key]bool{}
	var within func(path string, v Value)
	add := func(path string, keys Keys) {
		if len(keys) == 0 || seen[keys[0]] {
			return
		}
		seen[keys[0]] = true
		if path != "" {
			out = append(out, Inner{path, keys})
		}
		for _, key := range keys {
			if key.Refused == "" {
				within(strings.TrimPrefix(path+" › "+key.Name, " › "), key.Value)
			}
		}
	}
	within = func(path string, v Value) {
		if v.Shape == Group {
			add(path, v.Keys)
		}
		if v.Of != nil {
			if v.Shape != Group {
				path = strings.TrimSuffix(path, ", each") + ", each"
			}
			within(path, *v.Of)
		}
		for _, o := range v.Or {
			within(path, o)
		}
	}
	add("", k.Keys)
	return out
}

// Notes says about a key what its sentence does not: whether it must be there,
// where it is known, with which format it came.
func (k *Key) Notes() string {
	var notes []string
	switch {
	case k.Need != "" && k.Unless == "":
		notes = append(notes, "must be there")
	case k.Need != "" && k.Unless == "blocks":
		notes = append(notes, "must be there, where no common block brings it")
	case k.Need != "":
		notes = append(notes, "must be there without "+k.Unless)
	}
	if k.In == OfBlocks {
		notes = append(notes, "with common blocks only")
	}
	if k.Since > 1 {
		notes = append(notes, fmt.Sprintf("since format %d", k.Since))
	}
	return strings.Join(notes, "; ")
}

// Help is a kind's table of keys for a terminal.
func (k *Kind) Help() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\nIt lies in %s.\n", k.Title, k.Says, k.File)
	for _, g := range k.Groups() {
		b.WriteString("\n")
		if g.Where != "" {
			fmt.Fprintf(&b, "%s:\n", g.Where)
		}
		wide := 0
		for _, key := range g.Keys {
			if key.Refused == "" {
				wide = max(wide, utf8.RuneCountInString(key.Name))
			}
		}
		for _, key := range g.Keys {
			if key.Refused != "" {
				continue
			}
			fmt.Fprintf(&b, "  %-*s  %s", wide, key.Name, key.Help)
			if notes := key.Notes(); notes != "" {
				fmt.Fprintf(&b, " (%s)", notes)
			}
			if key.Example != "" {
				fmt.Fprintf(&b, "\n  %-*s  %s: %s", wide, "", key.Name, key.Example)
			}
			b.WriteString("\n")
		}
	}
	if k.Below != "" {
		fmt.Fprintf(&b, "\nBelow it, in Markdown: %s\n", k.Below)
	}
	return b.String()
}
