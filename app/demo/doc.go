// Package demo fills a shop with the invented scenario of assets/demo, by the same
// store calls that a person's own work makes. Everything that the demo shop holds
// is in its journal.
package demo
