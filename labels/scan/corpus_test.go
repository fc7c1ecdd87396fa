package scan

import (
	"fmt"
	"image"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"stowright/labels/scan/frames"
)

// A run that looks for a wrong answer. It goes through frames with and without
// tags, with 20, 2,000 and 20,000 issued tags, of which the ones shown are part
// in half of the frames. With the build tag torture it takes 20,000 frames, else
// a small sample of the same; SCAN_FRAMES sets any other number and SCAN_SEED
// other frames.
func TestTorture(t *testing.T) {
	n, seed := tortureFrames, uint64(11)
	if v, err := strconv.Atoi(os.Getenv("SCAN_FRAMES")); err == nil {
		n = v
	}
	if v, err := strconv.ParseUint(os.Getenv("SCAN_SEED"), 10, 64); err == nil {
		seed = v
	}
	shown := madeTags(24_000)
	sets := []struct {
		in   []string // shown in frames when the set knows them
		out  []string // shown when it does not
		tags *Issued
	}{}
	for _, size := range []int{20, 2000, 20_000} {
		sets = append(sets, struct {
			in, out []string
			tags    *Issued
		}{shown[:size], shown[size : size+4000], Issue(shown[:size])})
	}
	r := New()
	read, recognised, tags := 0, 0, 0
	for i := range n {
		set := sets[i/2%len(sets)]
		frame := tortureFrame(t, seed, i, set.in, set.out)
		report, err := r.Read(t.Context(), frame.Picture, Options{Issued: set.tags, Budget: time.Minute})
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range report.Codes {
			if wrongCode(&frame, code) {
				t.Errorf("frame %d (%s): %q %v margin %.2f is not in the picture", i, frame.Bucket, code.Text, code.How, code.Margin)
			}
			switch {
			case !code.Tag:
			case code.How == Recognised:
				recognised++
			default:
				read++
			}
		}
		tags += len(frame.Labels)
	}
	t.Logf("%d frames: %d tags, %d read, %d recognised", n, tags, read, recognised)
	if n >= 60 && 10*(read+recognised) < 8*tags {
		t.Errorf("%d of %d tags read or recognised, want eight in ten", read+recognised, tags)
	}
}

// tortureFrame is frame i: every other one holds no tag.
func tortureFrame(t *testing.T, seed uint64, i int, in, out []string) frames.Frame {
	t.Helper()
	var frame frames.Frame
	var err error
	switch {
	case i%2 == 1:
		frame, err = frames.Empty(seed, i/2, 640, 360)
	case i%4 == 0:
		frame, err = frames.Single(seed, i/2, 640, 360, in)
	default:
		frame, err = frames.Single(seed, i/2, 640, 360, out)
	}
	if err != nil {
		t.Fatal(err)
	}
	return frame
}

// wrongCode says whether a code is not in the frame. Codes of other makers are
// the general library's affair, unless they pass for tags.
func wrongCode(frame *frames.Frame, code Code) bool {
	return code.Tag && !slices.ContainsFunc(frame.Labels, func(l frames.Label) bool { return l.Text == code.Text })
}

// A cabinet in one picture: nearly every label is read, none wrong, and corners
// are good to a third of a module.
func TestWall(t *testing.T) {
	for _, row := range []struct {
		name string
		hard bool
		part float64 // of the labels that must be read
	}{{"easy", false, 0.97}, {"hard", true, 0.7}} {
		t.Run(row.name, func(t *testing.T) {
			frame := wallOf(t, row.hard)
			report, err := New().Read(t.Context(), frame.Picture, Options{TagsOnly: true, Budget: time.Minute})
			if err != nil {
				t.Fatal(err)
			}
			seen := checkTrue(t, &frame, report.Codes, 0.34)
			if float64(seen) < row.part*float64(len(frame.Labels)) {
				t.Errorf("%d of %d labels read, want %.0f %%", seen, len(frame.Labels), 100*row.part)
			}
		})
	}
}

// With nothing but a few labels at hand the reader finds no fewer codes of other
// makers than the general library does alone.
func TestForeignNeverFewer(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for i := range 6 {
		frame, err := frames.Empty(5, 3+5*random.IntN(1000), 640, 480)
		if err != nil {
			t.Fatal(err)
		}
		var p plane
		p.fill(frame.Picture)
		alone := generalReader{clock: newClock(t.Context(), time.Minute)}
		alone.read(&p, 1, Point{})
		report, err := New().Read(t.Context(), frame.Picture, Options{Budget: time.Minute})
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range alone.codes {
			if !slices.ContainsFunc(report.Codes, func(c Code) bool { return c.Text == want.Text }) {
				t.Errorf("frame %d: %q is read by the general library alone only; got %s", i, want.Text, texts(report.Codes))
			}
		}
	}
}

// A large photograph with a small code of another maker and a small tag in it:
// both are read, and where they are.
func TestForeignInLargePicture(t *testing.T) {
	tag := madeTag('C', 12)
	paper := onWhite(2600, 1800, map[image.Point]image.Image{{1900, 1200}: printedSymbol(t, "HELLO", 1, 3), {2100, 1200}: printedSymbol(t, tag, 1, 3)})
	report, err := New().Read(t.Context(), paper, Options{Budget: time.Minute})
	if err != nil || len(report.Codes) != 2 || report.Codes[0].Text != "HELLO" || report.Codes[1].Text != tag {
		t.Fatalf("Read: %s, %v, want HELLO and %q", texts(report.Codes), err, tag)
	}
	near(t, report.Codes[0].Corners, [4]Point{{1912, 1212}, {1975, 1212}, {1975, 1275}, {1912, 1275}}, 3)
}

func texts(codes []Code) string {
	list := make([]string, len(codes))
	for i, c := range codes {
		list[i] = c.Text
	}
	return fmt.Sprintf("%q", list)
}

// Single frames of each kind of difficulty, and walls, as a user waits for them.
func BenchmarkRead(b *testing.B) {
	tags := madeTags(2000)
	single := func(n int) frames.Frame {
		f, err := frames.Single(3, n, 1280, 720, tags)
		if err != nil {
			b.Fatal(err)
		}
		return f
	}
	wall := func(w, h int) frames.Frame {
		f, err := frames.Wall(7, 4, false, w, h, tags)
		if err != nil {
			b.Fatal(err)
		}
		return f
	}
	empty, err := frames.Empty(3, 0, 1280, 720)
	if err != nil {
		b.Fatal(err)
	}
	for _, row := range []struct {
		name  string
		frame frames.Frame
	}{
		{"single720", single(39)}, {"mixed720", single(51)}, {"wall720", wall(1280, 720)}, {"wall1080", wall(1920, 1080)}, {"text720", empty},
	} {
		b.Run(row.name, func(b *testing.B) {
			r, sum := New(), Stages{}
			found := 0
			for range b.N {
				report, err := r.Read(b.Context(), row.frame.Picture, Options{TagsOnly: true, Budget: time.Minute})
				if err != nil {
					b.Fatal(err)
				}
				sum.Grey += report.Stages.Grey
				sum.Find += report.Stages.Find
				sum.Fit += report.Stages.Fit
				sum.Decode += report.Stages.Decode
				found = len(report.Codes)
			}
			perOp := func(d time.Duration) float64 { return d.Seconds() * 1000 / float64(b.N) }
			b.ReportMetric(perOp(sum.Grey), "grey-ms")
			b.ReportMetric(perOp(sum.Find), "find-ms")
			b.ReportMetric(perOp(sum.Fit), "fit-ms")
			b.ReportMetric(perOp(sum.Decode), "decode-ms")
			b.ReportMetric(float64(found), "tags")
		})
	}
}
