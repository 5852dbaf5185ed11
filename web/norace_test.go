//go:build !race

package web_test

// raced is true in a run under the race detector.
const raced = false
