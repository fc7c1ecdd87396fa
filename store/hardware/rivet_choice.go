package hardware

import (
	"fmt"
	"slices"

	"stowright/store/measure"
)

// Seam is what a rivet is wanted for.
type Seam struct {
	Layers   []Ply
	Diameter measure.Length // 0 chooses by rule
	Material string         // letter of the rivet; "" is AD
	Shop     []string       // designations at hand, preferred
}

// RivetChoice is one rivet for the seam.
type RivetChoice struct {
	Designation, Title, Mark string
	InShop                   bool
	Flush                    bool
	ByRule                   bool // of the diameter that the rule gives
	Diameter, Length         measure.Length
	Wanted                   measure.Length // thickness and one and a half diameters
	// Past is how much shank stands past the sheets before driving.
	Past         measure.Length
	EdgeDistance measure.Length // least, hole centre to edge
	// The shop head to aim for, and the limits of a published course table; the
	// limits are 0 where it has none.
	HeadWide, HeadHigh                       measure.Length
	WideLeast, WideMost, HighLeast, HighMost measure.Length
	Drill                                    string // usual drill, "" for none
	Findings                                 []Finding
	Section                                  Outline
}

// RivetAnswer is the rivets for a seam, the rule's own first.
type RivetAnswer struct {
	Thickness, Thickest measure.Length
	ByRule              measure.Length // three times the thickest sheet
	Nearest             measure.Length // the size of Table 4-11 nearest to that
	Choices             []RivetChoice
	Cautions            []Finding
}

// The rules that the chooser goes by.
var (
	ruleDiameter = cite{"AC 43.13-1B par. 4-58 g and Table 4-11 (sizes); airframe course text", 2}
	ruleOther    = cite{"NAVEDTRA 14018", 1}
	ruleExample  = cite{"AC 43.13-1B par. 4-58 g", 1}
	rulePitch    = cite{"NAVEDTRA 14018; airframe course text", 2}
	ruleRows     = cite{"airframe course text", 1}
	ruleLength   = cite{"AC 43.13-1B par. 4-57; repair course text (thickness and 1.5 D)", 1}
	ruleHead     = cite{"AC 43.13-1B par. 4-57", 3}
	ruleEdge     = cite{"AC 43.13-1B par. 4-57; TM 1-1520-240-BD par. 2-5", 2}
	ruleEdgeSunk = cite{"published course text (2.5 D for countersunk rivets)", 1}
	ruleLimits   = cite{"published repair-course table (solid rivets)", 1}
	ruleHalf     = cite{"AC 43.13-1B par. 4-57 (half sizes)", 1}
)

// Sheets thinner than this are refused: Table 4-11 begins with 0.016, and what
// is under 0.010 is foil (common practice).
const thinnestSheet = measure.Inch / 100

// ChooseRivet gives the rivets for a seam: diameter by the thickest sheet,
// length by thickness and diameter in half sixteenths, flush and protruding,
// with edge distance and the shop head to aim for.
func (c *Catalog) ChooseRivet(want Seam) (RivetAnswer, error) {
	answer, err := c.seam(&want)
	if err != nil {
		return answer, err
	}
	dias := c.series["AN470"].nums[0].list
	dias = slices.DeleteFunc(slices.Clone(dias), func(d *code) bool {
		return d.fields[0].Length != want.Diameter && !slices.Contains(structuralRivets[:], d.fields[0].Length)
	})
	if over := answer.ByRule - answer.Nearest; want.Diameter == 0 && over > measure.Inch/32 {
		return answer, fmt.Errorf("the thickest sheet is %s: about three times that is more than the largest rivet of AC 43.13-1B Table 4-11, 1/4; it asks for a bolt", short(answer.Thickest))
	}
	rule := slices.IndexFunc(dias, func(d *code) bool { return d.fields[0].Length == answer.Nearest })
	if want.Diameter != 0 {
		rule = slices.IndexFunc(dias, func(d *code) bool { return d.fields[0].Length == want.Diameter })
		if rule < 0 {
			return answer, fmt.Errorf("diameter %s is not a rivet of the tables: they are 1/16 to 3/8 in steps of 1/32", want.Diameter)
		}
	}
	shop := map[string]bool{}
	for _, d := range want.Shop {
		if canonical, ok := c.Canonical(d); ok {
			shop[canonical] = true
		}
	}
	for _, names := range [2][2]string{{"AN470", "MS20470"}, {"AN426", "MS20426"}} {
		for i := max(rule-1, 0); i <= min(rule+1, len(dias)-1); i++ {
			k, err := c.rivetChoice(names, dias[i], &want, shop, &answer)
			if err != nil {
				return answer, err
			}
			k.ByRule = i == rule
			answer.Choices = append(answer.Choices, k)
		}
	}
	slices.SortStableFunc(answer.Choices, func(a, b RivetChoice) int { return a.rank() - b.rank() })
	return answer, nil
}

