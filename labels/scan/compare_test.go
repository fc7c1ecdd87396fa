package scan

import (
	"cmp"
	"context"
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"stowright/labels/scan/frames"
)

// The table of reading rates, every reader on the same frames, in one go: run it
// with -bench Compare. SCAN_COMPARE sets the number of single frames, besides
// which there are walls. Single frames count from 1.75 pixels a module on, but in
// the rows by size. Readers that are not installed are left out, and said to be.
func BenchmarkCompare(b *testing.B) {
	n, walls := 91, 3
	if v, err := strconv.Atoi(os.Getenv("SCAN_COMPARE")); err == nil {
		n, walls = v, max(1, v/50)
	}
	c := &comparison{t: b, dir: b.TempDir(), tags: madeTags(2000), row: map[string]*rates{}}
	c.issued = Issue(c.tags)
	b.ResetTimer()
	sizes := frames.PixelsPerModule()
	for i := range n {
		frame := must(frames.Single(21, i, 1280, 720, c.tags))
		size := fmt.Sprintf("%.2f pixels a module", sizes[i/len(frames.Buckets())%len(sizes)])
		if frame.Labels[0].Module >= 1.75 {
			c.add(frame, frame.Bucket, "all singles", size)
		} else {
			c.add(frame, size)
		}
	}
	for i := range n / 4 {
		frame := must(frames.Extreme(21, i, 1280, 720, c.tags))
		c.add(frame, frame.Bucket)
	}
	for i := range walls {
		for _, hard := range []bool{false, true} {
			for _, size := range [][2]int{{1280, 720}, {1600, 900}, {1920, 1080}} {
				frame := must(frames.Wall(21, i, hard, size[0], size[1], c.tags))
				c.add(frame, fmt.Sprintf("%s %d", frame.Bucket, size[1]))
			}
		}
	}
	c.print()
}

func must(f frames.Frame, err error) frames.Frame {
	if err != nil {
		panic(err)
	}
	return f
}

// rates are the counts of one row: labels, and those that each reader read.
type rates struct {
	labels                         int
	ordinary, erased               int
	read, recognised               int
	limit, gozxing, zbar, zxingcpp int
}

type comparison struct {
	t      testing.TB
	dir    string
	tags   []string
	issued *Issued
	row    map[string]*rates
	order  []string
	off    []float64 // of the corners of all singles, modules
}

func (c *comparison) add(frame frames.Frame, rows ...string) {
	report, err := New().Read(c.t.Context(), frame.Picture, Options{Issued: c.issued, TagsOnly: true, Budget: time.Minute})
	if err != nil {
		c.t.Fatal(err)
	}
	if slices.Contains(rows, "all singles") {
		c.off = append(c.off, cornersOff(&frame, report.Codes)...)
	}
	var p plane
	p.fill(frame.Picture)
	general := generalReader{clock: newClock(c.t.Context(), time.Hour)}
	general.read(&p, 1, Point{})
	file := filepath.Join(c.dir, "frame.png")
	f, err := os.Create(file)
	if err != nil {
		c.t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, frame.Picture); err != nil {
		c.t.Fatal(err)
	}
	zbar := wordsOf("zbarimg", "-q", "--raw", "--nodbus", "-Sdisable", "-Sqrcode.enable", file)
	zxingcpp := wordsOf("ZXingReader", file)
	for _, label := range frame.Labels {
		mine := slices.IndexFunc(report.Codes, func(code Code) bool { return code.Text == label.Text })
		for _, name := range rows {
			r := c.row[name]
			if r == nil {
				r = &rates{}
				c.row[name] = r
				c.order = append(c.order, name)
			}
			r.labels++
			count(&r.gozxing, slices.ContainsFunc(general.codes, func(code Code) bool { return code.Text == label.Text }))
			count(&r.zbar, zbar[label.Text])
			count(&r.zxingcpp, zxingcpp[label.Text])
			count(&r.limit, mine >= 0 || c.readable(frame, label))
			if mine >= 0 {
				code := report.Codes[mine]
				count(&r.ordinary, code.How == Read && code.Mended <= parityWords/2)
				count(&r.erased, c.erasures(frame, label, code))
				count(&r.read, code.How == Read)
				count(&r.recognised, true)
			}
		}
	}
}

func count(n *int, yes bool) {
	if yes {
		*n++
	}
}

// readable says whether our decoder reads the label when told where it is.
func (c *comparison) readable(frame frames.Frame, label frames.Label) bool {
	r := New()
	r.pyramid.fill(frame.Picture)
	r.pyramid.build(r.pyramid.n - 1)
	corner := func(i int) Point { return Point{label.Corners[i][0], label.Corners[i][1]} }
	g := gridThrough([4]Point{corner(0), corner(1), corner(2), corner(3)})
	r.readTag(g, frame.Bucket == "inverse", newClock(c.t.Context(), time.Hour), &Stages{})
	return len(r.codes) == 1 && r.codes[0].Text == label.Text
}

