package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The limits of STYLE.md (8 to 10), which hold for all code but tests.
const (
	mostFileLines     = 500
	mostFunctionLines = 80
	mostParameters    = 5
	mostPaths         = 15 // cyclomatic complexity: 1, and 1 for each branch, case and && or ||
)

// exceptions are what was over a limit when the limits became a test, with the figure that
// it had. A figure may only become less: whoever brings one down writes the new one here,
// or takes the line away.
var exceptions = map[string]int{
	"parameters of app/copies/view_rescue.go NewRescue":                 6,
	"parameters of app/desktop/window.go NewWindow":                     6,
	"parameters of labels/scan/finder.go Reader.across":                 6,
	"parameters of labels/scan/frames/sets.go Wall":                     6,
	"parameters of labels/scan/frames/sets.go single":                   6,
	"parameters of labels/scan/frames/sheet.go Photograph":              6,
	"paths of app/unpack/viewlist.go listView.key":                      20,
	"paths of store/packinglist/cellformat.go formatParser.letter":      19,
	"paths of store/packinglist/cellformat.go formatParser.piece":       18,
	"paths of store/packinglist/columns.go Guess":                       17,
	"paths of store/packinglist/ods.go odsReader.token":                 32,
	"paths of store/packinglist/sheetread.go sheetReader.row":           16,
	"paths of store/packinglist/xlsxsheet.go xlsxReader.token":          21,
	"paths of app/session/card.go Reader.PlaceCard":                     17,
	"paths of labels/scan/frames/sets.go harden":                        16,
	"paths of labels/scan/partial.go Reader.readPartial":                17,
	"paths of labels/scan/shape.go Reader.shapeFinder":                  17,
	"paths of labels/stock.go Stock.Check":                              19,
	"paths of store/build/expression.go expressionParser.split":         31,
	"paths of store/build/expression_factor.go expressionParser.factor": 17,
	"paths of store/build/expression_factor.go expressionParser.fits":   24,
	"paths of store/build/sanity_rules.go sheet.pairs":                  23,
	"paths of store/build/joint.go sortOut":                             16,
	"paths of store/disk/pages.go pageWalk.walk":                        19,
	"paths of store/receive.go checkFinding":                            20,
	"paths of store/receive.go writer.receive":                          17,
	"paths of store/search/lexicon.go lexicon.near":                     16,
	"paths of store/search/searchtest/typing.go typist.ask":             18,
}

// overLimits are the figures of a file that are over a limit, as "lines of store/a.go" or
// "paths of store/a.go Shop.Verb".
func overLimits(path string, src []byte) (map[string]int, error) {
	files := token.NewFileSet()
	f, err := parser.ParseFile(files, path, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	over := map[string]int{}
	note := func(what, of string, figure, most int) {
		if figure > most {
			over[what+" of "+path+of] = figure
		}
	}
	note("lines", "", bytes.Count(src, []byte("\n")), mostFileLines)
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Body == nil {
			continue
		}
		name := " " + receiver(fn) + fn.Name.Name
		note("lines", name, files.Position(fn.End()).Line-files.Position(fn.Pos()).Line+1, mostFunctionLines)
		note("parameters", name, fn.Type.Params.NumFields(), mostParameters)
		note("paths", name, paths(fn.Body), mostPaths)
	}
	return over, nil
}

func receiver(fn *ast.FuncDecl) string {
	if fn.Recv == nil {
		return ""
	}
	t := fn.Recv.List[0].Type
	if star, ok := t.(*ast.StarExpr); ok {
		t = star.X
	}
	if generic, ok := t.(*ast.IndexExpr); ok {
		t = generic.X
	}
	return fmt.Sprint(t) + "."
}

// paths is the cyclomatic complexity of a function (McCabe, 1976): that of a function in it
// counts with it.
func paths(body ast.Node) int {
	n := 1
	ast.Inspect(body, func(node ast.Node) bool {
		switch node := node.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			n++
		case *ast.CaseClause:
			if node.List != nil {
				n++
			}
		case *ast.CommClause:
			if node.Comm != nil {
				n++
			}
		case *ast.BinaryExpr:
			if node.Op == token.LAND || node.Op == token.LOR {
				n++
			}
		}
		return true
	})
	return n
}

