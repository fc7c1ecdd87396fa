// Package volume tells what kind of place a file lies in: a disk of this computer, one that
// is reached over a network, or a folder that a program keeps the same on several computers.
// On the last two a shop file can be changed from two sides at once, which its lock does not
// always see.
//
// It knows what the system says of the place and no more: a program that copies an ordinary
// folder elsewhere is not noticed.
package volume

import (
	"path/filepath"
	"strings"
)

// Kind is what kind of place a file lies in.
type Kind int

// The kinds. Own is the zero value, and what is taken for it where the system says nothing.
const (
	Own     Kind = iota // a disk of this computer
	Network             // reached over a network
	Synced              // kept the same on several computers
)

// Of is the kind of place that a file, by its full name, lies or would lie in.
func Of(file string) Kind { return kindOf(filepath.Clean(file)) }

// Caution says what can go wrong there; empty for a disk of this computer.
func (k Kind) Caution() string {
	switch k {
	case Network:
		return "This shop file is on a network drive. Two computers that have it open at once can damage it, and a change waits for the network. Keep it on this computer, and put safe copies (F12) there."
	case Synced:
		return "This shop file is in a folder that is kept the same on several computers. One that is copied while it is in use can be damaged there, and of two that were changed one is lost. Keep it elsewhere, and put safe copies (F12) there."
	}
	return ""
}

// overNetwork are the types of file systems that are reached over a network, as Linux has
// them (/proc/filesystems), and macOS (mount(8)).
var overNetwork = []string{
	"nfs", "nfs4", "cifs", "smb3", "smbfs", "ncpfs", "afs", "ceph", "9p", "afpfs", "webdav",
	"fuse.sshfs", "fuse.davfs", "fuse.glusterfs", "fuse.rclone", "fuse.gvfsd-fuse",
}

// mount is a place where a file system is, and its type.
type mount struct{ at, kind string }

// parseMounts reads /proc/self/mountinfo (proc(5)): the fifth field is the place, the type
// follows a field that is a dash.
func parseMounts(text string) (mounts []mount) {
	for line := range strings.Lines(text) {
		before, after, found := strings.Cut(line, " - ")
		left, right := strings.Fields(before), strings.Fields(after)
		if found && len(left) > 4 && len(right) > 0 {
			mounts = append(mounts, mount{unescape(left[4]), right[0]})
		}
	}
	return mounts
}

// unescape puts the signs back that would end a field.
func unescape(s string) string {
	return strings.NewReplacer(`\040`, " ", `\011`, "\t", `\012`, "\n", `\134`, `\`).Replace(s)
}

// typeAt is the type of the file system that a path is in: that of the longest place, and of
// two there the later one, which hides the other.
func typeAt(mounts []mount, path string) (kind string) {
	longest := -1
	for _, m := range mounts {
		if within(m.at, path) && len(m.at) >= longest {
			kind, longest = m.kind, len(m.at)
		}
	}
	return kind
}

// within reports whether a path is a folder or lies in it.
func within(folder, path string) bool {
	rel, err := filepath.Rel(folder, path)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}
