//go:build race

package web_test

// raced says that this is a run under the race detector, which makes hashing ten
// times slower and memory larger: times and sizes are not judged.
const raced = true
