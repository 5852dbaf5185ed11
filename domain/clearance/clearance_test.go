package clearance_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/source"
)

// The publications that the rows of the tables name.
const (
	acsmFigure = "ACSM 2015 screening figure, as copied in study material"
	medicare   = "Medicare Benefit Policy Manual"
	setting    = "practice setting"
)

const (
	none     = intensity.None
	light    = intensity.Light
	moderate = intensity.Moderate
	vigorous = intensity.Vigorous
)

var (
	today  = domain.NewDate(2025, 6, 1)
	policy = clearance.PolicyFrom(nil)
)

// decided is a complete decision of that day: a physician's letter that clears a
// stent up to moderate.
func decided(on domain.Date, change ...func(*clearance.Decision)) clearance.Decision {
	d := clearance.Decision{
		ID: "1", DecidedOn: on, ReceivedOn: on, RecordedBy: "A. Tester", Channel: clearance.Letter,
		DecidedBy: clearance.Clinician{
			Name: "B. Example", Profession: clearance.Physician, Registration: "12345", Organisation: "An Example Practice", Contact: "555 0100",
		},
		Outcome: clearance.Cleared, Ceiling: moderate, Work: clearance.Both, Considered: []string{"stent"},
	}
	for _, c := range change {
		c(&d)
	}
	return d
}

func TestScopes(t *testing.T) {
	for _, tt := range []struct {
		source  string
		name    string
		scope   clearance.Scope
		ceiling intensity.Class
	}{
		{setting, "none", clearance.NoHold, intensity.NearMaximal},
		{setting, "vigorous", clearance.Vigorous, moderate},
		{setting, "above_light", clearance.AboveLight, light},
		{setting, "all", clearance.All, none},
	} {
		if got, err := clearance.ParseScope(tt.name); err != nil || got != tt.scope || got.String() != tt.name || got.Ceiling() != tt.ceiling {
			t.Errorf("scope %q is %v with ceiling %v, %v", tt.name, got, got.Ceiling(), err)
		}
		text, err := tt.scope.MarshalText()
		var back clearance.Scope
		if err != nil || string(text) != tt.name || back.UnmarshalText(text) != nil || back != tt.scope {
			t.Errorf("%q written %s, %v, read %v", tt.name, text, err, back)
		}
		for _, c := range intensity.Classes() {
			if tt.scope.Stops(c) != (c > tt.ceiling) {
				t.Errorf("%s stops %v: %v", tt.name, c, tt.scope.Stops(c))
			}
		}
	}
	var s clearance.Scope
	if got, err := clearance.ParseScope("some"); err == nil || got != clearance.All || s.UnmarshalText([]byte("some")) == nil {
		t.Errorf("an unknown scope is %v, %v", got, err)
	}
	if _, err := clearance.Scope(9).MarshalText(); err == nil || clearance.Scope(9).String() != "Scope(9)" || clearance.Scope(9).Ceiling() != none {
		t.Error("a scope that does not exist")
	}
}

