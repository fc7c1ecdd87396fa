// Package aircraft is the screen of what stands and flies: the aircraft with their total
// time, the pieces with a serial number and on which of them they are, what is due by when,
// and the positions on them with what went in there. It says what was recorded, and nothing
// about whether anything may fly.
package aircraft
