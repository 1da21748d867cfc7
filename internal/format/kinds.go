package format

import (
	"faultleaf/calc/blocks"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/draw/looks"
	"faultleaf/calc/sources"
	"faultleaf/calc/trace"
)

// Keys that notes of several kinds have.
var (
	title     = &Key{Name: "title", Value: text, Called: "the title", Need: "write title: and what the note is called", Help: "What the note is called.", Example: "Cord broken at the entry"}
	draft     = &Key{Name: "draft", Value: flag, Since: 2, Help: "true while something is still to be filled in: the note is shown as a draft, and neither the trace nor a count uses it.", Example: "true"}
	checkedBy = &Key{Name: "checked_by", Value: list(text), Since: 2, Called: "who checked it", Help: "Initials or trade names of those who read the note and found it right; without it the page says that nobody has.", Example: "[kb, tm]"}
	formerly  = &Key{Name: "was", Value: list(name), Since: 2, Called: "what the note was called", Help: "Names that the note had before: links, sheets and stickers with an old name go on to lead here.", Example: "[cord-loose]"}
	hazards   = &Key{Name: "hazards", Value: list(text), Called: "a hazard", Help: "What can hurt, shown above the text.", Example: "[Stored charge, Hot for half an hour]"}
	asked     = &Key{Name: "also", Value: weighted(.5, 1), Called: "a name", Help: "Other names by which it is asked for.", Example: "[earth test]"}
)

// Part is one part of a mend or of a sheet.
var Part = Keys{
	{Name: "part", Value: text, Called: "the part", Need: "name the part", Help: "Its name in the drawer.", Example: "tag-6.3"},
	{Name: "count", Value: number(0, 1e6), Called: "the count", Help: "How many; 1 without a word.", Example: "2"},
	{Name: "price", Value: number(0, 1e6), Called: "the price", Help: "Of one.", Example: "0.80"},
	{Name: "gone", Value: flag, Help: "true where it is not sold any more: the trace stops there and says so.", Example: "true"},
}

// Mend is how a fault is mended.
var Mend = Keys{
	{Name: "does", Value: text, Need: "say what is done", Help: "What is done.", Example: "Cut back and crimp a new tag"},
	{Name: "minutes", Value: number(0, 6000), Need: "say how long it takes", Help: "How long it takes, without opening.", Example: "25"},
	{Name: "needs", Value: list(text), Called: "the access", Help: "What has to be opened: ids under the device's access:.", Example: "[grille-off]"},
	{Name: "succeeds", Value: number(.01, 1), Help: "How often it is mended after it; .9 without a word.", Example: "0.95"},
	{Name: "forbidden", Value: text, Called: "why it is forbidden", Help: "Why this shop does not do it.", Example: "gas work is for licensed people"},
	{Name: "parts", Value: list(group(Part)), Help: "Parts that it takes.", Example: "[{part: tag-6.3, count: 1, price: 0.80}]"},
}

// Access is one way into a device.
var Access = Keys{
	{Name: "does", Value: text, Need: "say what is done, like Take the rear grille off", Help: "What is done.", Example: "Take the rear grille off"},
	{Name: "minutes", Value: number(0, 600), Need: "say how long it takes", Help: "How long opening takes.", Example: "6"},
	{Name: "undo", Value: number(0, 600), Help: "How long closing takes.", Example: "4"},
	{Name: "steps", Value: list(text), Since: 2, Called: "the step", Help: "The same step by step, with the hidden screws and catches of the kind: a checklist.", Example: "[Feet off, Two screws below them]"},
	{Name: "inside", Value: text, Help: "The access that has to be open before.", Example: "grille-off"},
	{Name: "hides", Value: list(text), Since: 2, Called: "the block", Help: "The blocks that it brings to light; on a chain of common blocks they follow from reach.", Example: "[cord, switch]"},
	{Name: "forbidden", Value: text, Called: "why it is forbidden", Help: "Why this shop does not do it.", Example: "the glass is glued and breaks"},
}

// Harms is what a test may cost besides its minutes.
var Harms = Keys{
	{Name: "chance", Value: number(0, 1), Called: "the chance of harm", Need: "say how likely the harm is, between 0 and 1", Help: "How likely it is.", Example: "0.01"},
	{Name: "cost", Value: number(0, 1e6), Called: "the cost of harm", Need: "say what the harm would cost", Help: "What it would cost.", Example: "5"},
}

