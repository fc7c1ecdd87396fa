package operation_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"stowright/store/exchange"
	"stowright/store/measure"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// understood is a list as it is understood: a line for each row, and what is wrong with it.
func understood(t *testing.T, b *sessiontest.Bench, o operation.NeedList) string {
	t.Helper()
	read, err := o.Read(b.Session)
	if err != nil {
		return "refused: " + err.Error()
	}
	var lines []string
	for _, l := range read.Lines {
		if l.Problem != "" {
			lines = append(lines, fmt.Sprintf("%d: %s", l.Row, l.Problem))
			continue
		}
		line := fmt.Sprintf("%d %s %s %s", l.Row, l.SubAssembly, l.Item, l.Quantity)
		if l.Place != "" {
			line += " at " + l.Place
		}
		lines = append(lines, line)
	}
	for _, p := range read.Problems {
		if !strings.Contains(strings.Join(lines, "\n"), p.Message) { // of no row alone
			lines = append(lines, p.Error())
		}
	}
	return strings.Join(lines, "\n")
}

// Rows of a list are understood one by one; what cannot be is said with what to write.
func TestNeedRows(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	for _, row := range []struct{ name, list, want string }{
		{"kinds", "number,quantity,kind\nAN3-5A,2,exact\nAN3-6A,2,Temporary\nAN3-7A,2,as required\nAN4-12A,,A/R\nAN4-13A,A/R,\n", "2 SA-60 AN3-5A 2 ea\n3 SA-60 AN3-6A 2 ea, temporary\n4 SA-60 AN3-7A 2 ea, as required\n5 SA-60 AN4-12A as required\n6 SA-60 AN4-13A as required"},
		{"ticks", "number,quantity,as required,temporary\nAN3-5A,2,x,\nAN3-6A,2,no,yes\nAN3-7A,2,-,✓\n", "2 SA-60 AN3-5A 2 ea, as required\n3 SA-60 AN3-6A 2 ea, temporary\n4 SA-60 AN3-7A 2 ea, temporary"},
		{"no tick", "number,quantity,temporary\nAN3-5A,2,perhaps\n", `2: "perhaps" is neither yes nor no: write x, or leave it out`},
		{"no kind", "number,quantity,kind\nAN3-5A,2,spare\n", `2: "spare" is no kind of requirement: write exact, as required or temporary`},
		{"units", "number,quantity,unit\nSEAL-B2,1.5,\nAN426AD3-3.5,1,lb\nAN426AD3-4,40,\nAN3-5A,2,lb\n", "2 SA-60 SEAL-B2 1.5 qt\n3 SA-60 AN426AD3-3.5 1 lb\n4 SA-60 AN426AD3-4 40 ea\n5 SA-60 AN3-5A 2 lb"},
		{"a unit that it has not", "number,quantity,unit\nSEAL-B2,1,ft\nAN3-5A,1,bags\n", "2: SEAL-B2 is kept by qt here, and the list says ft: ask which is meant\n3: \"bags\" is no unit: write ea, ft, in, lb, oz, qt or another one"},
		{"how many", "number,quantity\nAN3-5A,\nAN3-6A,0\nAN3-7A,2 x 3 sides\n", "2: the row does not say how many of AN3-5A: write a number, or A/R\n3: quantity \"0\", at character 1: it comes to nothing: leave the line out, or give a number\n4 SA-60 AN3-7A 6 ea (2 x 3 sides)"},
		{"places", "number,quantity,drawing,figure,position,side\nAN3-5A,2,12,3,Rudder,left\nAN3-5A,2,12,3,Rudder,right\nAN3-5A,2,12,3,Rudder,left\n", "2 SA-60 AN3-5A 2 ea at drawing 12, figure 3 · Rudder / left\n3 SA-60 AN3-5A 2 ea at drawing 12, figure 3 · Rudder / right\n4: AN3-5A stands in row 2 already: leave one of them out, or say in which figure or position each is"},
		{"a joint", "number,quantity,joint,stack\nAN3-5A,2,hinge,\"spar .125, .063\"\nAN3-6A,2,,.125\nAN3-7A,2,hinge,thick\n", "2 SA-60 AN3-5A 2 ea\n3: the row says what a bolt goes through and not in which joint: name the joint, with the same name at its nut and washers\n4: “thick”: write each thickness like .125, 3/16 or 3mm, with commas between"},
		{"part of nothing", "sub-assembly,number,quantity,part of\nSA-61,AN3-5A,2,SA-99\n", "2 SA-61 AN3-5A 2 ea\nlist.csv, row 2, column D: there is no sub-assembly \"SA-99\" for SA-61 to be part of: list it too"},
		{"part of itself in the end", "sub-assembly,number,quantity,part of\nSA-61,AN3-5A,2,SA-62\nSA-62,AN3-5A,2,SA-61\n", "2 SA-61 AN3-5A 2 ea\n3 SA-62 AN3-5A 2 ea\nlist.csv, row 2, column D: SA-61 would be part of itself: write another one\nlist.csv, row 3, column D: SA-62 would be part of itself: write another one"},
		{"hours in words", "sub-assembly,hours,number,quantity\nSA-61,many,AN3-5A,2\n", "2 SA-61 AN3-5A 2 ea\nlist.csv, row 2, column B: \"many\" is no number of hours: write it like 20 or 12.5"},
		{"what is listed", "sub-assembly,number,quantity\nSA-10,an3-5a,2\n", "2: SA-10 calls AN3-5A already (R-3, 6 ea): leave the row out, or say in which figure or position it is"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := understood(t, b, operation.NeedList{Path: listFile(t, row.list), For: "SA-60"}); got != row.want {
				t.Errorf("got\n%s\nwant\n%s", got, row.want)
			}
		})
	}
}

