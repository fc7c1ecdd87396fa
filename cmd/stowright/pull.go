package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/building"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
	"stowright/store/build"
)

// pullCommand says what is taken out of which places for sub-assemblies, in one walk.
type pullCommand struct {
	replaceFlag
	Codes   []string `arg:"" help:"The sub-assemblies, by their codes: one walk, with a tray for each."`
	List    bool     `help:"Only say what is to be taken, which is what it does without --tick and --confirm too." xor:"do"`
	Out     string   `help:"Write the list as a PDF with boxes to tick." type:"path" placeholder:"FILE.pdf" xor:"do"`
	Tick    []string `help:"What was taken: places of the list, with how many where it is not what the list says." placeholder:"A-03,A-12=4" xor:"do"`
	Confirm bool     `help:"All of the list was taken, as it says." xor:"do"`
}

// pullShare is what of a stop goes into a tray, in the JSON answer.
type pullShare struct {
	Code     string `json:"code"`
	Quantity string `json:"quantity"`
}

// pullStop is a stop of the walk in the JSON answer. Called is the number on the plans:
// Item itself, where they say no other.
type pullStop struct {
	Place    string      `json:"place"`
	Tag      string      `json:"tag"`
	Item     string      `json:"item"`
	Lot      string      `json:"lot,omitempty"`
	Quantity string      `json:"quantity"`
	Unit     string      `json:"unit"`
	Estimate bool        `json:"estimate,omitempty"`
	For      []pullShare `json:"for"`
	Called   string      `json:"called"`
	By       string      `json:"called_by,omitempty"`
	Expires  store.Date  `json:"expires,omitzero"`
	Beware   []string    `json:"beware"`
}

type pullShort struct {
	Code   string `json:"code"`
	Item   string `json:"item"`
	Needed string `json:"needed"`
	Have   string `json:"have"`
	Unit   string `json:"unit"`
	Reason string `json:"reason"`
}

type pullAnswer struct {
	Stops []pullStop  `json:"stops"`
	Short []pullShort `json:"short"`
	Ask   []string    `json:"ask,omitempty"`
}

// print writes the list as a PDF.
func (c *pullCommand) print(p *program, s *session.Session) error {
	doc, err := building.PullPaper(s, c.Codes)
	if err != nil {
		return err
	}
	if err := session.WritePDF(c.Out, doc, labels.PDFOptions{Made: p.clock()}, c.files(p)); err != nil {
		return err
	}
	return p.emit(sheetAnswer{c.Out, len(doc.Pages)}, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "%s in %s. Print at 100 %%.\n", wording.Plural(len(doc.Pages), "page", "pages"), c.Out)
		return err
	})
}

// Run prints the list, or books what was taken of it.
func (c *pullCommand) Run(p *program) error {
	return p.withSession(func(s *session.Session) error {
		switch {
		case c.Out != "":
			return c.print(p, s)
		case len(c.Tick) > 0 || c.Confirm:
			return p.doIn(s, operation.PullTicked{Codes: c.Codes, All: c.Confirm, Ticked: c.Tick})
		}
		list, err := session.Answer(s, func(r *session.Reader) (build.PullList, error) { return r.PullList(c.Codes...) })
		if err != nil {
			return err
		}
		answer := pullOf(list)
		if err := p.emit(answer, answer.print); err != nil {
			return err
		}
		return answer.short(list.For)
	})
}

// short is the answer no where the list cannot fill what is called.
func (a pullAnswer) short(codes []string) error {
	if len(a.Short) == 0 {
		return nil
	}
	first := a.Short[0]
	words := fmt.Sprintf("%s is short: %s: %s.", first.Code, first.Item, first.Reason)
	if n := len(a.Short) - 1; n > 0 {
		words += fmt.Sprintf(" %s short too.", wording.Plural(n, "line is", "lines are"))
	}
	return &noError{words, strings.Join(codes, ", ")}
}

func pullOf(list build.PullList) pullAnswer {
	a := pullAnswer{Stops: []pullStop{}, Short: []pullShort{}}
	for _, s := range list.Stops {
		stop := pullStop{
			Place: s.Place.Name, Tag: s.Place.Tag, Item: s.Item, Lot: s.LotName, Quantity: s.Quantity.Plain(), Unit: string(s.Quantity.Unit),
			Estimate: s.Estimate, For: []pullShare{}, Called: s.Called, Beware: append([]string{}, s.Beware...), Expires: s.Expires,
		}
		if s.Called == "" {
			stop.Called = s.Item
		}
		stop.By = session.CalledBy(s)
		for _, share := range s.For {
			stop.For = append(stop.For, pullShare{share.Code, share.Quantity.Plain()})
		}
		a.Stops = append(a.Stops, stop)
	}
	for _, x := range list.Short {
		_, reason, _ := strings.Cut(x.Sentence, ": ")
		a.Short = append(a.Short, pullShort{Code: x.Code, Item: x.Item, Needed: x.Needed.Plain(), Have: x.Have.Plain(), Unit: string(x.Needed.Unit), Reason: reason})
	}
	for _, q := range list.Ask {
		a.Ask = append(a.Ask, strings.TrimSpace(q.Code+": "+q.Sentence))
	}
	return a
}

func (a pullAnswer) print(w io.Writer) error {
	var b strings.Builder
	for i, s := range a.Stops {
		fmt.Fprintf(&b, "%2d  %-6s %8s  %s", i+1, s.Place, s.Quantity, s.Item)
		if s.Unit != "ea" {
			fmt.Fprintf(&b, ", %s", s.Unit)
		}
		if s.Called != s.Item {
			fmt.Fprintf(&b, ", called %s", s.Called)
		}
		if s.By != "" {
			fmt.Fprintf(&b, " (%s)", s.By)
		}
		if !s.Expires.IsZero() {
			fmt.Fprintf(&b, ", expires %s", s.Expires)
		}
		b.WriteString("\n")
		if len(s.For) > 1 {
			for _, share := range s.For {
				fmt.Fprintf(&b, "               %s %s\n", share.Quantity, share.Code)
			}
		}
		for _, words := range s.Beware {
			fmt.Fprintf(&b, "    beware: %s\n", words)
		}
	}
	if len(a.Stops) == 0 {
		b.WriteString("Nothing is left to pull.\n")
	}
	for _, x := range a.Short {
		fmt.Fprintf(&b, "short: %s: %s, %s\n", x.Code, x.Item, x.Reason)
	}
	for _, q := range a.Ask {
		fmt.Fprintf(&b, "ask: %s\n", q)
	}
	_, err := io.WriteString(w, b.String())
	return err
}