func TestStateOf(t *testing.T) {
	d2 := today.AddMonths(-2)
	change := func(k clearance.ChangeKind, daysAgo int, more ...func(*clearance.Change)) clearance.Change {
		c := clearance.Change{Kind: k, On: today.AddDays(-daysAgo), Code: "palpitations"}
		for _, m := range more {
			m(&c)
		}
		return c
	}
	within := func(c *clearance.Change) { c.WithinLimit = true }
	hr := func(c *clearance.Change) { c.HeartRate = true }
	sugar := func(c *clearance.Change) { c.Glucose = true }
	vital := func(rule string, daysAgo int) clearance.Change {
		return change(clearance.VitalsFinding, daysAgo, func(c *clearance.Change) { c.Code = rule })
	}
	expects := func(d *clearance.Decision) {
		d.Expected = []clearance.Expected{{Code: "palpitations", Limit: "Up to a minute."}}
	}
	limit130 := func(d *clearance.Decision) { d.Limits.HeartRate = 130 }
	low := func(d *clearance.Decision) { d.Limits.GlucoseLow = 100 }
	high := func(d *clearance.Decision) { d.Limits.GlucoseHigh = 250 }
	phone := func(d *clearance.Decision) { d.Channel = clearance.Phone }
	phase2 := func(d *clearance.Decision) { d.PhaseII = true }
	until := func(day domain.Date) func(*clearance.Decision) {
		return func(d *clearance.Decision) { d.ValidUntil = day }
	}
	confirmed := func(day domain.Date) func(*clearance.Decision) {
		return func(d *clearance.Decision) { d.ConfirmedOn = day }
	}
	for _, tt := range []struct {
		source  string
		name    string
		in      clearance.Decision
		changes []clearance.Change
		want    clearance.Status
		rule    string
	}{
		{acsmFigure, "two months old", decided(d2), nil, "active", "clearance.valid"},
		{acsmFigure, "a day short of twelve months", decided(domain.NewDate(2024, 6, 2)), nil, "active", "clearance.valid"},
		{acsmFigure + "; boundary: " + setting, "twelve months to the day", decided(domain.NewDate(2024, 6, 1)), nil, "lapsed", "E7"},
		{setting, "the doctor's own day, tomorrow", decided(d2, until(today.AddDays(1))), nil, "active", "clearance.valid"},
		{setting, "the doctor's own day, today", decided(d2, until(today)), nil, "lapsed", "E7"},
		{setting, "the doctor says two years", decided(domain.NewDate(2024, 6, 1), until(today.AddMonths(12))), nil, "lapsed", "E7"},
		{medicare, "phase II, 29 days", decided(today.AddDays(-29), phase2), nil, "active", "clearance.valid"},
		{medicare, "phase II, 30 days", decided(today.AddDays(-30), phase2), nil, "lapsed", "E7"},
		{setting, "by phone, 14 days without paper", decided(today.AddDays(-14), phone), nil, "active", "clearance.valid"},
		{setting, "by phone, 15 days without paper", decided(today.AddDays(-15), phone), nil, "lapsed", "clearance.phone"},
		{setting, "by phone, confirmed on day 14", decided(today.AddDays(-40), phone, confirmed(today.AddDays(-26))), nil, "active", "clearance.valid"},
		{setting, "by phone, confirmed on day 15", decided(today.AddDays(-40), phone, confirmed(today.AddDays(-25))), nil, "lapsed", "clearance.phone"},
		{setting, "by letter, unconfirmed", decided(today.AddDays(-40)), nil, "active", "clearance.valid"},
		{setting, "starts tomorrow", decided(d2, func(d *clearance.Decision) { d.ValidFrom = today.AddDays(1) }), nil, "recorded", "clearance.starts"},
		{setting, "starts today", decided(d2, func(d *clearance.Decision) { d.ValidFrom = today }), nil, "active", "clearance.valid"},

		{acsmFigure, "a new symptom", decided(d2), []clearance.Change{change(clearance.NewSymptom, 3)}, "lapsed", "clearance.symptom"},
		{acsmFigure, "a symptom before the decision", decided(d2), []clearance.Change{change(clearance.NewSymptom, 90)}, "active", "clearance.valid"},
		{setting, "a symptom tomorrow", decided(d2), []clearance.Change{change(clearance.NewSymptom, -1)}, "active", "clearance.valid"},
		{setting, "a symptom today", decided(d2), []clearance.Change{change(clearance.NewSymptom, 0)}, "lapsed", "clearance.symptom"},
		{setting, "an expected symptom within its limit", decided(d2, expects), []clearance.Change{change(clearance.NewSymptom, 3, within)}, "active", "clearance.valid"},
		{setting, "an expected symptom beyond it", decided(d2, expects), []clearance.Change{change(clearance.NewSymptom, 3)}, "lapsed", "clearance.symptom"},
		{setting, "within a limit that no doctor set", decided(d2), []clearance.Change{change(clearance.NewSymptom, 3, within)}, "lapsed", "clearance.symptom"},
		{setting, "on the day of the decision, not named", decided(today.AddDays(-3)), []clearance.Change{change(clearance.NewSymptom, 3)}, "lapsed", "clearance.symptom"},
		{setting, "on the day of the decision, named", decided(today.AddDays(-3), func(d *clearance.Decision) { d.Considered = []string{"palpitations"} }),
			[]clearance.Change{change(clearance.NewSymptom, 3)}, "active", "clearance.valid"},
		{setting, "an event", decided(d2), []clearance.Change{change(clearance.NewEvent, 3)}, "lapsed", "clearance.event"},
		{setting, "a pregnancy", decided(d2), []clearance.Change{change(clearance.PregnancyOrBirth, 3)}, "lapsed", "clearance.pregnancy"},
		{setting, "a diagnosis", decided(d2), []clearance.Change{change(clearance.NewDiagnosis, 3)}, "under_review", "clearance.diagnosis"},
		{setting, "a diagnosis, then a symptom", decided(d2), []clearance.Change{change(clearance.NewDiagnosis, 5), change(clearance.NewSymptom, 3)}, "lapsed", "clearance.symptom"},
		{setting, "atenolol begun, limit 130", decided(d2, limit130), []clearance.Change{change(clearance.MedicineChange, 3, hr)}, "under_review", "clearance.medicine"},
		{setting, "atenolol begun, no limit", decided(d2), []clearance.Change{change(clearance.MedicineChange, 3, hr)}, "active", "clearance.valid"},
		{setting, "atorvastatin begun, limit 130", decided(d2, limit130), []clearance.Change{change(clearance.MedicineChange, 3)}, "active", "clearance.valid"},
		{setting, "insulin begun, sugar limit", decided(d2, low), []clearance.Change{change(clearance.MedicineChange, 3, sugar)}, "under_review", "clearance.medicine"},
		{setting, "insulin begun, upper sugar limit", decided(d2, high), []clearance.Change{change(clearance.MedicineChange, 3, sugar)}, "under_review", "clearance.medicine"},
		{setting, "insulin begun, heart-rate limit", decided(d2, limit130), []clearance.Change{change(clearance.MedicineChange, 3, sugar)}, "active", "clearance.valid"},
		{setting, "atenolol begun, sugar limit", decided(d2, low), []clearance.Change{change(clearance.MedicineChange, 3, hr)}, "active", "clearance.valid"},
		{setting, "V1 once", decided(d2), []clearance.Change{vital("V1", 3)}, "active", "clearance.valid"},
		{setting, "V1 twice in seven days", decided(d2), []clearance.Change{vital("V1", 9), vital("V1", 3)}, "under_review", "clearance.vitals"},
		{setting, "the other way round", decided(d2), []clearance.Change{vital("V1", 3), vital("V1", 9)}, "under_review", "clearance.vitals"},
		{setting, "seven days apart", decided(d2), []clearance.Change{vital("V1", 10), vital("V1", 3)}, "active", "clearance.valid"},
		{setting, "twice on a day", decided(d2), []clearance.Change{vital("V1", 3), vital("V1", 3)}, "active", "clearance.valid"},
		{setting, "V2 and V6", decided(d2), []clearance.Change{vital("V2", 5), vital("V6", 3)}, "under_review", "clearance.vitals"},
		{setting, "V19 and V19", decided(d2), []clearance.Change{vital("V19", 5), vital("V19", 3)}, "under_review", "clearance.vitals"},
		{setting, "V4 and V4", decided(d2), []clearance.Change{vital("V4", 5), vital("V4", 3)}, "active", "clearance.valid"},
		{setting, "V1 before the decision", decided(today.AddDays(-4)), []clearance.Change{vital("V1", 5), vital("V1", 3)}, "active", "clearance.valid"},
		{setting, "consent withdrawn", decided(d2), []clearance.Change{change(clearance.ConsentWithdrawn, 3)}, "active", "clearance.valid"},

		{setting, "superseded", decided(d2, func(d *clearance.Decision) { d.SupersededBy = "2" }), nil, "superseded", "clearance.superseded"},
		{setting, "revoked today", decided(d2, func(d *clearance.Decision) { d.RevokedOn = today }), nil, "revoked", "clearance.revoked"},
		{setting, "revoked tomorrow", decided(d2, func(d *clearance.Decision) { d.RevokedOn = today.AddDays(1) }), nil, "active", "clearance.valid"},
		{setting, "entered in error", decided(d2, func(d *clearance.Decision) { d.Erroneous, d.RevokedOn = true, today }), nil, "entered_in_error", "clearance.error"},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			before := slices.Clone(tt.changes)
			s := clearance.StateOf(tt.in, tt.changes, today, policy)
			if s.Status != tt.want || s.Rule != tt.rule || s.Reason == "" {
				t.Errorf("StateOf = %+v; want %s by %s", s, tt.want, tt.rule)
			}
			if s.InForce() != (tt.want == "active" || tt.want == "under_review") {
				t.Errorf("in force: %v", s.InForce())
			}
			if !slices.Equal(before, tt.changes) {
				t.Error("the changes were reordered")
			}
		})
	}
}

