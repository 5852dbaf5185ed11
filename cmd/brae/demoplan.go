package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/screening"
	"brae/store"
)

// demoWalker is an invented client with months of history, which is lived through
// week by week: log, status, step, answer.
type demoWalker struct {
	demoClient
	person
	weeks   int // of history, this one included
	goal    int // moderate-equivalent minutes a week
	start   plan.Start
	cleared *store.ClearanceInput // the doctor's decision before the first prescription; nil for none
	vitals  [][3]int              // upper and lower pressure and resting heart rate, spread over the weeks

	silent       [2]int        // first and last week without a log and without a word; zeros for none
	pause        [2]int        // first and last week of an agreed break; zeros for none
	kind, reason string        // of the break
	harder       [2]float64    // from which week on all feels harder, and by how many points
	pulse        [2]int        // from which week on, and by how much the heart runs ahead of what it feels like; zeros for none
	steps        func(int) int // what the step of a week comes to: 1 accepted, -1 declined, 0 left unanswered; nil accepts each
	word         string        // with a step that is declined
}

// seedWalker takes a client through the weeks.
func (w demoWalker) seedWalker(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, thisWeek domain.Date, actor store.Actor) error {
	rnd := rand.New(rand.NewPCG(uint64(len(w.family)+w.weeks), 13))
	first := thisWeek.AddDays(-7 * (w.weeks - 1))
	*clock = first.Time().Add(9 * time.Hour)
	id, err := w.admit(ctx, s, clock, actor)
	if err != nil {
		return err
	}
	built, err := s.BuildPlan(ctx, actor, id, plan.Input{Start: w.start, Goal: w.goal, Weeks: max(20, w.weeks+4)})
	if err != nil {
		return err
	}
	if _, err := s.SavePlan(ctx, actor, id, store.PlanInput{Starts: first, Weeks: built.Weeks, Goal: w.goal, Origin: store.FromEditor, Confirmed: true}); err != nil {
		return err
	}
	for week := 1; week <= w.weeks; week++ {
		monday := first.AddDays(7 * (week - 1))
		*clock = monday.Time().Add(10 * time.Hour)
		if clock.After(today) {
			break
		}
		if err := w.live(ctx, s, clock, today, id, actor, rnd, week, monday); err != nil {
			return fmt.Errorf("week from %s: %w", monday, err)
		}
	}
	*clock = today.Add(-2 * time.Hour)
	return nil
}

// admit takes the client in, with the doctor's decision where one is needed.
func (w demoWalker) admit(ctx context.Context, s *store.Store, clock *time.Time, actor store.Actor) (uuid.UUID, error) {
	id, err := w.addClient(ctx, s, actor)
	if err != nil {
		return id, err
	}
	if in := w.cleared; in != nil {
		practice, err := s.Practice(ctx)
		if err != nil {
			return id, err
		}
		day := domain.DateOf(*clock, practice.Location)
		in.DecidedOn, in.ReceivedOn, in.ValidUntil = day, day, day.AddMonths(12)
		if _, err := s.RecordClearance(ctx, actor, id, *in); err != nil {
			return id, err
		}
	}
	_, err = s.SignPrescription(ctx, actor, id, *w.prescribed)
	return id, err
}

// live is one week: the gate, the answer to the step, the break, and the log.
func (w *demoWalker) live(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, id uuid.UUID, actor store.Actor, rnd *rand.Rand, week int, monday domain.Date) error {
	if err := w.measure(ctx, s, id, actor, week); err != nil {
		return err
	}
	if week == w.pause[0] {
		in := store.PauseInput{ID: newUUID(), From: monday, To: monday.AddDays(7*(w.pause[1]-w.pause[0]+1) - 1), Kind: w.kind, Note: w.reason}
		if err := s.PauseClient(ctx, actor, id, in); err != nil {
			return err
		}
	}
	progress, err := s.ProgressOf(ctx, actor, id)
	if err != nil {
		return err
	}
	if inWeeks(w.silent, week) || inWeeks(w.pause, week) {
		return nil
	}
	if week > 1 && week < w.weeks && progress.Offered() { // this week's is for who looks around
		if progress, err = w.answer(ctx, s, id, actor, week, progress); err != nil {
			return err
		}
	}
	if w.harder[1] != 0 && week >= int(w.harder[0]) {
		w.worn = w.harder[1]
	}
	for _, log := range w.week(rnd, progress.Dose, progress.Dose.Sessions, monday) {
		at := log.Day.Time().Add(18 * time.Hour)
		if at.After(today) {
			break
		}
		*clock = at
		if _, err := s.LogSession(ctx, actor, id, w.session(rnd, progress.Dose, log, week)); err != nil {
			return err
		}
	}
	return nil
}

