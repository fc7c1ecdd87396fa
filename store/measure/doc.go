// Package measure holds the exact figures of the shop: lengths and quantities
// as fixed-point integers with their units. It never uses floating point to
// decide or to add, and it never converts from one unit to another unasked.
package measure
