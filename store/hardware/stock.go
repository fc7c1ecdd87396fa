package hardware

import (
	"strings"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// Stock is called by its alloy, its form and its sizes, in the words of the
// trade: "2024-T3 .032", "4130 tube 3/4 x .049". They are read as sizes: nothing
// is said of strength, nor of what the piece is really made of.

// alloy is a metal that stock is called by.
type alloy struct {
	metal string
	from  cite
}

// forms are the words for the form of stock, as titles say them.
var forms = map[string]string{
	"SHEET": "sheet", "PLATE": "plate", "TUBE": "tube", "TUBING": "tube", "ROD": "rod", "BAR": "bar", "ANGLE": "angle", "ROUND": "round", "SQUARE": "square",
}

// stockText is a text taken apart as the name of stock.
type stockText struct {
	alloy, temper, form string
	clad                bool
	sizes               []measure.Length
}

const fieldAlloy, fieldTemper, fieldForm, fieldWall = "alloy", "temper", "form", "wall"

// stock reads the name of stock. Text that names no alloy of the tables, or no
// size, is none.
func (c *Catalog) stock(text string) (Result, bool) {
	var buf [2 * maxText]byte
	if !strings.ContainsAny(text, "./") {
		return Result{}, false // no size of stock is a whole number alone
	}
	s, ok := normal(buf[:0], text)
	if !ok || len(s) < 6 {
		return Result{}, false
	}
	t, ok := c.stockWords(string(s))
	if !ok {
		return t.askForm(text)
	}
	a := c.alloys[t.alloy]
	r := Result{Input: text, Known: true, Kind: Stock, Family: "Stock by its alloy and size"}
	r.Fields = append(r.Fields, textField(fieldAlloy, t.alloy+": "+a.metal, a.from))
	said := cite{source: "as written; nothing of its strength follows from the name"}
	if t.temper != "" {
		r.Fields = append(r.Fields, textField(fieldTemper, t.temper, said))
	}
	if t.clad {
		r.Fields = append(r.Fields, textField("clad", "alclad", said))
	}
	r.Fields = append(r.Fields, textField(fieldForm, t.form, said))
	names := map[string][]string{"square tube": {"size", fieldWall}, "tube": {OutsideDiameter, fieldWall}, "rod": {Diameter}, "round": {Diameter}, "sheet": {Thickness}, "plate": {Thickness}}[t.form]
	var sizes []string
	for i, l := range t.sizes {
		field := Size
		if i < len(names) {
			field = names[i]
		}
		r.Fields = append(r.Fields, lengthField(field, l, said))
		sizes = append(sizes, short(l))
	}
	r.Designation = t.name()
	r.Title = joined(", ", capital(t.form), joined("-", t.alloy, t.temper), strings.Join(sizes, " by "))
	r.Short = r.Title
	r.Warnings = []string{"read as sizes from its name: material, temper and strength are what its papers say, not what it is called"}
	return r, true
}

// stockWords takes the words apart. Every word must be understood.
func (c *Catalog) stockWords(s string) (stockText, bool) {
	t := stockText{}
	s = strings.NewReplacer(" X ", " ", "\"", "", ",", " ").Replace(apart(s))
	for _, w := range strings.Fields(s) {
		if !t.names(w, c.alloys) && !t.size(w) {
			return stockText{}, false
		}
	}
	if t.form == "" && len(t.sizes) == 1 && t.temper != "" {
		t.form = "sheet" // the trade says 2024-T3 .032 for sheet
	}
	return t, t.whole()
}

// apart puts a space in place of an X between two sizes, 3/4X.049.
func apart(s string) string {
	b := []byte(s)
	for i := 1; i+1 < len(b); i++ {
		if b[i] == 'X' && digit(b[i-1]) && (digit(b[i+1]) || b[i+1] == '.') {
			b[i] = ' '
		}
	}
	return string(b)
}

// names takes a word that names alloy, temper or form.
func (t *stockText) names(w string, alloys map[string]alloy) bool {
	base, temper := alloyWord(w)
	_, known := alloys[base]
	switch {
	case known && t.alloy == "" && (temper == "" || isTemper(temper)):
		t.alloy, t.temper = base, temper
	case t.alloy != "" && t.temper == "" && len(t.sizes) == 0 && isTemper(w):
		t.temper = w
	case w == "ALCLAD" || w == "CLAD":
		t.clad = true
	default:
		return t.named(w) || stockFillers[w]
	}
	return true
}

// named takes a word for the form; a square tube has two.
func (t *stockText) named(w string) bool {
	switch form := forms[w]; {
	case form != "" && t.form == "":
		t.form = form
	case form == "tube" && t.form == "square":
		t.form = "square tube"
	default:
		return false
	}
	return true
}

// alloyWord is alloy and temper of a word: 2024-T3, 2024T3, 4130N.
func alloyWord(w string) (base, temper string) {
	base, temper, cut := strings.Cut(w, "-")
	if end := run([]byte(w), 0, digit); !cut && isTemper(w[end:]) {
		return w[:end], w[end:]
	}
	return base, temper
}

// stockFillers say nothing that is not said already.
var stockFillers = words("OD", "WALL", "THICK", "IN", "ALUMINUM", "ALUMINIUM", "STEEL")

// size takes a word that is a length. A whole number is one behind the alloy only.
func (t *stockText) size(w string) bool {
	if !strings.ContainsAny(w, "./") && (t.alloy == "" || len(w) != 1 || !digit(w[0])) {
		return false
	}
	l, err := measure.ParseLength(w)
	t.sizes = append(t.sizes, l)
	return err == nil && l > 0 && l <= 24*measure.Inch
}

// whole says that the sizes are those of the form: a tube has two, and a hole.
func (t *stockText) whole() bool {
	most := map[string]int{"square tube": 2, "tube": 2, "sheet": 1, "plate": 1, "rod": 1, "round": 1, "square": 1, "bar": 2, "angle": 3}[t.form]
	if t.alloy == "" || len(t.sizes) == 0 || len(t.sizes) > most {
		return false
	}
	return !strings.HasSuffix(t.form, "tube") || len(t.sizes) == 2 && 2*t.sizes[1] < t.sizes[0]
}

// askForm asks what stock is of which alloy and sizes are told: 4130 3/4 x .049
// is a tube, or a strip. Of other text it knows nothing.
func (t *stockText) askForm(text string) (Result, bool) {
	if t.alloy == "" || len(t.sizes) == 0 || t.form != "" {
		return Result{}, false
	}
	r := Result{Input: text, Kind: Stock, Family: "Stock by its alloy and size"}
	for _, form := range []string{"sheet", "rod", "tube", "bar", "angle"} {
		try := *t
		if try.form = form; try.whole() {
			r.Nearest = append(r.Nearest, try.name())
		}
	}
	if len(r.Nearest) == 0 {
		return Result{}, false
	}
	r.Problem = "\"" + text + "\" is stock of " + t.alloy + " without its form: write " + orList(r.Nearest)
	return r, true
}

// name is how stock is written here.
func (t *stockText) name() string {
	name := joined("-", t.alloy, t.temper)
	if t.clad {
		name += " ALCLAD"
	}
	sizes := make([]string, len(t.sizes))
	for i, l := range t.sizes {
		sizes[i] = short(l)
	}
	return name + " " + strings.ToUpper(t.form) + " " + strings.Join(sizes, " X ")
}

// isTemper says that a word is a temper: O, N, T3, T6511, H32.
func isTemper(w string) bool {
	if w == "O" || w == "N" || w == "F" {
		return true
	}
	return len(w) > 1 && len(w) < 6 && (w[0] == 'T' || w[0] == 'H') && run([]byte(w), 1, digit) == len(w)
}

// stockTable reads the alloys.
func (ld *loader) stockTable() {
	ld.c.alloys = map[string]alloy{}
	for _, r := range ld.rows("stock_alloys") {
		ld.c.alloys[r.Get("alloy")] = alloy{r.Get("metal"), from(r)}
	}
	ld.c.pulled = map[string]Result{}
	for _, r := range ld.rows("rivets_blind_commercial") {
		ld.c.pulled[r.Get("rivet_number")] = ld.pulledRivet(r)
	}
}

// pulledRivet is a commercial pulled rivet by its number.
func (ld *loader) pulledRivet(r standards.Row) Result {
	src := from(r)
	d := ld.length(r.Get("nominal_dia"))
	out := Result{Known: true, Kind: BlindRivet, Family: "Commercial pulled rivets by number", Designation: "BLIND RIVET " + r.Get("rivet_number")}
	grip := ld.between(Grip, r.Get("grip_min_in"), r.Get("grip_max_in"), src)
	out.Fields = []Field{
		ld.lengthField(Diameter, d, src), grip, ld.lengthField(LengthField, ld.length(r.Get("length_in")), src),
		ld.between(Hole, r.Get("hole_min_in"), r.Get("hole_max_in"), src), textField("drill", r.Get("drill"), src),
		unknownField(Material, "the number does not say", src), unknownField(HeadStyle, "the number does not say", src),
	}
	out.Title = "Commercial pulled rivet, " + short(d) + ", grip " + grip.Text
	out.Short = out.Title
	out.Warnings = []string{"a commercial rivet: it is no AN, MS or NAS part, and its material and strength are what its maker says"}
	return out
}

// commercial reads a commercial pulled rivet, "blind rivet 42": the first figure
// is the diameter in 32nds, the second the longest grip in 16ths.
func (c *Catalog) commercial(text string) (Result, bool) {
	if len(text) < len("blind rivet 9") || len(text) > maxText || strings.IndexByte("bBpP", text[0]) < 0 {
		return Result{}, false
	}
	words := strings.Fields(strings.ToUpper(strings.ReplaceAll(text, "-", " ")))
	if len(words) != 3 || words[1] != "RIVET" && words[1] != "RIVETS" || words[0] != "BLIND" && words[0] != "PULLED" {
		return Result{}, false
	}
	r, ok := c.pulled[words[2]]
	r.Input = text
	return r, ok
}
