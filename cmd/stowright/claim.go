package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/unpack"
	"stowright/store"
)

// claimCommand draws the claim of a packing list up, and notes what became of it.
type claimCommand struct {
	listFlag
	replaceFlag
	Out    string `help:"The file to write: pages with photographs where it ends in .pdf, else text with the photographs in a folder beside it." type:"path" placeholder:"FILE"`
	Sent   bool   `help:"It was sent, with all that was not sent before."`
	On     string `help:"The day it was sent (default: today)." placeholder:"2026-03-18"`
	How    string `help:"How it was sent; needed with --sent." placeholder:"WORDS"`
	Answer string `help:"What the supplier answered: replacement, credit or refused." enum:",replacement,credit,refused" default:"" placeholder:"ANSWER"`
	GiveUp string `help:"What was not sent is not claimed, and why: all of it, or --lines." placeholder:"WHY"`
	Line   int    `help:"The line that --price is of." placeholder:"LINE"`
	Price  string `help:"What one unit of --line costs, where the packing list does not say: 4.50 USD, or last for the last price of an order." placeholder:"AMOUNT"`
	Lines  string `help:"The lines that were answered (default: all without an answer), or are given up." placeholder:"LINE,..."`
	Note   string `help:"The answer in words." placeholder:"WORDS"`
	// Credited is said line by line.
	Credited string `help:"The sum that is credited for one line; needs --answer credit and --lines." placeholder:"AMOUNT"`
}

// claimAnswer is what claim prints with --json.
type claimAnswer struct {
	Text string `json:"text"`
}

// Run prints the claim, or notes that it was sent or answered.
func (c *claimCommand) Run(p *program) error {
	if err := c.wrong(); err != nil {
		return &usageError{err}
	}
	switch {
	case c.Out != "":
		return c.save(p)
	case c.Sent:
		return p.do(operation.SendClaim{List: c.List, On: c.On, How: c.How})
	case c.GiveUp != "":
		return p.do(operation.GiveUpClaim{List: c.List, Lines: c.Lines, Why: c.GiveUp})
	case c.Price != "":
		return p.do(operation.PriceLine{List: c.List, Line: c.Line, Price: strings.TrimPrefix(c.Price, "last")})
	case c.Answer != "":
		answer := strings.Replace(c.Answer, "replacement", string(store.Replacement), 1)
		return p.do(operation.AnswerClaim{List: c.List, Lines: c.Lines, Answer: store.Reply(answer), Note: c.Note, Credited: c.Credited})
	}
	return p.withSession(func(s *session.Session) error {
		ship, err := operation.ShipmentNamed(s, c.List)
		if err != nil {
			return err
		}
		text, err := unpack.ClaimText(s, ship.ID)
		if err != nil {
			return err
		}
		return p.emit(claimAnswer{text}, func(w io.Writer) error {
			_, err := io.WriteString(w, text)
			return err
		})
	})
}

// wrong is what of the flags does not go together; nil where all do.
func (c *claimCommand) wrong() error {
	entries := 0
	for _, given := range []bool{c.Sent, c.Answer != "", c.GiveUp != "", c.Price != ""} {
		if given {
			entries++
		}
	}
	switch {
	case entries > 1:
		return errors.New("--sent, --answer, --give-up and --price are entries of their own: give one of them")
	case (c.Price != "") != (c.Line != 0):
		return errors.New("--price is of one line: give it with --line")
	case c.On != "" && !c.Sent:
		return errors.New("--on is the day on which it was sent: give it with --sent")
	case c.Credited != "" && (c.Answer != "credit" || c.Lines == ""):
		return errors.New("--credited is the sum for one line: give it with --answer credit and --lines")
	case c.Out != "" && entries > 0:
		return errors.New("--out saves the claim: give it without an entry")
	case c.Out == "" && c.Sent && strings.TrimSpace(c.How) == "":
		return errors.New("--sent needs --how: how the claim was sent is what proves it, such as --how 'by mail to parts'")
	}
	return nil
}

// save writes the claim to a file.
func (c *claimCommand) save(p *program) error {
	return p.withSession(func(s *session.Session) error {
		ship, err := operation.ShipmentNamed(s, c.List)
		if err != nil {
			return err
		}
		said, err := unpack.SaveClaim(s, ship.ID, c.Out, c.Replace)
		if err != nil {
			return err
		}
		return p.emit(claimSaved{c.Out, said}, func(w io.Writer) error {
			_, err := fmt.Fprintln(w, said)
			return err
		})
	})
}

type claimSaved struct {
	File string `json:"file"`
	Text string `json:"text"`
}
