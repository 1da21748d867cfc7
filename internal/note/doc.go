// Package note reads the shop's notes: Markdown with YAML front matter.
//
// Load reads a whole content/ folder. It goes on after a mistake, so that one
// run finds all of them, each with its file, line, column (in characters), one
// sentence and what to do. The steps:
//
//  1. Every file is parsed: front matter by walking its YAML syntax tree
//     (yaml.go), the body by goldmark (body.go).
//  2. Each kind of document fills its own type from the front matter
//     (device.go, fault.go, others.go); unknown and missing keys are found here.
//  3. What one document says of another is checked: ids, links, claims
//     (cross.go, body.go). Every number is computed once and kept beside the
//     text that shows it.
package note
