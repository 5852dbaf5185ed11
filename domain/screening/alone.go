package screening

import (
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/clearance"
)

// AloneInput is what decides whether somebody may exercise unattended.
type AloneInput struct {
	Screening Decision
	Clearance clearance.Clearance
	Risk      RiskClass // empty for who is no heart patient

	NYHA             int         // class 1 to 4 of heart failure; 0 is none
	FailureStable    domain.Date // since when heart failure is stable; zero is not
	EjectionFraction *int        // per cent
	LowEffortAngina  bool
	FaintUnexplained bool
	LastShock        domain.Date // of a defibrillator
	Sternotomy       domain.Date
	Marfan           bool
	LastSevereLow    domain.Date // in type 1 diabetes
	LowUnawareness   bool        // in type 1 diabetes: lows come without warning
	EffortSpO2       *int        // per cent, lowest in effort
	Falls            int         // in the last twelve months
	CannotMonitor    bool        // cannot count a pulse or answer the talk test, without a carer
	NobodyReachable  bool        // no phone, or nobody to reach in an emergency
}

// Concerns is what a bar is about.
type Concerns string

// What a bar is about.
const (
	AllWork      Concerns = "all"
	BalanceWork  Concerns = "balance_treadmill" // unsupported balance and treadmill work
	VigorousWork Concerns = "vigorous"          // the first vigorous sessions
)

// Bar is one reason against unattended exercise.
type Bar struct {
	Rule     string
	Concerns Concerns
	Says     string
}

// ejectionAloneFrom is the ejection fraction from which nobody has to name
// exercise at home, in per cent.
//
// Source: aacvpr_class. Practice rule: practice.
const ejectionAloneFrom = ejectionHighBelow

// AgainstAlone returns all reasons against unattended exercise on a day, none if
// there is none. Where one stands, sessions are supervised or wait.
//
// Source: aha_class_c, aacvpr_class, usc_cardiac_rehab, lung_rehab_toolkit, bmc_sternal. Practice rule: practice.
func AgainstAlone(in AloneInput, today domain.Date, p Policy) []Bar {
	var bars []Bar
	bar := func(when bool, rule, says string) {
		if when {
			bars = append(bars, Bar{"alone." + rule, AllWork, says})
		}
	}
	named := func(code string) bool {
		_, ok := in.Clearance.Releases(code, domain.Date{})
		return ok && in.Clearance.Unsupervised
	}
	held := func(codes ...string) bool {
		return slices.ContainsFunc(codes, func(c string) bool { return slices.Contains(in.Screening.Uncovered, c) })
	}
	known := func(code string) bool {
		return slices.ContainsFunc(in.Screening.Causes, func(c clearance.Cause) bool { return c.Code == code })
	}

	if in.Risk != "" {
		ok, why := in.Risk.AloneAllowed(in.Clearance)
		bar(!ok, "risk", why)
	}
	bar(in.Clearance.SupervisedOnly, "supervised", "The doctor's decision allows supervised sessions only.")
	bar(!in.Screening.Decided(), "undecided", "The screening is not decided.")
	for _, code := range in.Screening.Findings {
		bar(true, "finding", stopSays[position[code]])
	}
	bar(in.Screening.Group == Symptomatic && in.Screening.Uncovered != nil, "symptom", "There is a symptom without a doctor's decision.")
	bar(in.NYHA >= 3, "failure_class", "Heart failure with symptoms at little effort or at rest.")
	unstable := in.FailureStable.IsZero() || today.Before(in.FailureStable.AddDays(7*p.FailureWeeks))
	bar((in.NYHA > 0 || known("heart_failure")) && unstable, "failure_stable",
		fmt.Sprintf("Heart failure has not been stable for %d weeks.", p.FailureWeeks))
	bar(in.EjectionFraction != nil && *in.EjectionFraction < ejectionAloneFrom && !in.Clearance.Unsupervised, "ejection",
		"The ejection fraction is below 40 per cent, and no decision names exercise on one's own.")
	bar(in.LowEffortAngina, "angina", "Angina at low effort.")
	bar(in.FaintUnexplained, "faint", "A faint that nobody has explained.")
	bar(within(in.LastShock, p.ShockMonths, today), "shock", fmt.Sprintf("A shock of the defibrillator in the last %d months.", p.ShockMonths))
	bar(!in.Sternotomy.IsZero() && today.Before(in.Sternotomy.AddDays(7*p.SternumWeeks)), "sternum",
		fmt.Sprintf("Surgery through the breastbone less than %d weeks ago.", p.SternumWeeks))
	bar(held("stroke", "tia"), "stroke", "A stroke or warning stroke that no doctor has released.")
	bar(in.Marfan && !named("aortic_aneurysm"), "aorta", "A disease that widens the aorta.")
	for _, code := range []string{"aortic_stenosis_severe", "hypertrophic_cardiomyopathy", "aortic_aneurysm"} {
		bar(known(code) && !named(code), "heart", TermName(code)+", and no decision names exercise on one's own.")
	}
	bar(known("diabetes_type_1") && within(in.LastSevereLow, p.SevereLowMonths, today), "severe_low",
		fmt.Sprintf("A severe low blood sugar in the last %d months.", p.SevereLowMonths))
	bar(known("diabetes_type_1") && in.LowUnawareness, "low_unaware", "Low blood sugar comes without warning.")
	bar(held("dialysis"), "dialysis", "The kidney team has not agreed.")
	bar(in.EffortSpO2 != nil && *in.EffortSpO2 < p.OxygenFloor, "oxygen", fmt.Sprintf("Oxygen falls below %d per cent in effort.", p.OxygenFloor))
	bar(in.CannotMonitor, "monitor", "Cannot watch their own effort, and no carer does.")
	if in.Falls >= p.FallsYear {
		bars = append(bars, Bar{"alone.falls", BalanceWork, fmt.Sprintf("%d falls in twelve months: no unsupported balance or treadmill work.", in.Falls)})
	}
	if in.NobodyReachable {
		bars = append(bars, Bar{"alone.reach", VigorousWork, "Nobody can be reached in an emergency: no first vigorous sessions alone."})
	}
	return bars
}

// within reports whether a day is less than so many months before today.
func within(on domain.Date, months int, today domain.Date) bool {
	return !on.IsZero() && today.Before(on.AddMonths(months))
}
