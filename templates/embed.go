// Package templates holds the pages' HTML templates, the stylesheet and the
// browser scripts. Markup only: every decision is made in the page rooms of
// internal/site.
package templates

import "embed"

// Files holds *.html, leaf.svg, faultleaf.css and script/*.
//
//go:embed *.html *.svg faultleaf.css script/*
var Files embed.FS

// Scripts lists the files of script/ that make up the one app script, in the
// order in which they are joined; start.js is not among them: it stands in
// faultleaf.js.
var Scripts = []string{"tools.js", "binary.js", "core.js", "job.js", "inbox.js", "news.js", "edit.js", "clock.js", "bar.js", "find.js", "trace.js", "end.js", "ticks.js", "paper.js", "keys.js", "go.js"}

// FewScripts lists those of a second script, for what stands on few pages: go.js says
// which.
var FewScripts = []string{"calculator.js", "unwritten.js", "counter.js", "past.js", "sheet.js"}

// WorkerScripts lists those that run beside the page, behind the script of the
// Go distribution.
var WorkerScripts = []string{"binary.js", "worker.js"}