// erasures says whether the algebra of the code reads a label that was found, when it
// may take any number of the least certain codewords for missing: of e wrong ones and
// k missing ones it mends those with 2e + k at most 17. No such decoder reads more.
func (c *comparison) erasures(frame frames.Frame, label frames.Label, code Code) bool {
	r := New()
	r.pyramid.fill(frame.Picture)
	g := gridThrough(code.Corners)
	if !r.fitTag(&g, r.pyramid.level(g.module()), frame.Bucket == "inverse") {
		return false
	}
	_, mask := r.decodeTag()
	if mask < 0 {
		return false
	}
	r.loadMask(mask)
	truth := r.tables.encodeTag(label.Text)
	type word struct {
		wrong   bool
		certain float32
	}
	list := make([]word, symbolWords)
	for w := range list {
		list[w].certain = 2
		for i, v := range r.decoder.value[8*w : 8*w+8] {
			list[w].wrong = list[w].wrong || truth.has(8*w+i) != (v > 0)
			list[w].certain = min(list[w].certain, abs32(v))
		}
	}
	slices.SortFunc(list, func(a, b word) int { return cmp.Compare(a.certain, b.certain) })
	for missing := range parityWords + 1 {
		wrong := 0
		for _, w := range list[missing:] {
			count(&wrong, w.wrong)
		}
		if 2*wrong+missing <= parityWords {
			return true
		}
	}
	return false
}

// wordsOf runs a reader and gives the words that it prints; none if it is not
// there, finds nothing or does not end within half a minute.
func wordsOf(name string, args ...string) map[string]bool {
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	out, err := exec.CommandContext(ctx, name, args...).Output()
	found := map[string]bool{}
	if err != nil && len(out) == 0 {
		return found
	}
	for _, word := range strings.Fields(string(out)) {
		found[strings.Trim(word, `"`)] = true
	}
	return found
}

func (c *comparison) print() {
	for _, name := range []string{"zbarimg", "ZXingReader"} {
		if _, err := exec.LookPath(name); err != nil {
			c.t.Logf("%s IS NOT INSTALLED: its column says nothing", name)
		}
	}
	var b strings.Builder
	fmt.Fprintln(&b, "| frames | labels | ordinary decode | erasures | ordered statistics | + issued tags | limit: true corners | gozxing | zbarimg | ZXingReader |")
	fmt.Fprintln(&b, "|---|---|---|---|---|---|---|---|---|---|")
	for _, name := range c.order {
		r := c.row[name]
		fmt.Fprintf(&b, "| %s | %d |", name, r.labels)
		for _, n := range []int{r.ordinary, r.erased, r.read, r.recognised, r.limit, r.gozxing, r.zbar, r.zxingcpp} {
			fmt.Fprintf(&b, " %s |", percent(n, r.labels))
		}
		fmt.Fprintln(&b)
	}
	if n := len(c.off); n > 0 {
		slices.Sort(c.off)
		fmt.Fprintf(&b, "\nCorners of all singles are off by %.2f modules (median), %.2f (19 of 20).\n", c.off[n/2], c.off[n*19/20])
	}
	fmt.Print("\n" + b.String()) // a benchmark's log is cut after ten lines
}

// percent does not round to a hundred what is not.
func percent(n, of int) string {
	v := 100 * float64(n) / float64(of)
	if n < of && v > 99.5 {
		return fmt.Sprintf("%.1f %%", v)
	}
	return fmt.Sprintf("%.0f %%", v)
}

// gridThrough is the homography whose corners are the given ones.
func gridThrough(corners [4]Point) grid {
	g := grid{}
	for _, c := range corners {
		g[2], g[5] = g[2]+c.X/4, g[5]+c.Y/4
	}
	side := func(a, b Point) Point { return Point{(b.X - a.X) / (2 * symbolSize), (b.Y - a.Y) / (2 * symbolSize)} }
	top, low := side(corners[0], corners[1]), side(corners[3], corners[2])
	left, right := side(corners[0], corners[3]), side(corners[1], corners[2])
	g[0], g[3], g[1], g[4] = top.X+low.X, top.Y+low.Y, left.X+right.X, left.Y+right.Y
	for range 10 { // Newton's method on the eight coordinates
		var n normal
		for i, c := range corners {
			const half = symbolSize / 2.0
			u, v := [4]float64{-half, half, half, -half}[i], [4]float64{-half, -half, half, half}[i]
			x, y, d := g.near(u, v)
			n.add([8]float64{d * u, d * v, 1, 0, 0, 0, -(x - g[2]) * d * u, -(x - g[2]) * d * v}, x-c.X, 1)
			n.add([8]float64{0, 0, 0, d * u, d * v, 1, -(y - g[5]) * d * u, -(y - g[5]) * d * v}, y-c.Y, 1)
		}
		step, ok := cholesky(&n.a, n.b)
		if !ok {
			return grid{}
		}
		for i := range g {
			g[i] += step[i]
		}
	}
	return g
}

// Symbols drawn from our own tables, module by module, are read by readers that
// know nothing of us: an outside check of the whole encoder.
func TestSymbolsAgainstOtherReaders(t *testing.T) {
	tables := theTables()
	for _, reader := range []string{"zbarimg", "ZXingReader"} {
		t.Run(reader, func(t *testing.T) {
			if _, err := exec.LookPath(reader); err != nil {
				t.Skipf("%s IS NOT INSTALLED: symbols are not checked against it", reader)
			}
			for mask := range maskCount {
				tag := madeTag(tagKinds[mask%4], uint64(mask)*1_000_003)
				file := filepath.Join(t.TempDir(), "symbol.png")
				if err := os.WriteFile(file, encoded(t, "png", drawn(tables, tag, mask)), 0o600); err != nil {
					t.Fatal(err)
				}
				args := []string{file}
				if reader == "zbarimg" {
					args = []string{"-q", "--raw", "--nodbus", file}
				}
				if found := wordsOf(reader, args...); !found[tag] {
					t.Errorf("mask %d: %s prints %v, want %q", mask, reader, found, tag)
				}
			}
		})
	}
}
