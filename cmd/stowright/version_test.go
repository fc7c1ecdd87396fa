package main

import (
	"runtime/debug"
	"testing"
)

// What was not said when the program was built is unknown, and nothing is guessed.
func TestVersion(t *testing.T) {
	vcs := func(modified string) []debug.BuildSetting {
		return []debug.BuildSetting{{Key: "vcs.revision", Value: "8419906"}, {Key: "vcs.time", Value: "2026-11-30T08:01:00Z"}, {Key: "vcs.modified", Value: modified}}
	}
	for _, row := range []struct {
		name, stamped, module           string
		settings                        []debug.BuildSetting
		version, commit, time, modified string
	}{
		{"nothing", "", "", nil, "unknown", "unknown", "unknown", "unknown"},
		{"in a checkout, without the Makefile", "", "(devel)", vcs("true"), "unknown", "8419906", "2026-11-30T08:01:00Z", "yes"},
		{"by the Makefile", "v1.2-3-g8419906", "(devel)", vcs("false"), "v1.2-3-g8419906", "8419906", "2026-11-30T08:01:00Z", "no"},
		{"installed from the module", "", "v1.2.0", nil, "v1.2.0", "unknown", "unknown", "unknown"},
		{"stamped over a module", "v1.3", "v1.2.0", nil, "v1.3", "unknown", "unknown", "unknown"},
	} {
		t.Run(row.name, func(t *testing.T) {
			a := versionOf(row.stamped, &debug.BuildInfo{Main: debug.Module{Version: row.module}, Settings: row.settings})
			if a.Version != row.version || a.Commit != row.commit || a.Time != row.time || a.Modified != row.modified || a.Go == "" || a.System == "" {
				t.Errorf("got %+v, want %s, %s, %s, %s", a, row.version, row.commit, row.time, row.modified)
			}
		})
	}
}
