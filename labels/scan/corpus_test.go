package scan

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"stowright/labels/scan/frames"
)

// inFull leaves a long test of one goroutine to the run without the race detector.
func inFull(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("not in short mode")
	}
}

// A run that looks for a wrong answer. It goes through frames with and without
// tags, with 20, 2,000 and 20,000 issued tags, of which the ones shown are part
// in half of the frames. With the build tag torture it takes 20,000 frames, else
// a small sample of the same; SCAN_FRAMES sets any other number and SCAN_SEED
// other frames.
func TestTorture(t *testing.T) {
	inFull(t)
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
		for _, l := range frame.Labels {
			if IsTag(l.Text) {
				tags++
			}
		}
	}
	t.Logf("%d frames: %d tags, %d read, %d recognised", n, tags, read, recognised)
	if n >= 60 && 10*(read+recognised) < 8*tags {
		t.Errorf("%d of %d tags read or recognised, want eight in ten", read+recognised, tags)
	}
}

// tortureFrame is frame i: every other one holds no tag. One in fifty is a wall, of
// which half are codes that only look like tags, between those that are: there the
// reader looks for neighbours.
func tortureFrame(t *testing.T, seed uint64, i int, in, out []string) frames.Frame {
	t.Helper()
	var frame frames.Frame
	var err error
	switch {
	case i%2 == 1:
		frame, err = frames.Empty(seed, i/2, 640, 360)
	case i%50 == 12:
		mixed := slices.Clone(in[:20])
		for j, tag := range mixed[:10] {
			mixed[j] = tag[:9] + string("OIUL"[j%4]) // no check characters of ours
		}
		frame, err = frames.Wall(seed, i/50, i%100 == 12, 1280, 720, mixed)
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
