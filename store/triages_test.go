package store_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/rulebook"
	"brae/domain/triage"
	"brae/domain/volume"
	"brae/store"
	"brae/store/storetest"
)

// TestLogIsSorted logs what is reported and looks at what is stored, held and
// flagged in the same transaction.
func TestLogIsSorted(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, tt := range []struct {
		source  string
		answers []string // of the intake
		reports []triage.Report
		level   triage.Level
		holds   map[string]clearance.Scope // by cause
		needs   clearance.Needs
		urgency int // 0 is no flag
		due     string
	}{
		{source: "AHA signs of a heart attack: pressure in the chest, now", reports: []triage.Report{"chest_pressure_now"},
			level: triage.Emergency, holds: map[string]clearance.Scope{"chest_pressure_now": clearance.All}, needs: clearance.NeedsDoctor, urgency: 4, due: "2026-11-25"},
		{source: "stroke signs, also if passed: slurred speech", reports: []triage.Report{"speech_trouble"},
			level: triage.Emergency, holds: map[string]clearance.Scope{"speech_trouble": clearance.All}, needs: clearance.NeedsDoctor, urgency: 4, due: "2026-11-25"},
		{source: "practice rule: dizzy in effort stops", reports: []triage.Report{"dizzy_in_effort"},
			level: triage.Stop, holds: map[string]clearance.Scope{"dizzy_in_effort": clearance.All}, needs: clearance.NeedsDoctor, urgency: 3, due: "2026-11-26"},
		{source: "practice rule: light-headed on stopping, once", reports: []triage.Report{"lightheaded_on_stopping"},
			level: triage.Note, urgency: 1, due: "2026-12-02"},
		{source: "practice rule: the same on a medicine that lowers blood pressure", answers: []string{"medicines", "ramipril 5 mg"}, reports: []triage.Report{"lightheaded_on_stopping"},
			level: triage.Ease, holds: map[string]clearance.Scope{"lightheaded_on_stopping": clearance.Vigorous}, needs: clearance.NeedsDoctor, urgency: 2, due: "2026-11-27"},
		{source: "practice rule: a fall on an anticoagulant", answers: []string{"medicines", "apixaban", intake.ExplainedField("atrial_fibrillation_or_clot"), "a clot in 2020"}, reports: []triage.Report{"fall_no_injury"},
			level: triage.Emergency, holds: map[string]clearance.Scope{"fall_no_injury": clearance.All}, needs: clearance.NeedsDoctor, urgency: 4, due: "2026-11-25"},
		{source: "practice rule: fever waits for the client's word", reports: []triage.Report{"fever"},
			level: triage.Ease, holds: map[string]clearance.Scope{"fever": clearance.All}, needs: clearance.NeedsStatement, urgency: 2, due: "2026-11-27"},
		{source: "practice rule: usual soreness", reports: []triage.Report{"muscles_sore"}, level: triage.Fine},
		{source: "practice rule: nothing reported", level: triage.Fine},
		{source: "practice rule: the highest level wins, each cause has its hold", reports: []triage.Report{"muscles_sore", "ankles_swollen", "dizzy_in_effort"},
			level: triage.Stop, holds: map[string]clearance.Scope{"ankles_swollen": clearance.Vigorous, "dizzy_in_effort": clearance.All}, needs: clearance.NeedsDoctor, urgency: 3, due: "2026-11-26"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			client := f.Client()
			f.ScreenClient(client, tt.answers...)
			in := storetest.Walk(30)
			in.Reports = tt.reports
			logged, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in)
			if err != nil {
				t.Fatal(err)
			}
			storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in)) // once more, which sorts nothing
			if logged.Triage.Level != tt.level || logged.Triage.RuleSet != rulebook.Version {
				t.Errorf("level %s by rules %s; want %s", logged.Triage.Level, logged.Triage.RuleSet, tt.level)
			}
			week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
			if len(week.Holds) != len(tt.holds) {
				t.Errorf("%d holds; want %d", len(week.Holds), len(tt.holds))
			}
			for _, h := range week.Holds {
				if h.Scope != tt.holds[h.Cause] || h.Needs != tt.needs || h.Kind != clearance.FromTriage || h.Since != storetest.Day {
					t.Errorf("hold %+v; want %v, %s", h, tt.holds, tt.needs)
				}
			}
			history := storetest.Must(f.History(t.Context(), f.Mira.Actor(), client, domain.Date{}))
			if got := len(history.Flags); got != min(tt.urgency, 1) {
				t.Fatalf("%d flags; want one where somebody has to act", got)
			}
			if tt.urgency > 0 {
				if fl := history.Flags[0]; fl.Urgency != tt.urgency || fl.Due.String() != tt.due || fl.Kind != store.FlagTriage || fl.Subject != "session/"+in.ID.String() || fl.Action == "" || fl.Text == "" {
					t.Errorf("flag %+v; want urgency %d, due %s", fl, tt.urgency, tt.due)
				}
			}
			if n := f.Count(`SELECT count(*) FROM triages WHERE client_id = $1`, client); n != 1 {
				t.Errorf("%d triages; want 1", n)
			}
			for action, want := range map[string]int{"hold.open": len(tt.holds), "flag.open": min(tt.urgency, 1)} {
				if n := f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = $2`, client, action); n != want {
					t.Errorf("%d audit entries of %s; want %d", n, action, want)
				}
			}
		})
	}
}

// TestNumbersAreSorted logs numbers that ask for something by themselves.
func TestNumbersAreSorted(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, tt := range []struct {
		source string
		part   store.PartInput
		rule   string
		level  triage.Level
		asks   string
	}{
		{"practice rule: 17 of 20 in work prescribed as moderate", store.PartInput{Activity: "walk_brisk", Minutes: 30, Talk: intensity.TalkShort, Effort: 17}, "NUM3", triage.Note, ""},
		{"practice rule: no breath to speak", store.PartInput{Activity: "walk_brisk", Minutes: 30, Talk: intensity.TalkNone}, "NUM3", triage.Note, ""},
		{"practice rule: far above the predicted maximum is asked about", store.PartInput{Activity: "walk_brisk", Minutes: 30, Talk: intensity.TalkShort, HeartRate: 210}, "NUM2", triage.Note, "check_reading"},
		{"practice rule: sings, and the heart says vigorous", store.PartInput{Activity: "walk_brisk", Minutes: 30, Talk: intensity.TalkSing, HeartRate: 160}, "NUM10", triage.Note, "talk_or_heart"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			client := f.Client()
			f.ScreenClient(client)
			storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
			in := storetest.Walk(30)
			in.Parts = []store.PartInput{tt.part}
			logged := storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
			if !slices.Contains(logged.Triage.Rules, tt.rule) || logged.Triage.Level > tt.level {
				t.Errorf("rules %v at level %s; want %s, at most %s", logged.Triage.Rules, logged.Triage.Level, tt.rule, tt.level)
			}
			asked := ""
			for _, q := range logged.Triage.Assessment.Questions {
				asked = q.Code
			}
			if asked != tt.asks {
				t.Errorf("asks %q; want %q", asked, tt.asks)
			}
			if tt.asks == "check_reading" { // stands by it: ease
				answered := storetest.Must(f.AnswerSession(t.Context(), f.Mira.Actor(), client, in.ID, map[string]string{"check_reading": "yes"}))
				if answered.Triage.Level != triage.Ease || answered.Answers["check_reading"] != "yes" {
					t.Errorf("confirmed: level %s, answers %v; want ease", answered.Triage.Level, answered.Answers)
				}
				again := storetest.Must(f.AnswerSession(t.Context(), f.Mira.Actor(), client, in.ID, map[string]string{"check_reading": "no"}))
				if !again.Again || again.Version != answered.Version {
					t.Errorf("answered again: version %d; want %d", again.Version, answered.Version)
				}
			}
		})
	}
}

// TestDoctorsLimitIsSorted logs a heart rate against a doctor's limit of 118: it binds
// from the decision on, also while there is nothing prescribed yet. Practice rule: more
// than 10 above the ceiling is told to the practitioner.
func TestDoctorsLimitIsSorted(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes")
	decision := storetest.Cleared(intensity.Vigorous, "diabetes_type_2")
	decision.Outcome, decision.Limits.HeartRate = clearance.ClearedWithLimits, 118
	storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, decision))
	check := func(when string) {
		t.Helper()
		for _, tt := range []struct {
			heartRate int
			above     bool
		}{{128, false}, {129, true}} {
			in := storetest.Walk(30)
			in.Parts[0].HeartRate = tt.heartRate
			logged := storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
			if slices.Contains(logged.Triage.Rules, "NUM1") != tt.above {
				t.Errorf("%s, %d beats a minute: rules %v; NUM1 wanted: %t", when, tt.heartRate, logged.Triage.Rules, tt.above)
			}
		}
	}
	check("before the first prescription")
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	check("with a prescription")
}

// TestNotesAddUp logs the same note on three days of seven.
func TestNotesAddUp(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	var levels []triage.Level
	for i := range 3 {
		in := storetest.Walk(20)
		in.Day = storetest.Day.AddDays(2 * i)
		in.Reports = []triage.Report{"tired_next_day"}
		levels = append(levels, storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in)).Triage.Level)
		f.Wait(48 * time.Hour)
	}
	// Practice rule: the same note on 3 of 7 days is ease.
	if want := []triage.Level{triage.Note, triage.Note, triage.Ease}; !slices.Equal(levels, want) {
		t.Errorf("levels %v; want %v", levels, want)
	}
}

// TestEditSortsAnew adds a symptom to a session, and takes it away again: what was
// opened for it stays.
func TestEditSortsAnew(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	in := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
	in.Reports = []triage.Report{"fainted"}
	worse := storetest.Must(f.EditSession(t.Context(), f.Mira.Actor(), client, in.ID, 1, in, ""))
	in.Reports = nil
	better := storetest.Must(f.EditSession(t.Context(), f.Mira.Actor(), client, in.ID, 2, in, ""))
	if worse.Triage.Level != triage.Emergency || better.Triage.Level != triage.Fine {
		t.Errorf("levels %s and %s; want emergency and fine", worse.Triage.Level, better.Triage.Level)
	}
	if h, n := f.Count(`SELECT count(*) FROM holds WHERE released_at IS NULL`), f.Count(`SELECT count(*) FROM flags WHERE done_at IS NULL`); h != 1 || n != 1 {
		t.Errorf("%d holds, %d flags; want 1 and 1", h, n)
	}
	if n := f.Count(`SELECT count(*) FROM triages`); n != 3 {
		t.Errorf("%d triages; want one for each version", n)
	}
}

// TestReportWithoutExercise reports a symptom on a day without a session.
func TestReportWithoutExercise(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	jon := f.JoinClient(client, "jon").Actor()
	f.ScreenClient(client)
	in := store.ReportInput{ID: uuid.New(), Reports: []triage.Report{"palpitations_new"}, Note: " since the morning "}
	for range 2 {
		sorted, err := f.ReportSymptoms(t.Context(), jon, client, in)
		if err != nil || sorted.Level != triage.Stop || sorted.Note != "since the morning" || sorted.Day != storetest.Day {
			t.Fatalf("%+v, %v; want stop", sorted, err)
		}
	}
	if h, n, r := f.Count(`SELECT count(*) FROM holds`), f.Count(`SELECT count(*) FROM flags WHERE subject = 'triage/' || $1`, in.ID), f.Count(`SELECT count(*) FROM audit WHERE action = 'report.send'`); h != 1 || n != 1 || r != 1 {
		t.Errorf("%d holds, %d flags, %d audit entries; want 1 each", h, n, r)
	}
	if got := storetest.Must(f.Reported(t.Context(), f.Mira.Actor(), client, in.ID)); !slices.Equal(got.Reports, in.Reports) {
		t.Errorf("reports %v", got.Reports)
	}
	if _, err := f.Reported(t.Context(), f.Tomas.Actor(), client, in.ID); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v", err)
	}
	other := in
	other.Note = "no"
	if _, err := f.ReportSymptoms(t.Context(), jon, client, other); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("the id with another note: %v", err)
	}
	_, err := f.ReportSymptoms(t.Context(), jon, client, store.ReportInput{ID: uuid.New(), Note: "  "})
	if problems, ok := errors.AsType[domain.Problems](err); !ok || problems["reports"] == "" {
		t.Errorf("nothing at all: %v", err)
	}
	words := storetest.Must(f.ReportSymptoms(t.Context(), jon, client, store.ReportInput{ID: uuid.New(), Note: "my chest feels odd"}))
	// Practice rule: free text raises no level, and asks one more question.
	if words.Level != triage.Note || len(words.Assessment.Questions) != 1 || words.Assessment.Questions[0].Report != "chest_pressure_now" {
		t.Errorf("only words: level %s, questions %v", words.Level, words.Assessment.Questions)
	}
}

// TestLateQuestions asks once, from 24 to 72 hours after the first hard session.
func TestLateQuestions(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	hard := storetest.Walk(20)
	hard.Parts[0].Talk = intensity.TalkFewWords
	asked := func(what string, want bool) {
		t.Helper()
		if week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client)); len(week.Late) > 0 != want {
			t.Errorf("%s: %d questions; want some: %t", what, len(week.Late), want)
		}
	}
	if _, err := f.AnswerLate(t.Context(), f.Mira.Actor(), client, nil); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("answers that nobody asked for: %v", err)
	}
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, hard))
	asked("at once", false)
	f.Wait(23 * time.Hour)
	asked("after 23 hours", false)
	f.Wait(time.Hour)
	asked("after 24 hours", true)
	f.Wait(48 * time.Hour)
	asked("after 72 hours", true)
	storetest.Must(f.DeleteSession(t.Context(), f.Mira.Actor(), client, hard.ID, 1, ""))
	asked("after a session that was none", false)
	storetest.Must(f.RestoreSession(t.Context(), f.Mira.Actor(), client, hard.ID, 2))
	sorted := storetest.Must(f.AnswerLate(t.Context(), f.Mira.Actor(), client, []triage.Report{"dark_urine"}))
	if sorted.Level != triage.Emergency { // dark urine after hard work: seen the same day
		t.Errorf("dark urine is %s; want emergency", sorted.Level)
	}
	if again := storetest.Must(f.AnswerLate(t.Context(), f.Mira.Actor(), client, nil)); again.ID != sorted.ID {
		t.Error("answered twice")
	}
	asked("answered", false)
	second := hard
	second.ID, second.Day = uuid.New(), storetest.Day.AddDays(3)
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, second))
	f.Wait(30 * time.Hour)
	asked("after the second hard session", false)
}

// TestPhoneClock logs sessions of phones whose clock is off.
func TestPhoneClock(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t) // it is 12:00 on Wednesday in Berlin
	client := f.Client()
	zone := time.FixedZone("", 3600)
	at := func(day, hour, minute int) time.Time { return time.Date(2026, 11, day, hour, minute, 0, 0, zone) }
	for _, tt := range []struct {
		source       string
		day          int
		logged, sent time.Time
		doubt, ok    bool
	}{
		{"no clock told", 24, time.Time{}, time.Time{}, false, true},
		{"right, kept overnight", 24, at(24, 18, 0), at(25, 12, 0), false, true},
		{"2 hours behind: logged at 1:00 on Wednesday, which it took for Tuesday", 24, at(24, 23, 0), at(25, 10, 0), true, true},
		{"2 hours behind, without consequence", 24, at(24, 18, 0), at(25, 10, 0), false, true},
		{"2 hours ahead: logged at 23:00 on Tuesday, which it took for Wednesday", 25, at(25, 1, 0), at(25, 14, 0), true, true},
		{"2 hours behind, and the person chose another day", 23, at(24, 23, 0), at(25, 10, 0), false, true},
		{"5 minutes off is what clocks are", 24, at(24, 23, 58), at(25, 11, 55), false, true},
		{"a day ahead: a day to come", 26, at(26, 12, 0), at(26, 12, 0), false, false},
	} {
		t.Run(tt.source, func(t *testing.T) {
			in := storetest.Walk(30)
			in.Day, in.Clock = domain.NewDate(2026, 11, tt.day), volume.Clock{Logged: tt.logged, Sent: tt.sent}
			_, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in)
			doubts, doubt := errors.AsType[domain.Doubts](err)
			if doubt != tt.doubt || doubt && doubts["day"] == "" {
				t.Errorf("%v; want a doubt: %t", err, tt.doubt)
			}
			if problems, ok := errors.AsType[domain.Problems](err); ok == tt.ok && !doubt || ok && problems["day"] == "" {
				t.Errorf("%v; want it taken: %t", err, tt.ok)
			}
			in.Confirmed = true
			if _, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in); (err == nil) != tt.ok {
				t.Errorf("confirmed: %v", err)
			}
		})
	}
	// A phone without a connection for three weeks: the day was not too old when it was logged.
	f.Wait(21 * 24 * time.Hour)
	in := storetest.Walk(30)
	in.Day = domain.NewDate(2026, 11, 10)
	in.Clock = volume.Clock{Logged: at(25, 12, 0), Sent: at(25, 12, 0).Add(21 * 24 * time.Hour)}
	if _, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in); err != nil {
		t.Errorf("kept for three weeks: %v", err)
	}
}
