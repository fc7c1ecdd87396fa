package unpack

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
)

// part opens a part of the screen.
func (k *typist) part(part, about string) *Page {
	k.frame.Go(routes.Route{Screen: routes.Unpack, Part: part, About: about})
	k.settle()
	return k.frame.Page().(*Page)
}

// key presses the key as the window does: on the page's buttons first, or in a dialog.
func (k *typist) key(keys ...string) {
	k.t.Helper()
	for _, key := range keys {
		if top := k.window.Canvas().Overlays().Top(); top != nil {
			if !look.PressKey(top, key) {
				top.(*look.Dialog).Key(key)
			}
		} else if p := k.frame.Page().(*Page); !look.PressKey(p.Object(), key) && !p.HandleKey(key) {
			k.t.Fatalf("%s does nothing on %s", key, p.Title())
		}
		k.settle()
	}
}

// A bad cell is typed again in a dialog that holds what stands there; the file is left.
func TestABadCellIsTypedAnew(t *testing.T) {
	k := newTypist(t, demo.Furnished)
	path := filepath.Join(t.TempDir(), "list.csv")
	const text = "Part,Qty\nOQ-1,2\nOQ-2,some\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	v := k.part(ListPart, path).shown.(*listView)
	if s := v.model.State(); !s.Settle || len(s.Lines) != 1 {
		t.Fatalf("settle %v, lines %+v; want one line and a point", s.Settle, s.Lines)
	}
	k.key("1")
	entry, ok := k.window.Canvas().Focused().(*look.Entry)
	if !ok || entry.Text != "some" {
		t.Fatalf("the keyboard is in %T, want the field with what stands there", k.window.Canvas().Focused())
	}
	k.key("Esc")
	if k.window.Canvas().Overlays().Top() != nil || len(v.model.State().Lines) != 1 {
		t.Error("Esc does not leave the row as it was")
	}
	k.key("1")
	k.window.Canvas().Focused().(*look.Entry).SetText("7")
	k.press(fyne.KeyReturn)
	s := v.model.State()
	if !s.Ready || len(s.Lines) != 2 || s.Lines[1].Cells[3].Text != "7" || k.window.Canvas().Overlays().Top() != nil {
		t.Errorf("typed anew: ready %v, %+v", s.Ready, s.Lines)
	}
	if data, err := os.ReadFile(path); err != nil || string(data) != text {
		t.Errorf("the file is %q now, %v", data, err)
	}
}

