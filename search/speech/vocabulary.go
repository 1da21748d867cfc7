// Package speech hears what people say of a thing: which thing it is, what they
// complain of, and what they have tried already.
//
// The words of a sentence come with what each may mean (a slip, the beginning of
// a word still being typed); phrases of a vocabulary are found in them, the
// longest first, never across punctuation. Every negation is "not", and small
// words between the words of a phrase do not matter.
package speech

import "faultleaf/search/words"

// Vocabulary is what can be heard. It is kept with an index.
type Vocabulary struct {
	Complaints []Complaint
	Devices    []Device
	Names      []Name
	Words      string // a shop's own lines of spellings and of phrases that mean the same
}

// Complaint is one thing that an owner may say is wrong.
type Complaint struct {
	ID       string
	Short    string // as it is said back: "does nothing"
	Wordings []string
	Finds    []Weighted // complaints that a question about this one finds too
}

// Weighted names a thing and says how well it fits, above 0 and at most 1.
type Weighted struct {
	Name   string
	Weight float64
}

// Device is a device that has notes.
type Device struct{ Name, Title string }

// Name is what a document is asked for by.
type Name struct {
	Text   string
	Of     string  // a device's name, or a document's ID; empty for a thing that no note is about
	Weight float64 // from means on it means a device; less only comes near it
	Kind   Kind
}

// means is the weight from which a name means its device.
const means = 0.5

// Kind is what a name leads to.
type Kind uint8

// The kinds of names.
const (
	OfDevice  Kind = iota
	OfNote         // another document: a list, a page
	OfShut         // a page that says why a thing stays shut
	OfNothing      // a thing that people bring and that no note is about
	OfPart         // what comes near a device and is nothing that people bring by itself: its bulb
)

// Listener hears phrases.
type Listener struct {
	Lexicon *words.Lexicon
	Books
}

// Books are the phrases of a listener. They are kept with an index, so that nothing is
// cut and stemmed again when it is opened.
type Books struct {
	Complaints Book
	Things     Book // devices, shut things and things without a note
	Notes      Book // lists and pages
}

// Book gives the phrases that begin with a stem, the longest first.
type Book interface{ Of(stem string) []Phrase }

// Phrase is one that is listened for.
type Phrase struct {
	Stems []string
	Means []int // indices into the complaints or the names
}
