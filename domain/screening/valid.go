package screening

import (
	"brae/domain"
	"brae/domain/clearance"
)

// Lapses returns the first day on which the screening does not count any more,
// twelve months after it, if nothing changes before.
//
// Practice rule: practice.
func (d Decision) Lapses(p Policy) domain.Date { return d.On.AddMonths(p.ValidMonths) }

// StillValid reports whether the screening counts on a day, and says in a
// sentence why not: twelve months are over, or something has changed since.
//
// Practice rule: practice.
func (d Decision) StillValid(changes []clearance.Change, today domain.Date, p Policy) (ok bool, why string) {
	if end := d.Lapses(p); !today.Before(end) {
		return false, "The screening counted until " + end.Words() + "."
	}
	for _, c := range changes {
		if c.EndsScreening() && c.On.After(d.On) && !c.On.After(today) {
			return false, "Something has changed since the screening, on " + c.On.Words() + "."
		}
	}
	return true, ""
}
