package search

// Document is one note as the index takes it. The caller fills it from a parsed
// note; nothing here is Markdown or HTML.
type Document struct {
	ID      string // folder and name, "faults/element-tag-burnt-off"; unique
	Kind    string // device, fault, checklist, job, page or calculator
	Title   string
	Address string // of the page, relative to the site, "faults/element-tag-burnt-off.html"

	Device      string   // name of the device the note belongs to, "fan-heater"; empty if none
	DeviceTitle string   // "Fan heater"
	Symptoms    []string // spoken sentences, "The fan turns and the air stays cold"
	Cause       string   // the root part and why it failed
	Text        string   // the note's plain text

	FirstTest    string // what to do first, "Resistance across the element's two tags"
	FirstMinutes string // its minutes as printed, "2 min"
}

// Hit is one answer, ready to be shown.
type Hit struct {
	ID, Kind, Title, Address string
	Device, DeviceTitle      string
	Symptom                  string // the symptom that matched best; empty if none did
	Snippet                  string // the best stretch of the text; empty if the note has none
	FirstTest, FirstMinutes  string
	Score                    float64 // comparable within one answer only

	// The same three texts cut into pieces, for highlighting. Joining the
	// pieces gives the text again.
	Marks Marks
}

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
	Typing bool   // the last word may be unfinished, unless a space follows it
	Device string // only notes of this device
	Kind   string // only notes of this kind
}