// The arrows walk the points while they are shown, and the fields else.
func TestArrowsOfTheList(t *testing.T) {
	k := newTypist(t, demo.Furnished)
	path := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(path, []byte("Part,Qty\nOQ-1,2\nOQ-2,some\nOQ-3,many\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	v := k.part(ListPart, path).shown.(*listView)
	for _, row := range []struct {
		key           string
		point, column int
	}{{"Up", 0, 0}, {"Down", 1, 0}, {"Down", 1, 0}, {"Up", 0, 0}, {"L", 0, 0}, {"Down", 0, 1}, {"Down", 0, 2}, {"Up", 0, 1}} {
		k.key(row.key)
		if s := v.model.State(); s.Point != row.point || s.Column != row.column {
			t.Errorf("after %s: point %d, field %d; want %d and %d", row.key, s.Point, s.Column, row.point, row.column)
		}
	}
	if v.key("Z") {
		t.Error("Z is taken")
	}
	if empty := k.part(ListPart, "").shown; empty.key("Enter") || empty.key("L") {
		t.Error("keys of a list are taken while there is none")
	}
}

// The table on the clipboard is read with V.
func TestVPastes(t *testing.T) {
	k := newTypist(t, demo.Furnished)
	v := k.part(ListPart, "").shown.(*listView)
	fyne.CurrentApp().Clipboard().SetContent("Part\tQty\nOQ-1\t2\n")
	if !v.key("V") {
		t.Fatal("V is not taken")
	}
	k.settle()
	if s := v.model.State(); !s.Ready || len(s.Lines) != 1 {
		t.Errorf("pasted: ready %v, lines %+v", s.Ready, s.Lines)
	}
}

// The claim is copied whole, marked as sent on the proposed day, and answered by line.
func TestClaimByKeys(t *testing.T) {
	k := newTypist(t, demo.Unpacked)
	ships, err := k.s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	v := k.part(ClaimPart, ships[0].ID).shown.(*claimView)
	k.key("C")
	if got := fyne.CurrentApp().Clipboard().Content(); got != v.model.State().Text || !strings.HasPrefix(got, "Claim for order") {
		t.Errorf("copied %q", got)
	}
	if !v.said.Visible() || v.model.State().Said == "" {
		t.Error("nothing says that it was copied")
	}
	k.key("M")
	k.text("by post")
	k.press(fyne.KeyReturn)
	s := v.model.State()
	if s.Sent == 0 || s.Unsent != 0 || !strings.Contains(s.Text, "by Builder, by post") || k.window.Canvas().Overlays().Top() != nil {
		t.Fatalf("marked as sent: %d sent, %d not\n%s", s.Sent, s.Unsent, s.Text)
	}
	k.key("A")
	k.press(fyne.KeyDown, fyne.KeyReturn) // the second answer, of all lines
	if got := v.model.State(); strings.Count(got.Text, "answered: credit") != got.Sent {
		t.Errorf("answered: %q\n%s", got.Error, got.Text)
	}
	k.key("A")
	k.key("Esc")
	if k.window.Canvas().Overlays().Top() != nil {
		t.Error("Esc leaves the question open")
	}
}

// A day before the arrival is refused in the question, which stays open.
func TestSentOnAWrongDay(t *testing.T) {
	k := newTypist(t, demo.Unpacked)
	ships, err := k.s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	v := k.part(ClaimPart, ships[0].ID).shown.(*claimView)
	k.key("M")
	k.window.Canvas().FocusNext()
	day, ok := k.window.Canvas().Focused().(*look.Entry)
	if !ok || day.Text != v.model.State().Today {
		t.Fatalf("the second field is %T, want that of the day", k.window.Canvas().Focused())
	}
	day.SetText("1 March 2026")
	k.press(fyne.KeyReturn)
	if k.window.Canvas().Overlays().Top() == nil || v.model.State().Sent != 0 {
		t.Error("a claim was sent before its crates came")
	}
}

// A claim is never written over another file unasked.
func TestClaimIsNotWrittenOver(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	m := NewClaimModel(b.s, b.m.data.ship.ID, t.TempDir(), func(ClaimState) {})
	m.Load()
	b.queue.Drain()
	path := filepath.Join(t.TempDir(), "claim.txt")
	if err := os.WriteFile(path, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	read := func() string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	m.Save(path)
	b.queue.Drain()
	if s := m.State(); s.Error == "" || s.Said != "" || read() != "mine" {
		t.Errorf("with nobody to ask: %q, %q; the file is %q", s.Error, s.Said, read())
	}
	var asked []string
	var replace func()
	m.AskReplace = func(files []string, do func()) { asked, replace = files, do }
	m.Save(path)
	b.queue.Drain()
	if !slices.ContainsFunc(asked, func(f string) bool { return filepath.Base(f) == "claim.txt" }) || read() != "mine" {
		t.Fatalf("asked about %q; the file is %q", asked, read())
	}
	replace()
	b.queue.Drain()
	if s := m.State(); s.Error != "" || s.Said == "" || read() != s.Text {
		t.Errorf("replaced as asked: %q, %q", s.Error, s.Said)
	}
	m.Save("  ")
	b.queue.Drain()
	if s := m.State(); s.Error == "" || s.Said != "" {
		t.Errorf("without a name: %q, %q", s.Error, s.Said)
	}
}

// In the arrival the key of a crate chooses it, and Enter goes to what is missing.
func TestArrivalByKeys(t *testing.T) {
	k := newTypist(t, demo.Furnished)
	ship, err := demo.Import(k.s.Shop)
	if err != nil {
		t.Fatal(err)
	}
	k.settle()
	v := k.part(ArrivalPart, ship.ID).shown.(*arrivalView)
	k.key("2", "3", "2")
	var chosen []string
	for _, c := range v.model.State().Crates {
		if c.Chosen {
			chosen = append(chosen, c.Name)
		}
	}
	if !slices.Equal(chosen, []string{"C3"}) || v.model.State().Wants != DamageField {
		t.Fatalf("2, 3 and 2 again: %q, wants %v", chosen, v.model.State().Wants)
	}
	test.Tap(v.damage.silent)
	if d := v.model.State().Damage; !d.Silent || v.damage.entry.Text != "" {
		t.Errorf("the paper is silent: %+v", d)
	}
	test.Tap(v.damage.silent)
	if d := v.model.State().Damage; d.Silent || v.model.State().Wants != DamageField {
		t.Errorf("it is not, after all: %+v", d)
	}
	test.Tap(v.damage.silent)
	test.Tap(v.shortage.silent)
	if s := v.model.State(); s.Missing != "" || len(s.Dates) != 1 {
		t.Errorf("all is said: %q, %+v", s.Missing, s.Dates)
	}
	k.key("Enter")
	after, err := k.s.Shop.Shipment(ship.ID)
	if err != nil || len(after.Deliveries) != 1 || !slices.Equal(after.Deliveries[0].Crates, []string{"C3"}) {
		t.Errorf("recorded: %+v, %v", after.Deliveries, err)
	}
}

// An arrival on a day that has passed its claims says so before it is entered.
func TestArrivalOfLongAgo(t *testing.T) {
	b := newBench(t, demo.Furnished)
	if _, err := demo.Import(b.s.Shop); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	m := NewArrivalModel(b.s, b.m.data.ship.ID, func(ArrivalState) {}, func(string) {})
	m.Load()
	b.queue.Drain()
	for _, index := range []int{-1, len(m.State().Crates)} {
		m.Toggle(index)
	}
	if got := m.State().Wants; got != CratesField {
		t.Errorf("with no crate: wants %v", got)
	}
	m.Toggle(0)
	for day, late := range map[string]bool{"13 March 2026": false, "12 March 2026": true} {
		m.SetDay(day)
		m.SetDamage(Days{Text: "5"})
		m.SetShortage(Days{Silent: true})
		// Today is 18 March: the fifth day is the last, itself included.
		if d := m.State().Dates; len(d) != 1 || (d[0].Tone == notice.Stop) != late {
			t.Errorf("%s: %+v, want it late: %v", day, d, late)
		}
	}
}
