// Package blocks makes a device out of common blocks. A block note (Kind) says
// what can be asked of one kind of block, how it fails, and what a failure does
// to the energy that should pass; a device note (Plan) says which blocks stand
// in its chain. Expand puts both together into a device note without blocks and
// one fault note for each common fault, which is all that anything else sees.
//
// Notes come and go as trees of plain text, so that the same code expands a
// note of the shop, which keeps its places in files, and a chain picked in a
// page. Refining is one rule for all of them: maps merge key by key, lists and
// values replace, "no" leaves out.
package blocks
