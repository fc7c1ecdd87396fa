// Package alerts is the screen of alerts, dates and lots: what a bulletin or a maker warns of,
// with where the pieces are that it names, four lists that are never one; which lots expire
// when; and of an item its lots, with what is known of each and where its pieces are. It says
// what is recorded, and of nothing that it is clear.
package alerts
