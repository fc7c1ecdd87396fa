package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// writers are the files that may make, write or rename files of the disk themselves, with
// the reason of each. All else goes through store/output, which never writes over a shop.
var writers = map[string]string{
	"store/output/write.go":   "this is where files for people are written",
	"store/output/staging.go": "this is where files for people are written",

	"store/copies/make.go":      "a safe copy, under a name that nothing has",
	"store/disk/guard.go":       "opens the shop file for bbolt",
	"store/disk/map_windows.go": "cuts off what of the shop file was only mapped",
	"store/disk/snapshot.go":    "a hidden copy of the shop file, to read what another program has open",
	"store/disk/temp.go":        "gives a shop file or a copy its name once it is whole",
	"store/disk/wal.go":         "the write-ahead log beside the shop file",
	"store/disk/recovery.go":    "brings the shop file to what the log says",
	"store/copies/replace.go":   "puts a copy in the place of the shop file, which is set aside",

	"app/logfile/rotate.go": "the program's own log",
	"app/logfile/crash.go":  "what the program died of, until the log has it",

	"store/disk/disktest/disktest.go":        "damages shop files for tests",
	"app/session/sessiontest/sessiontest.go": "shops for tests, in folders of their own",
}

// writing says which functions of which packages make, write over or rename files.
var writing = map[string][]string{
	"os":          {"Create", "CreateTemp", "WriteFile", "Rename", "Link", "Symlink", "Truncate", "CopyFS"},
	"io/ioutil":   {"WriteFile", "TempFile"},
	"syscall":     {"Open", "Creat", "Rename", "Link", "Symlink", "Truncate"},
	"os.OpenFile": {"O_WRONLY", "O_RDWR", "O_CREATE", "O_TRUNC", "O_APPEND"},
}

// writesIn lists what of these a file does, as "os.Create".
func writesIn(f *ast.File) (found []string) {
	names := map[string]string{} // what a package is called here
	for _, spec := range f.Imports {
		path, _ := strconv.Unquote(spec.Path.Value)
		name := path[strings.LastIndex(path, "/")+1:]
		if spec.Name != nil {
			name = spec.Name.Name
		}
		names[name] = path
	}
	ast.Inspect(f, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		pkg, ok := sel.X.(*ast.Ident)
		if !ok {
			return true
		}
		path := names[pkg.Name]
		if path != "" && slices.Contains(writing[path], sel.Sel.Name) || path == "os" && (sel.Sel.Name == "OpenFile" || slices.Contains(writing["os.OpenFile"], sel.Sel.Name)) {
			found = append(found, path+"."+sel.Sel.Name)
		}
		return true
	})
	return found
}

// No code makes files for people but store/output: a file that is written in another way
// could take the place of a shop.
func TestOnlyOneWayToWriteFiles(t *testing.T) {
	used := map[string]bool{}
	for _, f := range sourceFiles(t) {
		if f.test() {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), filepath.Join(top, filepath.FromSlash(f.path)), nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		found := writesIn(parsed)
		if len(found) == 0 {
			continue
		}
		used[f.path] = true
		if writers[f.path] == "" {
			t.Errorf("%s uses %s: files for people are written by store/output", f.path, strings.Join(found, ", "))
		}
	}
	for file, why := range writers {
		if !used[file] {
			t.Errorf("%s (%s) writes no file any more: take it off the list", file, why)
		}
	}
}

// The test above sees each way to write a file.
func TestWritesAreSeen(t *testing.T) {
	for _, row := range []struct {
		name, imports, call string
		want                int
	}{
		{"create", `"os"`, `os.Create("a")`, 1},
		{"under another name", `fs "os"`, `fs.WriteFile("a", nil, 0)`, 1},
		{"handed on", `"os"`, `do(os.Rename)`, 1},
		{"opened to write", `"os"`, `os.OpenFile("a", os.O_WRONLY|os.O_CREATE, 0)`, 3},
		{"flags kept elsewhere", `"os"`, `os.OpenFile("a", flags, 0)`, 1},
		{"read", `"os"`, `os.Open("a")`, 0},
		{"of another package", `os "example.org/os"`, `os.Create("a")`, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			f, err := parser.ParseFile(token.NewFileSet(), "a.go", "package a\nimport "+row.imports+"\nfunc f() { "+row.call+" }\n", 0)
			if err != nil {
				t.Fatal(err)
			}
			if got := writesIn(f); len(got) != row.want {
				t.Errorf("got %v, want %d", got, row.want)
			}
		})
	}
}