func TestStateSince(t *testing.T) {
	phoned := decided(today.AddDays(-40), func(d *clearance.Decision) { d.Channel = clearance.Phone })
	for _, tt := range []struct {
		source  string
		name    string
		in      clearance.Decision
		changes []clearance.Change
		want    domain.Date
	}{
		{setting, "by phone: the day after the last one", phoned, nil, today.AddDays(-40 + 15)},
		{acsmFigure, "lapsed: the anniversary", decided(domain.NewDate(2024, 2, 29)), nil, domain.NewDate(2025, 2, 28)},
		{setting, "active: from its first day", decided(today.AddDays(-3)), nil, today.AddDays(-3)},
		{setting, "a symptom: its day", decided(today.AddDays(-9)), []clearance.Change{
			{Kind: clearance.NewSymptom, On: today.AddDays(-2)}, {Kind: clearance.NewEvent, On: today.AddDays(-4)},
		}, today.AddDays(-4)},
		{setting, "two vital signs: the second day", decided(today.AddDays(-9)), []clearance.Change{
			{Kind: clearance.VitalsFinding, On: today.AddDays(-2), Code: "V6"}, {Kind: clearance.VitalsFinding, On: today.AddDays(-3), Code: "V6"},
		}, today.AddDays(-2)},
	} {
		if s := clearance.StateOf(tt.in, tt.changes, today, policy); s.Since != tt.want {
			t.Errorf("%s: %s: %+v; want since %v", tt.source, tt.name, s, tt.want)
		}
	}
}

// A decision by phone ends on day 15 without paper (practice setting: 14 days), and with
// it when it would have anyhow.
func TestDecisionEnds(t *testing.T) {
	phone := func(d *clearance.Decision) { d.Channel = clearance.Phone }
	for _, tt := range []struct {
		source, name string
		in           clearance.Decision
		want         domain.Date
	}{
		{acsmFigure, "by letter", decided(today), today.AddMonths(12)},
		{setting, "by phone, to be confirmed", decided(today, phone), today.AddDays(15)},
		{setting, "by phone, confirmed", decided(today, phone, func(d *clearance.Decision) { d.ConfirmedOn = today.AddDays(3) }), today.AddMonths(12)},
		{setting, "by phone, for a week only", decided(today, phone, func(d *clearance.Decision) { d.ValidUntil = today.AddDays(7) }), today.AddDays(7)},
	} {
		if got := tt.in.Ends(policy); got != tt.want {
			t.Errorf("%s: %s: %v; want %v", tt.source, tt.name, got, tt.want)
		}
		// The day is the first on which it is not in force.
		if clearance.StateOf(tt.in, nil, tt.want, policy).InForce() || !clearance.StateOf(tt.in, nil, tt.want.AddDays(-1), policy).InForce() {
			t.Errorf("%s: %s: in force on the day, or not on the day before", tt.source, tt.name)
		}
	}
}

func TestEndsScreening(t *testing.T) {
	for _, tt := range []struct {
		source string
		in     clearance.Change
		want   bool
	}{
		{setting, clearance.Change{Kind: clearance.NewSymptom}, true},
		{setting, clearance.Change{Kind: clearance.NewSymptom, WithinLimit: true}, false},
		{setting, clearance.Change{Kind: clearance.NewEvent}, true},
		{setting, clearance.Change{Kind: clearance.NewDiagnosis}, true},
		{setting, clearance.Change{Kind: clearance.PregnancyOrBirth}, true},
		{setting, clearance.Change{Kind: clearance.MedicineChange}, false},
		{setting, clearance.Change{Kind: clearance.MedicineChange, HeartRate: true}, true},
		{setting, clearance.Change{Kind: clearance.MedicineChange, Glucose: true}, true},
		{setting, clearance.Change{Kind: clearance.MedicineChange, Hints: true}, true},
		{setting, clearance.Change{Kind: clearance.VitalsFinding, Code: "V1"}, false},
		{setting, clearance.Change{Kind: clearance.ConsentWithdrawn}, false},
	} {
		if got := tt.in.EndsScreening(); got != tt.want {
			t.Errorf("%s: %+v ends a screening: %v; want %v", tt.source, tt.in, got, tt.want)
		}
	}
}

