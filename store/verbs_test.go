package store_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// scene is what a verb is tried on: things of the shop drawn at random, all zero where
// there are none.
type scene struct {
	toiler
	place, other store.Place
	heap         store.Holding
	ship         store.Shipment
	fitted       store.Fitted
	photo        store.Photo
	quantity     measure.Quantity
	number       int // of anything
}

func (w toiler) scene() (scene, error) {
	s := scene{toiler: w, quantity: measure.Pieces(w.r.Int64N(12)), number: w.r.IntN(1000)}
	places, err := w.shop.Places()
	if err != nil {
		return s, err
	}
	heaps, err := w.shop.Stock()
	if err != nil {
		return s, err
	}
	ships, err := w.shop.Shipments()
	if err != nil {
		return s, err
	}
	fitted, err := w.shop.Fitted("")
	if err != nil {
		return s, err
	}
	photos, err := w.shop.AllPhotos()
	s.place, s.other, s.heap, s.ship = pick(w.r, places), pick(w.r, places), pick(w.r, heaps), pick(w.r, ships)
	s.fitted, s.photo = pick(w.r, fitted), pick(w.r, photos)
	return s, err
}

func (s scene) transfer() store.Transfer {
	meeting := []store.Meeting{store.AskMeeting, store.PourLots, store.LotsApart}[s.number%3]
	return store.Transfer{StockKey: s.heap.StockKey, To: s.place.ID, Quantity: s.quantity, Meeting: meeting}
}

// inTray is what lies in the tray of SA-10, where something does; SA-20 is there too then.
func (s scene) inTray() store.Transfer {
	subs, err := s.shop.SubAssemblies()
	if err != nil || len(subs) == 0 {
		return store.Transfer{}
	}
	if len(subs) == 1 {
		_, _ = s.shop.PutSubAssembly(store.SubAssembly{Code: "SA-20"})
	}
	heaps, err := s.shop.Contents(subs[0].Place)
	if err != nil || len(heaps) == 0 {
		_, _ = s.shop.Pull("SA-10", s.because())
		return store.Transfer{}
	}
	return store.Transfer{StockKey: heaps[0].StockKey, Quantity: measure.Quantity{}, Reason: "as the plans say now"}
}

// fromTray is what lies in the tray of SA-10 on its way to a place.
func (s scene) fromTray() store.Transfer {
	t := s.inTray()
	t.To = s.place.ID
	return t
}

// because is a transfer with a reason, so that nothing is a stranger.
func (s scene) because() store.Transfer {
	t := s.transfer()
	t.Reason = "as the plans say now"
	return t
}

// component is the name of the newest component, which need not be there.
func (s scene) component() string {
	all, err := s.shop.Components()
	if err != nil || len(all) == 0 {
		return "CO-1"
	}
	return all[len(all)-1].Name()
}

// mounting is on or off the aircraft of LogHours, at hours that it may have had.
func (s scene) mounting() store.Mounting {
	hours := build.Hours(s.number)
	return store.Mounting{Aircraft: "Q", Day: store.Date{Year: 2026, Month: 1, Day: 1}.AddDays(s.number), Hours: &hours}
}

// line is the number of a line of the packing list.
func (s scene) line() store.LineID { return store.LineID(1 + s.number%7) }

// verb is a verb of the store, tried on a scene; it is often refused.
type verb struct {
	name   string // of the method
	weight int    // how often it is drawn by toil; 0: never, it takes too much
	do     func(s scene) error
}

