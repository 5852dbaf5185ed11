package heartrate

import (
	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
)

// Basis says why a heart-rate range may be shown.
type Basis string

// The bases.
//
// Source: keteyian2023, keteyian2019.
// Practice rule: practice.
const (
	Measured    Basis = "measured"     // a symptom-limited test on the present medicines
	Predicted   Basis = "predicted"    // an equation
	CeilingOnly Basis = "ceiling_only" // no range, but a number not to go above
	NoBasis     Basis = "none"         // no heart rate at all
)

// Valid reports whether a range may be shown.
func (b Basis) Valid() bool { return b == Measured || b == Predicted }

// Carrier is what steers the effort. Talk test and perceived exertion always do.
type Carrier struct {
	HeartRate  bool
	Workload   bool             // speed, watts or METs, and the response of blood pressure
	EffortFrom intensity.Effort // perceived exertion, 6-20; 0 for that of the prescribed class
	EffortTo   intensity.Effort
	EffortCap  intensity.Effort // not to be exceeded, with an interim ceiling; 0 is none
}

// BasisDecision is the row of the basis table that applies, and what follows.
type BasisDecision struct {
	Row          int // of the table, 1-13
	Via          int // with a defibrillator (row 6): the row that would apply without; otherwise 0
	Basis        Basis
	Equation     Equation // with a predicted basis
	Rough        bool     // an equation made on clients with heart disease
	Refused      bool     // row 1: no prescription from adult tables at all
	HoldVigorous bool     // row 2
	Carrier      Carrier
	Notes        Notes

	max      Milli // with a valid basis
	maxError BPM
}

// BasisRow is a row of the basis table.
type BasisRow struct {
	Number  int
	When    string
	Reason  string // why, for the practitioner
	Carrier Carrier
	Cites   []source.Key
}

// adultAge is the age in completed years from which adult tables apply.
const adultAge = 18

var basisRows = [...]BasisRow{
	{
		1, "Younger than 18.",
		"Adult tables do not apply: the maximal heart rate hardly falls with age in youth.",
		Carrier{}, []source.Key{"mahon2010", "youth_meta2023"},
	},
	{
		2, "Pregnant, or not yet released after the birth.",
		"In pregnancy resting heart rate rises and the peak is blunted, so no range is shown.",
		Carrier{EffortFrom: 12, EffortTo: 14}, []source.Key{"evenson2023", "mottola2006", "practice"},
	},
	{
		3, "Transplanted heart.",
		"A transplanted heart speeds up late and little; no prediction holds.",
		Carrier{EffortFrom: 12, EffortTo: 14}, []source.Key{"transplant_training", "squires2002", "practice"},
	},
	{
		4, "Pacemaker at a fixed rate, or of a kind not known.",
		"The heart rate cannot follow the effort.",
		Carrier{Workload: true}, []source.Key{"sharp1998", "acsm_getp_heart_rate"},
	},
	{
		5, "Pacemaker that follows effort or the atrium.",
		"The sensor shapes the heart rate: only a test with the present programming counts, below the upper rate.",
		Carrier{}, []source.Key{"sharp1998", "clark2022", "practice"},
	},
	{
		6, "Implanted defibrillator.",
		"Only a test counts, and the heart rate stays well below the rate at which the defibrillator acts.",
		Carrier{}, []source.Key{"acsm_getp_heart_rate", "practice"},
	},
	{
		7, "Atrial fibrillation now, another irregular pulse, or medicines that leave no heart rate to use.",
		"The heart rate is irregular and does not tell the effort. Go as fast as talking stays comfortable.",
		Carrier{EffortFrom: 11, EffortTo: 14}, []source.Key{"keteyian2019", "cornelis2018"},
	},
	{
		8, "Atrial fibrillation at times, regular today.",
		"Only a measured peak counts, and only while the pulse is regular.",
		Carrier{}, []source.Key{"keteyian2019"},
	},
	{
		9, "Takes a medicine that slows the heart; measured peak on the same medicine and dose.",
		"The measured peak already holds the effect of the medicine.",
		Carrier{}, []source.Key{"keteyian2023"},
	},
	{
		10, "Takes a medicine that slows the heart; no such test.",
		"A medicine slows the heart, so a maximum predicted from age is far too high.",
		Carrier{EffortFrom: 11, EffortTo: 14}, []source.Key{"keteyian2023", "brawner2004", "keteyian2012"},
	},
	{
		11, "Heart failure, damaged nerves of the heart, spinal-cord lesion at T6 or above, or a heart known not to speed up.",
		"The heart may not speed up as age predicts; only a measured peak counts.",
		Carrier{}, []source.Key{"adequate_effort2022", "acsm_getp_heart_rate"},
	},
	{
		12, "None of these; measured symptom-limited peak on file.",
		"A measured peak is better than any equation.",
		Carrier{}, []source.Key{"keteyian2019", "german_rehab"},
	},
	{
		13, "None of these, and no such peak.",
		"Nothing speaks against a maximum predicted from age.",
		Carrier{}, []source.Key{"gellish2007", "practice"},
	},
}

