// Package triage decides what a reported symptom, or a number in a log, means
// at once: what the client is told, what is held, and who acts by when. It does
// not diagnose and never says that somebody is well; it sorts what was reported
// into five levels, and the highest wins.
//
// Free text is only ever a reason to ask one more question. It changes no level.
package triage

import "fmt"

// Level is how urgent a report is. Levels are ordered: Fine < Emergency.
type Level int8

// The levels.
//
// Practice rule: practice.
const (
	Fine      Level = iota // thanks
	Note                   // noted for the next review, no step up meanwhile
	Ease                   // keep it easy until a practitioner has looked
	Stop                   // no exercise until a practitioner has spoken to the client
	Emergency              // the emergency text, before anything else
)

var levelNames = [...]string{"fine", "note", "ease", "stop", "emergency"}

// ParseLevel reads the name that String writes.
func ParseLevel(name string) (Level, error) {
	for i, n := range levelNames {
		if n == name {
			return Level(i), nil
		}
	}
	return Emergency, fmt.Errorf("level %q: not one of fine, note, ease, stop, emergency", name)
}

// String returns the name as stored and as `brae calc` writes it.
func (l Level) String() string {
	if l < Fine || l > Emergency {
		return fmt.Sprintf("Level(%d)", int8(l))
	}
	return levelNames[l]
}

// MarshalText writes the name of the level.
func (l Level) MarshalText() ([]byte, error) {
	if l < Fine || l > Emergency {
		return nil, fmt.Errorf("triage level %d does not exist", int8(l))
	}
	return []byte(levelNames[l]), nil
}

// UnmarshalText reads what MarshalText writes.
func (l *Level) UnmarshalText(text []byte) error {
	parsed, err := ParseLevel(string(text))
	if err != nil {
		return err
	}
	*l = parsed
	return nil
}
