package operation_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// What is said of an aircraft stays until something else is said; its hours are of a day.
func TestAircraft(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	each(t, b, []row{
		{"one that nobody knows", operation.PutAircraft{Name: "Q", Inspector: "Partner"}, "", `There is no aircraft "Q" in this shop`},
		{"a new one", operation.PutAircraft{Name: " Type  Q ", Certificate: "Experimental", Inspector: "Partner", Paper: "certificate 7"}, "Type Q", ""},
		{"of no such kind", operation.PutAircraft{Name: "type q", Certificate: "flying"}, "", "flying"},
		{"a paper of nobody", operation.PutAircraft{Name: "Type Q", Paper: "certificate 8"}, "", "Say who may inspect Type Q by certificate 8."},
		{"another inspector", operation.PutAircraft{Name: "Type Q", Inspector: "Mechanic", Paper: "licence 1"}, "Type Q", ""},
		{"a newer paper", operation.PutAircraft{Name: "Type Q", Inspector: "partner", Paper: "certificate 8"}, "Type Q", ""},
		{"hours", operation.LogHours{Aircraft: "type q", Hours: "112.4", On: "2026-03-10"}, "112.4 h", ""},
		{"hours in words", operation.LogHours{Aircraft: "Type Q", Hours: "many"}, "", `"many" is no number of hours`},
		{"on no day", operation.LogHours{Aircraft: "Type Q", Hours: "1", On: "soon"}, "", "soon"},
		{"of another aircraft", operation.LogHours{Aircraft: "T", Hours: "1"}, "", `There is no aircraft "T"`},
	})
	all, err := b.Shop.Aircraft()
	if err != nil || len(all) != 1 {
		t.Fatalf("%+v, %v", all, err)
	}
	want := []store.Inspector{{Who: "Mechanic", Paper: "licence 1"}, {Who: "partner", Paper: "certificate 8"}}
	if a := all[0]; a.Name != "Type Q" || a.Certificate != "experimental" || !slices.Equal(a.Inspectors, want) {
		t.Errorf("kept as %+v", a)
	}
	each(t, b, []row{
		{"nobody may", operation.PutAircraft{Name: "Type Q", Inspector: "None"}, "Type Q", ""},
		{"no certificate yet", operation.PutAircraft{Name: "Type Q", Certificate: "none yet"}, "Type Q", ""},
	})
	if all, err = b.Shop.Aircraft(); err != nil || all[0].Inspectors != nil || all[0].Certificate != store.NoCertificate {
		t.Errorf("taken back it is %+v, %v", all, err)
	}
}

// What is known of a sub-assembly is said field by field, and none takes it back.
func TestPutSubAssembly(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"one that nobody knows", operation.PutSubAssembly{Code: "SA-90", Hours: "4"}, "", `There is no sub-assembly "SA-90"`},
		{"a new one", operation.PutSubAssembly{Code: " SA-90 ", Name: "Wing tip", Hours: "4.5 h"}, "SA-90 Wing tip", ""},
		{"hours in words", operation.PutSubAssembly{Code: "SA-90", Hours: "many"}, "", `"many" is no number of hours: write it like 20 or 12.5.`},
		{"on no day", operation.PutSubAssembly{Code: "SA-90", Planned: "soon"}, "", "soon"},
		{"part of nothing there is", operation.PutSubAssembly{Code: "SA-90", PartOf: "SA-99"}, "", `There is no sub-assembly "SA-99"`},
		{"part of itself", operation.PutSubAssembly{Code: "SA-90", PartOf: "sa-90"}, "", "SA-90 would be part of itself"},
		{"of another aircraft", operation.PutSubAssembly{Code: "SA-90", Aircraft: "T"}, "", `There is no aircraft "T"`},
		{"of no such kind", operation.PutSubAssembly{Code: "SA-90", Kind: "hobby"}, "", "hobby"},
		{"its day and kind", operation.PutSubAssembly{Code: "sa-90", Planned: "2026-08-01", Kind: "Inspection", PartOf: "sa-20"}, "planned for 1 August 2026", ""},
	})
	sub := func() store.SubAssembly {
		t.Helper()
		subs, err := b.Shop.SubAssemblies()
		if err != nil {
			t.Fatal(err)
		}
		named, err := session.SubAssemblyNamed(subs, "SA-90")
		if err != nil {
			t.Fatal(err)
		}
		return named
	}
	if s := sub(); s.Hours != 45 || s.Work != "inspection" || s.Parent != "SA-20" || s.Name != "Wing tip" {
		t.Errorf("kept as %+v", s)
	}
	check(t, b, operation.PutSubAssembly{Code: "SA-90", Hours: "None", Planned: "none", PartOf: "none", Kind: "build"}, "SA-90", "")
	if s := sub(); s.Hours != 0 || s.Work != store.Build || s.Parent != "" || !s.Planned.IsZero() || s.Name != "Wing tip" {
		t.Errorf("taken back it is %+v", s)
	}
}

