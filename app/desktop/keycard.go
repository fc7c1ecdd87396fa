package desktop

import (
	"path/filepath"

	"fyne.io/fyne/v2"

	"stowright/app/folders"
	"stowright/app/gallery"
	"stowright/app/help"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/labels"
)

// KeyCard is the card of all keys, laid out on the first stock.
func KeyCard() (labels.Document, error) {
	var on []help.Screen
	for _, s := range screens() {
		on = append(on, help.Screen{Name: s.Name, Title: s.Title})
	}
	return help.Card(on).Layout(labels.Stocks()[0])
}

// KeyCardState is the first sheet of the card of keys as a state of a gallery.
func KeyCardState() (gallery.State, error) {
	doc, err := KeyCard()
	if err != nil {
		return gallery.State{}, err
	}
	sheet := func() fyne.CanvasObject { return look.NewSheetView(doc.Pages[0]) }
	return gallery.State{Name: "key-card", Width: gallery.Width, Height: gallery.Height, Make: sheet}, nil
}

// askKeyCard asks where the card of keys is saved.
func (d *Desktop) askKeyCard() {
	ways := d.session.Folders
	look.AskPath(ways, look.PathQuestion{
		Title: "A card of all keys, to print", Label: "Where to save it", Hint: "A PDF file; print it at its own size.", Do: "Save it",
		Want: folders.NewFile("keys.pdf"), Path: filepath.Join(ways.ToWrite(), "keys.pdf"),
	}, d.Ask, func(path string) { d.saveKeyCard(path, false) })
}

// saveKeyCard writes the card, over a file that is there only when the person said so.
func (d *Desktop) saveKeyCard(path string, replace bool) {
	save := func() (bool, error) {
		doc, err := KeyCard()
		if err != nil {
			return false, err
		}
		return true, d.session.SavePDF(path, doc, replace)
	}
	ask := session.AskReplace(func(files []string, replace func()) { look.AskReplace(files, d.Ask, replace) })
	loop.Do(d.session.Loop, save, func(_ bool, err error) {
		switch {
		case ask.Asks(err, func() { d.saveKeyCard(path, true) }):
		case err != nil:
			d.fail(err)
		default:
			d.Say(notice.Notice{Tone: notice.OK, Lead: "Saved:", Text: path + "."})
		}
	})
}
