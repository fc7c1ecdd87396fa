package look

import (
	"fmt"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// start makes a test app with a theme, for one test.
func start(t *testing.T, th Theme) {
	t.Helper()
	th.Apply()
}

func TestThemeNamesEveryColour(t *testing.T) {
	start(t, Theme{})
	for _, mode := range []Mode{System, Light, Dark} {
		test.AssertAllColorNamesDefined(t, Theme{Mode: mode}, fmt.Sprint("mode ", mode))
	}
}

func TestThemeFollowsTheDesktopOnlyWhenAsked(t *testing.T) {
	for _, row := range []struct {
		name   string
		mode   Mode
		wanted fyne.ThemeVariant
		want   color.Color
	}{
		{"system on a light desktop", System, theme.VariantLight, lightPalette().ground},
		{"system on a dark desktop", System, theme.VariantDark, darkPalette().ground},
		{"light on a dark desktop", Light, theme.VariantDark, lightPalette().ground},
		{"dark on a light desktop", Dark, theme.VariantLight, darkPalette().ground},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := (Theme{Mode: row.mode}).Color(ColorGround, row.wanted); got != row.want {
				t.Errorf("ground: got %v, want %v", got, row.want)
			}
		})
	}
}

// Every pair of writing and ground that is drawn has the contrast of WCAG 2.1, 1.4.3 (4.5
// to 1), and in shop mode of 1.4.6 (7 to 1); the edges of what can be typed in or picked
// that of 1.4.11 (3 to 1).
func TestContrast(t *testing.T) {
	for _, set := range []struct {
		name string
		p    palette
		text float64
	}{{"light", lightPalette(), 4.5}, {"dark", darkPalette(), 4.5}, {"larger light", largerLight(), 7}, {"larger dark", largerDark(), 7}} {
		p := set.p
		for pair, c := range map[string][2]color.NRGBA{
			"ink on panel": {p.ink, p.panel}, "ink on ground": {p.ink, p.ground}, "ink on chosen": {p.ink, p.chosen}, "ink on body": {p.ink, p.body},
			"quiet on panel": {p.quiet, p.panel}, "quiet on ground": {p.quiet, p.ground}, "quiet on chosen": {p.quiet, p.chosen}, "quiet on body": {p.quiet, p.body},
			"action on panel": {p.action, p.panel}, "action on ground": {p.action, p.ground}, "action on chosen": {p.action, p.chosen}, "on action": {p.onAction, p.action},
			"warn": {p.warn, p.warnGround}, "warn on panel": {p.warn, p.panel}, "warn on ground": {p.warn, p.ground},
			"stop": {p.stop, p.stopGround}, "stop on panel": {p.stop, p.panel}, "stop on ground": {p.stop, p.ground}, "lit": {p.litInk, p.lit},
		} {
			if got := Contrast(c[0], c[1]); got < set.text {
				t.Errorf("%s, %s: contrast %.2f, want %.1f or more", set.name, pair, got, set.text)
			}
		}
		for pair, c := range map[string][2]color.NRGBA{
			"edge on panel": {p.edge, p.panel}, "edge on ground": {p.edge, p.ground},
			"edge of the lit drawer": {p.litEdge, p.body}, "edge of a button": {p.action, p.ground},
		} {
			if got := Contrast(c[0], c[1]); got < 3 {
				t.Errorf("%s, %s: contrast %.2f, want 3 or more", set.name, pair, got)
			}
		}
	}
}

func TestShopModeScalesEverySize(t *testing.T) {
	for name := range sizes {
		t.Run(string(name), func(t *testing.T) {
			got, want := Theme{Shop: true}.Size(name), Theme{}.Size(name)*ShopFactor
			if got != want {
				t.Errorf("size %q in shop mode: got %v, want %v", name, got, want)
			}
		})
	}
	start(t, Theme{Shop: true})
	if got := Px(10); got != 14 {
		t.Errorf("Px(10) in shop mode: got %v, want 14", got)
	}
}

func TestFonts(t *testing.T) {
	for _, row := range []struct {
		style fyne.TextStyle
		want  string
	}{
		{fyne.TextStyle{}, "text-400.ttf"},
		{fyne.TextStyle{Bold: true}, "text-700.ttf"},
		{fyne.TextStyle{Italic: true}, "text-400.ttf"},
		{fyne.TextStyle{Monospace: true}, "mono-500.ttf"},
		{fyne.TextStyle{Monospace: true, Bold: true}, "mono-700.ttf"},
	} {
		if got := (Theme{}).Font(row.style).Name(); got != row.want {
			t.Errorf("font of %+v: got %q, want %q", row.style, got, row.want)
		}
	}
}

// A theme that is there already is not set again: that would have the typefaces read again.
func TestApplyOnlyWhatIsNew(t *testing.T) {
	test.NewTempApp(t)
	set := 0
	fyne.CurrentApp().Settings().AddListener(func(fyne.Settings) { set++ })
	for _, row := range []struct {
		to   Theme
		want int
	}{{Theme{}, 1}, {Theme{}, 1}, {Theme{Shop: true}, 2}, {Theme{Mode: Dark, Shop: true}, 3}, {Theme{Mode: Dark, Shop: true}, 3}} {
		row.to.Apply()
		if got := fyne.CurrentApp().Settings().Theme(); got != fyne.Theme(row.to) || set != row.want {
			t.Errorf("%+v applied: %+v after %d changes, want %d", row.to, got, set, row.want)
		}
	}
}
