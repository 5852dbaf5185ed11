package store

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/screening"
	"brae/domain/triage"
	"brae/domain/volume"
)

// ClientWeek is one week of a client, as they and their practitioner see it.
type ClientWeek struct {
	Client       Client
	Today        domain.Date
	Week         domain.Date // first day
	Days         [7]volume.Totals
	Totals       volume.Totals
	Target       volume.Target
	Done         int // minutes that count towards the target
	ShortBy      int
	DaysLeft     int                 // today included
	Fill         []volume.Option     // ways to do what is left
	Sessions     []Session           // of the week, the newest first
	Favourites   []volume.Favourite  // what was done most often, with its usual length
	Recent       []Session           // the last different ones, to log again
	Prescription *Prescription       // nil before the first
	Plan         *PlannedWeek        // what the plan asks for this week; nil without a plan
	Next         NextSession         // what comes next of the plan, or else of the prescription
	Decision     *screening.Decision // of the screening in use; nil before the first
	Holds        []Hold              // open ones
	Ceiling      intensity.Class     // hardest class allowed now
	Bounds       Bounds              // what doctors have limited
	Vigorous     clearance.Gate      // before vigorous work, signed off with the prescription
	Earliest     domain.Date         // the first day that can still be logged
	Late         []triage.Question   // asked now, once, after a first hard session
	Message      *Message            // the last one from the practice; nil for none
}

// NextSession is what a client is to do next.
type NextSession struct {
	Left    int             // sessions left this week
	Minutes int             // of one
	Class   intensity.Class // as far as the ceiling allows; None for no exercise now
}

// Allowed returns the hardest class that a session may have now: the ceiling, and
// nothing vigorous while the gate before it is shut.
func (w *ClientWeek) Allowed() intensity.Class {
	if !w.Vigorous.Allow {
		return min(w.Ceiling, intensity.Moderate)
	}
	return w.Ceiling
}

// Asked is what this week asks for, as far as it is allowed.
func (w *ClientWeek) Asked() plan.Dose {
	var d plan.Dose
	if w.Prescription != nil {
		d = w.Prescription.Dose()
	}
	if w.Plan != nil {
		d = w.Plan.Dose
	}
	return d.Under(w.Allowed())
}

// next counts the sessions of the week against those that were agreed.
func (w *ClientWeek) next() NextSession {
	if w.Prescription == nil {
		return NextSession{}
	}
	sessions, next := w.Prescription.SessionsPerWeek, NextSession{Minutes: w.Prescription.MinutesPerSession, Class: w.Prescription.Dose().Class}
	if w.Plan != nil {
		sessions, next.Minutes, next.Class = w.Plan.Sessions, w.Plan.Dose.Minutes, w.Plan.Dose.Class
	}
	next.Class = min(next.Class, w.Allowed())
	next.Left = max(0, sessions-len(w.Sessions))
	return next
}

// recentDays is how far back a record shows sessions: four weeks.
const recentDays = 28

// Week returns the present week of a client.
func (s *Store) Week(ctx context.Context, actor Actor, client uuid.UUID) (ClientWeek, error) {
	var w ClientWeek
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if w, _, err = t.week(ctx, client); err != nil {
			return err
		}
		if w.Message, err = t.lastMessage(ctx, client); err != nil {
			return err
		}
		if w.Message != nil {
			if err := t.see(ctx, client, []Message{*w.Message}); err != nil {
				return err
			}
		}
		return t.audit(ctx, "week.view", client, "week/"+w.Week.String(), nil)
	})
	if err != nil {
		return ClientWeek{}, fmt.Errorf("week of client %s: %w", client, err)
	}
	return w, nil
}

