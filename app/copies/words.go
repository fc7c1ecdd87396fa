package copies

import (
	"fmt"
	"path/filepath"
	"time"

	"stowright/app/notice"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	storecopies "stowright/store/copies"
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
		return wording.Plural(int(copied-now), "entry", "entries") + " more than now"
	}
	return wording.Plural(int(now-copied), "entry", "entries") + " behind"
}

// looked is how a copy was looked at: in this window, or when it was made.
func looked(c storecopies.Copy, seen map[string]string) table.Cell {
	switch problem, now := seen[c.File]; {
	case now && problem == "":
		return table.State("whole, checked now", notice.OK)
	case now:
		return table.State("damaged", notice.Stop)
	case c.Why == storecopies.Replaced:
		return table.State("not checked", notice.Quiet)
	case c.Why == storecopies.Import:
		return table.State("read back when made", notice.OK)
	}
	return table.State("whole when made", notice.OK)
}

// Columns are those of the copies.
func Columns() []table.Column {
	return []table.Column{
		{Title: "made", Kind: table.Names},
		{Title: "against the shop now", Width: 190},
		{Title: "size", Kind: table.Plain, Width: 90},
		{Title: "checked", Kind: table.States, Width: 210},
	}
}

// rows are the copies as rows.
func rows(copies []storecopies.Copy, newest uint64, now time.Time, seen map[string]string) []table.Row {
	list := make([]table.Row, 0, len(copies))
	for _, c := range copies {
		list = append(list, table.Row{ID: c.File, Cells: []table.Cell{
			table.Name(when(c.At, now), c.Why.String()), table.T(behind(c.Entries, newest)), table.T(wording.Bytes(c.Bytes)), looked(c, seen),
		}})
	}
	return list
}

// DifferColumns are those of the stock that a restore changes.
func DifferColumns() []table.Column {
	return []table.Column{
		{Title: "stock", Kind: table.Names}, {Title: "now", Kind: table.Plain, Width: 150}, {Title: "then", Kind: table.Plain, Width: 150},
	}
}

func differRows(d store.Difference) []table.Row {
	list := make([]table.Row, 0, len(d.Stock))
	for _, s := range d.Stock {
		list = append(list, table.Row{ID: s.Item + s.Where, Cells: []table.Cell{table.Name(s.Item, s.Where), table.T(s.Now.String()), table.T(s.Then.String())}})
	}
	return list
}

// EntryColumns are those of entries.
func EntryColumns() []table.Column { return []table.Column{{Kind: table.Words}} }

func entryRows(entries []store.Entry) []table.Row {
	list := make([]table.Row, 0, len(entries))
	for _, e := range entries {
		list = append(list, table.Row{ID: fmt.Sprint(e.Seq), Cells: []table.Cell{{Text: e.Text, Sub: e.Hand + ", " + e.At.Format("2 January 2006 15:04")}}})
	}
	return list
}

// exportName is where an export goes in a folder.
func exportName(folder, shopFile string, now time.Time) string {
	base := filepath.Base(shopFile)
	return filepath.Join(folder, base[:len(base)-len(filepath.Ext(base))]+"-"+now.Format("2006-01-02-150405")+".zip")
}
