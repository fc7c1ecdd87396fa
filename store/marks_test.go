package store_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// Marks are what is known of stock beside how much it is: when it was counted and by
// whom, its lot, its condition, what a sample of it weighed and on which scale. This is
// what every verb does to them; markRows has a row for each.

// marked is a world in which every mark is set, on 14 March by First; what a row does
// is done on 20 March by Second.
func marked(t *testing.T) world {
	t.Helper()
	w := newWorld(t)
	w.SetHand("First")
	w.receive(3, store.Finding{Found: pounds(300_000), Counted: true, Lot: "R1"})
	w.receive(7, found(20))
	w.must(second(w.Count(w.bolts(store.Good), measure.Pieces(24))))
	w.must(second(w.Count(w.bolts(store.Damaged), measure.Pieces(2))))
	w.must(second(w.Count(w.bolts(store.SetApart), measure.Pieces(1))))
	w.must(second(w.Count(w.heap("AN3-5A", "L1", "S1"), measure.Pieces(5))))
	w.must(second(w.Count(w.heap("AN3-6A", "L2", "SA-10"), measure.Pieces(6))))
	w.must(second(w.Fit("SA-10", because(some(w.heap("AN3-6A", "L2", "SA-10"), 2, "")))))
	w.must(second(w.PutItem(w.weighedBolts())))
	w.must(second(w.PutSettings(store.Settings{ScaleStep: grams(1)})))
	w.SetHand("Second")
	w.clock.Set(t, "2026-03-20")
	return w
}

// set are the marks that marked sets, as marks says them.
func set() []string {
	return []string{
		"AN3-5A lot L1 (damaged) in A-01: 2 ea, counted 14 March by First",
		"AN3-5A lot L1 (set apart) in A-01: 1 ea, counted 14 March by First",
		"AN3-5A lot L1 in A-01: 24 ea, counted 14 March by First",
		"AN3-5A lot L1 in S1: 5 ea, counted 14 March by First",
		"AN3-5A: 10 pieces weigh 51 g, by 0.1 g",
		"AN3-6A lot L2 fitted in SA-10: 2 ea",
		"AN3-6A lot L2 in SA-10: 4 ea, counted 14 March by First",
		"AN426AD3-3.5 lot R1 in H101: 0.3 lb, counted 14 March by First",
		"MS21042-3 lot Q7714 in H104: 20 ea, counted 14 March by First",
		"the scale: 0.1 g",
	}
}

func grams(tenths int64) measure.Quantity {
	return measure.Quantity{Micro: tenths * 100_000, Unit: measure.Gram}
}

func pounds(micro int64) measure.Quantity { return measure.Quantity{Micro: micro, Unit: measure.Pound} }

func (w world) heap(item, lot, place string) store.StockKey {
	w.t.Helper()
	k := w.in(item, place)
	k.Lot = lot
	return k
}

// bolts are those of lot L1 in A-01.
func (w world) bolts(c store.Condition) store.StockKey {
	k := w.heap("AN3-5A", "L1", "A-01")
	k.Condition = c
	return k
}

// weighedBolts is the item of which a sample was weighed.
func (w world) weighedBolts() store.Item {
	return store.Item{Designation: "AN3-5A", Title: "Bolt", Unit: measure.Each, Sample: &measure.Sample{Pieces: 10, Net: grams(510), Step: grams(1)}}
}

// some takes n of a heap to a place; 0 are all of them.
func some(k store.StockKey, n int64, to string) store.Transfer {
	return store.Transfer{StockKey: k, To: to, Quantity: measure.Pieces(n)}
}

// marks are all marks of a shop in words, one a line.
func (w world) marks() []string {
	w.t.Helper()
	name := map[string]string{}
	for n, id := range w.place {
		name[id] = n
	}
	say := func(k store.StockKey, how string) string {
		text := k.Item + w.printed(k.Item, k.Lot)
		switch {
		case k.Condition.Alerts() != nil: // by an alert of any number
			text += " (quarantined)"
		case k.Condition != store.Good:
			text += " (" + string(k.Condition) + ")"
		}
		return fmt.Sprintf("%s in %s: %s", text, name[k.Place], how)
	}
	var lines []string
	counted, err := store.CountRecords(w.Shop)
	w.must(err)
	heaps, err := w.Stock()
	w.must(err)
	for _, h := range heaps {
		line := say(h.StockKey, h.Amount.String())
		if c, ok := counted[h.StockKey]; ok {
			line += fmt.Sprintf(", counted %s by %s", store.DateOf(c.At).Short(), c.Hand)
			delete(counted, h.StockKey)
		}
		lines = append(lines, line)
	}
	for k, c := range counted {
		lines = append(lines, say(k, fmt.Sprintf("none, counted %s by %s", store.DateOf(c.At).Short(), c.Hand)))
	}
	items, err := w.Items()
	w.must(err)
	for _, i := range items {
		if s := i.Sample; s != nil {
			lines = append(lines, fmt.Sprintf("%s: %d pieces weigh %s, by %s", i.Designation, s.Pieces, s.Net, s.Step))
		}
	}
	all, err := w.Fitted("")
	w.must(err)
	for _, f := range all {
		lines = append(lines, fmt.Sprintf("%s%s fitted in %s: %s", f.Item, w.printed(f.Item, f.Lot), f.SubAssembly, f.Amount))
	}
	settings, err := w.Settings()
	w.must(err)
	lines = append(lines, "the scale: "+settings.ScaleStep.String())
	slices.Sort(lines)
	return lines
}

