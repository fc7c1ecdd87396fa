package hardware

import (
	"slices"
	"strings"
)

// A figure may come from a table that several families share, and its count of
// sources may be of another family than the one that is shown. So a count holds
// for a series only where its source names that series or speaks of the whole
// trade, as a handbook paragraph does; and for a series that is itself known
// from memory only where it names it.

// credit is what is shown in place of a source and its count.
type credit struct {
	field  string // "" for every field with the source
	source string
	as     cite
}

// credits finds, for each series, the counts that are not its own.
func (ld *loader) credits() {
	pairs := ld.sameStandard()
	byTable := map[*codes][]string{}
	for _, name := range ld.c.names {
		s := ld.c.series[name]
		names := append(pairs[name], name)
		for _, source := range s.sources(byTable) {
			if ld.speaksOf(source, names, s.src.checked > 0) {
				continue
			}
			s.credits = append(s.credits, credit{source: source, as: cite{source + " (said of other families, for " + name + " from memory)", 0}})
		}
	}
	for _, r := range ld.rows("counts_by_family") {
		sp := spanOf(r.Get("series"))
		for _, name := range ld.c.names {
			if sp.covers(name) {
				s := ld.c.series[name]
				s.credits = append(s.credits, credit{field: r.Get("field"), as: from(r)})
			}
		}
	}
}

// sameStandard lists the series that are one standard under two numbers, as at
// least two sources say.
func (ld *loader) sameStandard() map[string][]string {
	pairs := map[string][]string{}
	for _, r := range ld.rows("supersession") {
		if old, next := r.Get("old_number"), r.Get("new_number"); r.Checked("checked") > 1 {
			next, _, _ = strings.Cut(next, " (")
			pairs[old], pairs[next] = append(pairs[old], next), append(pairs[next], old)
		}
	}
	return pairs
}

// sources are the sources that count for figures of the series, each once.
func (s *series) sources(byTable map[*codes][]string) []string {
	var out []string
	add := func(list []Field) { out = addSources(out, list) }
	add(s.first)
	add(s.last)
	for i := range s.slots {
		for _, ch := range s.slots[i].choices {
			if ch.absent != nil {
				add(ch.absent.fields)
			}
			for _, l := range ch.letters {
				add(l.fields)
			}
		}
	}
	for _, cs := range s.nums {
		if cs == nil {
			continue
		}
		own, known := byTable[cs]
		if !known {
			own = cs.sources()
			byTable[cs] = own
		}
		for _, source := range own {
			if !slices.Contains(out, source) {
				out = append(out, source)
			}
		}
	}
	return out
}

func (cs *codes) sources() []string {
	var out []string
	for _, c := range cs.list {
		out = addSources(out, c.fields)
	}
	return out
}

// addSources adds the sources that count to a list, which is short: of one table.
func addSources(out []string, list []Field) []string {
	for i := range list {
		if f := &list[i]; f.Checked > 0 && !slices.Contains(out, f.Source) {
			out = append(out, f.Source)
		}
	}
	return out
}

// speaksOf says that a source names one of the series, or names none at all
// and general sources are let count.
func (ld *loader) speaksOf(source string, names []string, general bool) bool {
	named := ld.named(source)
	for i := range named {
		for _, name := range names {
			if named[i].covers(name) {
				return true
			}
		}
	}
	return len(named) == 0 && general
}

// nameMarks writes the ranges of sources in one way.
var nameMarks = strings.NewReplacer(" to AN", "-AN", "–", "-", "NASM", "MS")

// named lists the standards that a source names: "AN310", "NAS6203-NAS6220".
func (ld *loader) named(source string) []span {
	if out, ok := ld.namings[source]; ok {
		return out
	}
	out := []span{}
	text := nameMarks.Replace(source)
	for i := 0; i < len(text); i++ {
		label, end := standardAt(text, i)
		if label == "" {
			continue
		}
		if rest := text[end:]; len(rest) > 1 && rest[0] == '-' {
			to, behind := standardAt(text, end+1)
			if digit(rest[1]) {
				behind = run([]byte(text), end+1, digit)
				to = frontLetters(label) + text[end+1:behind]
			}
			// A dash number is smaller than its standard: AN42B-5, NAS464-5.
			if to != "" && leadingNumber(to) > leadingNumber(label) {
				label, end = label+"-"+to, behind
			}
		}
		out = append(out, spanOf(label))
		i = end - 1
	}
	ld.namings[source] = out
	return out
}

// standardAt is the standard number that begins there, and where it ends.
func standardAt(text string, i int) (label string, end int) {
	if i > 0 && (alphanumeric(text[i-1]) || text[i-1] == '-') && !(text[i-1] == '-' && i > 1 && digit(text[i-2])) {
		return "", i
	}
	for _, prefix := range prefixes {
		if at := i + len(prefix); len(text) > at && text[i:at] == prefix && digit(text[at]) {
			end = run([]byte(text), at, digit)
			return text[i:end], end
		}
	}
	return "", i
}

// credited puts the counts right that are not the series' own.
func (s *series) credited(fields []Field) {
	for i := range fields {
		f := &fields[i]
		if f.Checked == 0 || f.Own {
			continue
		}
		for k := range s.credits {
			c := &s.credits[k]
			if c.field == f.Name || c.field == "" && c.source == f.Source {
				f.Source, f.Checked = c.as.source, min(f.Checked, c.as.checked)
			}
		}
	}
}
