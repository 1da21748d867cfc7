package page

import (
	"html/template"

	"faultleaf/calc/draw/looks"
)

// Look is a fault as the eye sees it, beside a sound part.
type Look struct {
	looks.Look
	SoundDrawing, FaultDrawing template.HTML
}

// LookOf is the look of a name, nil where there is none.
func LookOf(name string) *Look {
	l, ok := looks.Find(name)
	if !ok {
		return nil
	}
	return &Look{l, template.HTML(l.SVG(false)), template.HTML(l.SVG(true))}
}
