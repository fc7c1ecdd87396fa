package look

import (
	"slices"

	"fyne.io/fyne/v2"
)

// Spot is something to click on: what it says, where its middle is in the window, and how large it
// is, in points.
type Spot struct {
	Says string
	At   fyne.Position
	Size fyne.Size
}

// Spots are what can be clicked on within root and is in sight, in a window of that size: buttons,
// rows, tiles, answers, what stands on the rail.
func Spots(root fyne.CanvasObject, window fyne.Size) []Spot {
	if root == nil || !root.Visible() {
		return nil
	}
	if says := saysWhenTapped(root); says != "" {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(root)
		at = at.AddXY(root.Size().Width/2, root.Size().Height/2)
		if at.X >= window.Width || at.Y >= window.Height || at.IsZero() {
			return nil
		}
		return []Spot{{says, at, root.Size()}}
	}
	var all []Spot
	for _, child := range tappable(root) {
		all = append(all, Spots(child, window)...)
	}
	return all
}

// saysWhenTapped is what a thing says that does something when it is tapped; "" for any other.
func saysWhenTapped(o fyne.CanvasObject) string {
	switch w := o.(type) {
	case *KeyButton:
		if w.off {
			return ""
		}
		return w.label
	case *tileView:
		return w.tile().ID
	case *choice:
		return w.text
	case *Entry, *CommandEntry, holder:
		return ""
	}
	_, tapped := o.(fyne.Tappable)
	if spoken, ok := o.(interface{ AccessibilityLabel() string }); ok && tapped {
		return spoken.AccessibilityLabel()
	}
	return ""
}

// tappable are the parts of what is shown in which something can be tapped.
func tappable(o fyne.CanvasObject) []fyne.CanvasObject {
	switch w := o.(type) {
	case *Dialog:
		return []fyne.CanvasObject{w.panel}
	case *RowList:
		return w.DrawnRows()
	case *Tiles:
		var all []fyne.CanvasObject
		for _, v := range w.views {
			all = append(all, v)
		}
		return all
	case *Choices:
		return slices.Clone(w.row.Objects)
	default:
		return children(o)
	}
}
