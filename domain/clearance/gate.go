package clearance

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
)

// Cause is a disease, symptom or finding that asks for a doctor, and since when
// it is known (zero if nobody knows).
type Cause struct {
	Code  string      `json:"code"`
	Since domain.Date `json:"since"`
}

// GateInput is what the gate before vigorous work looks at.
type GateInput struct {
	ScreenedOn    domain.Date     // the day of the screening in use; zero is none
	Undecided     bool            // its answers are incomplete or in conflict
	MayProgressTo intensity.Class // what its answers allow in the end, with today's clearance
	Causes        []Cause         // what in it asks for a doctor
	Clearance     Clearance       // what doctors allow today
	Changes       []Change        // what has happened, with the day of each
	Holds         []Hold
	VigorousPhase bool        // the plan is in the introduction of vigorous work, or past it
	SignedOffOn   domain.Date // the practitioner's sign-off; zero is none
	Flags         Flags
}

// Flags are what makes the practice ask a doctor before the first vigorous work,
// beyond what the screening asks for. A flag is settled by a decision in force
// that names its code and allows vigorous work.
//
// Practice rule: practice.
type Flags struct {
	Systolic, Diastolic int  // mmHg, last measurement; 0 is not measured
	OxygenFalls         bool // lung disease with a fall of oxygen in effort
	RateMedicine        bool // a rate-changing medicine without a measured maximum
	Pregnant            bool
}

// The codes by which a decision settles a flag.
const (
	FlagBloodPressure = "blood_pressure_160"
	FlagOxygen        = "copd_desaturation"
	FlagRateMedicine  = "rate_medicine"
	FlagPregnant      = "pregnant"
)

// GateReason is one reason why vigorous work waits.
type GateReason struct {
	Rule string `json:"rule"`
	Says string `json:"says"`
}

// Gate says whether vigorous work may be prescribed, planned or started.
type Gate struct {
	Allow   bool         `json:"allow"`
	First   GateReason   `json:"first"` // the first reason; empty if it is allowed
	Reasons []GateReason `json:"reasons"`
}

func (g *Gate) fail(rule, says string) {
	g.Reasons = append(g.Reasons, GateReason{"gate." + rule, says})
}

// VigorousGate tells whether vigorous work may be prescribed, planned or started
// on a day, with all reasons why not, the weightiest first. It is asked again
// whenever vigorous work is about to appear, in the transaction that saves it.
//
// Practice rule: practice.
func VigorousGate(in GateInput, today domain.Date, p Policy) Gate {
	var g Gate
	g.ceiling(in)
	g.holds(in.Holds)
	g.screening(in, today, p)
	if !in.VigorousPhase {
		g.fail("phase", "The plan has not reached the introduction of vigorous work.")
	}
	switch {
	case in.SignedOffOn.IsZero():
		g.fail("signoff", "The practitioner has not signed off vigorous work.")
	case in.SignedOffOn.After(today):
		g.fail("signoff", "The practitioner's sign-off is dated in the future.")
	case today.DaysSince(in.SignedOffOn) > p.SignOffDays:
		g.fail("signoff", fmt.Sprintf("The practitioner's sign-off is of %s, more than %d days ago.", in.SignedOffOn.Words(), p.SignOffDays))
	}
	if p.FlagVigorous {
		g.flags(in, p)
	}
	if g.Allow = len(g.Reasons) == 0; !g.Allow {
		g.First = g.Reasons[0]
	}
	return g
}

// ceiling looks at the screening's row and at the doctors' ceilings.
func (g *Gate) ceiling(in GateInput) {
	if in.MayProgressTo < intensity.Vigorous {
		g.fail("row", "The screening allows work up to "+in.MayProgressTo.String()+" only.")
	}
	for _, cause := range in.Causes {
		ceiling, ok := in.Clearance.Releases(cause.Code, cause.Since)
		switch {
		case !ok:
			g.fail("clearance", "No doctor's decision in force covers "+cause.Code+".")
		case ceiling < intensity.Vigorous:
			g.fail("clearance", "The doctor's ceiling with "+cause.Code+" is "+ceiling.String()+".")
		}
	}
	if c := Ceiling(nil, in.Clearance); c < intensity.Vigorous {
		g.fail("ceiling", "The doctors' ceiling is "+c.String()+".")
	}
}

func (g *Gate) holds(holds []Hold) {
	for _, h := range holds {
		if h.Open() {
			g.fail("hold", "A hold is open: "+h.Reason)
		}
	}
}

// screening looks at whether the screening still counts.
func (g *Gate) screening(in GateInput, today domain.Date, p Policy) {
	switch until := in.ScreenedOn.AddMonths(p.ScreeningMonths); {
	case in.ScreenedOn.IsZero():
		g.fail("screening", "There is no screening.")
		return
	case in.ScreenedOn.After(today):
		g.fail("screening", "The screening is dated in the future.")
		return
	case in.Undecided:
		g.fail("screening", "The screening is not complete.")
	case !today.Before(until):
		g.fail("screening", "The screening counted until "+until.Words()+".")
	}
	for _, c := range in.Changes {
		if c.EndsScreening() && c.On.After(in.ScreenedOn) && !c.On.After(today) {
			g.fail("screening", "Something has changed since the screening, on "+c.On.Words()+".")
			return
		}
	}
}

// flags looks at the practice's own cases.
func (g *Gate) flags(in GateInput, p Policy) {
	for _, flag := range []struct {
		up   bool
		code string
		says string
	}{
		{in.Flags.Systolic >= p.FlagSystolic || in.Flags.Diastolic >= p.FlagDiastolic, FlagBloodPressure,
			fmt.Sprintf("The last resting blood pressure was %d/%d mmHg.", in.Flags.Systolic, in.Flags.Diastolic)},
		{in.Flags.OxygenFalls, FlagOxygen, "Oxygen falls in effort, with lung disease."},
		{in.Flags.RateMedicine, FlagRateMedicine, "A medicine changes the heart rate, and there is no measured maximum."},
		{in.Flags.Pregnant, FlagPregnant, "The client is pregnant."},
	} {
		if !flag.up {
			continue
		}
		if c, ok := in.Clearance.Releases(flag.code, domain.Date{}); !ok || c < intensity.Vigorous {
			g.fail("flag."+flag.code, flag.says+" Ask the doctor before the first vigorous work.")
		}
	}
}
