package intensity

import "fmt"

// Effort is perceived exertion on Borg's scale from 6 (none) to 20 (maximal), in
// whole points. 0 is not asked.
//
// Source: garber2011.
type Effort int

// The ends of the scale.
//
// Source: garber2011.
const (
	EffortMin Effort = 6
	EffortMax Effort = 20
)

// effortFrom has the point at which each class starts, from light.
var effortFrom = [4]Effort{9, 12, 14, 18}

// Valid reports whether e is on the scale.
func (e Effort) Valid() bool { return EffortMin <= e && e <= EffortMax }

// Class returns the class of perceived exertion: up to 8 very light, 9-11 light,
// 12-13 moderate, 14-17 vigorous, 18-20 near-maximal. It is an error outside 6-20.
//
// Source: garber2011, acsm_10_column.
func (e Effort) Class() (Class, error) {
	if !e.Valid() {
		return None, fmt.Errorf("perceived exertion %d is not on the scale from 6 to 20", e)
	}
	return classFrom(e, &effortFrom), nil
}

// EffortRange returns the first and the last point of a class on the 6-20 scale,
// and zeros for None.
//
// Source: garber2011.
func EffortRange(c Class) (low, high Effort) {
	switch {
	case c <= None || c > NearMaximal:
		return 0, 0
	case c == VeryLight:
		return EffortMin, effortFrom[0] - 1
	case c == NearMaximal:
		return effortFrom[3], EffortMax
	}
	return effortFrom[c-Light], effortFrom[c-Light+1] - 1
}

// CR10 is perceived exertion on Borg's category-ratio scale from 0 to 10, in
// tenths of a point; half points are allowed, so 4.5 is 45. It is not the same
// as [RelativeEffort], which also runs from 0 to 10: CR10 3 is moderate, and 3
// there is light.
//
// Source: norton2010.
type CR10 int

// cr10From has the tenths at which each class starts, from light.
var cr10From = [4]CR10{10, 30, 50, 70}

// ParseCR10 reads a number from 0 to 10 in steps of a half, such as 4.5. The
// original scale lets people go above 10; that is refused here.
//
// Source: norton2010.
func ParseCR10(s string) (CR10, error) {
	n, err := parseFixed(s, 1)
	if err != nil || !CR10(n).Valid() {
		return 0, fmt.Errorf("CR10 %q is not a step of a half from 0 to 10", s)
	}
	return CR10(n), nil
}

// Valid reports whether v is from 0 to 10 in steps of a half.
func (v CR10) Valid() bool { return 0 <= v && v <= 100 && v%5 == 0 }

// String writes the points.
func (v CR10) String() string { return formatFixed(int64(v), 1) }

// Class returns the class in the scheme essa2010: 1-2 light, 3-4 moderate, 5-6
// vigorous, from 7 on the scheme's "high", which is given as near-maximal. Half
// points between two classes belong to the easier one: 4.5 is moderate. It is an
// error outside 0-10.
//
// Source: norton2010, essa_table_copy.
func (v CR10) Class() (Class, error) {
	if !v.Valid() {
		return None, fmt.Errorf("CR10 %s is not a step of a half from 0 to 10", v)
	}
	return classFrom(v, &cr10From), nil
}

// RelativeEffort is effort relative to one's own capacity from 0 (sitting) to 10
// (all one has), in whole points, as the US guidelines use it. It is not
// [CR10].
//
// Source: paga2018.
type RelativeEffort int

// relativeFrom has the point at which each class starts, from light.
var relativeFrom = [4]RelativeEffort{3, 5, 7, 9}

// Valid reports whether v is from 0 to 10.
func (v RelativeEffort) Valid() bool { return 0 <= v && v <= 10 }

// Class returns the class of relative effort: 5-6 moderate and 7-8 vigorous, as
// published; 3-4 light is read second-hand; below is very light and 9-10
// near-maximal, which the guidelines leave unnamed. It is an error outside 0-10.
//
// Source: paga2018, who2020.
func (v RelativeEffort) Class() (Class, error) {
	if !v.Valid() {
		return None, fmt.Errorf("relative effort %d is not from 0 to 10", v)
	}
	return classFrom(v, &relativeFrom), nil
}

// classFrom returns the hardest class that starts at or below v.
func classFrom[T ~int](v T, from *[4]T) Class {
	for c := NearMaximal; c >= Light; c-- {
		if v >= from[c-Light] {
			return c
		}
	}
	return VeryLight
}