// Lines of a list end, or others take their place; what is not said stays as it was, but
// for the torque of another number.
func TestReplaceRequirement(t *testing.T) {
	b := hinges(t)
	each(t, b, []row{
		{"no such line", operation.ReplaceRequirement{Requirement: "R-99", By: "AN3-6A"}, "", "R-99"},
		{"the same again", operation.ReplaceRequirement{Requirement: "r-12", By: "an3-5a"}, "", "R-12 calls AN3-5A already: say what differs."},
		{"in a unit that it has not", operation.ReplaceRequirement{Requirement: "R-12", By: "SEAL-B2"}, "", "SEAL-B2 is kept by qt here, and R-12 asks for ea: ask which is meant."},
		{"another revision", operation.ReplaceRequirement{Requirement: "R-12", By: "AN3-5A", Revision: "B"}, "R-12 of SA-21 AN3-5A replaced by R-17 AN3-5A", ""},
		{"another number", operation.ReplaceRequirement{Requirement: "R-17", By: "an3-6a", Quantity: "4 x 2 sides"}, "replaced by R-18 AN3-6A", ""},
		{"end", operation.EndRequirement{Requirement: "R-14", Why: "riveted"}, "R-14 of SA-21 AN365-1032A ended: riveted", ""},
		{"end it again", operation.EndRequirement{Requirement: "R-14", Why: "riveted"}, "", "R-14 is in force no more"},
	})
	listed, err := b.Shop.Requirements("SA-21")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range listed {
		switch r.Name() {
		case "R-17":
			if r.Torque != "25 in-lb" || r.Joint != "hinge" || r.Callout.Figure != "3" || r.Revision != "B" {
				t.Errorf("R-17 is %+v", r)
			}
		case "R-18":
			if r.Torque != "" || r.Joint != "hinge" || r.Needed != measure.Pieces(8) || r.Revision != "B" {
				t.Errorf("R-18 is %+v", r)
			}
		}
	}
}

// The order is that of the codes in any spelling, and what one lets go of goes to others.
func TestOrderAndHold(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"unknown", operation.OrderSubAssemblies{Codes: []string{"SA-99"}}, "", `There is no sub-assembly "SA-99"`},
		{"order", operation.OrderSubAssemblies{Codes: []string{"sa-20", "SA-10"}}, "built in this order: SA-20, SA-10", ""},
		{"let go", operation.LetGo{For: "sa-10"}, "SA-10", ""},
		{"let go of nothing", operation.LetGo{For: "SA-99"}, "", `There is no sub-assembly "SA-99"`},
	})
	lets := func() bool {
		subs, err := b.Shop.SubAssemblies()
		if err != nil {
			t.Fatal(err)
		}
		sub, err := session.SubAssemblyNamed(subs, "SA-10")
		if err != nil {
			t.Fatal(err)
		}
		return sub.LetGo
	}
	if !lets() {
		t.Error("SA-10 holds what it needs")
	}
	if check(t, b, operation.LetGo{For: "SA-10", Hold: true}, "SA-10", ""); lets() {
		t.Error("SA-10 does not hold what it needs again")
	}
}

// Lines of a list are one joint by their names; what is not said of it stays.
func TestPutJoint(t *testing.T) {
	b := hinges(t)
	each(t, b, []row{
		{"of nothing there is", operation.PutJoint{For: "SA-99", Name: "horn"}, "", `There is no sub-assembly "SA-99"`},
		{"no lines", operation.PutJoint{For: "SA-21", Name: "horn", Stack: ".125"}, "", "There is no joint of that name in SA-21: say which lines of its list are to be one"},
		{"no stack", operation.PutJoint{For: "SA-21", Name: "horn", Of: []string{"R-13"}}, "", "Type what the bolt goes through"},
		{"a stack of words", operation.PutJoint{For: "SA-21", Name: "horn", Of: []string{"R-13"}, Stack: "thick"}, "", "“thick”: write each thickness like .125"},
		{"a line of another", operation.PutJoint{For: "SA-21", Name: "horn", Of: []string{"R-12"}, Stack: ".125"}, "", "R-12 is in the joint hinge already"},
		{"its stack", operation.PutJoint{For: "sa-21", Name: "Hinge", Stack: "spar .125 + .063"}, "R-12 and R-14 are the joint Hinge, through spar 1/8 (0.125) and 0.063", ""},
		{"another line", operation.PutJoint{For: "SA-21", Name: "hinge", Of: []string{"R-12", "R-15"}}, "R-12 and R-15 are the joint hinge, through spar 1/8 (0.125) and 0.063", ""},
		{"none", operation.PutJoint{For: "SA-21", Name: "hinge", None: true}, "the joint hinge is none any more", ""},
		{"none of none", operation.PutJoint{For: "SA-21", Name: "hinge", None: true}, "", "There is no joint “hinge” in SA-21"},
	})
}

