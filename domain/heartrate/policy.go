package heartrate

import "brae/domain/source"

// Policy holds the practice's settings of this package. All rates are in beats a
// minute.
type Policy struct {
	DefaultEquation    Equation
	MinReserve         BPM // below it no range is shown
	WarnReserve        BPM // below it a range is shown with a warning
	PeakMonths         int // how long a measured peak holds
	RehabPeakMonths    int // the same inside cardiac rehabilitation
	VigorousTo         int // per cent of the reserve up to which vigorous work is prescribed
	UnknownBlocks      bool
	PregnancyHolds     bool
	IschaemiaMargin    BPM
	ICDMargin          BPM
	PacemakerMargin    BPM
	InterimReviewWeeks int
	InterimEffort      int // the highest perceived exertion (6-20) with an interim ceiling
	ReadingSpread      BPM
	RestingWeeks       int

	AgeConfirm, AgeHigh                                int
	RestLow, RestHigh, RestConfirmLow, RestConfirmHigh BPM
	RestHoldLow, RestHoldHigh                          BPM
	PeakLow, PeakHigh, PeakConfirmLow, PeakConfirmHigh BPM
	PeakFar                                            BPM
	SessionLow, SessionHigh, SessionAbove              BPM
}

// lowestMargin is the least that is taken off a threshold: guidelines say at
// least 10 beats.
const lowestMargin BPM = 10

// The cap on vigorous work, in per cent of the reserve: not above the class, and
// far enough into it that even the smallest reserve leaves a whole beat.
const (
	lowestVigorousTo  = 65
	highestVigorousTo = 90
)

// defaultEquations are the choices of the setting, from 1.
var defaultEquations = [...]Equation{Gellish2007, Tanaka2001, Nes2013}

// setting is a setting with the place it is read into.
type setting struct {
	source.Setting
	read func(*Policy, int)
}

func bpm(key, says string, normal, low, high int, cites []source.Key, field func(*Policy) *BPM) setting {
	return number(key, "bpm", says, normal, low, high, cites, func(p *Policy, n int) { *field(p) = BPM(n) })
}

func number(key, unit, says string, normal, low, high int, cites []source.Key, read func(*Policy, int)) setting {
	return setting{source.Setting{
		Key: "heartrate." + key, Topic: source.TopicHeartRate, Says: says, Unit: unit,
		Default: normal, Low: low, High: high, Cites: cites,
	}, read}
}

var ours = []source.Key{"practice"}

