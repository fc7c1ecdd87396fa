package unpack

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// Claim is what is reported to the supplier of a shipment, as sections of lines.
type Claim struct {
	Order, Supplier string
	Came            []string      // one sentence a delivery, with its dates
	Crates          []store.Photo // of the crates, as they came
	Sections        []Section
	GivenUp         []ClaimLine // which the page shows, and the paper does not
}

// Section is the lines of one kind of claim.
type Section struct {
	Title string
	Lines []ClaimLine
}

// ClaimLine is one line of a claim.
type ClaimLine struct {
	Number      int
	Designation string
	Title       string
	Words       string // "listed 3, found 2: 1 short"
	Photos      []store.Photo
	Sent        string // when and how it was sent, and what was answered; empty: not yet
	Worth       string // "worth 9.00 USD, at 4.50 USD each"; empty where no price is known

	worth, credited store.Money
	surplus         bool
	typed           bool // the price is not from the packing list
}

// PhotoWords is "2 photographs: P-3, P-4"; empty where there is none.
func (l ClaimLine) PhotoWords() string { return photoWords(l.Photos) }

func photoWords(list []store.Photo) string {
	if len(list) == 0 {
		return ""
	}
	var names []string
	for _, p := range list {
		names = append(names, p.Name())
	}
	return wording.Plural(len(names), "photograph", "photographs") + ": " + strings.Join(names, ", ")
}

// Photos are the photographs that the claim names, each once.
func (c Claim) Photos() []store.Photo {
	list := slices.Clone(c.Crates)
	for _, s := range c.Sections {
		for _, l := range s.Lines {
			for _, p := range l.Photos {
				if !slices.Contains(list, p) { // a line can stand in two sections
					list = append(list, p)
				}
			}
		}
	}
	return list
}

// claim draws the claim of a delivery up. Each line stands for itself: left and
// right, and revisions, are never set off against each other. What was found again
// and what the list says is back-ordered is not claimed.
func (d delivery) claim() Claim {
	c := Claim{Order: d.ship.Order, Supplier: d.ship.Supplier}
	for _, came := range d.ship.Deliveries {
		words := "Crates " + strings.Join(came.Crates, ", ") + " came " + came.Arrived.String()
		if len(came.Crates) == 1 {
			words = "Crate" + strings.TrimPrefix(words, "Crates")
		}
		for _, date := range dates(came) {
			words += "; " + date
		}
		var taken []store.Photo
		for _, crate := range came.Crates {
			taken = append(taken, d.crates[crate]...)
		}
		if len(taken) > 0 {
			words += "; " + photoWords(taken)
			c.Crates = append(c.Crates, taken...)
		}
		c.Came = append(c.Came, words+".")
	}
	for _, kind := range []struct {
		kind  store.ClaimKind
		title string
	}{{store.ClaimShort, "Short"}, {store.ClaimDamaged, "Damaged"}, {store.ClaimWrong, "Wrong item or revision"}, {store.ClaimSurplus, "Surplus"}} {
		section := Section{Title: kind.title}
		for _, l := range d.lines {
			for _, claimed := range l.Claims() {
				switch line, given := d.claimLine(l, claimed); {
				case claimed.Kind != kind.kind:
				case given:
					c.GivenUp = append(c.GivenUp, line)
				default:
					section.Lines = append(section.Lines, line)
				}
			}
		}
		if len(section.Lines) > 0 {
			c.Sections = append(c.Sections, section)
		}
	}
	return c
}

// claimLine is a line of the claim; given reports whether it was given up.
func (d delivery) claimLine(l store.Line, c store.Claimed) (line ClaimLine, given bool) {
	line = ClaimLine{
		Number: l.Number(), Designation: l.Designation, Title: l.Title, Words: c.Words, Photos: d.photos[l.ID], Sent: sentWords(d.ship, l, c),
		surplus: c.Kind == store.ClaimSurplus,
	}
	line.worth, line.Worth = worth(l, c)
	claim, as, _ := d.ship.Claim(c)
	line.credited, line.typed = as.Credited, l.Priced != ""
	return line, claim.GivenUp != ""
}

// sentWords is when a line of a claim was sent and what was answered; empty for one
// that was not sent yet.
func sentWords(ship store.Shipment, l store.Line, c store.Claimed) string {
	claim, as, sent := ship.Claim(c)
	if !sent {
		return ""
	}
	if claim.GivenUp != "" {
		return "given up on " + claim.Sent.String() + " by " + claim.Hand + ": " + claim.GivenUp
	}
	words := "sent on " + claim.Sent.String() + " by " + claim.Hand
	if as.Number() != l.Number() {
		words += fmt.Sprintf(", as line %d", as.Number())
	}
	if claim.How != "" {
		words += ", " + claim.How
	}
	if as.Answer != store.NoAnswer {
		words += "; answered: " + string(as.Answer)
		if as.Credited.Known() {
			words += " of " + as.Credited.String()
		}
		if as.Note != "" {
			words += ", " + as.Note
		}
	}
	if f := l.Finding; as.Answer == store.Replacement && f != nil {
		if due, _ := ship.Due(l); due.Sign() > 0 {
			words += "; " + due.String() + " still owed"
		} else if f.Replaced.Sign() > 0 {
			words += "; " + f.Replaced.String() + " came"
		}
	}
	return words
}

