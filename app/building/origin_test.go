package building

import (
	"strings"
	"testing"

	"stowright/app/operation"
	"stowright/store"
	"stowright/store/measure"
)

// Story 19 at the pull: a lot by whose origin nobody can go stops with the paragraphs, and
// goes in by a decision with its name and reason, which are asked for.
func TestStory19AtThePull(t *testing.T) {
	b := extended(t, true)
	const part = "REG-14"
	if _, err := (operation.PutAircraft{Name: "T", Certificate: "standard"}).Do(t.Context(), b.Session); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Shop.PutSubAssembly(store.SubAssembly{Code: "T-10", Name: "Regulator", Aircraft: "T"}, store.Requirement{Item: part, Called: part, Needed: measure.Pieces(1)}); err != nil {
		t.Fatal(err)
	}
	if _, err := (operation.PutIn{Item: part, Amount: "1", Place: "S1"}).Do(t.Context(), b.Session); err != nil {
		t.Fatal(err)
	}
	w := walkFor(b, "T-10")
	before := b.Journal()
	answer := func(text string) *WalkPrompt {
		w.Answer(text)
		b.Drain()
		return w.State().Prompt
	}
	w.press("E")
	p := answer(part + " 1")
	if p == nil || !strings.Contains(p.Question, "AC 20-62E par. 6; 14 CFR 43.13(b)") || p.Answer != "Decide and take it" || b.Journal() != before {
		t.Fatalf("without a decision: %+v", p)
	}
	if p := answer("A. Mechanic"); p == nil || p.Problem != "Type who decides and why, apart by a comma." || b.Journal() != before {
		t.Errorf("a name alone: %+v", p)
	}
	if p := answer("A. Mechanic, "); p == nil || !strings.Contains(p.Problem, "Say why it may go in") || b.Journal() != before {
		t.Errorf("no reason: %+v", p)
	}
	if p := answer("A. Mechanic, tested on the bench, form 77"); p != nil {
		t.Fatalf("decided: %+v", p)
	}
	decisions, err := b.Shop.Decisions()
	if err != nil || len(decisions) != 1 || decisions[0].Who != "A. Mechanic" || decisions[0].Note != "tested on the bench" || decisions[0].Paper != "form 77" || len(decisions[0].Lots) != 1 {
		t.Errorf("kept is %+v, %v", decisions, err)
	}
	if heaps, err := b.Shop.Contents(b.Place("T-10").ID); err != nil || len(heaps) != 1 {
		t.Errorf("the tray holds %+v, %v", heaps, err)
	}
}
