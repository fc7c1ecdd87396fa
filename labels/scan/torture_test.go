//go:build torture

package scan

// tortureFrames is how many frames TestTorture takes.
const tortureFrames = 20_000