// BasisTable returns the thirteen rows; the first that matches decides.
//
// Source: mahon2010, evenson2023, transplant_training, sharp1998, keteyian2019, keteyian2023, adequate_effort2022, acsm_getp_heart_rate.
// Practice rule: practice.
func BasisTable() []BasisRow { return append([]BasisRow(nil), basisRows[:]...) }

// RuleID returns the id of the row as stored with decisions.
func (d BasisDecision) RuleID() string { return basisRules[d.Row-1].ID }

// Reason returns why the row decides as it does, in a sentence.
func (d BasisDecision) Reason() string {
	if d.Via != 0 && !d.Basis.Valid() && !d.allows(d.Via) {
		return basisRows[d.Row-1].Reason + " " + basisRows[d.Via-1].Reason
	}
	return basisRows[d.Row-1].Reason
}

// allows reports whether a row allows a range by itself, so that its reason does not
// say why there is none.
func (d BasisDecision) allows(row int) bool { return row == 9 || row == 12 || row == 13 }

// Cites returns the citations behind the row.
func (d BasisDecision) Cites() []source.Key {
	cites := append([]source.Key(nil), basisRows[d.Row-1].Cites...)
	if d.Via != 0 {
		cites = append(cites, basisRows[d.Via-1].Cites...)
	}
	if d.Equation != "" {
		cites = append(cites, d.Equation.find().Cites...)
	}
	return cites
}

// Decide says whether a heart-rate range may be shown, and why. It returns
// [domain.Problems] for an input out of range, and a [*PopulationError] when the
// chosen equation would be used but was made on other people. For somebody
// younger than 18 it returns row 1 together with a problem of the age.
//
// Source: mahon2010, evenson2023, transplant_training, sharp1998, keteyian2019, keteyian2023, adequate_effort2022, acsm_getp_heart_rate.
// Practice rule: practice.
func Decide(p Person, policy Policy) (BasisDecision, error) {
	d := BasisDecision{Basis: NoBasis}
	var ceilings Ceilings
	err := p.decide(&policy, &d, &ceilings)
	return d, err
}

// decide fills d and ceilings in place: copying them costs more than the rules.
func (p *Person) decide(policy *Policy, d *BasisDecision, ceilings *Ceilings) error {
	if err := p.check(policy); err != nil {
		return err
	}
	usable := false // the peak may stand for the maximum
	if p.Peak.HR != 0 {
		flaws := p.flaws(policy)
		usable = flaws == 0
		d.Notes |= flaws
	}
	d.Row = p.row(usable, false)
	if d.Row == 1 {
		d.Refused = true
		return domain.Problems{"age": "Zones are for adults: from 18 years on."}
	}
	decisive := d.Row
	if d.Row == 6 {
		d.Via = p.row(usable, true)
		decisive = d.Via
	}
	if err := p.apply(d, decisive, usable, policy); err != nil {
		return err
	}
	p.carry(d, decisive, policy)
	p.ceilings(policy, usable, ceilings)
	if d.Basis == NoBasis && *ceilings != (Ceilings{}) {
		d.Basis = CeilingOnly
	}
	return nil
}

// row returns the first row of the table that matches, with or without looking at
// a defibrillator.
func (p *Person) row(usable, pastICD bool) int {
	c := p.Conditions
	switch {
	case p.Age < adultAge:
		return 1
	case c.Has(Pregnant):
		return 2
	case c.Has(Transplant):
		return 3
	case c.Has(Pacemaker | PacemakerFixed):
		return 4
	case c.Has(PacemakerResponsive):
		return 5
	case !pastICD && c.Has(ICD):
		return 6
	case c.Has(Fibrillation|IrregularPulse) || p.Medicines.Has(Z3):
		return 7
	case c.Has(FibrillationAtTimes):
		return 8
	case p.slowed() && usable:
		return 9
	case p.slowed():
		return 10
	case c.Has(HeartFailure | Neuropathy | SpinalT6 | Incompetence):
		return 11
	case usable:
		return 12
	}
	return 13
}

