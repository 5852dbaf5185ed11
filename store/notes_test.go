package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/worklist"
	"brae/store"
	"brae/store/storetest"
)

func note(body string) store.NoteInput {
	return store.NoteInput{ID: uuid.New(), Kind: "visit", EventOn: storetest.Day.AddDays(-2), Body: body}
}

// TestNotes: a draft is its author's; signed it is locked, and only an addendum can
// follow; the day it is about is apart from when it was entered.
func TestNotes(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira, lead := t.Context(), f.Mira.Actor(), f.Lead.Actor()
	client := f.Client()
	in := note("Walked the long corridor.")
	in.Version = storetest.Must(f.SaveNote(ctx, mira, client, in))
	if again := storetest.Must(f.SaveNote(ctx, mira, client, in)); again != 1 {
		t.Errorf("saved unchanged it has version %d", again)
	}
	in.Body += " No pain."
	stale := in
	in.Version = storetest.Must(f.SaveNote(ctx, mira, client, in))
	stale.Body = "From another window."
	if _, err := f.SaveNote(ctx, mira, client, stale); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("an old window overwrites the draft: %v", err)
	}
	if n := storetest.Must(f.NoteFile(ctx, lead, client)).Notes; len(n) != 1 || n[0].Body != "" || n[0].Author != "mira" {
		t.Errorf("the lead sees of the draft %+v; want that there is one, without its text", n)
	}
	if _, err := f.SaveNote(ctx, lead, client, in); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("the lead writes in a draft of somebody else: %v", err)
	}
	if err := f.AddToNote(ctx, mira, client, in.ID, uuid.New(), "more", "why"); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("a draft has an addendum: %v", err)
	}

	f.Wait(time.Hour)
	if err := f.SignNote(ctx, mira, client, in, "physiotherapist"); err != nil {
		t.Fatal(err)
	}
	in.Version, in.Body = 3, "Something else."
	for what, err := range map[string]error{
		"saved": second(f.SaveNote(ctx, mira, client, in)), "signed": f.SignNote(ctx, mira, client, in, ""), "discarded": f.DiscardNote(ctx, mira, client, in.ID),
	} {
		if !errors.Is(err, domain.ErrConflict) {
			t.Errorf("a signed note is %s: %v", what, err)
		}
	}
	for _, sql := range []string{`UPDATE notes SET body = 'x'`, `UPDATE notes SET entered_at = '2020-01-01'`, `DELETE FROM notes`, `UPDATE note_addenda SET body = 'x'`} {
		if _, err := f.Pool.Exec(ctx, sql); err == nil {
			t.Errorf("%s is let through", sql)
		}
	}
	addendum := uuid.New()
	for range 2 { // sent twice
		if err := f.AddToNote(ctx, lead, client, in.ID, addendum, "The left leg.", "It was not said which."); err != nil {
			t.Fatal(err)
		}
	}
	file := storetest.Must(f.NoteFile(ctx, mira, client))
	n := file.Notes[0]
	if n.Body != "Walked the long corridor. No pain." || n.SignedName != "mira, physiotherapist" || n.EventOn != storetest.Day.AddDays(-2) ||
		!n.EnteredAt.Equal(storetest.Now) || !n.SignedAt.Equal(storetest.Now.Add(time.Hour)) {
		t.Errorf("the note is %+v", n)
	}
	if len(n.Addenda) != 1 || n.Addenda[0].Body != "The left leg." || n.Addenda[0].Name != "Ines Harrow" || file.Credential != "physiotherapist" {
		t.Errorf("addenda %+v, credential %q", n.Addenda, file.Credential)
	}
	for action, want := range map[string]int{"note.save": 2, "note.sign": 1, "note.add": 1, "notes.view": 2} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n != want {
			t.Errorf("%d entries of %s; want %d", n, action, want)
		}
	}
}

func TestNotesRefuse(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client, other := f.Client(), f.Client()
	joined := f.JoinClient(client, "jon").Actor()
	for field, change := range map[string]func(*store.NoteInput){
		"kind": func(n *store.NoteInput) { n.Kind = "poem" }, "event_on": func(n *store.NoteInput) { n.EventOn = storetest.Day.AddDays(1) },
		"body": func(n *store.NoteInput) { n.Body = strings.Repeat("ä", 20_001) }, "id": func(n *store.NoteInput) { n.ID = uuid.Nil },
	} {
		in := note("Text.")
		change(&in)
		if p, ok := errors.AsType[domain.Problems](second(f.SaveNote(ctx, mira, client, in))); !ok || p[field] == "" {
			t.Errorf("%s: %v", field, p)
		}
	}
	if p, ok := errors.AsType[domain.Problems](f.SignNote(ctx, mira, client, note(" "), "")); !ok || p["body"] == "" {
		t.Error("an empty note is signed")
	}
	kept := note("Kept.")
	storetest.Must(f.SaveNote(ctx, mira, client, kept))
	for who, tt := range map[string]struct {
		actor store.Actor
		want  error
	}{"another practitioner": {f.Tomas.Actor(), domain.ErrNotFound}, "the client": {joined, domain.ErrForbidden}} {
		for what, err := range map[string]error{
			"file": second(f.NoteFile(ctx, tt.actor, client)), "save": second(f.SaveNote(ctx, tt.actor, client, note("x"))), "sign": f.SignNote(ctx, tt.actor, client, note("x"), ""),
			"discard": f.DiscardNote(ctx, tt.actor, client, kept.ID), "add": f.AddToNote(ctx, tt.actor, client, kept.ID, uuid.New(), "x", "y"),
		} {
			if !errors.Is(err, tt.want) {
				t.Errorf("%s, %s: %v; want %v", who, what, err, tt.want)
			}
		}
	}
	if _, err := f.SaveNote(ctx, mira, other, kept); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a note of one client is saved with another: %v", err)
	}
	if err := f.DiscardNote(ctx, mira, client, kept.ID); err != nil {
		t.Fatal(err)
	}
	if n := storetest.Must(f.NoteFile(ctx, mira, client)).Notes; len(n) != 0 {
		t.Errorf("after it was discarded there is %+v", n)
	}
}

// TestUnsignedNotes: after seven days (practice setting) a draft stands on the list
// of its author and of the lead.
func TestUnsignedNotes(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx := t.Context()
	client := f.Client()
	in := note("Begun.")
	storetest.Must(f.SaveNote(ctx, f.Mira.Actor(), client, in))
	listed := func(a store.Actor) int {
		n := 0
		for _, item := range storetest.Must(f.Worklist(ctx, a, store.WorklistFilter{})).Items {
			if item.Kind == worklist.Note {
				n++
			}
		}
		return n
	}
	f.Wait(6 * 24 * time.Hour)
	if n := listed(f.Mira.Actor()); n != 0 {
		t.Errorf("after six days %d are listed", n)
	}
	f.Wait(24 * time.Hour)
	for who, want := range map[store.Actor]int{f.Mira.Actor(): 1, f.Lead.Actor(): 1, f.Tomas.Actor(): 0} {
		if n := listed(who); n != want {
			t.Errorf("%s: %d are listed; want %d", who.Role, n, want)
		}
	}
	in.Version = 1
	if err := f.SignNote(ctx, f.Mira.Actor(), client, in, ""); err != nil {
		t.Fatal(err)
	}
	if n := listed(f.Lead.Actor()); n != 0 {
		t.Errorf("signed, %d are listed", n)
	}
}