// verbs are all verbs of the store, each after those that it needs.
func verbs() []verb {
	return []verb{
		{"AddPlace", 1, func(s scene) error {
			return third(s.shop.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprintf("Bin %d", s.r.Int())}))
		}},
		{"AddCabinet", 1, func(s scene) error {
			return third(s.shop.AddCabinet(store.CabinetSpec{Name: fmt.Sprintf("Cabinet %d", s.r.Int()), Prefix: "A", Rows: 1 + s.r.IntN(5), Columns: 8}))
		}},
		{"Import", 1, func(s scene) error {
			list := smallList()
			list.Fingerprint = fmt.Sprint(s.number % 100)
			if s.number%2 == 1 { // it takes the place of another, with fewer of one line
				list.Revises, list.Lines[1].Listed = s.ship.ID, measure.Pieces(int64(s.number%9))
			}
			return third(s.shop.Import(list))
		}},
		{"Arrive", 1, func(s scene) error { return second(s.shop.Arrive(s.ship.ID, arrival("C1", 5, 30))) }},
		{"Receive", 2, func(s scene) error { return second(s.shop.Receive(s.ship.ID, s.line(), found(s.r.Int64N(30)))) }},
		{"ReceiveAll", 1, func(s scene) error {
			lines, err := s.shop.Lines(s.ship.ID)
			if err != nil || len(lines) == 0 {
				return err
			}
			f := found(1 + s.r.Int64N(30))
			extra := store.Line{Shipment: s.ship.ID, Crate: "C1", Place: lines[0].Place, Designation: fmt.Sprintf("AN%d", s.number%50), Finding: &f}
			lines[0].Finding = &f
			return second(s.shop.ReceiveAll([]store.Line{lines[0], extra}))
		}},
		{"LeaveUnchecked", 1, func(s scene) error {
			return second(s.shop.LeaveUnchecked(s.ship.ID, s.line(), pick(s.r, []string{"", "given away"})))
		}},
		{"LookIn", 1, func(s scene) error {
			return second(s.shop.LookIn(s.ship.ID, s.line(), fmt.Sprint("in box ", s.number)))
		}},
		{"Count", 2, func(s scene) error {
			return second(s.shop.Count(store.StockKey{Item: fmt.Sprintf("AN%d", s.number%50), Place: s.place.ID}, s.quantity))
		}},
		{"CountBlind", 1, func(s scene) error {
			return second(s.shop.CountBlind(s.heap.StockKey, store.Exact(s.quantity)))
		}},
		{"CountLineBlind", 1, func(s scene) error {
			s.shop.SetHand(pick(s.r, []string{"Builder", "Partner"}))
			defer s.shop.SetHand("Builder")
			return second(s.shop.CountLineBlind(s.ship.ID, s.line(), store.Exact(s.quantity), nil))
		}},
		{"WeighSample", 1, func(s scene) error {
			gram := func(n int64) measure.Quantity { return measure.Of(n, measure.Gram) }
			return second(s.shop.WeighSample(s.heap.StockKey, measure.Weighing{
				Step: gram(1), Gross: gram(500 + int64(s.number)), Sample: measure.Sample{Pieces: 10, Net: gram(100), Step: gram(1)},
			}))
		}},
		{"PutIn", 1, func(s scene) error {
			meeting := []store.Meeting{store.AskMeeting, store.PourLots, store.LotsApart}[s.number%3]
			return second(s.shop.PutIn(store.StockKey{Item: s.heap.Item, Place: s.place.ID}, store.Exact(s.quantity), meeting))
		}},
		{"Alert", 1, func(s scene) error {
			issue := store.Issue{Item: s.heap.Item, From: store.Date{Year: 2026, Month: 3, Day: 1}}
			if s.number%2 == 0 {
				issue.From = store.Date{}
			}
			return third(s.shop.Alert(uint64(s.number%3), "Bulletin", issue))
		}},
		{"AnswerAlert", 1, func(s scene) error {
			_, _, err := s.shop.Decide(store.Decision{Kind: store.AlertAnswer, Who: "kit maker"})
			if err != nil {
				return err
			}
			return second(s.shop.AnswerAlert(1, fmt.Sprint("D-", 1+s.number%4), s.heap.Lot))
		}},
		{"AddPaper", 1, func(s scene) error {
			return third(s.shop.AddPaper(store.Paper{Kind: store.LetterPaper, Title: fmt.Sprint(s.number), Kept: "binder 2"}))
		}},
		{"DescribeLot", 1, func(s scene) error {
			number, _ := store.LotNumber(s.heap.Lot)
			return second(s.shop.DescribeLot(number, store.LotFacts{Maker: fmt.Sprint("Maker ", s.number), Perishable: s.number%2 == 0}))
		}},
		{"MarkLot", 1, func(s scene) error {
			number, _ := store.LotNumber(s.heap.Lot)
			return second(s.shop.MarkLot(number, fmt.Sprint("Q", s.number%7), store.LotFacts{Maker: "Maker"}))
		}},
		{"Stow", 1, func(s scene) error { return second(s.shop.Stow(s.transfer())) }},
		{"Move", 2, func(s scene) error { return second(s.shop.Move(s.transfer())) }},
		{"PutSubAssembly", 1, func(s scene) error {
			return second(s.shop.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: fmt.Sprint(s.number)}))
		}},
		{"PutNeeds", 1, func(s scene) error {
			return third(s.shop.PutNeeds("", store.Needs{
				SubAssembly:  store.SubAssembly{Code: pick(s.r, []string{"SA-10", "SA-20"}), Name: fmt.Sprint(s.number)},
				Requirements: []store.Requirement{{Called: fmt.Sprintf("AN%d", s.number%50), Needed: measure.Pieces(1 + int64(s.number))}},
			}))
		}},
		{"ReplaceRequirement", 1, func(s scene) error {
			return third(s.shop.ReplaceRequirement(fmt.Sprintf("R-%d", 1+s.number%9), store.Requirement{Called: "AN3-5A", Needed: measure.Pieces(2)}))
		}},
		{"EndRequirement", 1, func(s scene) error {
			return second(s.shop.EndRequirement(fmt.Sprintf("R-%d", 1+s.number%9), "bulletin 4"))
		}},
		{"PutJoint", 1, func(s scene) error {
			made, _, err := s.shop.PutNeeds("", store.Needs{
				SubAssembly: store.SubAssembly{Code: "SA-10"}, Requirements: []store.Requirement{{Called: "AN3-5A", Needed: measure.Pieces(2)}},
			})
			if err != nil {
				return err
			}
			return second(s.shop.PutJoint("SA-10", "hinge", []string{made[0].Name()}, []store.Layer{{Thickness: measure.Inches(1+int64(s.number%8), 8)}}))
		}},
		{"OrderSubAssemblies", 1, func(s scene) error { return second(s.shop.OrderSubAssemblies("SA-10")) }},
		{"LetGo", 1, func(s scene) error { return second(s.shop.LetGo("SA-10", s.number%2 == 0)) }},
		{"Pull", 1, func(s scene) error { return second(s.shop.Pull("SA-10", s.because())) }},
		{"PullAll", 1, func(s scene) error {
			return second(s.shop.PullAll(store.TrayPull{Code: "SA-10", Transfers: []store.Transfer{s.because()}}))
		}},
		{"Fit", 1, func(s scene) error { return second(s.shop.Fit("SA-10", store.Fitting{Transfer: s.because()})) }},
		{"Remove", 1, func(s scene) error { return second(s.shop.Remove(store.Removal{Fitted: s.fitted, To: s.place.ID})) }},
		{"Release", 1, func(s scene) error {
			t := s.transfer()
			t.Condition = store.Removed
			return second(s.shop.Release(t, "Partner"))
		}},
		{"PutBack", 1, func(s scene) error { return second(s.shop.PutBack("SA-10", s.fromTray())) }},
		{"Borrow", 1, func(s scene) error { return second(s.shop.Borrow("SA-10", "SA-20", s.inTray())) }},
		{"Decide", 1, func(s scene) error {
			return third(s.shop.Decide(store.Decision{Kind: store.Deviation, Who: "kit maker", Note: fmt.Sprint(s.number)}))
		}},
		{"Note", 1, func(s scene) error {
			return third(s.shop.Note(store.Note{Kind: store.TorqueNote, SubAssembly: "SA-10", Text: fmt.Sprint(s.number, " in-lb")}))
		}},
		{"PutAircraft", 1, func(s scene) error {
			return second(s.shop.PutAircraft(store.Aircraft{Name: "Q", Inspectors: []store.Inspector{{Who: "Partner", Paper: fmt.Sprint("certificate ", s.number)}}}))
		}},
		{"LogHours", 1, func(s scene) error {
			return second(s.shop.LogHours("Q", store.Date{Year: 2027, Month: 1, Day: 1}.AddDays(s.number), build.Hours(s.number)))
		}},
		{"PutPosition", 1, func(s scene) error {
			return second(s.shop.PutPosition(store.Position{Name: fmt.Sprint("Tailplane / hinge ", s.number), Access: "panel 3"}))
		}},
		{"PutComponent", 1, func(s scene) error {
			return third(s.shop.PutComponent(store.Component{Item: "OQ-PROP", Serial: fmt.Sprint(s.number)}))
		}},
		{"MountComponent", 1, func(s scene) error { return second(s.shop.MountComponent(s.component(), s.mounting())) }},
		{"DismountComponent", 1, func(s scene) error { return second(s.shop.DismountComponent(s.component(), s.mounting())) }},
		{"CorrectComponent", 1, func(s scene) error {
			hours := build.Hours(s.number)
			return second(s.shop.CorrectComponent(s.component(), 1, nil, &hours))
		}},
		{"PutDue", 1, func(s scene) error {
			return third(s.shop.PutDue(store.Due{What: fmt.Sprint("Check ", s.number), Tool: "wrench 2", Rule: "12 months", Months: 12}))
		}},
		{"EnterDue", 1, func(s scene) error {
			return second(s.shop.EnterDue(fmt.Sprint("DU-", 1+s.number%2), store.DueDone{By: "Partner", Day: store.Date{Year: 2026, Month: 1, Day: 1}.AddDays(s.number)}))
		}},
		{"EndDue", 1, func(s scene) error { return second(s.shop.EndDue(fmt.Sprint("DU-", 1+s.number%9), "sold")) }},
		{"ChangePlans", 1, func(s scene) error {
			return third(s.shop.ChangePlans(store.PlanChange{Title: fmt.Sprint("Bulletin ", s.number)}, store.PlanEdit{
				Add: []store.Requirement{{SubAssembly: "SA-10", Called: "AN3-5A", Needed: measure.Pieces(2)}},
			}))
		}},
		{"CloseSubAssembly", 1, func(s scene) error {
			answers, err := answers(s.shop, "SA-10", "as it is")
			if err != nil {
				return err
			}
			return second(s.shop.CloseSubAssembly("SA-10", answers))
		}},
		{"ReopenSubAssembly", 2, func(s scene) error { return second(s.shop.ReopenSubAssembly("SA-10", "a look")) }},
		{"Scrap", 1, func(s scene) error { return second(s.shop.Scrap(s.transfer(), pick(s.r, []string{"bent", "lost"}))) }},
		{"SendBack", 1, func(s scene) error { return second(s.shop.SendBack(s.transfer(), "Bolt works", "bent")) }},
		{"Found", 1, func(s scene) error {
			lost, err := s.shop.LookedFor("")
			if err == nil && len(lost) == 0 {
				_, err = s.shop.Scrap(s.inTray(), "lost")
			}
			if err != nil {
				return err
			}
			name := "X-0" // to be found the next time
			if len(lost) > 0 {
				name = lost[0].Name()
			}
			return second(s.shop.Found(name, measure.Quantity{}, s.place.ID, store.AskMeeting))
		}},
		{"PutItem", 1, func(s scene) error {
			return second(s.shop.PutItem(store.Item{Designation: fmt.Sprintf("AN%d", s.number%50), Unit: measure.Each, Note: fmt.Sprint(s.number)}))
		}},
		{"PutEquivalent", 1, func(s scene) error {
			return second(s.shop.PutEquivalent(store.Equivalent{Old: fmt.Sprintf("AN%d", s.number), New: "AN3-5A", Source: "letter"}))
		}},
		{"PutSettings", 1, func(s scene) error {
			return second(s.shop.PutSettings(store.Settings{Title: fmt.Sprint("Shop ", s.number)}))
		}},
		{"PutFigures", 1, func(s scene) error {
			row := figures(fmt.Sprintf("AN7-%d", 10+s.number%2), fmt.Sprint("sheet ", s.number), measure.Inches(7, 16), measure.Inches(35, 32))
			if s.number%2 == 1 {
				row = figures("AN7-11", fmt.Sprint("sheet ", s.number), measure.Inches(9, 16), measure.Inches(39, 32))
			}
			return second(s.shop.PutFigures([]hardware.OwnRow{row}))
		}},
		{"DropFigures", 1, func(s scene) error { return second(s.shop.DropFigures(fmt.Sprintf("AN7-%d", 10+s.number%2))) }},
		{"MovePlace", 1, func(s scene) error { return second(s.shop.MovePlace(s.place.ID, s.other.ID)) }},
		{"RenamePlace", 1, func(s scene) error { return second(s.shop.RenamePlace(s.place.ID, fmt.Sprint("Place ", s.number))) }},
		{"RetirePlace", 1, func(s scene) error { return second(s.shop.RetirePlace(s.place.ID)) }},
		{"AddPaperFile", 2, func(s scene) error { // some of them come twice
			data := pictureOf(uint64(s.r.IntN(pictureSeeds)))
			return third(s.shop.AddPaperFile(store.Paper{Kind: store.LetterPaper, Title: fmt.Sprint(s.number)}, "letter.jpg", data))
		}},
		{"AddPhoto", 2, func(s scene) error {
			of := pick(s.r, []store.Subject{store.OfPlace(s.place.ID), store.OfItem(s.heap.Item), store.OfLine(s.ship.ID, s.line())})
			seed := s.r.IntN(pictureSeeds)
			return third(s.shop.AddPhoto(of, fmt.Sprint("seed ", seed), pictureOf(uint64(seed))))
		}},
		{"CaptionPhoto", 1, func(s scene) error {
			return second(s.shop.CaptionPhoto(s.photo.Number, fmt.Sprint("number ", s.number)))
		}},
		{"RemovePhoto", 1, func(s scene) error { return second(s.shop.RemovePhoto(s.photo.Number)) }},
		{"ClaimSent", 1, func(s scene) error {
			return second(s.shop.ClaimSent(s.ship.ID, store.Date{Year: 2026, Month: 4, Day: 5}, "by post"))
		}},
		{"ClaimGivenUp", 1, func(s scene) error {
			return s.shop.Together(func(group *store.Shop) error { // all that there was is sent by now
				if _, err := group.Receive(s.ship.ID, s.line(), found(int64(s.number%5))); err != nil {
					return err
				}
				return second(group.ClaimGivenUp(s.ship.ID, nil, "too little to ask for"))
			})
		}},
		{"PriceLine", 1, func(s scene) error {
			price, err := store.ParseMoney(fmt.Sprintf("%d.25", s.number%50), "USD")
			if err != nil {
				return err
			}
			return second(s.shop.PriceLine(s.ship.ID, s.line(), price, "as typed"))
		}},
		{"ClaimAnswered", 1, func(s scene) error {
			return second(s.shop.ClaimAnswered(s.ship.ID, nil, store.ClaimAnswer{Reply: store.Credit}))
		}},
		{"PutSupplier", 1, func(s scene) error {
			return second(s.shop.PutSupplier(store.Supplier{Name: fmt.Sprint("Shop ", s.number%5), Note: fmt.Sprint(s.number)}))
		}},
		{"PutSupply", 1, func(s scene) error {
			supply := store.Supply{Item: fmt.Sprintf("AN%d", s.number%50), Supplier: fmt.Sprint("Shop ", s.number%5), Pack: int64(s.number)}
			return second(s.shop.PutSupply(supply, s.quantity))
		}},
		{"Order", 1, func(s scene) error {
			return third(s.shop.Order(store.NewOrder{
				Order: store.Order{Supplier: fmt.Sprint("Shop ", s.number%5)},
				Lines: []store.OrderLine{{Item: "AN3-5A", Quantity: s.quantity}, {Item: fmt.Sprintf("AN%d", s.number%50), Quantity: measure.Pieces(5)}},
			}))
		}},
		{"Promise", 1, func(s scene) error {
			return second(s.shop.Promise(1+s.number%9, nil, store.Date{Year: 2027, Month: 1, Day: 1 + s.number%28}))
		}},
		{"Match", 1, func(s scene) error {
			return second(s.shop.Match(s.ship.ID, s.line(), store.OrderRef{Order: 1 + s.number%9, Line: 1}))
		}},
		{"Cancel", 1, func(s scene) error { return second(s.shop.Cancel(1+s.number%9, nil, "not made any more")) }},
		{"Undo", 2, func(s scene) error { return second(s.shop.Undo()) }},
		{"Redo", 2, func(s scene) error {
			_, undone, err := s.shop.Redoable()
			if err == nil && !undone {
				err = second(s.shop.Undo())
			}
			if err != nil {
				return err
			}
			return second(s.shop.Redo())
		}},
		{"Together", 1, func(s scene) error {
			return s.shop.Together(func(group *store.Shop) error {
				for i := range int64(mostTogether) {
					if _, err := group.Count(store.StockKey{Item: "AN3-5A", Place: s.place.ID}, measure.Pieces(int64(s.number)+i)); err != nil {
						return err
					}
				}
				return nil
			})
		}},
	}
}