// Reading is what stands beside the name of a reading and its span.
var Reading = Keys{
	{Name: "healthy", Value: flag, Help: "true on the one reading of a good one.", Example: "true"},
	{Name: "forbids", Value: text, Called: "why it forbids", Help: "After this reading nothing is powered until a mend has made it healthy; the words say why.", Example: "the case would be live"},
}

// Test is one test of a device.
var Test = Keys{
	{Name: "ask", Value: text, Need: "say what to measure or look at, and where", Help: "What to measure or look at, and where.", Example: "Resistance across the element's two tags"},
	{Name: "covers", Value: list(text), Called: "the block", Need: "list the blocks that it tells about, like [cord, switch]", Unless: "spans", Help: "The blocks that it tells about.", Example: "[element]"},
	{Name: "spans", Value: list(text), In: OfBlocks, Help: "Instead of covers: loop, or a list of the device's blocks.", Example: "[cord, switch]"},
	{Name: "measures", Value: word("ohms"), In: OfBlocks, Help: "ohms: what each block reads follows from the chain.", Example: "ohms"},
	{Name: "sees", Value: named(either(list(text), named(number(.001, 1)))), In: OfBlocks, Help: "What each effect of a fault reads on this test.", Example: "{open: dark}"},
	{Name: "finds", Value: named(either(list(text), named(number(.001, 1)))), In: OfBlocks, Help: "What common faults read on this test of the device's own.", Example: "{switch-burnt: dark}"},
	{Name: "needs", Value: list(text), Called: "the access", Help: "What has to be opened: ids under access:.", Example: "[grille-off]"},
	{Name: "with", Value: list(name), Called: "the instrument", Help: "Instruments that it needs besides a plain meter.", Example: "[insulation-tester]"},
	{Name: "power", Value: word("off", "low-voltage", "series-lamp", "isolated", "mains", "limited"), Need: "write off, low-voltage, series-lamp, isolated or mains", Unless: "blocks", Help: "How it is powered meanwhile. low-voltage is at most 25 V AC or 60 V DC, isolated from the mains; series-lamp is the mains through a lamp; limited is an old word for it.", Example: "off"},
	{Name: "minutes", Value: number(0, 600), Need: "say how long it takes", Unless: "blocks", Help: "How long it takes.", Example: "2"},
	{Name: "waits", Value: number(0, 10000), Help: "Minutes that pass unattended.", Example: "10"},
	{Name: "harms", Value: group(Harms), Help: "What it may spoil.", Example: "{chance: 0.01, cost: 5}"},
	{Name: "while", Value: list(word("warm", "moved", "loaded")), Help: "How the thing is held meanwhile: warm, moved, loaded.", Example: "[moved]"},
	{Name: "trust", Value: number(.5, 1), Help: "How often it reads true; .95 without a word.", Example: "0.9"},
	{Name: "meter", Value: number(0, .5), Called: "the meter's error", Help: "The meter's error as a fraction of the reading.", Example: "0.02"},
	{Name: "proves", Value: word("bond", "insulation"), Help: "What a good reading proves.", Example: "bond"},
	{Name: "after", Value: list(text), Called: "the test before", Help: "Tests that must have read healthy before.", Example: "[earth-bond]"},
	{Name: "probes", Value: list(text), Since: 2, Called: "the point", Help: "The two points of the meter, the red probe first: BLOCK-in, BLOCK-out, BLOCK-return, line, neutral, earth, metal, or one under points:.", Example: "[element-in, element-out]"},
	{Name: "apart", Value: text, Since: 2, Called: "the block", Help: "The block behind which the chain is taken apart for it.", Example: "base"},
	{Name: "by_eye", Value: flag, Since: 2, Help: "true where it is answered by looking: its answers stand beside the looks of the faults that show there.", Example: "true"},
	{Name: "caution", Value: text, Called: "the caution", Help: "What keeps the repairer safe; a live test must have one.", Example: `"Unplug, and let it cool"`},
	{Name: "reads", Value: list(either(name, open(Reading, text))), Need: "list what it may read, highest first, one of them healthy", Unless: "measures", Help: "What it may read, highest first, exactly one healthy.", Example: "[{open: above 10 kΩ}, {whole: 20 Ω to 30 Ω, healthy: true}, {low: below}]"},
}

// Symptom is a symptom with the complaints that it is.
var Symptom = Keys{
	{Name: "says", Value: text, Need: "write what an owner says, like It hums", Help: "What an owner says.", Example: "It hums"},
	{Name: "is", Value: weighted(.05, 1), Called: "a complaint", Help: "Which complaints it is: ids of content/complaints.yaml, or none for a circumstance.", Example: "no-heat"},
}