// Text is the claim as plain text to copy or to send.
func (c Claim) Text() string {
	var b strings.Builder
	b.WriteString("Claim")
	if c.Order != "" {
		b.WriteString(" for order " + c.Order)
	}
	b.WriteString("\n")
	if c.Supplier != "" {
		b.WriteString("To: " + c.Supplier + "\n")
	}
	for _, s := range c.Came {
		b.WriteString(s + "\n")
	}
	if len(c.Sections) == 0 {
		b.WriteString("\nNothing to claim.\n")
	}
	for _, s := range c.Sections {
		b.WriteString("\n" + s.Title + "\n")
		for _, l := range s.Lines {
			fmt.Fprintf(&b, "  line %d  %s  %s\n      %s\n", l.Number, l.Designation, l.Title, l.Words)
			for _, words := range []string{l.Worth, l.PhotoWords(), l.Sent} {
				if words != "" {
					b.WriteString("      " + words + "\n")
				}
			}
		}
	}
	for i, words := range c.Money() {
		if i == 0 {
			b.WriteString("\n")
		}
		b.WriteString(words + "\n")
	}
	return b.String()
}

// ClaimText is the claim of a shipment as plain text.
func ClaimText(s *session.Session, shipment string) (string, error) {
	d, err := load(s, shipment)
	if err != nil {
		return "", err
	}
	return d.claim().Text(), nil
}

// ClaimState is what the claim page shows.
type ClaimState struct {
	Loading bool
	Title   string
	Note    string // how many lines are still to check: a claim sent now would lack them
	Claim   Claim
	Text    string
	Unsent  int    // lines that were not sent yet
	Sent    int    // lines that were
	Today   string // the day on which it is proposed to have been sent
	Path    string // where Save would write it
	Said    string // what was done last
	Error   string
}

// ClaimModel shows the claim of a shipment and saves it.
type ClaimModel struct {
	// AskReplace asks whether files are written over, and calls replace if they are; nil
	// leaves them as they are and says so.
	AskReplace session.AskReplace

	session *session.Session
	about   string
	ship    string // id of the shipment, once it is read
	folder  string // where Save proposes to write
	show    func(ClaimState)
	state   ClaimState
	writing loop.Once // to the shop, or to a file
}

// NewClaimModel makes the model of a shipment's claim. Folder is where it is
// proposed to be saved.
func NewClaimModel(s *session.Session, shipment, folder string, show func(ClaimState)) *ClaimModel {
	return &ClaimModel{session: s, about: shipment, folder: folder, show: show, state: ClaimState{Loading: true}}
}

// State is what is shown now.
func (m *ClaimModel) State() ClaimState { return m.state }

// Load draws the claim up.
func (m *ClaimModel) Load() {
	session.Do(m.session, func() (delivery, error) { return load(m.session, m.about) }, func(d delivery, err error) {
		m.state.Loading = false
		if err != nil {
			m.state.Error = wording.Error(err)
		} else {
			m.take(d)
		}
		m.show(m.state)
	})
}

func (m *ClaimModel) take(d delivery) {
	m.state.Claim = d.claim()
	m.state.Text = m.state.Claim.Text()
	m.state.Title, m.ship, m.state.Today = "Claim for this delivery", d.ship.ID, d.today.String()
	m.state.Sent, m.state.Unsent = m.state.Claim.sent()
	m.state.Note = strings.TrimSpace(sentNote(m.state.Sent, m.state.Unsent) + " " + d.claimNote())
	if m.state.Path == "" {
		m.state.Path = claimPath(m.folder, d.ship.Order)
	}
}

// claimNote says what a claim that is sent now would lack: lines that are still to
// check, and photographs of what is damaged or wrong.
func (d delivery) claimNote() string {
	open, left := 0, 0
	var unseen []string
	for _, l := range d.lines {
		if d.open(l) {
			open++
		}
		if d.state(l) == store.NeverChecked {
			left++
		}
		if d.needsPhoto(l) {
			unseen = append(unseen, fmt.Sprintf("line %d", l.Number()))
		}
	}
	var words []string
	if open > 0 {
		words = append(words, wording.Plural(open, "line is", "lines are")+" still to check: what they lack is not claimed here yet.")
	}
	if left > 0 {
		words = append(words, wording.Plural(left, "line is", "lines are")+" never going to be checked, and nothing is claimed there.")
	}
	words = append(words, d.lookOnce()...)
	if len(unseen) > 0 {
		words = append(words, "No photograph yet shows what came damaged or wrong of "+strings.Join(unseen, ", ")+".")
	}
	return strings.Join(words, " ")
}

