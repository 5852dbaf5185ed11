package heartrate_test

import (
	"errors"
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/source"
)

var (
	policy = heartrate.PolicyFrom(nil)
	today  = domain.NewDate(2026, 3, 16)
)

// adult returns somebody of 60 years, resting 72, changed by edit.
func adult(edit func(*heartrate.Person)) heartrate.Person {
	p := heartrate.Person{Age: 60, Today: today, RestingHR: 72}
	if edit != nil {
		edit(&p)
	}
	return p
}

func tested(hr heartrate.BPM) heartrate.Peak { return heartrate.PeakToday(hr, today) }

func TestDecide(t *testing.T) {
	type person = heartrate.Person
	const (
		none      = heartrate.NoBasis
		measured  = heartrate.Measured
		predicted = heartrate.Predicted
		ceiling   = heartrate.CeilingOnly
	)
	for _, tt := range []struct {
		source   string
		edit     func(*person)
		row, via int
		basis    heartrate.Basis
		from, to intensity.Effort // perceived exertion that carries
		notes    []string         // all of them, in order
	}{
		{"Evenson 2021/23: pregnant", func(p *person) { p.Conditions = heartrate.Pregnant; p.Peak = tested(170) },
			2, 0, none, 12, 14, []string{"pregnancy_hold"}},
		{"Evenson 2021/23: pregnant, the clinician's own number", func(p *person) {
			p.Conditions = heartrate.Pregnant
			p.Limits.DoctorHR = 140
		}, 2, 0, ceiling, 12, 14, []string{"pregnancy_hold"}},
		{"Squires 2002: transplanted heart", func(p *person) { p.Conditions = heartrate.Transplant }, 3, 0, none, 12, 14, nil},
		{"transplant training abstract: a test is not enough", func(p *person) {
			p.Conditions = heartrate.Transplant
			p.Peak = tested(140)
		}, 3, 0, none, 12, 14, []string{"transplant_not_allowed"}},
		{"practice rule: transplant, test accepted by the practitioner", func(p *person) {
			p.Conditions = heartrate.Transplant
			p.Peak = tested(140)
			p.Peak.TransplantAllowed = true
		}, 3, 0, measured, 12, 14, nil},
		{"Keteyian 2019: transplanted heart in fibrillation, test accepted before", func(p *person) {
			p.Conditions = heartrate.Transplant | heartrate.Fibrillation
			p.Peak = tested(140)
			p.Peak.TransplantAllowed = true
		}, 3, 0, none, 12, 14, []string{"pulse_useless"}},
		{"Sharp 1998: transplanted heart paced at a fixed rate", func(p *person) {
			p.Conditions = heartrate.Transplant | heartrate.PacemakerFixed
			p.Peak = tested(140)
			p.Peak.TransplantAllowed = true
		}, 3, 0, none, 12, 14, []string{"pulse_useless"}},
		{"practice rule: transplanted heart, pacemaker of unknown kind", func(p *person) {
			p.Conditions = heartrate.Transplant | heartrate.Pacemaker
			p.Peak = tested(140)
			p.Peak.TransplantAllowed = true
		}, 3, 0, none, 12, 14, []string{"pulse_useless"}},
		{"Keteyian 2019: tracking pacemaker in fibrillation", func(p *person) {
			p.Conditions = heartrate.PacemakerResponsive | heartrate.IrregularPulse
			p.Limits.PacemakerUpperHR = 150
			p.Peak = tested(140)
		}, 5, 0, ceiling, 0, 0, []string{"pulse_useless"}},
		{"practice rule: tracking pacemaker, medicines that leave no heart rate", func(p *person) {
			p.Conditions = heartrate.PacemakerResponsive
			p.Medicines = heartrate.Z3
			p.Limits.PacemakerUpperHR = 150
			p.Peak = tested(140)
		}, 5, 0, ceiling, 0, 0, []string{"pulse_useless"}},
		{"Sharp 1998: fixed-rate pacemaker, even with a test", func(p *person) {
			p.Conditions = heartrate.PacemakerFixed
			p.Peak = tested(140)
		}, 4, 0, none, 0, 0, nil},
		{"practice rule: pacemaker of unknown kind", func(p *person) { p.Conditions = heartrate.Pacemaker }, 4, 0, none, 0, 0, nil},
		{"Sharp 1998: rate-responsive, no test", func(p *person) {
			p.Conditions = heartrate.PacemakerResponsive
			p.Limits.PacemakerUpperHR = 130
		}, 5, 0, ceiling, 0, 0, nil},
		{"Sharp 1998: rate-responsive, tested", func(p *person) {
			p.Conditions = heartrate.PacemakerResponsive
			p.Limits.PacemakerUpperHR = 150
			p.Peak = tested(140)
		}, 5, 0, measured, 0, 0, nil},
		{"practice rule: rate-responsive, upper rate not known", func(p *person) {
			p.Conditions = heartrate.PacemakerResponsive
			p.Peak = tested(140)
		}, 5, 0, none, 0, 0, []string{"upper_rate_missing"}},
		{"Sharp 1998: rate-responsive, reprogrammed since the test", func(p *person) {
			p.Conditions = heartrate.PacemakerResponsive
			p.Limits.PacemakerUpperHR = 150
			p.Peak = tested(140)
			p.Peak.Changed = heartrate.ChangedDevice
		}, 5, 0, ceiling, 0, 0, []string{"peak_other_heart"}},
		{"ACSM (from memory): defibrillator, tested", func(p *person) {
			p.Conditions = heartrate.ICD
			p.Limits.ICDDetectionHR = 180
			p.Peak = tested(150)
		}, 6, 12, measured, 0, 0, nil},
		{"practice rule: defibrillator, no test, no prediction", func(p *person) {
			p.Conditions = heartrate.ICD
			p.Limits.ICDDetectionHR = 180
		}, 6, 13, ceiling, 0, 0, nil},
		{"practice rule: defibrillator, detection rate not known", func(p *person) {
			p.Conditions = heartrate.ICD
			p.Peak = tested(150)
		}, 6, 12, none, 0, 0, []string{"detection_missing"}},
		{"Keteyian 2019: defibrillator and fibrillation", func(p *person) {
			p.Conditions = heartrate.ICD | heartrate.Fibrillation
			p.Limits.ICDDetectionHR = 180
			p.Peak = tested(150)
		}, 6, 7, ceiling, 11, 14, nil},
		{"practice rule: defibrillator, beta-blocker, tested on it", func(p *person) {
			p.Conditions = heartrate.ICD
			p.Medicines = heartrate.Z1
			p.Limits.ICDDetectionHR = 180
			p.Peak = tested(130)
		}, 6, 9, measured, 0, 0, []string{"resting_on_medicine"}},
		{"Sharp 1998: pacemaker before defibrillator, both rates needed", func(p *person) {
			p.Conditions = heartrate.ICD | heartrate.PacemakerResponsive
			p.Limits.PacemakerUpperHR = 150
			p.Peak = tested(140)
		}, 5, 0, ceiling, 0, 0, []string{"detection_missing"}},
		{"Keteyian 2019 table 6: fibrillation now, tested or not", func(p *person) {
			p.Conditions = heartrate.Fibrillation
			p.Peak = tested(150)
		}, 7, 0, none, 11, 14, nil},
		{"Cornelis 2018: irregular today", func(p *person) { p.Conditions = heartrate.IrregularPulse }, 7, 0, none, 11, 14, nil},
		{"practice rule: medicines that leave no heart rate", func(p *person) { p.Medicines = heartrate.Z3 | heartrate.Z1 },
			7, 0, none, 11, 14, nil},
		{"Keteyian 2019 table 6: now beats at times", func(p *person) {
			p.Conditions = heartrate.Fibrillation | heartrate.FibrillationAtTimes
		}, 7, 0, none, 11, 14, nil},
		{"Keteyian 2019 table 6: at times, regular today, tested", func(p *person) {
			p.Conditions = heartrate.FibrillationAtTimes
			p.Peak = tested(150)
		}, 8, 0, measured, 0, 0, []string{"rhythm_watch"}},
		{"Keteyian 2019 table 6: at times, not tested", func(p *person) { p.Conditions = heartrate.FibrillationAtTimes },
			8, 0, none, 0, 0, []string{"rhythm_watch"}},
		{"Keteyian 2023: beta-blocker, tested on it", func(p *person) {
			p.Medicines = heartrate.Z1
			p.Peak = tested(133)
		}, 9, 0, measured, 0, 0, []string{"resting_on_medicine"}},
		{"Keteyian 2023: beta-blocker named as a condition", func(p *person) {
			p.Conditions = heartrate.BetaBlocker
			p.Peak = tested(133)
		}, 9, 0, measured, 0, 0, []string{"resting_on_medicine"}},
		{"Keteyian 2023: beta-blocker, tested before it", func(p *person) {
			p.Medicines = heartrate.Z1 | heartrate.Z4
			p.Peak = tested(160)
			p.Peak.SameMedicines = false
		}, 10, 0, ceiling, 11, 14, []string{"peak_other_medicine"}},
		{"Keteyian 2023: beta-blocker, no test", func(p *person) { p.Medicines = heartrate.Z1 }, 10, 0, none, 11, 14, nil},
		{"Keteyian 2023: beta-blocker, healthy equation chosen", func(p *person) {
			p.Medicines = heartrate.Z1
			p.Equation = heartrate.Tanaka2001
		}, 10, 0, none, 11, 14, []string{"equation_unused"}},
		{"Brawner 2004: chosen for its own people", func(p *person) {
			p.Conditions = coronary | onBetaBlocker
			p.Equation = heartrate.Brawner2004
		}, 10, 0, predicted, 11, 14, []string{"rough_maximum", "resting_on_medicine"}},
		{"practice rule: resting rate from before the beta-blocker", func(p *person) {
			p.Medicines = heartrate.Z1
			p.Peak = tested(133)
			p.RestingBeforeMedicine = true
		}, 9, 0, none, 0, 0, []string{"resting_before_medicine"}},
		{"practice rule: the same with Brawner 2004", func(p *person) {
			p.Conditions = coronary | onBetaBlocker
			p.Equation = heartrate.Brawner2004
			p.RestingBeforeMedicine = true
		}, 10, 0, none, 11, 14, []string{"resting_before_medicine", "equation_unused"}},
		{"ACSM (from memory): heart failure, no test", func(p *person) { p.Conditions = failing }, 11, 0, none, 0, 0, nil},
		{"ACSM (from memory): heart failure, tested", func(p *person) {
			p.Conditions = failing
			p.Peak = tested(140)
		}, 11, 0, measured, 0, 0, nil},
		{"ACSM (from memory): autonomic neuropathy", func(p *person) { p.Conditions = heartrate.Neuropathy }, 11, 0, none, 0, 0, nil},
		{"ACSM (from memory): spinal-cord lesion", func(p *person) { p.Conditions = heartrate.SpinalT6 }, 11, 0, none, 0, 0, nil},
		{"Ann Rehabil Med 2022: chronotropic incompetence", func(p *person) { p.Conditions = heartrate.Incompetence }, 11, 0, none, 0, 0, nil},
		{"Keteyian 2019 footnote: healthy, tested", func(p *person) { p.Peak = tested(170) }, 12, 0, measured, 0, 0, nil},
		{"Keteyian 2012: a cycle test reads about 5 lower", func(p *person) {
			p.Peak = tested(170)
			p.Peak.Mode = heartrate.Cycle
		}, 12, 0, measured, 0, 0, []string{"cycle_peak"}},
		{"Gellish 2007: healthy", nil, 13, 0, predicted, 0, 0, nil},
		{"Gellish 2007: coronary disease without such medicines", func(p *person) { p.Conditions = coronary }, 13, 0, predicted, 0, 0, nil},
		{"abstract on resting + 20: chosen without beta-blocker", func(p *person) {
			p.Conditions = coronary
			p.Equation = heartrate.BrawnerNoBetaBlocker
		}, 13, 0, predicted, 0, 0, []string{"rough_maximum"}},
		{"practice rule: Z2, resting on the medicine", func(p *person) { p.Medicines = heartrate.Z2 },
			13, 0, predicted, 0, 0, []string{"resting_on_medicine"}},
		{"practice rule: Z2, resting before the medicine", func(p *person) {
			p.Medicines = heartrate.Z2
			p.RestingBeforeMedicine = true
		}, 13, 0, none, 0, 0, []string{"resting_before_medicine"}},
		{"dihydropyridines do not slow the heart: Z4, Z5, Z6", func(p *person) {
			p.Medicines = heartrate.Z4 | heartrate.Z5 | heartrate.Z6
			p.RestingBeforeMedicine = true
		}, 13, 0, predicted, 0, 0, nil},
		{"practice setting: unknown medicine", func(p *person) { p.UnknownMedicine = true }, 13, 0, none, 0, 0, []string{"medicine_unknown"}},
		{"practice rule: unknown medicine, tested on it", func(p *person) {
			p.UnknownMedicine = true
			p.Peak = tested(170)
		}, 12, 0, measured, 0, 0, nil},
		{"practice rule: test stopped early is a ceiling", func(p *person) {
			p.Peak = tested(140)
			p.Peak.SymptomLimited = false
		}, 13, 0, predicted, 0, 0, []string{"peak_ended_early"}},
		{"practice rule: test without a date is a ceiling", func(p *person) {
			p.Peak = tested(140)
			p.Peak.On = domain.Date{}
		}, 13, 0, predicted, 0, 0, []string{"peak_undated"}},
		{"practice setting: 12 months to the day", func(p *person) {
			p.Peak = tested(140)
			p.Peak.On = domain.NewDate(2025, 3, 16)
		}, 12, 0, measured, 0, 0, nil},
		{"practice setting: 12 months and a day", func(p *person) {
			p.Peak = tested(140)
			p.Peak.On = domain.NewDate(2025, 3, 15)
		}, 13, 0, predicted, 0, 0, []string{"peak_expired"}},
		{"practice setting: 3 months in rehabilitation, to the day", func(p *person) {
			p.Peak = tested(140)
			p.Peak.On = domain.NewDate(2025, 12, 16)
			p.InRehab = true
		}, 12, 0, measured, 0, 0, nil},
		{"practice setting: 3 months in rehabilitation and a day", func(p *person) {
			p.Peak = tested(140)
			p.Peak.On = domain.NewDate(2025, 12, 15)
			p.InRehab = true
		}, 13, 0, predicted, 0, 0, []string{"peak_expired"}},
		{"practice rule: cardiac event since", func(p *person) {
			p.Peak = tested(140)
			p.Peak.Changed = heartrate.ChangedHeart
		}, 13, 0, predicted, 0, 0, []string{"peak_other_heart"}},
		{"practice rule: rhythm changed since", func(p *person) {
			p.Peak = tested(140)
			p.Peak.Changed = heartrate.ChangedRhythm
		}, 13, 0, predicted, 0, 0, []string{"peak_other_heart"}},
		{"practice rule: medicine changed since", func(p *person) {
			p.Peak = tested(140)
			p.Peak.Changed = heartrate.ChangedMedicine
		}, 13, 0, predicted, 0, 0, []string{"peak_other_medicine"}},
		{"practice setting: resting rate 12 weeks old", func(p *person) { p.RestingOn = today.AddDays(-84) }, 13, 0, predicted, 0, 0, nil},
		{"practice setting: resting rate older", func(p *person) { p.RestingOn = today.AddDays(-85) },
			13, 0, predicted, 0, 0, []string{"resting_due"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.Decide(adult(tt.edit), policy)
			if err != nil {
				t.Fatal(err)
			}
			if got.Row != tt.row || got.Via != tt.via || got.Basis != tt.basis {
				t.Errorf("row %d via %d, basis %s; want %d via %d, %s", got.Row, got.Via, got.Basis, tt.row, tt.via, tt.basis)
			}
			if c := got.Carrier; c.EffortFrom != tt.from || c.EffortTo != tt.to || c.HeartRate != tt.basis.Valid() || c.Workload != (tt.row == 4) {
				t.Errorf("carried by %+v; want exertion %d-%d", c, tt.from, tt.to)
			}
			var codes []string
			for _, n := range got.Notes.All() {
				codes = append(codes, n.Code)
				if n.Text == "" || !got.Notes.Has(n.Code) {
					t.Errorf("note %s: no text, or not found", n.Code)
				}
			}
			if !slices.Equal(codes, tt.notes) {
				t.Errorf("notes %v; want %v", codes, tt.notes)
			}
			if got.Rough != slices.Contains(tt.notes, "rough_maximum") {
				t.Errorf("rough = %t", got.Rough)
			}
			if (got.Equation != "") != (tt.basis == predicted) || got.HoldVigorous != (tt.row == 2) || got.Refused {
				t.Errorf("equation %q, hold %t, refused %t", got.Equation, got.HoldVigorous, got.Refused)
			}
			if got.Reason() == "" || len(got.Cites()) == 0 {
				t.Errorf("row %d: no reason or no citation", got.Row)
			}
			if i := slices.IndexFunc(heartrate.Rules, func(r source.Rule) bool { return r.ID == got.RuleID() }); i < 0 {
				t.Errorf("rule %s is not among the rules", got.RuleID())
			}
		})
	}
}

