// Package fonts holds the typefaces of the window and of printed labels:
// Atkinson Hyperlegible Next for text and Atkinson Hyperlegible Mono for
// designations, tags and drawer names, where 0 and O, 1 and l must not be
// confused. Both are under the SIL Open Font License 1.1, whose text is embedded
// with them. The package knows no window and no page; it only hands out bytes.
package fonts

import _ "embed" // the font files and licences below

// TrueType files, one weight each. Treat the bytes as read-only.
var (
	//go:embed next-400.ttf
	textRegular []byte
	//go:embed next-600.ttf
	textSemiBold []byte
	//go:embed next-700.ttf
	textBold []byte
	//go:embed mono-500.ttf
	monoMedium []byte
	//go:embed mono-700.ttf
	monoBold []byte
	//go:embed OFL-AtkinsonHyperlegibleNext.txt
	textLicence string
	//go:embed OFL-AtkinsonHyperlegibleMono.txt
	monoLicence string
)

// Face names one embedded typeface and weight.
type Face int

// The faces. Text faces are proportional, mono faces have one advance width.
const (
	TextRegular  Face = iota // Atkinson Hyperlegible Next 400
	TextSemiBold             // Atkinson Hyperlegible Next 600
	TextBold                 // Atkinson Hyperlegible Next 700
	MonoMedium               // Atkinson Hyperlegible Mono 500
	MonoBold                 // Atkinson Hyperlegible Mono 700
)

// Faces lists every face, in the order of the constants.
func Faces() []Face {
	return []Face{TextRegular, TextSemiBold, TextBold, MonoMedium, MonoBold}
}

// String is a short stable name such as "text-400", fit for a file name.
func (f Face) String() string {
	switch f {
	case TextRegular:
		return "text-400"
	case TextSemiBold:
		return "text-600"
	case TextBold:
		return "text-700"
	case MonoMedium:
		return "mono-500"
	case MonoBold:
		return "mono-700"
	default:
		return "unknown face"
	}
}

// TrueType is the face as a TrueType file, or nil for a face that does not
// exist. All callers share the bytes: they must not be changed.
func (f Face) TrueType() []byte {
	switch f {
	case TextRegular:
		return textRegular
	case TextSemiBold:
		return textSemiBold
	case TextBold:
		return textBold
	case MonoMedium:
		return monoMedium
	case MonoBold:
		return monoBold
	default:
		return nil
	}
}

// Licence is the full text of the SIL Open Font License 1.1 with the copyright
// lines of both families.
func Licence() string { return textLicence + "\n" + monoLicence }
