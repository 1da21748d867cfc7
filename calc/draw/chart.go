package draw

// Chart is a plot of one or more curves over one axis, in plain numbers of the
// units named on the axes.
type Chart struct {
	Title  string
	Says   string // the picture in words: what a reader would see
	X, Y   Axis
	Right  Axis // of the series that ask for it; nothing is drawn without one
	Series []Series
	Marks  []Mark
}

// Axis has a label and a unit, e.g. "time" and "ms"; From == To lets the data
// decide.
type Axis struct {
	Label, Unit string
	From, To    float64
}

// Series is one curve: its points, its name, and how it is told apart without
// colour.
type Series struct {
	Name   string
	X, Y   []float64
	Dashed bool
	Right  bool // Y is measured on the chart's right axis
}

// Mark is a named point or a level, such as "you are here" or a limit.
type Mark struct {
	X, Y float64
	Name string
	// Level draws a horizontal line at Y, Upright a vertical one at X, neither
	// a dot.
	Level, Upright bool
}
