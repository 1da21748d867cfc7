package search

import "faultleaf/search/speech"

// Document is one note as the index takes it. The caller fills it from a parsed
// note; nothing here is Markdown or HTML.
type Document struct {
	ID      string // folder and name, "faults/element-tag-burnt-off"; unique
	Kind    string // device, block, fault, checklist, job, page or calculator
	Title   string
	Address string // of the page, relative to the site, "faults/element-tag-burnt-off.html"

	Device      string    // name of the device the note belongs to, "fan-heater"; empty if none
	DeviceTitle string    // "Fan heater"
	Symptoms    []Symptom // spoken sentences, "The fan turns and the air stays cold"
	Cause       string    // the root part and why it failed
	Text        string    // the note's plain text

	Complaints []Weighted // how strongly the note is about each complaint; without them words alone decide
	Names      []Weighted // what else a device, a list or a page is asked for by
	Unlike     []string   // names that hold one of its own and mean something else
	Shut       []string   // names of things that stay shut; the note says why
	Like       string     // the common fault that this note is a case of, "mains-cord#broken"; hits of one fold into one

	FirstTest    string // what to do first, "Resistance across the element's two tags"; never a mend
	FirstMinutes string // its minutes as printed, "2 min"
	Hazard       string // the caution that stands before it, its signal word first

	// Chain are the device's blocks in the order of the wire, a digit each: 0 to 4 how
	// warm they are at rest, 9 the one that the note is about; "" draws none.
	Chain string
}

// Symptom is a spoken sentence and the complaints that it is.
type Symptom struct {
	Says string
	Is   []Weighted
}

// Weighted names a thing and says how well it fits, above 0 and at most 1.
type Weighted = speech.Weighted

// Complaint is one thing that an owner may say is wrong.
type Complaint = speech.Complaint

// Speech is how people speak in a shop: the complaints, and the shop's own lines
// of spellings and synonyms (search/words/shop.txt says their form).
type Speech struct {
	Complaints []Complaint
	Words      string
}

// Hit is one answer, ready to be shown.
type Hit struct {
	ID, Kind, Title, Address string
	Device, DeviceTitle      string
	Symptom                  string // the symptom that was asked for; empty if none was
	Snippet                  string // the best stretch of the text; empty if there is a first test, or no text
	FirstTest, FirstMinutes  string
	Hazard                   string
	Chain                    string  // as in Document
	Score                    float64 // comparable within one answer only
	Also                     []Also  // other devices with the same common fault, best first

	// The same three texts cut into pieces, for highlighting. Joining the
	// pieces gives the text again.
	Marks Marks
}

// Also is a hit that was folded into another.
type Also struct{ DeviceTitle, Address string }

// Marks says where the words of the query matched.
type Marks struct {
	Title, Symptom, Snippet []Piece
}

// Piece is a stretch of plain text that matched as a whole or not at all.
type Piece struct {
	Text  string
	Match bool
}

// Options narrow a search.
type Options struct {
	Limit  int    // at most this many hits; 0 means 10
	First  int    // only the first so many of them are given now; 0 means all
	Typing bool   // the last word may be unfinished, unless a space follows it
	Device string // only notes of this device
	Kind   string // only notes of this kind
	Here   string // the device in hand: taken as named where the query names none
}

// Answer is what a search gives.
type Answer struct {
	Hits    []Hit
	Devices []Choice // whose notes were found, most likely first; of one that was named, that one first
	Kinds   []Choice // of the notes found, in the order of their best hits
	Heard   Heard

	Waits   []string // shards to be fetched; nothing else is answered until they are there
	Trouble error    // what could not be read, so that notes may be missing; a sentence
}

// Choice is a way to narrow a search, for Options.Device or Options.Kind.
type Choice struct{ Name, Title string }

// Heard is what was understood of a query.
type Heard struct {
	Device     string       // title of the device that was named, or ""
	Complaints []string     // "does nothing"
	IDs        []string     // of the complaints, "dead"
	Right      []Correction // slips that were put right
	Tried      []string     // what was changed or found good, "changed the fuse": it counts against
	Missing    string       // a thing that was named and that no note is about, "printer"
	Near       *Choice      // the device that comes nearest to it, or nil
	Shut       bool         // a thing was named that stays shut; the first hit says why
	Strange    []string     // words that stand in no note
}

// Correction is a word as typed and as it was taken.
type Correction struct{ From, To string }
