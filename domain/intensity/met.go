package intensity

import "fmt"

// MET is the energy an activity takes as a multiple of rest, in hundredths: 3.5
// METs is 350. Rest is 1 MET by definition, 3.5 mL of oxygen per kg and minute.
type MET int

// metFrom has the hundredths at which each class starts for adults of all ages,
// from light.
var metFrom = [4]MET{200, 300, 600, 880}

// metAges has the same by age, for the ages from the given one on. The table's
// first column is for 20-39 years; adults of 18 and 19 are read in it.
var metAges = [...]struct {
	age  int
	from [4]MET
}{
	{18, [4]MET{240, 480, 720, 1020}},
	{40, [4]MET{200, 400, 600, 850}},
	{65, [4]MET{160, 320, 480, 680}},
}

// ParseMET reads a number of METs with at most two decimals, such as 3.5.
func ParseMET(s string) (MET, error) {
	n, err := parseFixed(s, 2)
	if err != nil {
		return 0, fmt.Errorf("METs: %w", err)
	}
	return MET(n), nil
}

// String writes the number of METs.
func (m MET) String() string { return formatFixed(int64(m), 2) }

// Class returns the absolute class, the same for adults of all ages: below 2.0
// very light, below 3.0 light, below 6.0 moderate, below 8.8 vigorous. It is an
// error when m is not above zero.
//
// METs tell what the activity takes, not how hard it is for this person: in old
// age the two classes differ for about half of all tasks. Use them only where no
// heart rate, talk test or perceived exertion is there.
//
// Source: garber2011, paga2018, skjodt2024.
func (m MET) Class() (Class, error) {
	if m <= 0 {
		return None, fmt.Errorf("%s METs: not above zero", m)
	}
	return classFrom(m, &metFrom), nil
}

// ClassAt returns the class for an age in completed years: moderate starts at 4.8
// METs up to the age of 39, at 4.0 up to 64, and at 3.2 from 65 on. It is an
// error when m is not above zero or the age below 18.
//
// Source: garber2011_met_age.
func (m MET) ClassAt(age int) (Class, error) {
	switch {
	case m <= 0:
		return None, fmt.Errorf("%s METs: not above zero", m)
	case age < metAges[0].age:
		return None, fmt.Errorf("METs by age: the table is for adults, not for %d years", age)
	}
	column := len(metAges) - 1
	for age < metAges[column].age {
		column--
	}
	return classFrom(m, &metAges[column].from), nil
}

// CheckMET says whether a number of METs may be saved: reject outside 0.9-25,
// confirm above 14 (by default).
//
// Practice rule: practice.
func CheckMET(m MET, policy Policy) Finding {
	switch {
	case m < policy.METLow || m > policy.METHigh:
		return Finding{Reject, fmt.Sprintf("METs must be from %s to %s.", policy.METLow, policy.METHigh), false}
	case m > policy.METConfirm:
		return Finding{Confirm, fmt.Sprintf("%s METs is more than almost anyone keeps up. Is it right?", m), false}
	}
	return Finding{}
}
