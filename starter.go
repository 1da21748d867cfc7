// Package faultleaf holds those notes of this shop that a new shop begins with.
package faultleaf

import "embed"

// Notes holds content/ without what belongs to one shop: its devices, faults and job
// sheets, and its shop.yaml.
//
//go:embed content/blocks content/checklists content/complaints.yaml content/images content/pages
var Notes embed.FS