func (r *RivetChoice) rank() int {
	n := 0
	if !r.ByRule {
		n += 4
	}
	if !r.InShop {
		n += 2
	}
	if r.Flush {
		n++
	}
	return n
}

// seam checks what is asked for and adds the sheets up.
func (c *Catalog) seam(want *Seam) (RivetAnswer, error) {
	answer := RivetAnswer{}
	if len(want.Layers) == 0 || len(want.Layers) > maxLayers {
		return answer, fmt.Errorf("%d sheets: give the thickness of 1 to %d", len(want.Layers), maxLayers)
	}
	for i, l := range want.Layers {
		if l.Thickness < thinnestSheet || l.Thickness > 2*measure.Inch {
			return answer, fmt.Errorf("sheet %d: thickness %s is not a sheet for a rivet: give 0.010 to 2 in each", i+1, l.Thickness)
		}
		answer.Thickness += l.Thickness
		answer.Thickest = max(answer.Thickest, l.Thickness)
	}
	answer.ByRule = 3 * answer.Thickest
	answer.Nearest = nearestRivet(answer.ByRule)
	if want.Material == "" {
		want.Material = "AD"
	}
	answer.Cautions = []Finding{
		{Text: "plans and the kit maker's instructions govern; this helps to check them"},
		finding("the diameter is about three times the thickest sheet, "+short(answer.ByRule)+": the nearest size of Table 4-11 is "+short(answer.Nearest), ruleDiameter),
		finding("another manual has the thickness of the thickest sheet as the least diameter and three times it as the most", ruleOther),
		finding("half lengths are written with .5", ruleHalf),
	}
	if answer.Thickest == 32*thou {
		answer.Cautions = append(answer.Cautions, finding("its own example takes 1/8 for a sheet of 0.032 and calls 5/32 satisfactory", ruleExample))
	}
	return answer, nil
}

// structuralRivets are the sizes of AC 43.13-1B Table 4-11.
var structuralRivets = [...]measure.Length{3 * measure.Inch / 32, measure.Inch / 8, 5 * measure.Inch / 32, 3 * measure.Inch / 16, measure.Inch / 4}

// nearestRivet is the size of Table 4-11 nearest to a diameter, the larger of
// two that are as near.
func nearestRivet(d measure.Length) measure.Length {
	best := structuralRivets[0]
	for _, size := range structuralRivets {
		off, than := size-d, best-d
		if max(off, -off) <= max(than, -than) {
			best = size
		}
	}
	return best
}

// rivetChoice makes the rivet of one diameter, by the number that is at hand.
func (c *Catalog) rivetChoice(names [2]string, dia *code, want *Seam, shop map[string]bool, answer *RivetAnswer) (RivetChoice, error) {
	d := dia.fields[0].Length
	k := RivetChoice{Diameter: d, Wanted: answer.Thickness + 3*d/2, HeadWide: 3 * d / 2, HeadHigh: d / 2, EdgeDistance: 2 * d}
	s := c.series[names[0]]
	length := nearestLength(s.nums[1].list, k.Wanted)
	p, no := c.parse(names[0] + want.Material + dia.text + "-" + length.text)
	if no != nil {
		return k, fmt.Errorf("material %q: %s", want.Material, no.problem)
	}
	k.Flush = p.fact(CountersinkAngle) != nil
	if k.Flush {
		k.EdgeDistance = 5 * d / 2
	}
	k.Designation = p.canonical()
	if newer := p.successor(); newer != nil && shop[newer.Designation] && !shop[k.Designation] {
		k.Designation = newer.Designation
	}
	r := p.result()
	k.Title, k.Mark, k.InShop = r.Title, r.Mark(), shop[k.Designation]
	k.Length = p.figure(LengthField)
	k.Past = k.Length - answer.Thickness
	c.rivetTables(&k, dia)
	k.Findings = append(k.findings(), c.seamFindings(&k, want, dia)...)
	k.Section = k.section(want.Layers, p.result())
	return k, nil
}

