package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// sourceFile is a Go file of the module, by its path from the top, and what it imports.
type sourceFile struct {
	path    string
	imports []string
}

func (f sourceFile) pkg() string  { return path.Dir(f.path) }
func (f sourceFile) base() string { return path.Base(f.path) }
func (f sourceFile) test() bool   { return strings.HasSuffix(f.path, "_test.go") }

// top is the folder of the module, seen from this package.
const top = "../.."

// sourceFiles parses the imports of every Go file of the module.
func sourceFiles(t *testing.T) []sourceFile {
	t.Helper()

	var files []sourceFile
	err := filepath.WalkDir(top, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(top, name)
		if err != nil {
			return err
		}
		if d.IsDir() && (rel == "testdata" || rel == "bin" || strings.HasPrefix(d.Name(), ".") && rel != ".") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(name, ".go") {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		f := sourceFile{path: filepath.ToSlash(rel)}
		for _, spec := range parsed.Imports {
			p, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			f.imports = append(f.imports, p)
		}
		files = append(files, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

const module = "stowright/"

// layers are the rooms of the house from top to bottom: imports only go down, and
// labels and store, which stand side by side, never import each other.
var layers = map[string]int{"cmd": 3, "app": 2, "labels": 1, "store": 1, "assets": 0}

func room(pkg string) string { first, _, _ := strings.Cut(pkg, "/"); return first }

func TestImportsRunOneWay(t *testing.T) {
	files := sourceFiles(t)
	if len(files) < 50 {
		t.Fatalf("only %d Go files were found: the test looks in the wrong place", len(files))
	}
	for _, f := range files {
		from := room(f.path)
		if _, ok := layers[from]; !ok {
			t.Errorf("%s: Go code belongs in cmd, app, labels, store or assets", f.path)
			continue
		}
		for _, imported := range f.imports {
			own, ok := strings.CutPrefix(imported, module)
			if !ok {
				continue
			}
			to := room(own)
			if layers[to] > layers[from] || (layers[to] == layers[from] && to != from) {
				t.Errorf("%s imports %s: imports run cmd -> app -> {labels, store} -> assets", f.path, imported)
			}
		}
	}
}

// bans say who may import what, and why.
var bans = []struct {
	name   string
	banned func(imported string) bool
	may    func(f sourceFile) bool
	why    string
}{
	{
		"bbolt", func(i string) bool { return strings.HasPrefix(i, "go.etcd.io/bbolt") },
		func(f sourceFile) bool {
			return f.pkg() == "store/disk" || f.pkg() == "store/disk/disktest" || f.pkg() == "store/storetest" && f.test()
		},
		"only store/disk opens the file; tests damage one",
	},
	{
		"another writer of PDFs", func(i string) bool { return strings.Contains(i, "gofpdf") },
		func(f sourceFile) bool { return f.path == "labels/pdf.go" || f.test() },
		"labels.PDF writes all of them, and says in each that it is printed at its real size",
	},
	{
		"the store below itself", func(i string) bool { return i == module+"store" },
		func(f sourceFile) bool {
			below := strings.HasPrefix(f.pkg(), "store/")
			return !below || f.pkg() == "store/storetest" || f.pkg() == "store/copies" || f.pkg() == "store/exchange"
		},
		"hardware, packinglist, search, measure, fault and disk know no shop; copies and exchange read and build whole ones",
	},
	{
		"copies from below", func(i string) bool { return i == module+"store/copies" },
		func(f sourceFile) bool { return f.test() || room(f.path) != "store" },
		"nothing of the store knows that it is copied",
	},
	{
		"exchange from below", func(i string) bool { return i == module+"store/exchange" },
		func(f sourceFile) bool { return f.test() || room(f.path) != "store" || f.pkg() == "store/copies" },
		"nothing of the store knows that it is exported; a shop is replaced by an archive as by a copy",
	},
	{
		"the store from the disk", func(i string) bool { return strings.HasPrefix(i, module+"store") && i != module+"store/fault" },
		func(f sourceFile) bool { return !strings.HasPrefix(f.pkg(), "store/disk") || f.test() },
		"the disk knows bytes and buckets, and nothing of what they mean",
	},
	{
		"the store from its output", func(i string) bool { return strings.HasPrefix(i, module) && i != module+"store/fault" },
		func(f sourceFile) bool { return f.pkg() != "store/output" },
		"what writes files for people serves everything, and so lies below everything but the errors",
	},
	{
		"anything from fault", func(i string) bool { return strings.HasPrefix(i, module) },
		func(f sourceFile) bool { return f.pkg() != "store/fault" || f.test() },
		"errors lie below everything else",
	},
	{
		"the disk", func(i string) bool { return i == module+"store/disk" },
		func(f sourceFile) bool { return room(f.path) == "store" },
		"what is above the store knows shops and no files",
	},
	{
		"windows of tests", func(i string) bool { return i == module+"app/apptest" },
		func(f sourceFile) bool { return f.test() },
		"they draw nothing",
	},
	{
		"tools that damage files", func(i string) bool { return i == module+"store/disk/disktest" },
		func(f sourceFile) bool { return f.test() },
		"they are for tests",
	},
	{
		"Fyne", func(i string) bool { return strings.HasPrefix(i, "fyne.io/") },
		func(f sourceFile) bool {
			switch {
			case f.test(), f.pkg() == "app", f.pkg() == "app/desktop", f.pkg() == "app/look", f.pkg() == "app/gallery", f.pkg() == "app/apptest":
				return room(f.path) == "app" || room(f.path) == "cmd"
			case room(f.path) == "app":
				return strings.HasPrefix(f.base(), "view")
			}
			return f.pkg() == "cmd/stowright"
		},
		"Fyne stops at the views, app/look and the window, so that all else tests without a display",
	},
	{
		"fyne/app", func(i string) bool { return i == "fyne.io/fyne/v2/app" },
		func(f sourceFile) bool { return f.pkg() == "cmd/stowright" },
		"the running application is passed in, so that everything under app tests with Fyne's test driver",
	},
	{
		"the network", func(i string) bool { return i == "net/http" || i == "net" },
		func(f sourceFile) bool {
			return f.test() || f.pkg() == "labels/camera" || f.path == "app/holder/holder.go" && !slices.Contains(f.imports, "net/http")
		},
		"the program works with the network off: only a camera stream that the user names is fetched, and windows are asked through sockets in a folder",
	},
}

func TestBannedImports(t *testing.T) {
	files := sourceFiles(t)
	for _, ban := range bans {
		t.Run(ban.name, func(t *testing.T) {
			used := false
			for _, f := range files {
				if !slices.ContainsFunc(f.imports, ban.banned) {
					continue
				}
				used = true
				if !ban.may(f) {
					t.Errorf("%s imports %s: %s", f.path, ban.name, ban.why)
				}
			}
			if !used {
				t.Errorf("nothing imports %s: the ban checks nothing", ban.name)
			}
		})
	}
}
