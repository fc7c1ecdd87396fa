package store

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Nothing of a table is forgotten: every field of every descriptor says something.
func TestNoPartOfATableIsForgotten(t *testing.T) {
	names, sheets := map[string]bool{}, map[string]int{}
	format := 1
	for _, table := range tables {
		v := reflect.ValueOf(table)
		for i := range v.NumField() {
			if field := v.Type().Field(i).Name; v.Field(i).IsZero() {
				t.Errorf("table %q does not say its %s", table.name, field)
			}
		}
		if names[table.name] {
			t.Errorf("there are two tables %q", table.name)
		}
		names[table.name] = true
		if table.since < format || table.since > formatVersion {
			t.Errorf("table %q is of format %d, and stands after one of format %d: a new one comes last", table.name, table.since, format)
		}
		format = max(format, table.since)
		if len(table.forms) == 0 {
			t.Errorf("table %q does not say what its records are", table.name)
		}
		for _, index := range table.indexes {
			if index.name == "" || names[index.name] || index.since < table.since || index.key == nil {
				t.Errorf("table %q has an index %+v", table.name, index)
			}
			names[index.name] = true
		}
		if s := table.sheet; s.rows != nil {
			sheets[s.file]++
		}
		if s := table.sheet; (s.file == "") == (s.none == "") || s.none != "" && s.rows != nil {
			t.Errorf("table %q: people find it in the file %q, and in none since %q", table.name, s.file, s.none)
		}
	}
	for _, table := range tables {
		if f := table.sheet.file; f != "" && sheets[f] != 1 {
			t.Errorf("table %q is in the file %s, which %d tables write", table.name, f, sheets[f])
		}
	}
}

