package screening

// notMeasuredAgain is what somebody is told who marks a reading that holds exercise
// as entered in error.
const notMeasuredAgain = "This reading holds exercise. Enter the right values instead, take a second reading of the same today, or ask the lead to mark it."

// Dismissible returns "" if a reading may be marked as entered in error, and
// otherwise why not, in a sentence. One that holds exercise needs more than a
// reason: another reading of the same values that was taken later today, or the
// lead's word. A true value must not go because it is in the way.
//
// Practice rule: practice.
func (r Reading) Dismissible(holds, lead bool, laterToday []Reading) string {
	if !holds || lead {
		return ""
	}
	for _, o := range laterToday {
		if o.measures(r) {
			return ""
		}
	}
	return notMeasuredAgain
}

// measures reports whether the reading has a value for all that first has one for.
func (r Reading) measures(first Reading) bool {
	for _, pair := range [][2]bool{
		{first.SBP != nil || first.DBP != nil, r.SBP != nil && r.DBP != nil},
		{first.StandingSBP != nil, r.StandingSBP != nil},
		{first.RestingHR != nil, r.RestingHR != nil},
		{first.Temperature != nil || first.Feverish, r.Temperature != nil},
		{first.GlucoseMgDL != nil || first.GlucoseMmol != nil || first.SevereLow, r.GlucoseMgDL != nil || r.GlucoseMmol != nil},
		{first.Ketones != nil || first.UrineKetones != "", r.Ketones != nil || r.UrineKetones != ""},
		{first.SpO2 != nil, r.SpO2 != nil},
		{len(first.Weights) > 0, len(r.Weights) > 0},
	} {
		if pair[0] && !pair[1] {
			return false
		}
	}
	return true
}
