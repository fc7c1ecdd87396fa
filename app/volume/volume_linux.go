package volume

import (
	"os"
	"slices"
)

func kindOf(file string) Kind {
	text, err := os.ReadFile("/proc/self/mountinfo")
	if err == nil && slices.Contains(overNetwork, typeAt(parseMounts(string(text)), file)) {
		return Network
	}
	return Own
}
