package userdirs

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
)

// The folders of three systems. The paths are written as this one joins them.
func TestFolders(t *testing.T) {
	home := func(more ...string) map[string]string {
		env := map[string]string{"HOME": "/home/me"}
		for i := 0; i < len(more); i += 2 {
			env[more[i]] = more[i+1]
		}
		return env
	}
	windows := map[string]string{"AppData": "/me/Roaming", "LocalAppData": "/me/Local", "USERPROFILE": "/me"}
	for _, row := range []struct {
		name, os    string
		env         map[string]string
		there       []string // files
		shop, state string   // "" for an error
	}{
		{"Linux", "linux", home(), nil, "/home/me/.local/share/stowright/shop.stow", "/home/me/.local/state/stowright"},
		{"Linux, named", "linux", home("XDG_DATA_HOME", "/d", "XDG_STATE_HOME", "/s"), nil, "/d/stowright/shop.stow", "/s/stowright"},
		{"Linux, named relatively", "linux", home("XDG_DATA_HOME", "d", "XDG_STATE_HOME", "s"), nil, "/home/me/.local/share/stowright/shop.stow", "/home/me/.local/state/stowright"},
		{"Linux, a shop elsewhere", "linux", home("XDG_DATA_HOME", "/d"), []string{"/home/me/.local/share/stowright/shop.stow"}, "/d/stowright/shop.stow", "/home/me/.local/state/stowright"},
		{"Linux without a home", "linux", nil, nil, "", ""},
		{"a BSD", "freebsd", home(), nil, "/home/me/.local/share/stowright/shop.stow", "/home/me/.local/state/stowright"},
		{"macOS", "darwin", home("XDG_DATA_HOME", "/d"), nil, "/home/me/Library/Application Support/stowright/shop.stow", "/home/me/Library/Logs/stowright"},
		{"macOS, a shop of before", "darwin", home(), []string{"/home/me/.local/share/stowright/shop.stow"}, "/home/me/.local/share/stowright/shop.stow", "/home/me/Library/Logs/stowright"},
		{"macOS, both", "darwin", home(), []string{"/home/me/.local/share/stowright/shop.stow", "/home/me/Library/Application Support/stowright/shop.stow"}, "/home/me/Library/Application Support/stowright/shop.stow", "/home/me/Library/Logs/stowright"},
		{"Windows", "windows", windows, nil, "/me/Roaming/stowright/shop.stow", "/me/Local/stowright"},
		{"Windows, a shop of before", "windows", windows, []string{"/me/.local/share/stowright/shop.stow"}, "/me/.local/share/stowright/shop.stow", "/me/Local/stowright"},
		{"Windows without folders", "windows", nil, nil, "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := System{OS: row.os, Env: func(name string) string { return row.env[name] }, Exists: func(path string) bool { return slices.Contains(row.there, filepath.ToSlash(path)) }}
			shop, err := s.Shop()
			if filepath.ToSlash(shop) != row.shop || (err == nil) != (row.shop != "") {
				t.Errorf("shop %q, %v; want %q", shop, err, row.shop)
			}
			state, err := s.State()
			if filepath.ToSlash(state) != row.state || (err == nil) != (row.state != "") {
				t.Errorf("state %q, %v; want %q", state, err, row.state)
			}
		})
	}
}

// What lasts as long as the program is in the folder that Linux has for that, if any.
func TestRuntime(t *testing.T) {
	for _, row := range []struct{ os, folder, want string }{
		{"linux", "/run/user/1000", "/run/user/1000/stowright"},
		{"linux", "run", "/home/me/.local/state/stowright"},
		{"linux", "", "/home/me/.local/state/stowright"},
		{"darwin", "/run/user/1000", "/home/me/Library/Logs/stowright"},
	} {
		env := map[string]string{"HOME": "/home/me", "XDG_RUNTIME_DIR": row.folder}
		s := System{OS: row.os, Env: func(name string) string { return env[name] }}
		if got, err := s.Runtime(); err != nil || filepath.ToSlash(got) != row.want {
			t.Errorf("%s, %q: got %q, %v; want %q", row.os, row.folder, got, err, row.want)
		}
	}
}

// On the machine of the test the standard library agrees, where it knows the folder.
func TestAsTheStandardLibrarySays(t *testing.T) {
	if !slices.Contains([]string{"windows", "darwin"}, runtime.GOOS) {
		t.Skip("the standard library has no folder for data here")
	}
	config, err := os.UserConfigDir()
	if err != nil {
		t.Fatal(err)
	}
	if got, err := Here().data(); got != config {
		t.Errorf("data in %q, %v; os.UserConfigDir says %q", got, err, config)
	}
}
