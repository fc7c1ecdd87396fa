// Package gallery draws every widget of the family and every screen that is
// handed to it, with canned contents, in light, dark and shop mode, without a
// display. The pictures are for eyes; the same states are checked for text that
// is cut off. It must be used inside a running Fyne app or Fyne's test app, on
// its goroutine.
package gallery

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"stowright/app/look"
)

// State is one thing to draw. Make builds it anew each time, after the theme is
// set. The size is points; shop mode draws on the same size, as a screen does,
// unless Grow asks for more room.
type State struct {
	Name          string // file name without mode and ending: "list-long"
	Width, Height float32
	Grow          bool // multiply the size in shop mode: for single widgets
	Make          func() fyne.CanvasObject
}

// Mode is one way to draw a state.
type Mode struct {
	Name  string
	Theme look.Theme
}

// Modes are light, dark and shop.
func Modes() []Mode {
	return []Mode{
		{"light", look.Theme{Mode: look.Light}},
		{"dark", look.Theme{Mode: look.Dark}},
		{"shop", look.Theme{Mode: look.Light, Shop: true}},
	}
}

// canvas lays a state out in a mode.
func canvas(s State, m Mode) software.WindowlessCanvas {
	fyne.CurrentApp().Settings().SetTheme(m.Theme)
	size := fyne.NewSize(s.Width, s.Height)
	if s.Grow && m.Theme.Shop {
		size = fyne.NewSize(s.Width*look.ShopFactor, s.Height*look.ShopFactor)
	}
	c := software.NewCanvas()
	c.SetPadded(false)
	c.Resize(size)
	c.SetContent(s.Make())
	c.Resize(size)
	return c
}

// Render draws a state in a mode.
func Render(s State, m Mode) image.Image { return canvas(s, m).Capture() }

// Write draws all states in all modes into dir, which is made when it is not
// there, and returns the paths of the PNG files.
func Write(dir string, states []State) ([]string, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("make the folder for pictures: %w", err)
	}
	var paths []string
	for _, s := range states {
		for _, m := range Modes() {
			path := filepath.Join(dir, s.Name+"-"+m.Name+".png")
			if err := write(path, Render(s, m)); err != nil {
				return paths, fmt.Errorf("draw %q: %w", path, err)
			}
			paths = append(paths, path)
		}
	}
	return paths, nil
}

func write(path string, img image.Image) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	if err := png.Encode(f, img); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
