package evidence

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store"
)

func invalid(format string, args ...any) error {
	return &store.Error{Kind: store.Invalid, Message: fmt.Sprintf(format, args...)}
}

// missing is something that is not there.
func missing(where, format string, args ...any) error {
	return &store.Error{Kind: store.NotFound, Where: where, Message: fmt.Sprintf(format, args...)}
}

// moment is a day with its time, as the entry has it.
func moment(at time.Time) string { return at.Format("2 January 2006, 15:04") }

// Gather puts a book together from one reading of the shop. It goes over the journal, tells
// the context's follower how far it is, and ends early when the context does.
func Gather(ctx context.Context, r *store.Reader, of Subject) (b Book, err error) {
	if err := of.exactly(); err != nil {
		return b, err
	}
	err = r.Read(func(r *store.Reader) error {
		g := &gatherer{ctx: ctx, shop: r, found: map[uint64]store.AlertFound{}, ships: map[string]store.Shipment{}, places: map[string]string{}}
		if err := g.read(); err != nil {
			return err
		}
		if b, err = g.book(of); err != nil {
			return err
		}
		b.Day = r.Today()
		b.Head, err = r.Head()
		return err
	})
	return b, err
}

// gatherer is what is read once for a book.
type gatherer struct {
	ctx  context.Context
	shop *store.Reader

	subs         []store.SubAssembly
	requirements []store.Requirement
	alerts       []store.Alert
	decisions    []store.Decision
	papers       map[string]store.Paper // by name
	lots         map[string]store.Lot   // by name
	byItem       map[string][]store.Lot
	fits         []store.Fit // of all sub-assemblies, the oldest first
	done         []store.Done
	came         map[string]store.Done // the entry that made a lot, by its name

	found  map[uint64]store.AlertFound // by alert
	ships  map[string]store.Shipment   // by id
	places map[string]string           // paths, by id
}

func (g *gatherer) read() (err error) {
	if g.subs, err = g.shop.SubAssemblies(); err != nil {
		return err
	}
	if g.requirements, err = g.shop.Requirements(""); err != nil {
		return err
	}
	if g.alerts, err = g.shop.Alerts(); err != nil {
		return err
	}
	if g.decisions, err = g.shop.Decisions(); err != nil {
		return err
	}
	if g.fits, err = g.shop.Fits(""); err != nil {
		return err
	}
	papers, err := g.shop.Papers()
	if err != nil {
		return err
	}
	g.papers = map[string]store.Paper{}
	for _, p := range papers {
		g.papers[p.Name()] = p
	}
	lots, err := g.shop.Lots("")
	g.lots, g.byItem = map[string]store.Lot{}, map[string][]store.Lot{}
	for _, l := range lots {
		g.lots[l.Name()] = l
		g.byItem[l.Item] = append(g.byItem[l.Item], l)
	}
	return err
}

func (g *gatherer) book(of Subject) (Book, error) {
	switch {
	case of.SubAssembly != "":
		return g.subAssemblyBook(of.SubAssembly)
	case of.Item != "":
		return g.itemBook(of.Item)
	case of.Lot != "":
		return g.lotBook(of.Lot, of.Of)
	case of.Component != "":
		return g.componentBook(of.Component)
	}
	return g.aircraftBook(of.Aircraft)
}

// tell reads the history of what a book is about.
func (g *gatherer) tell(about store.About) error {
	g.came = map[string]store.Done{}
	return g.shop.History(g.ctx, about, func(d store.Done) error {
		g.done = append(g.done, d)
		for _, lot := range d.Lots {
			if _, known := g.came[lot]; !known {
				g.came[lot] = d
			}
		}
		return nil
	})
}

// subAssembly is the one with a code, in any case.
func (g *gatherer) subAssembly(code string) (store.SubAssembly, error) {
	code = strings.TrimSpace(code)
	for _, s := range g.subs {
		if strings.EqualFold(s.Code, code) {
			return s, nil
		}
	}
	return store.SubAssembly{}, missing(code, "There is no sub-assembly %q in this shop: see how its code is spelled.", code)
}

// lot is the lot that the key of a heap names: of an older shop, what is printed on it.
func (g *gatherer) lot(item, key string) store.Lot {
	if l, ok := g.lots[key]; ok {
		return l
	}
	return store.Lot{Item: item, Printed: key}
}

// lotWords is a lot in a table: "L-2 (lot Q7714)".
func (g *gatherer) lotWords(item, key string) string { return g.lot(item, key).Called() }

// withParents are lots with all that was poured into them, by number, each once.
func (g *gatherer) withParents(keys []string) []string {
	var all []string
	var add func(key string)
	add = func(key string) {
		if key == "" || slices.Contains(all, key) {
			return
		}
		all = append(all, key)
		for _, p := range g.lots[key].Parents {
			add(p.Lot)
		}
	}
	for _, key := range keys {
		add(key)
	}
	slices.SortStableFunc(all, func(a, b string) int { return cmp.Compare(g.lots[a].Number, g.lots[b].Number) })
	return all
}

// place is where a place is, in words.
func (g *gatherer) place(id string) string {
	if words, known := g.places[id]; known || id == "" {
		return words
	}
	path, err := g.shop.Path(id)
	words := store.PathText(path)
	if err != nil {
		words = "a place that is gone"
	}
	g.places[id] = words
	return words
}

// paperWords are papers in words: "PA-1: invoice 77 of Bolt works, 14 March 2026 (binder 2)".
func (g *gatherer) paperWords(names []string) string {
	var words []string
	for _, name := range names {
		p, ok := g.papers[name]
		if !ok {
			words = append(words, name)
			continue
		}
		text := name + ": " + p.Words()
		if p.File != nil {
			text += ", file " + p.File.Name + ", SHA-256 " + p.File.SHA256
		}
		words = append(words, text)
	}
	return strings.Join(words, "; ")
}

// timeline is the table of what was done, in the order of the days.
func timeline(heading string, rows [][]string) Section {
	return Section{Heading: heading, Rows: rows, Columns: []Column{
		{Title: "when", Width: 34}, {Title: "entry", Width: 14, Mono: true}, {Title: "who", Width: 24}, {Title: "what"}, {Title: "lot", Width: 30}, {Title: "initials", Width: 16, Sign: true},
	}}
}

func (g *gatherer) row(d store.Done, what string, lots ...string) []string {
	return []string{moment(d.At), fmt.Sprint(d.Seq), d.Hand, what, strings.Join(lots, ", ")}
}
