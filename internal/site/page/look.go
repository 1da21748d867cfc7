package page

import (
	"html/template"

	"faultleaf/calc/draw/looks"
)

// Look is a fault as the eye sees it, beside a sound part.
type Look struct {
	Title, Sound, Fault        string // as looks.Look says them
	SoundDrawing, FaultDrawing template.HTML
}

// LookOf is the look of a name, nil where there is none.
func LookOf(name string) *Look {
	l, ok := looks.Find(name)
	if !ok {
		return nil
	}
	return &Look{l.Title, l.Sound, l.Fault, template.HTML(l.SVG(false)), template.HTML(l.SVG(true))}
}
