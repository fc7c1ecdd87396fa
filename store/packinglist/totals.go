package packinglist

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"stowright/store/measure"
)

// totalWords is how a row that adds up others begins (common practice).
var totalWords = regexp.MustCompile(`^(?i:(?:grand|sub|overall)?[- ]?totals?|sum|summe|gesamt)(?i: (?:of )?(?:qty|quantity|pieces|pcs|parts|items|lines|count|shipped|units|this page|page|crate|box|bag)[^:]*)?\s*:?\s*([\d.,]*)$`)

// sums adds the lines of a sheet up, for the totals on it.
type sums struct {
	since, all adding // since the last total, and from the start
	broken     bool   // a line could not be read, so no sum says anything
	totals     []total
}

// adding is sums of lines: of every figure, and of pieces alone, and their count.
type adding struct {
	figures, pieces int64 // millionths
	lines           int64
}

// total is a row that adds up others.
type total struct {
	row        Row
	said       string // the figure
	since, all adding // of the lines above it
	note       int    // index of what was left out
}

func (s *sums) see(l Line) {
	for _, a := range []*adding{&s.since, &s.all} {
		a.lines++
		a.figures += l.Listed.Micro
		if l.Listed.Unit == measure.Each {
			a.pieces += l.Listed.Micro
		}
	}
}

// isTotal reports whether a row adds up others: it says so, and no part stands in it.
func (rd *sheetReader) isTotal(r Row) bool {
	part := rd.text(r, Designation)
	if part != "" && !totalWords.MatchString(part) {
		return false
	}
	if d := rd.text(r, Description); part != "" && d != "" && !totalWords.MatchString(d) {
		return false
	}
	for i, c := range r.Cells {
		if totalWords.MatchString(c) && i+1 != rd.cols.at[Quantity] {
			return true
		}
	}
	return false
}

// total leaves a total out, and notes what it says.
func (rd *sheetReader) total(r Row) bool {
	if !rd.isTotal(r) {
		return false
	}
	t := total{row: r, said: rd.text(r, Quantity), since: rd.sums.since, all: rd.sums.all, note: len(rd.reading.LeftOut)}
	if v, held := r.values[rd.cols.at[Quantity]]; held {
		t.said = v.number
	}
	for _, c := range r.Cells {
		if m := totalWords.FindStringSubmatch(c); m != nil && t.said == "" {
			t.said = m[1]
		}
	}
	rd.sums.totals = append(rd.sums.totals, t)
	rd.sums.since = adding{}
	rd.leaveOut(r, "a total")
	return true
}

// checkTotals holds the totals against the lines above them, once all are read.
func (rd *sheetReader) checkTotals() {
	for _, t := range rd.sums.totals {
		note := &rd.reading.LeftOut[t.note]
		if t.said == "" {
			continue
		}
		if m := withUnit.FindStringSubmatch(t.said); m != nil {
			t.said = m[1]
		}
		said, ok := rd.plainTotal(t.said)
		switch {
		case !ok:
			note.Why = "a total that cannot be read, so it was not checked"
		case rd.sums.broken || rd.hangs():
			note.Why = "a total, to be checked when every row above it is read"
		case t.agrees(said):
			note.Why = fmt.Sprintf("a total, %s, which the lines above it add up to", t.said)
		default:
			note.Why = fmt.Sprintf("a total, %s; the lines above it add up to %s", t.said, micro(t.since.figures))
			rd.asked.ask(Question{
				ID:       "total",
				Text:     fmt.Sprintf("a total says %s, and the lines above it add up to %s: are the lines right?", clip(t.said), micro(t.since.figures)),
				Readings: []Answer{{"lines", "yes, the total is wrong or counts something else"}},
			}, rd.at(t.row, rd.cols.at[Quantity]))
		}
	}
}

// hangs reports whether the quantity of any line still hangs on a question.
func (rd *sheetReader) hangs() bool {
	for _, l := range rd.lines {
		if l.Doubt != "" {
			return true
		}
	}
	return false
}

// plainTotal reads the figure of a total by either decimal mark.
func (rd *sheetReader) plainTotal(s string) ([]*big.Rat, bool) {
	var found []*big.Rat
	for _, t := range []string{strings.ReplaceAll(s, ",", ""), strings.ReplaceAll(strings.ReplaceAll(s, ".", ""), ",", ".")} {
		if v, ok := new(big.Rat).SetString(strings.TrimSpace(t)); ok && !strings.ContainsAny(t, "/eE") && len(t) < 24 {
			found = append(found, v.Mul(v, big.NewRat(1_000_000, 1)))
		}
	}
	return found, len(found) > 0
}

// agrees reports whether what is said is one of the sums.
func (t total) agrees(said []*big.Rat) bool {
	for _, v := range said {
		for _, a := range []adding{t.since, t.all} {
			for _, n := range []int64{a.figures, a.pieces, a.lines * 1_000_000} {
				if v.Cmp(big.NewRat(n, 1)) == 0 {
					return true
				}
			}
		}
	}
	return false
}

func micro(n int64) string { return measure.Quantity{Micro: n}.Number() }
