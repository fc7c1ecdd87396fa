package building

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/app/apptest"

	"stowright/app/bell"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/labels"
)

// walker is a walk with what it said last.
type walker struct {
	*WalkModel
	b    *sessiontest.Bench
	said string
	tone notice.Tone
}

func walkFor(b *sessiontest.Bench, codes ...string) *walker {
	w := &walker{b: b}
	w.WalkModel = NewWalkModel(b.Session, codes, func(WalkState) {})
	w.Said = func(n notice.Notice) { w.said, w.tone = strings.TrimSpace(n.Lead+" "+n.Text), n.Tone }
	w.Load()
	b.Drain()
	return w
}

func (w *walker) press(keys ...string) {
	for _, key := range keys {
		w.Key(key)
		w.b.Drain()
	}
}

// left are the stops that are left, the one in hand in brackets.
func (w *walker) left() string {
	var words []string
	for i, row := range w.State().Rows {
		if row.Dim {
			continue
		}
		text := row.Cells[1].Text + " " + row.Cells[3].Text
		if i == w.State().Current {
			text = "[" + text + "]"
		}
		words = append(words, text)
	}
	return strings.Join(words, ", ")
}

// Story 12: five stops in walking order, one look-alike beside one of them; after three of
// them the program starts again, and two are left.
func TestStory12Walk(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "SA-10")
	apptest.Compare(t, "the walk", w.left(), "[A-03 212], A-12 6, A-17 6, A-21 46, A-30 12")
	warned := 0
	for _, row := range w.State().Rows {
		if sub := row.Cells[4].Sub; sub != "" {
			warned++
			apptest.Compare(t, "warned of at "+row.Cells[1].Text, sub, "▲ A-31 beside it holds F0332P, thin")
		}
	}
	if s := w.State(); warned != 1 || s.Note != "5 stops in one walk, 1 tray" || s.Hand != (Hand{
		Quantity: "212", Item: "AN426AD3-3.5", Place: "A-03", Left: "about 1,680 there, about 1,468 will be left",
		Beware: notice.Notice{Tone: notice.Warn, Lead: "Not AN426AD3-4.5", Text: "in A-10: 1/16 longer."},
	}) {
		t.Errorf("%d warnings, %q, %+v", warned, s.Note, s.Hand)
	}
	for i, want := range []string{"A-12", "A-17", "A-21"} {
		before := b.Journal()
		w.press("Enter")
		if got := b.Journal() - before; got != 1 || w.State().Hand.Place != want || w.State().Done != i+1 {
			t.Errorf("tick %d: %d entries, then %s, %d done", i+1, got, w.State().Hand.Place, w.State().Done)
		}
	}
	apptest.Compare(t, "said", w.said, "AN365-1032A: 6 ea pulled for SA-10 Fin.")

	again := walkFor(sessiontest.On(t, b.Shop), "SA-10") // another session: nothing but the file
	apptest.Compare(t, "after the restart", again.left(), "[A-21 46], A-30 12")
	if s := again.State(); s.Done != 3 || s.Of != 5 || !strings.Contains(s.Rows[4].Cells[2].Sub, "called AN960-10") {
		t.Errorf("%d of %d, %+v", s.Done, s.Of, s.Rows)
	}
	notes := strings.Join(again.data.stops[1].card.Notes, "; ")
	apptest.Compare(t, "why it is taken for it", notes, "the plans call it AN960-10: Osterhollow cover letter, 10 March 2026")

	again.press("Down", "Enter", "Enter")
	if s := again.State(); !s.Finished || s.Done != 5 || again.left() != "" {
		t.Errorf("at the end %+v", s)
	}
	heap := b.Heap("A-03")
	apptest.Compare(t, "left in A-03", heap.Amount.String(), "about 1,468 ea (1,456 to 1,480)")
}

// Story 12: a wrong drawer says so at once and books nothing; a right one is taken in hand.
func TestScan(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "SA-10")
	scan := func(place string) bool {
		took := w.Scan(b.Place(place))
		b.Drain()
		return took
	}
	before := b.Journal()
	if !scan("A-30") || w.State().Hand.Place != "A-30" {
		t.Errorf("A-30 scanned: in hand is %s", w.State().Hand.Place)
	}
	if !scan("A-31") || w.said != "Wrong drawer: F0332P thin; yours is one to the left." || w.tone != notice.Stop {
		t.Errorf("A-31 scanned: said %q", w.said)
	}
	if b.Journal() != before || w.State().Hand.Place != "A-30" {
		t.Error("a scan changed more than what is in hand")
	}
	if scan("A-30"); !strings.HasPrefix(w.said, "A-30: the right drawer") {
		t.Errorf("A-30 scanned again: said %q", w.said)
	}
	if scan("SA-10") {
		t.Error("the label of a tray is taken for a drawer")
	}
}

