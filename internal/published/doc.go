// Package published keeps a finished site on disk, so that a reader, a second
// publisher, a full disk or a power cut never leaves half of one.
//
// The folder holds the site, a list of what was written (published.txt: hash,
// size and path of each file), and a workshop, the hidden folder .faultleaf:
//
//	Begin        takes the lock and puts right what an earlier run left
//	Put          compares a file with what stands there; what differs is
//	             written into the workshop, nowhere else
//	Stands, Keep what is known to be the same is taken over without its content
//	Commit       1. refuses if a file would fall on one that is not ours
//	             2. makes everything safe on the disk, then writes the journal:
//	                from here on the new site is decided
//	             3. moves the files into place: run/ first, then new pages, then
//	                changed ones, then what names the files in run/; removes
//	                what is gone; last the list, by one rename
//	Finish       does step 3 again where a journal was left behind
//
// Until the journal stands nothing of the old site has changed; after it, the
// next publisher or the host completes the new one. What carries another hash
// than the one we wrote belongs to somebody else: it is neither overwritten nor
// removed.
package published

// List is the name of the list of what was written, in the site's folder.
const List = "published.txt"

// Hashed is the folder whose files carry a hash of their content in their name.
// The generation before the present one is kept, for pages that are open.
const Hashed = "run/"

const (
	workshop = ".faultleaf"
	lockFile = workshop + "/lock"
	staging  = workshop + "/next"
	journal  = workshop + "/journal"
)
