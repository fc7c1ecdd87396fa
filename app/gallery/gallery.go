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
	"io"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"stowright/app/look"
	"stowright/store/output"
)

// State is one thing to draw. Make builds a new one each time, after the theme is
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
	m.Theme.Apply()
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
// there, and returns the paths of the PNG files. Files that are there already are written
// over only as the options say.
func Write(dir string, states []State, o output.Options) ([]string, error) {
	var paths []string
	for _, s := range states {
		for _, m := range Modes() {
			path := filepath.Join(dir, s.Name+"-"+m.Name+".png")
			picture := func(w io.Writer) error { return png.Encode(w, Render(s, m)) }
			if err := output.Write(o, output.File{Path: path, Write: picture, MakeFolder: true}); err != nil {
				return paths, fmt.Errorf("drawing %q: %w", path, err)
			}
			paths = append(paths, path)
		}
	}
	return paths, nil
}
