package hardware

import (
	"slices"
	"strconv"

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
