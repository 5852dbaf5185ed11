// Package clearance holds the rules around doctor review: what a hold stops and
// what releases it, what a doctor's decision allows and for how long, and the
// gate that every vigorous session passes.
package clearance

import (
	"fmt"

	"brae/domain/intensity"
)

// Scope is how much a hold stops. Scopes are ordered by how much they stop.
type Scope int8

// The scopes of a hold.
//
// Practice rule: practice.
const (
	NoHold     Scope = iota // nothing is stopped
	Vigorous                // vigorous and harder waits
	AboveLight              // moderate and harder waits
	All                     // all exercise waits
)

var scopeNames = [...]string{"none", "vigorous", "above_light", "all"}

// Ceiling returns the hardest class that a hold of this scope leaves open.
func (s Scope) Ceiling() intensity.Class {
	switch s {
	case NoHold:
		return intensity.NearMaximal
	case Vigorous:
		return intensity.Moderate
	case AboveLight:
		return intensity.Light
	}
	return intensity.None
}

// Stops reports whether a hold of this scope stops work of that class.
func (s Scope) Stops(c intensity.Class) bool { return c > s.Ceiling() }

// ParseScope reads the name that String writes.
func ParseScope(name string) (Scope, error) {
	for i, n := range scopeNames {
		if n == name {
			return Scope(i), nil
		}
	}
	return All, fmt.Errorf("hold %q: not one of none, vigorous, above_light, all", name)
}

// String returns the name as stored and as `brae calc` writes it.
func (s Scope) String() string {
	if s < NoHold || s > All {
		return fmt.Sprintf("Scope(%d)", int8(s))
	}
	return scopeNames[s]
}

// MarshalText writes the name of the scope.
func (s Scope) MarshalText() ([]byte, error) {
	if s < NoHold || s > All {
		return nil, fmt.Errorf("hold scope %d does not exist", int8(s))
	}
	return []byte(scopeNames[s]), nil
}

// UnmarshalText reads what MarshalText writes.
func (s *Scope) UnmarshalText(text []byte) error {
	parsed, err := ParseScope(string(text))
	if err != nil {
		return err
	}
	*s = parsed
	return nil
}
