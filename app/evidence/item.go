package evidence

import (
	"fmt"
	"strings"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
)

func (g *gatherer) itemBook(designation string) (Book, error) {
	item, err := g.item(designation)
	if err != nil {
		return Book{}, err
	}
	if err := g.tell(store.About{Items: []string{item.Designation}}); err != nil {
		return Book{}, err
	}
	book := Book{Title: "Evidence: " + item.Designation, Under: under}
	c := Chapter{Title: wording.Joined(", ", item.Designation, item.Title)}
	var lots []string
	for _, l := range g.byItem[item.Designation] {
		lots = append(lots, l.Name())
	}
	c.add(g.deliveries("Its lots", lots))
	calls := Section{Heading: "Where it is called", Columns: []Column{{Title: "line", Width: 16, Mono: true}, {Title: "sub-assembly", Width: 40}, {Title: "called as", Width: 44, Mono: true}, {Title: "needed", Width: 24}, {Title: "position"}}}
	for _, r := range g.requirements {
		if r.Item == item.Designation && r.InForce() {
			calls.Rows = append(calls.Rows, []string{r.Name(), r.SubAssembly, r.Called, r.Quantity(), r.Position})
		}
	}
	c.add(calls)
	photos, err := g.shop.Photos(store.OfItem(item.Designation))
	if err != nil {
		return book, err
	}
	c.add(timeline("Its life, in the order of the days", g.lifeRows(func(h store.Holding) bool { return h.Item == item.Designation })))
	c.add(Section{Heading: "Photographs", Photos: photos})
	book.Chapters = append(book.Chapters, c)
	for _, l := range g.byItem[item.Designation] {
		c := Chapter{Title: l.Called()}
		if err := g.lotSections(&c, l); err != nil {
			return book, err
		}
		book.Chapters = append(book.Chapters, c)
	}
	return book, nil
}

// item is the one that somebody means: its number in any case.
func (g *gatherer) item(text string) (store.Item, error) {
	text = strings.TrimSpace(text)
	item, err := g.shop.Item(text)
	if store.KindOf(err) == store.NotFound {
		return g.shop.Item(strings.ToUpper(text))
	}
	return item, err
}

func (g *gatherer) componentBook(name string) (Book, error) {
	name = strings.TrimSpace(name)
	all, err := g.shop.Components()
	if err != nil {
		return Book{}, err
	}
	var meant []store.Component
	for _, k := range all {
		if strings.EqualFold(k.Name(), name) || strings.EqualFold(k.Serial, name) {
			meant = append(meant, k)
		}
	}
	switch len(meant) {
	case 0:
		return Book{}, missing(name, "There is no component %q in this shop: see the list of them.", name)
	case 1:
	default:
		return Book{}, invalid("%q is the serial number of %d components: say which by its name, such as %s.", name, len(meant), meant[0].Name())
	}
	if err := g.tell(store.About{Components: []string{meant[0].Name()}}); err != nil {
		return Book{}, err
	}
	c, err := g.componentChapter(meant[0])
	return Book{Title: "Evidence: " + meant[0].Name() + ", " + meant[0].Words(), Under: under, Chapters: []Chapter{c}}, err
}

// componentChapter is the life of a piece with a serial number.
func (g *gatherer) componentChapter(k store.Component) (Chapter, error) {
	c := Chapter{Title: k.Name() + ", " + k.Words()}
	times, err := g.shop.Times()
	if err != nil {
		return c, err
	}
	ran, sinceNew := times.Component(k.Name())
	s := Section{Heading: "What it is", Texts: []string{
		"Ran here " + hours(ran) + ", since new " + hours(sinceNew) + ", by the newest readings.",
	}}
	if k.Known != "" {
		s.Texts = append(s.Texts, fmt.Sprintf("When it came: since new %s, since overhaul %s, by %s.", hours(k.SinceNew), hours(k.SinceOverhaul), k.Known))
	}
	if k.Note != "" {
		s.Texts = append(s.Texts, k.Note)
	}
	c.add(s)
	if k.Lot != "" {
		c.add(g.deliveries("Its lot", []string{k.Lot}))
	}
	on := Section{Heading: "On which aircraft from when to when", Columns: []Column{
		{Title: "aircraft", Width: 34}, {Title: "position", Width: 40}, {Title: "on", Width: 40}, {Title: "off", Width: 40}, {Title: "then to"},
	}}
	for _, x := range k.Stretches {
		off := "on it still"
		if x.Off != nil {
			off = fmt.Sprintf("%s at %s, by %s", x.Off.Day, x.Off.Hours, x.Off.Hand)
		}
		on.Rows = append(on.Rows, []string{x.Aircraft, x.Position, fmt.Sprintf("%s at %s, by %s", x.On.Day, x.On.Hours, x.On.Hand), off, g.place(x.Place)})
	}
	c.add(on)
	var rows [][]string
	for _, d := range g.done {
		for _, name := range d.Components {
			if name == k.Name() {
				rows = append(rows, g.row(d, d.Text))
			}
		}
	}
	c.add(timeline("Its life, in the order of the days", rows))
	return c, nil
}

func hours(h *build.Hours) string {
	if h == nil {
		return "not known"
	}
	return h.String()
}
