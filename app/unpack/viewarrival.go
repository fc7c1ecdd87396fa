package unpack

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
)

// arrivalView enters which crates came.
type arrivalView struct {
	model *ArrivalModel
	host  app.Host

	crates   *fyne.Container
	buttons  []*look.KeyButton
	day      *look.Entry
	damage   *daysView
	shortage *daysView
	dates    *fyne.Container
	missing  *look.Paragraph
	problem  *look.Notice
	confirm  *look.KeyButton
	form     *fyne.Container
	sum      *fyne.Container // what the form comes to
	root     *fyne.Container
}

func newArrivalView(s *session.Session, host app.Host, shipment string) *arrivalView {
	v := &arrivalView{
		host: host, crates: look.Line(), day: look.NewEntry("14 March 2026"), dates: look.Rows(8), missing: look.NewQuiet(""),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
	}
	v.model = NewArrivalModel(s, shipment, v.render, v.entered)
	v.day.OnChanged = v.model.SetDay
	v.damage = newDaysView("Hidden freight damage: days to report it", v.model.SetDamage, v.take)
	v.shortage = newDaysView("Shortages: days to report them", v.model.SetShortage, v.take)
	v.day.OnSubmitted = func(string) { v.take() }
	v.confirm = look.NewPrimary("These crates came", "Enter", v.take)
	v.form, v.sum = look.Rows(16), look.Rows(12)
	v.root = container.New(&arrivalLayout{}, look.NewPanel(20, v.form), look.NewPanel(20, v.sum))
	v.build()
	host.HideCard()
	v.model.Load()
	return v
}

// build puts the form and what it comes to together.
func (v *arrivalView) build() {
	v.form.Objects = []fyne.CanvasObject{
		look.Rows(2, look.NewTitle("Which crates came?"), look.NewQuiet("Press the digit of each one. The arrival day is day 0.")),
		v.crates,
		look.NewField("Day of arrival", v.day, ""),
		v.damage.field, v.shortage.field,
	}
	v.sum.Objects = []fyne.CanvasObject{look.NewHeading("Last days to claim"), v.problem, v.missing, v.dates, v.confirm}
}

func (v *arrivalView) object() fyne.CanvasObject { return v.root }
func (v *arrivalView) title() string             { return "Arrival" }
func (v *arrivalView) changed()                  { v.model.Load() }

func (v *arrivalView) key(key string) bool {
	if key == "Enter" {
		v.take()
		return true
	}
	return false // the crates' digits are on their buttons
}

// take records the arrival, or goes to the field that is still to be filled.
func (v *arrivalView) take() {
	switch v.model.State().Wants {
	case DayField:
		look.FocusOn(v.day)
	case DamageField:
		look.FocusOn(v.damage.entry)
	case ShortageField:
		look.FocusOn(v.shortage.entry)
	default:
		v.model.Confirm()
	}
}

func (v *arrivalView) entered(shipment string) {
	v.host.Go(routes.Route{Screen: routes.Unpack, About: shipment})
}

// render shows a state.
func (v *arrivalView) render(s ArrivalState) {
	for len(v.buttons) < len(s.Crates) {
		i := len(v.buttons)
		key := ""
		if i < 9 {
			key = fmt.Sprint(i + 1)
		}
		b := look.NewKeyButton("", key, func() { v.model.Toggle(i) })
		v.buttons = append(v.buttons, b)
		v.crates.Add(b)
	}
	for i, b := range v.buttons {
		b.Hidden = i >= len(s.Crates)
		if b.Hidden {
			continue
		}
		c := s.Crates[i]
		label, rank := "○ "+c.Name+", "+c.Words, look.Secondary
		if c.Chosen {
			label, rank = "✓ "+c.Name+", "+c.Words, look.Primary
		}
		b.SetLabel(label)
		b.SetRank(rank)
	}
	if v.day.Text != s.Day {
		v.day.SetText(s.Day)
	}
	v.damage.render(s.Damage)
	v.shortage.render(s.Shortage)
	v.renderDates(s)
	v.root.Refresh()
}

// renderDates shows what the days come to, or what is still to be said.
func (v *arrivalView) renderDates(s ArrivalState) {
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Error})
	v.problem.Hidden = s.Error == ""
	v.missing.SetText(s.Missing)
	v.missing.Hidden = s.Missing == ""
	v.confirm.SetOff(s.Missing != "")
	v.dates.Objects = nil
	for _, n := range append(s.Dates, s.Earlier...) {
		v.dates.Add(look.NewNotice(n))
	}
}

// arrivalLayout sets the form at the left and what it comes to at the right, or
// below it on a narrow window.
type arrivalLayout struct{}

// MinSize is small: the page scrolls.
func (arrivalLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(320), objects[0].(*look.Panel).HeightFor(look.Px(620)))
}

// Layout places the two panels.
func (arrivalLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	form, sum, gap := objects[0].(*look.Panel), objects[1].(*look.Panel), look.Px(columnGap)
	if size.Width < look.Px(900) {
		h := form.HeightFor(size.Width)
		put(form, 0, 0, size.Width, h)
		put(sum, 0, h+gap, size.Width, sum.HeightFor(size.Width))
		return
	}
	left := size.Width * 0.56
	right := size.Width - left - gap
	put(form, 0, 0, left, form.HeightFor(left))
	put(sum, left+gap, 0, right, sum.HeightFor(right))
}

// daysView is a number of days, or that the paperwork says nothing.
type daysView struct {
	set    func(Days)
	days   Days
	entry  *look.Entry
	silent *look.KeyButton
	field  *look.Field
}

func newDaysView(label string, set func(Days), submit func()) *daysView {
	v := &daysView{set: set, entry: look.NewEntry("days")}
	v.silent = look.NewKeyButton("", "", v.toggle)
	v.entry.OnChanged = v.typed
	v.entry.OnSubmitted = func(string) { submit() }
	v.field = look.NewField(label, look.Line(v.entry, v.silent), "typed from this delivery's own paperwork; none are assumed")
	v.render(Days{})
	return v
}

func (v *daysView) typed(text string) {
	if text != v.days.Text {
		v.set(Days{Text: text})
	}
}

func (v *daysView) toggle() { v.set(Days{Silent: !v.days.Silent}) }

func (v *daysView) render(d Days) {
	v.days = d
	if v.entry.Text != d.Text {
		v.entry.SetText(d.Text)
	}
	v.silent.SetLabel("○ the paper says nothing")
	v.silent.SetRank(look.Secondary)
	if d.Silent {
		v.silent.SetLabel("✓ the paper says nothing")
		v.silent.SetRank(look.Primary)
	}
}
