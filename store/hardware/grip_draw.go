package hardware

import "stowright/store/measure"

// section draws the joint cut along the bolt: x runs along it from under the
// head, everything in real size.
func (j *joint) section(p *piece, b *BoltChoice) Outline {
	d := drawing{r: p.result()}
	dia := d.diameter()
	flats, high := d.length(AcrossFlats), d.length(HeadHeight)
	headOn := LayerOutline
	if flats == 0 || high == 0 {
		headOn, flats, high = LayerNotional, 2*dia, 2*dia/3
		d.note("the head is drawn in proportion: no published size in the tables here")
	}
	wide := corners(flats)
	v := View{Name: "section"}
	v.box(headOn, Point{-high, -wide / 2}, Point{0, wide / 2})
	at := measure.Length(0)
	for _, w := range b.HeadWashers {
		at = j.slice(&v, at, w.Thickness, [2]measure.Length{dia / 2, 9 * wide / 16})
	}
	from := at
	for _, l := range j.Layers {
		at = j.slice(&v, at, l.Thickness, [2]measure.Length{dia / 2, wide})
		if l.Name != "" {
			v.size(l.Name+" "+short(l.Thickness), Point{at - l.Thickness, wide}, Point{at, wide}, aside)
		}
	}
	through := at
	for _, w := range b.NutWashers {
		at = j.slice(&v, at, w.Thickness, [2]measure.Length{dia / 2, 9 * wide / 16})
	}
	nut, nutOn := j.nutHigh, LayerOutline
	if nut == 0 {
		nut, nutOn = dia, LayerNotional
		d.note("the height of the nut is not known: it is drawn as high as the bolt is thick")
	}
	for _, side := range [2]measure.Length{1, -1} {
		v.loop(nutOn, Point{at, side * dia / 2}, Point{at + nut, side * dia / 2}, Point{at + nut, side * wide / 2}, Point{at, side * wide / 2})
	}
	v.box(LayerOutline, Point{0, -dia / 2}, Point{b.Length, dia / 2})
	d.threads(&v, dia, b.Grip, b.Length)
	v.line(LayerCentre, Point{-high - dia/4, 0}, Point{b.Length + dia/4, 0})
	v.size("grip "+short(b.Grip), Point{0, -wide}, Point{b.Grip, -wide}, -aside)
	v.size("stack "+short(j.stack), Point{from, -wide}, Point{through, -wide}, -2*aside)
	v.size("length "+short(b.Length), Point{0, -wide}, Point{b.Length, -wide}, -3*aside)
	d.cotterHole(&v, p, b)
	d.view(v)
	return d.out
}

// slice draws one layer or washer above and below the bolt, hatched.
func (j *joint) slice(v *View, at, thick measure.Length, reach [2]measure.Length) measure.Length {
	for _, side := range [2]measure.Length{1, -1} {
		v.loop(LayerHatch, Point{at, side * reach[0]}, Point{at + thick, side * reach[0]}, Point{at + thick, side * reach[1]}, Point{at, side * reach[1]})
	}
	return at + thick
}

// cotterHole draws the hole where a sheet gives its place: the NAS bolts only.
func (d *drawing) cotterHole(v *View, p *piece, b *BoltChoice) {
	hole, end := p.fact(CotterHole), p.fact(CotterFromEnd)
	if hole == nil || end == nil || hole.Length == 0 || end.Length == 0 {
		return
	}
	v.circle(LayerHidden, Point{b.Length - end.Length, 0}, hole.Length/2)
}
