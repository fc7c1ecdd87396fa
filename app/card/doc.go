// Package card is what is shown of one thing at the right of the window: the card
// with its actions, its photos and its facts. It is plain data, already worded and
// formatted, so that a model can be tested without a window and the same card can be
// drawn on screen and on paper. It knows no toolkit and no store; app/look draws it.
package card
