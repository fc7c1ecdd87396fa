package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/store"
	"stowright/store/measure"
)

// dueCommand shows what is due by a day or by hours, or records it.
type dueCommand struct {
	Due       string `arg:"" optional:"" help:"What is due, as DU-1; without it, all are listed. With --what, a new one is made." placeholder:"DU-1"`
	What      string `help:"What has to be done." placeholder:"'Condition inspection'"`
	Aircraft  string `help:"Of this aircraft." placeholder:"Q" xor:"of"`
	Component string `help:"Of this component." placeholder:"CO-1" xor:"of"`
	Tool      string `help:"Of this tool." placeholder:"'wrench 2'" xor:"of"`
	Rule      string `help:"The rule in words, as its paper has it." placeholder:"'12 calendar months'"`
	Source    string `help:"Where the rule stands." placeholder:"WORDS"`
	Months    string `help:"Calendar months after it was done, to the last day of the month." placeholder:"12"`
	Every     string `help:"Hours after it was done." placeholder:"50"`
	ByDay     string `help:"The day, as long as it was not done here." placeholder:"2029-05-31"`
	AtHours   string `help:"The hours, as long as it was not done here." placeholder:"500"`
	Job       string `help:"The sub-assembly that lists what it takes." placeholder:"SA-90"`
	Done      string `help:"It was done: by whom." placeholder:"NAME" xor:"do"`
	On        string `help:"With --done: the day (default: today)." placeholder:"2028-05-14"`
	Hours     string `help:"With --done: the hours then." placeholder:"165.7"`
	Remark    string `name:"note" help:"With --done: what else is to be known of it." placeholder:"WORDS"`
	End       string `help:"It is due no more: why." placeholder:"WHY" xor:"do"`
}

// dueAnswer is what is due in the JSON answer; what is not known is left out.
type dueAnswer struct {
	Due       string   `json:"due"`
	What      string   `json:"what"`
	Of        string   `json:"of"`
	Rule      string   `json:"rule"`
	Source    string   `json:"source,omitempty"`
	By        string   `json:"by,omitempty"`
	DaysLeft  *int     `json:"days_left,omitempty"` // below zero: so many days ago
	At        *float64 `json:"at,omitempty"`
	HoursLeft *float64 `json:"hours_left,omitempty"`
	Job       string   `json:"job,omitempty"`
	LastDone  string   `json:"last_entered,omitempty"`
	LastBy    string   `json:"last_by,omitempty"`
	Ended     string   `json:"ended,omitempty"`
}

// Run records it, or lists them.
func (c *dueCommand) Run(p *program) error {
	o, err := c.operation()
	if err != nil {
		return err
	}
	return doOrList(p, o, "dues", func(r *store.Reader) ([]dueAnswer, error) { return dues(r, strings.TrimSpace(c.Due)) }, printDues)
}

// operation is what the options say is to be done; nil for nothing.
func (c *dueCommand) operation() (operation.Operation, error) {
	describes := c.What+c.Aircraft+c.Component+c.Tool+c.Rule+c.Source+c.Months+c.Every+c.ByDay+c.AtHours+c.Job != ""
	switch {
	case c.Done == "" && c.On+c.Hours+c.Remark != "":
		return nil, &usageError{errors.New("--on, --hours and --note go with --done: give both")}
	case describes && c.Done+c.End != "":
		return nil, &usageError{errors.New("--done and --end are entries of their own: give them by themselves")}
	case c.Due == "" && c.Done+c.End != "":
		return nil, &usageError{errors.New("say what is due: DU-1 and the like stand before the options")}
	case c.Done != "":
		return operation.EnterDue{Name: c.Due, By: c.Done, On: c.On, Hours: c.Hours, Note: c.Remark}, nil
	case c.End != "":
		return operation.EndDue{Name: c.Due, Why: c.End}, nil
	case describes:
		return operation.PutDue{
			Name: c.Due, What: c.What, Aircraft: c.Aircraft, Component: c.Component, Tool: c.Tool, Rule: c.Rule, Source: c.Source,
			Months: c.Months, Every: c.Every, By: c.ByDay, At: c.AtHours, Job: c.Job,
		}, nil
	}
	return nil, nil
}

// dues are all of them, or the one of a name.
func dues(r *store.Reader, name string) ([]dueAnswer, error) {
	all, err := r.Dues()
	if err != nil {
		return nil, err
	}
	times, err := r.Times()
	if err != nil {
		return nil, err
	}
	list := []dueAnswer{}
	for _, d := range all {
		if name == "" || strings.EqualFold(d.Name(), name) {
			list = append(list, dueOf(d, times, r.Today()))
		}
	}
	if name != "" && len(list) == 0 {
		return nil, &store.Error{Kind: store.NotFound, Where: name, Message: fmt.Sprintf("Nothing is due under %q in this shop: --what makes one.", name)}
	}
	return list, nil
}

func dueOf(d store.Due, times store.Times, today measure.Date) dueAnswer {
	a := dueAnswer{Due: d.Name(), What: d.What, Of: d.Of(), Rule: d.Rule, Source: d.Source, Job: d.Job}
	by, at := d.Next()
	if !by.IsZero() {
		left := today.DaysUntil(by)
		a.By, a.DaysLeft = isoDay(by), &left
	}
	if at != nil {
		a.At = hoursIn(at)
		if now := times.Due(d); now != nil {
			left := *at - *now
			a.HoursLeft = hoursIn(&left)
		}
	}
	if n := len(d.Done); n > 0 {
		a.LastDone, a.LastBy = isoDay(d.Done[n-1].Day), d.Done[n-1].By
	}
	if d.Ended != nil {
		a.Ended = isoDay(d.Ended.On)
	}
	return a
}

func printDues(w io.Writer, list []dueAnswer) error {
	var b strings.Builder
	for _, a := range list {
		fmt.Fprintf(&b, "%s  %s of %s, %s\n", a.Due, a.What, a.Of, a.Rule)
		if a.LastDone != "" {
			fmt.Fprintf(&b, "    entered for %s, by %s\n", a.LastDone, a.LastBy)
		}
		if a.Ended != "" {
			fmt.Fprintf(&b, "    ended on %s\n", a.Ended)
			continue
		}
		if a.DaysLeft != nil {
			fmt.Fprintf(&b, "    due by %s: %s\n", a.By, left(fmt.Sprint(max(*a.DaysLeft, -*a.DaysLeft)), "days", *a.DaysLeft < 0))
		}
		if a.At != nil {
			words := "how many are left is not known"
			if a.HoursLeft != nil {
				words = left(fmt.Sprintf("%.1f", max(*a.HoursLeft, -*a.HoursLeft)), "h", *a.HoursLeft < 0)
			}
			fmt.Fprintf(&b, "    due at %.1f h: %s\n", *a.At, words)
		}
		if a.DaysLeft == nil && a.At == nil {
			b.WriteString("    by when is not known before it was entered once\n")
		}
		if a.Job != "" {
			fmt.Fprintf(&b, "    what it takes: %s\n", a.Job)
		}
	}
	if len(list) == 0 {
		b.WriteString("Nothing is recorded that is due: stowright due --what WORDS --aircraft NAME --rule WORDS --months 12 does it.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// left is "30 days left", or "2 days over" past it.
func left(figure, unit string, over bool) string {
	if figure == "1" {
		unit = strings.TrimSuffix(unit, "s")
	}
	if over {
		return figure + " " + unit + " over"
	}
	return figure + " " + unit + " left"
}
