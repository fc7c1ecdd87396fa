package volume

import (
	"slices"
	"strings"
	"testing"
)

// What a machine with a server, a phone and two disks has mounted, as proc(5) lays it out.
const mountinfo = `22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
30 22 0:26 / /home/me/server rw,relatime shared:9 - nfs4 server:/export rw
31 22 0:27 / /home/me/server/disk rw - ext4 /dev/sdb1 rw
32 22 0:28 / /media/my\040stick rw,nosuid - fuseblk /dev/sdc1 rw
33 22 0:29 / /run/user/1000/gvfs rw - fuse.gvfsd-fuse gvfsd-fuse rw
34 22 0:30 / /mnt/both rw - ext4 /dev/sdd1 rw
35 34 0:31 / /mnt/both rw master:4 propagate_from:2 - cifs //server/share rw
not a line
36 22 0:32 / /short -
`

// A path is in the file system of the longest place above it, whatever else begins alike.
func TestTypeAt(t *testing.T) {
	mounts := parseMounts(mountinfo)
	for path, want := range map[string]string{
		"/home/me/kit.stow":               "ext4",
		"/home/me/server":                 "nfs4",
		"/home/me/server/a/kit.stow":      "nfs4",
		"/home/me/server2/kit.stow":       "ext4",
		"/home/me/server/disk/kit.stow":   "ext4",
		"/media/my stick/kit.stow":        "fuseblk",
		"/run/user/1000/gvfs/a/kit.stow":  "fuse.gvfsd-fuse",
		"/mnt/both/kit.stow":              "cifs",
		"/mnt/..both/kit.stow":            "ext4",
		"/home/me/server/../kit/kit.stow": "ext4",
	} {
		if got := typeAt(mounts, path); got != want {
			t.Errorf("%s is in %q, want %q", path, got, want)
		}
	}
	if got := typeAt(nil, "/kit.stow"); got != "" {
		t.Errorf("without mounts it is in %q", got)
	}
}

// A disk that is attached is no network, whatever the program is that reads it.
func TestOverNetwork(t *testing.T) {
	for kind, want := range map[string]bool{"nfs4": true, "cifs": true, "fuse.sshfs": true, "ext4": false, "fuseblk": false, "fuse": false, "": false} {
		if got := slices.Contains(overNetwork, kind); got != want {
			t.Errorf("%q is over a network: %t", kind, got)
		}
	}
}

// Of a disk of this computer nothing is said, of the others what to do.
func TestCaution(t *testing.T) {
	if got := Own.Caution(); got != "" {
		t.Errorf("of a disk of this computer it says %q", got)
	}
	for _, k := range []Kind{Network, Synced} {
		if !strings.Contains(k.Caution(), "safe copies (F12)") {
			t.Errorf("%v says %q", k, k.Caution())
		}
	}
}