// The schema of exports names every table and describes every field of its records.
func TestSchemaHasEveryTable(t *testing.T) {
	var schema struct {
		Defs map[string]struct {
			Enum       []string                   `json:"enum"`
			Properties map[string]json.RawMessage `json:"properties"`
			Required   []string                   `json:"required"`
			AnyOf      []struct {
				Ref string `json:"$ref"`
			} `json:"anyOf"`
		} `json:"$defs"`
	}
	text, err := os.ReadFile(filepath.Join("exchange", "export.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &schema); err != nil {
		t.Fatal(err)
	}
	var named []string
	for _, table := range tables {
		named = append(named, table.name)
		for _, f := range table.forms {
			def, ok := schema.Defs[f.schema]
			if !ok || !slices.ContainsFunc(schema.Defs["value"].AnyOf, func(a struct {
				Ref string `json:"$ref"`
			},
			) bool {
				return a.Ref == "#/$defs/"+f.schema
			}) {
				t.Errorf("the schema has no value %q for the records of %s", f.schema, table.name)
				continue
			}
			fields, required := fieldsOf(f.record)
			if d := cmp.Diff(fields, slices.Sorted(maps.Keys(def.Properties))); d != "" {
				t.Errorf("fields of %s in %s (-program +schema):\n%s", f.schema, table.name, d)
			}
			slices.Sort(def.Required)
			if d := cmp.Diff(required, append([]string{}, def.Required...)); d != "" {
				t.Errorf("required of %s in %s (-program +schema):\n%s", f.schema, table.name, d)
			}
		}
	}
	if d := cmp.Diff(named, schema.Defs["table"].Enum); d != "" {
		t.Errorf("tables (-program +schema):\n%s", d)
	}
}

// EXPORT.md has a row for every table.
func TestExportIsDescribed(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("exchange", "EXPORT.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range tables {
		if !strings.Contains(string(text), "\n| "+table.name+" |") {
			t.Errorf("EXPORT.md has no row for the table %s", table.name)
		}
	}
}

// fieldsOf are the names of the fields of a record as JSON has them, and those of them
// that are always there.
func fieldsOf(record reflect.Type) (all, always []string) {
	if record == reflect.TypeFor[Amount]() { // it writes itself
		return []string{"high", "low", "q"}, []string{"q"}
	}
	always = []string{}
	for i := range record.NumField() {
		name, options, _ := strings.Cut(record.Field(i).Tag.Get("json"), ",")
		all = append(all, name)
		if options == "" {
			always = append(always, name)
		}
	}
	slices.Sort(all)
	slices.Sort(always)
	return all, always
}

// recordCase is a record of a table with all that its descriptor says of it.
type recordCase struct {
	key, body string
	refers    []reference
	touches   touched
	indexed   []string
	unmade    string // what is left when its making is undone
	counts    Difference
	badKeys   []string // under which it must not lie
	badBody   string   // that is none of the table
}

func recordCases() map[string][]recordCase {
	const id, other, tag = "01KKNS5TM0YR8XSW9QPDQCS3Z8", "01KKNS5TM0YR8XSW9QPETCW9Q6", "SP7K3M9QXD"
	heap := StockKey{Item: "AN3-5A", Place: id, Lot: "L1", Condition: Damaged}.key()
	inHeap := []reference{{tableItems, "AN3-5A"}, {tablePlaces, id}}
	good, _ := NewTag(bytes.NewReader(bytes.Repeat([]byte{7, 11, 13, 17, 19}, 40)), TagPlace)
	return map[string][]recordCase{
		tableItems: {{
			key: "AN3-5A", body: `{"designation":"AN3-5A","unit":"ea"}`, touches: touched{item: "AN3-5A", building: Concern{ItemPart, "AN3-5A"}}, counts: Difference{Items: 1},
			badKeys: []string{"AN3-6A", ""}, badBody: `{"designation":"AN3-5A","unit":"ea","colour":"red"}`,
		}},
		tablePlaces: {
			{
				key: id, body: `{"id":"` + id + `","parent":"` + other + `","kind":"bin","name":"Bin 1","tag":"` + tag + `"}`,
				refers: []reference{{tableTags, tag}, {tablePlaces, other}}, touches: touched{place: id, building: Concern{Part: PlacesPart}}, indexed: []string{other + "\x00" + id},
				counts: Difference{Places: 1}, badKeys: []string{other}, badBody: `{"id":7}`,
			},
			{
				key: id, body: `{"id":"` + id + `","kind":"room","name":"Garage","tag":"` + tag + `"}`,
				refers: []reference{{tableTags, tag}}, touches: touched{place: id, building: Concern{Part: PlacesPart}}, indexed: []string{"\x00" + id}, counts: Difference{Places: 1},
			},
		},
		tableStock: {{
			key: heap, body: `{"q":"24 ea"}`, refers: inHeap, touches: touched{item: "AN3-5A", building: Concern{StockPart, "AN3-5A"}}, indexed: []string{id + "\x00" + heap},
			badKeys: []string{"AN3-5A", heap + "\x00"},
		}},
		tableShipments: {{
			key: id, body: `{"id":"` + id + `","file":"list.csv","fingerprint":"f","crates":[{"name":"C1","place":"` + other + `"}]}`,
			refers: []reference{{tablePlaces, other}}, touches: touched{shipment: id, building: Concern{Part: AwaitedPart}}, counts: Difference{Others: 1}, badKeys: []string{other}, badBody: `[]`,
		}},
		tableLines: {{
			key: id + "\x00000007", body: `{"shipment":"` + id + `","number":7,"crate":"C1","place":"` + other + `","designation":"AN3-5A","listed":"24 ea","status":"shipped"}`,
			refers:  []reference{{tableItems, "AN3-5A"}, {tablePlaces, other}, {tableShipments, id}},
			touches: touched{shipment: id, building: Concern{Part: AwaitedPart}}, counts: Difference{Lines: 1}, badKeys: []string{id + "\x007", other + "\x00000007"}, badBody: `{"number":"7"}`,
		}, {
			key: id + "\x00000007", body: `{"shipment":"` + id + `","number":7,"crate":"C1","place":"` + other + `","designation":"AN3-5A","listed":"24 ea","status":"shipped","match":{"lines":[{"order":3,"line":2}]}}`,
			refers:  []reference{{tableItems, "AN3-5A"}, {tablePlaces, other}, {tableShipments, id}, {tableOrderLines, "00000003\x00000002"}},
			touches: touched{shipment: id, building: Concern{Part: AwaitedPart}}, counts: Difference{Lines: 1},
		}},
		tableTags: {
			{
				key: string(good), body: `{"place":"` + id + `"}`, refers: []reference{{tablePlaces, id}},
				unmade: `{"place":"` + id + `","retired":true}`, badKeys: []string{string(good)[:9], "SP00000001", "x"}, badBody: `{"place":1}`,
			},
			{key: string(good), body: `{"place":"` + id + `","retired":true}`, unmade: `{"place":"` + id + `","retired":true}`},
		},
		tableEquivalents: {{
			key: "AN960-10\x00NAS1149F0363P", body: `{"old":"AN960-10","new":"NAS1149F0363P","source":"NAS1149"}`,
			touches: touched{item: "NAS1149F0363P", building: Concern{Part: RulesPart}}, counts: Difference{Others: 1}, badKeys: []string{"AN960-10", "NAS1149F0363P\x00AN960-10"}, badBody: `{"old":1}`,
		}},
		tableSubAssemblies: {{
			key: "SA-10", body: `{"code":"SA-10","name":"Fin","place":"` + id + `"}`, refers: []reference{{tablePlaces, id}},
			touches: touched{building: Concern{Part: SubsPart}}, counts: Difference{Others: 1}, badKeys: []string{"SA-11"}, badBody: `{"code":"SA-10","tail":true}`,
		}},
		tableRequirements: {
			{
				key: "00000031", body: `{"number":31,"sub_assembly":"SA-10","called":"AN960-10","item":"NAS1149F0363P","needed":"12 ea","replaced_by":"R-40"}`,
				refers: []reference{{tableSubAssemblies, "SA-10"}, {tableRequirements, "00000040"}}, indexed: []string{"SA-10\x0000000031", "NAS1149F0363P\x0000000031"},
				unmade:  `{"number":31,"sub_assembly":"SA-10","called":"AN960-10","item":"NAS1149F0363P","needed":"12 ea","replaced_by":"R-40","undone":true}`,
				touches: touched{building: Concern{ListPart, "SA-10"}}, counts: Difference{Others: 1}, badKeys: []string{"31", "00000030"}, badBody: `{"number":"R-31"}`,
			},
			{
				key: "00000031", body: `{"number":31,"sub_assembly":"SA-10","called":"AN3-5A","item":"AN3-5A","undone":true}`, indexed: []string{"SA-10\x0000000031", "AN3-5A\x0000000031"},
				unmade: `{"number":31,"sub_assembly":"SA-10","called":"AN3-5A","item":"AN3-5A","undone":true}`, touches: touched{building: Concern{ListPart, "SA-10"}}, counts: Difference{Others: 1},
			},
		},
		tableCounted: {{
			key: heap, body: `{"at":"2026-03-14T09:00:00Z","hand":"First"}`, refers: inHeap, badKeys: []string{"AN3-5A"}, badBody: `{"at":"yesterday"}`,
		}},
		tableSettings: {
			{key: "shop", body: `{"title":"Q"}`, counts: Difference{Others: 1}, badKeys: []string{"house"}, badBody: `{"designation":"AN7-10"}`},
			{
				key: "figure\x00AN7-10", body: `{"designation":"AN7-10","source":"printed sheet","figures":[]}`, touches: touched{figures: "AN7-10", building: Concern{Part: FiguresPart}},
				counts: Difference{Others: 1}, badKeys: []string{"figure\x00AN7-11", "shop"}, badBody: `{"title":"Q"}`,
			},
		},
		tableFitted: {
			{
				key: "SA-10\x00AN3-5A\x00L1", body: `{"q":"6 ea"}`, refers: []reference{{tableItems, "AN3-5A"}, {tableSubAssemblies, "SA-10"}},
				touches: touched{item: "AN3-5A", building: Concern{ListPart, "SA-10"}}, counts: Difference{Others: 1}, badKeys: []string{"SA-10", heap + "\x00"},
			},
			{
				key: "SA-10\x00R-31\x00AN3-5A\x00L1", body: `{"q":"6 ea"}`, refers: []reference{{tableItems, "AN3-5A"}, {tableSubAssemblies, "SA-10"}, {tableRequirements, "00000031"}},
				touches: touched{item: "AN3-5A", building: Concern{ListPart, "SA-10"}}, counts: Difference{Others: 1},
			},
		},
		tableFits: {
			{
				key: "00000007", body: `{"number":7,"sub_assembly":"SA-10","requirement":"R-31","item":"AN3-12","amount":{"q":"4 ea"},"decision":"D-1","at":"2026-03-18T09:00:00Z","hand":"First"}`,
				refers:  []reference{{tableSubAssemblies, "SA-10"}, {tableItems, "AN3-12"}, {tableRequirements, "00000031"}, {tableDecisions, "00000001"}},
				indexed: []string{"SA-10\x0000000007"}, counts: Difference{Others: 1}, badKeys: []string{"7"}, badBody: `{"number":"7"}`,
				unmade: `{"number":7,"sub_assembly":"SA-10","requirement":"R-31","item":"AN3-12","amount":{"q":"4 ea"},"decision":"D-1","at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
			},
			{
				key: "00000008", body: `{"number":8,"sub_assembly":"SA-10","item":"AN3-12","amount":{"q":"-4 ea"},"at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`, indexed: []string{"SA-10\x0000000008"},
				unmade: `{"number":8,"sub_assembly":"SA-10","item":"AN3-12","amount":{"q":"-4 ea"},"at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`, counts: Difference{Others: 1},
			},
		},
		tableScrapped: {
			{
				key: "00000005", body: `{"number":5,"item":"AN3-5A","amount":{"q":"1 ea"},"place":"` + id + `","reason":"lost","sub_assembly":"SA-10","at":"2026-03-18T09:00:00Z","hand":"First"}`,
				refers: []reference{{tableItems, "AN3-5A"}, {tablePlaces, id}, {tableSubAssemblies, "SA-10"}}, counts: Difference{Others: 1}, badKeys: []string{"5"}, badBody: `{"number":"5"}`,
				unmade: `{"number":5,"item":"AN3-5A","amount":{"q":"1 ea"},"place":"` + id + `","reason":"lost","sub_assembly":"SA-10","at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
			},
			{
				key: "00000006", body: `{"number":6,"item":"AN3-5A","amount":{"q":"1 ea"},"place":"` + id + `","reason":"other","words":"bent","at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`, counts: Difference{Others: 1},
				unmade: `{"number":6,"item":"AN3-5A","amount":{"q":"1 ea"},"place":"` + id + `","reason":"other","words":"bent","at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
			},
		},
		tableNotes: {
			{
				key: "00000004", body: `{"number":4,"kind":"torque","sub_assembly":"SA-10","requirement":"R-31","text":"25 in-lb","day":"2026-03-18","at":"2026-03-18T09:00:00Z","hand":"First"}`,
				refers:  []reference{{tableSubAssemblies, "SA-10"}, {tableRequirements, "00000031"}},
				indexed: []string{"SA-10\x0000000004"}, counts: Difference{Others: 1}, badKeys: []string{"4"}, badBody: `{"number":"4"}`,
				unmade: `{"number":4,"kind":"torque","sub_assembly":"SA-10","requirement":"R-31","text":"25 in-lb","day":"2026-03-18","at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
			},
			{
				key: "00000005", body: `{"number":5,"kind":"look","sub_assembly":"SA-10","second":"Partner","day":"2026-03-18","at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
				indexed: []string{"SA-10\x0000000005"}, counts: Difference{Others: 1},
				unmade: `{"number":5,"kind":"look","sub_assembly":"SA-10","second":"Partner","day":"2026-03-18","at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
			},
		},
		tableAircraft: {{
			key: "Q", body: `{"name":"Q","hours":[{"day":"2026-03-18","hours":120,"at":"2026-03-18T09:00:00Z","hand":"First"}]}`,
			touches: touched{building: Concern{Part: RulesPart}}, counts: Difference{Others: 1}, badKeys: []string{"T"}, badBody: `{"name":7}`,
		}},
		tablePositions: {
			{
				key: "Q\x00Tailplane / left / hinge 2", body: `{"name":"Tailplane / left / hinge 2","aircraft":"Q","access":"panel 3"}`,
				refers: []reference{{tableAircraft, "Q"}, {tablePositions, "Q\x00Tailplane / left"}}, counts: Difference{Others: 1},
				badKeys: []string{"Tailplane / left / hinge 2", "T\x00Tailplane / left / hinge 2"}, badBody: `{"name":"Tailplane","colour":"red"}`,
			},
			{key: "\x00Tailplane", body: `{"name":"Tailplane"}`, counts: Difference{Others: 1}},
		},
		tableComponents: {
			{
				key: "00000002", body: `{"number":2,"item":"OQ-PROP","serial":"0007","lot":"L-3","since_new":120,"known":"log book","stretches":[{"aircraft":"Q","on":{"day":"2027-05-01","hours":0,"at":"2027-05-01T09:00:00Z","hand":"First"},"off":{"day":"2028-03-01","hours":1124,"at":"2028-03-01T09:00:00Z","hand":"First"},"place":"` + id + `"}]}`,
				refers: []reference{{tableLots, "00000003"}, {tableAircraft, "Q"}, {tablePlaces, id}}, counts: Difference{Others: 1}, badKeys: []string{"2", "CO-2"},
				badBody: `{"number":2,"item":"OQ-PROP","serial":"0007","stretches":[{"aircraft":"Q","on":{"day":"2027-05-01","hours":120,"at":"2027-05-01T09:00:00Z","hand":"First"},"off":{"day":"2028-03-01","hours":119,"at":"2028-03-01T09:00:00Z","hand":"First"}}]}`,
				unmade:  `{"number":2,"item":"OQ-PROP","serial":"0007","lot":"L-3","since_new":120,"known":"log book","stretches":[{"aircraft":"Q","on":{"day":"2027-05-01","hours":0,"at":"2027-05-01T09:00:00Z","hand":"First"},"off":{"day":"2028-03-01","hours":1124,"at":"2028-03-01T09:00:00Z","hand":"First"},"place":"` + id + `"}],"undone":true}`,
			},
			{
				key: "00000003", body: `{"number":3,"item":"OQ-PROP","serial":"0008","lot":"L-3","undone":true}`, counts: Difference{Others: 1},
				unmade: `{"number":3,"item":"OQ-PROP","serial":"0008","lot":"L-3","undone":true}`,
			},
		},
		tableDues: {
			{
				key: "00000003", body: `{"number":3,"what":"Inspection","aircraft":"Q","rule":"12 calendar months","months":12,"job":"SA-90","done":[{"day":"2028-05-14","by":"Partner","at":"2028-05-14T09:00:00Z","hand":"First"}]}`,
				refers: []reference{{tableAircraft, "Q"}, {tableSubAssemblies, "SA-90"}}, counts: Difference{Others: 1}, badKeys: []string{"3", "DU-3"}, badBody: `{"number":"3"}`,
				unmade: `{"number":3,"what":"Inspection","aircraft":"Q","rule":"12 calendar months","months":12,"job":"SA-90","done":[{"day":"2028-05-14","by":"Partner","at":"2028-05-14T09:00:00Z","hand":"First"}],"undone":true}`,
			},
			{
				key: "00000004", body: `{"number":4,"what":"Overhaul","component":"CO-2","rule":"at 500 h","at":5000}`, refers: []reference{{tableComponents, "00000002"}}, counts: Difference{Others: 1},
				unmade: `{"number":4,"what":"Overhaul","component":"CO-2","rule":"at 500 h","at":5000,"undone":true}`,
			},
			{
				key: "00000005", body: `{"number":5,"what":"Overhaul","component":"CO-2","rule":"at 500 h","at":5000,"undone":true}`, counts: Difference{Others: 1},
				unmade: `{"number":5,"what":"Overhaul","component":"CO-2","rule":"at 500 h","at":5000,"undone":true}`,
			},
		},
		tablePlanChanges: {
			{
				key: "00000002", body: `{"number":2,"title":"Bulletin 4","day":"2026-03-18","added":["R-40"],"ended":["R-31"],"replaced":[{"old":"R-32","new":"R-41"}],"at":"2026-03-18T09:00:00Z","hand":"First"}`,
				refers: []reference{{tableRequirements, "00000040"}, {tableRequirements, "00000031"}, {tableRequirements, "00000032"}, {tableRequirements, "00000041"}},
				counts: Difference{Others: 1}, badKeys: []string{"2"}, badBody: `{"number":"2"}`,
				unmade: `{"number":2,"title":"Bulletin 4","day":"2026-03-18","added":["R-40"],"ended":["R-31"],"replaced":[{"old":"R-32","new":"R-41"}],"at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
			},
			{
				key: "00000003", body: `{"number":3,"title":"Bulletin 5","day":"2026-03-18","added":["R-50"],"at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`, counts: Difference{Others: 1},
				unmade: `{"number":3,"title":"Bulletin 5","day":"2026-03-18","added":["R-50"],"at":"2026-03-18T09:00:00Z","hand":"First","undone":true}`,
			},
		},
		tableDecisions: {
			{
				key: "00000001", body: `{"number":1,"kind":"other item","requirements":["R-31"],"item":"AN3-12","who":"kit maker","papers":["PA-3"],"day":"2026-04-08","at":"2026-04-08T09:00:00Z","hand":"First","withdrawn":"2026-05-01","withdrawn_by":"D-2"}`,
				refers: []reference{{tableRequirements, "00000031"}, {tablePapers, "00000003"}, {tableDecisions, "00000002"}}, touches: touched{building: Concern{Part: RulesPart}}, counts: Difference{Others: 1}, badKeys: []string{"1"}, badBody: `{"number":"1"}`,
				unmade: `{"number":1,"kind":"other item","requirements":["R-31"],"item":"AN3-12","who":"kit maker","papers":["PA-3"],"day":"2026-04-08","at":"2026-04-08T09:00:00Z","hand":"First","withdrawn":"2026-05-01","withdrawn_by":"D-2","undone":true}`,
			},
			{
				key: "00000002", body: `{"number":2,"kind":"withdrawal","who":"kit maker","day":"2026-05-01","at":"2026-05-01T09:00:00Z","hand":"First","withdraws":"D-1","undone":true}`, touches: touched{building: Concern{Part: RulesPart}}, counts: Difference{Others: 1},
				unmade: `{"number":2,"kind":"withdrawal","who":"kit maker","day":"2026-05-01","at":"2026-05-01T09:00:00Z","hand":"First","withdraws":"D-1","undone":true}`,
			},
		},
		tableLots: {
			{
				key: "00000017", body: `{"number":17,"item":"AN3-5A","kind":"mix","printed":"Q7714","receipt":{"shipment":"` + id + `","line":7},"came":{"q":"24 ea"},"parents":[{"lot":"L-3","amount":{"q":"4 ea"}},{"lot":"Q1","amount":{"q":"4 ea"}}],"facts":{"origin":"kit maker","papers":["PA-3"]}}`,
				refers:  []reference{{tableItems, "AN3-5A"}, {tableLines, id + "\x00000007"}, {tableLots, "00000003"}, {tablePapers, "00000003"}},
				touches: touched{item: "AN3-5A", building: Concern{StockPart, "AN3-5A"}}, indexed: []string{"AN3-5A\x0000000017"},
				unmade: `{"number":17,"item":"AN3-5A","kind":"mix","printed":"Q7714","receipt":{"shipment":"` + id + `","line":7},"came":{"q":"24 ea"},"parents":[{"lot":"L-3","amount":{"q":"4 ea"}},{"lot":"Q1","amount":{"q":"4 ea"}}],"facts":{"origin":"kit maker","papers":["PA-3"]},"undone":true}`,
				counts: Difference{Others: 1}, badKeys: []string{"17", "L-17", "00000018"}, badBody: `{"number":-1}`,
			},
			{
				key: "00000017", body: `{"number":17,"item":"AN3-5A","came":{"q":"24 ea"},"undone":true}`, touches: touched{item: "AN3-5A", building: Concern{StockPart, "AN3-5A"}}, indexed: []string{"AN3-5A\x0000000017"},
				unmade: `{"number":17,"item":"AN3-5A","came":{"q":"24 ea"},"undone":true}`, counts: Difference{Others: 1},
			},
		},
		tablePapers: {{
			key: "00000003", body: `{"number":3,"kind":"letter","kept":"binder 2"}`, unmade: `{"number":3,"kind":"letter","kept":"binder 2","undone":true}`,
			counts: Difference{Others: 1}, badKeys: []string{"3", "00000004"}, badBody: `{"number":3,"kind":"letter","colour":"red"}`,
		}},
		tableAlerts: {{
			key: "00000003", body: `{"number":3,"title":"Nuts","issues":[{"day":"2026-05-01","item":"MS21042-3","paper":"PA-3","hand":"First"}]}`,
			refers: []reference{{tablePapers, "00000003"}}, unmade: `{"number":3,"title":"Nuts","issues":[{"day":"2026-05-01","item":"MS21042-3","paper":"PA-3","hand":"First"}],"undone":true}`,
			counts: Difference{Others: 1}, badKeys: []string{"3", "A-3"}, badBody: `{"number":3,"colour":"red"}`,
		}},
		tableGone: {{
			key: "AN3-5A\x00L-17\x00scrapped", body: `{"q":"6 ea"}`, refers: []reference{{tableItems, "AN3-5A"}, {tableLots, "00000017"}},
			touches: touched{item: "AN3-5A", building: Concern{Part: WastePart}}, badKeys: []string{"AN3-5A\x00L-17", "AN3-5A\x00L-17\x00eaten"},
		}},
		tablePhotos: {
			photoCase("item\x00AN3-5A\x000000000017", `{"item":"AN3-5A"}`, reference{tableItems, "AN3-5A"}, OfItem("AN3-5A")),
			photoCase("place\x00"+id+"\x000000000017", `{"place":"`+id+`"}`, reference{tablePlaces, id}, OfPlace(id)),
			photoCase("position\x00Q\x00Tailplane / left\x000000000017", `{"position":"Tailplane / left","aircraft":"Q"}`, reference{tablePositions, "Q\x00Tailplane / left"}, OfPosition(Position{Name: "Tailplane / left", Aircraft: "Q"})),
			photoCase("line\x00"+id+"\x00000007\x000000000017", `{"shipment":"`+id+`","line":7}`, reference{tableLines, id + "\x00000007"}, OfLine(id, 7)),
		},
		tableSuppliers: {{
			key: "Bolt shop", body: `{"name":"Bolt shop","minimum":"20.00 USD","currency":"USD"}`, touches: touched{building: Concern{Part: SupplyPart}}, counts: Difference{Others: 1},
			badKeys: []string{"Nut shop"}, badBody: `{"name":"Bolt shop","minimum":"20 ducats"}`,
		}},
		tableSupply: {{
			key: "AN3-5A", body: `{"item":"AN3-5A","supplier":"Bolt shop","pack":10,"price":"0.45 USD","priced":"2026-03-14","spare_percent":10}`,
			refers: []reference{{tableSuppliers, "Bolt shop"}}, touches: touched{building: Concern{Part: SupplyPart}}, counts: Difference{Others: 1}, badKeys: []string{"AN3-6A"}, badBody: `{"item":"AN3-5A","price":0.45}`,
		}},
		tableOrders: {
			{
				key: "00000003", body: `{"number":3,"supplier":"Bolt shop","ordered":"2026-03-14","hand":"First"}`, refers: []reference{{tableSuppliers, "Bolt shop"}},
				touches: touched{building: Concern{Part: AwaitedPart}}, counts: Difference{Others: 1}, unmade: `{"number":3,"supplier":"Bolt shop","ordered":"2026-03-14","hand":"First","undone":true}`,
				badKeys: []string{"00000004", "3"}, badBody: `{"number":"O-3"}`,
			},
			{
				key: "00000003", body: `{"number":3,"supplier":"Bolt shop","ordered":"2026-03-14","hand":"First","undone":true}`,
				touches: touched{building: Concern{Part: AwaitedPart}}, counts: Difference{Others: 1}, unmade: `{"number":3,"supplier":"Bolt shop","ordered":"2026-03-14","hand":"First","undone":true}`,
			},
		},
		tableOrderLines: {{
			key: "00000003\x00000002", body: `{"order":3,"number":2,"item":"AN3-5A","quantity":"10 ea"}`,
			refers: []reference{{tableOrders, "00000003"}, {tableItems, "AN3-5A"}}, touches: touched{building: Concern{Part: AwaitedPart}}, counts: Difference{Others: 1},
			badKeys: []string{"00000003", "00000004\x00000002"}, badBody: `{"order":3,"number":2,"quantity":"ten"}`,
		}},
	}
}

func photoCase(key, of string, refers reference, subject Subject) recordCase {
	return recordCase{
		key: key, body: `{"number":17,"of":` + of + `,"at":"2026-03-14T09:00:00Z","hand":"First","width":8,"height":6,"bytes":100,"sha256":"` + strings.Repeat("0", 64) + `"}`,
		refers: []reference{refers}, touches: touched{photos: subject}, counts: Difference{Photos: 1}, badKeys: []string{key + "0", "x"}, badBody: `{"number":-1}`,
	}
}

// What each descriptor says of a record. A table that has no case here fails.
func TestTables(t *testing.T) {
	cases := recordCases()
	for _, table := range tables {
		if len(cases[table.name]) < len(table.forms) {
			t.Errorf("table %q has %d cases, and its records have %d forms", table.name, len(cases[table.name]), len(table.forms))
		}
		for _, c := range cases[table.name] {
			t.Run(table.name+"/"+strings.ReplaceAll(c.key, "\x00", " "), func(t *testing.T) { c.check(t, table) })
		}
	}
}

func (c recordCase) check(t *testing.T, table table) {
	body := []byte(c.body)
	change := Change{Table: table.name, Key: c.key, After: body}
	if table.by == adding {
		a, err := decode[Amount](body)
		if err != nil {
			t.Fatal(err)
		}
		change.After, change.Delta = nil, &a
	}
	if err := validChange(change); err != nil {
		t.Errorf("refused: %v", err)
	}
	for _, bad := range c.badKeys {
		wrong := change
		wrong.Key = bad
		if err := validChange(wrong); err == nil {
			t.Errorf("taken under the key %q", bad)
		}
	}
	if c.badBody != "" {
		if err := table.valid(c.key, []byte(c.badBody)); err == nil {
			t.Errorf("%s is taken for a record", c.badBody)
		}
	}
	refs, err := table.refers(c.key, body)
	if err != nil || !slices.Equal(refs, c.refers) {
		t.Errorf("refers to %q, %v; want %q", refs, err, c.refers)
	}
	for _, side := range []Change{change, {Table: table.name, Key: c.key, Before: change.After, Delta: change.Delta}} {
		if is, err := table.touches(side); err != nil || is != c.touches {
			t.Errorf("touches %+v, %v; want %+v", is, err, c.touches)
		}
	}
	var indexed []string
	for _, index := range table.indexes {
		key, err := index.key(c.key, body)
		if err != nil {
			t.Error(err)
		}
		if index.fixed {
			if bare, err := index.key(c.key, nil); err != nil || bare != key {
				t.Errorf("the index %s is said to follow from the key, which alone gives %q, %v", index.name, bare, err)
			}
		}
		indexed = append(indexed, key)
	}
	if !slices.Equal(indexed, c.indexed) {
		t.Errorf("indexed under %q, want %q", indexed, c.indexed)
	}
	if left, err := table.unmade(body); err != nil || string(left) != c.unmade {
		t.Errorf("undone leaves %s, %v; want %s", left, err, c.unmade)
	}
	c.checkDifference(t, change)
}

// checkDifference has the record appear in one of two states, and in both.
func (c recordCase) checkDifference(t *testing.T, change Change) {
	memory := newMemory()
	once := []Entry{{Changes: []Change{change}}}
	d, err := differ(once, nil, memory)
	d.Lost = nil
	heaps := d.Stock
	d.Stock = nil
	if diff := cmp.Diff(c.counts, d); err != nil || diff != "" {
		t.Errorf("lost, it counts (-want +got):\n%s%v", diff, err)
	}
	if (len(heaps) == 1) != (change.Table == tableStock) {
		t.Errorf("lost, it lists the heaps %v", heaps)
	}
	d, err = differ(once, once, memory)
	d.Lost, d.Gained = nil, nil
	if diff := cmp.Diff(Difference{}, d); err != nil || diff != "" {
		t.Errorf("lost and gained, it counts (-want +got):\n%s%v", diff, err)
	}
}
