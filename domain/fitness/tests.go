package fitness

import "slices"

// tests has every test, those of one kind together. Nothing changes it.
var tests = slices.Concat(walkTests, sixMinuteTests, runTests, stepTests, olderTests, questionTests)
