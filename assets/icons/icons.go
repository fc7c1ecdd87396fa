// Package icons holds the pictures of the rail, drawn for this program, as SVG in
// one colour: the window gives them its own. It also holds the picture of the program
// itself, in its own colours. It knows no window.
package icons

import "embed" // the icon files below

//go:embed *.svg
var files embed.FS

// The picture of the program, 256 pixels wide, made of stowright.svg by make icon.
//
//go:embed stowright.png
var program []byte

// Program is the picture of the program itself, as PNG.
func Program() []byte { return program }

// SVG is the icon with that name, such as "find", or nil when there is none.
func SVG(name string) []byte {
	data, err := files.ReadFile(name + ".svg")
	if err != nil {
		return nil
	}
	return data
}

// Names lists every icon, in the order of the rail.
func Names() []string {
	return []string{"today", "unpack", "find", "places", "labels", "build", "order", "handbook", "alerts"}
}
