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
	"brae/store"
)

// demoWeeks is how long the clients with a plan have been there.
const demoWeeks = 13

// demoWalker is an invented client with a plan, whose sessions feel the harder the
// longer they are, and the easier the fitter they get.
type demoWalker struct {
	demoClient
	keeps float64 // share of the sessions that are done
	gains float64 // minutes by which a session lengthens what feels as it should
	can   float64 // minutes that do so at first
	away  int     // week in which a holiday of two weeks begins; 0 for none
}

func demoWalkers() []demoWalker {
	light := func() *store.PrescriptionInput {
		return &store.PrescriptionInput{
			Class: intensity.Light, SessionsPerWeek: 3, MinutesPerSession: 15, TargetMinutes: 45, TargetLight: true, Activities: "Walking",
		}
	}
	person := func(given, family, birth string) demoClient {
		return demoClient{
			given: given, family: family, birth: birth, answers: typed(idle(), measured("70", "126", "78", "moderate")), prescribed: light(),
		}
	}
	return []demoWalker{
		{person("Ruben", "Kestrel", "1970-04-12"), .97, .8, 26, 0},
		{person("Ilse", "Larkin", "1962-09-30"), .75, .5, 22, 0},
		{person("Tom", "Merrow", "1958-02-17"), .95, 0, 12, 0},
		{person("Yara", "Norwood", "1984-06-05"), .95, .7, 24, 11},
	}
}

// seedWalker takes a client through the weeks: log, status, step, each accepted.
func (w demoWalker) seedWalker(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, thisWeek domain.Date, actor store.Actor) error {
	rnd := rand.New(rand.NewPCG(uint64(len(w.family)), 13))
	first := thisWeek.AddDays(-7 * (demoWeeks - 1))
	*clock = first.Time().Add(9 * time.Hour)
	if err := w.seed(ctx, s, clock, today, thisWeek, actor); err != nil {
		return err
	}
	*clock = first.Time().Add(9 * time.Hour)
	found, err := s.Caseload(ctx, actor, w.family)
	if err != nil || len(found) != 1 {
		return fmt.Errorf("%d clients of that name, %w", len(found), err)
	}
	id := found[0].ID
	built, err := s.BuildPlan(ctx, actor, id, plan.Input{
		Start: plan.Start{Class: intensity.Light, Sessions: 3, Minutes: 15}, Goal: 150, Weeks: 20,
	})
	if err != nil {
		return err
	}
	if _, err := s.SavePlan(ctx, actor, id, store.PlanInput{Starts: first, Weeks: built.Weeks, Goal: 150, Origin: store.FromEditor, Confirmed: true}); err != nil {
		return err
	}
	for n := range demoWeeks {
		monday := first.AddDays(7 * n)
		*clock = monday.Time().Add(10 * time.Hour)
		if clock.After(today) {
			return nil
		}
		if n+1 == w.away {
			pause := store.PauseInput{ID: uuid.Must(uuid.NewV7()), From: monday, To: monday.AddDays(13), Kind: "holiday", Note: "By the sea"}
			if err := s.PauseClient(ctx, actor, id, pause); err != nil {
				return err
			}
		}
		progress, err := s.ProgressOf(ctx, actor, id)
		if err != nil {
			return err
		}
		away := w.away > 0 && (n+1 == w.away || n == w.away)
		if n > 0 && !away && progress.Offered() && n < demoWeeks-1 { // this week's is for who looks around
			in := store.StepAnswer{
				ID: uuid.Must(uuid.NewV7()), Version: progress.Plan.Version, Answer: store.StepAccepted,
				Suggested: progress.Standing.Step.To, Reserve: progress.Standing.Step.Reserve,
			}
			err := s.AnswerStep(ctx, actor, id, in)
			if errors.Is(err, store.ErrPrescribe) {
				_, err = s.SignPrescription(ctx, actor, id, progress.Prescribes(in))
			}
			if err != nil && !errors.Is(err, domain.ErrHeld) {
				return err
			}
			if progress, err = s.ProgressOf(ctx, actor, id); err != nil {
				return err
			}
		}
		if away {
			continue
		}
		if err := w.walk(ctx, s, clock, today, monday, actor, id, progress.Dose, rnd); err != nil {
			return err
		}
	}
	return nil
}

// walk logs the sessions of a week.
func (w *demoWalker) walk(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, monday domain.Date, actor store.Actor, id uuid.UUID, dose plan.Dose, rnd *rand.Rand) error {
	for i := range dose.Sessions {
		day := monday.AddDays(min(6, i*7/dose.Sessions))
		at := day.Time().Add(18 * time.Hour)
		if rnd.Float64() > w.keeps || at.After(today) {
			continue
		}
		*clock = at
		effort := max(8, min(17, int(10.5+float64(dose.Class-intensity.Light)*2+(float64(dose.Minutes)-w.can)/6+rnd.NormFloat64()*.7)))
		part := store.PartInput{Activity: "walk_slow", Minutes: dose.Minutes, Talk: intensity.TalkSing, Effort: effort}
		if dose.Class >= intensity.Moderate {
			part.Activity, part.Talk = "walk_brisk", intensity.TalkSentences
		}
		if effort >= 15 {
			part.Talk = intensity.TalkShort
		}
		if _, err := s.LogSession(ctx, actor, id, store.SessionInput{ID: uuid.Must(uuid.NewV7()), Day: day, Parts: []store.PartInput{part}}); err != nil {
			return fmt.Errorf("week from %s: %w", monday, err)
		}
		w.can += w.gains
	}
	return nil
}
