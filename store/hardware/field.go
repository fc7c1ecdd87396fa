package hardware

import "stowright/store/measure"

// Kind is what sort of piece a designation names, in plain lower-case words.
type Kind string

// The kinds of the tables.
const (
	Bolt       Kind = "bolt"
	Nut        Kind = "nut"
	PlateNut   Kind = "plate nut"
	Washer     Kind = "washer"
	Rivet      Kind = "rivet"
	BlindRivet Kind = "blind rivet"
	CotterPin  Kind = "cotter pin"
	ClevisPin  Kind = "clevis pin"
	Screw      Kind = "screw"
	Fitting    Kind = "fitting"
	Clamp      Kind = "clamp"
	Lockwire   Kind = "lockwire"
	ORing      Kind = "O-ring"
	CablePart  Kind = "cable part"
	Grommet    Kind = "grommet"
	Hinge      Kind = "hinge"
	RivetNut   Kind = "rivet nut"
	TaperPin   Kind = "taper pin"
	SpringPin  Kind = "spring pin"
	Gasket     Kind = "gasket"
	Terminal   Kind = "terminal"
	CableTie   Kind = "cable tie"
	RodEnd     Kind = "rod end"
	Insert     Kind = "thread insert"
	Bushing    Kind = "bushing"
	SafetyPin  Kind = "safety pin"
	DowelPin   Kind = "dowel pin"
	QuickPin   Kind = "quick-release pin"
	BackUpRing Kind = "back-up ring"
	Stock      Kind = "stock"
)

// Names of fields.
const (
	Diameter         = "diameter"
	Thread           = "thread"
	Grip             = "grip"
	LengthField      = "length"
	ThreadLength     = "thread_length"
	Material         = "material"
	Finish           = "finish"
	HeadStyle        = "head_style"
	HeadDrilled      = "head_drilled"
	ShankDrilled     = "shank_drilled"
	HeadMarking      = "head_marking"
	AcrossFlats      = "across_flats"
	HeadHeight       = "head_height"
	CotterHole       = "cotter_hole"
	CotterFromEnd    = "cotter_hole_from_end" // to the centre of the hole
	Height           = "height"               // of a nut
	Thickness        = "thickness"
	InsideDiameter   = "inside_diameter"
	OutsideDiameter  = "outside_diameter"
	TubeDiameter     = "tube_diameter"
	CountersinkAngle = "countersink_angle"
	Fits             = "fits"
	Lock             = "lock"
	Recess           = "recess"
	CrossSection     = "cross_section" // of an O-ring
	Hand             = "hand"          // of a thread
	CableDiameter    = "cable_diameter"
	PipeSize         = "pipe_size"
	HoseSize         = "hose_size"
	Size             = "size"         // where the numbers of a series are steps of no other figure
	Listed           = "dash_numbers" // always unknown: which numbers are made is in no source
)

// Field is one fact about a piece with where it comes from.
type Field struct {
	Name   string         // one of the names above
	Length measure.Length // 0 where the fact is not a length
	// Minus and Plus are the published tolerances on Length; the band that a
	// good piece measures in is Length-Minus to Length+Plus. Both 0: none known.
	Minus, Plus measure.Length
	Text        string // what a person reads; always set
	Unit        string // "in", "deg" or ""
	Source      string // standard or handbook with its table or paragraph
	Checked     int    // independent published sources that agree; 0 is none
	Unknown     bool   // no source gives the figure; Text says so and why
	Own         bool   // typed or brought by the builder from a source they named
}

// Words that go with a figure wherever it is shown or printed.
const (
	NotCrossChecked = "not cross-checked"
	BuildersOwn     = "your own figure"
)

// Mark is what must be shown beside the fact: NotCrossChecked, BuildersOwn or "".
func (f Field) Mark() string {
	switch {
	case f.Unknown:
		return ""
	case f.Own:
		return BuildersOwn
	case f.Checked == 0:
		return NotCrossChecked
	}
	return ""
}

// String is the fact with its mark, as a person reads it.
func (f Field) String() string {
	if m := f.Mark(); m != "" {
		return f.Text + " (" + m + ")"
	}
	return f.Text
}

// Metric is the length in millimetres, with the band of its tolerances where one is published:
// "6.35 mm, 5.9531 mm to 6.7469 mm". It is empty where the fact is no length.
func (f Field) Metric() string {
	switch {
	case f.Length <= 0 || f.Unknown:
		return ""
	case f.Minus == 0 && f.Plus == 0:
		return f.Length.Metric()
	}
	band := (f.Length - f.Minus).Metric() + " to " + (f.Length + f.Plus).Metric()
	return f.Length.Metric() + ", " + band
}

// cite is where a figure comes from.
type cite struct {
	source  string
	checked int
}

func textField(name, text string, from cite) Field {
	return Field{Name: name, Text: text, Source: from.source, Checked: from.checked}
}

func unknownField(name, why string, from cite) Field {
	return Field{Name: name, Text: "unknown: " + why, Source: from.source, Unknown: true}
}

func lengthField(name string, l measure.Length, from cite) Field {
	return Field{Name: name, Length: l, Text: l.String(), Unit: "in", Source: from.source, Checked: from.checked}
}

// short writes a length as briefly as people say it: "1/4" or "0.063".
func short(l measure.Length) string {
	if f, ok := l.Fraction(); ok {
		return f
	}
	return l.Printed()
}
