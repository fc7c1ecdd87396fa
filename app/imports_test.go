package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// Which files may import Fyne: what draws. Models and the plain data of the
// window must be testable without a window. And fyne.Do is called in one file, so
// that the ways back from background work can be counted.
func TestFyneStaysWhereItIsDrawn(t *testing.T) {
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		check(t, path, file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func check(t *testing.T, path string, file *ast.File) {
	dir := filepath.ToSlash(filepath.Dir(path))
	draws := dir == "." || dir == "look" || dir == "gallery" || dir == "desktop" ||
		strings.HasPrefix(filepath.Base(path), "view") || strings.HasSuffix(path, "_test.go")
	for _, i := range file.Imports {
		name := strings.Trim(i.Path.Value, `"`)
		if !draws && strings.HasPrefix(name, "fyne.io/") {
			t.Errorf("%s imports %s: only view files, look and the window draw", path, name)
		}
		if name == "fyne.io/fyne/v2/app" {
			t.Errorf("%s imports %s: only the entry makes the Fyne app, so that tests need no display", path, name)
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		call, ok := n.(*ast.SelectorExpr)
		if !ok || path == "post.go" {
			return true
		}
		if pkg, ok := call.X.(*ast.Ident); ok && pkg.Name == "fyne" {
			if call.Sel.Name == "Do" || call.Sel.Name == "DoAndWait" {
				t.Errorf("%s calls fyne.%s: hand the work to a loop.Loop", path, call.Sel.Name)
			}
		}
		return true
	})
}