var settings = [...]setting{
	number("default_equation", "1 gellish2007, 2 tanaka2001, 3 nes2013",
		"The equation for the maximal heart rate where the practitioner chooses none.", 1, 1, 3,
		[]source.Key{"practice", "gellish2007", "tanaka2001", "nes2013"},
		func(p *Policy, n int) { p.DefaultEquation = defaultEquations[min(max(n, 1), len(defaultEquations))-1] }),
	bpm("min_reserve", "With a smaller heart-rate reserve no range is shown.", 20, 20, 60, ours,
		func(p *Policy) *BPM { return &p.MinReserve }),
	bpm("warn_reserve", "With a smaller heart-rate reserve the range comes with a warning.", 40, 20, 80, ours,
		func(p *Policy) *BPM { return &p.WarnReserve }),
	number("peak_months", "months", "A measured peak heart rate holds for so long.", 12, 1, 24, ours,
		func(p *Policy, n int) { p.PeakMonths = n }),
	number("rehab_peak_months", "months", "A measured peak heart rate holds for so long in cardiac rehabilitation.", 3, 1, 12, ours,
		func(p *Policy, n int) { p.RehabPeakMonths = n }),
	number("vigorous_to_percent", "per cent", "Vigorous work is prescribed up to this share of the reserve.", 80, lowestVigorousTo, highestVigorousTo,
		[]source.Key{"practice", "common_practice"}, func(p *Policy, n int) { p.VigorousTo = n }),
	number("unknown_medicine_blocks", "on/off", "No predicted range while a medicine is not recognised.", 1, 0, 1, ours,
		func(p *Policy, n int) { p.UnknownBlocks = n != 0 }),
	number("pregnancy_holds_vigorous", "on/off", "Vigorous work is held in pregnancy until released.", 1, 0, 1, ours,
		func(p *Policy, n int) { p.PregnancyHolds = n != 0 }),
	bpm("ischaemia_margin", "The ceiling lies so far below the heart rate at which ischaemia or another threshold showed.",
		10, int(lowestMargin), 30, []source.Key{"practice", "acsm_getp_heart_rate", "ada2016_angina"}, func(p *Policy) *BPM { return &p.IschaemiaMargin }),
	bpm("icd_margin", "The ceiling lies so far below the lowest detection rate of a defibrillator.",
		20, int(lowestMargin), 30, []source.Key{"practice", "acsm_getp_heart_rate"}, func(p *Policy) *BPM { return &p.ICDMargin }),
	bpm("pacemaker_margin", "The ceiling lies so far below the upper rate of a pacemaker.",
		10, int(lowestMargin), 20, []source.Key{"practice", "acsm_getp_heart_rate"}, func(p *Policy) *BPM { return &p.PacemakerMargin }),
	number("interim_review_weeks", "weeks", "An interim ceiling is reviewed after so long.", 4, 1, 12, ours,
		func(p *Policy, n int) { p.InterimReviewWeeks = n }),
	number("interim_effort", "points of 6-20", "The highest perceived exertion with an interim ceiling.", 13, 13, 14,
		[]source.Key{"practice", "acsm_getp_heart_rate", "aacvpr_rehab"}, func(p *Policy, n int) { p.InterimEffort = n }),
	bpm("reading_spread", "Resting readings that differ by more are taken again.", 10, 5, 20, ours,
		func(p *Policy) *BPM { return &p.ReadingSpread }),
	number("resting_weeks", "weeks", "The resting heart rate is measured again after so long.", 12, 8, 26, ours,
		func(p *Policy, n int) { p.RestingWeeks = n }),
	number("age_confirm", "years", "An age above this must be confirmed.", 90, 80, 110, ours,
		func(p *Policy, n int) { p.AgeConfirm = n }),
	number("age_high", "years", "An age above this cannot be saved.", 110, 100, 110, ours,
		func(p *Policy, n int) { p.AgeHigh = n }),
	bpm("rest_low", "A resting heart rate below this cannot be saved.", 25, 20, 40, ours,
		func(p *Policy) *BPM { return &p.RestLow }),
	bpm("rest_high", "A resting heart rate above this cannot be saved.", 150, 120, 180, ours,
		func(p *Policy) *BPM { return &p.RestHigh }),
	bpm("rest_confirm_low", "A resting heart rate below this must be confirmed.", 40, 30, 60, ours,
		func(p *Policy) *BPM { return &p.RestConfirmLow }),
	bpm("rest_confirm_high", "A resting heart rate above this must be confirmed.", 100, 80, 120, ours,
		func(p *Policy) *BPM { return &p.RestConfirmHigh }),
	bpm("rest_hold_low", "A resting heart rate below this, with symptoms or new, raises a review.", 40, 30, 50, ours,
		func(p *Policy) *BPM { return &p.RestHoldLow }),
	bpm("rest_hold_high", "A resting heart rate above this raises a review.", 120, 100, 130, []source.Key{"practice", "acsm_getp_heart_rate"},
		func(p *Policy) *BPM { return &p.RestHoldHigh }),
	bpm("peak_low", "A measured peak below this cannot be saved.", 60, 50, 90, ours,
		func(p *Policy) *BPM { return &p.PeakLow }),
	bpm("peak_high", "A measured peak above this cannot be saved.", 230, 210, 250, ours,
		func(p *Policy) *BPM { return &p.PeakHigh }),
	bpm("peak_confirm_low", "A measured peak below this must be confirmed.", 90, 60, 120, ours,
		func(p *Policy) *BPM { return &p.PeakConfirmLow }),
	bpm("peak_confirm_high", "A measured peak above this must be confirmed.", 210, 190, 230, ours,
		func(p *Policy) *BPM { return &p.PeakConfirmHigh }),
	bpm("peak_far", "A measured peak so far from the prediction must be confirmed.", 25, 15, 40, ours,
		func(p *Policy) *BPM { return &p.PeakFar }),
	bpm("session_low", "A heart rate in a session below this cannot be saved.", 30, 25, 50, ours,
		func(p *Policy) *BPM { return &p.SessionLow }),
	bpm("session_high", "A heart rate in a session above this cannot be saved.", 240, 220, 250, ours,
		func(p *Policy) *BPM { return &p.SessionHigh }),
	bpm("session_above", "A heart rate so far above the maximum must be confirmed.", 10, 0, 20, ours,
		func(p *Policy) *BPM { return &p.SessionAbove }),
}

// Settings are what a practice may change here.
var Settings = func() []source.Setting {
	all := make([]source.Setting, len(settings))
	for i := range settings {
		all[i] = settings[i].Setting
	}
	return all
}()

// PolicyFrom reads the settings in use; nil gives the defaults.
func PolicyFrom(v source.Values) Policy {
	var p Policy
	for i := range settings {
		settings[i].read(&p, v.Of(settings[i].Setting))
	}
	return p
}
