package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// claims are what nothing of this program may say of a part, an aircraft or a work: that is
// for people with a licence, and for the papers.
var claims = regexp.MustCompile(`(?i)\b(airworthy|airworthiness|unairworthy|approved|certified|eligible|equal|compliant|inspected|safe|genuine|interchangeable|passed)\b|(?i)directives? (does|do) not apply`)

// harmless are texts in which such a word says something else.
var harmless = []*regexp.Regexp{
	regexp.MustCompile(`(?i)\bsafe cop(y|ies)\b`),
	regexp.MustCompile(`\bapproved production\b`),     // an origin, as the paper of a lot says it
	regexp.MustCompile(`--inspected-by\b`),            // names who may, and says of nothing that it was
	regexp.MustCompile(`\bfor %s, which has passed$`), // a day
}

// saysClaim is the claim in a text, "" for none.
func saysClaim(text string) string {
	for _, h := range harmless {
		text = h.ReplaceAllString(text, "")
	}
	return claims.FindString(text)
}

// Every text of the program is read: what windows, labels, papers and commands say is made of
// them.
func TestNothingIsClaimed(t *testing.T) {
	for text, want := range map[string]string{
		"The lot is Airworthy.": "Airworthy", "safe copies": "", "a safe part": "safe", "approved production": "", "an approved part": "approved",
		"the directive does not apply": "directive does not apply", "unequal": "", "it is equal": "equal",
	} {
		if got := saysClaim(text); got != want {
			t.Errorf("%q claims %q, want %q", text, got, want)
		}
	}
	root := filepath.Join("..", "..")
	texts := 0
	for _, folder := range []string{"app", "cmd", "labels", "store"} {
		err := filepath.WalkDir(filepath.Join(root, folder), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			n, err := claimsIn(t, path)
			texts += n
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if texts < 5000 {
		t.Errorf("%d texts were read: that is not the program", texts)
	}
}

// claimsIn reads the texts of a source file, and returns how many there are.
func claimsIn(t *testing.T, path string) (texts int, err error) {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		return 0, err
	}
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, src, 0)
	if err != nil {
		return 0, err
	}
	tags := map[*ast.BasicLit]bool{}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Field:
			tags[n.Tag] = !strings.Contains(tagText(n), "help:") // what people read of a field
		case *ast.BasicLit:
			if n.Kind != token.STRING || tags[n] {
				return true
			}
			text, err := strconv.Unquote(n.Value)
			if err != nil {
				return true
			}
			texts++
			if word := saysClaim(text); word != "" {
				t.Errorf("%s says %q: %s", files.Position(n.Pos()), word, text)
			}
		}
		return true
	})
	return texts, nil
}

func tagText(f *ast.Field) string {
	if f.Tag == nil {
		return ""
	}
	return f.Tag.Value
}
