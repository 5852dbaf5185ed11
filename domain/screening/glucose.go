package screening

import (
	"strconv"

	"brae/domain/clearance"
	"brae/domain/source"
)

// Ketones is the reading of a urine strip.
type Ketones string

// The readings of a urine strip.
const (
	KetonesNone     Ketones = "none"
	KetonesTrace    Ketones = "trace"
	KetonesSmall    Ketones = "small"
	KetonesModerate Ketones = "moderate"
	KetonesLarge    Ketones = "large"
)

// sugar is a limit of blood sugar in both units, as published.
type sugar struct {
	mgDL int
	mmol Hundredths
}

// The limits of blood sugar before exercise. A band takes its lower limit in and
// leaves its upper limit out.
//
// Source: ada2016, screening_memory.
var (
	sugarDangerous = sugar{54, 300}   // V17: less than this
	sugarLow       = sugar{70, 390}   // V10: less than this
	sugarEat       = sugar{90, 500}   // V11: less than this
	sugarMiddle    = sugar{150, 830}  // V12: less than this
	sugarHigh      = sugar{250, 1390} // V13: less than this
	sugarVeryHigh  = sugar{350, 1940} // V14: less than this; V15: from this on
)

// below reports whether the sugar is below a limit, in the unit it was measured in.
func (v Vitals) below(limit sugar) bool {
	if v.GlucoseMgDL != nil {
		return *v.GlucoseMgDL < limit.mgDL
	}
	return *v.GlucoseMmol < limit.mmol
}

// The limits of ketones in blood, in hundredths of a mmol/L.
//
// Source: ketones_copy, screening_memory.
const (
	ketonesSmall     Hundredths = 60
	ketonesModerate  Hundredths = 150 // V16: from this on
	ketonesEmergency Hundredths = 300 // V16: from this on
)

// ketoneLevel is the worse of blood and urine, and empty if neither was measured.
func (v Vitals) ketoneLevel() Ketones {
	level := v.UrineKetones
	if v.Ketones != nil {
		blood := KetonesNone
		switch {
		case *v.Ketones >= ketonesModerate:
			blood = KetonesModerate
		case *v.Ketones >= ketonesSmall:
			blood = KetonesSmall
		}
		if rank(blood) > rank(level) {
			level = blood
		}
	}
	return level
}

// rank orders the readings; 0 is not measured, 4 and more rules out exercise.
func rank(k Ketones) int {
	for i, level := range [...]Ketones{"", KetonesNone, KetonesTrace, KetonesSmall, KetonesModerate, KetonesLarge} {
		if k == level {
			return i
		}
	}
	return 0
}

// glucose applies V10 to V17.
func (a *Assessment) glucose(v Vitals) {
	if v.GlucoseMgDL != nil || v.GlucoseMmol != nil {
		a.sugarBand(v)
	}
	a.ketones(v)
	dangerous := v.GlucoseLowering && (v.GlucoseMgDL != nil || v.GlucoseMmol != nil) && v.below(sugarDangerous)
	if v.SevereLow || dangerous {
		a.find(VitalFinding{Rule: "V17", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsStatement, Review: NextVisit,
			Cites: []source.Key{"screening_memory"},
			Text:  "Blood sugar was below 54 mg/dL (3.0 mmol/L) or help was needed. No exercise for 24 hours."})
	}
}

// sugarBand applies V10 to V15.
func (a *Assessment) sugarBand(v Vitals) {
	says := "Blood sugar " + v.sugarText() + ": "
	ada := []source.Key{"ada2016"}
	level := v.ketoneLevel()
	switch {
	case v.below(sugarLow) && v.GlucoseLowering:
		a.find(VitalFinding{Rule: "V10", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsStatement,
			Cites: []source.Key{"screening_memory"}, Text: says + "low. Treat the low sugar first; no exercise until it is back."})
	case v.below(sugarLow):
		a.find(VitalFinding{Rule: "V10", Effect: Remark, Review: NextVisit, Cites: []source.Key{"screening_memory", "practice"},
			Text: says + "low, without a medicine that explains it. Eat something, measure again, and tell the doctor."})
	case v.below(sugarEat) && v.GlucoseLowering:
		a.find(VitalFinding{Rule: "V11", Effect: EatFirst, Cites: ada,
			Text: says + "eat 15 to 30 g of fast carbohydrate before you start, and measure again."})
	case v.below(sugarMiddle) && v.GlucoseLowering:
		a.find(VitalFinding{Rule: "V12", Effect: Carbohydrate, Cites: ada,
			Text: says + "start, with 0.5 to 1 g of carbohydrate for each kg and hour, by the kind of exercise and the insulin at work."})
	case v.below(sugarHigh) && v.GlucoseLowering:
		a.find(VitalFinding{Rule: "V13", Effect: Carbohydrate, Cites: ada,
			Text: says + "start, and take carbohydrate once it falls below 150 mg/dL (8.3 mmol/L)."})
	case v.below(sugarHigh):
	case v.below(sugarVeryHigh):
		f := VitalFinding{Rule: "V14", Effect: NoVigorous, Hold: clearance.Vigorous, Needs: clearance.NeedsStatement, Cites: ada,
			Text: says + "mild to moderate work only, nothing intense until it is below 250 mg/dL (13.9 mmol/L)."}
		switch {
		case rank(level) == 0:
			f.Effect, f.Hold, f.Text = TestKetones, clearance.All, says+"test for ketones before any exercise."
		case rank(level) >= rank(KetonesModerate):
			f.Effect, f.Hold, f.Text = NoSession, clearance.All, says+"with moderate or large ketones. No exercise."
		}
		a.find(f)
	default:
		f := VitalFinding{Rule: "V15", Effect: NoVigorous, Hold: clearance.Vigorous, Needs: clearance.NeedsStatement, Review: SugarTeam, Cites: ada,
			Text: says + "correct it as your doctor has planned with you; mild to moderate work only."}
		switch {
		case rank(level) == 0:
			f.Effect, f.Hold, f.Text = TestKetones, clearance.All, says+"test for ketones before any exercise."
		case rank(level) > rank(KetonesTrace):
			f.Effect, f.Hold, f.Text = NoSession, clearance.All, says+"with ketones. No exercise."
		}
		a.find(f)
	}
}

// ketones applies V16.
func (a *Assessment) ketones(v Vitals) {
	if rank(v.ketoneLevel()) < rank(KetonesModerate) {
		return
	}
	f := VitalFinding{Rule: "V16", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: SugarTeam,
		Cites: []source.Key{"ketones_copy", "screening_memory"}, Text: "Ketones are moderate or large. No exercise; call the diabetes team."}
	if v.Ketones != nil && *v.Ketones >= ketonesEmergency {
		f.Effect, f.Review = Emergency, CallNumber
		f.Text = "Ketones " + v.Ketones.String() + " mmol/L: call the emergency number now."
	}
	a.find(f)
}

// sugarText writes the sugar in the unit it was measured in.
func (v Vitals) sugarText() string {
	if v.GlucoseMgDL != nil {
		return strconv.Itoa(*v.GlucoseMgDL) + " mg/dL"
	}
	return v.GlucoseMmol.String() + " mmol/L"
}