func TestLimits(t *testing.T) {
	over := map[string]int{}
	for _, f := range sourceFiles(t) {
		if f.test() {
			continue
		}
		src, err := os.ReadFile(filepath.Join(top, filepath.FromSlash(f.path)))
		if err != nil {
			t.Fatal(err)
		}
		found, err := overLimits(f.path, src)
		if err != nil {
			t.Fatal(err)
		}
		maps.Copy(over, found)
	}
	for _, what := range slices.Sorted(maps.Keys(over)) {
		switch known, ok := exceptions[what]; {
		case !ok:
			t.Errorf("%s: %d, over the limit: take it apart", what, over[what])
		case over[what] > known:
			t.Errorf("%s: %d, more than the %d that it was: take it apart", what, over[what], known)
		case over[what] < known:
			t.Errorf("%s: %d, and the list says %d: write the smaller figure there", what, over[what], known)
		}
	}
	for _, what := range slices.Sorted(maps.Keys(exceptions)) {
		if _, ok := over[what]; !ok {
			t.Errorf("%s is within the limit: take it off the list", what)
		}
	}
}

// The figures are counted as they should be.
func TestLimitsAreCounted(t *testing.T) {
	long := "package a\n\nfunc (s *T[K]) f(a, b int, c, d, e, f string) {\n" + strings.Repeat("\tg()\n", 90) + "}\n" + strings.Repeat("\n", 420)
	branches := "package a\n\nfunc f() {\n\tfor a && b || c {\n\t\tif x {\n\t\t}\n\t}\n\tswitch {\n\tcase 1, 2:\n\tdefault:\n\t}\n\tgo func() {\n\t\tfor range x {\n\t\t}\n\t\tselect {\n\t\tcase <-c:\n\t\tdefault:\n\t\t}\n\t}()\n}\n"
	got, err := overLimits("a.go", []byte(long))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]int{"lines of a.go": 514, "lines of a.go T.f": 92, "parameters of a.go T.f": 6}
	if !maps.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	f, err := parser.ParseFile(token.NewFileSet(), "a.go", branches, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := paths(f.Decls[0].(*ast.FuncDecl).Body); got != 8 { // 1, for, &&, ||, if, case, range, <-c
		t.Errorf("%d paths, want 8", got)
	}
}

// Every module that the program is built on directly is named in DEVELOPERS.md, with its
// reason, and none that it is not.
func TestDependenciesAreNamed(t *testing.T) {
	read := func(name string) string {
		t.Helper()
		data, err := os.ReadFile(filepath.Join(top, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	_, section, ok := strings.Cut(read("DEVELOPERS.md"), "\n## Dependencies\n")
	if !ok {
		t.Fatal("DEVELOPERS.md has no section Dependencies")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	direct := directModules(read("go.mod"))
	if len(direct) < 10 {
		t.Fatalf("go.mod names only %v directly", direct)
	}
	named := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^\| (\S+\.\S+/\S+|pgregory\.net/\S+) \| (.+?) \| (.+?) \|$`).FindAllStringSubmatch(section, -1) {
		named[m[1]] = m[3]
	}
	for _, module := range direct {
		if named[module] == "" {
			t.Errorf("%s is in go.mod, and the table of DEVELOPERS.md does not say what for and why", module)
		}
	}
	for module := range named {
		if !slices.Contains(direct, module) {
			t.Errorf("%s is in the table of DEVELOPERS.md, and not named directly in go.mod", module)
		}
	}
}

// directModules are the modules of a go.mod that are needed directly.
func directModules(mod string) (modules []string) {
	for _, m := range regexp.MustCompile(`(?m)^\t(\S+) v\S+$`).FindAllStringSubmatch(mod, -1) {
		modules = append(modules, m[1])
	}
	return modules
}
