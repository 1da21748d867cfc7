// Package note reads the shop's notes: Markdown with YAML front matter.
//
// Load reads a whole content/ folder. It goes on after a mistake, so that one
// run finds all of them, each with its file, line, column (in characters), one
// sentence and what to do. The steps:
//
//  1. Every file is parsed: front matter by walking its YAML syntax tree, entry
//     by entry where it is broken (yaml.go), the body by goldmark (body.go).
//  2. Each kind of document fills its own type from the front matter
//     (device.go, others.go); unknown and missing keys are found here.
//  3. What one document says of another is checked: ids, links, claims
//     (cross.go, body.go). Every number is computed once and kept beside the
//     text that shows it. What cannot be known because its home is broken is
//     not reported.
//
// A remark has the form of a mistake but hinders nothing.
//
// The formats hold, beyond what the starter shop shows:
//
//   - shown: now-and-then 0.3, or {now-and-then: 0.3}: the chance that a test
//     meets the fault. The other words may carry a chance too.
//   - protective: true on a fault, or {cut-out: protective} among a device's
//     blocks, marks a part that protects. A sheet that says such a part was
//     mended needs its reason.
//   - A nested list among the blocks is one way of a branch; lists next to each
//     other are ways of the same branch.
//   - A reading is "- dark" or "- {dark, healthy: true}" where it is only a
//     word; "above 10 kΩ", "below 3 Ω", "below" (everything under the reading
//     before it), "24–26 Ω", "25 Ω±5%" or a calc: address where it is measured.
//     "above" and "below" may stand before an address; alone it needs an output
//     that is a range.
//   - family: Heat on a device is the heading under which the start page lists it.
//   - class: II on a device is its protection against shock (I, II or III): it
//     says what must read good before a live test. price: 25 is what a new one
//     costs about; the trace offers it for its sum.
//   - judged_as: appliance on a device is what its safety is judged as: appliance, tool,
//     luminaire, it, audio, charger, cord and others of the list of sources. A note
//     on it may then cite no document that gives no verdict on that kind.
//   - [IEC 60335-1, table 11](source:iec-60335-1) cites a document on the list of
//     sources. Where it is withdrawn or superseded, or was not seen, the paragraph says so.
//   - content/blocks/NAME.md is a common block (calc/blocks): title, says, carries, work,
//     ohms, separates, source, protective, forbidden, options, reach, words, example,
//     tests and faults; the section "## FAULT" of its body is that fault's text. Among a
//     device's blocks {cord: mains-cord}, or {cord: {is: mains-cord, reach: heel-off,
//     says: ..., words: {...}, plate: {...}, has: [...], without: [...], seen: 9, ways: 2}},
//     stands for it; {base: {carries: current, ohms: through, work: heat}} is one of the
//     device's own. words: on the device fills {slots}; tests: and faults: refine what
//     the blocks bring ("no" leaves out); spans, sees, measures: ohms and finds say what
//     common faults make of an own test, does and complaints what an own fault does.
//   - What a drawing of the chain needs, each left out of it where no note says: symbol:
//     heating (calc/draw/circuit lists them) and short: elem on a block, of a device or of
//     content/blocks; source: mains or battery, separates: true (another circuit begins
//     behind it) and outside: true (no current passes it) on a block of a device's own.
//     probes: [switch-in, switch-out] on a test names the two points of the meter, the red
//     probe first: each block has BLOCK-in, BLOCK-out and BLOCK-return (a block's own note says in,
//     out and return), the plug line, neutral and earth, and there is metal. points:
//     {hot-tag: {says: the element's upper tag, before: element}} on a device names others
//     (before, behind, return: BLOCK, or at: line ...), and {switch-in: its brown tab}
//     gives one of these words. apart: base on a test is the block behind which the
//     chain is taken apart for it. hides: [cord, base] on an access are the blocks that it brings
//     to light; where the chain says reach: they follow from that.
//   - like: cord-broken on a fault says only what differs from that common fault; its
//     file's name is the fault's id, its body, if it has one, stands for the block's.
//   - was: {look-sole: waterway-look, press.no-heat: run.nothing} on a device lists what
//     its faults, tests, symptoms and readings were called, for sheets and links.
//   - forbidden: "why" on an access or a mend is work this shop does not do;
//     gone: true on a part says that it is not to be had any more. The trace
//     stops there and says so.
//   - forbids: "why" beside a reading, as in {dc-at-a-pair: above 1 V, forbids: DC
//     at the terminals}, says that after it nothing is powered and no mend is
//     guessed but of faults that state this reading, until a mend has made it
//     healthy.
//   - reads: {switch-ohms: [open, burnt], cord-ohms: {open: 0.7, unsteady: 0.3}} on
//     a fault are several readings that it may give on a test, in equal shares or
//     with the chance of each; the chances add up to 1.
//   - mend: none with why: "..." says that the thing is past mending, and why.
//   - with: [insulation-tester] on a test are instruments that it needs besides a
//     plain meter. instruments: in shop.yaml lists those of the bench, each a name
//     or, of a meter, {meter: {over: 20 MΩ, beeps: 30 Ω}}: the resistance above
//     which it may show OL (the end of its lowest range, where ranges are chosen by
//     hand) and that below which it may beep. “meter” is the one that a test takes
//     which names none. Without the list everything is there, and no limit is known.
//   - measure_first: false in shop.yaml lets a part be fitted before a reading on
//     it was abnormal, where such a test would cost less than the mend.
//   - share: 3 on a block, as in {switch: {share: 3, protective: true}}, weighs its
//     faults that no note describes against those of the other blocks, which count 1.
//   - power: off, low-voltage (at most 25 V AC or 60 V DC, isolated from the mains),
//     series-lamp (the mains through a lamp), isolated or mains. The old word
//     limited is read as series-lamp, the stricter, with a remark.
//   - after: [load-ohms] on a test lists tests that must have read healthy
//     before it, as before a good part is swapped in that a short would kill.
//   - waits_count: 0.25 in shop.yaml is what an unattended minute counts.
//   - A symptom is a sentence or {says: SENTENCE, is: COMPLAINTS}: an id of
//     content/complaints.yaml, a list of ids, or a map of ids with weights; in a
//     list each item may be a name or {name: weight}; is: none says that it is a
//     circumstance and no complaint.
//   - also: [jug kettle, {urn: 0.8}] on a device are further names that mean it, of
//     weight 0.5 to 1; near: [steriliser, {soup maker: 0.3}] are names of things like
//     it, below 0.5; unlike: [kettle drum] are names that hold its own and mean
//     something else. One device only may claim a name with the whole weight.
//   - hazards: on a page stand above it, as on a checklist.
//   - also: on a checklist or a page are names by which it is asked for; is: on a
//     checklist are the complaints that it helps with.
//   - content/words.txt adds spellings and synonyms to search/words/shop.txt, in the
//     same form.
//   - shut: [microwave oven] on a page are names of things that stay shut in this
//     shop; whoever asks for one is led to the page first.
//   - minutes: 10 on a checklist is about how long it takes.
//   - meter: 0.02 on a test is its meter's error as a fraction of the reading;
//     proves: bond or proves: insulation says what a good reading proves.
//   - proofs: {I: [visual, bond, insulation or leakage, function]} in shop.yaml
//     says what a mended device of a class must show (I, II, III, none); a class
//     that is not named keeps the common list, trace.CommonNeeds. proofs:
//     [polarity] on a device adds to its class. On a sheet proofs: holds what was
//     shown: {proof: bond, value: 0.12 Ω, pass: ok} or {proof: bond, why: "..."}.
//   - code: 2025-03-04-kb7 on a sheet is the job's, with which its file's name
//     begins; type: is what the rating label says, by: who did it, told: what the
//     owner was told. A sheet with a code or with proofs is mended only by them.
//   - A sheet with a name, telephone number or e-mail address of an owner is
//     refused.
package note
