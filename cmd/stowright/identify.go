package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// identifyCommand says what a measured piece may be.
type identifyCommand struct {
	Kind string `help:"What sort of piece: bolt, screw, nut, washer, rivet, ..." placeholder:"bolt"`

	Diameter    *lengthFlag `help:"Shank or thread diameter: .190, 3/16, #10, 4.8mm." placeholder:".190"`
	Outside     *lengthFlag `help:"Outside diameter." placeholder:".438"`
	Inside      *lengthFlag `help:"Inside diameter." placeholder:".203"`
	Grip        *lengthFlag `help:"Plain shank under the head, without thread." placeholder:"1/4"`
	Length      *lengthFlag `help:"Length under the head; overall for a countersunk one." placeholder:".656"`
	AcrossFlats *lengthFlag `help:"Across the flats of head or nut." placeholder:"3/8"`
	Thickness   *lengthFlag `help:"Thickness of a washer, height of a nut, section of an O-ring." aliases:"height,section" placeholder:".063"`

	Thread string `help:"Threads per inch as a number (32), or a size (10-32)." placeholder:"32"`
	Pitch  string `help:"Thread pitch by a gauge: .03125 or 0.8mm." placeholder:".03125"`

	Head    string `help:"Head style, or a part of it: hex, countersunk, dome." placeholder:"hex"`
	Marking string `help:"What the head is marked with: dimple, triangle, double dash." placeholder:"dimple"`

	Magnet      string `help:"Does a magnet hold it: yes or no." enum:",yes,no" default:"" placeholder:"yes"`
	Drilled     string `help:"Is there a cotter-pin hole in the shank: yes or no." enum:",yes,no" default:"" placeholder:"no"`
	HeadDrilled string `help:"Is there a lockwire hole in the head: yes or no." enum:",yes,no" default:"" placeholder:"no"`
}

// judgedJSON is one reading held against a candidate; Away is in tolerances.
type judgedJSON struct {
	Name    string `json:"name"`
	Away    string `json:"away"`
	Text    string `json:"text"`
	Unknown bool   `json:"unknown"`
}

type candidateJSON struct {
	Designation string       `json:"designation"`
	Also        []string     `json:"also"`
	Title       string       `json:"title"`
	Mark        string       `json:"mark"`
	InShop      bool         `json:"in_shop"`
	Fits        bool         `json:"fits"`
	Incomplete  bool         `json:"incomplete"`
	Away        string       `json:"away"`
	RuledOut    string       `json:"ruled_out"`
	Readings    []judgedJSON `json:"readings"`
}

type identifyAnswer struct {
	Candidates  []candidateJSON            `json:"candidates"`
	NotExcluded string                     `json:"not_excluded"`
	CannotTell  string                     `json:"cannot_tell"`
	LookAlikes  []hardware.LookAlikeRecord `json:"lookalikes"`
	Caution     string                     `json:"caution"`
}

// Run ranks the pieces that the readings may be of. The answer is no where
// nothing fits.
func (c *identifyCommand) Run(p *program) error {
	readings, err := c.readings()
	if err != nil {
		return &usageError{err}
	}
	k, err := p.know()
	if err != nil {
		return err
	}
	if err := checkKind(k.Catalog, &readings.Kind); err != nil {
		return &usageError{err}
	}
	if err := checkHead(k.Catalog, readings.Kind, readings.Head); err != nil {
		return &usageError{err}
	}
	id, err := k.Identify(readings, k.atHand)
	if err != nil {
		return &usageError{err}
	}
	answer := identified(id)
	if err := p.emit(answer, answer.print); err != nil {
		return err
	}
	if !slices.ContainsFunc(id.Candidates, func(k hardware.Candidate) bool { return k.Fits }) {
		return &noError{id.CannotTell, ""}
	}
	return nil
}

func (c *identifyCommand) readings() (hardware.Readings, error) {
	r := hardware.Readings{
		Kind: hardware.Kind(strings.TrimSpace(c.Kind)), Head: c.Head, Marking: c.Marking,
		Magnetic: seen(c.Magnet), ShankDrilled: seen(c.Drilled), HeadDrilled: seen(c.HeadDrilled),
	}
	for _, f := range []struct {
		from *lengthFlag
		to   *measure.Length
	}{
		{c.Diameter, &r.Diameter},
		{c.Outside, &r.Outside},
		{c.Inside, &r.Inside},
		{c.Grip, &r.Grip},
		{c.Length, &r.Length},
		{c.AcrossFlats, &r.AcrossFlats},
		{c.Thickness, &r.Thickness},
	} {
		if f.from != nil {
			*f.to = measure.Length(*f.from)
		}
	}
	if err := c.thread(&r); err != nil {
		return r, err
	}
	return r, nil
}

