package unpack

import (
	"reflect"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
)

// sideView is what stands at the right of the check-off.
type sideView struct {
	model *Model
	host  app.Host
	root  *fyne.Container
	last  Side
	short *notice.Notice // about the line checked before
	over  bool           // it lies over the work
	shown bool
	asks  bool // it waits for Enter
}

func newSideView(m *Model, host app.Host) *sideView {
	return &sideView{model: m, host: host, root: container.NewStack()}
}

// render shows the side, which is built again only where it differs.
func (v *sideView) render(s State) {
	over := v.host.SideOver()
	if v.shown && over == v.over && reflect.DeepEqual(v.last, s.Side) && reflect.DeepEqual(v.short, s.Before) {
		return
	}
	v.last, v.short, v.over = s.Side, s.Before, over
	v.root.Objects = []fyne.CanvasObject{v.build(s)}
	v.root.Refresh()
	asks := look.HasKey(v.root, "Enter")
	if !v.shown || asks != v.asks { // a question opens the side of a narrow window
		v.shown, v.asks = true, asks
		v.host.ShowSide(v.root)
		if over = v.host.SideOver(); over != v.over {
			v.over = over
			v.root.Objects = []fyne.CanvasObject{v.build(s)}
			v.root.Refresh()
		}
	}
}

// build puts the claims over what is asked; where there is little room, the question
// comes first.
func (v *sideView) build(s State) fyne.CanvasObject {
	where, answers := v.where(s.Side)
	blocks := []*fyne.Container{v.claims(s), where}
	if v.over && answers != nil {
		blocks = []*fyne.Container{where, v.claims(s)}
		if s.Before != nil { // the line in hand has no room for it there
			where.Add(look.NewNotice(*s.Before))
		}
	}
	blocks = slices.DeleteFunc(blocks, func(o *fyne.Container) bool { return len(o.Objects) == 0 })
	switch photos := v.photos(s.Side.Photos); {
	case len(s.Side.Photos) == 0:
	case answers != nil: // the place that is asked about stays in sight
		blocks = append(blocks, photos)
	default:
		blocks = slices.Insert(blocks, 1, photos)
	}
	column := look.Rows(8)
	for i, b := range blocks {
		if i > 0 {
			column.Add(look.NewRule())
		}
		column.Add(b)
	}
	all := look.Fill(12, look.NewScroller(look.Inset(2, 2, column))) // the edges of boxes are drawn whole
	if answers != nil {
		all.Add(answers)
	}
	return all
}

// photos are the photographs of the line in hand.
func (v *sideView) photos(list []card.Photo) *fyne.Container {
	tiles := look.NewPhotoTiles(130)
	tiles.SetPhotos(list, -1)
	tiles.OnTapped = func(int) { v.photograph() }
	return look.Rows(8, look.NewHeading("Photographs"), tiles)
}

// photograph leads to the photographs of the line in hand.
func (v *sideView) photograph() { v.goTo("P") }

// goTo goes where a key leads to.
func (v *sideView) goTo(key string) {
	if to, ok := v.model.Part(key); ok {
		v.host.Go(to)
	}
}

// claims are the clocks, the totals, and what can be done with the delivery.
func (v *sideView) claims(s State) *fyne.Container {
	to := func(part string) func() {
		return func() { v.host.Go(routes.Route{Screen: routes.Unpack, About: s.Shipment, Part: part}) }
	}
	out := look.Rows(8, look.NewHeading("Claims for this delivery"))
	if len(s.Side.Clocks) == 0 {
		out.Add(look.NewQuiet(s.Side.NoClock))
	}
	for _, n := range s.Side.Clocks {
		out.Add(look.NewNotice(n))
	}
	half := (len(s.Side.Tallies) + 1) / 2
	out.Add(container.New(&halves{}, look.NewTallies(s.Side.Tallies[:half]), look.NewTallies(s.Side.Tallies[half:])))
	if s.Side.Owed != "" {
		out.Add(look.NewQuiet("Owed: " + s.Side.Owed + "."))
	}
	links := look.Line(look.NewLink("Claim", "C", to(ClaimPart)))
	if s.Side.Crates != "" {
		links.Add(look.NewLink(s.Side.Crates+" came", "R", to(ArrivalPart)))
	}
	links.Add(look.NewLink("New list", "I", func() { v.host.Go(routes.Route{Screen: routes.Unpack, Part: ListPart}) }))
	if s.Side.Others {
		links.Add(look.NewLink("Other delivery", "O", func() { v.model.Key("O") }))
	}
	out.Add(links)
	out.Add(look.Line(look.NewFootLink("Check-off sheet of its crate", "K", func() { v.goTo("K") })))
	if s.Side.Crate != "" {
		out.Add(look.Line(look.NewFootLink(s.Side.Crate, "F3", func() { v.goTo("F3") })))
	}
	return out
}

// where asks where the line goes, with the buttons that answer, or says where it
// lies. The buttons are nil when nothing is asked.
func (v *sideView) where(s Side) (where *fyne.Container, answers fyne.CanvasObject) {
	where = look.Rows(8)
	if s.Lies != nil {
		addPlace(where, "Stowed", look.NewLead(s.Lies.Place, "holds "+s.Lies.What), s.Lies)
	}
	if s.Stow == nil {
		if s.Waiting != "" {
			where.Add(look.Line(look.NewQuiet(s.Waiting), look.NewLink("The next one", "T", func() { v.model.Key("T") })))
		}
		return where, nil
	}
	elsewhere := look.NewKeyButton("Elsewhere", "E", func() { v.model.Key("E") })
	if s.Stow.Place == "" {
		addPlace(where, "Where does it go?", look.NewLead(s.Stow.What, ""), s.Stow)
		return where, look.Pair(elsewhere)
	}
	addPlace(where, "Where does it go?", look.NewLead(s.Stow.Place, "for "+s.Stow.What), s.Stow)
	return where, look.Pair(look.NewPrimary("Stow all there", "Enter", func() { v.model.Key("Enter") }), elsewhere)
}

// addPlace adds a place with its picture and why it is the one.
func addPlace(to *fyne.Container, heading string, lead *look.Paragraph, s *Stow) {
	to.Add(look.NewHeading(heading))
	to.Add(lead)
	if s.Cabinet != nil {
		to.Add(look.NewCabinetMini(*s.Cabinet))
	}
	if s.Why != "" {
		to.Add(look.NewFoot(s.Why))
	}
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
