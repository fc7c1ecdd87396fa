package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/look"
)

// Footer is the line at the bottom of the window.
type Footer struct {
	Shop    string // which shop: "Type Q"
	Last    string // the last entry of the journal: "Partner counted A-30: 150"
	CanUndo bool   // whether Ctrl+Z would undo it
}

// caution is always in sight: what the program shows approves nothing.
const caution = "Plans and the kit maker govern. Check look-alikes by hand."

// footer is the drawn line.
type footer struct {
	shop, last *look.Caption
	undo, size *look.KeyButton
	row        *fyne.Container
}

func newFooter(undo, size func()) *footer {
	f := &footer{
		shop: look.NewCaption("", ""), last: look.NewCaption("", ""),
		undo: look.NewFootLink("Undo", "Ctrl+Z", undo), size: look.NewFootLink(sizeWord(), "F8", size),
	}
	f.row = container.New(&footerLayout{}, f.shop, f.last, f.undo, f.size, look.NewCaption("", caution))
	f.set(Footer{})
	return f
}

func (f *footer) set(to Footer) {
	f.shop.Set("Shop:", to.Shop)
	f.last.Set("Last:", to.Last)
	f.shop.Hidden, f.last.Hidden, f.undo.Hidden = to.Shop == "", to.Last == "", !to.CanUndo
	f.row.Refresh()
}

// sizeWord is what F8 would make of everything now.
func sizeWord() string {
	if th, ok := fyne.CurrentApp().Settings().Theme().(look.Theme); ok && th.Shop {
		return "Smaller"
	}
	return "Larger"
}

// footerLayout sets shop, last entry and undo from the left, the change of size and
// the caution at the right. Where they do not all fit, the change of size goes
// first (its key still works) and then the last entry is cut.
type footerLayout struct{}

func (footerLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(300), look.Px(footerHeight))
}

func (footerLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	shop, last, undo, larger, warn := objects[0], objects[1], objects[2], objects[3], objects[4]
	pad, gap := look.Px(16), look.Px(22)
	put := func(o fyne.CanvasObject, x, w float32) {
		h := min(size.Height, o.MinSize().Height)
		o.Move(fyne.NewPos(x, (size.Height-h)/2))
		o.Resize(fyne.NewSize(w, h))
	}
	right := size.Width - pad - warn.MinSize().Width
	put(warn, right, warn.MinSize().Width)
	whole := 2*pad + 4*gap
	for _, o := range objects {
		if o.Visible() || o == larger {
			whole += o.MinSize().Width
		}
	}
	if whole <= size.Width {
		larger.Show()
		right -= gap + larger.MinSize().Width
		put(larger, right, larger.MinSize().Width)
	} else {
		larger.Hide()
	}
	x := pad
	if shop.Visible() {
		put(shop, x, shop.MinSize().Width)
		x += shop.MinSize().Width + gap
	}
	room := right - gap - x
	if undo.Visible() {
		room -= undo.MinSize().Width + look.Px(8)
	}
	if last.Visible() {
		w := max(0, min(last.MinSize().Width, room))
		put(last, x, w)
		x += w + look.Px(8)
	}
	put(undo, x, undo.MinSize().Width)
}
