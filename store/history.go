package store

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"stowright/store/disk"
	"stowright/store/progress"
)

// About is what the history is asked of: all of it together.
type About struct {
	SubAssemblies []string // codes
	Items         []string // designations
	Lots          []string // names, "L-17"
	Components    []string // names, "CO-1"
}

// Done is an entry that stands, with what of it whoever tells the history needs. What was
// undone is none, nor what undid it.
type Done struct {
	Entry                  // without its changes
	About         bool     // it is about what was asked for, and is not here as a decision or an alert alone
	SubAssemblies []string // codes, each once: of lists, trays, fits, notes, photographs
	Lots          []string // as the keys of heaps have them, each once
	Components    []string // names
	Fits          []Fit    // that it made
	Notes         []Note
	Decisions     []Decision
	Alerts        []Alert // as it left them
	Photos        []Photo
	Moved         []Holding // stock, by how much it became more or less
}

// History calls do with every entry that stands and is about what is asked for, the oldest
// first, and with those that made a decision or changed an alert, whatever of. It goes
// over the whole journal, and tells the context's follower how far it is.
func (r *Reader) History(ctx context.Context, about About, do func(d Done) error) error {
	return r.view(func(tx *disk.Tx) error {
		h, err := historian(tx, about)
		if err != nil {
			return err
		}
		end, err := tx.End()
		if err != nil {
			return err
		}
		return tx.Records(func(record disk.Record, damage error) error {
			if damage != nil {
				return damage
			}
			if record.Seq%1024 == 0 {
				progress.Report(ctx, "going over the journal", progress.Share(record.Seq, end.Seq))
				if err := ctx.Err(); err != nil {
					return err
				}
			}
			if h.undone[record.Seq] || !h.mayConcern(record.Body) {
				return nil
			}
			e, err := entryOf(record)
			if err != nil || e.Verb == VerbUndo || e.Verb == VerbRedo {
				return err
			}
			d, concerns, err := h.read(e)
			if err != nil || !concerns {
				return err
			}
			return do(d)
		})
	})
}

// history looks for entries.
type history struct {
	trays  map[string]string // codes, by the id of the tray
	undone map[uint64]bool
	parts  map[string]bool // of keys, as the journal spells them
	about  map[string]map[string]bool
}

func historian(tx *disk.Tx, about About) (*history, error) {
	h := &history{trays: map[string]string{}, undone: map[uint64]bool{}, parts: map[string]bool{}, about: map[string]map[string]bool{}}
	subs, err := inBuildersOrder(tx)
	if err != nil {
		return nil, err
	}
	for _, s := range subs {
		h.trays[s.Place] = s.Code
		if slices.Contains(about.SubAssemblies, s.Code) {
			h.wants("", s.Place)
		}
	}
	h.wants(tableSubAssemblies, about.SubAssemblies...)
	h.wants(tableItems, about.Items...)
	h.wants(tableLots, about.Lots...)
	h.wants(tableComponents, about.Components...)
	undone, err := tx.Bucket(indexUndone)
	if err != nil {
		return nil, err
	}
	return h, undone.Scan(nil, func(key, _ []byte) error {
		h.undone[disk.SeqOf(key)] = true
		return nil
	})
}

// wants notes names, "" for a table where they only stand in keys.
func (h *history) wants(table string, names ...string) {
	for _, name := range names {
		if h.about[table] == nil {
			h.about[table] = map[string]bool{}
		}
		h.about[table][name] = true
		if spelled, err := encode(name); err == nil { // a text is always spelled
			h.parts[string(spelled[1:len(spelled)-1])] = true
		}
	}
}

// The tables whose keys are numbers alone, so that only the record says what it is of.
var toldByRecord = map[string]bool{
	tableNotes: true, tableDecisions: true, tableAlerts: true, tableComponents: true, tableRequirements: true, tableLots: true, tableScrapped: true,
}

