package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"stowright/assets/fonts"
)

// Mode says which colours a Theme uses.
type Mode int

// The modes. System is the zero value and follows the desktop.
const (
	System Mode = iota
	Light
	Dark
)

// ShopFactor is how much larger everything is in shop mode, for gloves, poor
// light and arm's length.
const ShopFactor = 1.4

// Theme is the look of the window. It is a value: a changed copy is set with
// Settings().SetTheme. The zero value follows the desktop at normal size.
type Theme struct {
	Mode Mode
	Shop bool // everything ShopFactor larger
}

var _ fyne.Theme = Theme{}

// Apply has the running app look so. Where it does already nothing is done: with every
// SetTheme Fyne reads the typefaces again, which takes longer than laying out a window.
func (t Theme) Apply() {
	if s := fyne.CurrentApp().Settings(); s.Theme() != fyne.Theme(t) {
		s.SetTheme(t)
	}
}

// Names of the colours that Fyne has no name for. Look them up with theme.Color.
const (
	ColorPanel      fyne.ThemeColorName = "stowright.panel"      // white paper on the ground
	ColorQuiet      fyne.ThemeColorName = "stowright.quiet"      // second-rank text
	ColorWarnGround fyne.ThemeColorName = "stowright.warnGround" // box behind a warning
	ColorStopGround fyne.ThemeColorName = "stowright.stopGround" // box behind a stop
	ColorLit        fyne.ThemeColorName = "stowright.lit"        // the drawer that is meant
	ColorLitInk     fyne.ThemeColorName = "stowright.litInk"     // what is written on it
	ColorLitEdge    fyne.ThemeColorName = "stowright.litEdge"    // its thick edge
	ColorBody       fyne.ThemeColorName = "stowright.body"       // the cabinet around its drawers
	ColorEdge       fyne.ThemeColorName = "stowright.edge"       // edge of what can be typed in or picked
)

// Names of the colours of ours that Fyne has a name for.
const (
	ColorGround   = theme.ColorNameBackground
	ColorInk      = theme.ColorNameForeground
	ColorLine     = theme.ColorNameSeparator
	ColorAction   = theme.ColorNamePrimary
	ColorOnAction = theme.ColorNameForegroundOnPrimary
	ColorChosen   = theme.ColorNameSelection
	ColorWarn     = theme.ColorNameWarning
	ColorStop     = theme.ColorNameError
)

// sizeUnit is the theme size that every measure of ours is multiplied by.
const sizeUnit fyne.ThemeSizeName = "stowright.unit"

// palette is one set of colours.
type palette struct {
	ground, panel, ink, quiet, line, edge, action, onAction, chosen color.NRGBA
	warn, warnGround, stop, stopGround                              color.NRGBA
	lit, litInk, litEdge, body                                      color.NRGBA
}

// rgb is an opaque colour from 0xRRGGBB.
func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 0xFF}
}

// faded is c with the given alpha.
func faded(c color.NRGBA, alpha uint8) color.NRGBA {
	c.A = alpha
	return c
}

func lightPalette() palette {
	return palette{
		ground: rgb(0xF1EFE7), panel: rgb(0xFFFFFF), ink: rgb(0x1D2422), quiet: rgb(0x56605B), line: rgb(0xD8D4C8), edge: rgb(0x838A85),
		action: rgb(0x2B6649), onAction: rgb(0xFFFFFF), chosen: rgb(0xE2EEE6),
		warn: rgb(0x7A4E00), warnGround: rgb(0xFBEECB), stop: rgb(0x96281B), stopGround: rgb(0xF8E1DB),
		lit: rgb(0xF2B705), litInk: rgb(0x1D2422), litEdge: rgb(0x1D2422), body: rgb(0xDCD8CD),
	}
}

func darkPalette() palette {
	return palette{
		ground: rgb(0x151A18), panel: rgb(0x1E2522), ink: rgb(0xEDF0EB), quiet: rgb(0xA9B3AD), line: rgb(0x38413C), edge: rgb(0x77827B),
		action: rgb(0x86CBA3), onAction: rgb(0x151A18), chosen: rgb(0x20352A),
		warn: rgb(0xF0C969), warnGround: rgb(0x3A3017), stop: rgb(0xF2A093), stopGround: rgb(0x3D221D),
		lit: rgb(0xF2B705), litInk: rgb(0x1D2422), litEdge: rgb(0xEDF0EB), body: rgb(0x38413C),
	}
}

// largerLight and largerDark are the same for shop mode: poor light and two metres, so
// all writing has a contrast of 7 to 1.
func largerLight() palette {
	p := lightPalette()
	p.quiet, p.edge, p.action, p.warn, p.stop = rgb(0x39423D), rgb(0x6A726D), rgb(0x1E4F37), rgb(0x5F3C00), rgb(0x7E1D11)
	return p
}

func largerDark() palette {
	p := darkPalette()
	p.quiet, p.edge, p.action, p.warn, p.stop = rgb(0xCCD5CF), rgb(0x8E9992), rgb(0x9BDDB6), rgb(0xF5D684), rgb(0xF7B9AF)
	return p
}

// variant is the set of colours to use where the desktop asks for wanted.
func (t Theme) variant(wanted fyne.ThemeVariant) fyne.ThemeVariant {
	if t.Mode == Dark || (t.Mode == System && wanted == theme.VariantDark) {
		return theme.VariantDark
	}
	return theme.VariantLight
}

