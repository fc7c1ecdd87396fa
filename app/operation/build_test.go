package operation_test

import (
	"errors"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// What is pulled lies in the tray, from where it is fitted or goes back home; what was
// fitted is removed, and looked at before it is used again.
func TestTrayAndAircraft(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	bolt := item("AN3-5A")
	each(t, b, []row{
		{"take for nothing", operation.Take{Heap: bolt, Amount: "6", For: "SA-99"}, "", `There is no sub-assembly "SA-99"`},
		{"take none", operation.Take{Heap: bolt, Amount: "0", For: "SA-10"}, "", `"0" moves nothing`},
		{"take how many", operation.Take{Heap: bolt, For: "SA-10"}, "", "Type how many"},
		{"fit before it is taken", operation.Fit{Heap: bolt, For: "SA-10"}, "", "No AN3-5A is in the tray of SA-10"},
		{"take", operation.Take{Heap: bolt, Amount: "6", For: " sa-10 "}, "AN3-5A: 6 ea pulled for SA-10 Fin", ""},
		{"take too many", operation.Take{Heap: bolt, Amount: "1", For: "SA-10"}, "", "AN3-5A for SA-10: 6 called, 6 pulled. With a reason it goes all the same."},
		{"take it with a reason", operation.Take{Heap: bolt, Amount: "1", For: "SA-10", Reason: "spare"}, "AN3-5A: 1 ea pulled for SA-10 Fin, because: spare", ""},
		{"take what it does not call", operation.Take{Heap: item("AN3-6A"), Amount: "1", For: "SA-10"}, "", "AN3-6A for SA-10: not called here; it calls AN3-5A"},
		{"fit some", operation.Fit{Heap: bolt, Amount: "4", For: "SA-10"}, "AN3-5A: 4 ea fitted in SA-10 Fin", ""},
		{"put back the rest", operation.PutBack{Heap: bolt, From: "SA-10"}, "AN3-5A: 3 ea put back from SA-10 to A-12", ""},
		{"put back what was fitted", operation.PutBack{Heap: bolt, From: "SA-10", To: "A-12"}, "", "and 4 ea was fitted: remove that"},
		{"fit out of a drawer, how many", operation.Fit{Heap: operation.Heap{Item: "AN3-5A", From: "A-12"}, For: "SA-10"}, "", "Type how many"},
		{"fit out of a drawer", operation.Fit{Heap: operation.Heap{Item: "AN3-5A", From: "A-12"}, Amount: "2", For: "SA-10"}, "AN3-5A: 2 ea fitted", ""},
		{"fit too many", operation.Fit{Heap: operation.Heap{Item: "AN3-5A", From: "A-12"}, Amount: "1", For: "SA-10"}, "", "6 of AN3-5A called in SA-10, 6 fitted: say why 1 more."},
		{"too many come out", operation.Remove{Item: "AN3-5A", Amount: "7", From: "SA-10"}, "", "6 ea of AN3-5A is fitted"},
		{"as good", operation.Remove{Item: "AN3-5A", From: "SA-10", AsGood: true}, "", "AN3-5A that came out is looked at first"},
		{"some come out", operation.Remove{Item: "an3-5a", Amount: "1", From: "SA-10", To: "A-12", Reason: "bent"}, "AN3-5A: 1 ea removed from SA-10 Fin, to A-12, because: bent", ""},
		{"the rest comes out", operation.Remove{Item: "AN3-5A", From: "SA-10"}, "AN3-5A: 5 ea removed from SA-10 Fin, to SA-10", ""},
		{"nothing comes out", operation.Remove{Item: "AN3-5A", From: "SA-10"}, "", "No AN3-5A is fitted in SA-10."},
		{"look at which", operation.Release{Item: "AN3-5A", By: "Partner"}, "", "is in 2 heaps: say which place"},
		{"look at one", operation.Release{Item: "AN3-5A", From: "A-12", By: "Partner"}, "AN3-5A: 1 ea looked at by Partner, good, in A-12", ""},
		{"look at the others", operation.Release{Item: "AN3-5A", By: "Partner", To: "A-12"}, "AN3-5A: 5 ea looked at by Partner, good, in A-12", ""},
		{"look at nothing", operation.Release{Item: "AN3-5A", By: "Partner"}, "", "No AN3-5A that came out of an aircraft lies there"},
		{"one of a lot", operation.Take{Heap: operation.Heap{Item: "MS21042-3", Lot: "q7714"}, Amount: "2", For: "SA-20"}, "2 ea pulled", ""},
		{"fit it", operation.Fit{Heap: item("MS21042-3"), For: "SA-20"}, "2 ea fitted", ""},
		{"another lot was never fitted", operation.Remove{Item: "MS21042-3", Lot: "Q1", From: "SA-20"}, "", "No MS21042-3 is fitted"},
		{"that lot was", operation.Remove{Item: "MS21042-3", Lot: "q7714", From: "SA-20"}, "2 ea removed", ""},
		{"fit what nobody knows", operation.Fit{Heap: item("AN3-8"), For: "SA-10"}, "", "AN3-8"},
	})
	if heap := b.Heap("A-12"); heap.Amount.String() != "28 ea" {
		t.Errorf("in the end %s lie in A-12, want all 28 ea again", heap.Amount)
	}
	_, err := operation.Take{Heap: item("AN3-6A"), Amount: "1", For: "SA-10"}.Do(t.Context(), b.Session)
	if !errors.Is(err, store.ErrReason) {
		t.Errorf("a stranger is refused with %v, and a reason would do", err)
	}
}

// What lies in one tray goes into another, whose list it is held against; the lender
// lacks it then.
func TestBorrow(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	bolt := item("AN3-5A")
	each(t, b, []row{
		{"two hinges", operation.PutNeeds{Lists: []store.Needs{{
			SubAssembly:  store.SubAssembly{Code: "SA-21", Name: "Rudder hinges"},
			Requirements: []store.Requirement{{Called: "an3-5a", Needed: measure.Pieces(4)}},
		}}}, "1 need listed for 1 sub-assembly", ""},
		{"take", operation.Take{Heap: bolt, Amount: "6", For: "SA-10"}, "6 ea pulled", ""},
		{"too many", operation.Borrow{Heap: bolt, From: "SA-10", For: "SA-21"}, "", "AN3-5A for SA-21: 4 called, 0 pulled: 4 to go."},
		{"for what does not call it", operation.Borrow{Heap: bolt, From: "SA-10", For: "SA-20"}, "", "AN3-5A for SA-20: not called here"},
		{"borrow", operation.Borrow{Heap: bolt, Amount: "4", From: "sa-10", For: "sa-21"}, "AN3-5A: 4 ea borrowed from SA-10 Fin for SA-21 Rudder hinges", ""},
		{"the lender takes what it lacks", operation.Take{Heap: operation.Heap{Item: "AN3-5A", From: "A-12"}, Amount: "4", For: "SA-10"}, "4 ea pulled", ""},
		{"and no more", operation.Take{Heap: operation.Heap{Item: "AN3-5A", From: "A-12"}, Amount: "1", For: "SA-10"}, "", "6 called, 6 pulled"},
	})
}
