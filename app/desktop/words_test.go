package desktop

import (
	"regexp"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
)

// unsaid are words that no page says, by what it says in their place: the list of words in the
// documentation of app/look.
func unsaid() map[*regexp.Regexp]string {
	return map[*regexp.Regexp]string{
		regexp.MustCompile(`(^|\d )each$`):                                             "pieces, or ea",
		regexp.MustCompile(`\b(pcs|pce|pc)\b`):                                         "pieces, or ea",
		regexp.MustCompile(`(^|\s)1 (pieces|lines|labels|sheets|days|others|needs)\b`): "the singular",
		regexp.MustCompile(`\d pieces? .*\d ea\b`):                                     "one of the two",
	}
}

// One word for one thing on every page, and a word on every button.
func TestWordsOfThePages(t *testing.T) {
	b := sit(t, demo.Unpacked)
	shots, err := Shots(b.Session)
	if err != nil {
		t.Fatal(err)
	}
	letter := regexp.MustCompile(`\pL`)
	for _, shot := range shots {
		b.d.Go(shot.Route)
		b.Elapse()
		for _, text := range strings.Split(b.texts(), " | ") {
			for word, instead := range unsaid() {
				if word.MatchString(text) {
					t.Errorf("%s says %q: say %s", shot.Name, text, instead)
				}
			}
			out := shot.Route.Screen == routes.Build || shot.Route.Screen == routes.Aircraft
			if strings.Contains(text, "ooked at") && !out {
				t.Errorf("%s says %q, which is what is done with a part that came out", shot.Name, text)
			}
		}
		for _, button := range look.Keyed(b.d.Object()) {
			if !letter.MatchString(button.Label()) {
				t.Errorf("%s: a button is called %q", shot.Name, button.Label())
			}
		}
	}
}
