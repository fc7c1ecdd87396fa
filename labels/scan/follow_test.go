package scan

import (
	"image"
	"math"
	"slices"
	"testing"
	"time"

	"stowright/labels/scan/frames"
)

// wallOf is a wall of labels to look at parts of.
func wallOf(t testing.TB, hard bool) frames.Frame {
	t.Helper()
	frame, err := frames.Wall(7, 3, hard, 1280, 720, madeTags(60))
	if err != nil {
		t.Fatal(err)
	}
	return frame
}

// madeTags are n tags of all kinds.
func madeTags(n int) []string {
	tags := make([]string, n)
	for i := range tags {
		tags[i] = madeTag(tagKinds[i%4], uint64(i)*7919*104729+12345)
	}
	return tags
}

// window is what a camera sees that has moved by (dx, dy) against the wall.
func window(frame *frames.Frame, dx, dy int) image.Image {
	return frame.Picture.SubImage(image.Rect(40+dx, 40+dy, 1240+dx, 680+dy))
}

// A camera that shakes, drifts and jumps: every tag that is reported has the
// right text to the module, at every step, and nearly all are reported.
func TestFollower(t *testing.T) {
	frame := wallOf(t, false)
	follower := NewFollower()
	for i, at := range []image.Point{
		{0, 0}, {1, 0}, {2, 1}, {2, 2}, {5, 4}, {9, 7}, {14, 11}, {14, 11}, {-20, 15}, {-18, 14}, {-40, -40}, {-38, -39}, {30, 30},
	} {
		report, err := follower.Read(t.Context(), window(&frame, at.X, at.Y), Options{TagsOnly: true, Budget: time.Minute})
		if err != nil {
			t.Fatal(err)
		}
		seen := checkTrue(t, &frame, report.Codes, 0.45)
		inView := 0
		for _, l := range frame.Labels {
			if wholly(l, 40+at.X, 40+at.Y, 1240+at.X, 680+at.Y) {
				inView++
			}
		}
		if seen < inView-1 {
			t.Errorf("picture %d at %v: %d tags, want %d", i, at, seen, inView)
		}
	}
}

func wholly(l frames.Label, x0, y0, x1, y1 int) bool {
	for _, c := range l.Corners {
		if c[0] < float64(x0) || c[0] > float64(x1) || c[1] < float64(y0) || c[1] > float64(y1) {
			return false
		}
	}
	return true
}

// checkTrue fails for every code that is not on the frame, or whose corners are
// over a part of a module away, and counts the others.
func checkTrue(t testing.TB, frame *frames.Frame, codes []Code, limit float64) (seen int) {
	t.Helper()
	for _, code := range codes {
		found := false
		for _, l := range frame.Labels {
			if l.Text != code.Text {
				continue
			}
			found = true
			for i, c := range code.Corners {
				if off := math.Hypot(c.X-l.Corners[i][0], c.Y-l.Corners[i][1]) / l.Module; off > limit {
					t.Errorf("%s: corner %d of %q is %.2f modules off, limit %.2f", frame.Bucket, i, code.Text, off, limit)
				}
			}
		}
		if !found {
			t.Errorf("%s: %q %v is not in the picture", frame.Bucket, code.Text, code.How)
		} else {
			seen++
		}
	}
	return seen
}

// A tag that is covered goes from the report, and comes back.
func TestFollowerLosesAndFinds(t *testing.T) {
	tag := madeTag('P', 4711)
	with := onWhite(320, 240, map[image.Point]image.Image{{100, 60}: printedSymbol(t, tag, 1, 3)})
	without := onWhite(320, 240, nil)
	follower := NewFollower()
	for i, row := range []struct {
		picture image.Image
		want    int
	}{{without, 0}, {with, 1}, {with, 1}, {without, 0}, {without, 0}, {with, 1}} {
		report, err := follower.Read(t.Context(), row.picture, Options{TagsOnly: true, Budget: time.Minute})
		if err != nil || len(report.Codes) != row.want {
			t.Errorf("picture %d: %d codes, %v, want %d", i, len(report.Codes), err, row.want)
		}
	}
}

// A code of another maker is reported on every picture, though not looked for on
// each, and goes where the tags go.
func TestFollowerOthers(t *testing.T) {
	paper := onWhite(400, 200, map[image.Point]image.Image{
		{20, 40}: printedSymbol(t, madeTag('P', 4711), 1, 3), {200, 40}: printedSymbol(t, "HELLO", 1, 3),
	})
	follower := NewFollower()
	for i := range 2*fullScanEvery + 1 {
		report, err := follower.Read(t.Context(), paper.SubImage(image.Rect(i, 0, 380+i, 200)), Options{Budget: time.Minute})
		if err != nil || len(report.Codes) != 2 {
			t.Fatalf("picture %d: %s, %v, want a tag and HELLO", i, texts(report.Codes), err)
		}
		near(t, report.Codes[1].Corners, [4]Point{{212, 52}, {275, 52}, {275, 115}, {212, 115}}, 3)
	}
}

func BenchmarkFollower(b *testing.B) {
	frame := wallOf(b, false)
	follower := NewFollower()
	pictures := []image.Image{window(&frame, 0, 0), window(&frame, 2, 1), window(&frame, 3, 3), window(&frame, 1, 2)}
	kept, all := time.Duration(0), 0
	for i := range b.N {
		report, err := follower.Read(b.Context(), pictures[i%4], Options{TagsOnly: true, Budget: time.Minute})
		if err != nil {
			b.Fatal(err)
		}
		kept += report.Stages.Fit
		all += len(report.Codes)
	}
	b.ReportMetric(float64(all)/float64(b.N), "tags")
}

// A tag that was only recognised is kept like any other, though it is tried anew each
// time the whole picture is looked through; it never becomes more than it is.
func TestFollowerRecognised(t *testing.T) {
	tags := madeTags(50)
	options := Options{Issued: Issue(tags), TagsOnly: true, Budget: time.Minute}
	found := 0
	for i := slices.Index(frames.Buckets(), "glare"); i < 40*len(frames.Buckets()) && found < 2; i += len(frames.Buckets()) {
		frame, err := frames.Single(31, i, 320, 240, tags)
		if err != nil {
			t.Fatal(err)
		}
		report, err := New().Read(t.Context(), frame.Picture, options)
		if err != nil {
			t.Fatal(err)
		}
		if len(report.Codes) != 1 || report.Codes[0].How != Recognised {
			continue
		}
		found++
		follower := NewFollower()
		for n := range 2*fullScanEvery + 2 {
			report, err := follower.Read(t.Context(), frame.Picture, options)
			if err != nil || len(report.Codes) != 1 || report.Codes[0].Text != frame.Labels[0].Text || report.Codes[0].How != Recognised {
				t.Errorf("frame %d, picture %d: %+v, %v, want %q recognised", i, n, report.Codes, err, frame.Labels[0].Text)
			}
		}
	}
	if found == 0 {
		t.Error("no frame in which a tag is only recognised: nothing was tested")
	}
}