// mayConcern reports whether a record of the journal may be about what is wanted: it looks
// at the keys of its changes alone, since decoding takes ten times as long.
func (h *history) mayConcern(body []byte) bool {
	const table, key, between = `"table":"`, `","key":"`, `\u0000`
	for rest := body; ; {
		i := bytes.Index(rest, []byte(table))
		if i < 0 {
			return false
		}
		name, after, ok := bytes.Cut(rest[i+len(table):], []byte(key))
		if !ok || len(name) > 32 {
			return true // no change as this program spells it
		}
		end := bytes.IndexByte(after, '"')
		if end < 0 || end > 0 && after[end-1] == '\\' || toldByRecord[string(name)] {
			return true
		}
		for words := after[:end]; ; {
			word, more, several := bytes.Cut(words, []byte(between))
			if h.parts[string(word)] {
				return true
			}
			if !several {
				break
			}
			words = more
		}
		rest = after[end:]
	}
}

// read is an entry as its changes tell it, and whether it is about what is wanted.
func (h *history) read(e Entry) (d Done, concerns bool, err error) {
	d.Entry = e
	d.Changes = nil // of an import they are many
	for _, c := range e.Changes {
		is, err := h.change(&d, c)
		if err != nil {
			return d, false, fmt.Errorf("entry %d: %w", e.Seq, err)
		}
		d.About = d.About || is
	}
	return d, d.About || len(d.Decisions) > 0 || len(d.Alerts) > 0, nil
}

// change notes what a change is about.
func (h *history) change(d *Done, c Change) (concerns bool, err error) {
	switch c.Table {
	case tableStock:
		k, err := parseStockKey(c.Key)
		if c.Delta != nil {
			d.Moved = append(d.Moved, Holding{k, *c.Delta})
		}
		return h.tells(d, h.trays[k.Place], k.Item, k.Lot), err
	case tableFitted:
		f, err := parseFittedKey(c.Key)
		return h.tells(d, f.SubAssembly, f.Item, f.Lot), err
	case tableGone:
		g, err := parseGoneKey(c.Key)
		return h.tells(d, "", g.Item, g.Lot), err
	case tableCounted:
		k, err := parseStockKey(c.Key)
		return h.tells(d, h.trays[k.Place], k.Item, k.Lot), err
	case tableItems:
		return h.tells(d, "", c.Key, ""), nil
	case tableSubAssemblies:
		return h.tells(d, c.Key, "", ""), nil
	}
	if c.After == nil {
		return false, nil
	}
	return h.record(d, c)
}

// record notes what a record is of.
func (h *history) record(d *Done, c Change) (concerns bool, err error) {
	switch c.Table {
	case tableFits:
		return noted(c, &d.Fits, func(f Fit) bool { return h.tells(d, f.SubAssembly, f.Item, f.Lot) })
	case tableNotes:
		return noted(c, &d.Notes, func(n Note) bool { return h.tells(d, n.SubAssembly, "", "") })
	case tableDecisions:
		return noted(c, &d.Decisions, func(Decision) bool { return false })
	case tableAlerts:
		return noted(c, &d.Alerts, func(Alert) bool { return false })
	case tablePhotos:
		return noted(c, &d.Photos, func(p Photo) bool { return h.tells(d, h.trays[p.Of.Place], p.Of.Item, "") })
	case tableRequirements:
		r, err := decode[Requirement](c.After)
		return h.tells(d, r.SubAssembly, "", ""), err
	case tableLots:
		l, err := decode[Lot](c.After)
		return h.tells(d, "", l.Item, l.Name()), err
	case tableScrapped:
		s, err := decode[Scrapped](c.After)
		return h.tells(d, s.SubAssembly, s.Item, s.Lot), err
	case tableComponents:
		k, err := decode[Component](c.After)
		d.Components = append(d.Components, k.Name())
		return h.about[tableComponents][k.Name()], err
	}
	return false, nil
}

// noted adds the record after a change to a list.
func noted[T any](c Change, list *[]T, concerns func(v T) bool) (bool, error) {
	v, err := decode[T](c.After)
	if err != nil {
		return false, err
	}
	*list = append(*list, v)
	return concerns(v), nil
}

// tells notes a sub-assembly and a lot, each once, and says whether one of them or the item
// is wanted.
func (h *history) tells(d *Done, code, item, lot string) bool {
	if code != "" && !slices.Contains(d.SubAssemblies, code) {
		d.SubAssemblies = append(d.SubAssemblies, code)
	}
	if lot != "" && !slices.Contains(d.Lots, lot) {
		d.Lots = append(d.Lots, lot)
	}
	return h.about[tableSubAssemblies][code] || h.about[tableItems][item] || h.about[tableLots][lot]
}