func TestDecideRefuses(t *testing.T) {
	type person = heartrate.Person
	for _, tt := range []struct {
		source string
		edit   func(*person)
		fields []string
	}{
		{"Mahon 2010: 17 years", func(p *person) { p.Age = 17 }, []string{"age"}},
		{"practice setting: older than 110", func(p *person) { p.Age = 111 }, []string{"age"}},
		{"practice setting: older than 110, also without an equation", func(p *person) { p.Age = 111; p.Conditions = heartrate.Pregnant }, []string{"age"}},
		{"before birth", func(p *person) { p.Age = -1 }, []string{"age"}},
		{"practice setting: resting 24", func(p *person) { p.RestingHR = 24 }, []string{"resting_hr"}},
		{"practice setting: resting 151", func(p *person) { p.RestingHR = 151 }, []string{"resting_hr"}},
		{"not an equation", func(p *person) { p.Equation = "karvonen" }, []string{"equation"}},
		{"Brawner 2004: not a person it was made for", func(p *person) { p.Equation = heartrate.Brawner2004 }, []string{"equation"}},
		{"Keteyian 2012: chosen without its conditions, on a beta-blocker", func(p *person) {
			p.Medicines = heartrate.Z1
			p.Mode = heartrate.Cycle
			p.Equation = heartrate.Keteyian2012
		}, []string{"equation"}},
		{"Gulati 2010: a man", func(p *person) { p.Equation = heartrate.Gulati2010; p.Sex = heartrate.Male }, []string{"equation"}},
		{"practice setting: peak 59", func(p *person) { p.RestingHR = 50; p.Peak = tested(59) }, []string{"measured_max"}},
		{"practice setting: peak 231", func(p *person) { p.Peak = tested(231) }, []string{"measured_max"}},
		{"resting and peak swapped", func(p *person) { p.RestingHR = 140; p.Peak = tested(72) }, []string{"measured_max"}},
		{"resting and peak the same", func(p *person) { p.Peak = tested(72) }, []string{"measured_max"}},
		{"test tomorrow", func(p *person) { p.Peak = tested(170); p.Peak.On = today.AddDays(1) }, []string{"measured_on"}},
		{"test on no day", func(p *person) { p.Peak = tested(170); p.Peak.On.Day = 32 }, []string{"measured_on"}},
		{"today not known", func(p *person) { p.Peak = tested(170); p.Today = domain.Date{} }, []string{"today"}},
		{"practice setting: limits a beat outside", func(p *person) { p.Limits = heartrate.Limits{DoctorHR: 29, PractitionerHR: 241} },
			[]string{"doctor_hr", "practitioner_hr"}},
		{"practice setting: limits that are no heart rates", func(p *person) {
			p.Limits = heartrate.Limits{DoctorHR: 29, PractitionerHR: 241, IschaemiaHR: 12, ICDDetectionHR: 300, PacemakerUpperHR: -1}
		}, []string{"doctor_hr", "practitioner_hr", "ischaemia_hr", "icd_detection_hr", "pacemaker_upper_hr"}},
		{"ACSM (from memory): margins of at least 10", func(p *person) {
			p.Limits = heartrate.Limits{IschaemiaHR: 120, IschaemiaMargin: 9, ICDDetectionHR: 170, ICDMargin: 9}
		}, []string{"ischaemia_margin", "icd_margin"}},
		{"a rate typed as a margin", func(p *person) {
			p.Limits = heartrate.Limits{IschaemiaHR: 120, IschaemiaMargin: 61, ICDDetectionHR: 170, ICDMargin: -10}
		}, []string{"ischaemia_margin", "icd_margin"}},
		{"interim ceiling without its parts", func(p *person) {
			p.Today = domain.Date{}
			p.Limits.Interim = heartrate.Interim{Kind: "after_fall"}
		}, []string{"interim_kind", "interim_resting_hr", "interim_review_on", "today"}},
		{"interim ceiling, resting out of range, no such day", func(p *person) {
			p.Limits.Interim = heartrate.Interim{Kind: heartrate.AfterHeartAttack, RestingHR: 151, ReviewOn: domain.NewDate(2026, 2, 30)}
		}, []string{"interim_resting_hr", "interim_review_on"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			person := adult(tt.edit)
			_, err := heartrate.Decide(person, policy)
			problems, _ := errors.AsType[domain.Problems](err)
			for _, f := range tt.fields {
				if problems[f] == "" {
					t.Errorf("no problem of %s in %v", f, err)
				}
			}
			if len(problems) != len(tt.fields) {
				t.Errorf("problems %v; want of %v", problems, tt.fields)
			}
			if z, err := heartrate.ZonesFor(person, policy); err == nil || z.Max != 0 || z.Bands != [5]heartrate.Band{} {
				t.Errorf("ZonesFor gives %+v, %v", z, err)
			}
		})
	}
	young, err := heartrate.Decide(adult(func(p *heartrate.Person) { p.Age = 17 }), policy)
	if err == nil || young.Row != 1 || !young.Refused || young.Basis != heartrate.NoBasis || young.RuleID() != "heartrate.basis.1" {
		t.Errorf("17 years: %+v, %v; want row 1, refused", young, err)
	}
}

