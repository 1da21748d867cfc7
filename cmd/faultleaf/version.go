package main

import "runtime/debug"

// released is the version of a release, set when it is built.
var released string

// version says which faultleaf this is: a release, or the commit it was built
// from.
func version() string {
	if released != "" {
		return released
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of unknown version"
	}
	at := map[string]string{}
	for _, s := range info.Settings {
		at[s.Key] = s.Value
	}
	commit := at["vcs.revision"]
	if commit == "" {
		return "from source"
	}
	if at["vcs.modified"] == "true" {
		return "from source, " + commit[:min(12, len(commit))] + " with changes"
	}
	return "from source, " + commit[:min(12, len(commit))]
}
