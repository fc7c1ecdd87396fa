package app

import (
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
)

// keyboard keeps what is typed in order. While something that was asked for is on its way (a
// page, a question, an entry that is being written), what is typed is meant for what comes: it
// waits, and is then given in order to whatever has the focus by that time. A hand scanner is
// told from fingers by scanGuard, and its code goes to the command bar.
type keyboard struct {
	frame   *Frame
	asked   *loop.Asked
	waiting []look.Typed // in order
	giving  bool         // what waited is being given: it is not kept again
	next    int          // where in waiting what is being given puts what it leads to
	since   time.Time    // when the first of it began to wait
	limit   loop.Latest  // of the waiting
	scan    scanGuard
}

// Times of the waiting.
const (
	// longestWait is how long what is typed waits at most. Then it is dropped, since it would
	// reach something that it was not meant for, and that is said.
	longestWait = 30 * time.Second
	// impatience is how long it must have waited for Esc to mean that nobody waits any more.
	impatience = 2 * time.Second
)

func newKeyboard(f *Frame, l loop.Loop) *keyboard {
	k := &keyboard{frame: f, asked: l.Asked}
	k.scan.keyboard = k
	l.Asked.WhenAnswered(k.answered)
	return k
}

// Took reports whether what was typed is kept.
func (k *keyboard) Took(t look.Typed) bool {
	switch {
	case k.giving:
		return false
	case k.scan.took(t):
		return true
	}
	return k.keep(t)
}

// Waits reports whether what is typed now would be kept.
func (k *keyboard) Waits() bool {
	return !k.giving && (len(k.scan.kept) > 0 || len(k.waiting) > 0 || k.asked.Waiting())
}

// keep keeps what was typed while something is on its way, and reports whether it did.
func (k *keyboard) keep(t look.Typed) bool {
	if len(k.waiting) == 0 && !k.asked.Waiting() {
		return false
	}
	now := k.Now()
	if len(k.waiting) == 0 {
		k.since = now
		k.limitWait()
	}
	if t.Key != nil && t.Key.Name == fyne.KeyEscape && now.Sub(k.since) >= impatience {
		k.drop()
		return false
	}
	k.waiting = append(k.waiting, t)
	return true
}

// limitWait sees to it that nothing waits for ever.
func (k *keyboard) limitWait() {
	after := k.frame.options.Loop.After
	if after == nil {
		return
	}
	request := k.limit.Start()
	after(longestWait, func() {
		if !request.Current() || !k.asked.Waiting() || k.Now().Sub(k.since) < longestWait {
			return
		}
		k.drop()
		k.frame.Say(notice.Notice{Tone: notice.Warn, Text: "This takes longer than it should. What was typed meanwhile was not used."})
	})
}

// drop forgets what waits, and waits for nothing more.
func (k *keyboard) drop() {
	k.asked.GiveUp()
	k.limit.Drop()
	k.waiting = nil
}

// answered gives what waited, now that all that was asked for is there. What is given may ask
// for something again: then the rest waits on.
func (k *keyboard) answered() {
	k.frame.settle()
	for len(k.waiting) > 0 && !k.asked.Waiting() {
		next := k.waiting[0]
		k.waiting = k.waiting[1:]
		k.give(next)
	}
	if len(k.waiting) == 0 {
		k.limit.Drop()
	}
	k.settled()
}

// give gives what was typed to what has the focus.
func (k *keyboard) give(t look.Typed) {
	k.giving, k.next = true, 0
	defer func() { k.giving = false }()
	var focused fyne.Focusable
	if c := k.frame.canvas(); c != nil {
		focused = c.Focused()
	}
	switch {
	case t.Do != nil:
		t.Do()
	case t.Shortcut != nil:
		if f, ok := focused.(fyne.Shortcutable); ok {
			f.TypedShortcut(t.Shortcut)
		} else {
			k.frame.typedShortcut(t.Shortcut)
		}
	case t.Key != nil && (t.Key.Name == fyne.KeyTab || t.Key.Name == look.BackTab):
		look.Onward(k.frame.canvas(), t.Key.Name)
	case t.Key != nil && focused != nil:
		focused.TypedKey(t.Key)
	case t.Key != nil:
		k.frame.typedKey(t.Key)
	case focused != nil:
		focused.TypedRune(t.Rune)
	default:
		k.frame.typedRune(t.Rune)
	}
}

// Asked does what a tap asks for.
func (k *keyboard) Asked(do func()) {
	k.asked.Ask(do)
	k.settled()
}

// settled tells that all that was asked for is there.
func (k *keyboard) settled() {
	if !k.asked.Waiting() {
		call(k.frame.options.Settled)
	}
}

// Shortcut does what a shortcut of the window is for.
func (k *keyboard) Shortcut(s fyne.Shortcut) { k.frame.typedShortcut(s) }

// Now is what the clock says.
func (k *keyboard) Now() time.Time { return k.frame.options.Loop.Clock() }

// Offer lists what the card offers, once it is there.
func (k *keyboard) Offer() { k.inTurn(k.frame.askAll) }

// inTurn does something once what was asked for before is there: at once, before what was typed
// behind it.
func (k *keyboard) inTurn(do func()) {
	t := look.Typed{Do: do}
	switch {
	case k.giving && k.asked.Waiting(): // what is being given asks for it: all that waits came later
		k.waiting = slices.Insert(k.waiting, k.next, t)
		k.next++
	case k.giving || !k.keep(t):
		k.Asked(do)
	}
}

