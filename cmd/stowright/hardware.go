package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// The commands that answer from the tables need no shop: where there is one,
// what lies in it comes first, and the builder's own figures are used.

// caution is printed with every answer about hardware.
const caution = "The plans, the kit maker's instructions and the authority govern; this helps to check them and approves nothing. Tell look-alikes apart by hand."

// knowledge is what the tables and the shop, if there is one, know together.
type knowledge struct {
	*hardware.Catalog
	atHand []string
}

// know reads the shop where there is one. A shop that was named and is not there is said
// on the log, and so is the person's own one that cannot be read; one that was named and
// is busy or damaged is an error. Ask is given the shop besides, where it can be read.
func (p *program) know(ask ...func(*store.Shop) error) (knowledge, error) {
	k := knowledge{Catalog: hardware.Standard()}
	if p.noShop != nil {
		return k, nil
	}
	if _, err := os.Stat(p.shop); errors.Is(err, os.ErrNotExist) {
		if p.named {
			fmt.Fprintf(p.log, "There is no shop file %s: this answer is from the tables alone.\n", p.shop)
		}
		return k, nil
	}
	known, err := p.knownHere(ask)
	if err == nil || p.named {
		return known, err
	}
	why := "cannot be read, as stowright check says"
	if store.KindOf(err) == store.Busy {
		why = "is open in another program"
	}
	fmt.Fprintf(p.log, "Your shop file %s: this answer is from the tables alone.\n", why)
	return k, nil
}

// knownHere is what the tables and the shop know together.
func (p *program) knownHere(ask []func(*store.Shop) error) (k knowledge, err error) {
	shop, err := p.read()
	if err != nil {
		return k, err
	}
	if k.Catalog, err = session.Catalog(&shop.Reader); err == nil {
		k.atHand, err = session.AtHand(shop)
	}
	for _, f := range ask {
		if err == nil {
			err = f(shop)
		}
	}
	return k, errors.Join(err, shop.Close())
}

// lengthFlag is a length given as a flag or an argument: .190, 3/16, #10, 4.8mm.
type lengthFlag measure.Length

// UnmarshalText reads a length above nothing.
func (l *lengthFlag) UnmarshalText(text []byte) error {
	v, err := measure.ParseLength(string(text))
	if err != nil {
		return err
	}
	if v <= 0 {
		return fmt.Errorf("%q is not a length: give one above 0, such as .190, 3/16, #10 or 4.8mm", text)
	}
	*l = lengthFlag(v)
	return nil
}

// plies turns a thickness as a whole, or those of the parts, into plies.
func plies(stack *lengthFlag, parts []lengthFlag, flag string) ([]hardware.Ply, error) {
	switch {
	case stack != nil && len(parts) > 0:
		return nil, &usageError{fmt.Errorf("give --stack or --%s, not both: the stack is all of them together", flag)}
	case stack != nil:
		return []hardware.Ply{{Thickness: measure.Length(*stack)}}, nil
	case len(parts) == 0:
		return nil, &usageError{fmt.Errorf("give the thickness as --stack .312, or each part as --%s .125 --%s 3/16", flag, flag)}
	}
	list := make([]hardware.Ply, 0, len(parts))
	for _, l := range parts {
		list = append(list, hardware.Ply{Thickness: measure.Length(l)})
	}
	return list, nil
}

// citedJSON is something said with the source it rests on.
type citedJSON struct {
	Text    string `json:"text"`
	Source  string `json:"source"`
	Checked int    `json:"checked"`
	Bad     bool   `json:"bad"`
}

func cited(findings []hardware.Finding) []citedJSON {
	out := make([]citedJSON, 0, len(findings))
	for _, f := range findings {
		out = append(out, citedJSON(f))
	}
	return out
}

// sourceWords is a source as a person reads it, with how often it was checked.
func sourceWords(source string, checked int) string {
	switch {
	case source == "":
		return ""
	case checked > 1:
		return fmt.Sprintf("[%s; %d sources agree]", source, checked)
	case checked == 1:
		return fmt.Sprintf("[%s; 1 source]", source)
	}
	return "[" + source + "]"
}

// sentences writes each finding on a line of its own.
func sentences(b *strings.Builder, indent string, findings []hardware.Finding) {
	for _, f := range findings {
		lead := ""
		if f.Bad {
			lead = "NO: "
		}
		fmt.Fprintln(b, strings.TrimRight(indent+lead+f.Text+" "+sourceWords(f.Source, f.Checked), " "))
	}
}

// marked adds the mark that must go with a designation wherever it is printed.
func marked(text, mark string, inShop bool) string {
	if inShop {
		text += "  (in the shop)"
	}
	if mark != "" {
		text += "  (" + mark + ")"
	}
	return text
}
