package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store/build"
	"stowright/store/measure"
)

// readyCommand says which sub-assemblies can be started, and what stops the others.
type readyCommand struct {
	asOfFlag
	Code   string `arg:"" optional:"" help:"One sub-assembly, by its code; without it, all in the builder's order."`
	Before string `help:"Build it before that one from now on." placeholder:"CODE" xor:"change"`
	LetGo  bool   `help:"Let what is kept for it go to others." xor:"change"`
	Hold   bool   `help:"Keep what it needs for it again." xor:"change"`
}

// readyBlocker is what stops a sub-assembly in the JSON answer. Quantities are in Unit.
// Low and High are the range of Free where it is an estimate.
type readyBlocker struct {
	Item   string `json:"item"`
	Called string `json:"called,omitempty"`
	Needed string `json:"needed"`
	Free   string `json:"free"`
	Here   string `json:"here"`
	Low    string `json:"free_low,omitempty"`
	High   string `json:"free_high,omitempty"`
	Unit   string `json:"unit"`
	Reason string `json:"reason"`
}

// readyNeed is one requirement in the JSON answer about one sub-assembly.
type readyNeed struct {
	Item   string            `json:"item"`
	Called string            `json:"called,omitempty"`
	Needed string            `json:"needed"`
	Fitted string            `json:"fitted"`
	Pulled string            `json:"pulled"`
	Free   string            `json:"free"`
	Here   string            `json:"here"`
	Held   map[string]string `json:"held,omitempty"`
	Unit   string            `json:"unit"`
	Met    bool              `json:"met"`
}

type readySub struct {
	Code     string         `json:"code"`
	Name     string         `json:"name"`
	State    build.State    `json:"state"`
	Sentence string         `json:"sentence"`
	Hours    float64        `json:"hours"`
	Blockers []readyBlocker `json:"blockers"`
	Needs    []readyNeed    `json:"needs,omitempty"`
	Joints   []jointJSON    `json:"joints,omitempty"` // of one that was asked about
}

type readyAction struct {
	Action string   `json:"action"`
	Frees  []string `json:"frees"`
	Hours  float64  `json:"hours"`
	Costs  []string `json:"costs,omitempty"`
	Says   string   `json:"sentence"`
}

type readyAnswer struct {
	Ready         int                `json:"ready"`
	Of            int                `json:"of"`
	SubAssemblies []readySub         `json:"sub_assemblies"`
	Cheapest      []readyAction      `json:"cheapest"`
	AsOf          *pastState         `json:"as_of,omitempty"`
	checks        []build.JointCheck // of one that was asked about
}

// change is what is to be done to the order; nil for nothing.
func (c *readyCommand) change(s *session.Session) (operation.Operation, error) {
	switch {
	case c.Before == "" && !c.LetGo && !c.Hold:
		return nil, nil
	case c.Code == "":
		return nil, &usageError{errors.New("say which sub-assembly: ready CODE --before OTHER")}
	case c.LetGo || c.Hold:
		return operation.LetGo{For: c.Code, Hold: c.Hold}, nil
	}
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return nil, err
	}
	moved, err := session.SubAssemblyNamed(subs, c.Code)
	if err != nil {
		return nil, err
	}
	then, err := session.SubAssemblyNamed(subs, c.Before)
	if err != nil {
		return nil, err
	}
	if moved.Code == then.Code {
		return nil, &usageError{fmt.Errorf("%s cannot be built before itself: name another one", moved.Code)}
	}
	var codes []string
	for _, sub := range subs {
		switch sub.Code {
		case moved.Code:
		case then.Code:
			codes = append(codes, moved.Code, then.Code)
		default:
			codes = append(codes, sub.Code)
		}
	}
	return operation.OrderSubAssemblies{Codes: codes}, nil
}

// Run changes the order where that is asked for, and prints how the sub-assemblies stand.
func (c *readyCommand) Run(p *program) error {
	c.on(p)
	if c.Before != "" || c.LetGo || c.Hold {
		return p.withSession(func(s *session.Session) error {
			o, err := c.change(s)
			if err != nil {
				return err
			}
			return p.doIn(s, o)
		})
	}
	return p.withSession(func(s *session.Session) error {
		var answer readyAnswer
		err := s.Read(func(r *session.Reader) (err error) {
			answer, err = c.answer(r)
			return err
		})
		if err != nil {
			return err
		}
		answer.AsOf = p.past
		if err := p.emit(answer, answer.print); err != nil {
			return err
		}
		if c.Code != "" && answer.Ready == 0 {
			sub := answer.SubAssemblies[0]
			return &noError{sub.Code + " " + sub.Sentence + ".", sub.Code}
		}
		return nil
	})
}

