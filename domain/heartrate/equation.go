package heartrate

import (
	"brae/domain"
	"brae/domain/source"
)

// Equation is the id of an equation for the maximal heart rate. It is stored
// with every range that was computed from it.
type Equation string

// The equations. Gellish 2007 is the default; see [EquationInfo] for the others.
const (
	Gellish2007          Equation = "gellish2007"
	Tanaka2001           Equation = "tanaka2001"
	Nes2013              Equation = "nes2013"
	Gellish2007Unrounded Equation = "gellish2007_unrounded"
	Fox1971              Equation = "fox1971"
	Gulati2010           Equation = "gulati2010"
	Sydo2014             Equation = "sydo2014"
	Astrand              Equation = "astrand"
	Inbar1994            Equation = "inbar1994"
	Brawner2004          Equation = "brawner2004"
	BrawnerNoBetaBlocker Equation = "brawner_nobb"
	Keteyian2012         Equation = "keteyian2012"
)

// The errors to show with a predicted maximum, one standard error either way.
//
// Source: nes2013, sarzynski2013, brawner2004, keteyian2012.
const (
	HealthyError BPM = 11
	DiseaseError BPM = 18
)

// Sex is female or male where an equation needs it; anything else is neither.
type Sex = domain.Sex

// The sexes that equations tell apart.
const (
	Female = domain.Female
	Male   = domain.Male
)

// Mode is what somebody exercised on.
type Mode string

// The modes that heart-rate rules tell apart.
const (
	Treadmill Mode = "treadmill"
	Cycle     Mode = "cycle"
)

// EquationInfo tells one equation: how it goes, whom it was made on and when it
// may be chosen.
type EquationInfo struct {
	ID         Equation
	Name       string // who made it, and when
	Version    int    // counts up when the arithmetic of an id changes
	Formula    string
	Population string
	Error      BPM    // to show, one standard error either way
	Published  string // the error as published for this equation; empty if not seen
	Choice     string // when it may be chosen
	Disease    bool   // made on clients with heart disease: rough, and never for vigorous work
	OnlySex    Sex    // empty for both
	MinAge     int    // completed years of those it was made on, where it is held to them
	MaxAge     int
	NeedsSex   bool
	NeedsRest  bool
	NeedsMode  bool
	Requires   Condition // all of these
	Excludes   Condition // none of these
	Cites      []source.Key

	base, perYear   Milli // base - perYear x age
	male, malePerYr Milli // the same for men, where it differs
	perRest, cycle  Milli // + perRest x resting; less on a cycle
}

// rhythm is what a disease equation excludes beside its own conditions: hearts
// whose rate is not their own.
const rhythm = Transplant | Pacemaker | PacemakerFixed | PacemakerResponsive | Fibrillation | IrregularPulse | FibrillationAtTimes

const (
	anyAdult = "Any adult with a valid basis; the practice may make it its default."
	explicit = "Only by explicit choice of the practitioner."
)