func inWeeks(weeks [2]int, week int) bool {
	return weeks[0] > 0 && week >= weeks[0] && week <= weeks[1]
}

func newUUID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

// measure takes the readings of the gate, spread over the weeks.
func (w *demoWalker) measure(ctx context.Context, s *store.Store, id uuid.UUID, actor store.Actor, week int) error {
	for i, v := range w.vitals {
		if week != 1+i*(w.weeks-1)/max(1, len(w.vitals)-1) {
			continue
		}
		in := store.VitalsInput{ID: newUUID(), Confirmed: true}
		in.Reading.Vitals = screening.Vitals{SBP: &v[0], DBP: &v[1], RestingHR: &v[2]}
		if _, err := s.TakeVitals(ctx, actor, id, in); err != nil {
			return err
		}
	}
	return nil
}

// answer answers the step that is suggested.
func (w *demoWalker) answer(ctx context.Context, s *store.Store, id uuid.UUID, actor store.Actor, week int, p store.Progress) (store.Progress, error) {
	in := store.StepAnswer{
		ID: newUUID(), Version: p.Plan.Version, Answer: store.StepAccepted, Suggested: p.Standing.Step.To, Reserve: p.Standing.Step.Reserve,
	}
	if w.steps != nil {
		switch w.steps(week) {
		case 0:
			return p, nil
		case -1:
			in.Answer, in.Word = store.StepDeclined, w.word
		}
	}
	err := s.AnswerStep(ctx, actor, id, in)
	if errors.Is(err, store.ErrPrescribe) {
		_, err = s.SignPrescription(ctx, actor, id, p.Prescribes(in))
	}
	if errors.Is(err, domain.ErrHeld) {
		return p, nil
	}
	if err != nil {
		return p, err
	}
	return s.ProgressOf(ctx, actor, id)
}

// session is what is typed of a session: its warm-up, the work, and the vigorous
// minutes within it.
func (w *demoWalker) session(rnd *rand.Rand, d plan.Dose, log plan.Log, week int) store.SessionInput {
	work := store.PartInput{Activity: "walk_slow", Minutes: d.Minutes - d.Easy, Talk: log.Talk, Effort: log.Effort}
	switch d.Class {
	case intensity.Moderate:
		work.Activity = "walk_brisk"
	case intensity.Vigorous:
		work.Activity, work.Talk = "run_8", intensity.TalkFewWords
	}
	if w.pulse[0] > 0 && week >= w.pulse[0] {
		work.Talk, work.Effort, work.HeartRate = intensity.TalkSentences, 12, w.pulse[1]+rnd.IntN(6)
	}
	in := store.SessionInput{ID: newUUID(), Day: log.Day}
	if d.Easy > 0 {
		in.Parts = append(in.Parts, store.PartInput{Activity: "walk_slow", Minutes: d.Easy, Talk: intensity.TalkSing})
	}
	if hard := d.Vigorous / max(1, d.Sessions); hard > 0 && hard < work.Minutes {
		work.Minutes -= hard
		work.Talk = intensity.TalkSentences
		in.Parts = append(in.Parts, work, store.PartInput{Activity: "walk_uphill", Minutes: hard, Talk: intensity.TalkFewWords, Effort: max(14, log.Effort)})
		return in
	}
	in.Parts = append(in.Parts, work)
	return in
}
