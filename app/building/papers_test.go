package building

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/apptest"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/store"
)

// A paper is offered once the paper is what is typed next, by all words that are typed of it;
// what was chosen stands in its place.
func TestPapersOffered(t *testing.T) {
	papers := []offer{{"PA-2", "drawing 12-3 of the kit maker"}, {"PA-1", "letter (binder 2)"}, {"letter of 8 April", "named by D-1"}}
	for _, row := range []struct {
		typed string
		want  []string
		then  string // with the first of them chosen
	}{
		{"", nil, ""},
		{"AN3-6A", nil, "AN3-6A"},
		{"AN3-6A, kit maker", nil, "AN3-6A, kit maker"},
		{"AN3-6A, kit maker,", []string{"PA-2", "PA-1", "letter of 8 April"}, "AN3-6A, kit maker, PA-2"},
		{"AN3-6A, kit maker, LETTER", []string{"PA-1", "letter of 8 April"}, "AN3-6A, kit maker, PA-1"},
		{"AN3-6A, kit maker, kit 12", []string{"PA-2"}, "AN3-6A, kit maker, PA-2"},
		{"AN3-6A, kit maker, letter, 8", nil, "AN3-6A, kit maker, PA-2"},
		{"AN3-6A, kit maker, bulletin", nil, "AN3-6A, kit maker, PA-2"},
	} {
		var got []string
		fit := offered(papers, row.typed)
		for _, o := range fit {
			got = append(got, o.text)
		}
		if !slices.Equal(got, row.want) {
			t.Errorf("%q is offered %q, want %q", row.typed, got, row.want)
		}
		if got := completed(row.typed, append(fit, papers...)[0]); got != row.then {
			t.Errorf("%q becomes %q, want %q", row.typed, got, row.then)
		}
	}
	if many := offered(slices.Repeat(papers, 4), "a, b,"); len(many) != mostOffers {
		t.Errorf("%d are offered at once", len(many))
	}
}

// The papers of the shop are offered before those that were only named, the newest first, and
// none twice; the arrow down and Enter put one in its place.
func TestPaperIsChosen(t *testing.T) {
	b := extended(t, true)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Build, Part: BenchPart, About: "SA-41"}).(*BenchPage)
	b.Drain()
	m := &benched{p.model, t, b}
	for line, other := range map[string]string{"AN3-5A": "AN3-6A", "AN365-1032A": "AN365-1032"} {
		m.does("D", line, other+", kit maker, letter of 8 April", "")
	}
	for _, kept := range []string{"binder 1", "binder 2"} {
		if _, err := (operation.AddPaper{Kind: string(store.LetterPaper), Kept: kept}).Do(t.Context(), b.Session); err != nil {
			t.Fatal(err)
		}
	}
	p.Changed()
	b.Drain()
	if got := p.model.data.papers; !slices.Equal(got, []offer{{"PA-2", "letter (binder 2)"}, {"PA-1", "letter (binder 1)"}, {"letter of 8 April", "named by D-2"}}) {
		t.Fatalf("named here are %+v", got)
	}
	p.act("decide")
	entry := w.First.(interface {
		fyne.Focusable
		SetText(text string)
	})
	entry.SetText("AN3-6A, kit maker, binder 1")
	entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	w.Canvas.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if w.Canvas.Focused() != entry {
		t.Errorf("the focus is on %T", w.Canvas.Focused())
	}
	w.Dialog.Key("Enter")
	b.Drain()
	decisions, err := b.Shop.Decisions()
	if err != nil || len(decisions) != 3 || !slices.Equal(decisions[2].Papers, []string{"PA-1"}) {
		t.Errorf("decided is %+v, %v", decisions, err)
	}
}