// nearestLength is the half sixteenth nearest to what is wanted, the longer of
// two that are as near.
func nearestLength(list []*code, wanted measure.Length) *code {
	best := list[0]
	for _, l := range list {
		off, than := l.fields[0].Length-wanted, best.fields[0].Length-wanted
		if max(off, -off) <= max(than, -than) {
			best = l
		}
	}
	return best
}

// rivetTables fills in the usual drill and the limits of the shop head.
func (c *Catalog) rivetTables(k *RivetChoice, dia *code) {
	if t, ok := c.shopHeads[dia.text]; ok {
		k.Drill = t.drill
		k.WideLeast, k.WideMost, k.HighLeast, k.HighMost = t.wideLeast, t.wideMost, t.highLeast, t.highMost
	}
}

// shopHead is what the tables say of driving one diameter.
type shopHead struct {
	drill                                    string
	wideLeast, wideMost, highLeast, highMost measure.Length

	sunkSheet measure.Length // least sheet for a machine countersink, 0 unknown
	sunkFrom  cite
	perInch   []perInch
}

// perInch is how many rivets an inch of a splice takes in a sheet.
type perInch struct {
	thick measure.Length
	sheet string
	count string
	from  cite
}

func (ld *loader) shopHeadTable() {
	byFraction := map[string]string{}
	ld.c.shopHeads = map[string]shopHead{}
	for _, r := range ld.rows("rivets_solid_diameters") {
		dash := r.Get("dash_first_number")
		byFraction[r.Get("shank_dia_fraction")] = dash
		h := shopHead{}
		if d := r.Get("usual_drill"); d != "" {
			h.drill = d + " (" + r.Get("usual_drill_dia_in") + "), " + NotCrossChecked
		}
		ld.c.shopHeads[dash] = h
	}
	for _, r := range ld.rows("rivets_shop_head_limits") {
		dash := byFraction[r.Get("shank_dia_fraction")]
		h := ld.c.shopHeads[dash]
		h.wideLeast, h.wideMost = ld.length(r.Get("shop_head_dia_min_in")), ld.length(r.Get("shop_head_dia_max_in"))
		h.highLeast, h.highMost = ld.length(r.Get("shop_head_height_min_in")), ld.length(r.Get("shop_head_height_max_in"))
		ld.c.shopHeads[dash] = h
	}
}

// seamTable reads what hangs on the sheet: which sheet can be countersunk, and
// rivets to the inch of a splice.
func (ld *loader) seamTable() {
	byLength := map[measure.Length]string{}
	for _, d := range ld.c.series["AN470"].nums[0].list {
		byLength[d.fields[0].Length] = d.text
	}
	for _, r := range ld.rows("rivets_countersink_min_sheet") {
		dash := byLength[ld.length(r.Get("rivet_dia"))]
		h := ld.c.shopHeads[dash]
		h.sunkSheet, h.sunkFrom = ld.length(r.Get("min_sheet_in")), from(r)
		ld.c.shopHeads[dash] = h
	}
	for _, r := range ld.rows("rivets_per_inch") {
		for column, size := range map[string]measure.Length{
			"rivet_3_32": structuralRivets[0], "rivet_1_8": structuralRivets[1], "rivet_5_32": structuralRivets[2], "rivet_3_16": structuralRivets[3], "rivet_1_4": structuralRivets[4],
		} {
			if n := r.Get(column); n != "" {
				h := ld.c.shopHeads[byLength[size]]
				h.perInch = append(h.perInch, perInch{ld.length(r.Get("sheet_in")), r.Get("sheet"), n, from(r)})
				ld.c.shopHeads[byLength[size]] = h
			}
		}
	}
}

