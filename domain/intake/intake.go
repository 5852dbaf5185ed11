// Package intake is the first visit as one value: what was typed into its form,
// read into what the rules need. It decides nothing; screening, heart rate and
// medicines do.
package intake

import (
	"maps"
	"slices"
	"strings"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/screening"
	"brae/domain/source"
)

// Record is what the first visit found. Zero fields were not measured or asked.
type Record struct {
	Activity  screening.Activity `json:"activity"`
	Answers   screening.Answers  `json:"answers"`
	Explained map[string]string  `json:"explained"` // a practitioner's word on a disease that a medicine points to
	Medicines []string           `json:"medicines"` // as typed, one a line

	RestingReadings []heartrate.BPM   `json:"resting_readings"` // beats a minute, 60 s each
	Posture         heartrate.Posture `json:"posture"`
	Systolic        int               `json:"systolic"`                 // mmHg; the mean where there are two readings
	Diastolic       int               `json:"diastolic"`                // mmHg
	PressureApart   bool              `json:"pressure_apart,omitempty"` // the two readings differ too much
	WeightTenths    int               `json:"weight"`                   // tenths of a kilogram
	HeightTenths    int               `json:"height"`                   // tenths of a centimetre
	Peak            heartrate.Peak    `json:"peak"`

	TemperatureTenths int `json:"temperature,omitempty"` // tenths of a degree Celsius
	GlucoseMgDL       int `json:"glucose,omitempty"`     // mg/dL
	Oxygen            int `json:"oxygen,omitempty"`      // per cent

	Details      []Detail                 `json:"details,omitempty"`      // of what was answered yes or not sure
	Reclassified []screening.Reclassified `json:"reclassified,omitempty"` // answers that a practitioner has set aside
	Attested     *screening.Attested      `json:"attested,omitempty"`     // a practitioner's word on regular exercise
	Limits       Limits                   `json:"limits"`                 // on movement

	// Doubts are values that somebody has to confirm before anything is decided.
	Doubts domain.Doubts `json:"-"`

	Desired intensity.Class `json:"desired"` // what is wanted next
	Goal    string          `json:"goal"`    // in the client's words
}

// The names of the fields beside the health questions, which are called
// [QuestionField] of their code.
const (
	FieldDays          = "activity_days"
	FieldMinutes       = "activity_minutes"
	FieldMonths        = "activity_months"
	FieldActivityClass = "activity_class"
	FieldMedicines     = "medicines"
	FieldMedicineName  = "medicine_name" // of one that is being added
	FieldMedicineDose  = "medicine_dose"
	FieldMedicineSince = "medicine_since"
	FieldResting1      = "resting_1"
	FieldResting2      = "resting_2"
	FieldResting3      = "resting_3"
	FieldPosture       = "posture"
	FieldSystolic      = "systolic"
	FieldDiastolic     = "diastolic"
	FieldWeight        = "weight"
	FieldHeight        = "height"
	FieldPeak          = "peak"
	FieldPeakOn        = "peak_on"
	FieldPeakMode      = "peak_mode"
	FieldPeakLimited   = "peak_symptom_limited"
	FieldPeakSame      = "peak_same_medicines"
	FieldDesired       = "desired"
	FieldGoal          = "goal"
)

// QuestionField is the field of a health question.
func QuestionField(code string) string { return "q." + code }

// ExplainedField is the field in which a practitioner explains a medicine that
// points to a disease the client does not report.
func ExplainedField(hint string) string { return "explained." + hint }

