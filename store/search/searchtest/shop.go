// Package searchtest makes shops of any size for testing and measuring Find.
// Their designations come from grammars in the manner of the trade, with every
// part drawn at random from a seed: they name no real piece, and one seed
// always makes one shop.
package searchtest

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"stowright/store/measure"
	"stowright/store/search"
)

// Shop is a generated shop.
type Shop struct {
	Docs []search.Doc
}

// New makes a shop of n things, no two of one name.
func New(n int, seed uint64) *Shop {
	g := generator{rand: rand.New(rand.NewPCG(seed, 0)), names: make(map[string]bool, n)}
	g.makeWords()
	s := &Shop{Docs: make([]search.Doc, 0, n)}
	for len(s.Docs) < n {
		d := g.families(g.rand.IntN(100))
		if g.names[d.Name] {
			continue
		}
		g.names[d.Name] = true
		d.ID = fmt.Sprintf("i%07d", len(s.Docs))
		g.stow(&d)
		g.annotate(&d)
		s.Docs = append(s.Docs, d)
	}
	return s
}

type generator struct {
	rand  *rand.Rand
	names map[string]bool
	words []string // of notes, the common ones first
}

// noteWords is how many different words the notes of a shop have.
const noteWords = 6000

// makeWords invents the words of notes out of syllables.
func (g *generator) makeWords() {
	starts := strings.Fields("ba bro ca chi de dru el fla fo gra ha in jo ka la lu ma ne o pla pri ra ro sa sha ste ta tri u va wi")
	middles := strings.Fields("b ck d ff g l ll m n nd ng p r rt s st t v x z")
	ends := strings.Fields("a able e ed el en er est et ic ing ion ish le ly o on or ow um y")
	seen := map[string]bool{}
	for len(g.words) < noteWords {
		w := g.pick(starts) + g.pick(middles) + g.pick(ends)
		if g.rand.IntN(3) == 0 {
			w = g.pick(starts) + g.pick(middles) + g.pick(starts) + g.pick(ends)
		}
		if !seen[w] {
			seen[w] = true
			g.words = append(g.words, w)
		}
	}
}

func (g *generator) pick(from []string) string { return from[g.rand.IntN(len(from))] }

func (g *generator) between(lo, hi int) int { return lo + g.rand.IntN(hi-lo+1) }

// families draws one thing; percent chooses the family.
func (g *generator) families(percent int) search.Doc {
	switch {
	case percent < 25:
		return g.bolt()
	case percent < 40:
		return g.rivet()
	case percent < 55:
		return g.fastener()
	}
	return g.kitPart()
}

// sixteenths, as lengths.
func sixteenths(n int) measure.Length { return measure.Inches(int64(n), 16) }

func (g *generator) bolt() search.Doc {
	size, dash := g.between(3, 20), g.between(3, 87)
	name := fmt.Sprintf("%s%d%s-%d%s", g.pick([]string{"AN", "AN", "MS9", "NAS13", "NAS66", "NAS11"}), size, g.pick([]string{"", "", "", "C", "H", "DD"}), dash, g.pick([]string{"", "A", "A", "H", "W"}))
	pitch := []uint16{32, 28, 24, 24, 20, 20, 18}[size%7]
	return search.Doc{
		Name:  name,
		Words: g.pick([]string{"Bolt", "Bolt drilled shank", "Bolt close tolerance", "Bolt, steel, hex head", "Shear bolt"}),
		Dims: []search.Dim{
			{Role: search.Diameter, Length: sixteenths(size)},
			{Role: search.Grip, Length: sixteenths(dash)},
			{Role: search.Thread, Length: sixteenths(size), PerInch: pitch},
		},
	}
}

