//go:build !linux

package storetest

// memory is a folder in memory; "" for none.
func memory() string { return "" }
