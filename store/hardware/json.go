package hardware

import "stowright/store/measure"

// Document is what decoding many designations prints as JSON.
type Document struct {
	Results []Record `json:"results"`
}

// Record is one result of it, every key always present.
type Record struct {
	Input        string        `json:"input"`
	Designation  string        `json:"designation"`
	Known        bool          `json:"known"`
	Kind         Kind          `json:"kind"`
	Family       string        `json:"family"`
	Title        string        `json:"title"`
	Fields       []FieldRecord `json:"fields"`
	SupersededBy string        `json:"superseded_by"` // "" where no newer number is known
	// SupersededSource says where the newer number is from, and
	// SupersededChecked how many sources agree; "" and 0 without one.
	SupersededSource  string            `json:"superseded_source"`
	SupersededChecked int               `json:"superseded_checked"`
	LookAlikes        []LookAlikeRecord `json:"lookalikes"`
	Warnings          []string          `json:"warnings"`
	Problem           string            `json:"problem"`
	Nearest           []string          `json:"nearest"`
}

// FieldRecord is one fact.
type FieldRecord struct {
	Name    string `json:"name"`
	In      string `json:"in"` // decimal inches; "" where the fact is not a length
	Text    string `json:"text"`
	Unit    string `json:"unit"`
	Source  string `json:"source"`
	Checked int    `json:"checked"`
	Mark    string `json:"mark"` // "not cross-checked", "your own figure" or ""
}

// LookAlikeRecord is one look-alike.
type LookAlikeRecord struct {
	Designation string `json:"designation"`
	Difference  string `json:"difference"`
}

// Documented turns results into their JSON form; lists are never null.
func Documented(results ...Result) Document {
	doc := Document{Results: make([]Record, len(results))}
	for i, r := range results {
		rec := Record{
			Input: r.Input, Designation: r.Designation, Known: r.Known, Kind: r.Kind, Family: r.Family, Title: r.Title, Problem: r.Problem,
			Fields: make([]FieldRecord, len(r.Fields)), LookAlikes: make([]LookAlikeRecord, len(r.LookAlikes)),
			Warnings: append([]string{}, r.Warnings...), Nearest: append([]string{}, r.Nearest...),
		}
		if s := r.SupersededBy; s != nil {
			rec.SupersededBy, rec.SupersededSource, rec.SupersededChecked = s.Designation, s.Source, s.Checked
		}
		for k, f := range r.Fields {
			rec.Fields[k] = FieldRecord{Name: f.Name, In: inches(f.Length), Text: f.Text, Unit: f.Unit, Source: f.Source, Checked: f.Checked, Mark: f.Mark()}
		}
		for k, l := range r.LookAlikes {
			rec.LookAlikes[k] = LookAlikeRecord(l)
		}
		doc.Results[i] = rec
	}
	return doc
}

func inches(l measure.Length) string {
	if l == 0 {
		return ""
	}
	return l.Decimal()
}
