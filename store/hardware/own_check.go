package hardware

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stowright/store/measure"
)

// ownPlace finds the series and number that an own row belongs to: a number of
// the table, or one that the grammar of its eighths allows beyond it. Letters
// are accepted and left out.
func (c *Catalog) ownPlace(designation string) (*series, string, error) {
	p, no := c.parse(designation)
	switch {
	case no == nil && p.s == nil:
		return nil, "", errors.New("is not a designation: write it like AN7-10")
	case no == nil && (p.s.free || p.s.whole || p.s.nums[1] != nil || p.nums[0] == nil):
		return nil, "", errors.New("is of a series whose figures do not hang on one dash number; own rows are for the others, such as AN7-10")
	case no == nil:
		return p.s, p.nums[0].text, nil
	case no.s == nil || !strings.HasPrefix(no.s.rule, "dash numbers count eighths"):
		return nil, "", errors.New(no.problem)
	}
	text, ok := c.beyond(designation)
	if !ok {
		return nil, "", errors.New(no.problem)
	}
	return no.s, text, nil
}

// OwnNumber is the designation that own figures are kept under: without letters,
// as "AN7-10" for AN7H10A. The error says why no figures can be entered for it.
func (c *Catalog) OwnNumber(designation string) (string, error) {
	s, text, err := c.ownPlace(designation)
	if err != nil {
		return "", err
	}
	return s.name + "-" + text, nil
}

// beyond reads a dash number of eighths that the grammar allows and the table
// does not hold.
func (c *Catalog) beyond(designation string) (string, bool) {
	var buf [2 * maxText]byte
	s, _ := normal(buf[:0], designation)
	prefix, at, ok := start(s)
	if !ok {
		return "", false
	}
	end := run(s, at, digit)
	p := piece{s: c.lookup(prefix, s[at:end])}
	if p.s == nil {
		return "", false
	}
	sc := scanner{s: s, at: end}
	if sc.letters(&p, 0) != nil {
		return "", false
	}
	at = skipSeparators(s, sc.at)
	end = run(s, at, digit)
	text := string(s[at:end])
	dash, err := strconv.Atoi(text)
	if n, ok := eighths(dash); err != nil || !ok || n < 3 || dash > 199 || strconv.Itoa(dash) != text {
		return "", false
	}
	p.nums[0], sc.at = &code{text: text}, end
	return text, sc.letters(&p, 1) == nil && sc.at == len(s)
}

// CheckOwn holds the rows against the grammar, against our own table where it
// is cross-checked, and against each other: bolts of one diameter go up in
// steps of 1/8, so length and grip must.
func (c *Catalog) CheckOwn(rows []OwnRow) []error {
	var errs []error
	if len(rows) > maxOwnRows {
		return []error{&OwnError{Reason: fmt.Sprintf("%d rows: at most %d", len(rows), maxOwnRows)}}
	}
	first := map[string]placed{} // the row that the steps of a series are counted from
	seen := map[string]bool{}
	for i := range rows {
		row := &rows[i]
		fail := func(column, value, reason string) {
			errs = append(errs, &OwnError{Line: row.Line, Column: column, Value: value, Reason: reason})
		}
		s, text, err := c.ownPlace(row.Designation)
		if err != nil {
			fail("designation", row.Designation, err.Error())
			continue
		}
		switch source := strings.TrimSpace(row.Source); {
		case source == "":
			fail("source", "", "is empty: name the printed standard and its page or table")
		case len(source) > maxSource:
			fail("source", source[:20]+"...", fmt.Sprintf("is longer than %d characters", maxSource))
		}
		if key := s.name + "-" + text; seen[key] {
			fail("designation", row.Designation, "is there twice")
		} else {
			seen[key] = true
		}
		for _, problem := range row.problems() {
			fail(problem.Column, problem.Value, problem.Reason)
		}
		if why := againstOurs(s, text, row); why != "" {
			fail("", row.Designation, why)
		}
		if !strings.HasPrefix(s.rule, "dash numbers count eighths") {
			continue
		}
		here := placed{row, leadingNumber(text) / 10}
		if base, ok := first[s.name]; !ok {
			first[s.name] = here
		} else if why := steps8(base, here); why != "" {
			fail("", row.Designation, why)
		}
	}
	return errs
}

// placed is a row with its dash number.
type placed struct {
	row  *OwnRow
	dash int
}

// problems are what is wrong with the figures by themselves.
func (r *OwnRow) problems() []*OwnError {
	var out []*OwnError
	if len(r.Figures) == 0 {
		out = append(out, &OwnError{Value: r.Designation, Reason: "has no figure: give at least one, such as its grip"})
	}
	for i, f := range r.Figures {
		switch {
		case !slices.Contains(OwnFigures(), f.Name):
			out = append(out, &OwnError{Column: f.Name, Reason: "is not a figure that can be entered"})
		case f.Length <= 0 || f.Length > 24*measure.Inch:
			out = append(out, &OwnError{Column: f.Name, Value: f.Length.Decimal(), Reason: "is not between 0 and 24 in"})
		case slices.ContainsFunc(r.Figures[:i], func(g OwnFigure) bool { return g.Name == f.Name }):
			out = append(out, &OwnError{Column: f.Name, Reason: "is there twice"})
		}
	}
	if g, l := r.figure(Grip), r.figure(LengthField); g != 0 && l != 0 && g >= l {
		out = append(out, &OwnError{Column: Grip, Value: short(g), Reason: "is not less than the length " + short(l)})
	}
	return out
}

// againstOurs says where a row contradicts a figure that published sources give.
func againstOurs(s *series, text string, row *OwnRow) string {
	dash := s.nums[0].index[text]
	if dash == nil {
		return ""
	}
	for i := range dash.fields {
		ours := &dash.fields[i]
		theirs := row.figure(ours.Name)
		if theirs == 0 || ours.Length == 0 || ours.Checked == 0 || ours.Own {
			continue
		}
		if off := theirs - ours.Length; max(off, -off) > sixtyFourth {
			return fmt.Sprintf("%s %s is not the %s of %s: look at the sheet again", ours.Name, short(theirs), short(ours.Length), ours.Source)
		}
	}
	return ""
}

// steps8 says that two rows of one series are not the steps of 1/8 apart that
// their dash numbers are. The shortest bolts of a size may be exceptions in the
// standard, so up to 1/8 is let pass beside a grip of 1/16.
func steps8(from, to placed) string {
	base, row := from.row, to.row
	na, _ := eighths(from.dash)
	nb, _ := eighths(to.dash)
	want := measure.Length(nb-na) * eighth
	for _, name := range []string{Grip, LengthField} {
		x, y := base.figure(name), row.figure(name)
		if x == 0 || y == 0 {
			continue
		}
		off := y - x - want
		if max(off, -off) <= thou {
			continue
		}
		if min(base.figure(Grip), row.figure(Grip)) == measure.Inch/16 && max(off, -off) <= eighth {
			continue
		}
		return fmt.Sprintf("%s %s is not the steps of 1/8 from %s (%s): %s was expected", name, short(y), base.Designation, short(x), short(x+want))
	}
	return ""
}