// lookOnce says where to look once more before what is short is claimed: kits nest small
// parts in large ones. What was sent is not asked about again.
func (d delivery) lookOnce() []string {
	var words []string
	short := 0
	for _, l := range d.lines {
		claims := d.ship.Unsent([]store.Line{l})
		if !slices.ContainsFunc(claims, func(c store.Claimed) bool { return c.Kind == store.ClaimShort }) {
			continue
		}
		if short++; short <= mostReminders {
			words = append(words, fmt.Sprintf("line %d, %s", l.Number(), d.lookFirst(l)))
		}
	}
	if short == 0 {
		return nil
	}
	if short > mostReminders {
		words = append(words, wording.Plural(short-mostReminders, "more line", "more lines"))
	}
	return []string{"Look once more before it is sent: " + strings.Join(words, "; ") + "."}
}

// mostReminders is how many lines are named that are to be looked for once more.
const mostReminders = 4

// MarkSent records that what is new on the claim was sent on a day. Asked is called once
// that is done, or with what is wrong; then nothing has changed.
func (m *ClaimModel) MarkSent(day, how string, asked func(problem string)) {
	if strings.TrimSpace(day) == "" { // the page shows a day: one that was deleted is not today
		_, err := m.session.ParseDay(day)
		asked(wording.Error(err))
		return
	}
	m.do(operation.SendClaim{List: m.ship, On: day, How: how}, asked)
}

// Answered records what the supplier answered to lines; "" or all are those that have
// no answer yet. What is wrong is shown.
func (m *ClaimModel) Answered(lines string, answer store.Reply, note, credited string) {
	asked := func(problem string) {
		if problem != "" {
			m.state.Said, m.state.Error = "", problem
			m.show(m.state)
		}
	}
	m.do(operation.AnswerClaim{List: m.ship, Lines: lines, Answer: answer, Note: note, Credited: credited}, asked)
}

// GiveUp records that lines are not claimed, and why; "" or all are those that were not
// sent. Asked is called as by MarkSent.
func (m *ClaimModel) GiveUp(lines, why string, asked func(problem string)) {
	m.do(operation.GiveUpClaim{List: m.ship, Lines: lines, Why: why}, asked)
}

// Unpriced are the lines of the claim that no price is known of, or one that was noted here.
func (m *ClaimModel) Unpriced() []ClaimLine {
	var lines []ClaimLine
	for _, s := range m.state.Claim.Sections {
		for _, l := range s.Lines {
			if !l.surplus && (l.typed || !l.worth.Known()) {
				lines = append(lines, l)
			}
		}
	}
	return lines
}

// Priced records what one unit of a line costs; an empty price is the last that an order
// says. Asked is called as by MarkSent.
func (m *ClaimModel) Priced(line, price string, asked func(problem string)) {
	n, err := strconv.Atoi(strings.TrimSpace(line))
	if err != nil {
		asked("Type the number of a line, such as 7.")
		return
	}
	m.do(operation.PriceLine{List: m.ship, Line: n, Price: price}, asked)
}

// do does an operation on the claim and draws it up again, or tells asked what is wrong.
func (m *ClaimModel) do(o operation.Operation, asked func(problem string)) {
	if m.state.Loading {
		return
	}
	operation.Start(m.session, &m.writing, o, func(r operation.Result, err error) {
		if err != nil {
			asked(wording.Error(err))
			return
		}
		asked("")
		m.state.Said, m.state.Error = wording.Sentence(r.Words()), ""
		m.show(m.state)
		m.Load()
	})
}

// sent is how many lines of the claim were sent, and how many were not yet.
func (c Claim) sent() (sent, unsent int) {
	for _, s := range c.Sections {
		for _, l := range s.Lines {
			if l.Sent == "" {
				unsent++
			} else {
				sent++
			}
		}
	}
	return sent, unsent
}

// sentNote says what is new since the last claim that was sent.
func sentNote(sent, unsent int) string {
	switch {
	case sent == 0:
		return ""
	case unsent == 0:
		return "Everything on this claim was sent."
	}
	return wording.Plural(unsent, "line is", "lines are") + " new since the last claim that was sent."
}

// Copied notes that the text was copied.
func (m *ClaimModel) Copied() {
	m.state.Said, m.state.Error = "Copied: paste it into a letter to the supplier.", ""
	m.show(m.state)
}

// Save writes the claim to a file as its ending says: pages with the photographs in them
// (.pdf), else the text, and the photographs that it names into a folder beside it, all of
// it or nothing. Where a file is there already, AskReplace is called first.
func (m *ClaimModel) Save(path string) { m.save(strings.TrimSpace(path), false) }

func (m *ClaimModel) save(path string, replace bool) {
	if m.state.Loading {
		return
	}
	claim := m.state.Claim
	loop.DoOnce(m.session.Loop, &m.writing, func() (string, error) {
		return saveClaimOf(m.session, claim, path, replace)
	}, func(said string, err error) {
		if m.AskReplace.Asks(err, func() { m.save(path, true) }) {
			return
		}
		m.state.Said, m.state.Error = said, ""
		if err != nil {
			m.state.Said, m.state.Error = "", wording.Error(err)
		}
		m.show(m.state)
	})
}