// What is typed is a table of a word, a quantity and a callout, or as a spreadsheet copies
// it; it comes in as one entry, or not at all.
func TestTypedNeeds(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	of := func(text string) operation.NeedList {
		return operation.NeedList{Text: text, For: "SA-60", Name: "Wing"}
	}
	for text, want := range map[string]string{
		"an3-5a 10 x 2 sides, figure 3":          "1 SA-60 AN3-5A 20 ea (10 x 2 sides) at figure 3",
		"AN3-5A 2\n\nAN3-6A, 4":                  "1 SA-60 AN3-5A 2 ea\n3 SA-60 AN3-6A 4 ea",
		"number\tquantity\tunit\nSEAL-B2\t2\tqt": "2 SA-60 SEAL-B2 2 qt",
		"AN3-5A":                                 "1: the row does not say how many of AN3-5A: write a number, or A/R",
	} {
		if got := understood(t, b, of(text)); got != want {
			t.Errorf("%q: got\n%s\nwant\n%s", text, got, want)
		}
	}
	each(t, b, []row{
		{"a bad row", of("AN3-5A 2\nAN3-6A"), "", "What is typed, row 2: the row does not say how many of AN3-6A"},
		{"no such file", operation.NeedList{Path: "none.csv"}, "", "None.csv: cannot be opened"},
		{"all of it", of("AN3-5A 2\nAN960-10 4"), "2 needs listed for 1 sub-assembly", ""},
	})
	listed, err := b.Shop.Requirements("SA-60")
	if err != nil || len(listed) != 2 || listed[1].Item != "NAS1149F0363P" || listed[1].Kind != store.ExactNeed || listed[0].Expression != "" {
		t.Errorf("kept as %+v, %v", listed, err)
	}
}

// The table of requirements that goes out comes back as a list: as printed, with joints and
// what they go through, and without what was replaced or dropped meanwhile.
func TestRequirementsGoOutAndBack(t *testing.T) {
	from, to := sessiontest.Open(t, demo.Unpacked), sessiontest.Open(t, demo.Unpacked)
	if err := demo.Extend(from.Shop); err != nil {
		t.Fatal(err)
	}
	added, _, err := from.Shop.ChangePlans(store.PlanChange{Title: "Bulletin 4"}, store.PlanEdit{Add: []store.Requirement{{SubAssembly: "SA-21", Called: "AN3-7A", Needed: measure.Pieces(2)}}})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := from.Shop.ChangePlans(store.PlanChange{Title: "Bulletin 5"}, store.PlanEdit{End: added.Added}); err != nil {
		t.Fatal(err)
	}
	files, err := exchange.ExportCSV(t.Context(), from.Shop, t.TempDir(), false)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(files, func(f string) bool { return filepath.Base(f) == "requirements.csv" })
	table, err := os.ReadFile(files[i])
	if err != nil {
		t.Fatal(err)
	}
	var hinges []string // of what the demo shop does not list already
	for line := range strings.Lines(string(table)) {
		if len(hinges) == 0 || strings.Contains(line, ",SA-21,") || strings.Contains(line, ",SA-41,") {
			hinges = append(hinges, line)
		}
	}
	list := operation.NeedList{Path: listFile(t, strings.Join(hinges, ""))}
	read, err := list.Read(to.Session)
	if err != nil || len(read.Problems) > 0 {
		t.Fatalf("%v, %v", err, read.Problems)
	}
	if l := read.Lines[0]; l.Joint != "hinge" || l.Through != "spar 0.125, bracket 0.063" || l.Quantity != "20 ea (10 x 2 sides)" {
		t.Errorf("the first line is shown as %+v", l)
	}
	asked := ""
	for _, d := range read.Doubts {
		asked += d.SubAssembly + ": " + d.Sentence + "\n"
	}
	if !strings.Contains(asked, "SA-41: joint hinge: AN3-5A in a stack of 0.378") || strings.Contains(asked, "SA-21: joint") {
		t.Errorf("asked is\n%s", asked)
	}
	if _, err := list.Do(t.Context(), to.Session); err != nil {
		t.Fatal(err)
	}
	for _, code := range []string{"SA-21", "SA-41"} {
		var got [2][]string
		for i, b := range []*sessiontest.Bench{from, to} {
			listed, err := b.Shop.Requirements(code)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range listed {
				if r.InForce() {
					printed := strings.TrimPrefix(r.Expression, r.Needed.Plain()) // a plain number need not be printed
					got[i] = append(got[i], strings.Join([]string{r.Called, r.Item, r.Needed.String(), printed, r.Joint, r.Through()}, " | "))
				}
			}
		}
		if d := cmp.Diff(got[0], got[1]); d != "" || len(got[0]) == 0 {
			t.Errorf("%s (-out +back):\n%s", code, d)
		}
	}
}
