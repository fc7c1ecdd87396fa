package unpack

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/store"
)

// do does an operation and reads the list again.
func (b *bench) do(o operation.Operation) {
	b.t.Helper()
	if _, err := o.Do(b.t.Context(), b.s); err != nil {
		b.t.Fatal(err)
	}
	b.m.Load()
	b.queue.Drain()
}

// Story 7's arrivals: what comes is offered to the line that it is owed of by its number,
// and put there only when a person says so.
func TestArrivalOfABackOrder(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	b.clock.Set(time.Date(2026, 4, 2, 9, 0, 0, 0, time.UTC))
	b.do(operation.Arrive{Crates: []string{"C3"}, On: "2 April 2026", DamageDays: "5", ShortageDays: "30"})
	if got := b.m.State().Side.Owed; got != "2 OQ-30-033 (line 19, back-ordered)" {
		t.Errorf("owed: %q", got)
	}
	b.to(57)
	b.keys("U", `"oq-30-033"`, "Enter")
	p := b.m.State().Prompt
	if p == nil || p.Question != "Is this the OQ-30-033 that is owed?" || b.option() != "Line 19 is owed 2 ea" || len(p.Options) != 2 {
		t.Fatalf("U asks %+v", p)
	}
	b.keys("Enter", `"3"`, "Enter")
	if p := b.m.State().Prompt; p == nil || !strings.Contains(p.Error, "2 ea of line 19 are owed") {
		t.Fatalf("more than owed: %+v", p)
	}
	b.keys(`"2"`, "Enter")
	if got := b.word(19); got != "all here" {
		t.Errorf("line 19 is %q", got)
	}
	if s := b.m.State(); s.Current.Number != 57 || s.Side.Stow == nil || s.Side.Stow.Line != 19 || s.Side.Owed != "" {
		t.Errorf("then line %d, %+v, owed %q", s.Current.Number, s.Side.Stow, s.Side.Owed)
	}
	for range 4 { // C3
		b.keys("A")
	}
	b.to(17)
	b.keys("A")
	b.wantTotals("with all of C3 and the rib", totals(51, 4, 2, 2, 1, 0, 0, 0))
}

// Said to be something else, it is a find of its own, and what is owed stays owed.
func TestArrivalThatIsSomethingElse(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	b.to(1)
	b.keys("U", `"OQ-30-033"`, "Enter", `"else"`, "Enter", `"1"`, "Enter")
	extra := b.m.data.lines[len(b.m.data.lines)-1]
	if !extra.Extra || extra.Designation != "OQ-30-033" || b.word(19) != "back-ordered" || b.m.State().Side.Owed == "" {
		t.Errorf("%+v; line 19 %s; owed %q", extra, b.word(19), b.m.State().Side.Owed)
	}
}

// A replacement that was promised is owed, is offered when it comes, and its claim says so.
func TestReplacementComes(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	b.do(operation.SendClaim{How: "by mail to parts"})
	if got := b.m.State().Side; len(got.Clocks) != 0 || got.NoClock != "No claim clock runs: all that there is to claim was sent, last on 18 March 2026." {
		t.Errorf("after it was sent: %+v, %q", got.Clocks, got.NoClock)
	}
	b.do(operation.AnswerClaim{Lines: "5, 42", Answer: store.Replacement})
	b.do(operation.AnswerClaim{Lines: "7", Answer: store.Credit})
	for _, want := range []string{"4 AN3-11 (line 42, replacement promised)", "1 OQ-10-020 (line 5, replacement promised)"} {
		if got := b.m.State().Side.Owed; !strings.Contains(got, want) || strings.Contains(got, "OQ-10-031-R") {
			t.Errorf("owed: %q, want %q and nothing that is credited", got, want)
		}
	}
	unsent := len(b.m.data.ship.Unsent(b.m.data.lines))
	b.to(38)
	b.keys("U", `"AN3-11"`, "Enter", "Enter", `"3"`, "Enter")
	if got := b.m.data.claim().Text(); !strings.Contains(got, "answered: replacement coming; 1 ea still owed") {
		t.Errorf("some came:\n%s", got)
	}
	b.do(operation.Owed{Line: 42})
	b.do(operation.Owed{Line: 5})
	if b.word(42) != "all here" || b.word(5) != "all here" {
		t.Errorf("42 %s, 5 %s; want both made good", b.word(42), b.word(5))
	}
	if got := b.m.data.claim().Text(); !strings.Contains(got, "answered: replacement coming; 4 ea came") {
		t.Errorf("all came:\n%s", got)
	}
	if got := len(b.m.data.ship.Unsent(b.m.data.lines)); got != unsent {
		t.Errorf("%d lines to claim, %d before: what came is claimed again", got, unsent)
	}
	for _, o := range []operation.Owed{{Line: 42}, {Line: 7}, {Line: 19, Found: "3"}, {Line: 19, Found: "0"}, {Line: 19, Found: "x"}, {Line: 999}} {
		if _, err := o.Do(t.Context(), b.s); err == nil {
			t.Errorf("%+v is taken", o)
		}
	}
}

