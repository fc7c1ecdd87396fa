package printing

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"stowright/labels"
	"stowright/store/fault"
)

// programs puts programs of the names into a folder that is the whole path; each writes its
// arguments, one a line, and what it reads beside itself, and then does what is said.
func programs(t *testing.T, does map[string]string) (folder string) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the programs are those of Linux and macOS")
	}
	folder = t.TempDir()
	for name, what := range does {
		script := "#!/bin/sh\nprintf '%s\\n' \"$@\" > '" + folder + "/" + name + ".args'\n/bin/cat > '" + folder + "/" + name + ".in'\n" + what + "\n"
		if err := os.WriteFile(filepath.Join(folder, name), []byte(script), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("PATH", folder)
	return folder
}

func read(t *testing.T, folder, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

const options = `ColorModel/Color Mode: *Gray RGB
PageSize/Media Size: Letter *A4 4x6 w162h90 62x29mm
`

// A job goes to lp as a list of arguments, at actual size, with the paper that the printer
// has, and the PDF as its input: nothing in a name or a title is taken for a command.
func TestPrint(t *testing.T) {
	folder := programs(t, map[string]string{"lpoptions": "echo '" + options + "'", "lp": ""})
	job := Job{Printer: "lab'el;touch${IFS}x", Title: "A-12 $(touch y)\n", Paper: Paper{W: 210, H: 297}, PDF: []byte("%PDF-1.6\x00\xff")}
	paper, err := Here().Print(t.Context(), job)
	if err != nil || paper != "A4" {
		t.Fatalf("paper %q, %v", paper, err)
	}
	want := "-d\nlab'el;touch${IFS}x\n-t\nStowright: A-12 $(touch y) \n-o\nmedia=A4\n-o\nprint-scaling=none\n-o\nfit-to-page=false\n-o\nscaling=100\n"
	if got := read(t, folder, "lp.args"); got != want {
		t.Errorf("lp was given %q, want %q", got, want)
	}
	if got := read(t, folder, "lp.in"); got != string(job.PDF) {
		t.Errorf("lp was given the PDF %q", got)
	}
	if got, want := read(t, folder, "lpoptions.args"), "-p\n"+job.Printer+"\n-l\n"; got != want {
		t.Errorf("lpoptions was given %q, want %q", got, want)
	}
}

// What is refused, before anything is printed.
func TestPrintRefuses(t *testing.T) {
	for _, row := range []struct {
		name  string
		does  map[string]string
		job   Job
		want  string
		tried bool
	}{
		{"other paper", map[string]string{"lpoptions": "echo '" + options + "'", "lp": ""}, Job{Printer: "p", Paper: Paper{W: 100, H: 62}}, "p has no paper of 100 x 62 mm, only A4, Letter, w162h90, 62x29mm: choose", false},
		{"an option for a name", map[string]string{"lpoptions": "", "lp": ""}, Job{Printer: "-o"}, `"-o" is no printer`, false},
		{"a name of two words", map[string]string{"lpoptions": "", "lp": ""}, Job{Printer: "a b"}, `"a b" is no printer`, false},
		{"no such printer", map[string]string{"lpoptions": "echo unknown >&2; exit 1", "lp": ""}, Job{Printer: "p"}, "p does not say which papers it has", false},
		{"no lp", map[string]string{"lpoptions": ""}, Job{Printer: "p", Paper: Paper{W: 210, H: 297}}, "This computer has no program to print with", false},
		{"lp fails", map[string]string{"lpoptions": "", "lp": "echo off >&2; exit 1"}, Job{Printer: "p", Paper: Paper{W: 210, H: 297}}, "p did not take the labels", true},
	} {
		t.Run(row.name, func(t *testing.T) {
			folder := programs(t, row.does)
			_, err := Here().Print(t.Context(), row.job)
			var is *fault.Error
			if !errors.As(err, &is) || !strings.HasPrefix(is.Message, row.want) {
				t.Errorf("%v, want %q", err, row.want)
			}
			if _, err := os.Stat(filepath.Join(folder, "lp.args")); (err == nil) != row.tried {
				t.Errorf("lp was called: %v, want %v", err == nil, row.tried)
			}
		})
	}
}

// Printers are listed by their names; a system without CUPS has none, and one that cannot
// say is an error.
func TestPrinters(t *testing.T) {
	programs(t, map[string]string{"lpstat": "printf 'Garage\\n-evil\\n\\nLabel_62\\n'"})
	if names, err := Here().Printers(t.Context()); err != nil || !slices.Equal(names, []string{"Garage", "Label_62"}) {
		t.Errorf("printers %q, %v", names, err)
	}
	programs(t, map[string]string{"lpstat": "exit 1"})
	if names, err := Here().Printers(t.Context()); err == nil || len(names) > 0 {
		t.Errorf("lpstat fails: %q, %v", names, err)
	}
	programs(t, nil)
	if names, err := Here().Printers(t.Context()); err != nil || len(names) > 0 {
		t.Errorf("no CUPS: %q, %v", names, err)
	}
}

// A file is opened by the program that each system has for it.
func TestShow(t *testing.T) {
	for system, want := range map[string]struct{ program, args string }{
		"linux": {"xdg-open", "a b.pdf\n"}, "darwin": {"open", "a b.pdf\n"}, "windows": {"rundll32", "url.dll,FileProtocolHandler\na b.pdf\n"},
	} {
		folder := programs(t, map[string]string{want.program: ""})
		s := Here()
		s.OS = system
		if err := s.Show(t.Context(), "a b.pdf"); err != nil {
			t.Errorf("%s: %v", system, err)
		} else if got := read(t, folder, want.program+".args"); got != want.args {
			t.Errorf("%s: %q, want %q", system, got, want.args)
		}
	}
	programs(t, nil)
	if err := Here().Show(t.Context(), "a.pdf"); err == nil || !strings.Contains(err.Error(), "print it at actual size") {
		t.Errorf("no viewer: %v", err)
	}
}

// Which of a printer's papers a stock goes to: by their sizes, whatever they are called, and
// rolls either way.
func TestPaper(t *testing.T) {
	stock := func(name string) Paper {
		s, err := labels.StockNamed(name)
		if err != nil {
			t.Fatal(err)
		}
		return PaperOf(s, labels.Page{W: s.PageW, H: s.PageH})
	}
	for _, row := range []struct {
		name    string
		paper   Paper
		options string
		want    string
	}{
		{"by name", stock("letter-3x10"), "PageSize/Media Size: A4 *Letter", "Letter"},
		{"by size", stock("a4-3x7"), "media/Media: iso_a4_210x297mm", "iso_a4_210x297mm"},
		{"in inches", stock("letter-3x10"), "PageSize/x: na_letter_8.5x11in", "na_letter_8.5x11in"},
		{"in points", stock("letter-3x10"), "PageSize/x: w612h792", "w612h792"},
		{"no name twice, the set one first", stock("a4-3x7"), "PageSize/x: iso_a4_210x297mm *A4", "A4"},
		{"a roll, turned", stock("roll-62-turned"), "PageSize/x: 62x29mm 62x30mm", "62x30mm"},
		{"a roll, the other way", stock("crate-100x62"), "PageSize/x: 62x100mm", "62x100mm"},
		{"a sheet, not the other way", stock("a4-3x7"), "PageSize/x: 297x210mm", ""},
		{"any size", stock("roll-62-turned"), "PageSize/x: A4 Custom.WIDTHxHEIGHT", "Custom.62x30mm"},
		{"any size, along the roll", stock("crate-100x62"), "PageSize/x: A4 Custom.WIDTHxHEIGHT", "Custom.62x100mm"},
		{"a size of one's own", stock("57 x 32"), "PageSize/x: A4 Custom.WIDTHxHEIGHT", "Custom.57x32mm"},
		{"no papers are named", stock("a4-3x7"), "ColorModel/x: Gray", "Custom.210x297mm"},
		{"names without sizes", stock("a4-3x7"), "PageSize/x: Plain Photo", "Custom.210x297mm"},
		{"half a millimetre off", Paper{W: 210, H: 297}, "PageSize/x: 210.5x297mm", "210.5x297mm"},
		{"more than that", Paper{W: 210, H: 297}, "PageSize/x: 210.6x297mm", ""},
	} {
		got, err := row.paper.of("p", row.options)
		if got != row.want || (err == nil) != (row.want != "") {
			t.Errorf("%s: %q, %v; want %q", row.name, got, err, row.want)
		}
	}
}
