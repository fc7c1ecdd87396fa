// Package icons holds the pictures of the rail, drawn for this program, as SVG in
// one colour: the window gives them its own. It knows no window.
package icons

import "embed" // the icon files below

//go:embed *.svg
var files embed.FS

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
	return []string{"today", "unpack", "find", "places", "labels", "build", "order", "handbook"}
}
