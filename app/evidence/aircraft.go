package evidence

import (
	"errors"
	"fmt"
	"strings"

	"stowright/app/wording"
	"stowright/store"
)

func (g *gatherer) aircraftBook(name string) (Book, error) {
	a, alone, err := g.aircraft(name)
	if err != nil {
		return Book{}, err
	}
	about, parts, nobody := store.About{}, []part{}, []string{}
	for _, s := range g.subs {
		switch {
		case s.Aircraft == a.Name || s.Aircraft == "" && alone:
			p := g.part(s)
			parts = append(parts, p)
			about.SubAssemblies, about.Lots = append(about.SubAssemblies, s.Code), append(about.Lots, p.lots...)
		case s.Aircraft == "":
			nobody = append(nobody, s.Code)
		}
	}
	components, err := g.componentsOf(a)
	if err != nil {
		return Book{}, err
	}
	for _, k := range components {
		about.Components = append(about.Components, k.Name())
	}
	if err := g.tell(about); err != nil {
		return Book{}, err
	}
	book := Book{Title: "Evidence: aircraft " + a.Name, Under: under}
	if book.Chapters, err = g.aircraftChapters(a, parts, nobody); err != nil {
		return book, err
	}
	for _, k := range components {
		c, err := g.componentChapter(k)
		if err != nil {
			return book, err
		}
		book.Chapters = append(book.Chapters, c)
	}
	worth, err := valueOf(g.shop)
	book.Chapters = append(book.Chapters, worth.chapter("Value of the shop"))
	return book, err
}

// aircraftChapters are that on an aircraft and those on its sub-assemblies.
func (g *gatherer) aircraftChapters(a store.Aircraft, parts []part, nobody []string) ([]Chapter, error) {
	first, err := g.aircraftChapter(a, parts, nobody)
	chapters := []Chapter{first}
	for _, p := range parts {
		if err := errors.Join(err, g.ctx.Err()); err != nil {
			return nil, err
		}
		var c Chapter
		c, err = g.partChapter(p)
		chapters = append(chapters, c)
	}
	return chapters, err
}

// aircraft is the one of a name, in any case, and whether the shop has no other.
func (g *gatherer) aircraft(name string) (a store.Aircraft, alone bool, err error) {
	name = strings.TrimSpace(name)
	all, err := g.shop.Aircraft()
	if err != nil {
		return a, false, err
	}
	for _, x := range all {
		if strings.EqualFold(x.Name, name) {
			return x, len(all) == 1, nil
		}
	}
	return a, false, missing(name, "There is no aircraft %q in this shop: see the list of them.", name)
}

// componentsOf are those that are on an aircraft or were.
func (g *gatherer) componentsOf(a store.Aircraft) ([]store.Component, error) {
	all, err := g.shop.Components()
	var list []store.Component
	for _, k := range all {
		for _, s := range k.Stretches {
			if s.Aircraft == a.Name {
				list = append(list, k)
				break
			}
		}
	}
	return list, err
}

// aircraftChapter is the aircraft itself, with how each of its sub-assemblies stands.
func (g *gatherer) aircraftChapter(a store.Aircraft, parts []part, nobody []string) (Chapter, error) {
	c := Chapter{Title: "Aircraft " + a.Name}
	s := Section{Heading: "What it is", Texts: []string{"Kind of certificate, as recorded: " + orNone(string(a.Certificate)) + "."}}
	for _, p := range a.Inspectors {
		s.Texts = append(s.Texts, "Who may inspect it, as recorded: "+p.Who+", by "+p.Paper+".")
	}
	for _, h := range a.Hours {
		s.Texts = append(s.Texts, fmt.Sprintf("Total time on %s: %s, read by %s.", h.Day, h.Hours, h.Hand))
	}
	c.add(s)
	subs := Section{Heading: "Its sub-assemblies, in the order of the build", Columns: []Column{{Title: "code", Width: 26, Mono: true}, {Title: "name"}, {Title: "how it stands", Width: 60}}}
	open := Section{Heading: "Open points of all of them"}
	for _, p := range parts {
		points, _, err := g.shop.Closing(p.Code, nil)
		if err != nil {
			return c, err
		}
		subs.Rows = append(subs.Rows, []string{p.Code, p.Name, openWords(p.SubAssembly, points)})
		if p.Closed != nil {
			continue
		}
		for _, o := range points {
			open.Texts = append(open.Texts, p.Code+": "+wording.Sentence(o.Sentence))
		}
	}
	if len(nobody) > 0 {
		subs.Texts = []string{"Not in this book, since they do not say of which aircraft they are: " + strings.Join(nobody, ", ") + "."}
	}
	c.add(subs)
	c.add(open)
	return c, nil
}

func orNone(text string) string {
	if text == "" {
		return "none yet"
	}
	return text
}
