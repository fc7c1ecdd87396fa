package unpack

import (
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/look"
	"stowright/app/notice"
)

// nextView is what stands under the lists: where what was just checked goes, and what to do
// about it; or else how far the delivery is.
type nextView struct {
	model *Model
	panel *look.Panel

	problem *look.Notice
	before  *look.Notice    // about the line checked before
	asked   *fyne.Container // where it goes
	totals  *fyne.Container
	wide    *fyne.Container // of asked: with all that is said, where there is room
	slim    *fyne.Container // with the picture of the place
	brief   *fyne.Container // in a few words, where something else is said too
	last    Side
	known   bool // last was shown
	narrow  bool
}

func newNextView(m *Model) *nextView {
	v := &nextView{
		model: m, problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), before: look.NewNotice(notice.Notice{}),
		asked: look.Rows(8), totals: look.Rows(8),
	}
	v.panel = look.NewPanel(14, look.Rows(10, v.problem, v.before, v.asked, v.totals))
	return v
}

// render shows a state; what is made of the side is made again only where that differs.
func (v *nextView) render(s State) {
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Error})
	v.problem.Hidden = s.Error == ""
	v.before.Hidden = s.Before == nil
	if s.Before != nil {
		v.before.SetNotice(*s.Before)
	}
	if !v.known || !reflect.DeepEqual(v.last, s.Side) {
		v.last, v.known = s.Side, true
		v.asked.Objects = v.where(s.Side)
		v.totals.Objects = standing(s.Side)
	}
	v.tighten(v.narrow)
	v.panel.Refresh()
}

// tighten leaves the totals out where there is little room, and where something is asked.
func (v *nextView) tighten(narrow bool) {
	v.narrow = narrow
	v.asked.Hidden = len(v.asked.Objects) == 0
	if v.last.Stow != nil {
		said := v.before.Visible() || v.problem.Visible()
		v.wide.Hidden = narrow
		v.slim.Hidden, v.brief.Hidden = !narrow || said, !narrow || !said
	}
	v.totals.Hidden = narrow || v.last.Stow != nil
}

// shows reports whether there is anything to show.
func (v *nextView) shows() bool {
	return v.problem.Visible() || v.before.Visible() || v.asked.Visible() || v.totals.Visible()
}

// where asks where the line that was checked goes, beside the picture of the place; or says
// how many wait to be asked about.
func (v *nextView) where(s Side) []fyne.CanvasObject {
	if s.Stow == nil {
		if s.Waiting == "" {
			return nil
		}
		return []fyne.CanvasObject{look.Line(look.NewQuiet(s.Waiting), look.NewLink("The next one", "T", func() { v.model.Key("T") }))}
	}
	lead := []string{s.Stow.What, ""}
	if s.Stow.Place != "" {
		lead = []string{s.Stow.Place, "for " + s.Stow.What}
	}
	words := look.Rows(4, look.NewHeading("Where does it go?"), look.NewLead(lead[0], lead[1]))
	if s.Stow.Why != "" {
		words.Add(look.NewFoot(s.Stow.Why))
	}
	words.Add(look.NewFoot("Or scan the label of the place."))
	v.wide = look.Rows(10, words, v.answers(*s.Stow))
	v.brief = look.Rows(10, look.NewLead(lead[0], lead[1]), v.answers(*s.Stow))
	v.slim = look.Rows(10, look.NewLead(lead[0], lead[1]), v.answers(*s.Stow))
	if s.Stow.Cabinet != nil {
		v.wide = look.Illustrated(v.wide, look.NewCabinetMini(*s.Stow.Cabinet))
		v.slim = look.Rows(10, look.Illustrated(look.Rows(4, look.NewHeading("Where does it go?"), look.NewLead(lead[0], lead[1])), look.NewCabinetLow(*s.Stow.Cabinet)), v.answers(*s.Stow))
	}
	return []fyne.CanvasObject{v.wide, v.slim, v.brief}
}

// answers are the buttons that answer where it goes.
func (v *nextView) answers(s Stow) *fyne.Container {
	elsewhere := look.NewKeyButton("Elsewhere", "E", func() { v.model.Key("E") })
	if s.Place == "" {
		return look.Line(elsewhere)
	}
	return look.Line(look.NewPrimary("Stow all there", "Enter", func() { v.model.Key("Enter") }), elsewhere)
}

// standing is how many lines have which state, and what is owed.
func standing(s Side) []fyne.CanvasObject {
	half := (len(s.Tallies) + 1) / 2
	tallies := container.New(&halves{}, look.NewTallies(s.Tallies[:half]), look.NewTallies(s.Tallies[half:]))
	owed := look.Rows(4)
	if s.Owed != "" {
		owed = look.Rows(4, look.NewHeading("Owed"), look.NewText(s.Owed))
	}
	return []fyne.CanvasObject{look.Illustrated(tallies, owed)}
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
