// Package help is what the window says of itself: what each key is for, on which screen, and
// what to be careful with; and the card of keys that is printed and hung up beside the bench.
// It is plain data and knows no window: what a page shows at the moment the window adds by
// itself. What it leaves out are the fields of questions, which say what they take.
package help

import (
	"stowright/app/routes"
	"stowright/labels"
)

// Key is a key, or several that belong together, with what it does.
type Key struct {
	Key  string // as a KeyButton shows it: "A", "Ctrl+1 to 9"
	Does string // "all of the line is here"
}

// Screen is a screen on the card.
type Screen struct{ Name, Title string }

// Everywhere are the keys that work on every screen.
func Everywhere() []Key {
	return []Key{
		{"F1", "help: what the page is for and its keys; once more, all screens"},
		{"Ctrl+1 to 9", "the screens of the rail, in order (Alt as well)"},
		{"Ctrl+K, /", "the command bar: a number, a word, a place, a tag"},
		{"Up, Down", "from the list to the command bar, and back"},
		{"Tab", "through the page, its card, the command bar, the rail"},
		{"Enter", "open what is chosen; a double click does the same"},
		{"Esc", "leave the field, the question, the card, the page"},
		{"Alt+Left", "the page before"},
		{"Ctrl+Z", "undo the newest entry"},
		{"Ctrl+Shift+Z, Ctrl+Y", "do it again"},
		{"Ctrl+C", "copy what is chosen, or what was said"},
		{"F2", "the camera; it looks for the item that is chosen"},
		{"F3", "photographs of what the card shows"},
		{"F4", "open or close the card of a narrow window"},
		{"F5", "choose a file in place of typing its path"},
		{"F6", "measure a loose piece"},
		{"F7", "more of what the card can do; weigh in place of counting"},
		{"F8", "everything larger, or as it was"},
		{"F9", "whose hand this is"},
		{"F10", "count by several hands who do not see each other's figure"},
		{"F11", "aircraft, components, what is due, positions"},
		{"F12", "safe copies"},
		{"Ctrl+U", "lengths in millimetres, or in inches again"},
		{"Ctrl+Q", "leave the program"},
		{"right click", "all that can be done with a row, a drawer or the card"},
	}
}

// Of are the keys of a screen beside those that work everywhere; nil for a screen without any.
func Of(screen string) []Key {
	return map[string][]Key{
		routes.Today:    {{"Up, Down", "choose what waits"}, {"Enter", "go there"}, {"D", "what is due"}, {"I, P, E", "in an empty shop: a packing list, a cabinet, an export"}},
		routes.Unpack:   unpackKeys(),
		routes.Find:     {{"letters, digits", "a question, until a row is in hand"}, {"Down", "take a row in hand"}, {"T", "take out"}, {"M", "move"}, {"C", "count"}, {"L", "print its label"}, {"D", "its lots and their dates"}, {"O", "open the place"}, {"I", "in an empty shop: a packing list"}},
		routes.Places:   placesKeys(),
		routes.Labels:   {{"Enter", "pick a row for labels, or leave it out"}, {"<, >", "the sheet before, the next one"}, {"S", "save the sheets as PDF"}, {"I", "print them at actual size"}, {"K", "print on another stock"}, {"M", "what is done more seldom"}, {"T", "a test print"}, {"Z", "a sizing card of what lies there"}, {"C", "copies, a size of your own, the printer's error"}, {"P", "in a shop without places: make them"}},
		routes.Build:    buildKeys(),
		routes.Order:    orderKeys(),
		routes.Alerts:   {{"1, 2", "all alerts; what has a date"}, {"Up, Down", "choose a row"}, {"Enter", "open the alert; the lots of the row"}, {"N", "a new alert"}, {"I", "a later issue of it"}, {"R", "release lots by a decision"}, {"E", "describe a lot"}, {"O", "open its place; at the bench"}, {"F", "find the item"}, {"M", "what is done more seldom"}},
		routes.Aircraft: aircraftKeys(),
		routes.Handbook: {{"letters, digits", "a number to look up"}, {"W", "where it is"}, {"I", "all figures"}, {"T", "at true size"}, {"P", "save a page at real size"}, {"C", "clear, another piece"}, {"Enter", "keep a row of your own figures"}},
		routes.Camera:   {{"Up, Down", "choose a code that is seen"}, {"Enter", "go to what it names"}, {"B", "back"}},
		routes.Copies:   {{"Up, Down", "choose a copy"}, {"Enter", "what restoring it would change; then restore it"}, {"N", "copy now"}, {"O", "copy elsewhere"}, {"W", "look whether the copy is whole"}, {"H", "check the shop"}, {"X", "export everything"}, {"I", "bring an export in"}, {"A", "restore another file"}},
		routes.Photos:   {{"C", "take one with the camera"}, {"F", "from a file"}, {"Left, Right", "the one before, the next one"}, {"Enter", "look at it large"}, {"Del", "take it away"}, {"D", "describe it"}, {"A", "save all"}, {"B", "back"}},
	}[screen]
}

func unpackKeys() []Key {
	return []Key{
		{"Up, Down", "the line before, the next one"},
		{"Left, Right", "the bag before, the next one"},
		{"A", "all of the line is here"},
		{"S, or a digit", "some: how many"},
		{"N", "none"},
		{"D", "damaged"},
		{"W", "a wrong item"},
		{"X", "split the bag"},
		{"B", "the whole bag is here"},
		{"F", "found inside another part"},
		{"U", "something on no list"},
		{"L", "checked for damage, which counting is not"},
		{"H", "note where to look"},
		{"Y", "it is never going to be checked"},
		{"P", "photograph the line"},
		{"V", "its lot: number, dates, origin"},
		{"M", "what is done more seldom with it"},
		{"Enter", "stow it in the drawer that is offered"},
		{"E", "stow it elsewhere"},
		{"T", "the next to stow"},
		{"G", "the next crate"},
		{"C", "the claim"},
		{"R", "which crates came"},
		{"K", "check-off sheet of the crate"},
		{"O", "another delivery"},
		{"I", "bring a packing list in"},
		{"H, N, L, V", "of a list that is read: headings or not, next sheet, what was left out, paste a table"},
	}
}

