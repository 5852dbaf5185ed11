package intake

import (
	"brae/domain"
	"brae/domain/caution"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/screening"
	"brae/domain/source"
)

// Outlook is what an intake under way comes to so far.
type Outlook struct {
	Record   Record
	Problems domain.Problems // what cannot be read
	// Decision is what would be decided if everything that is left were answered
	// with no. It is never stored.
	Decision  screening.Decision
	Open      int // questions without an answer
	Conflicts []Conflict
	Vitals    []screening.VitalFinding // of what was measured
	Basis     heartrate.BasisDecision  // of heart-rate ranges
	Resting   heartrate.Resting        // what counts of the readings; zero without one
	Medicines medicine.Result
}

// Look returns what an intake under way comes to. The input is that of the
// record, with what doctors allow today.
//
// Practice rule: practice.
func Look(record Record, problems domain.Problems, in screening.Input, settings source.Values) Outlook {
	o := Outlook{Record: record, Problems: problems, Conflicts: record.Conflicts(in), Medicines: record.Matches()}
	for _, t := range screening.Codes() {
		if t.Required() && in.Answers.Of(t.Code) == screening.Unanswered {
			o.Open++
			_ = in.Answers.Set(t.Code, screening.No) // the code exists
		}
	}
	if in.Desired == intensity.None {
		in.Desired = defaultDesired
	}
	policy := screening.PolicyFrom(settings)
	o.Decision, _ = screening.Decide(in, policy) // what cannot be decided on is the zero decision
	_, o.Vitals = record.findings(policy)
	if person, err := record.HeartRate(in.BirthDate, in.Today, in.Today, settings); err == nil {
		o.Basis, _ = heartrate.Decide(person, heartrate.PolicyFrom(settings)) // likewise
	}
	o.Resting, _ = heartrate.RestingMean(record.RestingReadings, heartrate.PolicyFrom(settings)) // zero without a reading
	return o
}

// defaultDesired stands for what is wanted until it was asked: it is between the
// others, and the ceiling does not depend on it.
const defaultDesired = intensity.Moderate

// With is what the cautions have to know.
func (r Record) With(age int, settings source.Values) caution.With {
	found := r.Matches()
	return caution.With{
		Yes:   func(code string) bool { return r.Answers.Of(code).CountsAsYes() },
		Zones: found.ZonesUntilConfirmed(), Taking: found.Taking, Age: age, Falls: r.Limits.Falls, Dizzy: r.Limits.DizzyOnStand,
		ManyFalls: screening.PolicyFrom(settings).FallsYear, OlderFrom: caution.OlderFrom(settings),
	}
}
