// Package door is how the page scripts ask the Go code: JSON text in, JSON text out; an
// error is {"error": {"input", "says", "means"}}. It knows nothing of what is asked, and but
// for Serve nothing of JavaScript, so the same answers are tested natively.
package door

import (
	"encoding/json"
	"errors"

	"faultleaf/calc"
	"faultleaf/calc/reading"
	"faultleaf/calc/trace"
)

// Device is a page's device, and its rating plate as the page shows it.
type Device struct {
	trace.Device
	Plate map[string]string `json:"plate"`
}

// Done is the answer where nothing is to be told.
const Done = `{"ok":true}`

// Problem is what is wrong with a question.
type Problem struct {
	Input string `json:"input,omitempty"`
	Says  string `json:"says"`
	// Means are the readings one of which was meant, where two fit.
	Means []string `json:"means,omitempty"`
}

// Fail answers with an error.
func Fail(err error) string {
	p := Problem{Says: err.Error()}
	if bad, ok := err.(*calc.InputError); ok {
		p.Input, p.Means = bad.Input, bad.Means
	}
	if two := (*reading.Ambiguous)(nil); errors.As(err, &two) {
		p.Means = two.Means
	}
	return Write(map[string]Problem{"error": p})
}

// Write is an answer as text.
func Write(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return `{"error":{"says":"the answer cannot be written"}}`
	}
	return string(b)
}

// Read turns a question into v; what cannot be read is a slip of our own
// scripts, not of the reader.
func Read(question string, v any) error {
	return json.Unmarshal([]byte(question), v)
}

// Safely runs one answer and turns a slip of ours into a sentence, so that a
// page stays usable.
func Safely(answer func() string) (text string) {
	defer func() {
		if recover() != nil {
			text = `{"error":{"says":"this could not be computed; that is a mistake in faultleaf, please report the inputs"}}`
		}
	}()
	return answer()
}
