// Package demo holds the files of the demo shop: an invented tail kit of an
// invented kit maker, its packing list, and what a builder finds in its crates.
// It only embeds and splits them; what they mean is for the packages that read
// packing lists and keep the shop.
package demo