// What lies on the last permitted value is taken.
func TestDecideTakesTheEdges(t *testing.T) {
	for _, edit := range []func(*heartrate.Person){
		func(p *heartrate.Person) { p.Age = 18 },
		func(p *heartrate.Person) { p.Age = 110 },
		func(p *heartrate.Person) { p.RestingHR = 25 },
		func(p *heartrate.Person) { p.RestingHR = 150 },
		func(p *heartrate.Person) { p.RestingHR = 40; p.Peak = tested(60) },
		func(p *heartrate.Person) { p.Peak = tested(230) },
		func(p *heartrate.Person) { p.Peak = tested(73) },
	} {
		p := adult(edit)
		if _, err := heartrate.Decide(p, policy); err != nil {
			t.Errorf("%d years, resting %d, peak %d: %v", p.Age, p.RestingHR, p.Peak.HR, err)
		}
	}
}

// The reason and the citations are those of the rows that decided.
func TestReason(t *testing.T) {
	table := heartrate.BasisTable()
	for _, tt := range []struct {
		source string
		edit   func(*heartrate.Person)
		reason string
		cites  []source.Key
	}{
		{"row 13", nil, table[12].Reason, append(slices.Clone(table[12].Cites), "gellish2007")},
		{"row 2", func(p *heartrate.Person) { p.Conditions = heartrate.Pregnant }, table[1].Reason, table[1].Cites},
		{"row 6 by way of 7, no range: both reasons", func(p *heartrate.Person) {
			p.Conditions = heartrate.ICD | heartrate.Fibrillation
			p.Limits.ICDDetectionHR = 170
		}, table[5].Reason + " " + table[6].Reason, append(slices.Clone(table[5].Cites), table[6].Cites...)},
		{"row 6 by way of 12, a range: its own reason", func(p *heartrate.Person) {
			p.Conditions = heartrate.ICD
			p.Limits.ICDDetectionHR = 170
			p.Peak = tested(150)
		}, table[5].Reason, append(slices.Clone(table[5].Cites), table[11].Cites...)},
	} {
		t.Run(tt.source, func(t *testing.T) {
			d, err := heartrate.Decide(adult(tt.edit), policy)
			if err != nil || d.Reason() != tt.reason || !slices.Equal(d.Cites(), tt.cites) {
				t.Errorf("reason %q, cites %v, %v; want %q, %v", d.Reason(), d.Cites(), err, tt.reason, tt.cites)
			}
		})
	}
}

