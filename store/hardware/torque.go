package hardware

import (
	"slices"
	"strconv"
	"strings"

	"stowright/assets/standards"
)

// InchPounds is a torque in whole inch-pounds.
type InchPounds int

func (t InchPounds) String() string { return strconv.Itoa(int(t)) + " in-lb" }

// TorqueRange is the torques recommended for installation.
type TorqueRange struct{ Low, High InchPounds }

func (r TorqueRange) String() string {
	return strconv.Itoa(int(r.Low)) + " to " + r.High.String()
}

// Torque is one row of the torque table: oil-free cadmium-plated threads, bolts
// loaded mainly in shear.
type Torque struct {
	Thread     string // "10-32"
	Fine       bool
	Tension    TorqueRange // with tension nuts: MS20365, AN310
	Shear      TorqueRange // with shear nuts: MS20364, AN320
	MaxTension InchPounds  // most allowable
	MaxShear   InchPounds
	Estimated  string // what the table itself marks as estimated
	Source     string
	Checked    int
}

// Torques is the table, fine threads first, each in ascending size.
func (c *Catalog) Torques() []Torque { return slices.Clone(c.torques) }

// Torque is the row of a thread such as "10-32".
func (c *Catalog) Torque(thread string) (Torque, bool) {
	for _, t := range c.torques {
		if t.Thread == threadKey(thread) {
			return t, true
		}
	}
	return Torque{}, false
}

// torqueFor is the row for a bolt series that the table is for: steel bolts of
// fine thread with nuts on them. Its columns name MS20365, AN310, MS20364 and
// AN320. One inch is left out: sources disagree about that thread.
func (c *Catalog) torqueFor(s *series) (Torque, bool) {
	if s.look != "hex bolt" && s.look != "clevis bolt" || strings.HasPrefix(s.style, "deep") || strings.Contains(s.style, "A286") || s.size == "1-14" {
		return Torque{}, false
	}
	return c.Torque(s.size)
}

// Names of the torque fields.
const (
	TorqueTension = "torque_tension_nut"
	TorqueShear   = "torque_shear_nut"
)

// torqueFields are the row as facts of a piece, each with the short cautions.
func (t *Torque) torqueFields(tension, shear bool) []Field {
	const with = ": oil-free cadmium-plated threads; add the drag of a self-locking nut; the kit maker's torque governs"
	from := cite{t.Source, t.Checked}
	var out []Field
	if tension {
		out = append(out, textField(TorqueTension, t.Tension.String()+", most allowable "+t.MaxTension.String()+with, from))
	}
	if shear {
		text := t.Shear.String() + ", most allowable " + t.MaxShear.String() + with
		if t.Estimated != "" {
			text += "; " + t.Estimated
		}
		out = append(out, textField(TorqueShear, text, from))
	}
	return out
}

// torqueFacts puts the torque on the bolts and nuts that the table is for.
func (ld *loader) torqueFacts() {
	for _, name := range ld.c.names {
		s := ld.c.series[name]
		if t, ok := ld.c.torqueFor(s); ok {
			s.last = append(s.last, t.torqueFields(s.look == "hex bolt", true)...)
		}
	}
	for name, tension := range map[string]bool{"AN310": true, "AN365": true, "MS20365": true, "AN320": false, "AN364": false, "MS20364": false} {
		for _, c := range ld.c.series[name].nums[0].list {
			if t, ok := ld.c.Torque(c.words); ok {
				c.fields = append(c.fields, t.torqueFields(tension, !tension)...)
			}
		}
	}
}

// torqued says that a torque of the table is for this material: plated steel.
func (p *piece) torqued() bool {
	l := p.word(Material)
	return l == nil || l.text == ""
}

// TorqueCautions must be shown with every torque.
func TorqueCautions() []Finding {
	return []Finding{
		{Text: "the kit maker's torque governs; this table is for when none is given", Source: "AC 43.13-1B par. 7-40 i", Checked: 1},
		{Text: "measure the friction drag of a self-locking nut with the wrench and add it to the table value", Source: "AC 43.13-1B par. 7-40", Checked: 2},
		{Text: "the table is for clean, dry, oil-free cadmium-plated threads", Source: "AC 43.13-1B Table 7-1", Checked: 2},
		{Text: "castle nut: start at the minimum plus drag and never pass the maximum plus drag; change washer or nut instead", Source: "AC 43.13-1B par. 7-40 f", Checked: 2},
		{Text: "use a wrench that was calibrated within the year", Source: "common practice"},
	}
}

func (ld *loader) torqueTable() {
	for _, r := range ld.rows("torque_ac4313_table_7_1") {
		number := func(column string) InchPounds { return InchPounds(ld.whole(r, column)) }
		ld.c.torques = append(ld.c.torques, Torque{
			Thread: r.Get("thread"), Fine: r.Get("series") == "fine",
			Tension:    TorqueRange{number("tension_nut_min_inlb"), number("tension_nut_max_inlb")},
			Shear:      TorqueRange{number("shear_nut_min_inlb"), number("shear_nut_max_inlb")},
			MaxTension: number("max_allowable_tension_nut_inlb"), MaxShear: number("max_allowable_shear_nut_inlb"),
			Estimated: r.Get("estimated_flag"), Source: r.Source(), Checked: r.Checked("checked"),
		})
	}
}

func (ld *loader) whole(r standards.Row, column string) int {
	n, err := strconv.Atoi(r.Get(column))
	if err != nil {
		ld.fail(err)
	}
	return n
}
