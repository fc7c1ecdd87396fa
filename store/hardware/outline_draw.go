package hardware

import (
	"strings"

	"stowright/store/measure"
)

// drawing collects the views of one piece.
type drawing struct {
	r   Result
	out Outline
}

func (d *drawing) length(name string) measure.Length {
	f, _ := d.r.Field(name)
	return f.Length
}

func (d *drawing) text(name string) string {
	f, _ := d.r.Field(name)
	return f.Text
}

func (d *drawing) note(text string) { d.out.Notes = append(d.out.Notes, text) }

func (d *drawing) view(v View) { d.out.Views = append(d.out.Views, v) }

// diameter is the nominal diameter, from the thread field where there is no other.
func (d *drawing) diameter() measure.Length { return d.length(Diameter) }

// Room for the dimension lines beside a view.
const aside = measure.Inch / 4

// bolt draws the side, shank to the right of the head, and the head from above.
func (d *drawing) bolt() {
	dia, long, grip := d.diameter(), d.length(LengthField), d.length(Grip)
	if long == 0 && grip != 0 {
		long = grip + d.length(ThreadLength)
	}
	if dia == 0 || long == 0 {
		return
	}
	flats, high := d.length(AcrossFlats), d.length(HeadHeight)
	on := LayerOutline
	if flats == 0 || high == 0 {
		on, flats, high = LayerNotional, 2*dia, 2*dia/3
		d.note("the head is drawn in proportion: no published size in the tables here")
	}
	side := View{Name: "side"}
	half := corners(flats) / 2
	if d.roundHead() {
		half = flats / 2
	}
	side.box(on, Point{-high, -half}, Point{0, half})
	if on == LayerOutline && !d.roundHead() {
		for _, y := range [2]measure.Length{-half / 2, half / 2} {
			side.line(on, Point{-high, y}, Point{0, y})
		}
	}
	side.box(LayerOutline, Point{0, -dia / 2}, Point{long, dia / 2})
	d.threads(&side, dia, grip, long)
	side.line(LayerCentre, Point{-high - dia/4, 0}, Point{long + dia/4, 0})
	side.size("length "+short(long), Point{0, -half}, Point{long, -half}, -2*aside)
	if grip != 0 {
		side.size("grip "+short(grip), Point{0, -half}, Point{grip, -half}, -aside)
	} else {
		d.note("grip unknown: where the thread begins is not drawn")
	}
	side.size(short(dia), Point{long, -dia / 2}, Point{long, dia / 2}, -aside)
	d.view(side)
	d.head(on, flats)
	if strings.HasPrefix(d.text(ShankDrilled), "yes") {
		d.note("drilled for a cotter pin; no published figure of where the hole lies, so it is not drawn")
	}
}

func (d *drawing) roundHead() bool {
	s := d.text(HeadStyle)
	return !strings.Contains(s, "hex")
}

// threads marks the threaded part by its root lines. Source of the depth: ASME
// B1.1, 1.0825 over threads per inch taken off the diameter.
func (d *drawing) threads(v *View, dia, grip, long measure.Length) {
	_, tpi := pitch(d.text(Thread))
	if grip == 0 || grip >= long || tpi == 0 {
		return
	}
	root := dia/2 - measure.Length(int64(measure.Inch)*10825/20000/int64(tpi))
	v.line(LayerOutline, Point{grip, -dia / 2}, Point{grip, dia / 2})
	for _, y := range [2]measure.Length{-root, root} {
		v.line(LayerThread, Point{grip, y}, Point{long, y})
	}
}

// pitch reads the size and the threads per inch of a thread text; 0 for none.
func pitch(text string) (string, int) {
	text = threadKey(text)
	i := strings.LastIndexByte(text, '-')
	if i < 0 {
		return "", 0
	}
	return text[:i], leadingNumber(text[i+1:]) / 10
}

