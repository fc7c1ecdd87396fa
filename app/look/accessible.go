package look

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/notice"
)

// What a screen reader says of the widgets. The toolkit asks for it where it is built with its
// tag accessibility, on Windows and macOS.
var (
	_ fyne.Accessible = (*KeyButton)(nil)
	_ fyne.Accessible = (*Paragraph)(nil)
	_ fyne.Accessible = (*Designation)(nil)
	_ fyne.Accessible = (*Caption)(nil)
	_ fyne.Accessible = (*StateMark)(nil)
	_ fyne.Accessible = (*Amount)(nil)
	_ fyne.Accessible = (*Answer)(nil)
	_ fyne.Accessible = (*Pill)(nil)
	_ fyne.Accessible = (*Tallies)(nil)
	_ fyne.Accessible = (*rowView)(nil)
	_ fyne.Accessible = (*Entry)(nil)
	_ fyne.Accessible = (*CardView)(nil)
	_ fyne.Accessible = (*Panel)(nil)
	_ fyne.Accessible = (*Facts)(nil)
	_ fyne.Accessible = (*Field)(nil)
	_ fyne.Accessible = (*Notice)(nil)
	_ fyne.Accessible = (*RowList)(nil)
)

// spokenIn is all that can be said of an object and what is in it, in order. The toolkit looks
// for that into containers and not into widgets, so a widget that holds others says it all.
func spokenIn(o fyne.CanvasObject) string {
	if o == nil || !o.Visible() {
		return ""
	}
	switch c := o.(type) {
	case *fyne.Container:
		return spokenAll(c.Objects)
	case *container.Scroll:
		return spokenIn(c.Content)
	case fyne.Accessible:
		return c.AccessibilityLabel()
	case holder:
		return spokenAll(c.held())
	}
	return ""
}

func spokenAll(objects []fyne.CanvasObject) string {
	parts := make([]string, 0, len(objects))
	for _, o := range objects {
		parts = append(parts, spokenIn(o))
	}
	return spoken(parts...)
}

// AccessibilityLabel is the whole card, from its name to its actions.
func (v *CardView) AccessibilityLabel() string { return spokenAll(v.held()) }

// AccessibilityRole is that of a text.
func (v *CardView) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the name of the field with what is in it and what is said of that.
func (f *Field) AccessibilityLabel() string { return spokenAll(f.held()) }

// AccessibilityRole is that of a text.
func (f *Field) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is what the scroller holds.
func (s *Scroller) AccessibilityLabel() string { return spokenAll(s.held()) }

// AccessibilityRole is that of a text.
func (s *Scroller) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is what the panel holds.
func (p *Panel) AccessibilityLabel() string { return spokenAll(p.held()) }

// AccessibilityRole is that of a text.
func (p *Panel) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is all facts, with their marks and sources.
func (f *Facts) AccessibilityLabel() string { return spokenIn(f.body) }

// AccessibilityRole is that of a text.
func (f *Facts) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the notice, and its tone where it warns.
func (n *Notice) AccessibilityLabel() string {
	return spokenMark(notice.Mark{Word: n.Text(), Tone: n.tone})
}

// AccessibilityRole is that of a text.
func (n *Notice) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is how many rows the list has and the one that is chosen.
func (l *RowList) AccessibilityLabel() string {
	count := strconv.Itoa(l.count) + " rows"
	if l.count == 1 {
		count = "1 row"
	}
	row, ok := l.Chosen()
	if !ok {
		return count
	}
	return spoken(count, (&rowView{list: l, index: l.chosen, row: row}).AccessibilityLabel())
}

// AccessibilityRole is that of a text.
func (l *RowList) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// spoken joins what is said one after the other; what is empty is left out.
func spoken(parts ...string) string {
	var said []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			said = append(said, p)
		}
	}
	return strings.Join(said, ", ")
}

// AccessibilityLabel is what the button says, with its key and whether it can be used.
func (b *KeyButton) AccessibilityLabel() string {
	key, off := "", ""
	if b.key != "" {
		key = "key " + b.key
	}
	if b.off {
		off = "not now"
	}
	return spoken(b.label, key, off)
}

// AccessibilityRole is that of a button, or of a link.
func (b *KeyButton) AccessibilityRole() fyne.AccessibleRole {
	if b.rank == Link {
		return fyne.AccessibleRoleLink
	}
	return fyne.AccessibleRoleButton
}

// AccessibilityLabel is the text.
func (p *Paragraph) AccessibilityLabel() string { return p.Text() }

// AccessibilityRole is that of a text.
func (p *Paragraph) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the designation.
func (d *Designation) AccessibilityLabel() string { return d.text }

// AccessibilityRole is that of a text.
func (d *Designation) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the label with its words.
func (c *Caption) AccessibilityLabel() string { return strings.TrimSpace(c.label + " " + c.words) }

// AccessibilityRole is that of a text.
func (c *Caption) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the state, and what its shape and colour say to others.
func (s *StateMark) AccessibilityLabel() string { return spokenMark(s.mark) }

// AccessibilityRole is that of a text.
func (s *StateMark) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// spokenMark is a state in words.
func spokenMark(m notice.Mark) string {
	if m.Word == "" {
		return ""
	}
	return spoken(m.Word, map[notice.Tone]string{notice.Warn: "careful", notice.Stop: "stop"}[m.Tone])
}

// AccessibilityLabel is how many there are and how that is known.
func (a *Amount) AccessibilityLabel() string {
	return spoken(a.quantity+" "+a.unit, a.known.Text())
}

// AccessibilityRole is that of a text.
func (a *Amount) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the place and the amount, then what is known of both.
func (a *Answer) AccessibilityLabel() string {
	return spoken(a.at.text, a.quantity+" "+a.unit, a.around.Text(), a.known.Text())
}

// AccessibilityRole is that of a text.
func (a *Answer) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the state, with its key.
func (p *Pill) AccessibilityLabel() string {
	if p.key == "" {
		return p.text
	}
	return spoken(p.text, "key "+p.key)
}

// AccessibilityRole is that of a button.
func (p *Pill) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

// AccessibilityLabel is the table, row by row.
func (t *Tallies) AccessibilityLabel() string {
	var rows []string
	for _, tally := range t.tallies {
		rows = append(rows, tally.Words+" "+tally.Figure)
	}
	return spoken(rows...)
}

// AccessibilityRole is that of a text.
func (t *Tallies) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// AccessibilityLabel is the row, cell by cell under its title, and whether it is chosen.
func (v *rowView) AccessibilityLabel() string {
	var cells []string
	for i, cell := range v.row.Cells {
		said := spoken(cell.Text, cell.Sub, spokenMark(cell.Mark))
		if i < len(v.list.columns) && v.list.columns[i].Title != "" && said != "" && !v.header {
			said = v.list.columns[i].Title + " " + said
		}
		cells = append(cells, said)
	}
	if !v.header && v.index == v.list.chosen {
		cells = append(cells, "chosen")
	}
	return spoken(cells...)
}

// AccessibilityRole is that of something to press, of the header that of a text.
func (v *rowView) AccessibilityRole() fyne.AccessibleRole {
	if v.header {
		return fyne.AccessibleRoleText
	}
	return fyne.AccessibleRoleButton
}

// AccessibilityLabel is what was typed with its unit, or what the field takes.
func (e *Entry) AccessibilityLabel() string {
	if e.Text == "" {
		return spoken(e.PlaceHolder, e.Unit())
	}
	return spoken(e.Text, e.Unit())
}

// AccessibilityRole is that of a text: the toolkit has none for a field yet.
func (e *Entry) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }
