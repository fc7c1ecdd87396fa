package measure

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// weight reads one as a scale shows it.
func weight(t testing.TB, s string, u Unit) Quantity {
	t.Helper()
	q, err := ParseQuantity(s, u)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// weighing is one with all readings in one unit; pieces of the sample come first.
func weighing(t testing.TB, u Unit, pieces int64, step, tare, gross, net string) Weighing {
	t.Helper()
	s := weight(t, step, u)
	return Weighing{Step: s, Tare: weight(t, tare, u), Gross: weight(t, gross, u), Sample: Sample{Pieces: pieces, Net: weight(t, net, u), Step: s}}
}

func TestWeigh(t *testing.T) {
	for _, row := range []struct {
		name                    string
		unit                    Unit
		pieces                  int64
		step, tare, gross, net  string
		want, wantLow, wantHigh int64
	}{
		// 136.1 x 100 / 8.1 = 1680.2; 136.0 x 100 / 8.15 = 1668.7; 136.2 x 100 / 8.05 = 1691.9.
		{"a bag of rivets", Gram, 100, "0.1", "24.3", "160.4", "8.1", 1680, 1668, 1692},
		{"in ounces", Ounce, 50, "0.01", "1", "6", "1.25", 200, 198, 202},
		{"in pounds", Pound, 20, "1/64", "0", "10", "1/2", 400, 393, 407},
		{"the sample itself", Gram, 100, "0.1", "0", "8.1", "8.1", 100, 98, 102},
		{"all but nothing", Gram, 10, "1", "10", "11", "100", 0, 0, 1},
		{"a half rounds up", Gram, 1, "1", "0", "375", "250", 2, 1, 2},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := weighing(t, row.unit, row.pieces, row.step, row.tare, row.gross, row.net).Count()
			if err != nil || got.Pieces != row.want || got.Low != row.wantLow || got.High != row.wantHigh {
				t.Errorf("%d (%d to %d), %v; want %d (%d to %d)", got.Pieces, got.Low, got.High, err, row.want, row.wantLow, row.wantHigh)
			}
		})
	}
}

func TestWeighRefuses(t *testing.T) {
	good := weighing(t, Gram, 100, "0.1", "24.3", "160.4", "8.1")
	for _, row := range []struct {
		name    string
		change  func(w *Weighing)
		reading Reading
		want    string
	}{
		{
			"a sample too small", func(w *Weighing) { w.Sample.Pieces, w.Sample.Net = 10, weight(t, "0.8", Gram) }, PiecesReading,
			"A sample of 10 is too small for this scale: half a step of 0.1 g is more than 2 % of 0.8 g. Weigh about 40 pieces.",
		},
		{"a sample just too small", func(w *Weighing) { w.Sample.Net = weight(t, "2.4", Gram) }, PiecesReading, "Weigh about 110 pieces"},
		{"a sample of nothing", func(w *Weighing) { w.Sample.Net.Micro = 0 }, SampleReading, "weigh more of them"},
		{"no sample", func(w *Weighing) { w.Sample.Pieces = 0 }, PiecesReading, "how many pieces"},
		{"less than no sample", func(w *Weighing) { w.Sample.Pieces = -5 }, PiecesReading, "how many pieces"},
		{"no step", func(w *Weighing) { w.Step.Micro = 0 }, StepReading, "such as 0.1"},
		{"steps of a length", func(w *Weighing) { w.Step.Unit = Feet }, StepReading, "not \"ft\""},
		{"gross below tare", func(w *Weighing) { w.Gross = weight(t, "24.3", Gram) }, GrossReading, "weigh the full container again"},
		{"another unit", func(w *Weighing) { w.Gross.Unit = Ounce }, GrossReading, "give all in one"},
		{"a sample in another unit", func(w *Weighing) { w.Sample.Net.Unit, w.Sample.Step.Unit = Ounce, Ounce }, SampleReading, "weigh a sample on this scale"},
		{"between the steps", func(w *Weighing) { w.Tare = weight(t, "24.35", Gram) }, TareReading, "does not show 24.35 g"},
		{"a negative reading", func(w *Weighing) { w.Tare.Micro = -100_000 }, TareReading, "is not a weight"},
		{"more than there can be", func(w *Weighing) {
			w.Gross, w.Sample.Pieces = weight(t, "10,000,000", Gram), 1_000_000
		}, SampleReading, "over 100,000,000 pieces"},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := good
			row.change(&w)
			_, err := w.Count()
			var e *WeighError
			if !errors.As(err, &e) || e.Reading != row.reading || !strings.Contains(e.Message, row.want) {
				t.Errorf("%#v, want %s: %q", err, row.reading, row.want)
			}
		})
	}
	// Half a step of 0.1 g is 2 % of 2.5 g, which is enough.
	good.Sample.Net = weight(t, "2.5", Gram)
	if _, err := good.Count(); err != nil {
		t.Errorf("a sample of 25 steps: %v", err)
	}
}