// head draws the head from above with its marking.
func (d *drawing) head(on Layer, flats measure.Length) {
	v := View{Name: "head"}
	if d.roundHead() {
		v.circle(on, Point{}, flats/2)
	} else {
		v.hexagon(on, Point{}, flats)
		v.size("across flats "+short(flats), Point{-corners(flats) / 2, -flats / 2}, Point{-corners(flats) / 2, flats / 2}, aside)
	}
	arm := flats / 5
	mark := d.text(HeadMarking)
	switch {
	case mark == "raised dash or cross":
		v.line(LayerOutline, Point{-arm, 0}, Point{arm, 0})
		v.line(LayerOutline, Point{0, -arm}, Point{0, arm})
	case strings.HasPrefix(mark, "single"):
		v.line(LayerOutline, Point{-arm, 0}, Point{arm, 0})
	case strings.HasPrefix(mark, "two"):
		v.line(LayerOutline, Point{-arm, arm / 2}, Point{arm, arm / 2})
		v.line(LayerOutline, Point{-arm, -arm / 2}, Point{arm, -arm / 2})
	case mark == "triangle":
		v.loop(LayerOutline, Point{-arm, -arm}, Point{arm, -arm}, Point{0, arm})
	}
	if strings.HasPrefix(d.text(HeadDrilled), "yes") {
		v.line(LayerHidden, Point{-flats / 2, flats / 20}, Point{flats / 2, flats / 20})
		v.line(LayerHidden, Point{-flats / 2, -flats / 20}, Point{flats / 2, -flats / 20})
	}
	d.view(v)
}

// shank draws a plain round shank with a notional head: over all where the
// head is countersunk, under it where it stands proud.
func (d *drawing) shank(dia, long measure.Length) {
	side := View{Name: "side"}
	head := View{Name: "head"}
	half := dia // a head of twice the diameter
	if d.text(CountersinkAngle) != "" {
		half = 19 * dia / 20
		// A 100 degree cone is as deep as its overhang times the cotangent of 50 degrees.
		deep := measure.Length(int64(half-dia/2) * 839_100 / 1_000_000)
		side.loop(LayerNotional, Point{0, -half}, Point{deep, -dia / 2}, Point{deep, dia / 2}, Point{0, half})
		side.box(LayerOutline, Point{min(deep, long), -dia / 2}, Point{long, dia / 2})
		side.size(short(long)+" over all", Point{0, -half}, Point{long, -half}, -aside)
	} else {
		high := 2 * dia / 5
		side.loop(LayerNotional, Point{0, -half}, Point{-high / 2, -half}, Point{-high, -half / 2}, Point{-high, half / 2}, Point{-high / 2, half}, Point{0, half})
		side.box(LayerOutline, Point{0, -dia / 2}, Point{long, dia / 2})
		side.size(short(long)+" under the head", Point{0, -half}, Point{long, -half}, -aside)
	}
	side.line(LayerCentre, Point{-dia / 2, 0}, Point{long + dia/4, 0})
	side.size(short(dia), Point{long, -dia / 2}, Point{long, dia / 2}, -aside)
	head.circle(LayerNotional, Point{}, half)
	d.note("the head is drawn in proportion: no published size in the tables here")
	d.view(side)
	d.view(head)
}

func (d *drawing) rivet() {
	dia, long := d.diameter(), d.length(LengthField)
	if dia == 0 || long == 0 {
		return
	}
	d.shank(dia, long)
	head := &d.out.Views[1]
	switch mark := d.text(HeadMarking); {
	case mark == "dimple":
		head.circle(LayerOutline, Point{}, dia/6)
	case strings.HasPrefix(mark, "raised dot"):
		head.circle(LayerOutline, Point{}, dia/8)
	case strings.HasPrefix(mark, "two raised"):
		head.line(LayerOutline, Point{-dia / 2, 0}, Point{-dia / 6, 0})
		head.line(LayerOutline, Point{dia / 6, 0}, Point{dia / 2, 0})
	case strings.HasPrefix(mark, "raised cross"):
		head.line(LayerOutline, Point{-dia / 3, 0}, Point{dia / 3, 0})
		head.line(LayerOutline, Point{0, -dia / 3}, Point{0, dia / 3})
	}
}

