package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stowright/store"
)

// storeVerbs are the verbs of the store: what writes an entry of the journal.
func storeVerbs() []string {
	var verbs []string
	shop, entry := reflect.TypeFor[*store.Shop](), reflect.TypeFor[store.Entry]()
	for i := range shop.NumMethod() {
		m := shop.Method(i)
		if _, reads := reflect.TypeFor[*store.Reader]().MethodByName(m.Name); reads {
			continue
		}
		for out := range m.Type.NumOut() {
			if m.Type.Out(out) == entry {
				verbs = append(verbs, m.Name)
			}
		}
	}
	return verbs
}

// inOperations is where verbs are called for a person.
const inOperations = "app/operation"

// otherCallers are those besides, and why.
var otherCallers = map[string]string{
	"app/demo": "makes the demo shop, at which nobody types",
}

// unreached are verbs that no operation calls yet, and why.
var unreached = map[string]string{
	"PutEquivalent": "cover letters are not entered yet; the demo shop's is put",
}

// What a person types is read and checked in one place: nobody in the window or the
// terminal calls a verb of the store but the operations, and every verb has one.
func TestVerbsAreCalledByOperations(t *testing.T) {
	verbs := storeVerbs()
	if !slices.Contains(verbs, "Fit") || !slices.Contains(verbs, "Undo") || slices.Contains(verbs, "Undoable") {
		t.Fatalf("the verbs of the store are %q", verbs)
	}
	call := regexp.MustCompile(`(?i:\b(?:shop|group))\.(` + strings.Join(verbs, "|") + `)\b`)
	called := map[string]bool{}
	for _, f := range sourceFiles(t) {
		if room(f.path) != "app" && room(f.path) != "cmd" || f.test() || strings.HasSuffix(f.pkg(), "sessiontest") {
			continue
		}
		if otherCallers[f.pkg()] != "" {
			continue
		}
		text, err := os.ReadFile(filepath.Join("..", "..", filepath.FromSlash(f.path)))
		if err != nil {
			t.Fatal(err)
		}
		for _, found := range call.FindAllStringSubmatch(string(text), -1) {
			if f.pkg() == inOperations {
				called[found[1]] = true
			} else {
				t.Errorf("%s calls the store's %s: have it do an operation of %s", f.path, found[1], inOperations)
			}
		}
	}
	for _, verb := range verbs {
		if !called[verb] && unreached[verb] == "" {
			t.Errorf("no operation calls the store's %s", verb)
		}
		if called[verb] && unreached[verb] != "" {
			t.Errorf("an operation calls the store's %s now: take it off the list of those without", verb)
		}
	}
}
