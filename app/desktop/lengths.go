package desktop

import (
	"stowright/app/notice"
	"stowright/store/measure"
)

// lengthsSwitched says what has changed about lengths, keeps it for the next time, and has the
// page show it.
func (d *Desktop) lengthsSwitched(in measure.System) {
	if d.lengthsIn != nil {
		d.lengthsIn(in)
	}
	if p, ok := d.Page().(interface{ Changed() }); ok {
		p.Changed()
	}
	said := notice.Notice{Lead: "Inches.", Text: "A plain number that is typed is in inches; mm behind it makes it millimetres. Ctrl+U changes it back."}
	if in == measure.InMillimetres {
		said.Lead, said.Text = "Millimetres.", "A plain number that is typed is in millimetres; in behind it, or a fraction, makes it inches. Published figures stay as they are, with what they convert to beside them. Ctrl+U changes it back."
	}
	d.Say(said)
}
