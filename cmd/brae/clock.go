//go:build !movedclock

package main

import "time"

// clock tells what time it is. Only a program that is built for the browser tests
// has another one, so that nothing on a practice's machine can move it.
var clock = time.Now