func TestCovers(t *testing.T) {
	for _, tt := range []struct {
		source string
		name   string
		in     clearance.Decision
		code   string
		since  domain.Date
		want   bool
	}{
		{setting, "named", decided(today), "stent", domain.Date{}, true},
		{setting, "not named", decided(today), "angina", domain.Date{}, false},
		{setting, "expected", decided(today, func(d *clearance.Decision) { d.Expected = []clearance.Expected{{Code: "angina", Limit: "2 of 4"}} }), "angina", domain.Date{}, true},
		{setting, "began the day before", decided(today), "stent", today.AddDays(-1), true},
		{setting, "began the same day", decided(today), "stent", today, true},
		{setting, "began the day after", decided(today), "stent", today.AddDays(1), false},
		{setting, "not now", decided(today, func(d *clearance.Decision) { d.Outcome, d.Ceiling = clearance.NotNow, none }), "stent", domain.Date{}, false},
		{setting, "refer on", decided(today, func(d *clearance.Decision) { d.Outcome, d.Ceiling = clearance.ReferOn, none }), "stent", domain.Date{}, false},
		{setting, "with limits", decided(today, func(d *clearance.Decision) { d.Outcome = clearance.ClearedWithLimits }), "stent", domain.Date{}, true},
	} {
		if got := tt.in.Covers(tt.code, tt.since); got != tt.want {
			t.Errorf("%s: %s: covers %v; want %v", tt.source, tt.name, got, tt.want)
		}
	}
}

