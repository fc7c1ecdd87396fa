package packinglist

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stowright/store/measure"
)

var (
	// bracketed is what stands in brackets behind a heading: "Qty (ft)", "Length [in]".
	bracketed = regexp.MustCompile(`^(.*)[(\[]\s*([^()\[\]]+?)\s*[)\]]\s*$`)
	// behindComma is a unit behind a comma or a slash in it: "Qty, lb".
	behindComma = regexp.MustCompile(`^(.*),\s*([A-Za-z.]+)\s*$`)
)

// multiples are words of a heading by which a figure is no number of pieces.
var multiples = []string{"per", "doz", "dozen", "dozens", "hundred", "hundreds", "thousand", "thousands", "gross", "pack", "packs", "pkg", "pkgs", "boxes", "bags"}

// heading is the heading of the column of a field, of both rows where there are two.
func (rd *sheetReader) heading(f Field) string {
	if len(rd.heads) == 0 {
		return ""
	}
	return rd.text(rd.heads[len(rd.heads)-1], f)
}

// headingUnit is the unit that the heading of a quantity names, "" for none.
func (rd *sheetReader) headingUnit(f Field) string {
	for _, form := range []*regexp.Regexp{bracketed, behindComma} {
		m := form.FindStringSubmatch(rd.heading(f))
		if m == nil {
			continue
		}
		if _, err := measure.ParseUnit(m[2]); err == nil || m[2] == "M" {
			return m[2]
		}
	}
	return ""
}

// headingDoubt asks about a heading by which the figures below may be something else than so
// many of the line's unit: "Qty per kit", "Qty (doz)".
func (rd *sheetReader) headingDoubt(r Row, f Field) {
	heading := rd.heading(f)
	doubt := slices.ContainsFunc(strings.Fields(words(heading)), func(w string) bool { return slices.Contains(multiples, w) })
	if m := bracketed.FindStringSubmatch(heading); m != nil && rd.headingUnit(f) == "" {
		for _, w := range strings.Fields(words(m[2])) {
			doubt = doubt || !headingVocabulary[w]
		}
	}
	if !doubt {
		return
	}
	rd.ask(Question{
		ID:       "heading-" + strings.ReplaceAll(f.String(), " ", "-"),
		Text:     fmt.Sprintf("is each figure below %q how many were sent, and nothing to be multiplied?", clip(heading)),
		Readings: []Answer{{"as-they-stand", "yes, the figures are taken as they stand"}},
	}, r, rd.cols.at[f])
}