// Why no clock runs is said as it is.
func TestWhyNoClockRuns(t *testing.T) {
	d := small()
	if got := d.noClock(); got != "No claim clock runs: the paperwork says nothing of claims." {
		t.Errorf("without days: %q", got)
	}
	d.ship.Deliveries = nil
	if got := d.noClock(); got != "No claim clock runs: no crate has come." {
		t.Errorf("nothing came: %q", got)
	}
}

// A claim is marked as sent only with how; a day to come is no day of arrival.
func TestHowAndWhen(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	for _, how := range []string{"", "  "} {
		if _, err := (operation.SendClaim{How: how}).Do(t.Context(), b.s); err == nil || !strings.Contains(err.Error(), "how the claim was sent") {
			t.Errorf("sent %q: %v", how, err)
		}
	}
	if _, err := (operation.Arrive{Crates: []string{"C3"}, On: "19 March 2026"}).Do(t.Context(), b.s); err == nil || !strings.Contains(err.Error(), "still to come") {
		t.Errorf("tomorrow: %v", err)
	}
	m := NewArrivalModel(b.s, b.m.data.ship.ID, func(ArrivalState) {}, func(string) {})
	m.Load()
	b.queue.Drain()
	m.SetDamage(Days{Silent: true})
	m.SetShortage(Days{Silent: true})
	m.SetDay("19 March 2026")
	if s := m.State(); s.Wants != DayField || !strings.Contains(s.Missing, "still to come") {
		t.Errorf("in the window: %q", s.Missing)
	}
	m.SetDay("18 March 2026")
	m.Toggle(0) // C3 is proposed: its digit says that it came
	if s := m.State(); !s.Crates[0].Chosen || s.Missing != "" {
		t.Errorf("the digit of the only crate: %+v, %q", s.Crates, s.Missing)
	}
	m.Toggle(0)
	if m.State().Crates[0].Chosen {
		t.Error("pressed again, it stays")
	}
}

// The claim as pages has what its text has, and its photographs.
func TestClaimAsPDF(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	b.photograph(store.OfLine(b.m.data.ship.ID, 12))
	path := filepath.Join(t.TempDir(), "claim.pdf")
	m := NewClaimModel(b.s, b.m.data.ship.ID, "", func(ClaimState) {})
	m.Load()
	b.queue.Drain()
	m.Save(path)
	b.queue.Drain()
	if s := m.State(); s.Error != "" || !strings.HasPrefix(s.Said, "Saved to ") {
		t.Fatalf("%q, %q", s.Said, s.Error)
	}
	data, err := os.ReadFile(path)
	if err != nil || !strings.HasPrefix(string(data), "%PDF") || !strings.Contains(string(data), "/DCTDecode") {
		t.Errorf("%d bytes, %v: want a PDF with a photograph", len(data), err)
	}
	var paper strings.Builder
	err = b.s.Shop.Read(func(r *store.Reader) error {
		p, err := m.State().Claim.paper(r)
		for _, block := range p.Blocks {
			paper.WriteString(block.Heading + "\n")
			for _, row := range block.Rows {
				paper.WriteString(strings.Join(row, " ") + "\n")
			}
			for _, picture := range block.Pictures {
				paper.WriteString(picture.Caption + "\n")
			}
		}
		paper.WriteString(strings.Join(p.Under, "\n"))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"7 OQ-10-031-R Hinge plate right listed 3, found 2: 1 short", "Damaged", "P-3, line 12, OQ-20-040-B", "came 14 March 2026; damage by 19 March 2026; shortages by 13 April 2026"} {
		if !strings.Contains(paper.String(), want) {
			t.Errorf("the pages lack %q:\n%s", want, paper.String())
		}
	}
}
