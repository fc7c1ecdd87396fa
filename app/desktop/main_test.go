package desktop

import (
	"fmt"
	"os"
	"testing"
)

// TestMain has pages propose files in a home of the tests' own: some scenes save one.
func TestMain(m *testing.M) {
	home, err := os.MkdirTemp("", "home")
	if err == nil {
		err = os.Setenv("HOME", home)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	_ = os.RemoveAll(home) // what is left of it is in the system's folder for such
	os.Exit(code)
}
