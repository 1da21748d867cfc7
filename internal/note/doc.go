// Package note reads the shop's notes: Markdown with YAML front matter.
//
// Load reads a whole content/ folder. It goes on after a mistake, so that one
// run finds all of them, each with its file, line, column (in characters), one
// sentence and what to do. The steps:
//
//  1. Every file is read as text and parted (file.go) and parsed: front matter by
//     walking its YAML syntax tree, entry by entry where it is broken (yaml.go),
//     the body by goldmark (body.go).
//  2. Each kind of document fills its own type from the front matter
//     (device.go, tests.go, jobs.go, others.go). Which keys there are, what they hold and what is
//     done where one is missing stands in the tables of internal/format: a
//     reader names the key and no more (keys.go for what a group has, scalar.go
//     for what a value is).
//  3. What one document says of another is checked: ids, links, claims
//     (cross.go, body.go, claims.go). Every number is computed once and kept beside the
//     text that shows it. What cannot be known because its home is broken is
//     not reported.
//
// A remark has the form of a mistake but hinders nothing.
//
// What the tables cannot say in a sentence:
//
//   - A nested list among the blocks is one way of a branch; lists next to each
//     other are ways of the same branch.
//   - A reading is "- dark" or "- {dark, healthy: true}" where it is only a
//     word; "above 10 kΩ", "below 3 Ω", "below" (everything under the reading
//     before it), "24–26 Ω", "25 Ω±5%" or a calc: address where it is measured.
//     "above" and "below" may stand before an address; alone it needs an output
//     that is a range.
//   - [IEC 60335-1, table 11](source:iec-60335-1) cites a document on the list of
//     sources. Where it is withdrawn or superseded, or was not seen, the paragraph says so.
//   - Notes of blocks and devices made of them are put together by calc/blocks;
//     keys that only the expansion knows are marked OfBlocks in the tables.
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
//   - One device only may claim a name of also: with the whole weight.
//   - A paragraph of content/pages/glossary.md that begins with bold words, like **RCD, GFCI.**,
//     explains a term (glossary.go); every other text leads there where it first uses one.
//   - content/words.txt adds spellings and synonyms to search/words/shop.txt, in the
//     same form.
//   - A sheet with a code or with proofs is mended only by them. A sheet with a
//     name, telephone number or e-mail address of an owner is refused.
package note