func (c *readyCommand) answer(r *session.Reader) (readyAnswer, error) {
	code := c.Code
	if code != "" {
		subs, err := r.Shop.SubAssemblies()
		if err != nil {
			return readyAnswer{}, err
		}
		sub, err := session.SubAssemblyNamed(subs, code)
		if err != nil {
			return readyAnswer{}, err
		}
		code = sub.Code
	}
	var a readyAnswer
	err := r.Board(func(b *build.Board) error {
		a = readyOf(b, code)
		return nil
	})
	if err != nil || code == "" {
		return a, err
	}
	a.checks, err = r.Joints(code)
	a.SubAssemblies[0].Joints = jointsOf(a.checks)
	return a, err
}

// readyOf is the answer about one sub-assembly, or about all for "".
func readyOf(b *build.Board, code string) readyAnswer {
	a := readyAnswer{SubAssemblies: []readySub{}, Cheapest: []readyAction{}}
	a.Ready, a.Of = b.Ready()
	if code != "" {
		a.Ready, a.Of = 0, 1
	}
	for _, s := range b.Statuses() {
		if code != "" && s.Code != code {
			continue
		}
		sub := readySub{Code: s.Code, Name: s.Name, State: s.State, Sentence: s.Sentence, Hours: hoursOf(s.Hours), Blockers: []readyBlocker{}}
		for _, x := range s.Blockers {
			sub.Blockers = append(sub.Blockers, blockerOf(x))
		}
		if code != "" {
			sub.Needs = needsOf(s)
			if s.State.Startable() {
				a.Ready = 1
			}
		}
		a.SubAssemblies = append(a.SubAssemblies, sub)
	}
	for _, u := range b.Cheapest().Unblocks {
		a.Cheapest = append(a.Cheapest, readyAction{Action: u.Do, Frees: u.Frees, Hours: hoursOf(u.Hours), Costs: u.Costs, Says: u.Sentence})
	}
	return a
}

func hoursOf(h build.Hours) float64 { return float64(h) / 10 }

func blockerOf(x *build.Blocker) readyBlocker {
	_, reason, _ := strings.Cut(x.Sentence, ": ")
	b := readyBlocker{
		Item: x.Item, Needed: x.Need.Plain(), Free: x.Free.Plain(), Here: x.Here.Plain(), Unit: string(x.Need.Unit), Reason: reason,
	}
	if x.Called != x.Item {
		b.Called = x.Called
	}
	if x.Free.Estimate() {
		b.Low, b.High = x.Free.Low.Plain(), x.Free.High.Plain()
	}
	return b
}

func needsOf(s build.Status) []readyNeed {
	var needs []readyNeed
	number := func(a measure.Amount) string { return a.Plain() }
	for _, n := range s.Needs {
		need := readyNeed{
			Item: n.Item, Needed: n.Needed.Plain(), Fitted: number(n.Fitted), Pulled: number(n.Pulled), Free: number(n.Free), Here: number(n.Here),
			Unit: string(n.Needed.Unit), Met: n.Met,
		}
		if n.Called != n.Item {
			need.Called = n.Called
		}
		for _, h := range n.Held {
			if need.Held == nil {
				need.Held = map[string]string{}
			}
			need.Held[h.Code] = h.Quantity.Plain()
		}
		needs = append(needs, need)
	}
	return needs
}

// stateMarks show how a sub-assembly stands by a shape of its own too.
var stateMarks = map[build.State]string{
	build.Ready: "+", build.Begun: "+", build.Estimate: "?", build.Blocked: "x", build.Closed: "=", build.Unlisted: "?",
}

func (a readyAnswer) print(w io.Writer) error {
	var b strings.Builder
	if a.Of == 0 {
		b.WriteString("No sub-assembly is in this shop yet: stowright needs FILE brings their lists in.\n")
	} else if len(a.SubAssemblies) != 1 || a.Of > 1 {
		fmt.Fprintf(&b, "%d of %d can be started.\n", a.Ready, a.Of)
	}
	for _, s := range a.SubAssemblies {
		fmt.Fprintf(&b, "%s %s  %s", stateMarks[s.State], s.Code, s.Name)
		if s.Hours > 0 {
			fmt.Fprintf(&b, ", %g h", s.Hours)
		}
		b.WriteString("\n")
		if s.State == build.Blocked {
			for _, x := range s.Blockers {
				fmt.Fprintf(&b, "    %s: %s\n", x.Item, x.Reason)
			}
		} else {
			fmt.Fprintf(&b, "    %s\n", s.Sentence)
		}
		for _, n := range s.Needs {
			fmt.Fprintf(&b, "    %-16s need %s, free %s of %s%s\n", n.Item, n.Needed, n.Free, n.Here, fittedWords(n))
		}
	}
	for _, x := range a.checks {
		fmt.Fprintf(&b, "    %s\n", jointWords(x))
	}
	if len(a.Cheapest) > 0 {
		b.WriteString("Cheapest first:\n")
	}
	for _, u := range a.Cheapest {
		fmt.Fprintf(&b, "  %s\n", u.Says)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func fittedWords(n readyNeed) string {
	words := ""
	if n.Pulled != "0" {
		words += ", pulled " + n.Pulled
	}
	if n.Fitted != "0" {
		words += ", fitted " + n.Fitted
	}
	return words
}
