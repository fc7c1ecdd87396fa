package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/look"
)

// Footer is the line at the bottom of the window.
type Footer struct {
	Shop    string // which shop: "Type Q"
	Behind  string // what goes on behind the window: "getting Find ready, 40 %"
	Last    string // the last entry of the journal: "Partner counted A-30: 150"
	CanUndo bool   // whether Ctrl+Z would undo it
}

// caution is always in sight: what the program shows approves nothing.
const caution = "Plans and the kit maker govern. Check look-alikes by hand."

// footer is the drawn line.
type footer struct {
	shop, behind, last *look.Caption
	undo, size         *look.KeyButton
	row                *fyne.Container
}

func newFooter(undo, size func()) *footer {
	f := &footer{
		shop: look.NewCaption("", ""), behind: look.NewCaption("", ""), last: look.NewCaption("", ""),
		undo: look.NewFootLink("Undo", "Ctrl+Z", undo), size: look.NewFootLink(sizeWord(), "F8", size),
	}
	f.row = container.New(&footerLayout{footer: f}, f.shop, f.behind, f.last, f.undo, f.size, look.NewCaption("", caution))
	f.set(Footer{})
	return f
}

func (f *footer) set(to Footer) {
	f.shop.Set("Shop:", to.Shop)
	f.behind.Set("", to.Behind)
	f.last.Set("Last:", to.Last)
	f.shop.Hidden, f.behind.Hidden, f.last.Hidden, f.undo.Hidden = to.Shop == "", to.Behind == "", to.Last == "", !to.CanUndo
	f.row.Refresh()
}

// sizeWord is what F8 would make of everything now.
func sizeWord() string {
	if th, ok := fyne.CurrentApp().Settings().Theme().(look.Theme); ok && th.Shop {
		return "Smaller"
	}
	return "Larger"
}

// footerLayout sets shop, what goes on, last entry and undo from the left, the change
// of size and the caution at the right. Where they do not all fit, the last entry is
// cut; then the change of size goes (its key still works), and last the entry, where
// hardly a word of it would be seen.
type footerLayout struct{ footer *footer }

// Widths of the last entry, in points at normal size.
const (
	enoughLast = 260 // where it has more, the change of size has its room first
	leastLast  = 110
)

func (*footerLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(300), look.Px(footerHeight))
}

func (l *footerLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	f, warn := l.footer, objects[len(objects)-1]
	pad, gap := look.Px(16), look.Px(22)
	put := func(o fyne.CanvasObject, x, w float32) {
		h := min(size.Height, o.MinSize().Height)
		o.Move(fyne.NewPos(x, (size.Height-h)/2))
		o.Resize(fyne.NewSize(w, h))
	}
	right := size.Width - pad - warn.MinSize().Width
	put(warn, right, warn.MinSize().Width)
	f.last.Hidden = f.last.Text() == ""
	whole := 2*pad + 4*gap
	for _, o := range objects {
		switch w := o.MinSize().Width; {
		case o == fyne.CanvasObject(f.last) && o.Visible():
			whole += min(w, look.Px(enoughLast))
		case o == fyne.CanvasObject(f.size) || o.Visible():
			whole += w
		}
	}
	if f.size.Hidden = whole > size.Width; !f.size.Hidden {
		right -= gap + f.size.MinSize().Width
		put(f.size, right, f.size.MinSize().Width)
	}
	x := pad
	room := right - gap - x
	if f.undo.Visible() {
		room -= f.undo.MinSize().Width + look.Px(8)
	}
	for _, o := range []*look.Caption{f.shop, f.behind} {
		if o.Visible() {
			w := min(o.MinSize().Width, room)
			put(o, x, w)
			x += w + gap
			room -= w + gap
		}
	}
	if least := min(f.last.MinSize().Width, look.Px(leastLast)); room < least {
		f.last.Hide()
	}
	if f.last.Visible() {
		w := min(f.last.MinSize().Width, room)
		put(f.last, x, w)
		x += w + look.Px(8)
	}
	put(f.undo, x, f.undo.MinSize().Width)
}