func (g *generator) rivet() search.Doc {
	size, length := g.between(2, 10), g.between(4, 64)
	half := ""
	if length%2 == 1 {
		half = ".5"
	}
	name := fmt.Sprintf("%s%s%d-%d%s%s", g.pick([]string{"AN426", "AN470", "MS20426", "MS20470", "NAS1097", "NAS1399", "CR3213"}), g.pick([]string{"AD", "AD", "DD", "A", "B", "D", "KE"}), size, length/2, half, g.pick([]string{"", "", "", "K", "A"}))
	return search.Doc{
		Name:  name,
		Words: g.pick([]string{"Flush rivet", "Dome rivet", "Universal head rivet", "Blind rivet countersunk"}),
		Dims:  []search.Dim{{Role: search.Diameter, Length: measure.Inches(int64(size), 32)}, {Role: search.OverallLength, Length: measure.Inches(int64(length), 32)}},
	}
}

func (g *generator) fastener() search.Doc {
	name := fmt.Sprintf("%s%s%04d%s", g.pick([]string{"NAS1149", "MS21", "MS24665-", "AN365-", "AN960-", "MS35", "NAS43"}), g.pick([]string{"F", "C", "D", "L", "", ""}), g.between(0, 9999), g.pick([]string{"P", "K", "H", "L", "R", ""}))
	d := search.Doc{
		Name:  name,
		Words: g.pick([]string{"Washer", "Washer thin", "Lock nut full", "Lock nut all-metal", "Castle nut", "Cotter pin", "Nutplate plain", "Flush screw 10-32", "Clevis pin .190", "Turnbuckle barrel"}),
	}
	if g.rand.IntN(3) == 0 {
		d.Dims = []search.Dim{{Role: search.Thickness, Length: measure.Inches(int64(g.between(16, 125)), 1000)}}
	}
	if g.rand.IntN(2) == 0 {
		d.Aliases = []string{fmt.Sprintf("%s%d-%d%s", g.pick([]string{"AN", "AC", "NAF"}), g.between(300, 999), g.between(3, 1032), g.pick([]string{"", "L", "A", "C"}))}
	}
	return d
}

func (g *generator) kitPart() search.Doc {
	name := fmt.Sprintf("%s-%02d-%03d%s", g.pick([]string{"OQ", "OQ", "OQ", "OR", "OS", "WL", "HF"}), g.between(10, 99), g.between(1, 999), g.pick([]string{"", "", "-L", "-R", "-A", "-B", "-C"}))
	part := g.pick([]string{"Rib", "Spar", "Skin", "Doubler", "Stiffener", "Bracket", "Fitting", "Gusset", "Hinge plate", "Angle 3/4x3/4x1/8", "Tube 5/8", "Rod-end 3/16", "Bellcrank", "Fairing", "Cover plate"})
	where := g.pick([]string{"fin", "rudder", "tailplane", "elevator", "tank", "wing", "flap", "aileron", "cowl", "firewall", "cabin", "gear"})
	return search.Doc{Name: name, Words: part + " " + where}
}

// stow puts three things in ten into drawers.
func (g *generator) stow(d *search.Doc) {
	if g.rand.IntN(10) >= 3 {
		return
	}
	d.InShop = true
	cabinet := string(rune('A' + g.rand.IntN(20)))
	d.Places = []string{fmt.Sprintf("%s, Cabinet %s, %s-%02d", g.pick([]string{"Garage", "Hangar", "Loft"}), cabinet, cabinet, g.between(1, 250))}
}

// annotate adds notes: often a few words, sometimes a lot.
func (g *generator) annotate(d *search.Doc) {
	var notes []string
	if g.rand.IntN(3) == 0 {
		for range g.between(2, 6) {
			// The product of two draws makes the first words common and the last rare.
			notes = append(notes, g.words[int(g.rand.Float64()*g.rand.Float64()*noteWords)])
		}
	}
	if g.rand.IntN(5) == 0 {
		notes = append(notes, fmt.Sprintf("lot %c%04d", 'A'+rune(g.rand.IntN(26)), g.between(0, 9999)))
	}
	if len(notes) > 0 {
		d.Words += ", " + strings.Join(notes, " ")
	}
}