// Seen is what a publication says of how often a fault is met.
var Seen = Keys{
	{Name: "share", Value: number(0, 1), Since: 2, Called: "the share", Help: "Its share of the faults of this device in a publication.", Example: "0.59"},
}

var seen = either(number(0, 1000), group(Seen))

// often is how often a fault shows a symptom.
var often = word(words(trace.Oftens())...)

// reads are the readings that a fault gives on each test.
var reads = named(either(list(text), named(number(.001, 1))))

// Entry is what a device says of a block in its chain.
var Entry = Keys{
	{Name: "is", Value: text, In: OfBlocks, Help: "The block note.", Example: "mains-cord"},
	{Name: "says", Value: text, In: OfBlocks, Help: "What it is called here.", Example: "steam switch"},
	{Name: "reach", Value: either(list(text), named(list(text))), In: OfBlocks, Help: "The access by which it is reached.", Example: "case-open"},
	{Name: "words", Value: named(text), In: OfBlocks, Help: "Words for the slots of the block note's texts.", Example: "{part: cord-3x1.0}"},
	{Name: "plate", Value: named(text), In: OfBlocks, Help: "Lines of the rating plate that differ for this block.", Example: "{power: 1 kW}"},
	{Name: "has", Value: list(text), In: OfBlocks, Help: "Options of the block note that it has.", Example: "[fuse]"},
	{Name: "without", Value: list(text), In: OfBlocks, Help: "Tests and faults of the block note that it has not.", Example: "[look-ends]"},
	{Name: "seen", Value: seen, In: OfBlocks, Help: "Cases known, shared among its faults, or their share in a publication.", Example: "5"},
	{Name: "ways", Value: number(1, 100), In: OfBlocks, Help: "How many alike ways lie side by side.", Example: "2"},
	{Name: "short", Value: text, Since: 2, Called: "the short name of the block", Help: "Its name in a drawing, where the long one has no room.", Example: "elem"},
	{Name: "symbol", Value: word(circuit.Symbols()...), Since: 2, Called: "the symbol of a block", Help: "How it is drawn.", Example: "heating"},
	{Name: "outside", Value: flag, Since: 2, Help: "No current passes it.", Example: "true"},
	{Name: "carries", Value: word("current", "motion", "air", "water"), In: OfBlocks, Help: "What passes through a block of the device's own.", Example: "current"},
	{Name: "work", Value: word(blocks.Works()...), In: OfBlocks, Help: "What energy becomes there.", Example: "heat"},
	{Name: "ohms", Value: text, In: OfBlocks, Help: "What a meter sees through it: through, unseen, a range, or the address of a computed one.", Example: "through"},
	{Name: "separates", Value: flag, Help: "Another circuit lies behind it.", Example: "true"},
	{Name: "source", Value: word("true", "false", "mains", "battery"), Called: "what comes in at a block", Help: "The chain begins with it.", Example: "true"},
	{Name: "protective", Value: flag, Help: "It protects, so that every fault of it is one of a protective part.", Example: "true"},
	{Name: "share", Value: number(.01, 100), Called: "the share of the block", Help: "Weighs its faults that no note describes against those of the other blocks, which count 1.", Example: "3"},
}

// chain is a list of blocks; lists in it are ways of a branch, and may hold
// branches of their own.
var chain = func() Value {
	entry := either(name, named(either(text, group(Entry))))
	row := list(entry)
	const deepest = 6 // lists in each other; nobody has a branch in the fourth
	for range deepest {
		row = list(either(entry, row))
		row.Loose = true
	}
	row.Loose = false
	row.Short = "a list of blocks, each a plain name, a name with its block note or a group; a list inside it is one way of a branch"
	return row
}()

// NoLook is the word for a fault that is found by eye and that no drawing tells.
const NoLook = "none"

