package intake

import "slices"

// AskedVitals says which vital signs a client's diseases and medicines call for before a
// session, beside blood pressure, heart rate and symptoms, which everybody is
// asked for.
type AskedVitals struct {
	Glucose bool
	Ketones bool
	Oxygen  bool
	Weight  bool
}

// VitalsAsked returns what to measure before a session. Not sure counts as yes.
//
// Source: ada2016, lung_rehab_toolkit, heart_failure_weight.
func (r Record) VitalsAsked() AskedVitals {
	has := func(codes ...string) bool {
		return slices.ContainsFunc(codes, func(code string) bool { return r.Answers.Of(code).CountsAsYes() })
	}
	v := r.Vitals()
	return AskedVitals{
		Glucose: v.GlucoseLowering || has("diabetes_type_1"),
		Ketones: has("diabetes_type_1"),
		Oxygen:  has("copd", "lung_disease_other", "pulmonary_hypertension"),
		Weight:  v.HeartFailure,
	}
}