// scanGuard tells a hand scanner from fingers. A scanner types a code at once, a few
// milliseconds a character, and ends with Enter, as most are set, or with another key, or with
// nothing. Nothing but the time between two characters
// and the grammar of the codes tells the two apart, so both are asked, and nothing is lost where
// the answer is no:
//
//   - what is typed is kept as long as it is the beginning of a code (a tag of this program, or the
//     code of a printed pull list) and each character came within scanGap of the one before, by a
//     timer that lets what came while the window was drawing go first;
//   - a whole code that no further character follows was scanned: it goes to the command bar wherever the
//     focus is, or to a field that says that it takes codes, and no key of a page is pressed;
//   - anything else goes where it would have gone at once, in order, as soon as a character does
//     not fit or does not come in time.
//
// So a letter that no code begins with is never kept, and S or P alone not longer than an eye
// sees. After scanSure characters at that speed no finger is meant any more, and a machine that
// halts for a moment does not break the code.
type scanGuard struct {
	keyboard *keyboard
	kept     []look.Typed // all that was typed since the code began, keys without a character too
	text     string       // the code so far
	last     time.Time    // when its last character came
	wait     loop.Latest  // for the next one
}

const (
	// scanGap is how long the next character of a scan may take. Scanners need 1 to 20 ms a
	// character; fingers seldom less than 60.
	scanGap = 40 * time.Millisecond
	// scanGrace is how long it is waited once more when scanGap is over. A window that was drawing
	// meanwhile has not been handed the keys that came in that time: they come first now.
	scanGrace = 10 * time.Millisecond
	// scanSure is after how many characters a pause of scanPause is forgiven. A window that was
	// drawing for longer than that knows nothing of the pace any more.
	scanSure  = 4
	scanPause = 500 * time.Millisecond
)

// took reports whether the guard has dealt with what was typed.
func (g *scanGuard) took(t look.Typed) bool {
	f := g.keyboard.frame
	if f.options.Code == nil || f.options.Loop.After == nil {
		return false
	}
	if len(g.kept) > 0 && f.options.Loop.Clock().Sub(g.last) > scanPause {
		if g.ended() {
			return g.took(t)
		}
		return g.released(t)
	}
	switch {
	case t.Rune != 0:
		return g.character(t)
	case len(g.kept) == 0:
		return false
	case t.Key != nil && ends(t.Key.Name):
		return g.ended() || g.released(t)
	case t.Key != nil && (len(t.Key.Name) == 1 || t.Key.Name == fyne.KeySpace || modifier(t.Key.Name)):
		g.kept = append(g.kept, t) // of a character that follows
		return true
	}
	return g.released(t)
}

// released lets go what was kept, and then what was typed behind it: by now something else may
// have the focus than what it was typed into.
func (g *scanGuard) released(t look.Typed) bool {
	g.release()
	if t.Rune != 0 && g.character(t) {
		return true // it may begin a code itself
	}
	if !g.keyboard.keep(t) {
		g.keyboard.give(t)
	}
	return true
}

// patience is how long the next character may take.
func (g *scanGuard) patience() time.Duration {
	if len(g.text) >= scanSure {
		return scanPause
	}
	return scanGap
}

// character keeps a character that goes on with a code.
func (g *scanGuard) character(t look.Typed) bool {
	text := g.text + strings.ToUpper(string(t.Rune))
	if begun, _ := g.keyboard.frame.options.Code(text); !begun {
		return len(g.kept) > 0 && g.released(t)
	}
	g.text, g.kept = text, append(g.kept, t)
	g.last = g.keyboard.frame.options.Loop.Clock()
	request := g.wait.Start()
	after := g.keyboard.frame.options.Loop.After
	after(g.patience(), func() {
		if request.Current() {
			after(scanGrace, func() { g.late(request) })
		}
	})
	return true
}

// ends reports whether a key may stand behind a code: Enter, Tab, or one that has no name here,
// such as the line feed that some scanners send.
func ends(name fyne.KeyName) bool {
	return look.KeyName(name) == "Enter" || name == fyne.KeyTab || name == fyne.KeyUnknown
}

// late ends a code, or lets go what was kept for a character that has not come.
func (g *scanGuard) late(request loop.Request) {
	if request.Current() && !g.ended() {
		g.release()
	}
}

// release gives what was kept where it would have gone.
func (g *scanGuard) release() {
	kept := g.forget()
	for _, t := range kept {
		if !g.keyboard.keep(t) {
			g.keyboard.give(t)
		}
	}
}

func (g *scanGuard) forget() []look.Typed {
	kept := g.kept
	g.wait.Drop()
	g.kept, g.text = nil, ""
	return kept
}

// ended does what a whole code is for, and reports whether it was one.
func (g *scanGuard) ended() bool {
	text := g.text
	if _, whole := g.keyboard.frame.options.Code(text); !whole {
		return false
	}
	g.forget()
	g.keyboard.inTurn(func() { g.keyboard.frame.scanned(text) })
	return true
}

// scanned does what a scanned code is for: a field that takes codes has it, else the command
// bar. A question that has no use for it is answered first.
func (f *Frame) scanned(text string) {
	if field, ok := f.canvas().Focused().(*look.Entry); ok && field.TakesCodes {
		field.SetText(text)
		field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		return
	}
	if f.top() != nil {
		f.Say(notice.Notice{Tone: notice.Warn, Text: "A label was scanned while a question was open. Scan it again when it is answered."})
		return
	}
	f.SetCommand(text)
	f.submitted(text)
}
