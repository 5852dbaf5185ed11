package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/store/storetest"
)

func TestMessages(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client, stranger := f.Client(), f.Client()
	jon, tilda := f.JoinClient(client, "jon"), f.JoinClient(stranger, "tilda")
	walk := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), jon.Actor(), client, walk))
	note := store.MessageInput{ID: uuid.New(), Session: walk.ID, Text: " Well spread over the week. How were the hills? "}
	for range 2 { // a double tap
		if err := f.SendMessage(t.Context(), f.Mira.Actor(), client, note); err != nil {
			t.Fatal(err)
		}
	}
	f.Wait(time.Minute)
	week := store.MessageInput{ID: uuid.New(), Text: "Rest on Friday."}
	if err := f.SendMessage(t.Context(), f.Lead.Actor(), client, week); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name   string
		actor  store.Actor
		client uuid.UUID
		in     store.MessageInput
		want   error
	}{
		{"the same id for another text", f.Mira.Actor(), client, store.MessageInput{ID: note.ID, Text: "Other."}, domain.ErrConflict},
		{"by a practitioner of others", f.Tomas.Actor(), client, store.MessageInput{ID: uuid.New(), Text: "Hello."}, domain.ErrNotFound},
		{"by the client", jon.Actor(), client, store.MessageInput{ID: uuid.New(), Text: "Hello."}, domain.ErrForbidden},
		{"about somebody else's session", f.Mira.Actor(), stranger, store.MessageInput{ID: uuid.New(), Session: walk.ID, Text: "Hello."}, domain.ErrNotFound},
	} {
		if err := f.SendMessage(t.Context(), tt.actor, tt.client, tt.in); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v; want %v", tt.name, err, tt.want)
		}
	}
	for _, text := range []string{"", "  ", strings.Repeat("é", 501)} {
		if err := f.SendMessage(t.Context(), f.Mira.Actor(), client, store.MessageInput{ID: uuid.New(), Text: text}); !isProblem(err, "text") {
			t.Errorf("a note of %d bytes: %v", len(text), err)
		}
	}
	f.Wait(time.Minute)
	if err := f.SendMessage(t.Context(), f.Mira.Actor(), client, store.MessageInput{ID: uuid.New(), Text: strings.Repeat("é", 500)}); err != nil {
		t.Errorf("500 characters: %v", err)
	}

	if list := storetest.Must(f.Messages(t.Context(), f.Mira.Actor(), client)); len(list) != 3 || list[2].SeenAt != nil || list[2].Text != strings.TrimSpace(note.Text) ||
		list[2].SessionID.UUID != walk.ID || list[2].SessionDay != storetest.Day || list[1].Week != storetest.Day.Week(1) || list[1].SentBy != "Ines Harrow" {
		t.Errorf("before the client has looked: %+v", list)
	}
	if last := storetest.Must(f.Week(t.Context(), jon.Actor(), client)).Message; last == nil || last.ID == note.ID {
		t.Errorf("on the page of the week: %+v", last)
	}
	if n := f.Count(`SELECT count(*) FROM message_views`); n != 1 {
		t.Errorf("%d messages seen on the page of the week", n)
	}
	storetest.Must(f.Messages(t.Context(), jon.Actor(), client))
	if list := storetest.Must(f.Messages(t.Context(), f.Mira.Actor(), client)); list[2].SeenAt == nil {
		t.Error("looked at and not seen")
	}
	if _, err := f.Messages(t.Context(), tilda.Actor(), client); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another client's: %v", err)
	}

	if err := f.AnswerMessage(t.Context(), tilda.Actor(), note.ID, "Mine?"); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("an answer to another client's: %v", err)
	}
	for range 2 {
		if err := f.AnswerMessage(t.Context(), jon.Actor(), note.ID, " Steep. "); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.AnswerMessage(t.Context(), jon.Actor(), note.ID, "And long."); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("a second answer: %v", err)
	}
	waiting := func() (n int) {
		for _, item := range storetest.Must(f.Worklist(t.Context(), f.Mira.Actor(), store.WorklistFilter{})).Items {
			if item.ClientID == client && strings.HasSuffix(item.Href, "/messages") {
				n++
			}
		}
		return n
	}
	if n := waiting(); n != 1 {
		t.Errorf("%d entries on the list for an answer that nobody has read", n)
	}
	if list := storetest.Must(f.Messages(t.Context(), f.Mira.Actor(), client)); list[2].Answer != "Steep." || list[2].AnsweredAt == nil {
		t.Errorf("answered: %+v", list[2])
	}
	if n := waiting(); n != 0 {
		t.Errorf("%d entries on the list for an answer that was read", n)
	}

	if err := f.WithdrawMessage(t.Context(), f.Mira.Actor(), client, week.ID, " "); !isProblem(err, "reason") {
		t.Errorf("without a reason: %v", err)
	}
	if err := f.WithdrawMessage(t.Context(), f.Mira.Actor(), client, week.ID, "Meant for Tilda."); err != nil {
		t.Fatal(err)
	}
	if err := f.WithdrawMessage(t.Context(), f.Mira.Actor(), client, week.ID, "Again."); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("withdrawn twice: %v", err)
	}
	if err := f.AnswerMessage(t.Context(), jon.Actor(), week.ID, "Fine."); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("an answer to what was withdrawn: %v", err)
	}
	theirs, ours := storetest.Must(f.Messages(t.Context(), jon.Actor(), client)), storetest.Must(f.Messages(t.Context(), f.Mira.Actor(), client))
	if theirs[1].Text != "" || theirs[1].Reason != "" || theirs[1].WithdrawnAt == nil || ours[1].Text != "Rest on Friday." || ours[1].Reason != "Meant for Tilda." {
		t.Errorf("withdrawn: %+v for the client, %+v for the practice", theirs[1], ours[1])
	}
	if _, err := f.Pool.Exec(t.Context(), `DELETE FROM messages`); err == nil {
		t.Error("a note can be deleted")
	}
	for action, want := range map[string]int{"message.send": 3, "message.answer": 1, "message.read": 1, "message.withdraw": 1, "messages.view": 6} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n != want {
			t.Errorf("%d audit entries %s; want %d", n, action, want)
		}
	}
}

func isProblem(err error, field string) bool {
	problems, ok := errors.AsType[domain.Problems](err)
	return ok && problems[field] != ""
}