func TestBasisTable(t *testing.T) {
	table := heartrate.BasisTable()
	if len(table) != 13 {
		t.Fatalf("%d rows", len(table))
	}
	for i, r := range table {
		if r.Number != i+1 || r.When == "" || r.Reason == "" || len(r.Cites) == 0 {
			t.Errorf("row %d is incomplete: %+v", i+1, r)
		}
	}
}

func TestDecideWithOtherSettings(t *testing.T) {
	values := source.Values{
		"heartrate.default_equation": 2, "heartrate.unknown_medicine_blocks": 0, "heartrate.pregnancy_holds_vigorous": 0,
		"heartrate.peak_months": 6, "heartrate.rehab_peak_months": 1, "heartrate.interim_effort": 14, "heartrate.resting_weeks": 8,
	}
	other := heartrate.PolicyFrom(values)
	unknown, err := heartrate.Decide(adult(func(p *heartrate.Person) { p.UnknownMedicine = true }), other)
	if err != nil || unknown.Basis != heartrate.Predicted || unknown.Equation != heartrate.Tanaka2001 {
		t.Errorf("unknown medicine, switch off: %+v, %v", unknown, err)
	}
	pregnant, err := heartrate.Decide(adult(func(p *heartrate.Person) { p.Conditions = heartrate.Pregnant }), other)
	if err != nil || pregnant.HoldVigorous || pregnant.Basis != heartrate.NoBasis {
		t.Errorf("pregnant, switch off: %+v, %v", pregnant, err)
	}
	values["heartrate.default_equation"] = 3
	third, err := heartrate.Decide(adult(nil), heartrate.PolicyFrom(values))
	if err != nil || third.Equation != heartrate.Nes2013 {
		t.Errorf("default equation 3: %+v, %v", third, err)
	}
}

