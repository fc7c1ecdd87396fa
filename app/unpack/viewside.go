package unpack

import (
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/card"
	"stowright/app/look"
)

// sideView is what stands at the right of the check-off.
type sideView struct {
	model *Model
	host  Host
	root  *fyne.Container
	last  Side
	shown bool
}

func newSideView(m *Model, host Host) *sideView {
	return &sideView{model: m, host: host, root: container.NewStack()}
}

// render shows the side, which is built anew only where it differs.
func (v *sideView) render(s State) {
	if v.shown && reflect.DeepEqual(v.last, s.Side) {
		return
	}
	v.last = s.Side
	v.root.Objects = []fyne.CanvasObject{v.build(s)}
	v.root.Refresh()
	if !v.shown {
		v.shown = true
		v.host.ShowSide(v.root)
	}
}

func (v *sideView) build(s State) fyne.CanvasObject {
	to := func(part string) func() {
		return func() { v.host.Go(card.Route{Screen: card.Unpack, About: s.Shipment, Part: part}) }
	}
	top := look.Rows(8, look.NewHeading("Claims for this delivery"))
	if len(s.Side.Clocks) == 0 {
		top.Add(look.NewQuiet("No claim clock runs: the paperwork says nothing, or no crate has come."))
	}
	for _, n := range s.Side.Clocks {
		top.Add(look.NewNotice(n))
	}
	half := (len(s.Side.Tallies) + 1) / 2
	top.Add(container.New(&halves{}, look.NewTallies(s.Side.Tallies[:half]), look.NewTallies(s.Side.Tallies[half:])))
	links := look.Line(look.NewLink("Claim to send", "C", to(ClaimPart)))
	if s.Side.Crates != "" {
		links.Add(look.NewLink(s.Side.Crates+" came", "R", to(ArrivalPart)))
	}
	top.Add(links)
	top.Add(look.NewRule())
	bottom := v.where(s.Side, top)
	column := look.Fill(12, look.NewScroller(top))
	if bottom != nil {
		column.Add(bottom)
	}
	return column
}

// where asks where the line goes, and returns the buttons that answer.
func (v *sideView) where(s Side, to *fyne.Container) fyne.CanvasObject {
	if s.Stow == nil {
		if s.Waiting != "" {
			to.Add(look.Line(look.NewQuiet(s.Waiting), look.NewLink("The next one", "T", func() { v.model.Key("T") })))
		}
		return nil
	}
	to.Add(look.NewHeading("Where does it go?"))
	elsewhere := look.NewKeyButton("Elsewhere", "E", func() { v.model.Key("E") })
	if s.Stow.Place == "" {
		to.Add(look.NewLead(s.Stow.What, ""))
		to.Add(look.NewFoot(s.Stow.Why))
		return look.Pair(elsewhere)
	}
	to.Add(look.NewLead(s.Stow.Place, "for "+s.Stow.What))
	if s.Stow.Cabinet != nil {
		to.Add(look.NewCabinetMini(*s.Stow.Cabinet))
	}
	to.Add(look.NewFoot(s.Stow.Why))
	return look.Pair(look.NewPrimary("Stow all there", "Enter", func() { v.model.Key("Enter") }), elsewhere)
}

// halves sets two tables side by side.
type halves struct{}

// MinSize is that of the higher table, twice as wide.
func (halves) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		size = size.Max(o.MinSize())
	}
	return fyne.NewSize(2*size.Width+look.Px(20), size.Height)
}

// Layout gives each table half of the width.
func (halves) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	w := (size.Width - look.Px(20)) / 2
	for i, o := range objects {
		put(o, float32(i)*(w+look.Px(20)), 0, w, size.Height)
	}
}