// Read reads the typed answers, within the ranges that the practice has set. The
// problems are by field; what could not be
// read stays zero.
func Read(answers map[string]string, settings source.Values) (Record, domain.Problems) {
	r := reader{answers: answers}
	record := Record{
		Activity: screening.Activity{
			Days:    r.whole(FieldDays, 0, 7, "Days a week are a whole number from 0 to 7."),
			Minutes: r.whole(FieldMinutes, 0, 1440, "Minutes a day are a whole number, such as 30."),
			Months:  r.whole(FieldMonths, 0, 1200, "Months are a whole number, such as 3. A year is 12."),
			Class:   r.class(FieldActivityClass),
		},
		Medicines: r.lines(FieldMedicines),
		Desired:   r.class(FieldDesired),
		Goal:      r.text(FieldGoal),
	}
	r.questions(&record)
	r.details(&record)
	r.attested(&record)
	r.limits(&record)
	r.measurements(&record, settings)
	record.Doubts = r.doubts
	return record, r.problems
}

func (r *reader) class(field string) intensity.Class {
	typed := r.text(field)
	if typed == "" {
		return intensity.None
	}
	c, err := intensity.ParseClass(typed)
	if err != nil || c == intensity.None {
		r.problems.Add(field, "Choose one of the intensities.")
	}
	return c
}

func (r *reader) questions(record *Record) {
	for _, term := range screening.Codes() {
		field := QuestionField(term.Code)
		answer, err := screening.ParseAnswer(r.text(field))
		if err == nil {
			err = record.Answers.Set(term.Code, answer)
		}
		if err != nil {
			r.problems.Add(field, "Answer with yes, no or not sure.")
		}
	}
	for field, typed := range r.answers {
		if hint, ok := strings.CutPrefix(field, ExplainedField("")); ok && strings.TrimSpace(typed) != "" {
			if record.Explained == nil {
				record.Explained = map[string]string{}
			}
			record.Explained[hint] = strings.TrimSpace(typed)
		}
	}
}

func (r *reader) measurements(record *Record, settings source.Values) {
	policy := heartrate.PolicyFrom(settings)
	for _, field := range []string{FieldResting1, FieldResting2, FieldResting3} {
		bpm := heartrate.BPM(r.whole(field, 1, 999, "A heart rate is a whole number of beats a minute, such as 68."))
		if bpm == 0 {
			continue
		}
		if !r.judge(field, heartrate.CheckResting(bpm, heartrate.RestingContext{}, policy)) {
			continue
		}
		record.RestingReadings = append(record.RestingReadings, bpm)
	}
	record.Posture = heartrate.Posture(r.text(FieldPosture))
	if record.Posture != "" && !record.Posture.Valid() {
		r.problems.Add(FieldPosture, "Choose one of the postures.")
	}
	bands := screening.BandsFrom(settings)
	r.pressure(record, bands)
	r.body(record, bands)
	r.peak(record, policy)
}

func (r *reader) peak(record *Record, policy heartrate.Policy) {
	hr := heartrate.BPM(r.whole(FieldPeak, 1, 999, "A heart rate is a whole number of beats a minute, such as 154."))
	if hr == 0 {
		return
	}
	resting := heartrate.BPM(0)
	if mean, err := heartrate.RestingMean(record.RestingReadings, policy); err == nil {
		resting = mean.HR
	}
	r.judge(FieldPeak, heartrate.CheckPeak(hr, heartrate.PeakContext{RestingHR: resting}, policy))
	record.Peak = heartrate.Peak{
		HR: hr, On: r.date(FieldPeakOn), Mode: heartrate.Mode(r.text(FieldPeakMode)),
		SymptomLimited: r.text(FieldPeakLimited) == "yes", SameMedicines: r.text(FieldPeakSame) == "yes",
	}
	if record.Peak.On.IsZero() {
		r.problems.Add(FieldPeakOn, "Type the day of the test.")
	}
	switch record.Peak.Mode {
	case "", heartrate.Treadmill, heartrate.Cycle:
	default:
		r.problems.Add(FieldPeakMode, "Choose treadmill or cycle.")
	}
}

// Matches is what the medicines are.
func (r Record) Matches() medicine.Result {
	lines := make([]string, len(r.Medicines))
	for i, line := range r.Medicines {
		lines[i], _ = Started(line)
	}
	return medicine.Match(strings.Join(lines, "\n"))
}

