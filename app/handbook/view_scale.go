package handbook

import (
	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
)

// scaleKey is where the scale of the screen is kept between runs: points to the
// millimetre. It belongs to the machine, not to the shop.
const scaleKey = "screen.points-per-mm"

// scale is how many points of the screen are a millimetre; 0 until it was measured.
func scale() float64 {
	return fyne.CurrentApp().Preferences().Float(scaleKey)
}

// askScale has a ruler held to a line on the screen, and tells when its length is known.
func askScale(host Host, known func()) {
	const mm = 100 // any length: it is drawn over rulerPoints
	line := card.Piece{Paths: []card.Path{{Closed: true, Points: []card.Point{{X: 0, Y: 0}, {X: mm, Y: 0}, {X: mm, Y: 2}, {X: 0, Y: 2}}}}}
	picture := look.NewPiecePicture(line)
	picture.SetTrueSize(rulerPoints / mm)
	entry := look.NewEntry("106 mm, or 4-3/16")
	field := look.NewField("How long is the bar?", entry, "measured once for this screen")
	var dialog *look.Dialog
	take := func() {
		points, err := ParseScale(entry.Text, rulerPoints)
		if err != nil {
			field.SetProblem(upper(err.Error()) + ".")
			return
		}
		fyne.CurrentApp().Preferences().SetFloat(scaleKey, points)
		dialog.Close()
		known()
	}
	entry.OnSubmitted = func(string) { take() }
	dialog = look.NewDialog("Hold a ruler to the bar",
		look.Rows(12, look.NewQuiet("A screen does not know how large its points are. Then pieces can be drawn at true size, to lay one on the other."), picture, field),
		look.NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), look.NewPrimary("That long", "Enter", take))
	host.Ask(dialog, entry)
}
