package heartrate

import (
	"fmt"
	"strings"

	"brae/domain"
	"brae/domain/intensity"
)

// Unavailable says why a class has no range.
type Unavailable uint8

// The reasons.
const (
	Available  Unavailable = iota // it has one
	ByBasis                       // no valid basis
	ByReserve                     // the reserve is too small
	ByCeiling                     // the range starts above the ceiling
	ByRoughMax                    // the maximum is too rough for vigorous work
	ByResting                     // in the view by the maximum: below resting
)

var unavailableNames = [...]string{"", "no_basis", "reserve", "ceiling", "rough_maximum", "resting"}

// String returns the code of the reason, nothing for Available.
func (u Unavailable) String() string { return unavailableNames[u] }

// Band is the range of one class in whole beats, both ends included. Low and High
// are 0 where the class is unavailable.
type Band struct {
	Class     intensity.Class
	Low, High BPM
	// PrescribeTo is how far up the range may be prescribed: High, except that
	// vigorous work ends at the practice's cap. 0 is: not prescribed by heart rate.
	PrescribeTo BPM
	Why         Unavailable
}

// Zones is every heart-rate range of one person, and what it rests on.
type Zones struct {
	Decision    BasisDecision
	Scheme      intensity.Scheme
	Max         Milli // 0 without a basis
	MaxError    BPM   // one standard error either way; 0 for a measured peak
	Rest        BPM
	Bands       [5]Band // from very light
	Ceilings    Ceilings
	Ceiling     BPM // the lowest; 0 is none
	CeilingFrom CeilingKind
	Notes       Notes // with those of the decision
	ByMaximum   bool  // a logged beat is classed by per cent of the maximum, as it was prescribed
}

// ZonesFor returns the range of each class in whole beats: from the lowest beat
// that is not below the class's edge up to the last beat before the next edge, so
// that every whole beat from resting to the maximum is in exactly one range and
// the class of a logged beat agrees with what is shown. Ranges end at the ceiling;
// a class whose low edge is above it is unavailable, as are all without a basis
// or with a reserve below 20 beats (by default), and vigorous work on a rough
// maximum.
//
// It returns the errors of [Decide], and [domain.Problems] when a range is due but
// the resting heart rate is missing or not below the maximum, or the practice's
// cap on vigorous work is outside 65-90 %.
//
// Source: karvonen1957, garber2011.
// Practice rule: practice.
func ZonesFor(p Person, policy Policy) (z Zones, err error) {
	if err = z.fill(&p, &policy); err != nil { // named results spare a copy of all ranges
		z = Zones{Decision: z.Decision}
	}
	return z, err
}

// fill computes in place.
func (z *Zones) fill(p *Person, policy *Policy) error {
	z.Scheme, z.Rest, z.Decision.Basis = intensity.ACSM2011, p.RestingHR, NoBasis
	if err := p.decide(policy, &z.Decision, &z.Ceilings); err != nil {
		return err
	}
	if policy.VigorousTo < lowestVigorousTo || policy.VigorousTo > highestVigorousTo {
		return domain.Problems{"vigorous_to_percent": "Vigorous work is prescribed up to between 65 and 90 % of the reserve."}
	}
	z.Notes = z.Decision.Notes
	z.Ceiling, z.CeilingFrom, _ = z.Ceilings.Lowest()

	if !z.Decision.Basis.Valid() {
		z.close(ByBasis)
		return nil
	}
	z.Max, z.MaxError = z.Decision.max, z.Decision.maxError
	if p.RestingHR == 0 {
		return domain.Problems{"resting_hr": "A range needs the resting heart rate."}
	}
	d, err := reserve(z.Max, z.Rest)
	if err != nil {
		return err
	}
	if d < int64(policy.MinReserve.Milli()) {
		z.Decision.Basis, z.Decision.Carrier.HeartRate = NoBasis, false
		if z.Ceiling != 0 {
			z.Decision.Basis = CeilingOnly
		}
		z.Notes |= reserveTiny
		z.close(ByReserve)
		return nil
	}
	if d < int64(policy.WarnReserve.Milli()) {
		z.Notes |= reserveSmall
	}
	z.open(d, policy.VigorousTo)
	return nil
}

// close makes all classes unavailable.
func (z *Zones) close(why Unavailable) {
	for i := range z.Bands {
		z.Bands[i] = Band{Class: intensity.Class(i + 1), Why: why}
	}
	z.Max, z.MaxError = 0, 0
}

// open fills the ranges for a reserve of d thousandths.
func (z *Zones) open(d int64, vigorousTo int) {
	low := z.Rest
	for i := range z.Bands {
		b := &z.Bands[i]
		b.Class = intensity.Class(i + 1)
		next := z.Max.Floor() + 1
		if b.Class < intensity.NearMaximal {
			next = target(z.Rest, d, intensity.Reserve.From(b.Class+1)).Ceil()
		}
		b.Low, b.High = low, next-1
		low = next
		switch b.Class {
		case intensity.Vigorous:
			b.PrescribeTo = min(b.High, target(z.Rest, d, vigorousTo).Floor())
		case intensity.NearMaximal: // never prescribed by heart rate
		default:
			b.PrescribeTo = b.High
		}
	}
	z.cut()
}