func TestConditions(t *testing.T) {
	all := heartrate.Condition(0)
	for _, c := range heartrate.Conditions() {
		got, err := heartrate.ParseCondition(c.Code)
		if err != nil || got != c.Condition || got.String() != c.Code || all.Has(got) || c.Says == "" {
			t.Errorf("ParseCondition(%q) = %v, %v", c.Code, got, err)
		}
		all |= got
		// The row that the table names is the row that decides.
		d, err := heartrate.Decide(adult(func(p *heartrate.Person) { p.Conditions = c.Condition; p.Peak = tested(150) }), policy)
		want := c.Row
		if want == 0 {
			want = 12
		}
		if c.Row == 11 && d.Row != 11 || err != nil || d.Row != want {
			t.Errorf("%s: row %d, %v; want %d", c.Code, d.Row, err, want)
		}
	}
	if got, err := heartrate.ParseCondition("gout"); err == nil || got != 0 {
		t.Errorf("ParseCondition(gout) = %s, %v; want an error", got, err)
	}
	if got := (heartrate.Pregnant | heartrate.BetaBlocker).String(); got != "pregnant,beta_blocker" {
		t.Errorf("two conditions: %s", got)
	}
}

func TestParseMedicines(t *testing.T) {
	for text, want := range map[string]heartrate.Medicines{
		"": 0, "Z0": 0, "Z1": heartrate.Z1, "Z1+Z4": heartrate.Z1 | heartrate.Z4, "Z0+Z2": heartrate.Z2,
		"Z3+Z5+Z6": heartrate.Z3 | heartrate.Z5 | heartrate.Z6,
	} {
		if got, err := heartrate.ParseMedicines(text); err != nil || got != want {
			t.Errorf("ParseMedicines(%q) = %s, %v; want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"Z7", "z1", "1", "Z1+", "+", "Z11", "Z1,Z2", "Z/"} {
		if got, err := heartrate.ParseMedicines(text); err == nil || got != 0 {
			t.Errorf("ParseMedicines(%q) = %s; want an error", text, got)
		}
	}
	if got := heartrate.Medicines(0).String() + " " + (heartrate.Z1 | heartrate.Z6).String(); got != "Z0 Z1+Z6" {
		t.Errorf("String: %s", got)
	}
}

func FuzzParseMedicines(f *testing.F) {
	f.Add("Z1+Z4")
	f.Add("Z0")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		m, err := heartrate.ParseMedicines(text)
		if err != nil {
			return
		}
		again, err := heartrate.ParseMedicines(m.String())
		if err != nil || again != m {
			t.Errorf("ParseMedicines(%q) = %s, read again %s, %v", text, m, again, err)
		}
	})
}
