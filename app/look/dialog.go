package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// Dialog is a question over the window. Esc closes it, its keys work without a
// click, and a tap beside it closes nothing, so that nothing typed is lost. Fyne's
// own dialogs are not closed by Esc and show no keys.
type Dialog struct {
	widget.BaseWidget
	// OnClosed is called once when the dialog goes away, however it does.
	OnClosed func()
	// OnKey is asked about keys that none of its buttons has, and reports whether it
	// dealt with one; nil for nobody.
	OnKey func(key string) bool

	canvas fyne.Canvas
	panel  *Panel
	keeper *TabKeeper
	width  float32
	cover  bool
}

// dialogWidth is how wide a dialog is, points at normal size.
const dialogWidth = 520

// NewDialog is a dialog with a title, content, and its buttons in a row at the
// right, the primary one last. Show it with Open.
func NewDialog(title string, content fyne.CanvasObject, buttons ...*KeyButton) *Dialog {
	row := make([]fyne.CanvasObject, len(buttons))
	for i, b := range buttons {
		row[i] = b
	}
	body := Fill(16, NewTitle(title), content, Line(append([]fyne.CanvasObject{Gap()}, row...)...))
	d := &Dialog{panel: NewPanel(20, body), keeper: newTabKeeper(), width: dialogWidth}
	d.ExtendBaseWidget(d)
	return d
}

// Cover hides the window behind the dialog: what stands there must not be seen by who
// answers.
func (d *Dialog) Cover() { d.cover = true }

// SetWidth makes the dialog wider or narrower than 520 points.
func (d *Dialog) SetWidth(points float32) { d.width = points }

// Open shows the dialog on a canvas and gives the focus to first, when there is
// something to type in.
func (d *Dialog) Open(c fyne.Canvas, first fyne.Focusable) {
	d.canvas = c
	c.Overlays().Add(d)
	d.Resize(c.Size())
	if first != nil {
		c.Focus(first)
	}
}

// Answered takes the dialog away where nothing is wrong with what it was answered, and else
// shows in it what is.
func (d *Dialog) Answered(problem *Notice, wrong string) {
	if wrong == "" {
		d.Close()
		return
	}
	problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: wrong})
	problem.Show()
	d.Refresh()
}

// Close takes the dialog away; a second call does nothing.
func (d *Dialog) Close() {
	if d.canvas == nil {
		return
	}
	c := d.canvas
	d.canvas = nil
	c.Overlays().Remove(d)
	if d.OnClosed != nil {
		d.OnClosed()
	}
}

// Key presses the dialog's button with that key, or asks OnKey; Esc closes the dialog.
func (d *Dialog) Key(key string) {
	if PressKey(d.panel, key) || d.OnKey != nil && d.OnKey(key) {
		return
	}
	if key == "Esc" {
		d.Close()
	}
}

func (d *Dialog) tabKeeper() *TabKeeper { return d.keeper }

// Tapped keeps taps off the window behind.
func (d *Dialog) Tapped(*fyne.PointEvent) {}

// CreateRenderer draws the dialog over a veil.
func (d *Dialog) CreateRenderer() fyne.WidgetRenderer {
	veil := canvas.NewRectangle(theme.Color(theme.ColorNameShadow))
	r := &drawn{objects: []fyne.CanvasObject{veil, d.panel, d.keeper}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(200), Px(120)) }
	r.layout = func(size fyne.Size) {
		place(veil, 0, 0, size.Width, size.Height)
		w := min(Px(d.width), size.Width-2*Px(16))
		h := min(d.panel.HeightFor(w), size.Height-2*Px(16))
		place(d.panel, (size.Width-w)/2, max(Px(16), (size.Height-h)*0.4), w, h)
	}
	r.refresh = func() {
		veil.FillColor = faded(rgb(0), 0x73)
		if d.cover {
			veil.FillColor = theme.Color(theme.ColorNameBackground)
		}
		d.panel.Refresh()
	}
	return r.ready(d)
}