// Story 12: two sub-assemblies in one trip, with a tray each.
func TestStory12OneTrip(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "sa-10", "SA-21")
	apptest.Compare(t, "the walk", w.left(), "[A-03 212], A-12 26, A-17 26, A-21 46, A-30 52")
	if s := w.State(); s.Title != "Pull: SA-10 Fin and SA-21 Rudder hinges" || s.Note != "5 stops in one walk, 2 trays" || s.Rows[1].Cells[4].Text != "6 SA-10 · 20 SA-21" {
		t.Errorf("%q, %q, %+v", s.Title, s.Note, s.Rows[1])
	}
	w.press("Down", "Enter")
	trays := map[string]string{}
	for _, code := range []string{"SA-10", "SA-21"} {
		heaps, err := b.Shop.Contents(b.Place(code).ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range heaps {
			trays[code] += fmt.Sprint(h.Item, " ", h.Amount)
		}
	}
	if trays["SA-10"] != "AN3-5A 6 ea" || trays["SA-21"] != "AN3-5A 20 ea" {
		t.Errorf("the trays hold %v", trays)
	}
	apptest.Compare(t, "then", w.left(), "A-03 212, [A-17 26], A-21 46, A-30 52")
}

// Fewer leaves the rest on the list; a count says what is there after all.
func TestFewerAndNotHere(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "SA-10")
	w.press("Down", "S")
	if p := w.State().Prompt; p == nil || p.Question != "How many AN3-5A did you take out of A-12?" {
		t.Fatalf("S asks %+v", p)
	}
	for _, row := range []struct{ typed, problem string }{
		{"", "Type an answer, or leave it with Esc."},
		{"none", `"none" is not an amount: type a number such as 12.`},
		{"0", "Type how many, as a number above zero."},
		{"1.5", "1.5 is not a whole number of pieces: count them again."},
	} {
		w.Answer(row.typed)
		b.Drain()
		if p := w.State().Prompt; p == nil || p.Problem != row.problem {
			t.Errorf("%q typed: %+v, want %q", row.typed, p, row.problem)
		}
	}
	w.Answer("4")
	b.Drain()
	apptest.Compare(t, "after four of six", w.left(), "A-03 212, [A-12 2], A-17 6, A-21 46, A-30 12")
	w.press("N")
	w.Answer("0")
	b.Drain()
	if s := w.State(); len(s.Short) != 1 || !strings.HasPrefix(s.Short[0], "SA-10: AN3-5A: need 2 more, have 0") {
		t.Errorf("with none left: short %v, %s", s.Short, w.left())
	}
	w.press("S", "Esc")
	if w.State().Prompt != nil {
		t.Error("Esc does not leave the question")
	}
}

// Story 12: the stranger and the excess are refused, and go with a reason that is kept.
func TestStory12Refused(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "SA-10")
	before := b.Journal()
	answer := func(text string) *WalkPrompt {
		w.Answer(text)
		b.Drain()
		return w.State().Prompt
	}
	w.press("E")
	if p := answer("AN3-6A"); p == nil || p.Problem != "Type the number and how many, as in AN3-5A 2." {
		t.Errorf("a number alone: %+v", p)
	}
	if p := answer("AN3-6A 6"); p == nil || !strings.Contains(p.Question, "not called here; it calls AN3-5A in A-12") || b.Journal() != before {
		t.Errorf("the stranger: %+v", p)
	}
	w.press("Esc")

	nuts := walkFor(b, "SA-20")
	nuts.press("Enter")
	nuts.press("E")
	nuts.Answer("MS21042-3 6")
	b.Drain()
	if p := nuts.State().Prompt; p == nil || !strings.Contains(p.Question, "6 called, 6 pulled") {
		t.Fatalf("six more: %+v", p)
	}
	nuts.Answer("spare")
	b.Drain()
	if nuts.State().Prompt != nil || !strings.Contains(nuts.said, "spare") {
		t.Errorf("with a reason: %+v, said %q", nuts.State().Prompt, nuts.said)
	}
	if heaps, err := b.Shop.Contents(b.Place("SA-20").ID); err != nil || len(heaps) != 1 || heaps[0].Amount.Number() != "12" {
		t.Errorf("the tray holds %+v, %v", heaps, err)
	}
}

// More than is called out of a drawer asks for a reason too, and goes into the last tray.
func TestMoreThanCalled(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "SA-10", "SA-21")
	w.press("Down", "S")
	w.Answer("27")
	b.Drain()
	if p := w.State().Prompt; p == nil || !strings.Contains(p.Question, "20 called, 0 pulled: 20 to go") {
		t.Fatalf("27 of 26: %+v", p)
	}
	w.Answer("one is bent")
	b.Drain()
	for code, want := range map[string]string{"SA-10": "6", "SA-21": "21"} {
		heaps, err := b.Shop.Contents(b.Place(code).ID)
		if err != nil || len(heaps) != 1 || heaps[0].Amount.Number() != want {
			t.Errorf("the tray of %s holds %+v, %v", code, heaps, err)
		}
	}
}

