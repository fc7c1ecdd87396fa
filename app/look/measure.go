package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"stowright/assets/fonts"
)

// Text sizes and measures of the family, in points at normal size.
const (
	sizeTiny   = 13 // the least of all but the small cabinet
	sizeFoot   = 13.5
	sizeBody   = 16
	sizeNumber = 19
	sizeTitle  = 22
	sizeCard   = 36 // 50 in shop mode, which is read from two metres

	radius       = 8  // corners of panels
	radiusSmall  = 6  // corners of buttons, boxes and rows
	buttonHeight = 46 // every button that carries a key
	rowHeight    = 58 // a list row with a line under its name
)

// Px is a measure of the family at the size the window has now: shop mode makes
// it larger. Screens use it for their own gaps: 4, 8, 12, 16, 20.
func Px(points float32) float32 {
	unit := theme.Size(sizeUnit)
	if unit <= 0 { // a foreign theme, as in a test of one widget
		unit = 1
	}
	return points * unit
}

// fingerBreadth is how high what is tapped is at least in shop mode, in points as drawn.
const fingerBreadth = 44

// LeastTarget is how high what is tapped has to be, in points as drawn: a finger in a glove in
// shop mode, nothing else.
func LeastTarget() float32 {
	if Px(1) > 1 {
		return fingerBreadth
	}
	return 0
}

// role is one kind of text: a face and a size.
type role struct {
	face fonts.Face
	size float32
}

// The roles of text. Foot is the smallest that carries meaning.
func roleTiny() role     { return role{fonts.MonoMedium, sizeTiny} }
func roleFoot() role     { return role{fonts.TextRegular, sizeFoot} }
func roleFootBold() role { return role{fonts.TextBold, sizeFoot} }
func roleBody() role     { return role{fonts.TextRegular, sizeBody} }
func roleStrong() role   { return role{fonts.TextSemiBold, sizeBody} }
func roleBold() role     { return role{fonts.TextBold, sizeBody} }
func roleFigure() role   { return role{fonts.TextBold, sizeNumber} }
func roleName() role     { return role{fonts.MonoBold, sizeNumber} }
func roleTitle() role    { return role{fonts.TextBold, sizeTitle} }
func roleMono() role     { return role{fonts.MonoMedium, sizeFoot} }

// style is the face as Fyne's text style.
func (r role) style() fyne.TextStyle {
	switch r.face {
	case fonts.TextBold:
		return fyne.TextStyle{Bold: true}
	case fonts.MonoMedium:
		return fyne.TextStyle{Monospace: true}
	case fonts.MonoBold:
		return fyne.TextStyle{Monospace: true, Bold: true}
	default:
		return fyne.TextStyle{}
	}
}

// source is the face as a font resource, for the one weight that a text style
// cannot name; nil otherwise.
func (r role) source() fyne.Resource {
	if r.face == fonts.TextSemiBold {
		return faces[r.face]
	}
	return nil
}

// at is the same face in another size.
func (r role) at(size float32) role { return role{r.face, size} }

// set writes text in this role and colour. It does not refresh.
func (r role) set(t *canvas.Text, text string, name fyne.ThemeColorName) {
	t.Text = text
	t.TextSize = Px(r.size)
	t.TextStyle = r.style()
	t.FontSource = r.source()
	t.Color = theme.Color(name)
}

// measure is the size of one line of text in this role.
func (r role) measure(text string) fyne.Size {
	size, _ := fyne.CurrentApp().Driver().RenderedTextSize(text, Px(r.size), r.style(), r.source())
	return size
}

// width is the width of one line of text in this role.
func (r role) width(text string) float32 { return r.measure(text).Width }

// height is the height of a line in this role.
func (r role) height() float32 { return r.measure("Ag").Height }

// newText is an empty text that a renderer fills through a role.
func newText() *canvas.Text { return canvas.NewText("", color.Transparent) }

// newBox is an empty rectangle that a renderer fills.
func newBox() *canvas.Rectangle { return canvas.NewRectangle(color.Transparent) }

// setBox gives a rectangle its colours and corners; an empty name is no colour.
func setBox(b *canvas.Rectangle, fill, edge fyne.ThemeColorName, width, corner float32) {
	b.FillColor, b.StrokeColor = named(fill), named(edge)
	b.StrokeWidth, b.CornerRadius = Px(width), Px(corner)
	if edge == "" {
		b.StrokeWidth = 0
	}
}

// named is the colour with that name, transparent for "".
func named(name fyne.ThemeColorName) color.Color {
	if name == "" {
		return color.Transparent
	}
	return theme.Color(name)
}

// place moves and resizes in one go.
func place(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

// placeText puts one line of text with its left edge at x, centred on the line
// that starts at y and is h high.
func placeText(t *canvas.Text, x, y, h float32) fyne.Size {
	size := t.MinSize()
	place(t, x, y+(h-size.Height)/2, size.Width, size.Height)
	return size
}
