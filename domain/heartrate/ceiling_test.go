package heartrate_test

import (
	"testing"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/source"
)

func TestCeilings(t *testing.T) {
	type limits = heartrate.Limits
	interim := func(kind heartrate.InterimKind, rest heartrate.BPM) limits {
		return limits{Interim: heartrate.NewInterim(kind, rest, heartrate.Seated, today, policy)}
	}
	for _, tt := range []struct {
		source string
		limits limits
		want   heartrate.BPM
		from   string
	}{
		{"ACSM (from memory) and ADA 2016: threshold 118 less 10", limits{IschaemiaHR: 118}, 108, "ischaemia"},
		{"at least 10: a wider margin", limits{IschaemiaHR: 118, IschaemiaMargin: 15}, 103, "ischaemia"},
		{"rehabilitation notes: detection 170, margin 10", limits{ICDDetectionHR: 170, ICDMargin: 10}, 160, "icd"},
		{"practice setting: detection 170, usual margin of 20", limits{ICDDetectionHR: 170}, 150, "icd"},
		{"practice setting: pacemaker upper rate 130 less 10", limits{PacemakerUpperHR: 130}, 120, "pacemaker"},
		{"the doctor's number as it is", limits{DoctorHR: 125}, 125, "doctor"},
		{"the practitioner's own number", limits{PractitionerHR: 115}, 115, "practitioner"},
		{"ACSM (from memory): heart attack, resting 65 + 20", interim(heartrate.AfterHeartAttack, 65), 85, "interim"},
		{"ACSM (from memory): heart surgery, resting 65 + 30", interim(heartrate.AfterHeartSurgery, 65), 95, "interim"},
		{"ACSM (from memory): never above 120", interim(heartrate.AfterHeartSurgery, 95), 120, "interim"},
		{"ACSM (from memory): 120 itself", interim(heartrate.AfterHeartAttack, 100), 120, "interim"},
		{"the lowest of all", limits{DoctorHR: 125, PractitionerHR: 118, IschaemiaHR: 127, ICDDetectionHR: 136, PacemakerUpperHR: 130}, 116, "icd"},
		{"the doctor's, when it is the lowest", limits{DoctorHR: 105, PractitionerHR: 118, IschaemiaHR: 127}, 105, "doctor"},
		{"the first named, when two are alike", limits{DoctorHR: 105, PractitionerHR: 105}, 105, "doctor"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.CeilingsFor(adult(func(p *heartrate.Person) { p.Limits = tt.limits }), policy)
			if err != nil {
				t.Fatal(err)
			}
			hr, kind, found := got.Lowest()
			if !found || hr != tt.want || kind.String() != tt.from {
				t.Errorf("Lowest = %d from %s, %t; want %d from %s", hr, kind, found, tt.want, tt.from)
			}
		})
	}
	if _, _, found := (heartrate.Ceilings{}).Lowest(); found {
		t.Error("a ceiling without any limit")
	}
	if _, err := heartrate.CeilingsFor(adult(func(p *heartrate.Person) { p.Limits.DoctorHR = 500 }), policy); err == nil {
		t.Error("a doctor's number of 500: no error")
	}
}

// What lies on the last permitted value is taken.
func TestLimitsAtTheirEdges(t *testing.T) {
	for _, l := range []heartrate.Limits{
		{DoctorHR: 30}, {DoctorHR: 240}, {IschaemiaHR: 120, IschaemiaMargin: 60}, {ICDDetectionHR: 170, ICDMargin: 10},
		{Interim: heartrate.NewInterim(heartrate.AfterHeartAttack, 25, heartrate.Seated, today, policy)},
		{Interim: heartrate.NewInterim(heartrate.AfterHeartAttack, 150, heartrate.Seated, today, policy)},
	} {
		if _, err := heartrate.CeilingsFor(adult(func(p *heartrate.Person) { p.Limits = l }), policy); err != nil {
			t.Errorf("%+v: %v", l, err)
		}
	}
}

// A peak that may stand for the maximum is no ceiling; one that may not stays one,
// also where no range is shown.
func TestPeakAsCeiling(t *testing.T) {
	for _, tt := range []struct {
		source string
		edit   func(*heartrate.Person)
		want   heartrate.BPM
	}{
		{"practice rule: valid", func(*heartrate.Person) {}, 0},
		{"practice rule: stopped early", func(p *heartrate.Person) { p.Peak.SymptomLimited = false }, 150},
		{"practice rule: expired", func(p *heartrate.Person) { p.Peak.On = domain.NewDate(2024, 3, 16) }, 150},
		{"practice rule: expired, beta-blocker begun", func(p *heartrate.Person) {
			p.Peak.On = domain.NewDate(2024, 3, 16)
			p.Medicines = heartrate.Z1
		}, 150},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.CeilingsFor(adult(func(p *heartrate.Person) { p.Peak = tested(150); tt.edit(p) }), policy)
			if err != nil || got[heartrate.PeakCeiling] != tt.want {
				t.Errorf("ceilings %v, %v; want %d from the peak", got, err, tt.want)
			}
		})
	}
}