var equations = [...]EquationInfo{
	{
		ID: Gellish2007, Name: "Gellish 2007", Version: 1, Formula: "207 - 0.7 x age", base: 207_000, perYear: 700,
		Population: "132 adults of both sexes in a university fitness centre, 908 tests over 25 years",
		Error:      HealthyError, Choice: anyAdult + " The default.", MinAge: 18, MaxAge: 110,
		Cites: []source.Key{"gellish2007"},
	},
	{
		ID: Tanaka2001, Name: "Tanaka 2001", Version: 1, Formula: "208 - 0.7 x age", base: 208_000, perYear: 700,
		Population: "351 studies with 18 712 people of both sexes; checked in 514",
		Error:      HealthyError, Published: "11.4 in 762 sedentary adults", Choice: anyAdult, MinAge: 18, MaxAge: 110,
		Cites: []source.Key{"tanaka2001", "sarzynski2013"},
	},
	{
		ID: Nes2013, Name: "Nes 2013", Version: 1, Formula: "211 - 0.64 x age", base: 211_000, perYear: 640,
		Population: "3 320 healthy Norwegians with a verified maximal effort",
		Error:      HealthyError, Published: "10.8", Choice: anyAdult, MinAge: 18, MaxAge: 110,
		Cites: []source.Key{"nes2013"},
	},
	{
		ID: Gellish2007Unrounded, Name: "Gellish 2007, not rounded", Version: 1, Formula: "206.9 - 0.67 x age", base: 206_900, perYear: 670,
		Population: "the same 132 adults, before rounding",
		Error:      HealthyError, Choice: explicit, MinAge: 18, MaxAge: 110,
		Cites: []source.Key{"jackson2007"},
	},
	{
		ID: Fox1971, Name: "Fox 1971", Version: 1, Formula: "220 - age", base: 220_000, perYear: 1000,
		Population: "drawn by eye through about ten small groups, all men, mostly under 55; never meant as a norm",
		Error:      HealthyError, Published: "12.4 in 762 sedentary adults",
		Choice: explicit + " To reproduce printed tables; too high under 40 and too low over 40.", MinAge: 18, MaxAge: 110,
		Cites: []source.Key{"fox1971", "jackson2007", "sarzynski2013"},
	},
	{
		ID: Gulati2010, Name: "Gulati 2010, women", Version: 1, Formula: "206 - 0.88 x age", base: 206_000, perYear: 880,
		Population: "5 437 women without symptoms, mean age 52, treadmill",
		Error:      HealthyError, Published: "11.8 (from memory)", Choice: explicit + " For women; never switched to by sex alone.",
		OnlySex: Female, NeedsSex: true, MinAge: 18, MaxAge: 110,
		Cites: []source.Key{"gulati2010"},
	},
	{
		ID: Sydo2014, Name: "Sydo 2014", Version: 1, Formula: "women 210 - 0.79 x age, men 220 - 0.95 x age",
		base: 210_000, perYear: 790, male: 220_000, malePerYr: 950,
		Population: "19 013 adults of 40 to 89 years without risk factors",
		Error:      HealthyError, Choice: explicit, NeedsSex: true, MinAge: 40, MaxAge: 89,
		Cites: []source.Key{"sydo2014"},
	},
	{
		ID: Astrand, Name: "Astrand, to 34 years", Version: 1, Formula: "216.6 - 0.84 x age", base: 216_600, perYear: 840,
		Population: "people of 4 to 34 years",
		Error:      HealthyError, Choice: explicit, MinAge: 18, MaxAge: 34,
		Cites: []source.Key{"astrand"},
	},
	{
		ID: Inbar1994, Name: "Inbar 1994", Version: 1, Formula: "205.8 - 0.685 x age", base: 205_800, perYear: 685,
		Population: "1 424 healthy people",
		Error:      HealthyError, Published: "6.4 (from memory)", Choice: explicit, MinAge: 18, MaxAge: 110,
		Cites: []source.Key{"inbar1994"},
	},
	{
		ID: Brawner2004, Name: "Brawner 2004, heart disease on a beta-blocker", Version: 1, Formula: "164 - 0.7 x age", base: 164_000, perYear: 700,
		Population: "334 people of 40 to 80 years with coronary disease on a beta-blocker, in sinus rhythm, treadmill",
		Error:      DiseaseError, Published: "18, explaining 13 % of the variance",
		Choice:  explicit + " Coronary disease, beta-blocker, sinus rhythm and pumping function kept. Rough; never for vigorous work.",
		Disease: true, MinAge: 40, MaxAge: 80, Requires: Coronary | BetaBlocker, Excludes: HeartFailure | rhythm,
		Cites: []source.Key{"brawner2004"},
	},
	{
		ID: BrawnerNoBetaBlocker, Name: "Brawner, heart disease without a beta-blocker", Version: 1, Formula: "200 - 0.92 x age", base: 200_000, perYear: 920,
		Population: "coronary disease without a beta-blocker",
		Error:      DiseaseError, Choice: explicit + " Coronary disease without a beta-blocker. Its own error was not seen; treated as rough.",
		Disease: true, MinAge: 18, MaxAge: 110, Requires: Coronary, Excludes: BetaBlocker | HeartFailure | rhythm,
		Cites: []source.Key{"brawner_abstract"},
	},
	{
		ID: Keteyian2012, Name: "Keteyian 2012, heart failure", Version: 1, Formula: "119 + 0.5 x resting - 0.5 x age, 5 less on a cycle",
		base: 119_000, perYear: 500, perRest: 500, cycle: 5000,
		Population: "people with systolic heart failure on a beta-blocker",
		Error:      DiseaseError, Published: "18, explaining 28 % of the variance; its authors doubt it for prescribing",
		Choice:  explicit + " Heart failure and beta-blocker. Rough; never for vigorous work.",
		Disease: true, NeedsRest: true, NeedsMode: true, MinAge: 18, MaxAge: 110,
		Requires: HeartFailure | BetaBlocker, Excludes: rhythm,
		Cites: []source.Key{"keteyian2012"},
	},
}

