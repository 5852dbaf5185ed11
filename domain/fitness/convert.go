package fitness

// Conversions between the units of the equations and those that people read.
const (
	// MetresPerMph is one mile an hour in m/min, as the equations were published
	// with it; the exact factor is 26.8224.
	//
	// Source: bushman2020.
	MetresPerMph = 26.8

	// KgmPerWatt is one watt in kgm/min. Teaching sheets use 6, which makes a
	// watt 2 % more.
	//
	// Source: acsm_conditions.
	KgmPerWatt = 6.12

	// KgPerPound is one pound in kg, by definition.
	//
	// Source: common_practice.
	KgPerPound = 0.45359237

	// MetresPerInch is one inch in m, by definition.
	//
	// Source: common_practice.
	MetresPerInch = 0.0254

	// MetresPerMile is one mile in m, by definition.
	//
	// Source: common_practice.
	MetresPerMile = 1609.344

	// RestingVO2 is one MET in ml of oxygen per kg and minute.
	//
	// Source: acsm_equations.
	RestingVO2 = 3.5

	// KcalPerLitre is the energy of one litre of oxygen.
	//
	// Source: acsm_equations.
	KcalPerLitre = 5.0

	// LegMetresPerTurn is how far the flywheel of the usual friction-braked cycle
	// runs in one turn of the pedals, in m.
	//
	// Source: acsm_equations.
	LegMetresPerTurn = 6.0

	// ArmMetresPerTurn is the same for the usual arm crank.
	//
	// Source: acsm_equations.
	ArmMetresPerTurn = 2.4
)

// FromMph returns m/min.
//
// Source: bushman2020.
func FromMph(mph float64) float64 { return mph * MetresPerMph }

// ToMph returns mph from m/min.
//
// Source: bushman2020.
func ToMph(mMin float64) float64 { return mMin / MetresPerMph }

// FromKmH returns m/min from km/h.
//
// Source: common_practice.
func FromKmH(kmh float64) float64 { return kmh * 1000 / 60 }

// ToKmH returns km/h from m/min.
//
// Source: common_practice.
func ToKmH(mMin float64) float64 { return mMin * 60 / 1000 }

// FromMilePace returns m/min from minutes a mile; 12 minutes are 134 m/min. The
// minutes must be above zero.
//
// Source: bushman2020.
func FromMilePace(minutes float64) float64 { return FromMph(60 / minutes) }

// ToMilePace returns minutes a mile from m/min, which must be above zero.
//
// Source: bushman2020.
func ToMilePace(mMin float64) float64 { return 60 / ToMph(mMin) }

// FromWatts returns kgm/min.
//
// Source: acsm_conditions.
func FromWatts(w float64) float64 { return w * KgmPerWatt }

// ToWatts returns watts from kgm/min.
//
// Source: acsm_conditions.
func ToWatts(kgmMin float64) float64 { return kgmMin / KgmPerWatt }

// LegWork returns kgm/min on a friction-braked cycle from the load in kp and the
// turns of the pedals a minute.
//
// Source: acsm_equations.
func LegWork(kp, rpm float64) float64 { return kp * LegMetresPerTurn * rpm }

// ArmWork returns kgm/min on a friction-braked arm crank from the load in kp and
// the turns a minute.
//
// Source: acsm_equations.
func ArmWork(kp, rpm float64) float64 { return kp * ArmMetresPerTurn * rpm }

// METs returns METs of adults from ml per kg and minute.
//
// Source: acsm_equations.
func METs(vo2 float64) float64 { return vo2 / RestingVO2 }

// Litres returns litres of oxygen a minute from ml per kg and minute and kg.
//
// Source: acsm_equations.
func Litres(vo2, weightKg float64) float64 { return vo2 * weightKg / 1000 }

// KcalMin returns kilocalories a minute from ml per kg and minute and kg: gross
// for a gross oxygen uptake, net for one without rest.
//
// Source: acsm_equations.
func KcalMin(vo2, weightKg float64) float64 { return Litres(vo2, weightKg) * KcalPerLitre }

// StepCycles returns full up-and-down cycles from the beats of a metronome, one
// beat a foot.
//
// Source: acsm_equations.
func StepCycles(beats float64) float64 { return beats / 4 }

// BMI returns the body-mass index in kg/m2 from kg and cm.
//
// Source: common_practice.
func BMI(weightKg, heightCm float64) float64 {
	m := heightCm / 100
	return weightKg / (m * m)
}
