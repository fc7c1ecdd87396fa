package desktop

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/help"
	"stowright/app/look"
)

// Every key that a page or its card shows is on the card of keys, so that no key is secret and the
// paper has them all.
func TestEveryKeyIsOnTheCard(t *testing.T) {
	b := sit(t, demo.Unpacked)
	shots, err := Shots(b.Session)
	if err != nil {
		t.Fatal(err)
	}
	for _, shot := range shots {
		b.d.Go(shot.Route)
		b.press("Down")
		var known []string
		for _, k := range append(help.Everywhere(), help.Of(shot.Route.Screen)...) {
			known = append(known, strings.Split(k.Key, ", ")...)
		}
		shown := map[string]string{}
		for _, button := range look.Keyed(b.d.Object()) {
			shown[button.Key()] = button.Label()
		}
		for _, a := range b.d.Card().More() {
			shown[a.Key] = a.Label
		}
		for key, label := range shown {
			if key != "" && !slices.Contains(known, key) {
				t.Errorf("%s: %s does %q, and the card of keys does not say so", shot.Name, key, label)
			}
		}
	}
}

// F1 and P save the card of keys as a PDF, over another file only when that is said.
func TestKeyCardIsSaved(t *testing.T) {
	b := sit(t, demo.Unpacked)
	path := filepath.Join(t.TempDir(), "keys.pdf")
	save := []string{"F1", "P", `"` + path + `"`, "Enter"}
	b.press(save...)
	b.said("Saved:")
	if data, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(data, []byte("%PDF")) {
		t.Fatalf("no PDF was written: %v", err)
	}
	if err := os.WriteFile(path, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.press(save...)
	if data, err := os.ReadFile(path); err != nil || string(data) != "mine" || b.w.Canvas().Overlays().Top() == nil {
		t.Errorf("over another file: %q, %v, and nothing is asked", data, err)
	}
	b.press("Enter")
	if data, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(data, []byte("%PDF")) {
		t.Errorf("it was asked for, and not written over: %v", err)
	}
}