// Color is the colour with that name.
func (t Theme) Color(name fyne.ThemeColorName, wanted fyne.ThemeVariant) color.Color {
	variant := t.variant(wanted)
	if c, ok := colours[colouring{variant, t.Shop}][name]; ok {
		return c
	}
	return theme.DefaultTheme().Color(name, variant)
}

// colouring is what the colours depend on.
type colouring struct {
	variant fyne.ThemeVariant
	shop    bool
}

// colours are the palettes by the names that widgets ask for. Read-only.
var colours = map[colouring]map[fyne.ThemeColorName]color.Color{
	{theme.VariantLight, false}: lightPalette().table(),
	{theme.VariantDark, false}:  darkPalette().table(),
	{theme.VariantLight, true}:  largerLight().table(),
	{theme.VariantDark, true}:   largerDark().table(),
}

// table is the palette by name: first the colours of this program, then the
// further ones that Fyne's own widgets use.
func (p palette) table() map[fyne.ThemeColorName]color.Color {
	return map[fyne.ThemeColorName]color.Color{
		ColorPanel: p.panel, ColorQuiet: p.quiet, ColorWarnGround: p.warnGround, ColorStopGround: p.stopGround,
		ColorLit: p.lit, ColorLitInk: p.litInk, ColorLitEdge: p.litEdge, ColorBody: p.body, ColorEdge: p.edge,
		ColorGround: p.ground, ColorInk: p.ink, ColorLine: p.line, ColorAction: p.action, ColorOnAction: p.onAction,
		ColorChosen: p.chosen, ColorWarn: p.warn, ColorStop: p.stop,

		theme.ColorNameButton: p.panel, theme.ColorNameDisabled: p.quiet, theme.ColorNameDisabledButton: p.line,
		theme.ColorNamePlaceHolder: p.quiet, theme.ColorNameInputBackground: p.panel,
		theme.ColorNameInputBorder: p.edge, theme.ColorNameFocus: faded(p.action, 0x40),
		theme.ColorNameHover: faded(p.ink, 0x0C), theme.ColorNamePressed: faded(p.ink, 0x1C),
		theme.ColorNameHyperlink: p.action, theme.ColorNameSuccess: p.action, theme.ColorNameMenuBackground: p.panel,
		theme.ColorNameOverlayBackground: p.panel, theme.ColorNameHeaderBackground: p.panel,
		theme.ColorNameScrollBar: faded(p.quiet, 0x99), theme.ColorNameScrollBarBackground: faded(p.quiet, 0x14),
		theme.ColorNameForegroundOnSuccess: p.onAction, theme.ColorNameForegroundOnWarning: p.warnGround,
		theme.ColorNameForegroundOnError: p.stopGround, theme.ColorNameShadow: faded(rgb(0), 0x1C),
	}
}

// Font is the typeface for a style. Italic is not set in this program: it falls
// back to the upright face.
func (t Theme) Font(style fyne.TextStyle) fyne.Resource {
	switch {
	case style.Symbol:
		return theme.DefaultTheme().Font(style)
	case style.Monospace && style.Bold:
		return faces[fonts.MonoBold]
	case style.Monospace:
		return faces[fonts.MonoMedium]
	case style.Bold:
		return faces[fonts.TextBold]
	default:
		return faces[fonts.TextRegular]
	}
}

// faces holds each face as the one resource that Fyne caches by. Read-only.
var faces = faceTable()

func faceTable() map[fonts.Face]fyne.Resource {
	table := make(map[fonts.Face]fyne.Resource)
	for _, f := range fonts.Faces() {
		table[f] = fyne.NewStaticResource(f.String()+".ttf", f.TrueType())
	}
	return table
}

// Icon is Fyne's own icon with that name; ours are in assets/icons.
func (t Theme) Icon(name fyne.ThemeIconName) fyne.Resource {
	return theme.DefaultTheme().Icon(name)
}

// unit is the factor on every measure.
func (t Theme) unit() float32 {
	if t.Shop {
		return ShopFactor
	}
	return 1
}

// sizes are the measures that scale with shop mode, in points. Read-only.
var sizes = map[fyne.ThemeSizeName]float32{
	theme.SizeNameText:              sizeBody,
	theme.SizeNameCaptionText:       sizeFoot,
	theme.SizeNameSubHeadingText:    sizeNumber,
	theme.SizeNameHeadingText:       sizeTitle,
	theme.SizeNamePadding:           4,
	theme.SizeNameInnerPadding:      11,
	theme.SizeNameInputBorder:       2,
	theme.SizeNameInputRadius:       radiusSmall,
	theme.SizeNameButtonRadius:      radiusSmall,
	theme.SizeNameSelectionRadius:   radiusSmall,
	theme.SizeNameCardRadius:        radius,
	theme.SizeNameDialogRadius:      radius,
	theme.SizeNamePopupRadius:       radius,
	theme.SizeNameMenuRadius:        radius,
	theme.SizeNameInnerWindowRadius: radius,
	theme.SizeNameScrollBar:         12,
	theme.SizeNameScrollBarSmall:    5,
	theme.SizeNameScrollBarRadius:   4,
	theme.SizeNameInlineIcon:        22,
	theme.SizeNameLineSpacing:       4,
}

// Size is the measure with that name, in points.
func (t Theme) Size(name fyne.ThemeSizeName) float32 {
	if name == sizeUnit { // asked for by every measure of every frame
		return t.unit()
	}
	if v, ok := sizes[name]; ok {
		return v * t.unit()
	}
	if name == theme.SizeNameModalBlurRadius { // a blur costs frames and says nothing
		return 0
	}
	return theme.DefaultTheme().Size(name)
}