// The interim ceiling is due on its day and stays for ever after.
func TestInterimNeverLapses(t *testing.T) {
	person := adult(func(p *heartrate.Person) {
		p.Limits.Interim = heartrate.NewInterim(heartrate.AfterHeartAttack, 72, heartrate.Standing, today, policy)
	})
	due := today.AddDays(28)
	if got := person.Limits.Interim; got.ReviewOn != due || got.Posture != heartrate.Standing {
		t.Fatalf("interim %+v; want its review on %s", got, due)
	}
	for _, day := range []int{0, 28, 29, 365, 3650} {
		person.Today = today.AddDays(day)
		z, err := heartrate.ZonesFor(person, policy)
		if err != nil || z.Ceiling != 92 || z.CeilingFrom != heartrate.InterimCeiling {
			t.Errorf("after %d days: ceiling %d from %s, %v; want 92", day, z.Ceiling, z.CeilingFrom, err)
		}
		if got := z.Notes.Has("interim_due"); got != (day > 28) {
			t.Errorf("after %d days: due = %t", day, got)
		}
		if z.Decision.Carrier.EffortCap != 13 {
			t.Errorf("exertion cap %d; want 13", z.Decision.Carrier.EffortCap)
		}
		if b := z.Bands[0]; b.High != 92 || z.Bands[1].Why != heartrate.ByCeiling {
			t.Errorf("very light to %d, light %v", b.High, z.Bands[1])
		}
	}
	other := heartrate.PolicyFrom(source.Values{"heartrate.interim_review_weeks": 2, "heartrate.interim_effort": 14})
	if got := heartrate.NewInterim(heartrate.AfterHeartAttack, 72, heartrate.Seated, today, other).ReviewOn; got != today.AddDays(14) {
		t.Errorf("review on %s with a setting of 2 weeks", got)
	}
	if d, err := heartrate.Decide(person, other); err != nil || d.Carrier.EffortCap != 14 {
		t.Errorf("exertion cap %d, %v; want 14", d.Carrier.EffortCap, err)
	}
}

func TestCeilingMargins(t *testing.T) {
	wide := heartrate.PolicyFrom(source.Values{
		"heartrate.ischaemia_margin": 12, "heartrate.icd_margin": 15, "heartrate.pacemaker_margin": 14,
	})
	got, err := heartrate.CeilingsFor(adult(func(p *heartrate.Person) {
		p.Limits = heartrate.Limits{IschaemiaHR: 118, ICDDetectionHR: 170, PacemakerUpperHR: 130}
	}), wide)
	want := heartrate.Ceilings{
		heartrate.IschaemiaCeiling: 106, heartrate.ICDCeiling: 155, heartrate.PacemakerCeiling: 116,
	}
	if err != nil || got != want {
		t.Errorf("ceilings %v, %v; want %v", got, err, want)
	}
}

// The ceiling that is enforced is the lower of the number and of the allowed class.
func TestEnforced(t *testing.T) {
	for _, tt := range []struct {
		source  string
		limits  heartrate.Limits
		hardest intensity.Class
		want    heartrate.BPM
		found   bool
	}{
		{"Garber 2011: up to moderate ends at 127", heartrate.Limits{}, intensity.Moderate, 127, true},
		{"Garber 2011: up to light ends at 109", heartrate.Limits{}, intensity.Light, 109, true},
		{"Garber 2011: up to very light ends at 99", heartrate.Limits{}, intensity.VeryLight, 99, true},
		{"Garber 2011: up to vigorous ends at 155", heartrate.Limits{}, intensity.Vigorous, 155, true},
		{"no limit on the class, none on the heart rate", heartrate.Limits{}, intensity.NearMaximal, 0, false},
		{"rehabilitation notes: the device below the class", heartrate.Limits{ICDDetectionHR: 140}, intensity.Moderate, 120, true},
		{"the class below the device", heartrate.Limits{ICDDetectionHR: 170}, intensity.Moderate, 127, true},
		{"the device alone", heartrate.Limits{ICDDetectionHR: 170}, intensity.NearMaximal, 150, true},
		{"no exercise at all is not a heart rate", heartrate.Limits{DoctorHR: 120}, intensity.None, 120, true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			z, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.Limits = tt.limits }), policy)
			if err != nil {
				t.Fatal(err)
			}
			if got, found := z.Enforced(tt.hardest); got != tt.want || found != tt.found {
				t.Errorf("Enforced(%s) = %d, %t; want %d, %t", tt.hardest, got, found, tt.want, tt.found)
			}
		})
	}
	none, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.Medicines = heartrate.Z1; p.Limits.DoctorHR = 110 }), policy)
	if err != nil {
		t.Fatal(err)
	}
	if got, found := none.Enforced(intensity.Light); got != 110 || !found {
		t.Errorf("without a basis: %d, %t; want the doctor's 110", got, found)
	}
}
