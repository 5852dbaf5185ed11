package screening_test

import (
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/screening"
)

func TestRescreen(t *testing.T) {
	on := domain.NewDate(2026, 1, 15)
	change := func(k clearance.ChangeKind, day domain.Date) []clearance.Change {
		return []clearance.Change{{Kind: k, On: day}}
	}
	autumn := domain.NewDate(2025, 11, 1)
	day := domain.NewDate(2026, 3, 1)
	for _, tt := range []struct {
		source string
		in     screening.RescreenInput
		today  domain.Date
		rule   string
	}{
		{"Riebe 2015: twelve months, the day before", screening.RescreenInput{On: on}, domain.NewDate(2027, 1, 14), ""},
		{"Riebe 2015: twelve months; on the anniversary it has lapsed, practice setting", screening.RescreenInput{On: on}, domain.NewDate(2027, 1, 15), "E17"},
		{"practice setting: a symptom", screening.RescreenInput{On: on, Changes: change(clearance.NewSymptom, day)}, day, "E17"},
		{"practice setting: not before it came", screening.RescreenInput{On: on, Changes: change(clearance.NewSymptom, day)}, day.AddDays(-1), ""},
		{"practice setting: what the screening knew", screening.RescreenInput{On: on, Changes: change(clearance.NewSymptom, on)}, day, ""},
		{"practice setting: a diagnosis, the same day", screening.RescreenInput{On: on, Changes: change(clearance.NewDiagnosis, day)}, day, "E4"},
		{"practice setting: an event", screening.RescreenInput{On: on, Changes: change(clearance.NewEvent, day)}, day, "E17"},
		{"practice setting: pregnancy", screening.RescreenInput{On: on, Changes: change(clearance.PregnancyOrBirth, day)}, day, "E17"},
		{"practice setting: a medicine without bearing", screening.RescreenInput{On: on, Changes: change(clearance.MedicineChange, day)}, day, ""},
		{"practice setting: a heart-rate medicine", screening.RescreenInput{On: on, Changes: []clearance.Change{{Kind: clearance.MedicineChange, On: day, HeartRate: true}}}, day, "E17"},
		{"practice setting: 12 idle weeks", screening.RescreenInput{On: autumn, Regular: true, Logs: true, History: screening.History{Idle: 12}}, day, ""},
		{"practice setting: 13 idle weeks", screening.RescreenInput{On: autumn, Regular: true, Logs: true, History: screening.History{Idle: 13}}, day, "E6"},
		{"practice setting: not of weeks before the screening", screening.RescreenInput{On: on, Regular: true, Logs: true, History: screening.History{Idle: 13}}, day, ""},
		{"practice setting: 13 weeks of a client who does not log", screening.RescreenInput{On: on, Regular: true, History: screening.History{Idle: 13}}, day, ""},
		{"ACSM 2017: three months of regular exercise", screening.RescreenInput{On: on, Logs: true, History: screening.History{Regular: true}}, day, "E5"},
		{"was regular already", screening.RescreenInput{On: on, Regular: true, Logs: true, History: screening.History{Regular: true}}, day, ""},
		{"never screened", screening.RescreenInput{}, day, ""},
	} {
		got := screening.Rescreen(tt.in, tt.today, screening.PolicyFrom(nil))
		if tt.rule == "" && len(got) != 0 || tt.rule != "" && (len(got) != 1 || got[0].Rule != tt.rule || got[0].Says == "" || len(got[0].Cites) == 0) {
			t.Errorf("%s: %+v; want %q", tt.source, got, tt.rule)
		}
	}
}

func TestCompare(t *testing.T) {
	before := screening.Decision{CeilingNow: vigorous, Reasons: []string{"a", "b"}}
	now := screening.Decision{CeilingNow: moderate, Hold: clearance.Vigorous, Reasons: []string{"b", "c"}}
	d := screening.Compare(before, now)
	if !d.Changed() || d.CeilingWas != vigorous || d.CeilingIs != moderate || len(d.New) != 1 || d.New[0] != "c" || len(d.Gone) != 1 || d.Gone[0] != "a" {
		t.Errorf("difference %+v", d)
	}
	if screening.Compare(now, now).Changed() {
		t.Error("a decision differs from itself")
	}
}
