package handbook

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/wording"
	"stowright/store/measure"
	"stowright/store/output"
)

// lookUpView says what a designation means.
type lookUpView struct {
	host  app.Host
	model *LookUpModel
	ways  *folders.Ways

	field   *look.Entry
	title   *look.Paragraph
	family  *look.Paragraph
	notices *fyne.Container
	nearest *fyne.Container
	facts   *look.Facts
	weigh   *look.KeyButton
	print   *look.KeyButton
	alike   *alikes
	drawing *scaleDrawing
	known   *fyne.Container // what there is of a known piece
	empty   *look.EmptyState
	scroll  *look.Scroller
	root    *fyne.Container
	quietly bool // the field is being changed by the view
}

func newLookUpView(s *session.Session, host app.Host, about string) *lookUpView {
	v := &lookUpView{
		host: host, ways: s.Folders, field: newEntry("AN3-5A, an470 ad4-7, MS24665-132 ..."), title: look.NewTitle(""), family: look.NewQuiet(""),
		notices: look.Rows(8), nearest: look.Line(), facts: look.NewFacts(), alike: newAlikes(host),
	}
	v.drawing = newScaleDrawing(host, func() { v.root.Refresh() })
	v.weigh = look.NewLink("Weigh a sample", stockdialog.WeighKey, func() {
		stockdialog.AskWeighing(s, host, v.model.State().Designation, measure.Quantity{}, nil)
	})
	v.print = look.NewLink("Save at real size", "P", v.askTrueSize)
	v.model = NewLookUpModel(s, v.render)
	v.field.OnChanged = v.typed
	v.field.OnSubmitted = host.Command // a tag may have been scanned into it
	v.empty = look.NewEmptyState("What does a number mean?",
		"Type a designation as it stands on a bag, a plan or a packing list. A piece without a number can be measured.",
		look.NewPrimary("Measure a stray", "F6", func() { host.Go(routes.Route{Screen: routes.Handbook, Part: MeasurePart}) }),
		look.NewKeyButton("Browse the tables", "B", func() { host.Go(routes.Route{Screen: routes.Handbook, Part: TablesPart}) }))
	v.known = look.Rows(14, look.NewPanel(14, look.Rows(10, v.drawing.rows, look.Line(v.print, v.weigh), v.facts)), v.alike.rows)
	v.scroll = look.NewScroller(look.Rows(12, look.Rows(2, v.title, v.family), v.notices, v.nearest, v.known))
	v.root = look.Fill(12, v.field, v.empty, v.scroll, caution())
	v.ask(about)
	if about == "" {
		s.Loop.Post(func() { look.FocusOn(v.field) })
	}
	return v
}

func (v *lookUpView) object() fyne.CanvasObject { return v.root }

func (v *lookUpView) changed() { v.model.Again() }

func (v *lookUpView) query(text string) { v.ask(text) }

func (v *lookUpView) saved() any { return v.model.State().Query }

func (v *lookUpView) restore(saved any) {
	if query, ok := saved.(string); ok {
		v.ask(query)
	}
}

// typed follows the field.
func (v *lookUpView) typed(text string) {
	if !v.quietly {
		v.model.Ask(text)
	}
}

// ask looks something up that was not typed into the field.
func (v *lookUpView) ask(text string) {
	v.quietly = true
	v.field.SetText(text)
	v.quietly = false
	v.model.Ask(text)
}

func (v *lookUpView) render(s LookUpState) {
	v.title.SetText(s.Title)
	v.family.SetText(s.Family)
	v.title.Hidden, v.family.Hidden = s.Title == "", s.Family == ""
	v.renderNotices(s)
	v.facts.SetFacts(s.Facts)
	v.alike.set(s.Alike)
	v.drawing.set(s.Pictures, s.Drawn)
	v.known.Hidden = s.Designation == ""
	v.print.Hidden = len(s.Pictures) == 0
	v.empty.Hidden, v.scroll.Hidden = s.Query != "", s.Query == ""
	v.root.Refresh()
	v.scroll.ToTop()
	showPiece(v.host, s.Card, findID)
}

// renderNotices shows what is to be said first, and the ways on.
func (v *lookUpView) renderNotices(s LookUpState) {
	v.nearest.Objects = nil
	list := s.Notices
	if s.Error != "" {
		list = append(list, notice.Notice{Tone: notice.Stop, Text: s.Error})
	}
	notices(v.notices, list)
	if s.Successor != "" {
		v.nearest.Add(look.NewKeyButton("Show "+s.Successor, "N", func() { lookUp(v.host, s.Successor) }))
	}
	for i, d := range s.Nearest {
		key := ""
		if i < 9 {
			key = string(rune('1' + i))
		}
		v.nearest.Add(look.NewKeyButton(d, key, func() { lookUp(v.host, d) }))
	}
	v.nearest.Hidden = len(v.nearest.Objects) == 0
}

// askTrueSize asks where the page with the piece at its real size is saved.
func (v *lookUpView) askTrueSize() {
	designation := v.model.State().Designation
	name := strings.ReplaceAll(designation, "/", "-") + ".pdf"
	look.AskPath(v.ways, look.PathQuestion{
		Title: "Save " + designation + " at its real size", Label: "Where to?", Do: "Save", Want: folders.NewFile(name), Path: filepath.Join(v.ways.ToWrite(), name),
		Hint: "Print it at actual size, 100 %, and measure its bars before you lay the piece on it.",
	}, v.host.Ask, func(path string) { v.model.SaveTrueSize(path, false, v.saidSaved) })
}

// saidSaved says where the page with the piece is, or why it is not, or asks whether it is
// to be written over what is there.
func (v *lookUpView) saidSaved(path string, err error) {
	if files, there := output.Existing(err); there {
		look.AskReplace(files, v.host.Ask, func() { v.model.SaveTrueSize(files[0], true, v.saidSaved) })
		return
	}
	if err != nil {
		v.host.Say(notice.Notice{Tone: notice.Stop, Lead: "Not saved.", Text: wording.Error(err)})
		return
	}
	v.host.Say(notice.Notice{Tone: notice.OK, Lead: "Saved", Text: path + ". Print it at actual size, 100 %."})
}
