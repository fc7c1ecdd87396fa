package exchange

import (
	"bytes"
	"context"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// Every line of a real export is one that the schema describes. Only what the schema
// uses of JSON Schema is understood here.
func TestExportSchema(t *testing.T) {
	var schema map[string]any
	if err := json.Unmarshal(Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	shop, _ := exported(t)
	if _, _, err := shop.AddPhoto(store.OfItem("AN3-5A"), "head", phototest.JPEG(8, 8, 1)); err != nil {
		t.Fatal(err)
	}
	heaps, err := shop.StockKeys()
	if err != nil {
		t.Fatal(err)
	}
	bolts := store.StockKey{Item: "AN3-6A", Place: heaps[0].Place}
	if _, err := shop.Count(bolts, measure.Pieces(9)); err != nil { // a lot, found here
		t.Fatal(err)
	}
	if _, err := shop.Scrap(store.Transfer{StockKey: bolts, Quantity: measure.Pieces(1)}, "bent"); err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.Alert(0, "Bolts", store.Issue{Item: "AN3-6A", Printed: []string{"Q1"}, From: store.Date{Year: 2026, Month: 3, Day: 1}}); err != nil {
		t.Fatal(err)
	}
	paper, _, err := shop.AddPaper(store.Paper{Kind: store.LetterPaper, Date: store.Date{Year: 2026, Month: 3, Day: 10}, File: &store.PaperFile{Name: "letter.pdf", Bytes: 9, SHA256: strings.Repeat("0", 64)}})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.AddPaperFile(store.Paper{Kind: store.LetterPaper}, "letter.jpg", phototest.JPEG(8, 8, 2)); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.DescribeLot(1, store.LotFacts{Origin: "kit maker", Made: paper.Date, Life: &store.Life{Months: 9, Source: "the can"}, Papers: []string{paper.Name()}}); err != nil {
		t.Fatal(err)
	}
	gram := measure.Of(1, measure.Gram)
	if _, err := shop.WeighSample(heaps[0], measure.Weighing{
		Step: gram, Gross: measure.Of(100, measure.Gram), Sample: measure.Sample{Pieces: 10, Net: measure.Of(50, measure.Gram), Step: gram},
	}); err != nil {
		t.Fatal(err)
	}
	buy(t, shop)
	var lines bytes.Buffer
	if err := Export(context.Background(), shop, &lines); err != nil {
		t.Fatal(err)
	}
	export := lines.Bytes()
	hasEveryTable(t, schema, export)
	for i, line := range bytes.Split(bytes.TrimSuffix(export, []byte("\n")), []byte("\n")) {
		var v any
		if err := json.Unmarshal(line, &v); err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		if !describes(t, schema, schema, v) {
			t.Errorf("the schema does not describe line %d: %s", i+1, line)
		}
	}
	for _, bad := range []string{`{}`, `{"entry":{}}`, `{"stowright":"export","version":3,"entries":0}`, `{"record":{"table":"x","key":"","value":{}}}`} {
		var v any
		if err := json.Unmarshal([]byte(bad), &v); err != nil {
			t.Fatal(err)
		}
		if describes(t, schema, schema, v) {
			t.Errorf("the schema takes %s", bad)
		}
	}
}

// hasEveryTable says which tables of the schema an export has no record of, or not in that order.
func hasEveryTable(t *testing.T, schema map[string]any, export []byte) {
	t.Helper()
	var want, got []string
	for _, name := range schema["$defs"].(map[string]any)["table"].(map[string]any)["enum"].([]any) {
		want = append(want, name.(string))
	}
	for line := range strings.Lines(string(export)) {
		if rest, ok := strings.CutPrefix(line, recordLine+`"`); ok {
			table, _, _ := strings.Cut(rest, `"`)
			got = append(got, table)
		}
	}
	if d := cmp.Diff(want, slices.Compact(got)); d != "" {
		t.Errorf("tables of the export (-schema +export):\n%s", d)
	}
}

func describes(t *testing.T, root, s map[string]any, v any) bool {
	t.Helper()
	some := func(list any) bool {
		return slices.ContainsFunc(list.([]any), func(one any) bool { return describes(t, root, one.(map[string]any), v) })
	}
	for word, arg := range s {
		ok := true
		switch word {
		case "$ref":
			ok = describes(t, root, root["$defs"].(map[string]any)[strings.TrimPrefix(arg.(string), "#/$defs/")].(map[string]any), v)
		case "oneOf", "anyOf":
			ok = some(arg)
		case "const":
			ok = v == arg
		case "enum":
			ok = slices.Contains(arg.([]any), v)
		case "type":
			ok = isOfType(arg, v)
		case "pattern":
			text, isText := v.(string)
			ok = !isText || regexp.MustCompile(arg.(string)).MatchString(text)
		case "minimum":
			n, isNumber := v.(float64)
			ok = !isNumber || n >= arg.(float64)
		case "items":
			list, _ := v.([]any)
			ok = !slices.ContainsFunc(list, func(one any) bool { return !describes(t, root, arg.(map[string]any), one) })
		case "required":
			o, isObject := v.(map[string]any)
			ok = !isObject || !slices.ContainsFunc(arg.([]any), func(name any) bool { _, has := o[name.(string)]; return !has })
		case "properties":
			ok = propertiesFit(t, root, arg.(map[string]any), v)
		case "$schema", "title", "$defs", "format", "additionalProperties":
		default:
			t.Fatalf("the test does not understand %q of JSON Schema", word)
		}
		if !ok {
			return false
		}
	}
	return true
}

func propertiesFit(t *testing.T, root, properties map[string]any, v any) bool {
	t.Helper()
	o, _ := v.(map[string]any)
	for name, value := range o {
		p, known := properties[name]
		if !known || !describes(t, root, p.(map[string]any), value) {
			return false
		}
	}
	return true
}

func isOfType(arg, v any) bool {
	if list, several := arg.([]any); several {
		return slices.ContainsFunc(list, func(one any) bool { return isOfType(one, v) })
	}
	var is string
	switch n := v.(type) {
	case nil:
		is = "null"
	case string:
		is = "string"
	case bool:
		is = "boolean"
	case []any:
		is = "array"
	case map[string]any:
		is = "object"
	case float64:
		is = "number"
		if n == float64(int64(n)) {
			is = "integer"
		}
	}
	return is == arg
}