func (d *drawing) screw() {
	dia, long := d.diameter(), d.length(LengthField)
	if long == 0 {
		long = d.length(Grip)
		d.note("only the grip is drawn: the length is not in the tables here")
	}
	if dia == 0 || long == 0 {
		return
	}
	d.shank(dia, long)
	if head := &d.out.Views[1]; d.text(Recess) == "cross" {
		head.line(LayerOutline, Point{-dia / 2, 0}, Point{dia / 2, 0})
		head.line(LayerOutline, Point{0, -dia / 2}, Point{0, dia / 2})
	}
}

// blindRivet draws the shank at the thickest grip only: its length is not in
// the tables.
func (d *drawing) blindRivet() {
	if dia, grip := d.diameter(), d.length(Grip); dia != 0 && grip != 0 {
		d.shank(dia, grip)
		d.out.Views[0].Dimensions[0].Label = "thickest grip " + short(grip)
		d.note("only the thickest grip is drawn: the length of the shell is not in the tables here")
	}
}

func (d *drawing) nut() {
	dia := d.diameter()
	if dia == 0 {
		return
	}
	v := View{Name: "top"}
	flats, on := d.length(AcrossFlats), LayerOutline
	if flats == 0 {
		flats, on = 19*dia/10, LayerNotional
		d.note("only the thread is drawn to size: across flats is not in the tables here")
	}
	v.hexagon(on, Point{}, flats)
	v.circle(LayerThread, Point{}, dia/2)
	v.size(short(dia), Point{-dia / 2, 0}, Point{dia / 2, 0}, flats)
	d.view(v)
}

func (d *drawing) washer() {
	in, out, thick := d.length(InsideDiameter), d.length(OutsideDiameter), d.length(Thickness)
	if in == 0 || out == 0 {
		return
	}
	top := View{Name: "top"}
	top.circle(LayerOutline, Point{}, out/2)
	top.circle(LayerOutline, Point{}, in/2)
	top.size("outside "+short(out), Point{-out / 2, 0}, Point{out / 2, 0}, -out/2-aside)
	top.size("inside "+short(in), Point{-in / 2, 0}, Point{in / 2, 0}, out/2+aside)
	d.view(top)
	if thick != 0 {
		side := View{Name: "side"}
		side.box(LayerOutline, Point{0, -out / 2}, Point{thick, out / 2})
		side.size("thick "+short(thick), Point{0, -out / 2}, Point{thick, -out / 2}, -aside)
		d.view(side)
	}
}

func (d *drawing) cotterPin() {
	dia, long := d.diameter(), d.length(LengthField)
	if dia == 0 || long == 0 {
		return
	}
	side := View{Name: "side"}
	side.box(LayerOutline, Point{0, -dia / 2}, Point{long, dia / 2})
	side.line(LayerOutline, Point{0, 0}, Point{long, 0})
	side.circle(LayerNotional, Point{-dia, 0}, dia)
	side.size(short(long), Point{0, -dia}, Point{long, -dia}, -aside)
	side.size(short(dia), Point{long, -dia / 2}, Point{long, dia / 2}, -aside)
	d.note("the eye is drawn in proportion: no published size in the tables here")
	d.view(side)
}

func (d *drawing) clevisPin() {
	if dia, long := d.diameter(), d.length(LengthField); dia != 0 && long != 0 {
		d.shank(dia, long)
	}
}

func (d *drawing) ring() {
	in, section := d.length(InsideDiameter), d.length(CrossSection)
	if in == 0 || section == 0 {
		return
	}
	top := View{Name: "top"}
	top.circle(LayerOutline, Point{}, in/2)
	top.circle(LayerOutline, Point{}, in/2+section)
	top.size("inside "+short(in), Point{-in / 2, 0}, Point{in / 2, 0}, in/2+section+aside)
	d.view(top)
}

// round draws the one diameter that is known: of wire, tube, cable or loop.
func (d *drawing) round() {
	for _, name := range []string{Diameter, InsideDiameter, TubeDiameter, CableDiameter} {
		if dia := d.length(name); dia != 0 {
			v := View{Name: "top"}
			v.circle(LayerOutline, Point{}, dia/2)
			v.size(strings.ReplaceAll(name, "_", " ")+" "+short(dia), Point{-dia / 2, 0}, Point{dia / 2, 0}, dia/2+aside)
			d.view(v)
			return
		}
	}
}