func TestCheck(t *testing.T) {
	limits := func(l clearance.Limits) func(*clearance.Decision) {
		return func(d *clearance.Decision) { d.Limits = l }
	}
	set := func(f func(*clearance.Decision)) func(*clearance.Decision) { return f }
	for _, tt := range []struct {
		source string
		field  string // empty: accepted
		change func(*clearance.Decision)
	}{
		{setting, "", set(func(d *clearance.Decision) {})},
		{setting, "decided_by.name", func(d *clearance.Decision) { d.DecidedBy.Name = "" }},
		{setting, "decided_by.registration", func(d *clearance.Decision) { d.DecidedBy.Registration = "" }},
		{setting, "decided_by.organisation", func(d *clearance.Decision) { d.DecidedBy.Organisation = "" }},
		{setting, "decided_by.contact", func(d *clearance.Decision) { d.DecidedBy.Contact = "" }},
		{setting, "decided_by.profession", func(d *clearance.Decision) { d.DecidedBy.Profession = "" }},
		{setting, "decided_by.profession", func(d *clearance.Decision) { d.DecidedBy.Profession = "nurse_practitioner" }},
		{setting, "decided_by.profession", func(d *clearance.Decision) { d.DecidedBy.Profession = "physician_assistant" }},
		{setting, "decided_by.name", func(d *clearance.Decision) { d.DecidedBy.TreatsClient = true }},
		{setting, "", func(d *clearance.Decision) { d.DecidedBy.TreatsClient, d.DecidedBy.MayClearClient = true, true }},
		{setting, "decided_on", func(d *clearance.Decision) { d.DecidedOn = domain.Date{} }},
		{setting, "decided_on", func(d *clearance.Decision) { d.DecidedOn = domain.NewDate(2025, 2, 30) }},
		{setting, "decided_on", func(d *clearance.Decision) { d.DecidedOn = today.AddDays(1) }},
		{setting, "received_on", func(d *clearance.Decision) { d.ReceivedOn = domain.Date{} }},
		{setting, "received_on", func(d *clearance.Decision) { d.ReceivedOn = d.DecidedOn.AddDays(-1) }},
		{setting, "received_on", func(d *clearance.Decision) { d.ReceivedOn = today.AddDays(1) }},
		{setting, "", func(d *clearance.Decision) { d.DecidedOn, d.ReceivedOn = today, today }},
		{setting, "confirmed_on", func(d *clearance.Decision) { d.ConfirmedOn = d.ReceivedOn.AddDays(-1) }},
		{setting, "confirmed_on", func(d *clearance.Decision) { d.ConfirmedOn = today.AddDays(1) }},
		{setting, "", func(d *clearance.Decision) { d.ConfirmedOn = d.ReceivedOn }},
		{setting, "recorded_by", func(d *clearance.Decision) { d.RecordedBy = "" }},
		{setting, "channel", func(d *clearance.Decision) { d.Channel = "gossip" }},
		{setting, "", func(d *clearance.Decision) { d.Channel = clearance.Portal }},
		{setting, "outcome", func(d *clearance.Decision) { d.Outcome, d.Ceiling = "", none }},
		{setting, "ceiling", func(d *clearance.Decision) { d.Ceiling = none }},
		{setting, "ceiling", func(d *clearance.Decision) { d.Ceiling = intensity.VeryLight }},
		{setting, "ceiling", func(d *clearance.Decision) { d.Ceiling = intensity.NearMaximal }},
		{setting, "", func(d *clearance.Decision) { d.Ceiling = light }},
		{setting, "", func(d *clearance.Decision) { d.Ceiling = vigorous }},
		{setting, "ceiling", func(d *clearance.Decision) { d.Outcome = clearance.NotNow }},
		{setting, "", func(d *clearance.Decision) { d.Outcome, d.Ceiling = clearance.NotNow, none }},
		{setting, "", func(d *clearance.Decision) { d.Outcome, d.Ceiling = clearance.ReferOn, none }},
		{setting, "limits", func(d *clearance.Decision) { d.Outcome, d.Ceiling = clearance.ClearedWithLimits, vigorous }},
		{setting, "", func(d *clearance.Decision) { d.Outcome = clearance.ClearedWithLimits }},
		{setting, "", func(d *clearance.Decision) {
			d.Outcome, d.Ceiling, d.Limits.HeartRate = clearance.ClearedWithLimits, vigorous, 130
		}},
		{setting, "", func(d *clearance.Decision) {
			d.Outcome, d.Ceiling, d.SupervisedOnly = clearance.ClearedWithLimits, vigorous, true
		}},
		{setting, "", func(d *clearance.Decision) {
			d.Outcome, d.Ceiling = clearance.ClearedWithLimits, vigorous
			d.Restrictions = []clearance.Restriction{{Says: "No lifting."}}
		}},
		{setting, "", func(d *clearance.Decision) {
			d.Outcome, d.Ceiling = clearance.ClearedWithLimits, vigorous
			d.Expected = []clearance.Expected{{Code: "angina", Limit: "2 of 4"}}
		}},
		{setting, "supervised_only", func(d *clearance.Decision) { d.SupervisedOnly, d.Unsupervised = true, true }},
		{setting, "valid_from", func(d *clearance.Decision) { d.ValidFrom = d.DecidedOn.AddDays(-1) }},
		{setting, "valid_until", func(d *clearance.Decision) { d.ValidUntil = d.DecidedOn }},
		{setting, "", func(d *clearance.Decision) { d.ValidUntil = d.DecidedOn.AddDays(1) }},
		{setting, "work", func(d *clearance.Decision) { d.Work = "chess" }},
		{setting, "activity", func(d *clearance.Decision) { d.Work = clearance.NamedActivity }},
		{setting, "", func(d *clearance.Decision) { d.Work, d.Activity = clearance.NamedActivity, "Rowing" }},
		{setting, "expected[0]", func(d *clearance.Decision) { d.Expected = []clearance.Expected{{Code: "angina"}} }},
		{setting, "expected[0]", func(d *clearance.Decision) { d.Expected = []clearance.Expected{{Limit: "2 of 4"}} }},
		{setting, "restrictions[0]", func(d *clearance.Decision) { d.Restrictions = []clearance.Restriction{{Code: "lifting"}} }},
		{setting, "supersedes", func(d *clearance.Decision) { d.Supersedes = d.ID }},
		{setting, "limits.heart_rate", limits(clearance.Limits{HeartRate: 59})},
		{setting, "", limits(clearance.Limits{HeartRate: 60})},
		{setting, "", limits(clearance.Limits{HeartRate: 220})},
		{setting, "limits.heart_rate", limits(clearance.Limits{HeartRate: 221})},
		{setting, "limits.ischaemia", limits(clearance.Limits{Ischaemia: 59})},
		{setting, "limits.ischaemia", limits(clearance.Limits{Ischaemia: 221})},
		{setting, "", limits(clearance.Limits{Ischaemia: 60, Detection: 100})},
		{setting, "", limits(clearance.Limits{Ischaemia: 220, Detection: 240})},
		{setting, "limits.detection", limits(clearance.Limits{Detection: 99})},
		{setting, "limits.detection", limits(clearance.Limits{Detection: 241})},
		{setting, "limits.systolic", limits(clearance.Limits{Systolic: 89})},
		{setting, "limits.systolic", limits(clearance.Limits{Systolic: 251})},
		{setting, "", limits(clearance.Limits{Systolic: 250, Diastolic: 130})},
		{setting, "", limits(clearance.Limits{Systolic: 90, Diastolic: 50})},
		{setting, "limits.diastolic", limits(clearance.Limits{Diastolic: 49})},
		{setting, "limits.diastolic", limits(clearance.Limits{Diastolic: 131})},
		{setting, "limits.glucose_low", limits(clearance.Limits{GlucoseLow: 53})},
		{setting, "limits.glucose_high", limits(clearance.Limits{GlucoseHigh: 401})},
		{setting, "", limits(clearance.Limits{GlucoseLow: 54, GlucoseHigh: 400})},
		{setting, "limits.glucose_high", limits(clearance.Limits{GlucoseLow: 100, GlucoseHigh: 100})},
		{setting, "", limits(clearance.Limits{GlucoseLow: 100, GlucoseHigh: 101})},
		{setting, "", limits(clearance.Limits{GlucoseLow: 100})},
		{setting, "", limits(clearance.Limits{GlucoseLow: 400})},
		{setting, "limits.glucose_low", limits(clearance.Limits{GlucoseLow: 401})},
		{setting, "", limits(clearance.Limits{GlucoseHigh: 54})},
		{setting, "limits.glucose_high", limits(clearance.Limits{GlucoseHigh: 53})},
		{setting, "limits.oxygen_floor", limits(clearance.Limits{OxygenFloor: 69})},
		{setting, "limits.oxygen_floor", limits(clearance.Limits{OxygenFloor: 100})},
		{setting, "", limits(clearance.Limits{OxygenFloor: 70, Effort: 6})},
		{setting, "", limits(clearance.Limits{OxygenFloor: 99, Effort: 20})},
		{setting, "limits.effort", limits(clearance.Limits{Effort: 5})},
		{setting, "limits.effort", limits(clearance.Limits{Effort: 21})},
	} {
		t.Run(tt.source+"/"+tt.field, func(t *testing.T) {
			d := decided(today.AddDays(-9), tt.change)
			p := clearance.Check(d, today, policy)
			if tt.field == "" && p != nil || tt.field != "" && (len(p) != 1 || p[tt.field] == "") {
				t.Errorf("Check = %v; want a problem with %q", p, tt.field)
			}
		})
	}
	for profession, says := range map[clearance.Profession]string{
		"nurse_practitioner": "physicians only", "physician_assistant": "physicians only", "barber": "Say what the person",
	} {
		d := decided(today, func(d *clearance.Decision) { d.DecidedBy.Profession = profession })
		if p := clearance.Check(d, today, policy); !strings.Contains(p["decided_by.profession"], says) {
			t.Errorf("%s: %v; want %q", profession, p, says)
		}
		accept := clearance.PolicyFrom(source.Values{"clearance.accept_nurse": 1})
		if p := clearance.Check(d, today, accept); (p == nil) != (profession != "barber") {
			t.Errorf("%s, where the practice takes nurses: %v", profession, p)
		}
	}
	if p := clearance.Check(clearance.Decision{}, today, policy); len(p) < 9 {
		t.Errorf("an empty decision: %v", p)
	}
}

