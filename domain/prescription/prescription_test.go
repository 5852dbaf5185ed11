package prescription_test

import (
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/prescription"
)

// Heart rate needs a valid basis, work a maximal oxygen uptake; talking and effort need
// nothing. Source: Garber 2011; Keteyian 2019 for no basis in fibrillation.
func TestWhyNot(t *testing.T) {
	for _, tt := range []struct {
		method prescription.Method
		known  prescription.Known
		want   string
	}{
		{prescription.Talk, prescription.Known{Basis: heartrate.NoBasis}, ""},
		{prescription.Effort, prescription.Known{Basis: heartrate.CeilingOnly}, ""},
		{prescription.Reserve, prescription.Known{Basis: heartrate.NoBasis}, "no valid basis"},
		{prescription.Maximum, prescription.Known{Basis: heartrate.CeilingOnly, Open: true}, "no valid basis"},
		{prescription.Reserve, prescription.Known{Basis: heartrate.Predicted}, "no heart-rate range"},
		{prescription.Reserve, prescription.Known{Basis: heartrate.Predicted, Open: true}, ""},
		{prescription.Oxygen, prescription.Known{Basis: heartrate.Measured, Open: true}, "No test on file"},
		{prescription.Oxygen, prescription.Known{Basis: heartrate.NoBasis, Oxygen: true}, ""},
		{prescription.Workload, prescription.Known{Oxygen: true}, "energy equations"},
		{prescription.Workload, prescription.Known{Oxygen: true, Works: 1}, ""},
	} {
		got := tt.method.WhyNot(tt.known)
		if (got == "") != (tt.want == "") || !strings.Contains(got, tt.want) {
			t.Errorf("%s with %+v: %q; want %q", tt.method, tt.known, got, tt.want)
		}
	}
}

// Practice rule: what makes a signed prescription out of date.
func TestStale(t *testing.T) {
	signed := prescription.Inputs{
		Age: 60, Rest: 64, Basis: heartrate.Predicted, Equation: heartrate.Gellish2007, Max: 165_000, DoctorHR: 130, Cleared: true,
		Medicines: []prescription.Medicine{{Name: "bisoprolol", Line: "Bisoprolol 2.5 mg"}},
	}
	for name, tt := range map[string]struct {
		change func(*prescription.Now)
		class  intensity.Class
		want   []string // code and a piece of the sentence
	}{
		"nothing":             {func(*prescription.Now) {}, intensity.Moderate, nil},
		"same line otherwise": {func(n *prescription.Now) { n.Medicines[0].Line = "bisoprolol  2.5 mg" }, intensity.Moderate, nil},
		// As by an equation that has a figure for each sex, such as Sydo 2014.
		"sex":                      {func(n *prescription.Now) { n.Sex, n.Max = domain.Male, 163_000 }, intensity.Moderate, []string{"sex", "163, and was 165"}},
		"sex that changes nothing": {func(n *prescription.Now) { n.Sex = domain.Male }, intensity.Moderate, nil},
		"new medicine": {func(n *prescription.Now) {
			n.Medicines = append(n.Medicines, prescription.Medicine{Name: "ivabradine", Line: "ivabradine 5 mg"})
		}, intensity.Moderate, []string{"medicine", "is new: ivabradine 5 mg"}},
		"stopped":      {func(n *prescription.Now) { n.Medicines = nil }, intensity.Moderate, []string{"medicine", "was stopped: Bisoprolol 2.5 mg"}},
		"another dose": {func(n *prescription.Now) { n.Medicines[0].Line = "Bisoprolol 5 mg" }, intensity.Moderate, []string{"medicine", "Bisoprolol 5 mg, and was Bisoprolol 2.5 mg"}},
		"heard":        {func(n *prescription.Now) { n.Heard = []string{"Metoprolol since Monday"} }, intensity.Moderate, []string{"medicine", "Metoprolol since Monday"}},
		// Test-retest error of up to 6.7 beats: Med Sci Sports 1972;4:14-17.
		"rest within": {func(n *prescription.Now) { n.Rest = 71 }, intensity.Moderate, nil},
		"rest beyond": {func(n *prescription.Now) { n.Rest = 56 }, intensity.Moderate, []string{"rest", "56 now, and was 64"}},
		"lower limit": {func(n *prescription.Now) { n.DoctorHR = 118 }, intensity.Moderate, []string{"doctor", "118 beats a minute now, and was 130"}},
		"limit gone":  {func(n *prescription.Now) { n.DoctorHR = 0 }, intensity.Moderate, []string{"doctor", "130 beats a minute does not stand"}},
		"lapsed":      {func(n *prescription.Now) { n.Cleared = false }, intensity.Moderate, []string{"doctor", "not in force any more"}},
		"peak":        {func(n *prescription.Now) { n.Peak, n.PeakOn = 158, domain.NewDate(2026, 11, 1) }, intensity.Moderate, []string{"peak", "158 has been measured"}},
		"basis gone": {func(n *prescription.Now) {
			n.Basis, n.Max, n.Reason = heartrate.NoBasis, 0, "A medicine slows the heart."
		}, intensity.Moderate, []string{"basis", "A medicine slows the heart."}},
		"above ceiling": {func(n *prescription.Now) { n.Ceiling, n.Held = intensity.Light, "Chest pressure." }, intensity.Moderate, []string{"ceiling", "above what is allowed now. Chest pressure."}},
		// 207 - 0.7 x age (Gellish 2007): one year moves it by 0.7, two by 1.4 beats.
		"one birthday":  {func(n *prescription.Now) { n.Age, n.Max = 61, 164_300 }, intensity.Moderate, nil},
		"two birthdays": {func(n *prescription.Now) { n.Age, n.Max = 62, 163_600 }, intensity.Moderate, []string{"age", "is 163.6, and was 165"}},
		"equation":      {func(n *prescription.Now) { n.Equation, n.Max = heartrate.Tanaka2001, 166_000 }, intensity.Moderate, []string{"equation", "Tanaka 2001, and was Gellish 2007"}},
	} {
		t.Run(name, func(t *testing.T) {
			now := prescription.Now{Inputs: signed, Ceiling: intensity.Moderate}
			now.Medicines = append([]prescription.Medicine(nil), signed.Medicines...)
			tt.change(&now)
			got := prescription.Stale(tt.class, signed, now, prescription.PolicyFrom(nil))
			switch {
			case tt.want == nil && len(got) != 0:
				t.Errorf("stale: %+v; want it to stand", got)
			case tt.want != nil && (len(got) != 1 || got[0].Code != tt.want[0] || !strings.Contains(got[0].Says, tt.want[1])):
				t.Errorf("got %+v; want one reason %q", got, tt.want)
			}
		})
	}
}
