package handbook

import (
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/drawing"
	"stowright/app/look"
	"stowright/app/wording"
)

// scaleKey is where the scale of the screen is kept between runs: points to the
// millimetre. It belongs to the machine, not to the shop.
const scaleKey = "screen.points-per-mm"

// scale is how many points of the screen are a millimetre; 0 until it was measured.
func scale() float64 {
	return fyne.CurrentApp().Preferences().Float(scaleKey)
}

// askScale has a ruler held to a line on the screen, and tells when its length is known.
func askScale(host app.Host, known func()) {
	const mm = 100 // any length: it is drawn over rulerPoints
	line := drawing.Piece{Paths: []drawing.Path{{Closed: true, Points: []drawing.Point{{X: 0, Y: 0}, {X: mm, Y: 0}, {X: mm, Y: 2}, {X: 0, Y: 2}}}}}
	picture := look.NewPieceView(line)
	picture.SetTrueSize(rulerPoints / mm)
	entry := look.NewEntry("106 mm, or 4-3/16")
	field := look.NewField("How long is the bar?", entry, "measured once for this screen")
	var dialog *look.Dialog
	take := func() {
		points, err := ParseScale(entry.Text, rulerPoints)
		if err != nil {
			field.SetProblem(wording.Sentence(err.Error()))
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

// scaleDrawing is a piece seen from its sides, to fit or at true size.
type scaleDrawing struct {
	host     app.Host
	rows     *fyne.Container
	size     *look.KeyButton
	again    *look.KeyButton
	pictures []drawing.Piece
	words    string
	atTrue   bool
	changed  func() // the room it needs has changed
}

func newScaleDrawing(host app.Host, changed func()) *scaleDrawing {
	d := &scaleDrawing{host: host, rows: look.Rows(8), changed: changed}
	d.size = look.NewKeyButton("", "T", d.trueSize)
	d.again = look.NewLink("Measure the screen again", "", func() { askScale(host, d.draw) })
	return d
}

// trueSize draws at true size or to fit; the screen is measured first.
func (d *scaleDrawing) trueSize() {
	if !d.atTrue && scale() <= 0 {
		askScale(d.host, d.trueSize)
		return
	}
	d.atTrue = !d.atTrue
	d.draw()
}

// set draws another piece.
func (d *scaleDrawing) set(pictures []drawing.Piece, words string) {
	d.pictures, d.words = pictures, words
	d.fill()
}

func (d *scaleDrawing) draw() {
	d.fill()
	d.changed()
}

func (d *scaleDrawing) fill() {
	words, label := d.words, "True size"
	if d.atTrue {
		words, label = "at true size on this screen: lay the piece on it"+strings.TrimPrefix(d.words, "drawn to scale"), "Larger"
	}
	views := look.Line()
	for _, p := range d.pictures {
		picture := drawn(p, 300, 80)
		if d.atTrue {
			picture.SetTrueSize(scale())
		}
		views.Add(picture)
	}
	d.size.SetLabel(label)
	d.again.Hidden = !d.atTrue
	d.rows.Hidden = len(d.pictures) == 0
	d.rows.Objects = []fyne.CanvasObject{views, look.Line(look.NewFoot(words), look.Gap(), d.again, d.size)}
}
