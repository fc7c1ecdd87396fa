//go:build unix

package output

import (
	"io/fs"
	"net"
	"os"
	"strings"
	"testing"
)

// Devices, pipes and sockets are no files, and stay what they are. A socket of the test's own
// stands for all: whatever replaces or opens it does no harm, as it would to a device.
func TestNeverOverASocket(t *testing.T) {
	t.Chdir(t.TempDir()) // the name of a socket must be short
	l, err := net.Listen("unix", "socket")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	for _, replace := range []bool{false, true} {
		err := Write(Options{Replace: replace}, File{Path: "socket", Write: text("x")})
		if err == nil || !strings.Contains(err.Error(), "is not a file") {
			t.Errorf("replace %v: %v", replace, err)
		}
	}
	if info, err := os.Lstat("socket"); err != nil || info.Mode()&fs.ModeSocket == 0 {
		t.Errorf("the socket is %v, %v", info, err)
	}
}