// Fault is a fault note.
var Fault = Keys{
	title,
	{Name: "device", Value: text, Called: "the device", Need: "name the device's note, like fan-heater", Help: "The device's note.", Example: "fan-heater"},
	{Name: "like", Value: text, In: OfBlocks, Help: "The common fault from which this one differs; then only the differences are written.", Example: "cord-broken"},
	{Name: "block", Value: text, Called: "the block", Need: "name the part of the device's chain that fails", Unless: "like", Help: "The part of the device's chain that fails.", Example: "element"},
	{Name: "cause", Value: text, Called: "the cause", Need: "say which part failed, and how", Unless: "like", Help: "Which part failed, and how.", Begin: trace.BegunCause, Example: "crimped tag between element and cut-out"},
	{Name: "does", Value: word(blocks.Effects()...), In: OfBlocks, Help: "What it does to the energy that should pass.", Example: "open"},
	{Name: "complaints", Value: named(often), In: OfBlocks, Help: "How often owners say each complaint.", Example: "{no-heat: always}"},
	{Name: "takes", Value: list(text), Called: "what it takes with it", Help: "Parts that it spoils with it.", Example: "[cut-out]"},
	{Name: "seen", Value: seen, Help: "Cases known before the shop's own job sheets, or {share: 0.2}: its share of the faults of this device in a publication.", Example: "4"},
	{Name: "symptoms", Value: named(often), Help: "How often it shows each symptom of the device: always, often, sometimes, rarely, never.", Example: "{air-cold: always}"},
	{Name: "reads", Value: reads, Help: "What it reads on a test: one reading, a list of equals, or readings with chances that add up to 1.", Example: "{element-ohms: open}"},
	{Name: "shown", Value: either(text, named(number(0, 1))), Help: "When it shows: always, warm, moved, loaded, or now-and-then with a chance.", Example: "now-and-then 0.3"},
	{Name: "look", Value: word(append(looks.Names(), NoLook)...), Since: 2, Called: "the look", Help: "How it shows itself to the eye, drawn beside a sound one; none where a drawing tells nothing.", Example: "bulged-can"},
	{Name: "because", Value: list(text), Help: "Why it came to that.", Example: "[loose crimp, inlet blocked]"},
	{Name: "protective", Value: flag, Help: "The part protects: a sheet that says it was mended needs its reason.", Example: "true"},
	{Name: "mend", Value: refines(either(word("none"), group(Mend))), Called: "the mend", Begin: "{does: " + trace.BegunMend + ", minutes: 20}", Need: "say what is done, how long it takes, what it needs", Unless: "like", Help: "How it is mended, or none.", Example: "{does: Crimp a new tag, minutes: 25, needs: [grille-off], succeeds: 0.95}"},
	{Name: "why", Value: text, Called: "why there is no mend", Help: "Beside mend: none, why it is past mending.", Example: "the winding is cast in"},
	draft, checkedBy, formerly,
}

// Point is a place for a probe.
var Point = func() Keys {
	out := Keys{{Name: "says", Value: text, Need: "say in words where the probe goes", Help: "In words where the probe goes.", Example: "the element's upper tag"}}
	beside, alone := trace.Sides()
	for _, side := range beside {
		out = append(out, &Key{Name: string(side), Value: text, Since: 2, Called: "the block", Help: "The block that it lies " + string(side) + " of.", Example: "element"})
	}
	return append(out, &Key{Name: "at", Value: word(words(alone)...), Since: 2, Called: "where a point lies", Help: "Where it lies, if beside no block.", Example: "metal"})
}()

