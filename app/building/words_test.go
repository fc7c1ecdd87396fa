package building

import (
	"testing"

	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/store/build"
	"stowright/store/measure"
)

// stopped is a need of six pieces of which two are free, for one reason.
func stopped(r build.Reason) *build.Blocker {
	return &build.Blocker{Item: "AN3-5A", Need: measure.Pieces(6), Free: measure.Exact(measure.Pieces(2)), Here: measure.Exact(measure.Pieces(9)), Reasons: []build.Reason{r}}
}

// What stops a sub-assembly is said on its tile in a word or two, and drawn as a square:
// what will come is told from what is missing.
func TestStopWords(t *testing.T) {
	for _, row := range []struct {
		name   string
		reason build.Reason
		word   string
		square drawing.Square
	}{
		{"in a crate", build.Reason{Kind: build.InCrate, Crate: "C3"}, "crate C3 unopened", drawing.Awaited},
		{"on a line", build.Reason{Kind: build.UncheckedLine, Line: 44}, "line 44 to check", drawing.Awaited},
		{"for another one", build.Reason{Kind: build.Reserved}, "AN3-5A: 4 short", drawing.Missing},
		{"in the tray of another", build.Reason{Kind: build.InTray}, "AN3-5A: 4 short", drawing.Missing},
		{"of what origin", build.Reason{Kind: build.OriginAsked}, "AN3-5A: decide", drawing.Missing},
		{"not good", build.Reason{Kind: build.NotGood}, "AN3-5A set apart", drawing.Missing},
		{"too old", build.Reason{Kind: build.Expired}, "AN3-5A expired", drawing.Missing},
		{"owed", build.Reason{Kind: build.Owing}, "AN3-5A owed", drawing.Awaited},
		{"promised", build.Reason{Kind: build.Due}, "AN3-5A owed", drawing.Awaited},
		{"in a crate that has not come", build.Reason{Kind: build.Owing, By: build.NotCome, Crate: "C3"}, "crate C3 not here", drawing.Awaited},
		{"nowhere", build.Reason{Kind: build.Nowhere}, "AN3-5A: 4 short", drawing.Missing},
	} {
		b := stopped(row.reason)
		if got := stopWord(b); got != row.word {
			t.Errorf("%s: got %q, want %q", row.name, got, row.word)
		}
		if got := squareOf(b); got != row.square {
			t.Errorf("%s is drawn as %v, want %v", row.name, got, row.square)
		}
	}
	if squareOf(nil) != drawing.InHand || squareOf(&build.Blocker{CannotTell: true}) != drawing.Estimated {
		t.Error("what is in hand, or to be counted, is drawn as something else")
	}
}

// A tile says how its sub-assembly stands; what has to be counted does not count as a stop.
func TestMarks(t *testing.T) {
	owed, count := stopped(build.Reason{Kind: build.Owing}), &build.Blocker{CannotTell: true}
	for _, row := range []struct {
		status build.Status
		want   notice.Mark
	}{
		{build.Status{State: build.Closed}, notice.Mark{Word: "closed"}},
		{build.Status{State: build.Unlisted}, notice.Mark{Word: "nothing listed"}},
		{build.Status{State: build.Ready}, notice.Mark{Word: "ready", Tone: notice.OK}},
		{build.Status{State: build.Begun}, notice.Mark{Word: "begun", Tone: notice.OK}},
		{build.Status{State: build.Estimate, Sentence: "cannot tell: weigh A-03"}, notice.Mark{Word: "weigh A-03", Tone: notice.Warn}},
		{build.Status{State: build.Estimate, Sentence: "cannot tell: weigh A-03, A-21 and A-22"}, notice.Mark{Word: "weigh 3 places", Tone: notice.Warn}},
		{build.Status{State: build.Blocked, Blockers: []*build.Blocker{count, owed}}, notice.Mark{Word: "AN3-5A owed", Tone: notice.Stop}},
		{build.Status{State: build.Blocked, Blockers: []*build.Blocker{owed, owed, owed}}, notice.Mark{Word: "AN3-5A owed, +2", Tone: notice.Stop}},
	} {
		if got := markOf(row.status); got != row.want {
			t.Errorf("%+v: got %+v, want %+v", row.status, got, row.want)
		}
	}
}

// How a line stands: where its pieces are, or where the rest is.
func TestLineStates(t *testing.T) {
	some := measure.Exact(measure.Pieces(6))
	held := stopped(build.Reason{Kind: build.Reserved, Sentence: "6 for SA-10"})
	held.Reasons = append(held.Reasons, build.Reason{Kind: build.Owing, Sentence: "4 owed"}, build.Reason{Kind: build.Reserved, Sentence: "2 for SA-21"})
	weigh := &build.Blocker{CannotTell: true, Reasons: []build.Reason{{Sentence: "weigh A-03"}}}
	for _, row := range []struct {
		name   string
		need   build.Need
		block  *build.Blocker
		places []string
		state  notice.Mark
		done   string
	}{
		{"to be weighed", build.Need{Needed: measure.Pieces(6), Open: measure.Pieces(6)}, weigh, nil, notice.Mark{Word: "weigh A-03", Tone: notice.Warn}, ""},
		{"held by others", build.Need{Needed: measure.Pieces(6), Open: measure.Pieces(6)}, held, nil, notice.Mark{Word: "9 here: 6 for SA-10, 2 for SA-21; 4 owed", Tone: notice.Stop}, ""},
		{"as required", build.Need{Kind: build.AsRequired}, nil, nil, notice.Mark{Word: "as required"}, ""},
		{"fitted", build.Need{Needed: measure.Pieces(6), Fitted: some}, nil, nil, notice.Mark{Word: "fitted", Tone: notice.OK}, "6 fitted"},
		{"in the tray", build.Need{Needed: measure.Pieces(12), Pulled: some, Fitted: some}, nil, nil, notice.Mark{Word: "in the tray", Tone: notice.OK}, "6 in tray, 6 fitted"},
		{"in three drawers", build.Need{Needed: measure.Pieces(6), Open: measure.Pieces(6)}, nil, []string{"A-03", "A-12", "A-21"}, notice.Mark{Word: "in A-03, A-12 and A-21", Tone: notice.OK}, ""},
	} {
		if got := stateOf(row.need, row.block, row.places); got != row.state {
			t.Errorf("%s: got %+v, want %+v", row.name, got, row.state)
		}
		if got := doneWords(row.need); got != row.done {
			t.Errorf("%s: done is %q, want %q", row.name, got, row.done)
		}
	}
	if got := neededWords(build.Need{Kind: build.AsRequired}); got != "A/R" {
		t.Errorf("as required is needed %q", got)
	}
}
