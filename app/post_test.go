package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
)

// What comes back once the program leaves is not done: there is no goroutine for it any more.
func TestNothingComesBackOnceStopped(t *testing.T) {
	test.NewTempApp(t)
	l, stop := Loop()
	did := make(chan string, 2)
	l.Post(func() { did <- "before" })
	if got := <-did; got != "before" {
		t.Errorf("did %q", got)
	}
	stop()
	l.Post(func() { did <- "after" })
	select {
	case got := <-did:
		t.Errorf("did %q once it was stopped", got)
	default:
	}
}

// fyne.Do is called in one file, so that the ways back from background work can be
// counted. What may import Fyne at all is held with the other imports.
func TestFyneDoIsCalledInOneFile(t *testing.T) {
	files := 0
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		if calls := callsDo(file); calls && path != "post.go" {
			t.Errorf("%s calls fyne.Do: hand the work to a loop.Loop", path)
		} else if calls {
			files++
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files != 1 {
		t.Errorf("post.go does not call fyne.Do: the test looks in the wrong place")
	}
}

func callsDo(file *ast.File) bool {
	calls := false
	ast.Inspect(file, func(n ast.Node) bool {
		selector, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if pkg, ok := selector.X.(*ast.Ident); ok && pkg.Name == "fyne" && (selector.Sel.Name == "Do" || selector.Sel.Name == "DoAndWait") {
			calls = true
		}
		return true
	})
	return calls
}
