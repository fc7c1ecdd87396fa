package hardware

import (
	"errors"
	"fmt"
	"strings"

	"stowright/store/measure"
)

func (c *Catalog) joint(want Joint) (*joint, error) {
	j := &joint{Joint: want, shopList: map[string]bool{}}
	if len(want.Layers) == 0 || len(want.Layers) > maxLayers {
		return nil, fmt.Errorf("%d layers: give the thickness of 1 to %d parts that the bolt goes through", len(want.Layers), maxLayers)
	}
	for i, l := range want.Layers {
		if l.Thickness <= 0 || l.Thickness > 12*measure.Inch {
			return nil, fmt.Errorf("layer %d: thickness %s is not between 0 and 12 in", i+1, l.Thickness)
		}
		j.stack += l.Thickness
	}
	name := strings.ToUpper(strings.ReplaceAll(strings.TrimSpace(want.Series), " ", ""))
	j.s = c.series[name]
	if j.s == nil || j.s.kind != Bolt || j.s.nums[1] != nil {
		return nil, fmt.Errorf("series %q is not a bolt series of the tables, such as AN3 or NAS6204", want.Series)
	}
	_, j.tpi = pitch(j.s.size)
	if j.tpi == 0 {
		return nil, fmt.Errorf("series %s has no thread in the tables", name)
	}
	j.pitch = measure.Inch / measure.Length(j.tpi)
	for _, d := range want.Shop {
		if canonical, ok := c.Canonical(d); ok {
			j.shopList[canonical] = true
		}
	}
	if err := c.jointNut(j); err != nil {
		return nil, err
	}
	return j, c.jointWashers(j)
}

// jointNut looks the nut up and its height.
func (c *Catalog) jointNut(j *joint) error {
	j.nutHigh = j.NutHeight
	if j.Nut == "" {
		return nil
	}
	p, no := c.parse(j.Nut)
	if no != nil {
		return errors.New("nut: " + no.problem)
	}
	if p.s == nil || p.s.kind != Nut && p.s.kind != PlateNut {
		return fmt.Errorf("nut %q is not a nut of the tables", j.Nut)
	}
	if f := p.fact(Thread); f != nil && threadKey(f.Text) != threadKey(j.s.size) {
		return fmt.Errorf("nut %s has thread %s, the bolt %s", p.canonical(), f.Text, j.s.size)
	}
	j.nut, j.drilled, j.plate = &p, p.s.look == "castle nut", p.s.kind == PlateNut
	if j.plate && len(j.NutWashers) > 0 {
		return fmt.Errorf("%s is a plate nut: no washer goes under it, shims go under the plate (%s)", p.canonical(), rulePlate.source)
	}
	if f := p.fact(Height); f != nil && j.nutHigh == 0 {
		j.nutHigh, j.nutMark = f.Length, f.Mark()
	}
	return nil
}

// jointWashers looks the washers up that must be there.
func (c *Catalog) jointWashers(j *joint) error {
	err := c.plainWashers(j)
	if err != nil {
		return err
	}
	if j.head, err = c.washerUses(j, j.HeadWashers); err != nil {
		return err
	}
	if j.under, err = c.washerUses(j, j.NutWashers); err != nil {
		return err
	}
	if len(j.head)+len(j.under) > maxWashers {
		return fmt.Errorf("%d washers: %s", len(j.head)+len(j.under), ruleWashers.source)
	}
	return nil
}

// plainWashers finds the thick and the thin washer of the bolt.
func (c *Catalog) plainWashers(j *joint) error {
	for _, dash := range c.series["AN960"].nums[0].list {
		p := piece{s: c.series["AN960"], nums: [2]*code{dash}}
		if !j.goesThrough(&p) {
			continue
		}
		use, err := c.washerUses(j, []string{c.preferred(&p, j.shopList)})
		if err != nil {
			return err
		}
		if strings.HasSuffix(dash.text, "L") {
			j.thin = &use[0]
		} else {
			j.thick = &use[0]
		}
	}
	return nil
}

// preferred is the number by which a washer is at hand: the old one if only
// that is in the shop, else the newer.
func (c *Catalog) preferred(p *piece, shop map[string]bool) string {
	old := p.canonical()
	if next := p.successor(); next != nil && !shop[old] {
		return next.Designation
	}
	return old
}

// goesThrough says that the bolt goes through the washer.
func (j *joint) goesThrough(p *piece) bool {
	f := p.fact(Fits)
	size, _ := pitch(j.s.size)
	if len(size) <= 2 && size != "1" {
		size = "No. " + size
	}
	return f != nil && f.Text == size+" bolt"
}

func (c *Catalog) washerUses(j *joint, designations []string) ([]WasherUse, error) {
	var out []WasherUse
	for _, d := range designations {
		if plain := map[string]*WasherUse{"thick": j.thick, "thin": j.thin}[d]; plain != nil {
			out = append(out, *plain)
			continue
		}
		p, no := c.parse(d)
		if no != nil {
			return nil, errors.New("washer: " + no.problem)
		}
		if p.s == nil || p.s.kind != Washer || p.figure(Thickness) == 0 {
			return nil, fmt.Errorf("washer %q is not a washer of known thickness", d)
		}
		if !j.goesThrough(&p) {
			return nil, fmt.Errorf("washer %s is for a %s, not for %s", p.canonical(), p.fact(Fits).Text, j.s.name)
		}
		out = append(out, WasherUse{p.canonical(), p.figure(Thickness), p.fact(Thickness).Mark()})
	}
	return out, nil
}