// apply sets the basis that follows from a row.
func (p *Person) apply(d *BasisDecision, row int, usable bool, policy *Policy) error {
	switch row {
	case 2:
		if d.HoldVigorous = policy.PregnancyHolds; d.HoldVigorous {
			d.Notes |= pregnancyHold
		}
	case 3:
		if usable && p.Peak.TransplantAllowed {
			d.Basis = Measured
		} else if usable {
			d.Notes |= transplantNotAllowed
		}
	case 5, 8, 9, 11, 12:
		if usable {
			d.Basis = Measured
		}
	case 10:
		if info := p.Equation.find(); info != nil && info.Disease {
			if err := p.predict(d, p.Equation); err != nil {
				return err
			}
		}
	case 13:
		equation := p.Equation
		if equation == "" {
			equation = policy.DefaultEquation
		}
		if p.UnknownMedicine && policy.UnknownBlocks {
			d.Notes |= medicineUnknown
		} else if d.Row != 6 { // with a defibrillator only a test counts
			if err := p.predict(d, equation); err != nil {
				return err
			}
		}
	}
	p.withhold(d)
	return nil
}

// predict makes an equation the basis, if the person is one it was made for.
func (p *Person) predict(d *BasisDecision, equation Equation) error {
	info, in := equation.find(), p.input()
	if err := info.fits(&in); err != nil {
		return err
	}
	d.Basis, d.Equation, d.Rough = Predicted, equation, info.Disease
	d.max, d.maxError = info.of(&in), info.Error
	if d.Rough {
		d.Notes |= roughMaximum
	}
	return nil
}

// withhold takes a basis away when a number is missing without which a range is
// dangerous, when the pulse tells nothing, or when resting and maximal heart rate belong to different medicines.
func (p *Person) withhold(d *BasisDecision) {
	var missing Notes
	if p.Conditions.Has(ICD) && p.Limits.ICDDetectionHR == 0 {
		missing |= detectionMissing
	}
	if p.Conditions.Has(PacemakerResponsive) && p.Limits.PacemakerUpperHR == 0 {
		missing |= upperRateMissing
	}
	// A row above the ones for these can allow a test (transplant, pacemaker that
	// follows effort): not when the pulse is irregular or fixed as well.
	const useless = Pacemaker | PacemakerFixed | Fibrillation | IrregularPulse
	if d.Basis == Measured && (p.Conditions.Has(useless) || p.Medicines.Has(Z3)) {
		missing |= pulseUseless
	}
	altered := p.slowed() || p.Medicines.Has(Z2)
	if altered && p.RestingBeforeMedicine {
		missing |= restingBefore
	}
	if missing != 0 {
		d.Notes |= missing
		d.Basis, d.Equation, d.Rough = NoBasis, "", false
		d.Notes &^= roughMaximum
	}
	if d.Basis == NoBasis && p.Equation != "" {
		d.Notes |= equationUnused
	}
	if d.Basis.Valid() && altered {
		d.Notes |= restingOnMedicine
	}
	if d.Basis == Measured {
		d.max = p.Peak.HR.Milli()
		if p.Peak.Mode == Cycle {
			d.Notes |= cyclePeak
		}
	}
}

// carry says what steers the effort, and what has to be watched.
func (p *Person) carry(d *BasisDecision, row int, policy *Policy) {
	d.Carrier = basisRows[row-1].Carrier
	d.Carrier.HeartRate = d.Basis.Valid()
	if row == 8 {
		d.Notes |= rhythmWatch
	}
	if p.Limits.Interim.Kind != "" {
		d.Carrier.EffortCap = intensity.Effort(policy.InterimEffort)
		if later(p.Today, p.Limits.Interim.ReviewOn) {
			d.Notes |= interimDue
		}
	}
	if !p.RestingOn.IsZero() && later(p.Today, p.RestingOn.AddDays(7*policy.RestingWeeks)) {
		d.Notes |= restingDue
	}
}
