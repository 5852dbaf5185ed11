package medicine

// Class is a group of medicines that act alike on what is measured in exercise.
type Class string

// The classes.
const (
	BetaSelective            Class = "BB_CS"        // beta-blocker, heart-selective
	BetaNonSelective         Class = "BB_NS"        // beta-blocker, non-selective
	BetaPartialAgonist       Class = "BB_ISA"       // beta-blocker with partial agonist action
	AlphaBeta                Class = "BB_AB"        // alpha and beta blocker
	BetaRhythm               Class = "BB_III"       // rhythm medicine with beta-blockade
	BetaEyeDrops             Class = "BB_EYE"       // beta-blocker eye drops
	CalciumRateSlowing       Class = "CCB_ND"       // rate-slowing calcium blocker
	CalciumVasodilating      Class = "CCB_DHP"      // vasodilating calcium blocker
	SinusSlowing             Class = "IF_INH"       // sinus-rate slowing medicine
	Digitalis                Class = "DIGIT"        // digitalis
	RhythmIII                Class = "AA_III"       // rhythm medicine, class III
	RhythmIC                 Class = "AA_IC"        // rhythm medicine, class Ic
	RhythmIOther             Class = "AA_I_OTHER"   // rhythm medicine, other class I
	Antianginal              Class = "ANTIANG"      // other angina medicine
	MyosinInhibitor          Class = "MYOSIN"       // cardiac myosin inhibitor
	Nitrate                  Class = "NITRATE"      // nitrate
	Vasodilator              Class = "VASOD"        // direct vasodilator
	ACEInhibitor             Class = "ACEI"         // ACE inhibitor
	AngiotensinBlocker       Class = "ARB"          // angiotensin receptor blocker
	Neprilysin               Class = "ARNI"         // neprilysin inhibitor with angiotensin receptor blocker
	ReninInhibitor           Class = "DRI"          // renin inhibitor
	DiureticThiazide         Class = "DIUR_T"       // thiazide-type diuretic
	DiureticLoop             Class = "DIUR_L"       // loop diuretic
	DiureticPotassiumSparing Class = "DIUR_K"       // potassium-sparing diuretic
	CentralActing            Class = "A2_CENT"      // centrally acting blood-pressure medicine
	AlphaBlocker             Class = "A1_BLK"       // alpha-blocker
	BetaAgonist              Class = "BETA2"        // beta-agonist bronchodilator
	Xanthine                 Class = "XANTH"        // xanthine bronchodilator
	AnticholinergicInhaled   Class = "ANTICHOL_INH" // inhaled anticholinergic
	Thyroid                  Class = "THYROID"      // thyroid hormone
	Antithyroid              Class = "ANTITHYR"     // antithyroid medicine
	Stimulant                Class = "STIM"         // stimulant
	Decongestant             Class = "DECONG"       // decongestant
	Tricyclic                Class = "TCA"          // tricyclic antidepressant
	SNRI                     Class = "SNRI"         // serotonin and noradrenaline reuptake inhibitor
	SSRI                     Class = "SSRI"         // serotonin reuptake inhibitor
	OtherAntidepressant      Class = "OTHER_AD"     // other antidepressant
	Antipsychotic            Class = "ANTIPSY"      // antipsychotic
	CholinesteraseInhibitor  Class = "CHEI"         // cholinesterase inhibitor
	S1PModulator             Class = "S1P"          // sphingosine receptor modulator
	Insulin                  Class = "INSULIN"      // insulin
	InsulinReleasing         Class = "SU_GLIN"      // insulin-releasing tablet
	SGLT2Inhibitor           Class = "SGLT2"        // SGLT2 inhibitor
	GLP1Agonist              Class = "GLP1"         // GLP-1 agonist
	OtherDiabetes            Class = "OTHER_DM"     // other diabetes medicine
	PDE5Inhibitor            Class = "PDE5"         // PDE5 inhibitor
	PulmonaryPressure        Class = "PAH_HF"       // pulmonary-hypertension or heart-failure medicine
	Anticoagulant            Class = "ANTICOAG"     // anticoagulant
	Antiplatelet             Class = "ANTIPLT"      // antiplatelet
	Statin                   Class = "STATIN"       // statin
	Steroid                  Class = "STEROID"      // steroid tablet
	PressureRaising          Class = "ORTHO_UP"     // blood-pressure raising medicine
	LegArtery                Class = "PAD_DRUG"     // leg-artery medicine
	ParkinsonSpasm           Class = "PARK_SPAS"    // Parkinson's or spasticity medicine
	Bladder                  Class = "BLADDER"      // bladder medicine
)

// Change says which way a medicine moves a measurement.
type Change string

// The changes.
const (
	Flat          Change = "flat"
	Down          Change = "down"
	Up            Change = "up"
	FlatOrDown    Change = "flat_or_down"
	FlatOrUp      Change = "flat_or_up"
	DownSlight    Change = "down_slight"
	UpSlight      Change = "up_slight"
	DownStanding  Change = "down_standing"   // on standing up
	DownAtStart   Change = "down_at_start"   // in the first weeks
	DownAsTreated Change = "down_as_treated" // as the disease comes under control
	UpLongTerm    Change = "up_long_term"    // over months
)

// Effect is what a class does to heart rate at rest and in exercise and to
// blood pressure, and what that leaves valid.
type Effect struct {
	RestingHR  Change
	ExerciseHR Change
	Pressure   Change
	Zones      Zones
	Label      string // the class in words
	Note       string // what a practitioner should know
}

// The sets of the class table.
const (
	z3 Zones = 1 << iota // in the order of strictness
	z1
	z2
	z4
	z0
	z5
	z6
)

// Effect returns what the class does, and false for a class that does not
// exist.
//
// Source: healthlinkbc_medicines, peel1995, medicine_memory.
func (c Class) Effect() (Effect, bool) {
	for i := range classes {
		if classes[i].class == c {
			return classes[i].Effect, true
		}
	}
	return Effect{}, false
}

// Classes returns every class, heart medicines first.
func Classes() []Class {
	all := make([]Class, len(classes))
	for i := range classes {
		all[i] = classes[i].class
	}
	return all
}
