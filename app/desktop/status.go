package desktop

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/store"
)

// status is what the frame says of the shop.
type status struct {
	footer app.Footer
	claim  string
	tone   notice.Tone
	hand   string
}

// status brings the footer, the claim clock and the hand up to date.
func (d *Desktop) status() {
	loop.DoLatest(d.session.Loop, &d.reading, func(context.Context) (status, error) { return readStatus(d.session.Shop) }, func(s status, err error) {
		if err != nil {
			d.fail(err)
			return
		}
		d.footer = s.footer
		d.SetFooter(d.foot())
		d.SetClaim(s.claim, s.tone)
		d.SetHand(s.hand)
	})
}

func readStatus(shop *store.Shop) (status, error) {
	s := status{hand: shop.Hand()}
	err := shop.Read(s.read)
	if s.footer.Shop == "" {
		s.footer.Shop = strings.TrimSuffix(filepath.Base(shop.File()), filepath.Ext(shop.File()))
	}
	return s, err
}

func (s *status) read(shop *store.Reader) error {
	settings, err := shop.Settings()
	if err != nil {
		return err
	}
	s.footer.Shop = settings.Title
	last, err := shop.Entries(0, 1)
	if err != nil {
		return err
	}
	if len(last) > 0 {
		s.footer.Last = lastWords(last[0])
	}
	if _, s.footer.CanUndo, err = shop.Undoable(); err != nil {
		return err
	}
	s.claim, s.tone, err = session.PressingClaim(shop)
	return err
}

// lastWords is an entry in a line: "Partner counted NAS1149F0363P in A-30: 150 ea".
func lastWords(e store.Entry) string {
	switch e.Verb {
	case store.VerbUndo:
		return fmt.Sprintf("%s undid: %s", e.Hand, e.Text)
	case store.VerbRedo:
		return fmt.Sprintf("%s did again: %s", e.Hand, e.Text)
	case store.VerbCount:
		return e.Hand + " " + e.Text
	}
	return fmt.Sprintf("%s: %s", e.Hand, e.Text)
}

// askHand asks who works from now on.
func (d *Desktop) askHand() {
	session.Do(d.session, d.session.Shop.Settings, d.handDialog)
}

func (d *Desktop) handDialog(settings store.Settings, err error) {
	if err != nil {
		d.fail(err)
		return
	}
	name := look.NewEntry("a name")
	list := look.NewRowList(table.Column{Title: "who works here", Kind: table.Names})
	var rows []table.Row
	for _, h := range settings.Hands {
		rows = append(rows, table.Row{ID: h, Cells: []table.Cell{table.Name(h, "")}})
	}
	list.SetRows(rows)
	list.Mark(slices.Index(settings.Hands, d.session.Shop.Hand()))
	var dialog *look.Dialog
	take := func() {
		chosen, _ := list.Chosen()
		d.takeHand(settings, name.Text, chosen.ID)
		dialog.Close()
	}
	name.OnSubmitted = func(string) { take() }
	list.OnOpened = func(int, table.Row) { take() }
	dialog = look.NewDialog("Whose hand is this?", look.Fill(12, list, look.NewField("Somebody else", name, "every entry of the journal says who made it")),
		look.NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), look.NewPrimary("This one", "Enter", take))
	d.Ask(dialog, list)
}

// takeHand makes a hand the one that works, and keeps a new name for the next time.
func (d *Desktop) takeHand(settings store.Settings, typed, chosen string) {
	name := strings.TrimSpace(typed)
	if name == "" {
		name = chosen
	}
	if name == "" {
		return
	}
	d.session.Shop.SetHand(name)
	d.status()
	if slices.Contains(settings.Hands, name) {
		return
	}
	operation.Start(d.session, nil, operation.AddHand{Name: name}, func(_ operation.Result, err error) {
		if err != nil {
			d.fail(err)
		}
	})
}