func placesKeys() []Key {
	return []Key{
		{"arrows", "choose a place or a drawer"},
		{"Enter, O", "look into it"},
		{"U", "up, to what it lies in"},
		{"N", "a new place"},
		{"K", "a new cabinet with its drawers"},
		{"M", "move the place, or what lies in it"},
		{"R", "rename it"},
		{"X", "take it out of use"},
		{"L", "print its label"},
		{"A", "labels of all in it"},
		{"P", "put something in"},
		{"T", "take out"},
		{"C", "count"},
	}
}

func buildKeys() []Key {
	return []Key{
		{"arrows", "choose a sub-assembly, a line, a stop"},
		{"Enter", "at the bench; on a pull: taken"},
		{"Space", "pull it along with others"},
		{"P", "its pull list"},
		{"-, +", "earlier, later in the order of building"},
		{"I", "bring a list in"},
		{"N", "type a sub-assembly; on a pull: not here"},
		{"G", "let go what it holds; at the bench: the evidence of it as a file"},
		{"R", "at the bench: remove; of a list: it changes what is listed"},
		{"F", "fit what is in the tray"},
		{"S", "fit some; on a pull: fewer"},
		{"H", "put back"},
		{"A", "put all back"},
		{"C", "close up"},
		{"O", "reopen"},
		{"X", "spoiled"},
		{"L", "lost, or found; on a pull: the list on paper"},
		{"B", "borrow"},
		{"D", "a decision"},
		{"J", "the joint"},
		{"T", "torque"},
		{"E", "somebody else looked; on a pull: another lot or amount"},
		{"W", "hold the tray against its weight"},
		{"V", "what papers changed in its list"},
		{"Y", "label of the tray"},
		{"K", "on a pull: what was ticked on paper"},
		{"M", "on a pull: the sound of a wrong drawer"},
	}
}

func aircraftKeys() []Key {
	return []Key{
		{"1, 2, 3, 4", "aircraft, components, what is due, positions"},
		{"N", "a new one"},
		{"E", "describe it, change it"},
		{"H", "total time of an aircraft"},
		{"M, O", "put a component on an aircraft, take it off"},
		{"K", "correct the hours at which it was put on or taken off"},
		{"U", "a new due date for it"},
		{"D", "what is due was done"},
		{"X", "it is due no more"},
		{"G", "the evidence of it as a file"},
	}
}

func orderKeys() []Key {
	return []Key{
		{"Up, Down", "choose a line"},
		{"M", "mark as ordered"},
		{"S", "save the list"},
		{"O", "what is owed, or what to order"},
		{"P", "price"},
		{"K", "pack"},
		{"U", "supplier"},
		{"R", "spares"},
		{"L", "fewest sold"},
		{"N", "never below"},
		{"F", "find it"},
	}
}

// Cautions are what to be careful with on a screen: at least that the plans govern.
func Cautions(screen string) []string {
	return append(map[string][]string{
		routes.Unpack:   {"Match what came by its part number, never by what you expect.", "Weighed counts are estimates."},
		routes.Find:     {"A look-alike on the card is not the same part: check it by hand."},
		routes.Build:    {"Expired, recalled or untraceable items: set apart, do not fit.", "Do not substitute. Ask the kit maker; record the answer."},
		routes.Order:    {"Order what the plans call for. Another number is another part until the kit maker says so."},
		routes.Aircraft: {"What is due, and when, the maker's and the authority's papers say: read them, not this list alone."},
		routes.Alerts:   {"Read the bulletin itself. No record here does not mean that nothing is there.", "What is set apart stays so until a later issue or a decision lets it go."},
		routes.Handbook: {"Measuring cannot prove material, strength or source.", "Take torque from the kit maker; use a wrench checked within the year."},
		routes.Camera:   {"What is recognised and not read is to be checked on the label before anything is booked."},
		routes.Copies:   {"Keep a copy on another disk: one beside the shop goes with it."},
	}[screen], "The plans and the kit maker's current instructions govern. Lists here approve nothing.")
}

// Card is the card of keys for those screens, on paper.
func Card(screens []Screen) labels.Paper {
	p := labels.Paper{Title: "Keys", Under: []string{"Hang it up beside the bench. In the window F1 says the same of the page that is shown.", labels.Caution}}
	p.Blocks = append(p.Blocks, block("Everywhere", Everywhere()))
	for _, s := range screens {
		if keys := Of(s.Name); keys != nil {
			p.Blocks = append(p.Blocks, block(s.Title, keys))
		}
	}
	return p
}

// block sets keys in two columns, down the first one and then down the second.
func block(heading string, keys []Key) labels.Block {
	key, does := labels.PaperColumn{Title: "key", Width: 38, Mono: true}, labels.PaperColumn{Title: "what it does"}
	b := labels.Block{Heading: heading, Columns: []labels.PaperColumn{key, does, key, does}}
	half := (len(keys) + 1) / 2
	for i, k := range keys[:half] {
		row := []string{k.Key, k.Does, "", ""}
		if i+half < len(keys) {
			row[2], row[3] = keys[i+half].Key, keys[i+half].Does
		}
		b.Rows = append(b.Rows, row)
	}
	return b
}