// seamFindings are pitch, what a flush head needs of its sheet, and rivets to
// the inch where the conditions of the tables hold: two sheets of one thickness
// of the table, 2117 rivets with protruding heads.
func (c *Catalog) seamFindings(k *RivetChoice, want *Seam, dia *code) []Finding {
	d, t := k.Diameter, c.shopHeads[dia.text]
	out := []Finding{
		finding("pitch "+short(4*d)+" to "+short(6*d)+" is usual, never less than "+short(3*d)+", about "+short(8*d)+" at most", rulePitch),
		finding("rows apart about 75 % of the pitch, never less than "+short(5*d/2), ruleRows),
	}
	if k.Flush {
		switch outer := want.Layers[0].Thickness; {
		case t.sunkSheet == 0:
			out = append(out, Finding{Text: "dimple or countersink: unknown, no published least sheet for this diameter here"})
		case outer >= t.sunkSheet:
			out = append(out, finding("the first sheet, "+short(outer)+", can be machine countersunk: the least is "+short(t.sunkSheet), t.sunkFrom))
		default:
			out = append(out, finding("the first sheet, "+short(outer)+", is too thin to be machine countersunk (the least is "+short(t.sunkSheet)+"): dimple it", t.sunkFrom))
		}
		return out
	}
	if want.Material != "AD" || len(want.Layers) != 2 || want.Layers[0].Thickness != want.Layers[1].Thickness {
		return out
	}
	for _, n := range t.perInch {
		if n.thick == want.Layers[0].Thickness {
			out = append(out, finding("a splice in "+n.sheet+" takes "+n.count+" rivets an inch of width, and 75 % of that in a single lap sheet joint", n.from))
		}
	}
	return out
}

func (r *RivetChoice) findings() []Finding {
	out := []Finding{
		finding("length by rule "+short(r.Wanted)+"; "+short(r.Length)+" is the nearest half sixteenth and leaves "+short(r.Past)+" to drive", ruleLength),
		finding("shop head about "+short(r.HeadWide)+" wide and "+short(r.HeadHigh)+" high", ruleHead),
	}
	if r.WideLeast != 0 {
		out = append(out, finding("a good shop head is "+short(r.WideLeast)+" to "+short(r.WideMost)+" wide and "+short(r.HighLeast)+" to "+short(r.HighMost)+" high", ruleLimits))
	}
	edge := ruleEdge
	if r.Flush {
		edge = ruleEdgeSunk
	}
	out = append(out, finding("edge distance at least "+short(r.EdgeDistance)+" from the centre of the hole", edge))
	if r.Past < r.Diameter {
		out = append(out, bad("too short: less than one diameter stands past the sheets", ruleLength))
	}
	return out
}

// section draws the driven rivet through its sheets: x along the rivet from the
// face of the first sheet.
func (r *RivetChoice) section(layers []Ply, res Result) Outline {
	d := drawing{r: res}
	v := View{Name: "section"}
	dia, wide, at := r.Diameter, 3*r.Diameter, measure.Length(0)
	for _, l := range layers {
		for _, side := range [2]measure.Length{1, -1} {
			v.loop(LayerHatch, Point{at, side * dia / 2}, Point{at + l.Thickness, side * dia / 2}, Point{at + l.Thickness, side * wide}, Point{at, side * wide})
		}
		at += l.Thickness
	}
	v.box(LayerOutline, Point{0, -dia / 2}, Point{at, dia / 2})
	if r.Flush {
		half := 19 * dia / 20
		deep := measure.Length(int64(half-dia/2) * 839_100 / 1_000_000)
		v.loop(LayerNotional, Point{0, -half}, Point{deep, -dia / 2}, Point{deep, dia / 2}, Point{0, half})
	} else {
		v.loop(LayerNotional, Point{0, -dia}, Point{-dia / 5, -dia}, Point{-2 * dia / 5, -dia / 2}, Point{-2 * dia / 5, dia / 2}, Point{-dia / 5, dia}, Point{0, dia})
	}
	v.box(LayerOutline, Point{at, -r.HeadWide / 2}, Point{at + r.HeadHigh, r.HeadWide / 2})
	v.size("stack "+short(at), Point{0, -wide}, Point{at, -wide}, -aside)
	v.size("shop head "+short(r.HeadWide), Point{at + r.HeadHigh, -r.HeadWide / 2}, Point{at + r.HeadHigh, r.HeadWide / 2}, -aside)
	v.size("edge distance "+short(r.EdgeDistance), Point{0, 0}, Point{0, r.EdgeDistance}, aside)
	d.note("the manufactured head is drawn in proportion: no published size in the tables here")
	d.view(v)
	return d.out
}
