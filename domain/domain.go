// Package domain holds what every rule of Brae shares: calendar days, the roles
// of people, and the ways in which a request can be refused.
//
// The rules themselves are in the packages below it, one for each vocabulary
// (intensity, heartrate, screening, ...). All of them are pure: they know no
// database, no HTTP, no clock and no randomness. What they need, they are given.
package domain

import (
	"errors"
	"maps"
	"slices"
	"strings"
)

// These are the refusals that callers tell apart. "Not yours to see" is
// ErrNotFound, "yours, but not this" is ErrForbidden.
var (
	ErrNotFound  = errors.New("not found")
	ErrForbidden = errors.New("not allowed")
	ErrConflict  = errors.New("changed by someone else in the meantime")
	ErrHeld      = errors.New("held until a doctor has answered")
	ErrClosed    = errors.New("the record is closed")
)

// Problems says what is wrong with an input, in a sentence for the person who
// typed it, by the name of the field. A nil Problems means nothing is wrong.
type Problems map[string]string

// Add notes a problem with a field. The first problem of a field is kept.
func (p *Problems) Add(field, sentence string) {
	if *p == nil {
		*p = Problems{}
	}
	if _, ok := (*p)[field]; !ok {
		(*p)[field] = sentence
	}
}

// Err returns p as an error, or nil if there is no problem.
func (p Problems) Err() error {
	if len(p) == 0 {
		return nil
	}
	return p
}

// Error lists the problems in the order of their fields' names.
func (p Problems) Error() string { return list(p) }

// Doubts says what is likely a slip of the finger, by the name of the field. It
// is saved once the person has said that it is right.
type Doubts map[string]string

// Err returns d as an error, or nil if there is no doubt.
func (d Doubts) Err() error {
	if len(d) == 0 {
		return nil
	}
	return d
}

// Error lists the doubts in the order of their fields' names.
func (d Doubts) Error() string { return list(d) }

func list(sentences map[string]string) string {
	var b strings.Builder
	for i, field := range slices.Sorted(maps.Keys(sentences)) {
		if i > 0 {
			b.WriteString("; ")
		}
		b.WriteString(field + ": " + sentences[field])
	}
	return b.String()
}
