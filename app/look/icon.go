package look

import (
	"bytes"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"stowright/assets/icons"
)

// iconInk is the colour that the icon files are drawn in.
const iconInk = "#000000"

// Icon is an icon of assets/icons in a colour of the theme as it is now; ask
// again when the theme changes. Fyne's own recolouring changes areas only, and
// these icons are lines. An unknown name gives an empty picture.
func Icon(name string, color fyne.ThemeColorName) fyne.Resource {
	r, g, b, _ := theme.Color(color).RGBA()
	hex := fmt.Sprintf("#%02x%02x%02x", r>>8, g>>8, b>>8)
	svg := icons.SVG(name)
	if svg == nil {
		svg = []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="24" height="24" viewBox="0 0 24 24"></svg>`)
	}
	return fyne.NewStaticResource(name+hex[1:]+".svg", bytes.ReplaceAll(svg, []byte(iconInk), []byte(hex)))
}

// ProgramIcon is the picture of the program itself, for its window and the desktop's lists.
func ProgramIcon() fyne.Resource { return fyne.NewStaticResource("stowright.png", icons.Program()) }
