package main

import (
	"cmp"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"stowright/assets/notices"
)

// stamped is the version that the Makefile writes in: a tag, how many commits came after
// it and which is the last, and whether the source had changes of its own. It is empty in
// a program that was built without.
var stamped string

// unknown stands for what the program was not told when it was built.
const unknown = "unknown"

// versionAnswer is what version prints with --json.
type versionAnswer struct {
	Version  string `json:"version"`  // such as v1.2.0-5-g8419906
	Commit   string `json:"commit"`   // of the source
	Time     string `json:"time"`     // of that commit
	Modified string `json:"modified"` // yes, no or unknown: whether the source was changed since
	Go       string `json:"go"`
	System   string `json:"system"`
}

// thisVersion is the version of this program, as far as building it left word of that.
func thisVersion() versionAnswer {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{}
	}
	return versionOf(stamped, info)
}

func versionOf(stamped string, info *debug.BuildInfo) versionAnswer {
	a := versionAnswer{Commit: unknown, Time: unknown, Modified: unknown, Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH}
	version := info.Main.Version
	if version == "(devel)" {
		version = ""
	}
	a.Version = cmp.Or(stamped, version, unknown)
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			a.Commit = s.Value
		case "vcs.time":
			a.Time = s.Value
		case "vcs.modified":
			a.Modified = map[string]string{"true": "yes", "false": "no"}[s.Value]
		}
	}
	return a
}

// versionCommand says which version this is.
type versionCommand struct {
	Licences bool `help:"Print the licences of everything that the program is built of instead."`
}

// Run prints the version.
func (c *versionCommand) Run(p *program) error {
	if c.Licences {
		return p.emit(map[string]string{"licences": notices.Text()}, func(w io.Writer) error {
			_, err := io.WriteString(w, notices.Text())
			return err
		})
	}
	a := thisVersion()
	return p.emit(a, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "stowright %s\ncommit %s of %s, changed since: %s\nbuilt with %s for %s\n", a.Version, a.Commit, a.Time, a.Modified, a.Go, a.System)
		return err
	})
}
