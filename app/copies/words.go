package copies

import (
	"fmt"
	"path/filepath"
	"time"

	"stowright/app/card"
	"stowright/store"
)

// when is the time of a copy where the shop is.
func when(at time.Time, now time.Time) string {
	at = at.In(now.Location())
	return store.DateOf(at).String() + " " + at.Format("15:04")
}

// behind is how far a copy is behind the shop, by their entries.
func behind(copied, now uint64) string {
	switch {
	case copied == now:
		return "nothing missing"
	case copied > now:
		return card.Plural(int(copied-now), "entry", "entries") + " more than now"
	}
	return card.Plural(int(now-copied), "entry", "entries") + " behind"
}

// size is a size of a file.
func size(bytes int64) string {
	if bytes < 1_000_000 {
		return fmt.Sprintf("%d kB", (bytes+999)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/1e6)
}

// looked is how a copy was looked at: in this window, or when it was made.
func looked(c store.Copy, seen map[string]string) card.Cell {
	switch problem, now := seen[c.File]; {
	case now && problem == "":
		return card.State("whole, looked at now", card.OK)
	case now:
		return card.State("damaged", card.Stop)
	case c.Why == store.BeforeRestore:
		return card.State("not looked at", card.Quiet)
	case c.Why == store.BeforeImport:
		return card.State("read back when made", card.OK)
	}
	return card.State("whole when made", card.OK)
}

// Columns are those of the copies.
func Columns() []card.Column {
	return []card.Column{
		{Title: "made", Kind: card.Names},
		{Title: "against the shop now", Width: 190},
		{Title: "size", Kind: card.Plain, Width: 90},
		{Title: "looked at", Kind: card.States, Width: 210},
	}
}

// rows are the copies as rows.
func rows(copies []store.Copy, newest uint64, now time.Time, seen map[string]string) []card.Row {
	list := make([]card.Row, 0, len(copies))
	for _, c := range copies {
		list = append(list, card.Row{ID: c.File, Cells: []card.Cell{
			card.Name(when(c.At, now), c.Why.String()), card.T(behind(c.Entries, newest)), card.T(size(c.Bytes)), looked(c, seen),
		}})
	}
	return list
}

// DifferColumns are those of the stock that a restore changes.
func DifferColumns() []card.Column {
	return []card.Column{
		{Title: "stock", Kind: card.Names}, {Title: "now", Kind: card.Plain, Width: 150}, {Title: "then", Kind: card.Plain, Width: 150},
	}
}

func differRows(d store.Difference) []card.Row {
	list := make([]card.Row, 0, len(d.Stock))
	for _, s := range d.Stock {
		list = append(list, card.Row{ID: s.Item + s.Where, Cells: []card.Cell{card.Name(s.Item, s.Where), card.T(s.Now.String()), card.T(s.Then.String())}})
	}
	return list
}

// EntryColumns are those of entries.
func EntryColumns() []card.Column { return []card.Column{{Kind: card.Words}} }

func entryRows(entries []store.Entry) []card.Row {
	list := make([]card.Row, 0, len(entries))
	for _, e := range entries {
		list = append(list, card.Row{ID: fmt.Sprint(e.Seq), Cells: []card.Cell{{Text: e.Text, Sub: e.Hand + ", " + e.At.Format("2 January 2006 15:04")}}})
	}
	return list
}

// exportName is where an export goes in a folder.
func exportName(folder, shopFile string, now time.Time) string {
	base := filepath.Base(shopFile)
	return filepath.Join(folder, base[:len(base)-len(filepath.Ext(base))]+"-"+now.Format("2006-01-02-150405")+".zip")
}
