// Package userdirs decides where the program keeps what is a person's own: the shop file
// that no flag names, and the log. It is the one place that knows how systems differ in
// that, and it makes nothing.
package userdirs

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// appName is the program's folder in those of the system.
const appName = "stowright"

// errNoHome means that the system does not tell where a person's files are.
var errNoHome = errors.New("the system does not say where your own folder is: name the shop file with --shop")

// System is a machine as far as folders go.
type System struct {
	OS     string                   // as runtime.GOOS has it
	Env    func(name string) string // a variable of the environment; "" for none
	Exists func(path string) bool   // whether a file is there
}

// Here is the machine that the program runs on.
func Here() System {
	return System{OS: runtime.GOOS, Env: os.Getenv, Exists: func(path string) bool {
		_, err := os.Stat(path)
		return err == nil
	}}
}

// Shop is the shop file that is opened when none is named. Where earlier versions made
// one, it stays there: they kept to the folders of Linux on every system.
func (s System) Shop() (string, error) {
	folder, err := s.data()
	if err != nil {
		return "", err
	}
	file := filepath.Join(folder, appName, "shop.stow")
	if s.Exists(file) {
		return file, nil
	}
	if folder, err := s.xdg("XDG_DATA_HOME", ".local", "share"); err == nil {
		if old := filepath.Join(folder, appName, "shop.stow"); s.Exists(old) {
			return old, nil
		}
	}
	return file, nil
}

// data is the folder for a person's data. On Windows and macOS it is that of
// os.UserConfigDir; on others XDG_DATA_HOME (XDG Base Directory Specification 0.8).
func (s System) data() (string, error) {
	switch s.OS {
	case "windows":
		return s.variable("AppData")
	case "darwin", "ios":
		return s.home("Library", "Application Support")
	}
	return s.xdg("XDG_DATA_HOME", ".local", "share")
}

// State is the folder of the program for its log. On Windows it is in the folder of
// os.UserCacheDir, which is not carried from machine to machine; on macOS where the
// system's own viewer of logs looks; on others in XDG_STATE_HOME.
func (s System) State() (string, error) {
	var folder string
	var err error
	switch s.OS {
	case "windows":
		folder, err = s.variable("LocalAppData")
	case "darwin", "ios":
		folder, err = s.home("Library", "Logs")
	default:
		folder, err = s.xdg("XDG_STATE_HOME", ".local", "state")
	}
	if err != nil {
		return "", err
	}
	return filepath.Join(folder, appName), nil
}

// Runtime is the folder of the program for what lasts as long as it runs. On Linux it is in
// XDG_RUNTIME_DIR where the system has one, elsewhere the same as State.
func (s System) Runtime() (string, error) {
	if folder := s.Env("XDG_RUNTIME_DIR"); s.OS == "linux" && filepath.IsAbs(folder) {
		return filepath.Join(folder, appName), nil
	}
	return s.State()
}

// xdg is a folder of the XDG specification, which ignores a variable that is not absolute.
func (s System) xdg(name string, otherwise ...string) (string, error) {
	if folder := s.Env(name); filepath.IsAbs(folder) {
		return folder, nil
	}
	return s.home(otherwise...)
}

func (s System) variable(name string) (string, error) {
	if folder := s.Env(name); folder != "" {
		return folder, nil
	}
	return "", errNoHome
}

func (s System) home(parts ...string) (string, error) {
	name := "HOME"
	if s.OS == "windows" {
		name = "USERPROFILE"
	}
	home, err := s.variable(name)
	if err != nil {
		return "", err
	}
	return filepath.Join(append([]string{home}, parts...)...), nil
}