// A sample that was weighed on a finer scale keeps its own step.
func TestWeighOldSample(t *testing.T) {
	w := weighing(t, Gram, 100, "1", "24", "160", "8")
	w.Sample = Sample{Pieces: 100, Net: weight(t, "8.10", Gram), Step: weight(t, "0.01", Gram)}
	// 136 x 100 / 8.1 = 1679.0; 135 x 100 / 8.105 = 1665.6; 137 x 100 / 8.095 = 1692.4.
	got, err := w.Count()
	if err != nil || got.Pieces != 1679 || got.Low != 1665 || got.High != 1693 {
		t.Errorf("%+v, %v; want 1679 (1665 to 1693)", got, err)
	}
	if got := w.Sample.Piece(); got != "about 0.081 g" {
		t.Errorf("one piece is %q", got)
	}
}

func TestBeside(t *testing.T) {
	w, err := weighing(t, Gram, 100, "0.1", "24.3", "160.4", "8.1").Count()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct{ listed, want string }{
		{"0.30 lb", "0.3 lb were expected, which is 136.08 g: the scale agrees"},
		{"0.301 lb", "0.301 lb were expected, which is 136.53 g: 0.43 g more than weighed"},
		{"4.8 oz", "4.8 oz were expected, which is 136.08 g: the scale agrees"},
		{"130 g", "130 g were expected: 6.1 g less than weighed"},
	} {
		var listed Quantity
		if err := listed.UnmarshalText([]byte(row.listed)); err != nil {
			t.Fatal(err)
		}
		if got, err := w.Beside(listed); err != nil || got != row.want {
			t.Errorf("%s: %q, %v; want %q", row.listed, got, err, row.want)
		}
	}
	if _, err := w.Beside(Pieces(1680)); !errors.Is(err, ErrUnits) {
		t.Errorf("beside pieces: %v", err)
	}
}

// NIST Handbook 44, appendix C: 1 lb is 453.59237 g, 16 oz are 1 lb.
func TestConvert(t *testing.T) {
	for _, row := range []struct {
		q        string
		to       Unit
		decimals int
		want     string
	}{
		{"1 lb", Gram, 6, "453.59237 g"},
		{"1 lb", Ounce, 6, "16 oz"},
		{"1 oz", Gram, 6, "28.349523 g"},
		{"136.1 g", Pound, 2, "0.3 lb"},
		{"1 kg", Pound, 4, "2.2046 lb"},
	} {
		var q Quantity
		if err := q.UnmarshalText([]byte(row.q)); err != nil {
			t.Fatal(err)
		}
		if got, err := Convert(q, row.to, row.decimals); err != nil || got.String() != row.want {
			t.Errorf("%s: %s, %v; want %s", row.q, got, err, row.want)
		}
	}
	if _, err := Convert(Of(1, Feet), Gram, 2); !errors.Is(err, ErrUnits) {
		t.Errorf("feet in grams: %v", err)
	}
}

// Whatever a scale does to true weights, the true number is in the range.
func TestWeighHoldsTheTruth(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		step := rapid.SampledFrom([]int64{10_000, 100_000, 1_000_000}).Draw(rt, "step")
		piece := rapid.Int64Range(1_000, 3_000_000).Draw(rt, "piece")
		number := rapid.Int64Range(1, 20_000).Draw(rt, "number")
		tare := rapid.Int64Range(0, 200_000_000).Draw(rt, "tare")
		pieces := rapid.Int64Range(1, 5_000).Draw(rt, "sample")
		shows := func(true int64) Quantity { return Quantity{Micro: (true + step/2) / step * step, Unit: Gram} }
		w := Weighing{
			Step: Quantity{Micro: step, Unit: Gram}, Tare: shows(tare), Gross: shows(tare + number*piece),
			Sample: Sample{Pieces: pieces, Net: shows(pieces * piece), Step: Quantity{Micro: step, Unit: Gram}},
		}
		got, err := w.Count()
		if err != nil {
			rt.Skip(err)
		}
		if number < got.Low || number > got.High || got.Pieces < got.Low || got.Pieces > got.High {
			rt.Errorf("%+v counts to %d (%d to %d); the truth is %d", w, got.Pieces, got.Low, got.High, number)
		}
	})
}

// What was weighed is pieces, or its net weight in the unit that the thing is kept by, with a
// step of the scale either way.
func TestWeighedIn(t *testing.T) {
	grams := func(tenths int64) Quantity { return Quantity{Micro: tenths * 100_000, Unit: Gram} }
	w := Weighing{Step: grams(1), Tare: grams(243), Gross: grams(1604), Sample: Sample{Pieces: 100, Net: grams(81), Step: grams(1)}}
	light := w
	light.Gross = grams(244)
	for _, row := range []struct {
		m    Weighing
		unit Unit
		want string
	}{
		{w, Each, "about 1,680 ea (1,668 to 1,692)"},
		{w, Feet, "about 1,680 ea (1,668 to 1,692)"}, // for whoever asks to refuse
		{w, Gram, "about 136.1 g (136 to 136.2)"},
		{w, Pound, "about 0.3 lb (0.299828 to 0.30027)"}, // 136.0/453.59237 and 136.2/453.59237
		{light, Ounce, "about 0 oz (0 to 0.007055)"},     // 0.1/28.349523125, with no weight below none
	} {
		n, err := row.m.Count()
		if err != nil {
			t.Fatal(err)
		}
		if got, err := n.In(row.unit); err != nil || got.String() != row.want {
			t.Errorf("%s in %s: got %q, %v, want %q", n.Net, row.unit, got, err, row.want)
		}
	}
}