func TestCheckAdd(t *testing.T) {
	named := func(id string, change ...func(*clearance.Decision)) clearance.Decision {
		return decided(today.AddDays(-9), append([]func(*clearance.Decision){func(d *clearance.Decision) { d.ID = id }}, change...)...)
	}
	supersedes := func(id string) func(*clearance.Decision) {
		return func(d *clearance.Decision) { d.Supersedes = id }
	}
	specialist := func(d *clearance.Decision) { d.DecidedBy.Specialist = true }
	strength := func(d *clearance.Decision) { d.Work = clearance.Resistance }
	unsaid := func(d *clearance.Decision) { d.Work = "" }
	old := named("1", func(d *clearance.Decision) { d.DecidedOn = today.AddMonths(-12) })
	activity := func(name string) func(*clearance.Decision) {
		return func(d *clearance.Decision) { d.Work, d.Activity = clearance.NamedActivity, name }
	}
	for _, tt := range []struct {
		source string
		name   string
		file   []clearance.Decision
		add    clearance.Decision
		ok     bool
	}{
		{setting, "the first", nil, named("2"), true},
		{setting, "a second active one", []clearance.Decision{named("1")}, named("2"), false},
		{setting, "a second that supersedes it", []clearance.Decision{named("1")}, named("2", supersedes("1")), true},
		{setting, "both about all work", []clearance.Decision{named("1")}, named("2", unsaid), false},
		{setting, "for other work", []clearance.Decision{named("1")}, named("2", strength), true},
		{setting, "after one that has lapsed", []clearance.Decision{old}, named("2"), true},
		{setting, "after one that was revoked", []clearance.Decision{named("1", func(d *clearance.Decision) { d.RevokedOn = today })}, named("2"), true},
		{setting, "superseding what is not there", nil, named("2", supersedes("1")), false},
		{setting, "a generalist beside a specialist", []clearance.Decision{named("1", specialist)}, named("2"), true},
		{setting, "a specialist beside a generalist", []clearance.Decision{named("1")}, named("2", specialist), false},
		{setting, "a specialist after a generalist", []clearance.Decision{named("1")}, named("2", specialist, supersedes("1")), true},
		{setting, "a specialist beside a specialist", []clearance.Decision{named("1", specialist)}, named("2", specialist), false},
		{setting, "a generalist takes back a specialist's", []clearance.Decision{named("1", specialist)}, named("2", supersedes("1")), false},
		{setting, "or one that has lapsed", []clearance.Decision{named("1", specialist, func(d *clearance.Decision) { d.DecidedOn = today.AddMonths(-12) })},
			named("2", supersedes("1")), false},
		{setting, "two activities", []clearance.Decision{named("1", activity("Rowing"))}, named("2", activity("Walking")), true},
		{setting, "the same activity", []clearance.Decision{named("1", activity("Rowing"))}, named("2", activity("Rowing")), false},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			p := clearance.File{Decisions: tt.file}.CheckAdd(tt.add, today, policy)
			if (p == nil) != tt.ok || !tt.ok && p["supersedes"] == "" {
				t.Errorf("CheckAdd = %v; want accepted %v", p, tt.ok)
			}
		})
	}
	if p := (clearance.File{}).CheckAdd(clearance.Decision{}, today, policy); p["decided_on"] == "" {
		t.Errorf("an empty decision is added: %v", p)
	}
}

func TestWarning(t *testing.T) {
	for _, tt := range []struct {
		source string
		left   int
		want   int
	}{
		{setting, 61, 0}, {setting, 60, 60}, {setting, 31, 60}, {setting, 30, 30}, {setting, 8, 30}, {setting, 7, 7}, {setting, 1, 7}, {setting, 0, 0}, {setting, -5, 0},
	} {
		d := decided(today.AddDays(tt.left).AddMonths(-12).AddDays(0))
		if left := d.Lapses(policy).DaysSince(today); left != tt.left {
			t.Fatalf("lapses in %d days; want %d", left, tt.left)
		}
		if got := clearance.Warning(d, today, policy); got != tt.want {
			t.Errorf("%s: %d days left: warning %d; want %d", tt.source, tt.left, got, tt.want)
		}
	}
}

func TestReferral(t *testing.T) {
	all := []clearance.ReferralStatus{clearance.Draft, clearance.Sent, clearance.Received, clearance.Answered, clearance.NoAnswer, clearance.Withdrawn}
	allowed := "draft>sent draft>withdrawn sent>received sent>answered sent>no_answer sent>withdrawn received>answered received>no_answer " +
		"received>withdrawn no_answer>answered no_answer>withdrawn"
	for _, from := range all {
		for _, to := range all {
			want := slices.Contains(strings.Fields(allowed), string(from)+">"+string(to))
			if got := from.MayBecome(to); got != want {
				t.Errorf("%s: %s to %s: %v; want %v", setting, from, to, got, want)
			}
		}
	}
	for days, want := range map[int]clearance.Waiting{0: "none", 13: "none", 14: "reminder", 29: "reminder", 30: "no_answer", 90: "no_answer"} {
		if got := clearance.AfterSent(today.AddDays(-days), domain.Date{}, today, policy); got != want {
			t.Errorf("%s: after %d days %s; want %s", setting, days, got, want)
		}
	}
	for days, want := range map[int]clearance.Waiting{0: "none", 13: "none", 14: "reminder"} {
		if got := clearance.AfterSent(today.AddDays(-29), today.AddDays(-days), today, policy); got != want {
			t.Errorf("%s: %d days after a reminder %s; want %s", setting, days, got, want)
		}
	}
	if got := clearance.AfterSent(today.AddDays(-30), today, today, policy); got != clearance.AnswerLate {
		t.Errorf("%s: 30 days after it was sent, reminded today: %s", setting, got)
	}
}

