package volume

import (
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

func kindOf(file string) Kind {
	if home, err := os.UserHomeDir(); err == nil {
		for _, synced := range []string{"Mobile Documents", "CloudStorage"} { // where macOS puts those folders
			if within(filepath.Join(home, "Library", synced), file) {
				return Synced
			}
		}
	}
	var fs syscall.Statfs_t
	if syscall.Statfs(filepath.Dir(file), &fs) != nil {
		return Own
	}
	var name []byte
	for _, c := range fs.Fstypename {
		if c == 0 {
			break
		}
		name = append(name, byte(c))
	}
	if slices.Contains(overNetwork, string(name)) {
		return Network
	}
	return Own
}
