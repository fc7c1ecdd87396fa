package operation_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// hinges is a shop whose SA-21 calls five lines, R-12 to R-16, of which bolts are fitted.
func hinges(t *testing.T) *sessiontest.Bench {
	t.Helper()
	b := sessiontest.Open(t, demo.Unpacked)
	figure := func(n string) store.Callout { return store.Callout{Figure: n} }
	each(t, b, []row{
		{"list", operation.PutNeeds{Lists: []store.Needs{{SubAssembly: store.SubAssembly{Code: "SA-21", Name: "Rudder hinges"}, Requirements: []store.Requirement{
			{Called: "AN3-5A", Needed: measure.Pieces(8), Callout: figure("3"), Joint: "hinge", Torque: "25 in-lb"},
			{Called: "AN3-5A", Needed: measure.Pieces(4), Callout: figure("4")},
			{Called: "AN365-1032A", Needed: measure.Pieces(12), Joint: "hinge"},
			{Called: "AN960-10", Needed: measure.Pieces(24)},
			{Called: "MS21042-3", Needed: measure.Pieces(2), Position: "Rudder / left"},
		}}}}, "5 needs", ""},
		{"take", operation.Take{Heap: item("AN3-5A"), Amount: "6", For: "SA-21"}, "6 ea", ""},
		{"fit", operation.Fit{Heap: item("AN3-5A"), Amount: "6", For: "SA-21"}, "6 ea fitted", ""},
	})
	return b
}