func TestCanRelease(t *testing.T) {
	hold := func(change ...func(*clearance.Hold)) clearance.Hold {
		h := clearance.Hold{ID: "9", Scope: clearance.All, Kind: clearance.FromScreening, Cause: "stent", Opened: today.AddDays(-5), Needs: clearance.NeedsDoctor}
		for _, c := range change {
			c(&h)
		}
		return h
	}
	red := func(h *clearance.Hold) { h.Kind, h.Cause = clearance.FromTriage, "T01" }
	absolute := func(h *clearance.Hold) { h.Needs, h.Cause = clearance.NeedsResolution, "leg_clot" }
	resolved := func(day domain.Date) func(*clearance.Hold) {
		return func(h *clearance.Hold) { h.Resolved = day }
	}
	names := func(on domain.Date, codes ...string) clearance.Decision {
		return decided(on, func(d *clearance.Decision) { d.Considered = codes })
	}
	by := func(role domain.Role) clearance.Release {
		return clearance.Release{On: today, Role: role, By: "A. Tester", Reason: "The doctor has answered."}
	}
	staff := by(domain.RolePractitioner)
	for _, tt := range []struct {
		source  string
		name    string
		hold    clearance.Hold
		release clearance.Release
		file    clearance.File
		want    error // nil: released
	}{
		{setting, "covered", hold(), staff, clearance.File{Decisions: []clearance.Decision{names(today, "stent")}}, nil},
		{setting, "covered by an older decision, cause of unknown age", hold(), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-30), "stent")}}, nil},
		{setting, "no decision", hold(), staff, clearance.File{}, domain.ErrHeld},
		{setting, "an emergency without a decision", hold(red), staff, clearance.File{}, domain.ErrHeld},
		{setting, "an emergency, decided before it", hold(red), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-6), "T01")}}, domain.ErrHeld},
		{setting, "an emergency, decided that day", hold(red), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-5), "T01")}}, nil},
		{setting, "another cause", hold(), staff, clearance.File{Decisions: []clearance.Decision{names(today, "angina")}}, domain.ErrHeld},
		{setting, "signed before the cause began", hold(func(h *clearance.Hold) { h.Since = today.AddDays(-2) }), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-3), "stent")}}, domain.ErrHeld},
		{setting, "signed the day it began", hold(func(h *clearance.Hold) { h.Since = today.AddDays(-3) }), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-3), "stent")}}, nil},
		{setting, "lapsed", hold(), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddMonths(-12), "stent")}}, domain.ErrHeld},
		{setting, "under review", hold(), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-9), "stent")},
			Changes: []clearance.Change{{Kind: clearance.NewDiagnosis, On: today.AddDays(-1)}}}, domain.ErrHeld},
		{setting, "strength work only", hold(), staff, clearance.File{Decisions: []clearance.Decision{decided(today, func(d *clearance.Decision) { d.Work = clearance.Resistance })}}, domain.ErrHeld},
		{setting, "not now", hold(), staff, clearance.File{Decisions: []clearance.Decision{decided(today, func(d *clearance.Decision) { d.Outcome = clearance.NotNow })}}, domain.ErrHeld},
		{setting, "by the client", hold(), by(domain.RoleClient), clearance.File{Decisions: []clearance.Decision{names(today, "stent")}}, domain.ErrForbidden},
		{setting, "by the lead", hold(), by(domain.RoleLead), clearance.File{Decisions: []clearance.Decision{names(today, "stent")}}, nil},
		{setting, "nobody said what it needs", hold(func(h *clearance.Hold) { h.Needs = "" }), staff, clearance.File{}, domain.ErrHeld},
		{setting, "absolute, not resolved", hold(absolute), staff, clearance.File{Decisions: []clearance.Decision{names(today, "leg_clot")}}, domain.ErrHeld},
		{setting, "absolute, resolved, decided before", hold(absolute, resolved(today.AddDays(-1))), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-2), "leg_clot")}}, domain.ErrHeld},
		{setting, "absolute, resolved, decided after", hold(absolute, resolved(today.AddDays(-2))), staff, clearance.File{Decisions: []clearance.Decision{names(today.AddDays(-1), "leg_clot")}}, nil},
		{setting, "absolute, resolved tomorrow", hold(absolute, resolved(today.AddDays(1))), staff, clearance.File{Decisions: []clearance.Decision{names(today, "leg_clot")}}, domain.ErrHeld},
		{setting, "a practitioner's hold", hold(func(h *clearance.Hold) { h.Needs = clearance.NeedsPractitioner }), staff, clearance.File{}, nil},
		{setting, "a practitioner's hold by the client", hold(func(h *clearance.Hold) { h.Needs = clearance.NeedsPractitioner }), by(domain.RoleClient), clearance.File{}, domain.ErrForbidden},
		{setting, "a fever by the client", hold(func(h *clearance.Hold) { h.Needs = clearance.NeedsStatement }), by(domain.RoleClient), clearance.File{}, nil},
		{setting, "a fever by nobody in particular", hold(func(h *clearance.Hold) { h.Needs = clearance.NeedsStatement }), by("visitor"), clearance.File{}, domain.ErrForbidden},
		{setting, "released already", hold(func(h *clearance.Hold) { h.Released = &staff }), staff, clearance.File{}, domain.ErrConflict},
		{setting, "stops nothing", hold(func(h *clearance.Hold) { h.Scope = clearance.NoHold }), staff, clearance.File{}, domain.ErrConflict},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			got, err := clearance.CanRelease(tt.hold, tt.release, tt.file, policy)
			if !errors.Is(err, tt.want) {
				t.Fatalf("CanRelease: %v; want %v", err, tt.want)
			}
			doctor := tt.hold.Needs == clearance.NeedsDoctor || tt.hold.Needs == clearance.NeedsResolution
			if tt.want == nil && (got.By != tt.release.By || (got.Decision == "1") != doctor) {
				t.Errorf("release %+v", got)
			}
			if tt.want != nil && got != (clearance.Release{}) {
				t.Errorf("a release with an error: %+v", got)
			}
		})
	}
	for field, r := range map[string]clearance.Release{
		"on":     {Role: domain.RoleLead, By: "A. Tester", Reason: "Because."},
		"by":     {Role: domain.RoleLead, On: today, Reason: "Because."},
		"reason": {Role: domain.RoleLead, On: today, By: "A. Tester"},
	} {
		_, err := clearance.CanRelease(hold(), r, clearance.File{}, policy)
		if p, _ := err.(domain.Problems); len(p) != 1 || p[field] == "" {
			t.Errorf("without %s: %v", field, err)
		}
	}
}

