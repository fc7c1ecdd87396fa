//go:build !windows

package main

// leaveConsole does nothing where a window has no console.
func leaveConsole() {}
