package store_test

import (
	"math"
	"testing"

	"brae/domain/fitness"
	"brae/domain/intake"
	"brae/domain/prescription"
	"brae/store"
	"brae/store/storetest"
)

// A mile and a half in 18:00 is 30.33 ml per kg and minute (the run's equation as in
// GETP). 40 and 60 % of the uptake above rest (Swain 1997, Garber 2011) are 14.23 and
// 19.60, which is 4.07 and 5.60 METs. Walking up 5 % takes 0.1 x speed + 1.8 x speed x
// grade + 3.5 (ACSM equations, Bushman 2020): 56.5 to 84.7 m a minute.
func TestAimsByOxygenAndWork(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira, client := t.Context(), f.Mira.Actor(), f.Client()
	f.ScreenClient(client, intake.FieldDesired, "vigorous", intake.FieldActivityClass, "vigorous")
	storetest.Must(f.AddTest(ctx, mira, client, ran(18)))
	d := storetest.Must(f.NewPrescription(ctx, mira, client))
	if d.Views.Test == nil || math.Abs(d.Views.VO2max-30.33) > 0.01 {
		t.Fatalf("from %v, %v ml; want the run's 30.33", d.Views.Test, d.Views.VO2max)
	}
	near := func(what string, got, want, within float64) {
		t.Helper()
		if math.Abs(got-want) > within {
			t.Errorf("%s = %v; want %v", what, got, want)
		}
	}
	in := storetest.Walking(0)
	in.Method = prescription.Oxygen
	storetest.Must(f.SignPrescription(ctx, mira, client, in))
	in.Version, in.Method = 1, prescription.Workload
	storetest.Must(f.SignPrescription(ctx, mira, client, in))
	all := storetest.Must(f.Prescriptions(ctx, mira, client, 0))
	work, oxygen := all.Version(2)
	if len(oxygen.Aim) != 1 || oxygen.Aim[0].Unit != store.UnitMETs {
		t.Fatalf("by oxygen: %+v", oxygen.Aim)
	}
	near("lower METs", oxygen.Aim[0].Low/100, 4.07, 0.01)
	near("upper METs", oxygen.Aim[0].High/100, 5.60, 0.01)
	found := false
	for _, l := range work.Aim {
		w := l.Workload()
		if l.Unit != store.UnitWork {
			t.Errorf("work in %q", l.Unit)
		}
		if w.Mode == fitness.Walk && math.Abs(w.Grade-0.05) < 1e-9 {
			found = true
			near("slowest at 5 %", w.Low, 56.5, 0.1)
			near("fastest at 5 %", w.High, 84.7, 0.1)
			if w.Start >= w.Low {
				t.Errorf("it begins with %v, not below the class", w.Start)
			}
		}
	}
	if !found {
		t.Errorf("no treadmill at 5 %% among %+v", work.Aim)
	}
}

// A doctor's limit cuts what heart rates are prescribed: 58 years and 64 at rest have
// 105 to 125 for moderate work (Gellish 2007, Karvonen 1957), and 118 ends it; at 90 no
// moderate range is left, and the method cannot be had.
func TestAimsUnderALimit(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	for limit, want := range map[int]float64{118: 118, 90: 0} {
		client := f.Client()
		f.ScreenClient(client)
		in := storetest.Cleared(storetest.Walking(0).Class)
		in.Limits.HeartRate = limit
		storetest.Must(f.RecordClearance(ctx, mira, client, in))
		d := storetest.Must(f.NewPrescription(ctx, mira, client))
		for _, m := range []prescription.Method{prescription.Reserve, prescription.Maximum} {
			lines, why := d.Aim(m, storetest.Walking(0).Class)
			switch {
			case want == 0 && (why == "" || len(lines) != 0):
				t.Errorf("%s under %d: %+v, %q; want none and why", m, limit, lines, why)
			case want != 0 && (why != "" || len(lines) != 1 || lines[0].High != want):
				t.Errorf("%s under %d: %+v, %q; want up to %v", m, limit, lines, why, want)
			}
		}
		if _, why := d.Aim(prescription.Talk, storetest.Walking(0).Class); why != "" {
			t.Errorf("the talk test under %d: %s", limit, why)
		}
	}
}