// markRow is one way to use a verb with what it does to the marks: "- " before a line
// that is gone then, "+ " before one that is new.
type markRow struct {
	method string // of store.Shop
	name   string
	do     func(w world) error
	change []string
	refuse string // the sentence, where the marks are what forbids it
}

// Every verb does to every mark what its row says, and undone it does nothing.
func TestMarks(t *testing.T) {
	t.Parallel()
	w := marked(t)
	if d := cmp.Diff(set(), w.marks()); d != "" {
		t.Fatalf("the marks that are set (-want +got):\n%s", d)
	}
	verbs := map[store.Verb]bool{}
	for _, row := range markRows() {
		t.Run(row.method+"/"+row.name, func(t *testing.T) {
			w.t = t
			before := newestSeq(w)
			err := row.do(w)
			if row.refuse != "" {
				wantRefusal(t, err, store.Conflict, row.refuse)
			} else {
				w.must(err)
			}
			w.wantChange(row.change)
			done := newestSeq(w) - before
			for seq := before + 1; seq <= before+done; seq++ {
				e, err := w.Entry(seq)
				w.must(err)
				verbs[e.Verb] = true
			}
			w.undoAll(before)
			if d := cmp.Diff(set(), w.marks()); d != "" {
				t.Errorf("undone, and the marks are (-want +got):\n%s", d)
			}
		})
	}
	for _, v := range declaredVerbs(t) {
		if !verbs[v] && v != store.VerbUpgrade && v != store.VerbReturn { // TestMigrations has those of older programs
			t.Errorf("no row of markRows makes an entry of kind %q: add what it does to the marks", v)
		}
	}
}

// undoAll undoes every entry after one, redoes and undoes each of them.
func (w world) undoAll(after uint64) {
	w.t.Helper()
	for {
		e, found, err := w.Undoable()
		w.must(err)
		if !found || e.Seq <= after {
			return
		}
		with := w.marks()
		w.must(second(w.Undo()))
		w.must(second(w.Redo()))
		if d := cmp.Diff(with, w.marks()); d != "" {
			w.t.Errorf("%s undone and redone, and the marks are (-want +got):\n%s", e.Text, d)
		}
		w.must(second(w.Undo()))
	}
}

func (w world) wantChange(want []string) {
	w.t.Helper()
	base, now, got := set(), w.marks(), []string{}
	for _, l := range base {
		if !slices.Contains(now, l) {
			got = append(got, "- "+l)
		}
	}
	for _, l := range now {
		if !slices.Contains(base, l) {
			got = append(got, "+ "+l)
		}
	}
	if d := cmp.Diff(append([]string{}, want...), got); d != "" {
		w.t.Errorf("what changes of the marks (-want +got):\n%s", d)
	}
}

// A verb that is added later has to say what it does to the marks.
func TestEveryVerbHasItsMarks(t *testing.T) {
	var rows []string
	for _, row := range markRows() {
		if !slices.Contains(rows, row.method) {
			rows = append(rows, row.method)
		}
	}
	slices.Sort(rows)
	if d := cmp.Diff(changing(t), rows); d != "" {
		t.Errorf("what changes a shop, and what markRows has (-source +rows):\n%s", d)
	}
}

// sources are the files of the package, without its tests.
func sources(t *testing.T) []*ast.File {
	t.Helper()
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return files
}

// declaredVerbs are the values of all constants of type Verb.
func declaredVerbs(t *testing.T) []store.Verb {
	t.Helper()
	var verbs []store.Verb
	for _, f := range sources(t) {
		ast.Inspect(f, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			if of, ok := spec.Type.(*ast.Ident); !ok || of.Name != "Verb" {
				return true
			}
			for _, v := range spec.Values {
				verbs = append(verbs, store.Verb(strings.Trim(v.(*ast.BasicLit).Value, `"`)))
			}
			return true
		})
	}
	if len(verbs) < 16 {
		t.Fatalf("the source declares the verbs %q: this test does not find them", verbs)
	}
	return verbs
}

// changing are the exported methods of Shop that come to commit, by whatever way.
func changing(t *testing.T) []string {
	t.Helper()
	calls := map[string][]string{} // by name of a method of Shop: the methods that it calls
	for _, f := range sources(t) {
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Recv == nil || !ofShop(fn.Recv.List[0].Type) {
				continue
			}
			name := fn.Name.Name
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				if s, ok := call.Fun.(*ast.SelectorExpr); ok {
					calls[name] = append(calls[name], s.Sel.Name)
				}
				return true
			})
		}
	}
	reaches := map[string]bool{"commit": true}
	for more := true; more; {
		more = false
		for name, called := range calls {
			if !reaches[name] && slices.ContainsFunc(called, func(c string) bool { return reaches[c] }) {
				reaches[name], more = true, true
			}
		}
	}
	var list []string
	for name := range reaches {
		if ast.IsExported(name) {
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return list
}

func ofShop(receiver ast.Expr) bool {
	p, ok := receiver.(*ast.StarExpr)
	if !ok {
		return false
	}
	name, ok := p.X.(*ast.Ident)
	return ok && name.Name == "Shop"
}