// pullList is what is left to pull.
func pullList(t *testing.T, b *sessiontest.Bench, codes ...string) build.PullList {
	t.Helper()
	list, err := session.Answer(b.Session, func(r *session.Reader) (build.PullList, error) { return r.PullList(codes...) })
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// What was ticked is booked whole, or nothing of it.
func TestPullTicked(t *testing.T) {
	b := hinges(t)
	of := func(ticked ...string) operation.PullTicked {
		return operation.PullTicked{Codes: []string{"SA-21"}, Ticked: ticked}
	}
	each(t, b, []row{
		{"for nothing there is", operation.PullTicked{Codes: []string{"SA-99"}, All: true}, "", `"SA-99"`},
		{"nothing", of(), "", "Nothing is ticked"},
		{"a place that is not on it", of("A-01"), "", "A-01 is not on the list of SA-21 any more: see what is left."},
		{"a place twice", of("A-30", "a-30=2"), "", "a-30 is ticked twice"},
		{"words", of("A-30=some"), "", `"some" is not an amount`},
		{"too many of the second", of("A-30=4", "A-17=70"), "", "AN365-1032A for SA-21: 12 called, 0 pulled: 12 to go. With a reason it goes all the same."},
		{"some of two", of("A-30=4", "A-17/an365-1032a"), "2 kinds of things pulled for SA-21 Rudder hinges", ""},
		{"the rest", operation.PullTicked{Codes: []string{"SA-21"}, All: true}, "3 kinds of things pulled for SA-21 Rudder hinges", ""},
		{"nothing is left", operation.PullTicked{Codes: []string{"SA-21"}, All: true}, "", "Nothing is left to pull for SA-21."},
	})
}

// What is written beside a stop on paper: all, none, or how many; more than is called
// needs the reason. The column is one entry, which one Undo takes back.
func TestPullColumn(t *testing.T) {
	b := hinges(t)
	stops := pullList(t, b, "SA-21").Stops
	for text, want := range map[string]string{"": "not taken", "N": "not taken", " . ": "all", "a": "all", "4": "4", "some": "refused", "-1": "refused", "0": "refused"} {
		taken, stop, err := operation.TickedStop(b.Session, stops[0], text)
		got := stop.Amount
		switch {
		case err != nil:
			got = "refused"
		case !taken:
			got = "not taken"
		case got == "":
			got = "all"
		}
		if got != want {
			t.Errorf("%q is read as %s, want %s", text, got, want)
		}
	}
	var nuts, washers build.Stop
	for _, s := range stops {
		switch s.Item {
		case "AN365-1032A":
			nuts = s
		case "NAS1149F0363P":
			washers = s
		}
	}
	column := operation.PullColumn{Stops: []operation.PullStop{{Stop: washers}, {Stop: nuts, Amount: "14"}}}
	check(t, b, column, "", "With a reason it goes all the same")
	column.Reason = "two spare"
	before, err := b.Shop.Newest()
	if err != nil {
		t.Fatal(err)
	}
	check(t, b, column, "2 kinds of things pulled for SA-21 Rudder hinges, because: two spare", "")
	if newest, err := b.Shop.Newest(); err != nil || newest != before+1 {
		t.Errorf("a column is %d entries, %v; want one", newest-before, err)
	}
	left := func() string {
		var words []string
		for _, s := range pullList(t, b, "SA-21").Stops {
			words = append(words, s.Item+" "+s.Quantity.Number())
		}
		return strings.Join(words, ", ")
	}
	if got := left(); strings.Contains(got, "NAS1149F0363P") || strings.Contains(got, "AN365-1032A") {
		t.Errorf("after the column there is left: %s", got)
	}
	check(t, b, operation.Undo{}, "", "")
	if got := left(); !strings.Contains(got, "NAS1149F0363P 24") || !strings.Contains(got, "AN365-1032A 12") {
		t.Errorf("after its undo there is left: %s", got)
	}
}

// A column for several trays is one entry too, and books nothing where one line is refused.
func TestPullColumnOfSeveralTrays(t *testing.T) {
	b := hinges(t)
	list := pullList(t, b, "SA-10", "SA-21")
	both := slices.IndexFunc(list.Stops, func(s build.Stop) bool { return len(s.For) == 2 })
	alone := slices.IndexFunc(list.Stops, func(s build.Stop) bool { return len(s.For) == 1 })
	if both < 0 || alone < 0 {
		t.Fatalf("no stop for both: %+v", list.Stops)
	}
	before, err := b.Shop.Newest()
	if err != nil {
		t.Fatal(err)
	}
	first := operation.PullStop{Stop: list.Stops[both]}
	check(t, b, operation.PullColumn{Stops: []operation.PullStop{first, {Stop: list.Stops[alone], Amount: "1000"}}}, "", list.Stops[alone].Item)
	if newest, err := b.Shop.Newest(); err != nil || newest != before {
		t.Errorf("a column of which one line is refused made %d entries, %v", newest-before, err)
	}
	check(t, b, operation.PullColumn{Stops: []operation.PullStop{first, {Stop: list.Stops[alone]}}}, "pulled for SA-21 Rudder hinges", "")
	e, err := b.Shop.Entry(before + 1)
	if err != nil || !strings.Contains(e.Text, "pulled for SA-10 Fin; ") {
		t.Errorf("the entry is %q, %v", e.Text, err)
	}
}

// The whole tray is fitted but for what is temporary; what is left goes back to where it
// was, and asks where another lot lies by now.
func TestTray(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"list", operation.PutNeeds{Lists: []store.Needs{{SubAssembly: store.SubAssembly{Code: "SA-90", Name: "Tip"}, Requirements: []store.Requirement{
			{Called: "AN3-5A", Needed: measure.Pieces(4)}, {Called: "AN3-6A", Needed: measure.Pieces(2), Kind: store.Temporary},
		}}}}, "2 needs", ""},
		{"an empty tray", operation.FitTray{For: "SA-90"}, "", "Nothing lies in the tray of SA-90 that could be fitted: pull it first."},
		{"nothing to put back", operation.PutTrayBack{From: "SA-90"}, "", "Nothing is left in the tray of SA-90."},
		{"no such tray", operation.FitTray{For: "SA-99"}, "", `There is no sub-assembly "SA-99"`},
		{"take", operation.Take{Heap: item("AN3-5A"), Amount: "5", For: "SA-90", Reason: "spare"}, "5 ea", ""},
		{"take what comes back", operation.Take{Heap: item("AN3-6A"), Amount: "2", For: "SA-90"}, "2 ea", ""},
		{"too many", operation.FitTray{For: "sa-90"}, "", "4 of AN3-5A called in SA-90"},
		{"all of it", operation.FitTray{For: "SA-90", Reason: "one more"}, "AN3-5A: 5 ea fitted in SA-90 Tip", ""},
	})
	if h := b.Heap("SA-90"); h.Item != "AN3-6A" || h.Amount.Figure() != "2" {
		t.Errorf("left in the tray is %s %s", h.Amount, h.Item)
	}
	check(t, b, operation.Take{Heap: item("AN3-6A"), Amount: "10", For: "SA-90", Reason: "all of them"}, "10 ea", "")
	if _, err := b.Shop.PutIn(store.StockKey{Item: "AN3-6A", Place: b.Place("A-38").ID}, store.Exact(measure.Pieces(1)), store.AskMeeting); err != nil {
		t.Fatal(err)
	}
	o := operation.PutTrayBack{From: "SA-90"}
	_, err := o.Do(context.Background(), b.Session)
	if err == nil || !strings.Contains(err.Error(), "poured together or kept apart") {
		t.Fatalf("put where another lot lies: %v", err)
	}
	met := o.Met(err, store.PourLots)
	check(t, b, met, "AN3-6A: 12 ea put back from SA-90 to A-38", "")
	if h := b.Heap("A-38"); h.Amount.Figure() != "13" || len(o.Meetings) != 0 {
		t.Errorf("in A-38 lie %s; the question before it has %v", h.Amount, o.Meetings)
	}
}

// Put back, remove and found take the answer of a person where two lots meet.
func TestMet(t *testing.T) {
	for _, o := range []operation.Meets{operation.PutBack{From: "SA-10"}, operation.Remove{From: "SA-10"}, operation.Found{From: "SA-10"}} {
		var got store.Meeting
		switch o := o.Met(nil, store.LotsApart).(type) {
		case operation.PutBack:
			got = o.Meeting
		case operation.Remove:
			got = o.Meeting
		case operation.Found:
			got = o.Meeting
		}
		if got != store.LotsApart {
			t.Errorf("%T keeps the answer %q", o, got)
		}
	}
	asked := operation.PutTrayBack{Meetings: map[string]store.Meeting{"AN3-5A": store.PourLots}}
	refused := &store.Error{Where: "AN3-6A", Err: store.ErrLotsMeet}
	again := asked.Met(refused, store.LotsApart).(operation.PutTrayBack)
	if len(asked.Meetings) != 1 || again.Meetings["AN3-6A"] != store.LotsApart || again.Meetings["AN3-5A"] != store.PourLots {
		t.Errorf("of a tray the answers are %v, and were %v", again.Meetings, asked.Meetings)
	}
}
