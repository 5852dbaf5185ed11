//go:build movedclock

package main

import (
	"os"
	"time"
)

// clock is that of the machine, ahead by BRAE_CLOCK_AHEAD, such as 1464h: the
// browser tests see with it what becomes of a decision in months.
func clock() time.Time {
	ahead, err := time.ParseDuration(os.Getenv("BRAE_CLOCK_AHEAD"))
	if err != nil {
		return time.Now()
	}
	return time.Now().Add(ahead)
}
