// Package intensity tells how hard aerobic work is: the five classes, and the
// evidence that puts one stretch of work into a class (talk test, perceived
// exertion, heart rate, METs).
package intensity

import "fmt"

// Class is an intensity class. Classes are ordered: Light < Moderate. None is
// below all of them: as a ceiling it means no exercise, as a judgement that
// there was nothing to judge by.
type Class int8

// The classes of the ACSM 2011 scheme.
//
// Source: garber2011.
const (
	None Class = iota
	VeryLight
	Light
	Moderate
	Vigorous
	NearMaximal
)

var classNames = [...]string{"none", "very_light", "light", "moderate", "vigorous", "near_maximal"}

// Classes returns the five classes, from the easiest.
func Classes() []Class { return []Class{VeryLight, Light, Moderate, Vigorous, NearMaximal} }

// ParseClass reads the name that String writes.
func ParseClass(name string) (Class, error) {
	for i, n := range classNames {
		if n == name {
			return Class(i), nil
		}
	}
	return None, fmt.Errorf("intensity class %q: not one of none, very_light, light, moderate, vigorous, near_maximal", name)
}

// String returns the name as stored and as `brae calc` writes it.
func (c Class) String() string {
	if c < None || c > NearMaximal {
		return fmt.Sprintf("Class(%d)", int8(c))
	}
	return classNames[c]
}

// MarshalText writes the name of the class.
func (c Class) MarshalText() ([]byte, error) {
	if c < None || c > NearMaximal {
		return nil, fmt.Errorf("intensity class %d does not exist", int8(c))
	}
	return []byte(classNames[c]), nil
}

// UnmarshalText reads what MarshalText writes.
func (c *Class) UnmarshalText(text []byte) error {
	parsed, err := ParseClass(string(text))
	if err != nil {
		return err
	}
	*c = parsed
	return nil
}
