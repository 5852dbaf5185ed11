package worklist_test

import (
	"slices"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/source"
	"brae/domain/worklist"
)

var today = domain.NewDate(2026, 11, 25)

// The urgencies are a choice of the practice: no publication states them.
func TestLetters(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		about    string
		status   clearance.ReferralStatus
		waiting  clearance.Waiting
		answered bool
		want     worklist.Urgency // 0 is no entry
		action   string
	}{
		{"an answer by the link, whatever else", clearance.Sent, clearance.AnswerLate, true, worklist.Day, "confirm"},
		{"a draft", clearance.Draft, clearance.NothingDue, false, worklist.Days, "send"},
		{"on its way", clearance.Sent, clearance.NothingDue, false, 0, ""},
		{"to remind of", clearance.Sent, clearance.ReminderDue, false, worklist.Days, "Remind"},
		{"received and late", clearance.Received, clearance.AnswerLate, false, worklist.Day, "again"},
	} {
		e, ok := worklist.OfLetter(tt.status, tt.waiting, tt.answered, 16)
		if e.Urgency != tt.want || ok != (tt.want > 0) || !strings.Contains(e.Action, tt.action) {
			t.Errorf("%s: %+v, %t; want urgency %d", tt.about, e, ok, tt.want)
		}
	}
}

func TestDecisions(t *testing.T) {
	t.Parallel()
	none := domain.Date{}
	for _, tt := range []struct {
		about   string
		status  clearance.Status
		confirm domain.Date
		warned  int
		asked   bool
		want    worklist.Urgency
		due     domain.Date
	}{
		{"in force", clearance.Active, none, 0, false, 0, none},
		{"first warning", clearance.Active, none, 1, false, worklist.Review, today.AddDays(25)},
		{"second warning", clearance.Active, none, 2, false, worklist.Days, today.AddDays(25)},
		{"last warning", clearance.Active, none, 3, false, worklist.Day, today.AddDays(25)},
		{"warned, and a letter is under way", clearance.Active, none, 3, true, 0, none},
		{"by phone", clearance.Active, today.AddDays(2), 0, false, worklist.Days, today.AddDays(2)},
		{"by phone, and a letter is under way", clearance.Active, today.AddDays(2), 0, true, worklist.Days, today.AddDays(2)},
		{"by phone, until tomorrow", clearance.Active, today.AddDays(1), 0, false, worklist.Day, today.AddDays(1)},
		{"under review", clearance.UnderReview, today.AddDays(1), 1, false, worklist.Days, none},
		{"under review, and a letter is under way", clearance.UnderReview, none, 1, true, 0, none},
		{"lapsed", clearance.Lapsed, none, 0, false, worklist.Days, none},
		{"lapsed, and a letter is under way", clearance.Lapsed, none, 0, true, 0, none},
		{"superseded", clearance.Superseded, none, 0, false, 0, none},
	} {
		e, ok := worklist.OfDecision(clearance.State{Status: tt.status}, tt.confirm, today.AddDays(25), tt.warned, tt.asked, today)
		if e.Urgency != tt.want || ok != (tt.want > 0) || e.Due != tt.due {
			t.Errorf("%s: %+v, %t; want urgency %d due %s", tt.about, e, ok, tt.want, tt.due)
		}
	}
}

func TestUnaskedAndNotes(t *testing.T) {
	t.Parallel()
	if all, some := worklist.OfUnasked(clearance.All, 0), worklist.OfUnasked(clearance.Vigorous, 3); all.Urgency != worklist.Day || some.Urgency != worklist.Days {
		t.Errorf("a stop of everything is for %d, one of vigorous work for %d", all.Urgency, some.Urgency)
	}
	policy := worklist.PolicyFrom(nil)
	if _, listed := worklist.OfNote("mira", 6, policy); listed {
		t.Error("a note of six days is listed")
	}
	if _, listed := worklist.OfNote("mira", 7, policy); !listed {
		t.Error("a note of seven days is not listed")
	}
	if _, listed := worklist.OfNote("mira", 2, worklist.PolicyFrom(source.Values{"worklist.note_days": 2})); !listed {
		t.Error("the practice's setting does not count")
	}
}

func TestOrder(t *testing.T) {
	t.Parallel()
	list := []worklist.Entry{
		{Text: "review", Urgency: worklist.Review, Due: today.AddDays(-40)},
		{Text: "no day", Urgency: worklist.Day},
		{Text: "tomorrow", Urgency: worklist.Day, Due: today.AddDays(1)},
		{Text: "today", Urgency: worklist.Day, Due: today},
		{Text: "emergency", Urgency: worklist.Now, Due: today.AddDays(3)},
	}
	slices.SortStableFunc(list, worklist.Entry.Compare)
	var got []string
	for _, e := range list {
		got = append(got, e.Text)
	}
	if want := "emergency, today, tomorrow, no day, review"; strings.Join(got, ", ") != want {
		t.Errorf("the order is %s; want %s", strings.Join(got, ", "), want)
	}
}

// A sign-off for vigorous work is listed from seven days before its last day on
// (practice setting), and as long as nobody signs again.
func TestOfSignOff(t *testing.T) {
	t.Parallel()
	p := worklist.PolicyFrom(nil)
	today := domain.Date{Year: 2026, Month: 11, Day: 25}
	for _, tt := range []struct {
		left int
		want string // in the text; empty is no entry
	}{
		{8, ""}, {7, "runs out in 7 days"}, {1, "runs out in 1 day."}, {0, "last time today"}, {-1, "ran out 1 day ago"}, {-60, "ran out 60 days ago"},
	} {
		e, ok := worklist.OfSignOff(today.AddDays(tt.left), today, p)
		if ok != (tt.want != "") || !strings.Contains(e.Text, tt.want) || ok && (e.Due != today.AddDays(tt.left) || e.Urgency != worklist.Days || e.Action == "") {
			t.Errorf("%d days left: %+v, %t; want %q", tt.left, e, ok, tt.want)
		}
	}
}

// What is due today or was due before waits no longer, however urgent it is not.
// The urgencies are a choice of the practice: no publication states them.
func TestPressing(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		entry worklist.Entry
		want  bool
	}{
		{worklist.Entry{Urgency: worklist.Review}, false},
		{worklist.Entry{Urgency: worklist.Days, Due: today.AddDays(1)}, false},
		{worklist.Entry{Urgency: worklist.Days, Due: today}, true},
		{worklist.Entry{Urgency: worklist.Review, Due: today.AddDays(-100)}, true},
		{worklist.Entry{Urgency: worklist.Day, Due: today.AddDays(1)}, true},
		{worklist.Entry{Urgency: worklist.Now}, true},
	} {
		if got := tt.entry.Pressing(today); got != tt.want {
			t.Errorf("%+v presses: %t", tt.entry, got)
		}
	}
}