// Equations returns the twelve equations, the default first and those made on
// clients with heart disease last.
//
// Source: gellish2007, tanaka2001, nes2013, jackson2007, fox1971, gulati2010, sydo2014, astrand, inbar1994, brawner2004, brawner_abstract, keteyian2012.
func Equations() []EquationInfo { return append([]EquationInfo(nil), equations[:]...) }

// Info returns the equation with that id.
func (e Equation) Info() (EquationInfo, bool) {
	if info := e.find(); info != nil {
		return *info, true
	}
	return EquationInfo{}, false
}

func (e Equation) find() *EquationInfo {
	for i := range equations {
		if equations[i].ID == e {
			return &equations[i]
		}
	}
	return nil
}

// EquationInput is what an equation may need.
type EquationInput struct {
	Age        int // completed years
	Sex        Sex
	RestingHR  BPM
	Mode       Mode
	Conditions Condition
}

// PopulationError says that an equation was made on other people than this one.
// It unwraps to [domain.Problems] of the field "equation".
type PopulationError struct {
	Equation Equation
	Sentence string
}

// Error returns the equation and the sentence.
func (e *PopulationError) Error() string { return string(e.Equation) + ": " + e.Sentence }

// Unwrap returns the problem of the field.
func (e *PopulationError) Unwrap() error { return domain.Problems{"equation": e.Sentence} }

// Maximum returns the maximal heart rate by an equation, exactly. It returns
// [*PopulationError] when the equation was made on other people, and
// [domain.Problems] for an unknown equation, a missing input or an age outside
// 18-110.
//
// Source: gellish2007, tanaka2001, nes2013, jackson2007, fox1971, gulati2010, sydo2014, astrand, inbar1994, brawner2004, brawner_abstract, keteyian2012.
func Maximum(eq Equation, in EquationInput) (Milli, error) {
	info := eq.find()
	if info == nil {
		return 0, domain.Problems{"equation": "This equation is not known."}
	}
	if err := info.fits(&in); err != nil {
		return 0, err
	}
	return info.of(&in), nil
}

// fits returns the error of [Maximum].
func (info *EquationInfo) fits(in *EquationInput) error {
	switch {
	case in.Age < 18 || in.Age > 110:
		return domain.Problems{"age": "The equations are used for adults from 18 to 110 years."}
	case info.NeedsSex && in.Sex != Female && in.Sex != Male:
		return domain.Problems{"sex": "This equation needs female or male; the default does not."}
	case info.NeedsRest && (in.RestingHR < 1 || in.RestingHR > highestRate):
		return domain.Problems{"resting_hr": "This equation needs the resting heart rate."}
	case info.NeedsMode && in.Mode != Treadmill && in.Mode != Cycle:
		return domain.Problems{"mode": "This equation needs to know whether it is for a treadmill or a cycle."}
	case info.OnlySex != "" && in.Sex != info.OnlySex:
		return &PopulationError{info.ID, "This equation was made on women only."}
	case in.Age < info.MinAge || in.Age > info.MaxAge:
		return &PopulationError{info.ID, "This equation was made on people of another age."}
	case in.Conditions&info.Requires != info.Requires || in.Conditions.Has(info.Excludes):
		return &PopulationError{info.ID, "This equation is only for: " + info.Population + "."}
	}
	return nil
}

// of computes the equation without looking at whom it is for.
func (info *EquationInfo) of(in *EquationInput) Milli {
	base, perYear := info.base, info.perYear
	if in.Sex == Male && info.male != 0 {
		base, perYear = info.male, info.malePerYr
	}
	m := base - perYear*Milli(in.Age) + info.perRest*Milli(in.RestingHR)
	if in.Mode == Cycle {
		m -= info.cycle
	}
	return m
}
