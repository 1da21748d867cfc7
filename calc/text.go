package calc

import "strings"

// Texts are the parts of a room's package comment.
type Texts struct {
	Lead     []string // paragraphs before the first heading
	Method   []string
	Holds    []string
	Misleads []string
	Disagree []string // "Sources disagree": where published values contradict each other
	Sources  []string
}

// ParseDoc reads the package comment in the Go source of a room (its doc.go).
// Headings are lines "# Method", "# Where it holds", "# Where it misleads",
// "# Sources disagree", "# Sources"; paragraphs are parted by empty lines and
// list items begin with "- ".
func ParseDoc(source string) Texts {
	var t Texts
	into := &t.Lead
	var para string
	flush := func() {
		if para != "" {
			*into = append(*into, para)
			para = ""
		}
	}
	for _, line := range strings.Split(source, "\n") {
		if strings.HasPrefix(line, "package ") {
			break
		}
		text, ok := strings.CutPrefix(line, "//")
		if !ok {
			continue
		}
		text = strings.TrimSpace(text)
		switch {
		case strings.HasPrefix(text, "# "):
			flush()
			switch strings.TrimPrefix(text, "# ") {
			case "Method":
				into = &t.Method
			case "Where it holds":
				into = &t.Holds
			case "Where it misleads":
				into = &t.Misleads
			case "Sources disagree":
				into = &t.Disagree
			case "Sources":
				into = &t.Sources
			default:
				into = &t.Lead
			}
		case text == "":
			flush()
		case strings.HasPrefix(text, "- "):
			flush()
			para = strings.TrimPrefix(text, "- ")
		case para == "":
			para = text
		default:
			para += " " + text
		}
	}
	flush()
	return t
}