// checkKind finds the kind as the tables write it, and refuses one that no table has.
func checkKind(c *hardware.Catalog, kind *hardware.Kind) error {
	if *kind == "" {
		return nil
	}
	var names []string
	for _, f := range c.Families() {
		if plainKind(string(f.Kind)) == plainKind(string(*kind)) {
			*kind = f.Kind
			return nil
		}
		if name := string(f.Kind); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return fmt.Errorf("--kind %q is not in the tables: they have %s", *kind, strings.Join(names, ", "))
}

// checkHead refuses a head that no family of the kind has, with those that there are.
func checkHead(c *hardware.Catalog, kind hardware.Kind, head string) error {
	words := strings.ToLower(strings.TrimSpace(head))
	if words == "" {
		return nil
	}
	for _, f := range c.Families() {
		if (kind == "" || f.Kind == kind) && (strings.Contains(strings.ToLower(f.Style), words) || strings.Contains(strings.ToLower(f.Name), words)) {
			return nil
		}
	}
	if styles := c.HeadStyles(kind); len(styles) > 0 {
		return fmt.Errorf("--head %q is of no %s in the tables: they have %s", head, kind, strings.Join(styles, ", "))
	}
	return fmt.Errorf("--head %q is of no piece in the tables: give a part of its style, such as hex, countersunk or dome", head)
}

// plainKind is a kind without what people write in different ways: "o ring",
// "O-ring", "plate nuts".
func plainKind(kind string) string {
	kind = strings.NewReplacer(" ", "", "-", "").Replace(strings.ToLower(kind))
	return strings.TrimSuffix(kind, "s")
}

// thread reads threads per inch, alone or as the end of a size.
func (c *identifyCommand) thread(r *hardware.Readings) error {
	if c.Thread != "" {
		if !r.ReadThread(c.Thread) {
			return fmt.Errorf("--thread %q is not a thread: give threads per inch such as 32, or a size such as 10-32", c.Thread)
		}
	}
	if c.Pitch == "" {
		return nil
	}
	if c.Thread != "" {
		return errors.New("give --thread or --pitch, not both: they are the same thing")
	}
	pitch, err := measure.ParseLength(c.Pitch)
	if err != nil || pitch <= 0 {
		return fmt.Errorf("--pitch %q is not a length: give the pitch such as .03125 or 0.8mm", c.Pitch)
	}
	r.ThreadPitch = pitch
	return nil
}

func seen(word string) hardware.Answer {
	switch word {
	case "yes":
		return hardware.Yes
	case "no":
		return hardware.No
	}
	return hardware.NotLooked
}

func identified(id hardware.Identification) identifyAnswer {
	a := identifyAnswer{
		Candidates: []candidateJSON{}, NotExcluded: id.NotExcluded, CannotTell: id.CannotTell,
		LookAlikes: []hardware.LookAlikeRecord{}, Caution: caution,
	}
	for _, k := range id.Candidates {
		j := candidateJSON{
			Designation: k.Designation, Also: append([]string{}, k.Also...), Title: k.Title, Mark: k.Mark, InShop: k.InShop,
			Fits: k.Fits, Incomplete: k.Incomplete, Away: k.Away.String(), RuledOut: k.RuledOut, Readings: []judgedJSON{},
		}
		for _, r := range k.Judged {
			j.Readings = append(j.Readings, judgedJSON{r.Name, r.Away.String(), r.Text, r.Unknown})
		}
		a.Candidates = append(a.Candidates, j)
	}
	for _, l := range id.LookAlikes {
		a.LookAlikes = append(a.LookAlikes, hardware.LookAlikeRecord(l))
	}
	return a
}

func (a identifyAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, k := range a.Candidates {
		line := k.Designation
		if len(k.Also) > 0 {
			line += " (also " + strings.Join(k.Also, ", ") + ")"
		}
		verdict := "fits"
		switch {
		case !k.Fits:
			verdict = "ruled out, " + k.Away + " tolerances away: " + k.RuledOut
		case k.Incomplete:
			verdict = "not excluded: a figure that was measured is not in the tables"
		}
		fmt.Fprintf(&b, "%s  %s\n  %s\n", marked(line, k.Mark, k.InShop), k.Title, verdict)
		for _, r := range k.Readings {
			fmt.Fprintf(&b, "    %s\n", r.Text)
		}
	}
	if a.CannotTell != "" {
		fmt.Fprintf(&b, "Cannot tell: %s\n", a.CannotTell)
	}
	if a.NotExcluded != "" {
		fmt.Fprintf(&b, "%s\n", strings.ToUpper(a.NotExcluded[:1])+a.NotExcluded[1:])
	}
	for _, l := range a.LookAlikes {
		fmt.Fprintf(&b, "Beware of %s: %s\n", l.Designation, l.Difference)
	}
	b.WriteString(caution + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}
