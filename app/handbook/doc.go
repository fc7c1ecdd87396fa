// Package handbook is the screen of what is known of hardware: what a designation
// means, what a measured piece may be, which bolt or rivet a thickness takes, the
// tables themselves, and the figures that the builder took from a printed standard.
// It shows every figure with its source, says what is not known, and approves
// nothing.
package handbook
