package volume

import (
	"path/filepath"

	"golang.org/x/sys/windows"
)

// cloud are the attributes of files and folders whose bytes may be elsewhere: recalled when
// they are opened or read, pinned here, or not (winnt.h).
const cloud = windows.FILE_ATTRIBUTE_RECALL_ON_OPEN | windows.FILE_ATTRIBUTE_RECALL_ON_DATA_ACCESS | 0x80000 | 0x100000

func kindOf(file string) Kind {
	root := filepath.VolumeName(file) + `\`
	if name, err := windows.UTF16PtrFromString(root); err == nil && windows.GetDriveType(name) == windows.DRIVE_REMOTE {
		return Network
	}
	for path := file; ; path = filepath.Dir(path) {
		if name, err := windows.UTF16PtrFromString(path); err == nil {
			attributes, err := windows.GetFileAttributes(name)
			if err == nil && attributes&cloud != 0 {
				return Synced
			}
		}
		if path == filepath.Dir(path) {
			return Own
		}
	}
}