// cut ends the ranges at the ceiling and takes away what may not be used.
func (z *Zones) cut() {
	open := false
	for i := range z.Bands {
		b := &z.Bands[i]
		switch {
		case z.Decision.Rough && b.Class >= intensity.Vigorous:
			*b = Band{Class: b.Class, Why: ByRoughMax}
			continue
		case z.Ceiling != 0 && b.High > z.Ceiling:
			if *b = b.Within(z.Ceiling); b.Why != Available {
				continue
			}
			z.Notes |= ceilingCuts
		}
		open = true
	}
	if !open {
		z.Notes |= ceilingBelowAll
	}
}

// Within returns the range as far as a ceiling lets it go; it is unavailable if
// it begins above.
//
// Practice rule: practice.
func (b Band) Within(ceiling BPM) Band {
	switch {
	case b.Low > ceiling:
		return Band{Class: b.Class, Why: ByCeiling}
	case b.High > ceiling:
		b.High, b.PrescribeTo = ceiling, min(b.PrescribeTo, ceiling)
	}
	return b
}

// Band returns the range of a class; that of None is unavailable.
func (z *Zones) Band(c intensity.Class) Band {
	if c < intensity.VeryLight || c > intensity.NearMaximal {
		return Band{Class: c, Why: ByBasis}
	}
	return z.Bands[c-intensity.VeryLight]
}

// Unavailable returns the classes without a range, from the easiest.
func (z *Zones) Unavailable() []intensity.Class {
	var classes []intensity.Class
	for i := range z.Bands {
		if z.Bands[i].Why != Available {
			classes = append(classes, z.Bands[i].Class)
		}
	}
	return classes
}

// withheld are the notes that say why there is no range although a row of the table
// would allow one.
const withheld = reserveTiny | restingBefore | medicineUnknown | detectionMissing | upperRateMissing | pulseUseless

// Reason returns why there is a basis or none, in sentences: the reason of the row, and
// what keeps a range from being shown that the row would allow.
func (z *Zones) Reason() string {
	d := &z.Decision
	if d.Basis.Valid() {
		return d.Reason()
	}
	var parts []string
	if !d.allows(d.Row) {
		parts = append(parts, d.Reason())
	}
	for _, n := range (z.Notes & withheld).All() {
		parts = append(parts, n.Text)
	}
	return strings.Join(parts, " ")
}

// Explain says why a class has no range, in a sentence; nothing if it has one.
func (z *Zones) Explain(c intensity.Class) string {
	switch z.Band(c).Why {
	case ByBasis:
		return "There is no valid basis for a heart-rate range."
	case ByReserve:
		return "The heart-rate reserve is too small for a range."
	case ByRoughMax:
		return fmt.Sprintf("The maximal heart rate is too rough for %s work.", plainNames[c])
	case ByCeiling:
		from := target(z.Rest, int64(z.Max-z.Rest.Milli()), intensity.Reserve.From(c)).Ceil()
		return fmt.Sprintf("The ceiling of %d is below the %s range, which starts at %d.", z.Ceiling, plainNames[c], from)
	}
	return ""
}

var plainNames = [...]string{"", "very light", "light", "moderate", "vigorous", "near-maximal"}

// Beat is a logged heart rate in the light of somebody's ranges.
type Beat struct {
	Class        intensity.Class   // None without a valid basis
	Percent      intensity.Percent // of the reserve, nearest; below 0 and above 100 % occur
	AboveMax     bool              // a finding: wrong maximum, artefact or rhythm; the maximum is not changed
	AboveCeiling bool
}

// Beat judges a logged heart rate. Its class is that of [ClassOf], whether or not
// a ceiling cuts the range; with ByMaximum it follows the edges of the same scheme by
// per cent of the maximum.
//
// Source: karvonen1957, garber2011.
func (z *Zones) Beat(hr BPM) Beat {
	b := Beat{AboveCeiling: z.Ceiling != 0 && hr > z.Ceiling}
	if z.Max == 0 {
		return b
	}
	if b.Class = ClassOf(z.Max, z.Rest, hr); z.ByMaximum {
		b.Class = intensity.Maximum.Of(int64(hr.Milli()), int64(z.Max))
	}
	b.Percent, _ = PercentOf(z.Max, z.Rest, hr) // the reserve was checked with the ranges
	b.AboveMax = hr.Milli() > z.Max
	return b
}

// Evidence returns a logged heart rate as evidence for how hard a part was.
func (z *Zones) Evidence(hr BPM) *intensity.HeartRate {
	b := z.Beat(hr)
	return &intensity.HeartRate{
		Class:        b.Class,
		Valid:        z.Decision.Basis.Valid(),
		Measured:     z.Decision.Basis == Measured,
		AboveCeiling: b.AboveCeiling,
	}
}
