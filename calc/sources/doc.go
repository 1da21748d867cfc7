// Package sources is the one list of the documents that figures rest on. Each
// document stands on it once, under a short id; a case, a method page and a note
// cite it by that id and never describe it again.
//
// # The list
//
// The files *.txt beside this one hold it by subject, one document a paragraph:
//
//	iec-60335-1
//	name: IEC 60335-1
//	title: Household and similar electrical appliances, safety, part 1
//	year: 2010
//	now: 2020
//	sort: standard
//	status: in force
//	region: world
//	scope: household and similar appliances up to 250 V
//	devices: appliance
//	seen: excerpt
//	at: table 11 as a cord maker reprints it
//
// sort is standard, law, guide (of a trade body), maker (data sheet, manual or
// note), handbook, paper, data, course, page, or one of the four that are no
// document: own, practice, memory, limit. year is the edition that the figures
// are from, now that in force where it is another and was not seen. status is "in force", "withdrawn" or
// "superseded by ID" and is asked of standards, laws and guides alone. devices
// are the kinds that a verdict by this document may be given on (Kinds), asked
// where the document judges finished devices. seen says how it was read:
// read (the clause or the table itself), excerpt (printed by another word for
// word), summary (told by another), memory.
//
// # Citing
//
// A citation is the id, then the place in the document, then, where this figure
// was seen otherwise than the list says, how, in brackets; a remark follows a
// semicolon:
//
//	source: iec-60335-1 table 11
//	source: iec-61558-1 table 1 (memory)
//	source: din-vde-0701-0702 5.4; superseded, the figure stands in EN 50699
//	source: own V²/R
//
// A document that is no longer in force is cited with that word, "superseded" or
// "withdrawn". In a method page the same stands in square brackets, in a note it
// is a link: [IEC 60335-1, table 11](source:iec-60335-1).
package sources
