package page

import (
	"context"

	"brae/domain/clearance"
	"brae/domain/screening"
	"brae/store"
	"brae/web/say"
)

// mgPerMmol is how many mg/dL of glucose one mmol/L is (molar mass 180.16 g/mol,
// from memory).
const mgPerMmol = 18.016

// BoundWords are what doctors have limited beside the ceiling and the heart rate,
// a short sentence each, for whoever uses the zones.
func BoundWords(ctx context.Context, b store.Bounds) []string {
	list := limitWords(ctx, b.Limits)
	if b.SupervisedOnly {
		list = append(list, say.T(ctx, "The doctor says: train only when we are with you."))
	}
	for _, r := range b.Restrictions {
		if r.Until.IsZero() {
			list = append(list, say.F(ctx, "The doctor rules out: %s.", r.Says))
		} else {
			list = append(list, say.F(ctx, "The doctor rules out until %s: %s.", say.Date(ctx, r.Until.Time()), r.Says))
		}
	}
	for _, e := range b.Expected {
		list = append(list, say.F(ctx, "The doctor expects this and allows it up to a limit: %s, %s.", say.T(ctx, screening.TermName(e.Code)), e.Limit))
	}
	return list
}

func limitWords(ctx context.Context, l clearance.Limits) []string {
	var list []string
	add := func(value int, text string) {
		if value != 0 {
			list = append(list, text)
		}
	}
	add(l.Systolic, say.F(ctx, "The doctor's limit: upper blood pressure at most %d.", l.Systolic))
	add(l.Diastolic, say.F(ctx, "The doctor's limit: lower blood pressure at most %d.", l.Diastolic))
	add(l.GlucoseLow, say.F(ctx, "The doctor's limit: blood sugar at least %d mg/dL (%.1f mmol/L).", l.GlucoseLow, float64(l.GlucoseLow)/mgPerMmol))
	add(l.GlucoseHigh, say.F(ctx, "The doctor's limit: blood sugar at most %d mg/dL (%.1f mmol/L).", l.GlucoseHigh, float64(l.GlucoseHigh)/mgPerMmol))
	add(l.OxygenFloor, say.F(ctx, "The doctor's limit: oxygen at least %d %%.", l.OxygenFloor))
	add(l.Effort, say.F(ctx, "The doctor's limit: effort at most %d of 20.", l.Effort))
	return list
}
