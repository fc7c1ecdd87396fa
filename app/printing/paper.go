package printing

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"stowright/labels"
	"stowright/store/fault"
)

// Paper is what a page is for, in millimetres.
type Paper struct {
	W, H float64 // of the page
	Roll bool    // it is a piece of a roll, which may be fed either way
	Wide float64 // of the roll
}

// PaperOf is the paper of a page of a stock.
func PaperOf(s labels.Stock, p labels.Page) Paper {
	paper := Paper{W: p.W, H: p.H, Roll: s.Roll, Wide: p.H}
	if s.Across() {
		paper.Wide = p.W
	}
	return paper
}

// String is the size in words.
func (p Paper) String() string { return fmt.Sprintf("%s x %s mm", figure(p.W), figure(p.H)) }

func figure(mm float64) string { return strconv.FormatFloat(math.Round(mm*10)/10, 'f', -1, 64) }

// near is how much the sizes of a paper may differ in two lists, in millimetres: printers
// count in whole points.
const near = 0.5

// of is the name that a printer has for the paper, from the options that it lists.
func (p Paper) of(printer, options string) (string, error) {
	names, custom := choices(options)
	var others []string
	for _, name := range names {
		w, h, known := sizeOf(name)
		if !known {
			continue
		}
		if p.fits(w, h) {
			return name, nil
		}
		others = append(others, name)
	}
	if custom || len(others) == 0 {
		// It takes any size, or says nothing of any: then it is told.
		w, h := p.W, p.H
		if p.Roll && w != p.Wide {
			w, h = h, w // as it leaves the printer
		}
		return fmt.Sprintf("Custom.%sx%smm", figure(w), figure(h)), nil
	}
	const most = 5
	if len(others) > most {
		others = append(others[:most], "others")
	}
	return "", fault.New(fault.Invalid, printer, "%s has no paper of %s, only %s: choose another stock or another printer.", printer, p, strings.Join(others, ", "))
}

// fits reports whether a paper of that size is this one.
func (p Paper) fits(w, h float64) bool {
	same := func(a, b float64) bool { return math.Abs(a-b) <= near }
	return same(w, p.W) && same(h, p.H) || p.Roll && same(w, p.H) && same(h, p.W)
}

// choices are the papers in the list of a printer's options, the one that is set first, and
// whether it takes any size.
func choices(options string) (names []string, custom bool) {
	for line := range strings.Lines(options) {
		key, list, ok := strings.Cut(line, ":")
		key, _, _ = strings.Cut(key, "/")
		if !ok || key != "PageSize" && key != "media" {
			continue
		}
		for _, name := range strings.Fields(list) {
			set := strings.HasPrefix(name, "*")
			switch name = strings.TrimPrefix(name, "*"); {
			case strings.HasPrefix(name, "Custom."):
				custom = true
			case set:
				names = append([]string{name}, names...)
			default:
				names = append(names, name)
			}
		}
	}
	return names, custom
}

// inch is one in millimetres, a point a seventy-second of it.
const inch = 25.4

// named are papers that have no size in their names, in millimetres (ISO 216, ANSI Y14.1).
var named = map[string][2]float64{
	"A4": {210, 297}, "A5": {148, 210}, "A6": {105, 148}, "Letter": {8.5 * inch, 11 * inch}, "Legal": {8.5 * inch, 14 * inch},
}

var (
	// The names that PWG 5101.1 makes of sizes, and those that drivers make.
	measured = regexp.MustCompile(`^(?:[a-z]+_[A-Za-z0-9.-]+_)?([0-9]+(?:\.[0-9]+)?)x([0-9]+(?:\.[0-9]+)?)(mm|in)$`)
	inPoints = regexp.MustCompile(`^w([0-9]+)h([0-9]+)$`)
)

// sizeOf is the size of a paper by its name, where that tells it.
func sizeOf(name string) (w, h float64, known bool) {
	if size, ok := named[name]; ok {
		return size[0], size[1], true
	}
	unit, m := 1.0, measured.FindStringSubmatch(name)
	switch {
	case m != nil && m[3] == "in":
		unit = inch
	case m == nil:
		if m = inPoints.FindStringSubmatch(name); m == nil {
			return 0, 0, false
		}
		unit = inch / 72
	}
	w, errW := strconv.ParseFloat(m[1], 64)
	h, errH := strconv.ParseFloat(m[2], 64)
	return w * unit, h * unit, errW == nil && errH == nil
}
