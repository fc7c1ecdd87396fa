package handbook

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
)

// splitLayout sets what is said first over a list over its details. The list is
// as high as its rows, up to its share; the details get the rest and scroll.
type splitLayout struct{ share float32 }

// split is an answer: its head, its list, and the details of the chosen row.
func split(head fyne.CanvasObject, list *look.RowList, details *look.Scroller) *fyne.Container {
	return container.New(&splitLayout{listShare}, head, list, details)
}

// listShare is how much of the height under its head a list takes at most: two
// rows of five stay in sight, and a drawing below.
const listShare = 0.42

// MinSize is small: the frame scrolls a page that has no room.
func (l *splitLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(objects[0].MinSize().Width, objects[0].MinSize().Height+look.Px(260))
}

// Layout places the three.
func (l *splitLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	head, list, details := objects[0], objects[1].(*look.RowList), objects[2]
	y := look.HeightFor(head, size.Width) + look.Px(10)
	place(head, 0, 0, size.Width, y-look.Px(10))
	if list.Visible() {
		h := min(list.HeightFor(size.Width), max(look.Px(130), (size.Height-y)*l.share))
		place(list, 0, y, size.Width, h)
		y += h + look.Px(10)
	}
	place(details, 0, y, size.Width, max(0, size.Height-y))
}

func place(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

// alikes are look-alikes, each with a way to its own page.
type alikes struct {
	host app.Host
	rows *fyne.Container
}

func newAlikes(host app.Host) *alikes { return &alikes{host, look.Rows(2)} }

// set shows others; none hides the list.
func (a *alikes) set(list []Alike) {
	a.rows.Objects = nil
	a.rows.Hidden = len(list) == 0
	if a.rows.Hidden {
		return
	}
	a.rows.Add(look.NewHeading("Easily taken for"))
	for _, l := range list {
		a.rows.Add(look.Line(look.NewLink(l.Designation, "", func() { lookUp(a.host, l.Designation) }), look.NewText(l.Difference)))
	}
}

// notices shows what is to be said; none hides them.
func notices(rows *fyne.Container, list []notice.Notice) {
	rows.Objects = nil
	for _, n := range list {
		rows.Add(look.NewNotice(n))
	}
	rows.Hidden = len(list) == 0
}