// Device is a device note.
var Device = Keys{
	title,
	{Name: "short", Value: text, Called: "the short name", Help: "As texts name it, where the title is long.", Example: "heater"},
	{Name: "family", Value: text, Called: "the family", Help: "The heading under which the start page lists it.", Example: "Heat"},
	{Name: "also", Value: weighted(.5, 1), Called: "a name", Help: "Further names that mean it, each with a weight from 0.5 to 1.", Example: "[blow heater, {heater: 0.7}]"},
	{Name: "near", Value: weighted(.05, .49), Called: "a name near it", Help: "Names of things like it, each with a weight below 0.5.", Example: "[convector, {greenhouse heater: 0.3}]"},
	{Name: "unlike", Value: list(text), Called: "a name that it does not have", Help: "Names that hold its own and mean something else.", Example: "[fan heater toy]"},
	{Name: "class", Value: word("I", "II", "III"), Called: "the class of protection", Help: "Its protection against shock; it says what must read good before a live test.", Example: "II"},
	{Name: "judged_as", Value: word(sources.Kinds...), Called: "the kind it is judged as", Help: "What its safety is judged as.", Example: "appliance"},
	{Name: "proofs", Value: list(word(words(trace.ProofKinds())...)), Called: "a proof", Help: "Proofs that it must show besides those of its class.", Example: "[polarity]"},
	{Name: "price", Value: number(0, 1e6), Called: "the price of a new one", Help: "What a new one costs about.", Example: "30"},
	{Name: "plate", Value: named(text), Called: "the plate", Help: "Its rating plate; plate.power in an address stands for the line power.", Example: "{mains: 230 V, power: 2 kW}"},
	{Name: "words", Value: named(text), In: OfBlocks, Help: "Words for the slots of the block notes' texts.", Example: "{on: switched on}"},
	{Name: "blocks", Value: chain, Begin: "[plug, cord, switch, work]", Called: "the blocks", Need: "list the parts in the order the energy goes, like [plug, cord, switch, element]", Help: "The parts in the order the energy goes. A list inside is one way of a branch; {cut-out: protective} protects; {cord: mains-cord} is a common block.", Example: "[plug, cord, {cut-out: protective}, element]"},
	{Name: "symptoms", Value: named(either(text, group(Symptom))), Begin: "{dead: " + BegunSymptom + "}", Called: "the symptoms", Need: "name what an owner sees or hears, like {dead: Nothing happens}", Unless: "blocks", Help: "What an owner sees or hears: a sentence, or {says, is}.", Example: "{air-cold: {says: It blows cold, is: no-heat}}"},
	{Name: "access", Value: named(group(Access)), Help: "Ways into it.", Example: "{grille-off: {does: Take the rear grille off, minutes: 6, undo: 4}}"},
	{Name: "points", Value: named(either(text, group(Point))), Since: 2, Called: "the points", Help: "Places for a probe: words for one that every device has, or words and a place.", Example: "{hot-tag: {says: the element's upper tag, before: element}}"},
	{Name: "tests", Value: refines(named(group(Test))), Called: "the tests", Help: "What can be measured or looked at."},
	{Name: "faults", Value: refines(named(group(Fault.except([]string{"device", "like", "title", "draft", "checked_by", "was"}, title)))), In: OfBlocks, Help: "What differs from common faults; no leaves one out.", Example: "{cord-broken: {seen: 6}, plug-loose: no}"},
	{Name: "good", Value: named(text), Help: "What a healthy one of the shop read on each test.", Example: "{element-ohms: 25.9 Ω}"},
	{Name: "was", Value: either(list(name), worded(text)), Help: "Names that the note had before, in a list; of a device made of common blocks also a group {old: new} of its faults, tests, symptoms and readings.", Example: "{tag-look: element-look}"},
	draft, checkedBy,
}

// alone is why a block note names no other block.
const alone = "a block note is one block and holds no others"

// Block is a block note.
var Block = Keys{
	{Name: "blocks", Refused: alone, Need: "list blocks in a device's note"},
	{Name: "is", Refused: alone, Need: "list blocks in a device's note"},
	{Name: "like", Refused: alone, Need: "list blocks in a device's note"},
	title,
	{Name: "says", Value: text, Help: "What it is called where a device says nothing else.", Example: "cord"},
	{Name: "carries", Value: word("current", "motion", "air", "water"), Help: "What passes through it.", Example: "current"},
	{Name: "work", Value: word(blocks.Works()...), Help: "What energy becomes in it.", Example: "heat"},
	{Name: "ohms", Value: text, Help: "What a meter sees through it: through, unseen, a range, or the address of a computed one.", Example: "through"},
	{Name: "separates", Value: flag, Help: "Another circuit lies behind it.", Example: "true"},
	{Name: "source", Value: word("true", "false", "mains", "battery"), Help: "A chain begins with it.", Example: "mains"},
	{Name: "protective", Value: flag, Help: "It protects.", Example: "true"},
	{Name: "forbidden", Value: text, Help: "Why it is not for the shop.", Example: "it stays shut here"},
	{Name: "options", Value: list(name), Help: "What one may have and another not.", Example: "[fuse]"},
	{Name: "reach", Value: named(text), Help: "Places that tests and mends need to reach, each in words.", Example: "{inside: where the cores end inside}"},
	{Name: "words", Value: named(either(text, worded(text))), Help: "Words for the slots of its texts where a device gives none; a group gives one for each class or option.", Example: "{entry: where it enters}"},
	{Name: "example", Value: named(text), Help: "The rating plate of the example on its page.", Example: "{mains: 230 V, power: 2 kW}"},
	{Name: "short", Value: text, Since: 2, Help: "Its name in a drawing, where the long one has no room.", Example: "elem"},
	{Name: "symbol", Value: word(circuit.Symbols()...), Since: 2, Help: "How it is drawn.", Example: "heating"},
	{Name: "points", Value: named(text), Since: 2, Help: "Words for its points in, out and return.", Example: "{in: the brown tab}"},
	{Name: "tests", Value: named(group(BlockTest)), Help: "What can be asked of it.", Example: "{ohms: {spans: before, needs: [inside], ask: Each core from pin to end, reads: [{open: above 10 kΩ}, {through: below 1 Ω, healthy: true}]}}"},
	{Name: "faults", Value: named(group(BlockFault)), Help: "How it fails.", Example: "{broken: {title: Cord broken, cause: conductor of the cord, does: open, mend: {does: Cut back, minutes: 15}}}"},
	draft, checkedBy, formerly,
}