// week loads the present week, and the sessions of the last four.
func (t *tx) week(ctx context.Context, client uuid.UUID) (w ClientWeek, recent []Session, err error) {
	if w.Client, err = t.client(ctx, client); err != nil {
		return w, nil, err
	}
	w.Today, w.Week = t.today, t.today.Week(t.practice.WeekStart)
	if w.Prescription, err = t.prescriptionInForce(ctx, client); err != nil {
		return w, nil, err
	}
	file, err := t.clearanceFile(ctx, client)
	if err != nil {
		return w, nil, err
	}
	w.Holds, w.Ceiling, w.Bounds = file.Holds, file.Ceiling(), file.bounds()
	if file.Screening != nil {
		w.Decision = &file.Screening.Decision
	}
	if p := w.Prescription; p != nil {
		if p.Zones, err = t.inUse(p, &file); err != nil {
			return w, nil, err
		}
		w.Vigorous = file.Gate(domain.DateOf(p.SignedAt, t.practice.Location))
	}
	if w.Plan, err = t.planWeek(ctx, client, w.Week); err != nil {
		return w, nil, err
	}
	if w.Plan != nil {
		*w.Plan = w.Plan.Under(w.Allowed())
	}
	recent, err = sessionsWhere(ctx, t, `s.client_id = @client AND s.day >= @since AND `+kept,
		pgx.NamedArgs{"client": client, "since": t.today.AddDays(-recentDays)})
	if err != nil {
		return w, nil, err
	}
	if w.Late, err = t.lateQuestions(ctx, client); err != nil {
		return w, nil, err
	}
	return w, recent, w.fill(recent, t)
}

// fill computes the week from the sessions of the last four weeks.
func (w *ClientWeek) fill(recent []Session, t *tx) error {
	policy := volume.PolicyFrom(t.settings)
	w.Target = volume.DefaultTarget(policy)
	w.Earliest = t.today.AddDays(-policy.LogDays)
	if w.Prescription != nil {
		w.Target = w.Prescription.Target()
	}
	if w.Plan != nil {
		w.Target = w.Plan.Asked
	}
	for _, session := range recent {
		if session.Week != w.Week {
			continue
		}
		w.Sessions = append(w.Sessions, session)
		w.Totals = w.Totals.Add(session.Totals)
		i := session.Day.DaysSince(w.Week)
		w.Days[i] = w.Days[i].Add(session.Totals)
	}
	w.Next = w.next()
	w.Recent, w.Favourites = different(recent, 3), favourites(recent)
	w.Done, w.ShortBy = w.Target.Done(w.Totals), w.Target.ShortBy(w.Totals)
	w.DaysLeft = volume.DaysLeft(t.today, t.practice.WeekStart)
	if w.Ceiling < intensity.Light || w.Prescription == nil {
		return nil // nothing to suggest while all exercise waits
	}
	vigorous := 0 // vigorous minutes are suggested only where they were prescribed
	if w.Prescription.Class >= intensity.Vigorous && w.Vigorous.Allow {
		vigorous = volume.NoLimit
		if some := w.Prescription.VigorousMinutes; some > 0 {
			vigorous = max(0, some-w.Totals.Vigorous)
		}
	}
	if w.Plan != nil { // which is easier than the prescription in its first weeks
		vigorous = max(0, min(vigorous, w.Plan.Totals.Vigorous-w.Totals.Vigorous))
	}
	var err error
	w.Fill, err = volume.Fill(volume.FillInput{
		ShortBy: w.ShortBy, Light: w.Target.Light, Ceiling: w.Ceiling, Vigorous: vigorous,
		DaysLeft: w.DaysLeft, Favourites: w.Favourites,
	}, policy)
	return err
}

// different returns the last n sessions that differ in what was done.
func different(sessions []Session, n int) []Session {
	var list []Session
	known := map[string]bool{}
	for _, s := range sessions {
		key := ""
		for _, p := range s.Parts {
			key += fmt.Sprintf("%s %d %s;", p.Activity, p.Minutes, p.Talk)
		}
		if !known[key] && len(list) < n {
			known[key] = true
			list = append(list, s)
		}
	}
	return list
}

// favourites returns what a client did most often, with its usual length, the
// most frequent first.
func favourites(sessions []Session) []volume.Favourite {
	var list []volume.Favourite
	count := map[string]int{}
	for _, s := range sessions {
		for _, p := range s.Parts {
			key := p.Activity + p.Class.String()
			count[key]++
			if count[key] == 1 {
				list = append(list, volume.Favourite{Activity: p.Activity, Class: p.Class, Minutes: p.Minutes})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b volume.Favourite) int {
		return count[b.Activity+b.Class.String()] - count[a.Activity+a.Class.String()]
	})
	return list
}
