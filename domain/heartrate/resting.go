package heartrate

import (
	"fmt"
	"slices"

	"brae/domain"
)

// Resting is a resting heart rate from one or more readings.
type Resting struct {
	HR     BPM  // the mean, nearest beat, half up
	Spread BPM  // highest less lowest reading
	Repeat bool // the readings differ too much: drop one and take another
}

// RestingMean returns the mean of readings, not the lowest: the lowest would
// lower every target. Readings are of 60 seconds, or two of 30, after at least 5
// minutes of quiet sitting; at home on waking, on three mornings. It returns
// [domain.Problems] without readings or with one that cannot be saved.
//
// Source: resting_clinic, resting_home.
// Practice rule: practice.
func RestingMean(readings []BPM, policy Policy) (Resting, error) {
	if len(readings) == 0 {
		return Resting{}, domain.Problems{"resting_hr": "Enter at least one reading."}
	}
	sum := BPM(0)
	for _, r := range readings {
		if f := CheckResting(r, RestingContext{}, policy); f.Verdict == Reject {
			return Resting{}, domain.Problems{"resting_hr": f.Sentence}
		}
		sum += r
	}
	n := BPM(len(readings))
	spread := slices.Max(readings) - slices.Min(readings)
	return Resting{HR: (2*sum + n) / (2 * n), Spread: spread, Repeat: spread > policy.ReadingSpread}, nil
}

// PostureChanged returns a sentence when two resting heart rates of one client
// were taken in different postures, and nothing otherwise. An unknown posture
// differs from none.
//
// Source: keteyian2019, resting_clinic.
func PostureChanged(before, now Posture) string {
	if before == "" || now == "" || before == now {
		return ""
	}
	return fmt.Sprintf("The last resting heart rate was taken %s, this one %s. Keep to one posture: another shifts every range.",
		before.plain(), now.plain())
}

// Valid reports whether p is one of the four postures.
func (p Posture) Valid() bool {
	return p == Seated || p == Supine || p == Standing || p == Waking
}

func (p Posture) plain() string {
	switch p {
	case Supine:
		return "lying"
	case Waking:
		return "on waking"
	}
	return string(p)
}
