package notices

import (
	"cmp"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the notices anew")

// systems are those that the program is built for, with the tags that it is built with.
var systems = map[string]string{"linux": "x11", "windows": "", "darwin": ""}

// listed is what go list says of a package.
type listed struct {
	Dir      string
	Standard bool
	Module   *struct {
		Path, Version, Dir string
		Main               bool
	}
}

// packages are those that the program is built of on a system.
func packages(t *testing.T, system, tags string) (list []listed) {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-tags", tags, "-json=Dir,Standard,Module", "stowright/cmd/stowright")
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=1")
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list for %s: %v\n%s", system, err, said.String())
	}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
}

// licence is what files are called that say under which terms the rest may be used.
var licence = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|ofl)([-_.].*)?$`)

// licencesIn are such files in a folder; a program is none, whatever it is called.
func licencesIn(folder string) (files []string) {
	list, _ := os.ReadDir(folder) // one that is not there has none
	for _, e := range list {
		if e.Type().IsRegular() && licence.MatchString(e.Name()) && filepath.Ext(e.Name()) != ".go" {
			files = append(files, filepath.Join(folder, e.Name()))
		}
	}
	return files
}

// around are the licences of a package: in its folder, in those right below, which hold what
// it brings along, and in those above, up to the module's.
func around(p listed) (files []string) {
	list, _ := os.ReadDir(p.Dir)
	for _, e := range list {
		if e.IsDir() && e.Name() != "testdata" {
			files = append(files, licencesIn(filepath.Join(p.Dir, e.Name()))...)
		}
	}
	for folder := p.Dir; ; folder = filepath.Dir(folder) {
		files = append(files, licencesIn(folder)...)
		if folder == p.Module.Dir || folder == filepath.Dir(folder) {
			return files
		}
	}
}

// notice writes the text of a licence.
func notice(t *testing.T, b *strings.Builder, title, file string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(b, "==== %s\n\n%s\n\n", title, strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
}

// collect is what NOTICES.txt has to hold, and which modules have no licence.
func collect(t *testing.T) (text string, without []string) {
	t.Helper()
	modules := map[string]map[string]string{} // by name and version: the files, by their name in the module
	for system, tags := range systems {
		for _, p := range packages(t, system, tags) {
			if p.Standard || p.Module == nil {
				continue
			}
			name, files := p.Module.Path+" "+p.Module.Version, []string(nil)
			if p.Module.Main { // ours, of which only the typefaces are not
				name, files = p.Module.Path, licencesIn(filepath.Join(p.Module.Dir, "assets", "fonts"))
			} else {
				files = around(p)
			}
			if modules[name] == nil {
				modules[name] = map[string]string{}
			}
			for _, file := range files {
				rel, err := filepath.Rel(p.Module.Dir, file)
				if err != nil {
					t.Fatal(err)
				}
				modules[name][filepath.ToSlash(rel)] = file
			}
		}
	}
	var b strings.Builder
	b.WriteString("What Stowright is built of beside its own code, and under which licences.\n\n")
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	notice(t, &b, "Go, its standard library and runtime: LICENSE", filepath.Join(strings.TrimSpace(string(root)), "LICENSE"))
	notice(t, &b, "PDFium", "pdfium.txt")
	for _, name := range slices.SortedFunc(maps.Keys(modules), func(a, b string) int { return cmp.Compare(a, b) }) {
		if len(modules[name]) == 0 {
			without = append(without, name)
		}
		for _, file := range slices.Sorted(maps.Keys(modules[name])) {
			notice(t, &b, name+": "+file, modules[name][file])
		}
	}
	return b.String(), without
}

// The notices are those of the modules that the program is built of now, each of which says
// under which terms it may be passed on.
func TestNotices(t *testing.T) {
	if testing.Short() {
		t.Skip("go list for three systems is left to the long tests")
	}
	want, without := collect(t)
	if len(without) > 0 {
		t.Errorf("without a licence are %s", strings.Join(without, ", "))
	}
	if *update {
		if err := os.WriteFile("NOTICES.txt", []byte(want), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got := Text(); got != want {
		t.Errorf("NOTICES.txt is not what the modules say (make notices):\n%s", firstDifference(got, want))
	}
}

// firstDifference is the first line in which two texts differ.
func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return fmt.Sprintf("line %d is %q, want %q", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("it has %d lines, want %d", len(g), len(w))
}
