// Package card is what screens hand to the window to be shown: cards, rows,
// state marks, cabinet and piece pictures, routes. It is plain data, already
// worded and formatted, so that a model can be tested without a window and the
// same card can be drawn on screen and on paper. It knows no toolkit and no
// store; app/look draws what is described here.
package card
