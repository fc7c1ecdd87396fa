package stockdialog

import (
	"errors"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// scales is a question about the weight of what lies in a place.
type scales struct {
	*sessiontest.Bench
	w      *Weighing
	heap   session.Heap
	closed int
}

func newScales(t *testing.T, place string, listed measure.Quantity) *scales {
	t.Helper()
	s := &scales{Bench: sessiontest.Open(t, demo.Unpacked)}
	s.heap = s.Heap(place)
	s.again(listed)
	return s
}

func (s *scales) again(listed measure.Quantity) {
	book := func(m measure.Weighing, done func(error)) {
		session.Do(s.Session, func() (store.Entry, error) { return s.Shop.WeighSample(s.heap.StockKey, m) }, func(_ store.Entry, err error) { done(err) })
	}
	s.w = NewWeighing(s.Session, s.heap.Item, listed, book, func(WeighState) {})
	s.w.Load()
	s.Drain()
}

func TestWeighing(t *testing.T) {
	bag := WeighForm{Step: "0.1", Tare: "24.3", Gross: "160.4", Pieces: "100", Net: "8.1"}
	for _, row := range []struct {
		name    string
		change  func(f *WeighForm)
		answer  string
		known   string
		reading measure.Reading
		problem string
		note    string
	}{
		{"the bag of the story", func(*WeighForm) {}, "about 1,680", "1,668 to 1,692, one piece about 0.081 g", "", "", "136.1 g weighed; 0.3 lb were expected, which is 136.08 g: the scale agrees."},
		{"set to nought with the container", func(f *WeighForm) { f.Tare, f.Gross = "", "136.1" }, "about 1,680", "1,668 to 1,692, one piece about 0.081 g", "", "", "agrees"},
		{"a sample too small", func(f *WeighForm) { f.Pieces, f.Net = "10", "0.8" }, "", "", measure.PiecesReading, "Weigh about 40 pieces.", ""},
		{"too small before the rest is weighed", func(f *WeighForm) { f.Gross, f.Pieces, f.Net = "", "10", "0.8" }, "", "", measure.PiecesReading, "Weigh about 40 pieces.", ""},
		{"not all typed", func(f *WeighForm) { f.Gross = "" }, "", "", "", "", "Count some pieces out"},
		{"no number", func(f *WeighForm) { f.Gross = "full" }, "", "", measure.GrossReading, `"full" is not a weight`, ""},
		{"half a piece", func(f *WeighForm) { f.Pieces = "99.5" }, "", "", measure.PiecesReading, `"99.5" is not a number of pieces`, ""},
		{"between the steps", func(f *WeighForm) { f.Gross = "160.42" }, "", "", measure.GrossReading, "does not show 160.42 g", ""},
		{"ounces", func(f *WeighForm) { *f = WeighForm{Unit: 1, Step: ".01", Gross: "5", Pieces: "50", Net: "1.25"} }, "about 200", "198 to 202, one piece about 0.025 oz", "", "", "0.3 lb were expected, which is 4.8 oz: 0.2 oz less than weighed."},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := newScales(t, "A-12", measure.Quantity{Micro: 300_000, Unit: measure.Pound})
			f := bag
			row.change(&f)
			s.w.Set(f)
			got := s.w.State()
			if got.Answer != row.answer || got.Known != row.known || got.Reading != row.reading ||
				!strings.Contains(got.Problem, row.problem) || (got.Problem == "") != (row.problem == "") || !strings.Contains(got.Note, row.note) {
				t.Errorf("%+v", got)
			}
		})
	}
}

// What was weighed is booked as an estimate, and the next time its sample and the
// step of the scale are there already.
func TestWeighingBooks(t *testing.T) {
	s := newScales(t, "A-08", measure.Quantity{})
	journal := s.Journal()
	s.w.Book(func() { s.closed++ })
	if got := s.w.State(); s.Journal() != journal || !strings.Contains(got.Problem, "Type what the scale shows") {
		t.Errorf("nothing typed, and Enter: %+v", got)
	}
	s.w.Set(WeighForm{Step: "0.1", Tare: "24.3", Gross: "160.4", Pieces: "100", Net: "8.1"})
	s.w.Book(func() { s.closed++ })
	s.w.Book(func() { s.closed++ }) // a second Enter
	s.Waits(journal)
	s.Drain()
	if got := s.Heap("A-08").Amount.String(); got != "about 1,680 ea (1,668 to 1,692)" || s.closed != 1 || s.Journal() != journal+1 {
		t.Errorf("booked: %s, closed %d times, %d entries more", got, s.closed, s.Journal()-journal)
	}
	c, err := s.ItemCard(s.heap.Item)
	if err != nil || c.Quantity != "about 1,680" || c.Known != "by weight, 1,668 to 1,692" {
		t.Errorf("the card: %q, %q, %v", c.Quantity, c.Known, err)
	}

	s.again(measure.Quantity{})
	got := s.w.State()
	if got.Form != (WeighForm{Step: "0.1", Pieces: "100", Net: "8.1"}) || !got.Loaded || !strings.Contains(got.Note, "of them weighed 8.1 g the last time, about 0.081 g each") {
		t.Errorf("the next time: %+v", got)
	}
	s.w.Set(WeighForm{Step: "1", Gross: "136", Pieces: "100", Net: "8.1"}) // another scale, the old sample
	if got := s.w.State(); got.Answer != "about 1,679" || got.Problem != "" {
		t.Errorf("with the old sample on a coarse scale: %+v", got)
	}
}

// Without anywhere to book, the count is only shown.
func TestWeighingOnlyComputes(t *testing.T) {
	s := newScales(t, "A-08", measure.Quantity{})
	journal := s.Journal()
	w := NewWeighing(s.Session, "AN3-5A", measure.Quantity{}, nil, func(WeighState) {})
	w.Load()
	s.Drain()
	w.Set(WeighForm{Step: "0.1", Gross: "136.1", Pieces: "100", Net: "8.1"})
	w.Book(func() { s.closed++ })
	s.Drain()
	if w.State().Answer != "about 1,680" || !strings.HasPrefix(w.State().Note, "Nothing is recorded") || s.closed != 0 || s.Journal() != journal {
		t.Errorf("%+v, closed %d times", w.State(), s.closed)
	}
}

// What is put beside a weighed heap leaves it an estimate.
func TestPutBesideEstimate(t *testing.T) {
	s := newScales(t, "A-08", measure.Quantity{})
	s.w.Set(WeighForm{Step: "0.1", Tare: "24.3", Gross: "160.4", Pieces: "100", Net: "8.1"})
	s.w.Book(func() {})
	s.Drain()
	var p *Putting
	p = NewPutting(s.Session, s.Place("A-08"), func(_ notice.Notice, err error) {
		switch {
		case errors.Is(err, store.ErrLotsMeet):
			p.Meet(store.PourLots)
		case err != nil:
			t.Error(err)
		}
	})
	p.Put(s.heap.Item, "20")
	s.Drain()
	if got := s.Heap("A-08").Amount.String(); got != "about 1,700 ea (1,688 to 1,712)" {
		t.Errorf("20 more: %s", got)
	}
}
