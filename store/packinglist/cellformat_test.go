package packinglist

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestFormatsBesideExcelize shows numbers in formats and wants what excelize shows.
func TestFormatsBesideExcelize(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for _, code := range []string{
		"General", "0", "0.00", "#,##0", "#,##0.00", "0000", "00-000", `000\-000`, `0.00" LB"`, `0" ft"`, `0 "pcs"`, `"AN"0`, "0.0", "#,##0.000", `#,##0" ea"`,
	} {
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
		if err != nil {
			t.Fatal(err)
		}
		for _, number := range []float64{0, 1, 12, 999, 1000, 12345, 0.25, 1680, 1234567, 3.5} {
			if err := f.SetCellValue("Sheet1", "A1", number); err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellStyle("Sheet1", "A1", "A1", style); err != nil {
				t.Fatal(err)
			}
			want, err := f.GetCellValue("Sheet1", "A1")
			if err != nil {
				t.Fatal(err)
			}
			raw, err := f.GetCellValue("Sheet1", "A1", excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			if got, v := parseFormat(code).show(raw); strings.TrimSpace(got) != strings.TrimSpace(want) || v.kind != holdsNumber {
				t.Errorf("%v as %s: got %q, %v; excelize has %q", number, code, got, v.kind, want)
			}
		}
	}
}

// TestWhatFormatsHold has formats whose number is not what a person reads
// (ISO/IEC 29500-1, 18.8.31).
func TestWhatFormatsHold(t *testing.T) {
	for code, want := range map[string]holds{
		"General": holdsNumber, "0.00": holdsNumber, `0.00" LB"`: holdsNumber, `0 "days"`: holdsNumber, `[Red]0`: holdsNumber, `0;(0)`: holdsNumber,
		"# ?/?": holdsFraction, "# ??/??": holdsFraction, `# ?/?" lb"`: holdsFraction,
		"d-mmm": holdsDate, "yyyy-mm-dd": holdsDate, "h:mm": holdsDate, "[h]:mm": holdsDate, "m/d/yy": holdsDate, "[$-409]d mmm": holdsDate,
		"0%": holdsPercent, "$0.00": holdsMoney, "[$€-407]0": holdsMoney,
		"0,": holdsOdd, ";;;": holdsOdd, "0.00E+00": holdsOdd, "[<10]0": holdsOdd, `"x"`: holdsOdd, "": holdsOdd,
	} {
		if got := parseFormat(code).kind; got != want {
			t.Errorf("%q: got %v, want %v", code, got, want)
		}
	}
	for days, want := range map[string]string{"0": "0", "0.5": "0.5", "1": "1899-12-31", "2958465": "9999-12-31", "2958466": "2958466"} {
		if got, _ := parseFormat("yyyy-mm-dd").show(days); got != want {
			t.Errorf("day %s: got %q, want %q", days, got, want)
		}
	}
	if got, v := parseFormat("yyyy-mm-dd").show("46085"); got != "2026-03-04" || v.kind != holdsDate {
		t.Errorf("day 46085: got %q, %v; want 2026-03-04, as spreadsheets have it", got, v.kind)
	}
	if got, v := parseFormat("General").show("1234567890123456"); v.kind != holdsOdd || !scientific.MatchString(got) {
		t.Errorf("a number of sixteen digits: got %q, %v; want it seen as rounded", got, v.kind)
	}
}

// FuzzShow shows numbers by any format: nothing breaks, and the number behind is kept.
func FuzzShow(f *testing.F) {
	f.Add(`#,##0.00" LB"`, "1234.5")
	f.Add(`00-000`, "12345")
	f.Add("\\\xff", "0")
	f.Add(`[$-409]m/d/yy h:mm;@`, "46085.25")
	f.Fuzz(func(t *testing.T, code, stored string) {
		shown, v := parseFormat(code).show(stored)
		if v.kind == holdsText && shown != stored {
			t.Errorf("%q as %q: got %q without a number behind", stored, code, shown)
		}
	})
}
