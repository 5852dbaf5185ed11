package fitness

// WalkStart is what is known right before a walk of six minutes. A nil field was
// not measured.
type WalkStart struct {
	RecentHeart bool // unstable angina or a heart attack in the last month
	RestingHR   *int // bpm
	SBP, DBP    *int // mmHg
}

// The values at rest above which a walk of six minutes asks for caution.
//
// Source: ats2002.
const (
	WalkCautionHR  = 120 // bpm
	WalkCautionSBP = 180 // mmHg
	WalkCautionDBP = 100 // mmHg
)

// BeforeSixMinuteWalk returns whether the walk must not be done today, and which of
// resting_hr, sbp and dbp ask for caution.
//
// Source: ats2002.
func BeforeSixMinuteWalk(s WalkStart) (refuse bool, caution []string) {
	for _, c := range []struct {
		field string
		value *int
		above int
	}{
		{"resting_hr", s.RestingHR, WalkCautionHR},
		{"sbp", s.SBP, WalkCautionSBP},
		{"dbp", s.DBP, WalkCautionDBP},
	} {
		if c.value != nil && *c.value > c.above {
			caution = append(caution, c.field)
		}
	}
	return s.RecentHeart, caution
}