// started is how a line tells since when a medicine is taken.
const started = ", since "

// Started takes apart a line with a medicine and since when it is taken; since is
// empty if the line does not say.
func Started(line string) (name, since string) {
	name, since, _ = strings.Cut(line, started)
	return strings.TrimSpace(name), strings.TrimSpace(since)
}

// MedicineLine is the line of a medicine, its dose as typed, and since when.
func MedicineLine(name, dose, since string) string {
	line := strings.Join(strings.Fields(name+" "+dose), " ")
	if since = strings.TrimSpace(since); since != "" {
		line += started + since
	}
	return line
}

// Screening returns what the screening decides on. Medicines whose name is only
// nearly known point to nothing until the name is put right.
func (r Record) Screening(birth, today domain.Date) screening.Input {
	in := screening.Input{
		Today: today, BirthDate: birth, Activity: r.Activity, Attested: r.Attested, Desired: r.Desired,
		Since: r.onsets(today), Reclassified: r.setAside(),
	}
	in.Answers, _ = r.findings(screening.PolicyFrom(nil))
	for _, h := range medicine.Hints(r.Matches().Matches) {
		if h.Blocks {
			in.Hints = append(in.Hints, screening.Hint{
				Code: h.Code, Says: strings.Join(h.Names, ", "), Explained: r.Explained[h.Code],
			})
		}
	}
	return in
}

// conditions are the answers that bear on which heart rates may be used.
var conditions = map[string]heartrate.Condition{
	"pregnant":                heartrate.Pregnant,
	"heart_transplant":        heartrate.Transplant,
	"pacemaker":               heartrate.Pacemaker,
	"defibrillator":           heartrate.ICD,
	"atrial_fibrillation":     heartrate.Fibrillation,
	"atrial_fibrillation_new": heartrate.Fibrillation,
	"rhythm_disorder":         heartrate.IrregularPulse, // whether it is regular today, a pulse count tells
	"heart_failure":           heartrate.HeartFailure,
	"coronary_disease":        heartrate.Coronary,
	"heart_attack":            heartrate.Coronary,
	"angina":                  heartrate.Coronary,
	"stent":                   heartrate.Coronary,
	"bypass_surgery":          heartrate.Coronary,
	"autonomic_neuropathy":    heartrate.Neuropathy,
}

// HeartRate returns what the zones are computed from on a day. Answers of yes
// and of not sure count alike.
func (r Record) HeartRate(birth, today, measured domain.Date, settings source.Values) (heartrate.Person, error) {
	found := r.Matches()
	medicines, err := heartrate.ParseMedicines(found.ZonesUntilConfirmed().String())
	if err != nil {
		return heartrate.Person{}, err
	}
	p := heartrate.Person{
		Age: birth.AgeOn(today), Today: today, Medicines: medicines, UnknownMedicine: len(found.Unknown) > 0,
		Peak: r.Peak,
	}
	for _, code := range slices.Sorted(maps.Keys(conditions)) {
		if r.Answers.Of(code).CountsAsYes() {
			p.Conditions |= conditions[code]
		}
	}
	if len(r.RestingReadings) > 0 {
		resting, err := heartrate.RestingMean(r.RestingReadings, heartrate.PolicyFrom(settings))
		if err != nil {
			return heartrate.Person{}, err
		}
		p.RestingHR, p.RestingOn = resting.HR, measured
	}
	return p, nil
}

// Flags returns what makes the practice ask a doctor before the first vigorous
// work, beyond what the screening asks for.
//
// Practice rule: practice.
func (r Record) Flags() clearance.Flags {
	zones := r.Matches().ZonesUntilConfirmed()
	return clearance.Flags{
		Systolic: r.Systolic, Diastolic: r.Diastolic,
		RateMedicine: (zones.Has(medicine.MeasuredOnly) || zones.Has(medicine.NoHeartRate)) && r.Peak.HR == 0,
		Pregnant:     r.Answers.Of("pregnant").CountsAsYes(),
	}
}