// A wrong drawer is heard, and a right one is not; M has it be silent, and says so.
func TestSoundOfAWrongDrawer(t *testing.T) {
	b := extended(t, true)
	rung := 0
	b.Bell = bell.New(func(context.Context) error { rung++; return nil }, false, func(bool) {})
	w := walkFor(b, "SA-10")
	scan := func(place string) {
		w.Scan(b.Place(place))
		b.Drain()
	}
	if scan("A-03"); rung != 0 {
		t.Errorf("the right drawer rings %d times", rung)
	}
	if scan("A-31"); rung != 1 {
		t.Errorf("a wrong drawer rings %d times, want once", rung)
	}
	w.Sound()
	b.Drain()
	if scan("A-31"); rung != 1 || !w.Silent() || w.said == "" {
		t.Errorf("off it rang %d times; said %q", rung, w.said)
	}
	w.Sound()
	b.Drain()
	if rung != 2 || w.Silent() || !strings.HasPrefix(w.said, "A wrong drawer makes this sound") {
		t.Errorf("on again it rang %d times; said %q", rung, w.said)
	}
}

// The list on paper is written once, and again only when that is said.
func TestPaper(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "SA-10", "SA-21")
	asked := 0
	w.AskReplace = func(_ []string, replace func()) {
		if asked++; asked == 2 {
			replace()
		}
	}
	path := filepath.Join(t.TempDir(), "pull.pdf")
	for i, want := range []string{"Saved to " + path, "", "Saved to " + path} {
		w.said = ""
		w.Save(path, false)
		b.Drain()
		if !strings.HasPrefix(w.said, want) || want == "" && w.said != "" {
			t.Errorf("saved the %d. time: %q", i+1, w.said)
		}
	}
	paper := w.data.paper("today")
	if got := len(paper.Blocks[0].Rows); got != 5 || paper.Title != "Pull: SA-10 and SA-21" {
		t.Errorf("%d rows of %q", got, paper.Title)
	}
	if codes, ok := Opened(paper.Opens); !ok || !slices.Equal(codes, []string{"SA-10", "SA-21"}) {
		t.Errorf("%q opens %v", paper.Opens, codes)
	}
	if got, want := paper.Blocks[0].Grids[4], (labels.PaperGrid{Rows: 5, Cols: 8, Lit: 29}); got != want {
		t.Errorf("A-30 is drawn as %+v, want %+v", got, want)
	}
	apptest.Compare(t, "A-30 on paper", strings.Join(paper.Blocks[0].Rows[4], "|"), "5|A-30||52|NAS1149F0363P\nWasher, No. 10, 0.063 thick; called AN960-10; 12 SA-10, 40 SA-21; BEWARE: A-31 beside it holds F0332P, thin|")
}

// What opens a list is the word and its codes, typed in any way; a code that no symbol can
// hold opens nothing.
func TestOpened(t *testing.T) {
	for text, want := range map[string]string{
		"PULL SA-10+SA-21": "SA-10 SA-21", " pull sa-10, sa-21 ": "SA-10 SA-21", "pull SA 10": "SA 10", "pull": "", "pull +": "", "pulley": "", "AN3-5A": "",
	} {
		codes, ok := Opened(text)
		if got := strings.Join(codes, " "); got != want || ok != (want != "") {
			t.Errorf("%q opens %q, %v", text, got, ok)
		}
	}
	if got := opener([]string{"Flügel"}); got != "" {
		t.Errorf("a code that no symbol holds is printed as %q", got)
	}
	if got := opener([]string{strings.Repeat("SA-10", 20)}); got != "" {
		t.Errorf("too long a text is printed as %q", got)
	}
}

// A code that there is none of is said, and nothing else is shown.
func TestWalkOfNothing(t *testing.T) {
	b := extended(t, true)
	if s := walkFor(b, "SA-99").State(); !strings.Contains(s.Problem, `"SA-99"`) || s.Finished {
		t.Errorf("%+v", s)
	}
	w := walkFor(b, "SA-30")
	if s := w.State(); len(s.Short) != 1 || s.Current != -1 || w.Key("Enter") {
		t.Errorf("%+v", s)
	}
}

// A tag that is typed does not leave the walk; anything else is looked for.
func TestBeginsTag(t *testing.T) {
	for text, want := range map[string]bool{"s": true, "SP": true, "sp0-1k k": true, "SPABCDEFGH": true, "": false, "an3": false, "seal": false, "SPABCDEFGH1": false, "s.": false} {
		if got := beginsTag(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// What a walk shows is of one state of the shop.
func TestWalkIsOneReading(t *testing.T) {
	b := extended(t, true)
	w := walkFor(b, "SA-10")
	b.OneReading("the walk", w.Load)
}

func TestWalkPictures(t *testing.T) {
	two := extended(t, true)
	w := walkFor(two, "SA-10", "SA-21")
	w.press("Enter", "Enter")
	done := extended(t, true)
	walkFor(done, "SA-20").press("Enter")
	pictured(t,
		state("pull", two, routes.Route{Part: PullPart, About: "SA-10,SA-21"}),
		state("pull-short", two, routes.Route{Part: PullPart, About: "SA-41"}),
		state("pull-done", done, routes.Route{Part: PullPart, About: "SA-20"}),
	)
}
