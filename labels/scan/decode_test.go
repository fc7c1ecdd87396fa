package scan

import (
	"math"
	"math/rand/v2"
	"testing"
)

// readAs fills soft modules with a tag's symbol under a mask.
func readAs(tables *tables, tag string, mask int) (s soft) {
	for row := range s {
		for col := range s[row] {
			s[row][col] = -1
		}
	}
	put := func(c cell, dark bool) {
		if dark {
			s[c.row+1][c.col+1] = 1
		}
	}
	for _, k := range tables.fixed {
		put(k.cell, k.dark)
	}
	bits := tables.encodeTag(tag)
	for i, c := range tables.data {
		put(c, bits.has(i) != tables.masks[mask].has(i))
	}
	for _, places := range tables.places {
		for i, c := range places {
			put(c, tables.format[mask][i])
		}
	}
	return s
}

// damage changes the data modules of a number of codewords.
func damage(tables *tables, s *soft, first, n int, to func(v float64) float64) {
	for w := first; w < first+n; w++ {
		for bit := range 8 {
			c := tables.data[8*w+bit]
			s[c.row+1][c.col+1] = to(s[c.row+1][c.col+1])
		}
	}
}

func TestDecode(t *testing.T) {
	tables, tag := theTables(), madeTag('B', 31415926)
	random := rand.New(rand.NewPCG(1, 2))
	for _, row := range []struct {
		name  string
		spoil func(s *soft)
		wrong int // codewords that must be counted as mended
		ok    bool
	}{
		{"perfect", func(*soft) {}, 0, true},
		{"eight codewords wrong, half certain", func(s *soft) {
			damage(tables, s, 3, 8, func(v float64) float64 { return -v / 2 })
		}, 8, true},
		{"fourteen codewords hidden", func(s *soft) {
			damage(tables, s, 12, 14, func(float64) float64 { return 0 })
		}, 14, true},
		{"twelve codewords wrong, hardly certain", func(s *soft) {
			damage(tables, s, 8, 12, func(v float64) float64 { return -v / 10 })
		}, 12, true},
		{"noise a third of the signal's power", func(s *soft) {
			for row := range s {
				for col := range s[row] {
					s[row][col] += 0.58 * random.NormFloat64()
				}
			}
		}, -1, true},
		{"noise alone", func(s *soft) {
			for row := range s {
				for col := range s[row] {
					s[row][col] = random.NormFloat64()
				}
			}
		}, -1, false},
		{"nothing", func(s *soft) { *s = soft{} }, -1, false},
		{"all light", func(s *soft) {
			for _, c := range tables.data {
				s[c.row+1][c.col+1] = -1
			}
		}, -1, false},
		{"every codeword the other way round", func(s *soft) {
			damage(tables, s, 0, symbolWords, func(v float64) float64 { return -v })
		}, -1, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			for mask := range maskCount {
				s := readAs(tables, tag, mask)
				row.spoil(&s)
				var d decoder
				d.load(tables, &s, mask)
				got := d.decode(&tables.code)
				ok := got.ok && got.deviations >= leastDeviations
				if ok != row.ok || ok && string(got.text[:]) != tag || row.wrong >= 0 && got.wrong != row.wrong {
					t.Errorf("mask %d: %v %q with %d wrong, %.1f deviations, agreement %.2f; want %v %q with %d",
						mask, ok, got.text, got.wrong, got.deviations, got.agreement, row.ok, tag, row.wrong)
				}
			}
		})
	}
}

// Two million looks at noise never make a tag; here are enough of them for the
// limit's distance to be seen: the best by chance stays well under it.
func TestDecodeNoise(t *testing.T) {
	tables := theTables()
	random := rand.New(rand.NewPCG(3, 4))
	var d decoder
	var s soft
	most := 0.0
	for range 400 {
		for row := range s {
			for col := range s[row] {
				s[row][col] = random.NormFloat64()
			}
		}
		d.load(tables, &s, 0)
		if got := d.decode(&tables.code); got.ok {
			most = math.Max(most, got.deviations)
		}
	}
	if most > leastDeviations-1 {
		t.Errorf("noise reaches %.2f deviations, the limit is %.2f", most, leastDeviations)
	}
}

// The table of scores gives what adding the values bit by bit does.
func TestCorrelate(t *testing.T) {
	tables := theTables()
	random := rand.New(rand.NewPCG(5, 6))
	s := readAs(tables, madeTag('P', 5), 3)
	for row := range s {
		for col := range s[row] {
			s[row][col] += random.NormFloat64()
		}
	}
	var d decoder
	d.load(tables, &s, 3)
	b := tables.encodeTag(madeTag('C', 99))
	want := 0.0
	for i, v := range d.value {
		if b.has(i) {
			want += float64(v)
		} else {
			want -= float64(v)
		}
	}
	if got := float64(d.correlate(&b)); math.Abs(got-want) > 1e-3 {
		t.Errorf("correlate: %v, bit by bit %v", got, want)
	}
}

func TestRecognise(t *testing.T) {
	tables, tags := theTables(), madeTags(2000)
	issued := Issue(append(tags, tags[0], "no tag"))
	if issued.Len() != len(tags) || (*Issued)(nil).Len() != 0 {
		t.Fatalf("Len: %d, want %d each once and no others; of nil %d", issued.Len(), len(tags), (*Issued)(nil).Len())
	}
	random := rand.New(rand.NewPCG(7, 8))
	stranger := madeTag('P', 1<<34)
	for _, row := range []struct {
		name  string
		text  string
		noise float64
		ok    bool
	}{
		{"clear", tags[77], 0, true},
		{"as much noise as signal", tags[78], 1, true},
		{"not issued", stranger, 0, false},
		{"not issued, noisy", stranger, 0.8, false},
		{"noise alone", tags[79], 40, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			for range 20 {
				s := readAs(tables, row.text, 4)
				for r := range s {
					for c := range s[r] {
						s[r][c] += row.noise * random.NormFloat64()
					}
				}
				var d decoder
				d.load(tables, &s, 4)
				got, ok := d.recognise(issued)
				if ok != row.ok || ok && tags[got.tag] != row.text {
					t.Fatalf("recognise %q: %v %+v, want %v", row.text, ok, got, row.ok)
				}
			}
		})
	}
}

// The more tags, the better the best must fit.
func TestLeastChance(t *testing.T) {
	for _, row := range []struct {
		n    int
		want float64
	}{
		// Source: the normal distribution's upper tail, 1e-8 beyond 5.612 and
		// 1e-12 beyond 7.034; TestLeastChanceByIntegral adds it up.
		{1, 5.612}, {10_000, 7.034},
	} {
		if got := leastChance(row.n); math.Abs(got-row.want) > 0.001 {
			t.Errorf("leastChance(%d) = %.4f, want %.3f", row.n, got, row.want)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	tables := theTables()
	random := rand.New(rand.NewPCG(1, 2))
	s := readAs(tables, madeTag('P', 5), 3)
	for row := range s {
		for col := range s[row] {
			s[row][col] += 0.4 * random.NormFloat64()
		}
	}
	var d decoder
	for range b.N {
		d.load(tables, &s, 3)
		if got := d.decode(&tables.code); !got.ok {
			b.Fatal("not decoded")
		}
	}
}

func BenchmarkRecognise20000(b *testing.B) {
	tables, issued := theTables(), Issue(madeTags(20_000))
	s := readAs(tables, issued.tags[5], 3)
	var d decoder
	d.load(tables, &s, 3)
	b.ResetTimer()
	for range b.N {
		if _, ok := d.recognise(issued); !ok {
			b.Fatal("not recognised")
		}
	}
}