var only = &Key{Name: "only", Value: text, Help: "Only with this class, work or option: class-I, heat, fuse.", Example: "class-I"}

// BlockTest is a test of a block note.
var BlockTest = Test.except([]string{"finds", "covers"}, only,
	&Key{Name: "covers", Refused: "what a block's test covers follows from spans", Need: "take covers out and write spans: this, before, behind or loop"})

// BlockFault is a fault of a block note: all but what only a device knows.
var BlockFault = Fault.except([]string{"device", "block", "like", "draft", "checked_by", "was", "symptoms"}, only,
	&Key{Name: "symptoms", Refused: "a block's fault knows no device's symptoms", Need: "write complaints: with words of the list of complaints"})

// Checklist is a checklist.
var Checklist = Keys{
	title,
	{Name: "when", Value: text, Help: "When it is gone through.", Example: "Before any case is opened"},
	hazards,
	{Name: "minutes", Value: number(.5, 600), Help: "About how long it takes.", Example: "10"},
	asked,
	{Name: "is", Value: weighted(.05, 1), Called: "a complaint", Help: "Complaints that it helps with.", Example: "[tingles]"},
	draft, checkedBy, formerly,
}

// Page is any other page.
var Page = Keys{
	title,
	hazards,
	asked,
	{Name: "shut", Value: list(text), Called: "a thing that stays shut", Help: "Things that this shop does not open; whoever asks for one is led here.", Example: "[microwave oven]"},
	draft, checkedBy, formerly,
}

// Taken is a reading on a job sheet.
var Taken = Keys{
	{Name: "test", Value: text, Called: "the test", Need: "name the test", Help: "The test.", Example: "element-ohms"},
	{Name: "value", Value: text, Called: "the value", Need: "write what it read", Help: "What it read.", Example: "25.9 Ω"},
	{Name: "minutes", Value: number(0, 6000), Help: "How long it took.", Example: "4"},
}

// Proof is a proof on a job sheet.
var Proof = Keys{
	{Name: "proof", Value: word(words(trace.ProofKinds())...), Called: "the proof", Need: "name it, like bond or insulation", Help: "Which.", Example: "bond"},
	{Name: "value", Value: text, Called: "the value", Help: "What the tester showed.", Example: "0.12 Ω"},
	{Name: "limit", Value: text, Called: "the limit", Help: "What it was held against.", Example: "0.3 Ω"},
	{Name: "pass", Value: word(trace.PassOK, trace.PassFails), Help: "How it ended.", Example: "ok"},
	{Name: "why", Value: text, Help: "Why it was not taken.", Example: "no metal can be touched"},
}

// Job is a job sheet.
var Job = Keys{
	{Name: "device", Value: text, Called: "the device", Need: "name the device's note, like fan-heater", Help: "The device's note.", Example: "fan-heater"},
	{Name: "date", Value: text, Called: "the date", Need: "write the day, like 2025-03-04", Help: "The day, year first.", Example: "2025-03-04"},
	{Name: "code", Value: name, Called: "the code", Help: "The job's code, with which the file's name begins.", Example: "2025-03-04-kb7"},
	{Name: "type", Value: text, Help: "What the rating label says.", Example: "FH-20"},
	{Name: "by", Value: text, Help: "Who did it, in short.", Example: "kb"},
	{Name: "told", Value: text, Help: "What the owner was told.", Example: "keep the inlet free"},
	{Name: "owner_says", Value: text, Help: "What the owner said, without a name or a number.", Example: "It blows cold"},
	{Name: "before", Value: text, Help: "What was done to it before.", Example: "new fuse last year"},
	{Name: "tried", Value: text, Help: "What the owner tried.", Example: "another outlet"},
	{Name: "limit", Value: text, Help: "What it may cost.", Example: "20"},
	{Name: "reproduced", Value: text, Help: "Whether it showed at the bench.", Example: "yes, at once"},
	{Name: "symptoms", Value: list(text), Called: "the symptom", Help: "Symptoms of the device.", Example: "[air-cold]"},
	{Name: "readings", Value: list(group(Taken)), Help: "What was read.", Example: "[{test: element-ohms, value: 2 MΩ, minutes: 4}]"},
	{Name: "cause", Value: text, Called: "the cause", Begin: "unknown", Need: "name the fault's note, or write unknown", Help: "The fault note that it was, or unknown.", Example: "element-tag-burnt-off"},
	{Name: "reason", Value: text, Help: "Why it failed; a protective part needs one.", Example: "loose crimp"},
	{Name: "parts", Value: list(group(Part)), Help: "Parts that it took.", Example: "[{part: tag-6.3, count: 1, price: 0.80}]"},
	{Name: "proofs", Value: list(group(Proof)), Help: "What was shown before it went back.", Example: "[{proof: bond, value: 0.12 Ω, pass: ok}]"},
	{Name: "minutes", Value: number(0, 1e5), Help: "All minutes.", Example: "40"},
	{Name: "money", Value: number(0, 1e7), Help: "What it cost.", Example: "16.80"},
	{Name: "soak", Value: number(0, 1e4), Called: "the minutes of the loaded soak", Help: "Minutes under full load, watched.", Example: "30"},
	{Name: "outcome", Value: word("mended", "given-up", "replaced", "came-back"), Called: "the outcome", Begin: "given-up", Need: "write mended, given-up, replaced or came-back", Help: "How it ended.", Example: "mended"},
	draft,
}

