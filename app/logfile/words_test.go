package logfile

import (
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

var update = flag.Bool("update", false, "write words.txt anew from the source")

// foreign are the words of what Go (1.26, package runtime), Fyne (2.8) and bbolt (1.5)
// say when something is wrong.
const foreign = `runtime error index out of range with length capacity slice bounds nil pointer dereference
invalid memory address or integer divide by zero concurrent map read writes and write iteration interface
conversion is not missing method makeslice makechan size len cap negative shift amount hash of unhashable type
close closed channel send on all goroutines are asleep deadlock stack overflow signal arrived during cgo execution
unexpected fault address panic recovered fatal goroutine running select chan receive assertion failed
fyne error cause at failed to load image font preferences theme driver thread should have been called in fyne.do
database timeout checksum mismatch version tx page freelist bucket cursor leaf branch meta already opened open
transaction closed writable managed key value too large required incompatible exists name root overflow
no such file or directory permission denied input output device space left read-only broken pipe resource
temporarily unavailable operation permitted argument unexpected eof end bad descriptor many files
context canceled deadline exceeded`

var plainWord = regexp.MustCompile(`^[a-z][a-z'.-]*$`)

// addWords adds the words of a text as Clean looks them up.
func addWords(text string, to map[string]bool) {
	for _, word := range strings.Fields(text) {
		if word = strings.ToLower(strings.TrimFunc(word, unicode.IsPunct)); plainWord.MatchString(word) {
			to[word] = true
		}
	}
}

// sourceWords are the words of all texts in the source of the program, but for the demo's
// and what only tests have.
func sourceWords(t *testing.T) []string {
	t.Helper()
	all := map[string]bool{}
	addWords(foreign, all)
	const top = "../.."
	err := filepath.WalkDir(top, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && slices.Contains([]string{"assets", "testdata", "bin", "demo", "gallery", ".git", "sessiontest", "storetest", "phototest", "searchtest"}, d.Name()) {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BasicLit:
				if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
					addWords(text, all)
				}
			case *ast.TypeSpec: // a command of the terminal, which is called as its type is
				if name, ok := strings.CutSuffix(n.Name.Name, "Command"); ok {
					addWords(name, all)
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return slices.Sorted(maps.Keys(all))
}

// The list has nothing but plain words, and nearly all that the program says. A word that
// is missing stands as a gap in the log: 'go test ./app/logfile -update' takes it in.
func TestWords(t *testing.T) {
	said := sourceWords(t)
	if *update {
		if err := os.WriteFile("words.txt", []byte(strings.Join(said, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	list := strings.Fields(wordList)
	if !*update {
		missing := slices.DeleteFunc(said, func(w string) bool { return words()[w] })
		if len(missing)*10 > len(list) {
			t.Errorf("a tenth of what the program says is not in the list: %v", missing)
		}
	}
	for i, w := range list {
		if !plainWord.MatchString(w) || i > 0 && list[i-1] >= w {
			t.Errorf("word %d, %q, is no plain word or not in order", i, w)
		}
	}
}
