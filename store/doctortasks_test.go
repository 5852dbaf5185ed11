package store_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/worklist"
	"brae/store"
	"brae/store/storetest"
)

// tasks are the entries of the doctor review on the list of an actor.
func tasks(t *testing.T, f *storetest.Practice, actor store.Actor) []store.WorklistItem {
	t.Helper()
	var list []store.WorklistItem
	for _, item := range storetest.Must(f.Worklist(t.Context(), actor, store.WorklistFilter{})).Items {
		switch item.Kind {
		case worklist.Letter, worklist.Decision, worklist.Unasked:
			list = append(list, item)
		}
	}
	return list
}

// wants fails unless the only entry of the doctor review on Mira's list, and on the
// lead's, is this one, and Tomas has none. Nothing of it is ticked off: there is no
// flag to be done with.
func wants(t *testing.T, f *storetest.Practice, when string, urgency worklist.Urgency, text, action string) {
	t.Helper()
	for _, who := range []store.Account{f.Mira, f.Lead} {
		list := tasks(t, f, who.Actor())
		if urgency == 0 {
			if len(list) != 0 {
				t.Errorf("%s: %s still has %+v", when, who.Name, list)
			}
			continue
		}
		if len(list) != 1 || list[0].Urgency != urgency || !strings.Contains(list[0].Text, text) || list[0].Action != action || list[0].Flag != uuid.Nil || list[0].Href == "" {
			t.Errorf("%s: %s has %+v; want urgency %d, %q, %q", when, who.Name, list, urgency, text, action)
		}
	}
	if list := tasks(t, f, f.Tomas.Actor()); len(list) != 0 {
		t.Errorf("%s: another practitioner has %+v", when, list)
	}
}

// The reminder after 14 days, the lapse after 30, and the answer that waits to be
// confirmed stand on the list of the client's practitioner and of the lead, and go
// with their cause (practice settings).
func TestLettersOnTheList(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	wants(t, f, "nobody has written", worklist.Day, "nobody has written", "Write to the doctor")
	id, letter := letterOf(t, f, client)
	wants(t, f, "a draft", worklist.Days, "not sent", "Finish and send the letter")
	if err := f.SendReferral(t.Context(), f.Mira.Actor(), client, id, 1, letter, storetest.Day, "post"); err != nil {
		t.Fatal(err)
	}
	f.Wait(13 * day)
	wants(t, f, "13 days after it was sent", 0, "", "")
	f.Wait(day)
	wants(t, f, "14 days", worklist.Days, "No answer from the doctor in 14 days", "Remind the doctor")
	if err := f.RemindReferral(t.Context(), f.Tomas.Actor(), client, id, ""); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner reminds: %v", err)
	}
	if err := f.RemindReferral(t.Context(), f.Mira.Actor(), client, id, "By phone."); err != nil {
		t.Fatal(err)
	}
	wants(t, f, "reminded", 0, "", "")
	if n := f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = 'referral.remind'`, client); n != 1 {
		t.Errorf("%d audit entries of the reminder; want 1", n)
	}
	f.Wait(14 * day)
	wants(t, f, "28 days, 14 after the reminder", worklist.Days, "in 28 days", "Remind the doctor")
	f.Wait(day)
	wants(t, f, "29 days", worklist.Days, "in 29 days", "Remind the doctor")
	f.Wait(day)
	wants(t, f, "30 days", worklist.Day, "in 30 days", "Write to the doctor again")
	token := storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id))
	answer := answerOf(intensity.Moderate, "chest_pressure")
	birth := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client)).Client.BirthDate
	storetest.Must(f.AnswerReferral(t.Context(), token, birth, answer))
	wants(t, f, "an answer by the link", worklist.Day, "It does not count yet", "Read and confirm the answer")
	storetest.Must(f.ConfirmAnswer(t.Context(), f.Mira.Actor(), client, id, store.ConfirmInput{Release: true}))
	wants(t, f, "confirmed", 0, "", "")
}

// The warnings 60, 30 and 7 days before a decision lapses, the lapse itself and the
// missing confirmation of a phone call: as for letters (practice settings; the year is
// that of ACSM 2015).
func TestDecisionsOnTheList(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes")
	in := storetest.Cleared(intensity.Vigorous, "diabetes_type_2")
	in.Channel = clearance.Phone
	first := storetest.Must(f.RecordClearance(ctx, mira, client, in))
	wants(t, f, "by phone", worklist.Days, "not confirmed in writing", "Get it in writing")
	f.Wait(13 * day)
	wants(t, f, "by phone, until tomorrow", worklist.Day, "not confirmed in writing", "Get it in writing")
	if err := f.ConfirmClearance(ctx, mira, client, first.ID, storetest.Day.AddDays(13), "The letter came."); err != nil {
		t.Fatal(err)
	}
	wants(t, f, "confirmed", 0, "", "")
	f.Wait(291 * day) // 61 days before the anniversary
	wants(t, f, "61 days before", 0, "", "")
	f.Wait(day)
	wants(t, f, "60 days before", worklist.Review, "lapses in 60 days", "Ask for a new decision")
	f.Wait(30 * day)
	wants(t, f, "30 days before", worklist.Days, "lapses in 30 days", "Ask for a new decision")
	f.Wait(23 * day)
	wants(t, f, "7 days before", worklist.Day, "lapses in 7 days", "Ask for a new decision")
	letter := storetest.Must(f.WriteReferral(ctx, mira, client))
	wants(t, f, "a letter is begun", worklist.Days, "not sent", "Finish and send the letter")
	if err := f.MarkReferral(ctx, mira, client, letter, clearance.Withdrawn, ""); err != nil {
		t.Fatal(err)
	}
	f.Wait(7 * day)
	wants(t, f, "on the anniversary", worklist.Days, "counted until 25 November 2027", "Ask for a new decision")

	next := storetest.Cleared(intensity.Moderate, "diabetes_type_2")
	next.DecidedOn = storetest.Day.AddDays(365)
	next.ReceivedOn = next.DecidedOn
	storetest.Must(f.RecordClearance(ctx, mira, client, next)) // it does not name the old one
	wants(t, f, "a new decision", 0, "", "")
}