// PowerMinutes is how long each way of powering takes to set up.
var PowerMinutes = func() Keys {
	out := Keys{{Name: "limited", Value: number(0, 600), Called: "the minutes for limited", Help: "As written before low-voltage and series-lamp were parted.", Example: "3"}}
	for _, p := range trace.Powers() {
		out = append(out, &Key{Name: string(p), Value: number(0, 600), Called: "the minutes for " + string(p), Help: "Minutes to set it up.", Example: "3"})
	}
	return out
}()

// Meter is what is known of an instrument.
var Meter = Keys{
	{Name: "over", Value: text, Called: "the resistance above which it shows OL", Help: "The resistance above which it may show OL.", Example: "20 MΩ"},
	{Name: "beeps", Value: text, Called: "the resistance below which it beeps", Help: "The resistance below which it may beep.", Example: "30 Ω"},
}

// Needs are the proofs that a mended device of each class must show.
var Needs = func() Keys {
	var out Keys
	for _, class := range []string{"I", "II", "III", "none"} {
		out = append(out, &Key{Name: class, Value: list(text), Called: "a proof", Help: "Proofs of a device of this class; “or” parts what stands for one.", Example: "[visual, bond, insulation or leakage, function]"})
	}
	return out
}()

// Shop is the shop's own file.
var Shop = Keys{
	{Name: "format", Value: number(1, 1e9), Since: 2, Called: "the format", Help: "The format that the notes keep to; without it the first.", Example: "2"},
	{Name: "name", Value: text, Called: "the name", Need: "write the shop's name", Help: "The shop's name.", Example: "Tern Street Tool Library"},
	{Name: "id", Value: name, Called: "the id", Need: "write a short name for the shop, like tern-street", Help: "A short name.", Example: "tern-street"},
	{Name: "address", Value: text, Called: "the address", Help: "Where it is.", Example: "The old boat shed, Tern Street"},
	{Name: "mains", Value: text, Need: "write the mains voltage, like 230 V", Help: "The mains voltage between line and neutral; calculators start with it.", Example: "230 V"},
	{Name: "hertz", Value: number(16, 400), Need: "write the mains frequency, 50 or 60", Help: "The mains frequency; calculators start with it.", Example: "50"},
	{Name: "currency", Value: text, Called: "the currency", Need: "write the currency, like €", Help: "The currency of all sums, as it stands behind one.", Example: "EUR"},
	{Name: "rate", Value: number(0, 1e6), Called: "the rate", Need: "write what an hour at the bench costs", Help: "What an hour at the bench costs; it weighs a mend against a new one.", Example: "36"},
	{Name: "units", Value: word("metric", "imperial"), Help: "What results are shown in; imperial is °F, feet and inches.", Example: "metric"},
	{Name: "decimals", Value: word("point", "comma"), Since: 2, Help: "How results are written: 0.5 A or 0,5 A. Both are read.", Example: "point"},
	{Name: "lang", Value: text, Since: 2, Called: "the language", Help: "The language that the notes are written in, as the web names it; without it English.", Example: "en"},
	{Name: "logo", Value: text, Since: 2, Called: "the logo", Help: "A picture in content/images that stands in the corner of every page.", Example: "images/heater.svg"},
	{Name: "footer", Value: text, Since: 2, Called: "the footer", Help: "A sentence at the foot of every page, such as when the shop is open.", Example: "Open on Saturdays from ten to two"},
	{Name: "search_hint", Value: text, Since: 2, Called: "the search hint", Help: "What stands in the empty search box.", Example: "heater blows cold"},
	{Name: "power_minutes", Value: group(PowerMinutes), Help: "Minutes to set up each way of powering.", Example: "{low-voltage: 3, series-lamp: 3, isolated: 6, mains: 5}"},
	{Name: "allow_mains_tests", Value: flag, Help: "Whether this shop tests live.", Example: "false"},
	{Name: "instruments", Value: list(either(name, named(group(Meter)))), Called: "the instrument", Help: "What the bench has; without it everything is there.", Example: "[{meter: {over: 20 MΩ, beeps: 30 Ω}}, insulation-tester]"},
	{Name: "measure_first", Value: flag, Help: "false lets a part be fitted before a reading on it was abnormal, where a test would cost less than the mend.", Example: "true"},
	{Name: "waits_count", Value: number(.01, 1), Called: "what a waiting minute counts", Help: "What an unattended minute counts.", Example: "0.25"},
	{Name: "proofs", Value: group(Needs), Called: "the proofs", Help: "What a mended device of each class must show.", Example: "{I: [visual, bond, insulation or leakage, function]}"},
	{Name: "invented", Value: flag, Since: 2, Help: "true on a shop whose job sheets are made up: its pages say so.", Example: "true"},
	{Name: "touch_current_rule", Value: text, Help: "The rule that decides on leakage and touch current, as the calculator leakage names it; without it the strictest.", Example: "EN 50678 and EN 50699"},
	{Name: "bond_rule", Value: text, Since: 2, Help: "The rule that decides on the earth bond, as the calculator earth-bond names it.", Example: "as-nzs"},
	{Name: "insulation_rule", Value: text, Since: 2, Help: "The rule that decides on insulation, as the calculator insulation names it.", Example: "as-nzs"},
	{Name: "discharge_rule", Value: text, Since: 2, Help: "The rule that decides on the volts left on a pulled plug, as the calculator plug-pins names it.", Example: "household"},
}