func TestRules(t *testing.T) {
	cited := func(of string, keys []source.Key) {
		t.Helper()
		if len(keys) == 0 {
			t.Errorf("%s has no source", of)
		}
		for _, k := range keys {
			if _, ok := source.Find(k); !ok {
				t.Errorf("%s cites %q, which is not there", of, k)
			}
		}
	}
	ids := map[string]bool{}
	for _, r := range clearance.Rules {
		if ids[r.ID] || r.Says == "" || r.Topic == "" {
			t.Errorf("rule %+v", r)
		}
		ids[r.ID] = true
		cited(r.ID, r.Cites)
	}
	keys := map[string]bool{}
	for _, s := range clearance.Settings {
		if keys[s.Key] || !strings.HasPrefix(s.Key, "clearance.") || s.Says == "" || s.Unit == "" || s.Low > s.Default || s.Default > s.High {
			t.Errorf("setting %+v", s)
		}
		keys[s.Key] = true
		cited(s.Key, s.Cites)
		other := s.Low
		if other == s.Default {
			other = s.High
		}
		if clearance.PolicyFrom(source.Values{s.Key: other}) == policy {
			t.Errorf("setting %s changes nothing", s.Key)
		}
	}
	want := clearance.Policy{
		ValidMonths: 12, PhaseIIDays: 30, PhoneDays: 14, ScreeningMonths: 12, SignOffDays: 30, VitalsDays: 7, Warnings: [3]int{60, 30, 7},
		FlagVigorous: true, FlagSystolic: 160, FlagDiastolic: 100, ReferralRemind: 14, ReferralNoAnswer: 30,
		LinkDays: 30, LinkTries: 5, DocumentMB: 10,
	}
	if policy != want {
		t.Errorf("defaults %+v; want %+v", policy, want)
	}
}

// TestSettings: a practice may choose within these ranges. Most are the safer
// side of what is published or usual.
func TestSettings(t *testing.T) {
	rows := []struct {
		source              string
		key, unit           string
		standard, low, high int
	}{
		{acsmFigure, "valid_months", "months", 12, 1, 12},
		{medicare, "phase_ii_days", "days", 30, 7, 30},
		{setting, "phone_days", "days", 14, 1, 30},
		{setting, "screening_valid_months", "months", 12, 1, 12},
		{setting, "signoff_days", "days", 30, 1, 90},
		{setting, "vitals_days", "days", 7, 1, 30},
		{setting, "warning_first_days", "days", 60, 31, 120},
		{setting, "warning_second_days", "days", 30, 8, 59},
		{setting, "warning_last_days", "days", 7, 1, 14},
		{setting, "accept_nurse", "on/off", 0, 0, 1},
		{setting, "practice_flag_vigorous", "on/off", 1, 0, 1},
		{setting, "flag_systolic", "mmHg", 160, 140, 180},
		{setting, "flag_diastolic", "mmHg", 100, 90, 110},
		{setting, "referral_reminder_days", "days", 14, 3, 29},
		{setting, "referral_lapse_days", "days", 30, 15, 90},
		{setting, "link_days", "days", 30, 1, 90},
		{setting, "link_tries", "tries", 5, 3, 20},
		{setting, "document_mb", "MB", 10, 1, 25},
	}
	if len(rows) != len(clearance.Settings) {
		t.Errorf("%d settings; want %d", len(clearance.Settings), len(rows))
	}
	for _, tt := range rows {
		i := slices.IndexFunc(clearance.Settings, func(s source.Setting) bool { return s.Key == "clearance."+tt.key })
		if i < 0 {
			t.Errorf("no setting %s", tt.key)
			continue
		}
		if s := clearance.Settings[i]; s.Unit != tt.unit || s.Default != tt.standard || s.Low != tt.low || s.High != tt.high {
			t.Errorf("%s: setting %+v; want %+v", tt.source, s, tt)
		}
	}
}

// A letter answers what a decision calls for only if it was written after that arose
// (practice rule).
func TestAskedBy(t *testing.T) {
	p := clearance.PolicyFrom(nil)
	signed := domain.NewDate(2026, 1, 10)
	d := clearance.Decision{DecidedOn: signed, Outcome: clearance.Cleared, Ceiling: intensity.Vigorous}
	end := domain.NewDate(2027, 1, 10)
	symptom := domain.NewDate(2026, 6, 1)
	for _, tt := range []struct {
		why    string
		state  clearance.State
		letter domain.Date
		want   bool
	}{
		{"no letter", clearance.State{Status: clearance.Active, Since: signed}, domain.Date{}, false},
		{"61 days before the end", clearance.State{Status: clearance.Active, Since: signed}, end.AddDays(-61), false},
		{"60 days before the end", clearance.State{Status: clearance.Active, Since: signed}, end.AddDays(-60), true},
		{"lapsed in its time, asked before", clearance.State{Status: clearance.Lapsed, Since: end}, end.AddDays(-10), true},
		{"lapsed by a symptom, asked before", clearance.State{Status: clearance.Lapsed, Since: symptom}, symptom.AddDays(-1), false},
		{"lapsed by a symptom, asked after", clearance.State{Status: clearance.Lapsed, Since: symptom}, symptom, true},
		{"under review, asked before", clearance.State{Status: clearance.UnderReview, Since: symptom}, symptom.AddDays(-1), false},
	} {
		if got := (clearance.Standing{Decision: d, State: tt.state}).AskedBy(tt.letter, p); got != tt.want {
			t.Errorf("%s: %t", tt.why, got)
		}
	}
}