// Every method of a shop that writes is in the table, and so in the tests that kill
// programs and have the power fail.
func TestEveryVerbIsInTheTable(t *testing.T) {
	listed := map[string]bool{}
	for _, v := range verbs() {
		listed[v.name] = true
	}
	write := writingMethods(t)
	if len(write) < 20 {
		t.Fatalf("only %v write: the test looks in the wrong place", write)
	}
	for _, name := range write {
		if !listed[name] {
			t.Errorf("%s writes and is not in the table of verbs: the tests of killed programs and of power failures go by it", name)
		}
		delete(listed, name)
	}
	for name := range listed {
		t.Errorf("%s is in the table of verbs, and no method of a shop that writes", name)
	}
}

// writingMethods are the exported methods of a shop that reach its update by way of
// methods of the shop, as its sources say.
func writingMethods(t *testing.T) []string {
	t.Helper()
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	calls := map[string][]string{} // by method of Shop, what it calls of its own
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if name, own, ok := ownCalls(d); ok {
				calls[name] = own
			}
		}
	}
	writes := map[string]bool{"update": true}
	for found := true; found; {
		found = false
		for name, own := range calls {
			if !writes[name] && slices.ContainsFunc(own, func(callee string) bool { return writes[callee] }) {
				writes[name], found = true, true
			}
		}
	}
	maps.DeleteFunc(writes, func(name string, _ bool) bool { return !ast.IsExported(name) })
	return slices.Sorted(maps.Keys(writes))
}

// ownCalls are the methods that a method of Shop calls on its receiver.
func ownCalls(d ast.Decl) (name string, own []string, ok bool) {
	f, ok := d.(*ast.FuncDecl)
	if !ok || f.Recv == nil || len(f.Recv.List[0].Names) == 0 {
		return "", nil, false
	}
	star, ok := f.Recv.List[0].Type.(*ast.StarExpr)
	if !ok {
		return "", nil, false
	}
	if of, ok := star.X.(*ast.Ident); !ok || of.Name != "Shop" {
		return "", nil, false
	}
	receiver := f.Recv.List[0].Names[0].Name
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := sel.X.(*ast.Ident); ok && x.Name == receiver {
				own = append(own, sel.Sel.Name)
			}
		}
		return true
	})
	return f.Name.Name, own, true
}