// Complaint is one of the vocabulary.
var Complaint = Keys{
	{Name: "says", Value: text, Need: "write it as a page names it, like It hums or buzzes", Help: "As a page names it.", Example: "It hums or buzzes"},
	{Name: "short", Value: text, Help: "As a search says it back.", Example: "hums"},
	{Name: "needs", Value: word("run"), Called: "what a complaint needs", Help: "run: it can be said only while the work goes on.", Example: "run"},
	{Name: "wordings", Value: list(text), Called: "a wording", Help: "As owners write it.", Example: "[humming noise]"},
	{Name: "finds", Value: weighted(.05, 1), Called: "a complaint found too", Help: "Complaints that a question about it finds too.", Example: "{noisy: 0.4}"},
}

// Kinds are the kinds of notes, and the shop's own files.
var Kinds = []*Kind{
	{Name: "fault", Title: "Fault note", File: "content/faults/NAME.md", Says: "One known fault of one device: what it shows, what it reads, how it is mended.", Below: trace.BegunText, Keys: Fault},
	{Name: "device", Title: "Device note", File: "content/devices/NAME.md", Says: "One sort of thing: its chain from plug to work, what owners say of it, how it is opened and tested.", Below: "How the energy goes through it, and what keeps whoever opens it safe.", Keys: Device},
	{Name: "block", Title: "Block note", File: "content/blocks/NAME.md", Says: "A part that many devices have, with its tests and faults; devices name it in their chain.", Below: "What it is; then a section ## FAULT for each of its faults.", Keys: Block},
	{Name: "checklist", Title: "Checklist", File: "content/checklists/NAME.md", Says: "Steps to tick.", Below: "The steps, each in a line that begins with - [ ].", Keys: Checklist},
	{Name: "page", Title: "Page", File: "content/pages/NAME.md", Says: "Anything else that is worth knowing.", Below: "The text.", Keys: Page},
	{Name: "job", Title: "Job sheet", File: "content/jobs/DATE-DEVICE-1.md", Says: "What was found and done once; it votes for its fault.", Below: "Whatever else is worth keeping. No name, telephone number or e-mail address of an owner.", Keys: Job},
	{Name: "shop", Title: "The shop", File: "content/shop.yaml", Says: "What holds for the whole shop.", Keys: Shop},
	{Name: "complaints", Title: "Complaints", File: "content/complaints.yaml", Says: "What owners say: the vocabulary of symptoms.", Keys: Complaint, Each: "the id of a complaint"},
}