// listFile is a list of requirements in a file.
func listFile(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// steps are what a revision comes to, by what each line calls.
func steps(r operation.Revision) string {
	var lines []string
	for _, s := range r.Steps {
		line := strings.Join(strings.Fields(fmt.Sprintf("%d %s %s (%s) > %s (%s) %s", s.Row, s.Does, s.Old, s.Was, s.New, s.Now, s.Stays())), " ")
		lines = append(lines, line)
	}
	for _, p := range r.Problems {
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

// What a revised list or a bulletin changes is shown with what is fitted already, before
// anything is changed.
func TestRevisionIsShown(t *testing.T) {
	b := hinges(t)
	before := b.Journal()
	for _, row := range []struct{ name, list, want string }{
		{"the same list", "number,quantity,figure,revision\nAN3-5A,8,3,B\nAN3-5A,4,4,B\nAN365-1032A,12,,B\nAN960-10,24,,B\nMS21042-3,2,,B\n", ""},
		{"a whole list", "number,quantity,figure,position\nAN3-6A,8,3,\nAN3-5A,6,4,\nAN365-1032A,12,,\nMS21042-3,2,,Rudder / left\nAN4-12A,1,,\n", `2 replaces AN3-5A (8 ea, figure 3) > AN3-6A (8 ea, figure 3) 6 ea AN3-5A fitted already, and it stays so
3 replaces AN3-5A (4 ea, figure 4) > AN3-5A (6 ea, figure 4)
0 drops AN960-10 (24 ea) > ()
6 adds () > AN4-12A (1 ea)`},
		{"a bulletin", "change,number,quantity,figure,replaces\ndrops,AN960-10,,,\nadds,AN960-10L,24,,\nreplaces,AN3-6A,4,4,r-13\n", `4 replaces AN3-5A (4 ea, figure 4) > AN3-6A (4 ea, figure 4)
2 drops AN960-10 (24 ea) > ()
3 adds () > AN960-10L (24 ea)`},
		{"a number that stands twice", "change,number,quantity\ndrops,AN3-5A,\n", `list.csv, row 2: SA-21 calls AN3-5A in R-12 and R-13: write in a column replaces which of them the row is about`},
		{"elsewhere", "number,quantity,figure\nAN3-5A,8,5\nAN3-5A,4,6\n", `list.csv, row 2: SA-21 calls AN3-5A in R-12 and R-13, elsewhere than the list: write in a column replaces which line each row is about
list.csv, row 3: SA-21 calls AN3-5A in R-12 and R-13, elsewhere than the list: write in a column replaces which line each row is about`},
		{"in place of nothing", "change,number,quantity\nreplaces,AN4-12A,1\n", `list.csv, row 2: the row does not say what AN4-12A takes the place of: write the number before, or the line, in a column replaces`},
		{"in place of what is not called", "change,number,quantity,replaces\nreplaces,AN4-12A,1,AN4-13A\n", `list.csv, row 2, column D: no line of SA-21 calls AN4-13A: see its list`},
		{"of another sub-assembly", "change,number,quantity,replaces\nreplaces,AN4-12A,1,R-1\n", `list.csv, row 2, column D: no line of SA-21 calls R-1: see its list`},
		{"a line twice", "change,number,quantity,replaces\nreplaces,AN3-6A,8,R-12\ndrops,AN3-5A,,R-12\n", `list.csv, row 3, column D: no line of SA-21 calls R-12: see its list`},
		{"no change", "change,number,quantity\nmaybe,AN4-12A,1\n", `list.csv, row 2, column A: "maybe" does not say what the row does: write adds, drops or replaces`},
		{"half a bulletin", "change,number,quantity\nadds,AN4-12A,1\n,AN4-13A,1\n", `list.csv, row 3, column A: "" does not say what the row does: write adds, drops or replaces`},
		{"an expression that is none", "number,quantity\nAN3-5A,ten\n", `list.csv, row 2, column B: quantity "ten", at character 1: a number is expected, and not "ten"`},
		{"nobody's list", "sub-assembly,number,quantity\nSA-99,AN3-5A,1\n", `list.csv, row 2, column A: there is no sub-assembly "SA-99" in this shop, so nothing of it is revised: bring its list in first`},
	} {
		t.Run(row.name, func(t *testing.T) {
			r, err := operation.ReviseNeeds{List: operation.NeedList{Path: listFile(t, row.list), For: "SA-21"}}.Read(b.Session)
			if err != nil {
				t.Fatal(err)
			}
			if got := steps(r); got != row.want {
				t.Errorf("got\n%s\nwant\n%s", got, row.want)
			}
		})
	}
	if b.Journal() != before {
		t.Error("something was changed by looking")
	}
}

// Of each line that is changed it is shown which joint it is in, and what of that changes.
func TestRevisionShowsJoints(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	check(t, b, operation.PutNeeds{Lists: []store.Needs{{SubAssembly: store.SubAssembly{Code: "SA-21"}, Requirements: []store.Requirement{
		{Called: "AN3-5A", Needed: measure.Pieces(8), Joint: "hinge", Stack: []store.Layer{{Name: "spar", Thickness: measure.Inches(188, 1000)}}},
		{Called: "AN960-10", Needed: measure.Pieces(8), Joint: "hinge"},
		{Called: "AN365-1032A", Needed: measure.Pieces(8), Joint: "hinge"},
		{Called: "MS21042-3", Needed: measure.Pieces(2)},
	}}}}, "4 needs", "")
	r, err := operation.ReviseNeeds{List: operation.NeedList{For: "SA-21", Path: listFile(t, "number,quantity,joint,stack\n"+
		"AN3-5A,8,hinge,spar .125\nAN960-10,16,,\nMS21042-3,2,tip,\nAN4-12A,1,tip,rib .063\n")}}.Read(b.Session)
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, r.Problems)
	}
	got := ""
	for _, s := range r.Steps {
		got += s.Does + " " + s.Old + " " + s.New + ": " + s.InJoint() + "\n"
	}
	if want := `replaces AN3-5A AN3-5A: joint hinge: spar 0.125; was spar 0.188
replaces AN960-10 AN960-10: joint hinge
replaces MS21042-3 MS21042-3: joint tip; was in none
drops AN365-1032A : was in joint hinge
adds  AN4-12A: joint tip: rib 0.063
`; got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A revision is one dated entry, alters nothing that is fitted, keeps what the list does
// not say, and Undo takes it back whole.
func TestRevise(t *testing.T) {
	b := hinges(t)
	list := listFile(t, "number,quantity,figure,position\nAN3-5A,10,3,\nAN3-5A,4,4,\nAN365-1032A,12,,\nMS21042-3,2,,Rudder / left\n")
	o := operation.ReviseNeeds{List: operation.NeedList{Path: list, For: "sa-21"}, Title: " Revision B ", Paper: "letter", On: "2026-03-02"}
	fitted, err := b.Shop.Fitted("SA-21")
	if err != nil {
		t.Fatal(err)
	}
	each(t, b, []row{
		{"without a title", operation.ReviseNeeds{List: o.List}, "", "Say which paper changes the plans, as in Bulletin 4."},
		{"on no day", operation.ReviseNeeds{List: o.List, Title: "B", On: "soon"}, "", "soon"},
		{"what cannot be read", operation.ReviseNeeds{List: operation.NeedList{Path: listFile(t, "number,quantity\nAN3-5A,ten\n"), For: "SA-21"}, Title: "B"}, "", "row 2, column B"},
		{"revise", o, "C-1, Revision B: 0 added, 1 dropped, 1 replaced", ""},
		{"once more", o, "", "Revision B changes nothing: all 4 lines stand as they are."},
	})
	changes, err := b.Shop.PlanChanges()
	if err != nil || len(changes) != 1 || changes[0].Day.String() != "2 March 2026" || changes[0].Paper != "letter" {
		t.Errorf("kept as %+v, %v", changes, err)
	}
	listed, err := b.Shop.Requirements("SA-21")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range listed {
		if r.InForce() && r.Callout.Figure == "3" && (r.Needed != measure.Pieces(10) || r.Joint != "hinge" || r.Torque != "25 in-lb") {
			t.Errorf("in place of the bolts of figure 3 stands %+v", r)
		}
	}
	after, err := b.Shop.Fitted("SA-21")
	if err != nil || len(after) != len(fitted) || after[0] != fitted[0] {
		t.Errorf("fitted are %+v, %v, and were %+v", after, err, fitted)
	}
	if _, err := b.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	r, err := o.Read(b.Session)
	if err != nil || len(r.Steps) != 2 || r.Same != 3 {
		t.Errorf("undone it would change %s, %v", steps(r), err)
	}
}

// The torque of a bolt is not that of another one in its place; its joint is.
func TestReviseAnotherNumber(t *testing.T) {
	b := hinges(t)
	list := listFile(t, "change,number,quantity,replaces\nreplaces,AN3-6A,8,R-12\n")
	check(t, b, operation.ReviseNeeds{List: operation.NeedList{Path: list, For: "SA-21"}, Title: "Bulletin 4"}, "1 replaced", "")
	listed, err := b.Shop.Requirements("SA-21")
	if err != nil {
		t.Fatal(err)
	}
	if r := listed[len(listed)-1]; r.Called != "AN3-6A" || r.Torque != "" || r.Joint != "hinge" || r.Callout.Figure != "3" {
		t.Errorf("in its place stands %+v", r)
	}
}

// A closed sub-assembly is not revised before it is worked on again.
func TestReviseClosed(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{{"a new one", operation.PutSubAssembly{Code: "SA-90", Name: "Tip"}, "SA-90", ""}, {"close", operation.Close{For: "SA-90", Unnoted: "nothing in it"}, "closed", ""}})
	check(t, b, operation.ReviseNeeds{List: operation.NeedList{Path: listFile(t, "number,quantity\nAN3-5A,1\n"), For: "SA-90"}, Title: "B"}, "", "SA-90 is closed: reopen it before its list is changed")
}
