package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/heartrate"
	"brae/domain/intensity"
)

// TestsPage is what the page of a client's tests shows.
type TestsPage struct {
	Client Client
	Today  domain.Date
	Series []TestSeries
	All    []TestResult // with those that count no more, the newest first
	Bars   map[fitness.TestID][]string
	Due    domain.Date // when the newest test is due again; zero without one
}

// IsDue reports whether the newest test is due again.
func (p TestsPage) IsDue() bool { return !p.Due.IsZero() && !p.Due.After(p.Today) }

// Tests returns the tests of a client, and what bars which test today.
func (s *Store) Tests(ctx context.Context, actor Actor, client uuid.UUID) (TestsPage, error) {
	p := TestsPage{Bars: map[fitness.TestID][]string{}}
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if p.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		p.Today = t.today
		if p.All, err = t.tests(ctx, client); err != nil {
			return err
		}
		p.Series = t.series(p.All)
		p.Due = t.testDue(p.All)
		ready, err := t.readiness(ctx, p.Client, t.today)
		if err != nil {
			return err
		}
		for _, test := range fitness.Tests() {
			p.Bars[test.ID] = test.Bars(ready)
		}
		return t.audit(ctx, "tests.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return TestsPage{}, fmt.Errorf("tests of client %s: %w", client, err)
	}
	return p, nil
}

// testDue returns when the newest test that counts is due again.
func (t *tx) testDue(list []TestResult) domain.Date {
	for _, r := range list {
		if r.InForce() {
			return fitness.DueAgain(r.DoneOn, fitness.PolicyFrom(t.settings))
		}
	}
	return domain.Date{}
}

// TestForm is what a test starts from.
type TestForm struct {
	Client    Client
	Test      fitness.Test
	Today     domain.Date
	Bars      []string // why it must not be done today; then nothing else matters
	HRBlunted bool     // by the record
	Sex       fitness.Sex
	WeightKg  float64 // of the newest screening; 0 if it is not known
	HeightCm  float64
	MaxHR     int         // bpm, of the zones; 0 without a basis
	CourseM   float64     // of the last walk; 0 if there was none
	Early     domain.Date // before this day a repeat tells little; zero if this test was not done yet
	Corrects  *TestResult // the result that is to be corrected; nil for a new one
}

// TestForm returns what a test of a client starts from. With corrects, it is the
// correction of that result, which returns [domain.ErrConflict] if it counts no
// more.
func (s *Store) TestForm(ctx context.Context, actor Actor, client uuid.UUID, id fitness.TestID, corrects uuid.UUID) (TestForm, error) {
	var f TestForm
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if f.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		if f.Test, err = fitness.FindTest(id); err != nil {
			return err
		}
		f.Today, f.Sex = t.today, f.Client.Sex
		list, err := t.tests(ctx, client)
		if err != nil {
			return err
		}
		if err := f.from(t, list, corrects); err != nil {
			return err
		}
		person, err := t.tested(ctx, f.Client)
		if err != nil {
			return err
		}
		f.HRBlunted = person.HRBlunted
		if person.Screening != nil {
			f.WeightKg = float64(person.Screening.Input.WeightTenths) / 10
			f.HeightCm = float64(person.Screening.Input.HeightTenths) / 10
			file, err := t.clearanceFile(ctx, client)
			if err != nil {
				return err
			}
			whose, err := t.person(f.Client, *person.Screening, file.bounds(), "")
			if err != nil {
				return err
			}
			zones, err := t.ranges(whose, &file, t.now)
			if err != nil {
				return err
			}
			f.MaxHR = int(heartrate.Milli(zones.Max).Nearest())
		}
		if f.Corrects == nil {
			if f.Bars, err = t.bars(ctx, f.Client, f.Test, t.today, nil); err != nil {
				return err
			}
		}
		return t.audit(ctx, "test.new", client, "client/"+client.String(), map[string]any{"test": id})
	})
	if err != nil {
		return TestForm{}, fmt.Errorf("form of %s for client %s: %w", id, client, err)
	}
	return f, nil
}

// from takes over what earlier tests say.
func (f *TestForm) from(t *tx, list []TestResult, corrects uuid.UUID) error {
	for _, r := range list {
		if !r.InForce() {
			if r.ID == corrects {
				return domain.ErrConflict
			}
			continue
		}
		if f.Sex == "" { // the record does not say, an earlier test does
			f.Sex = r.Input.Sex
		}
		if r.ID == corrects {
			if r.Test != f.Test.ID {
				return domain.ErrNotFound
			}
			f.Corrects = &r
		}
		if r.Test != f.Test.ID {
			continue
		}
		if f.CourseM == 0 && r.Conditions.CourseM != nil {
			f.CourseM = *r.Conditions.CourseM
		}
		if f.Early.IsZero() {
			f.Early = fitness.NextTest(r.DoneOn, fitness.PolicyFrom(t.settings))
		}
	}
	if corrects != uuid.Nil && f.Corrects == nil {
		return domain.ErrNotFound
	}
	return nil
}

// TestPage is one result with the line that it stands in.
type TestPage struct {
	Client Client
	Today  domain.Date
	Result TestResult
	Series *TestSeries // nil if the result counts no more or has no figure
	Before *TestChange // from the result before it; nil if it is the first
	Peak   int         // bpm, to be offered as the measured maximum; 0 if there is none
}

// Test returns one result of a client.
func (s *Store) Test(ctx context.Context, actor Actor, client, id uuid.UUID) (TestPage, error) {
	var p TestPage
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if p.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		p.Today = t.today
		list, err := t.tests(ctx, client)
		if err != nil {
			return err
		}
		if p.Result, err = t.test(ctx, client, id); err != nil {
			return err
		}
		if test, err := fitness.FindTest(p.Result.Test); err == nil && p.Result.InForce() {
			p.Peak = test.Peak(p.Result.Conditions)
		}
		for _, line := range t.series(list) {
			for i, point := range line.Points {
				if point.ID != id {
					continue
				}
				p.Series = &line
				if i > 0 {
					p.Before = changed(line.Points[i-1], point, fitness.PolicyFrom(t.settings))
				}
			}
		}
		return t.audit(ctx, "test.view", client, "test/"+id.String(), nil)
	})
	if err != nil {
		return TestPage{}, fmt.Errorf("test %s of client %s: %w", id, client, err)
	}
	return p, nil
}

// WorkloadInput is what somebody types to have workloads worked out; what is nil is
// taken from the record.
type WorkloadInput struct {
	Class    intensity.Class // None for the prescribed one, or the ceiling
	VO2max   *float64        // ml per kg and minute
	SEE      *float64        // of that
	WeightKg *float64
}

// WorkloadPage is the work that should bring a client into a class.
type WorkloadPage struct {
	Client  Client
	Ceiling intensity.Class // hardest class that may be offered now
	Holds   []Hold
	Basis   *TestResult // the test that the oxygen uptake comes from; nil if it was typed or there is none
	Aim     fitness.Aim // as it was worked out
	HRTop   heartrate.BPM
	Work    *fitness.Workloads // nil where nothing can be worked out yet
}

// Workload returns the workloads of a client for a class. It returns
// [domain.Problems] for what was typed wrong, and [domain.ErrHeld] for a class that
// may not be offered now.
func (s *Store) Workload(ctx context.Context, actor Actor, client uuid.UUID, in WorkloadInput) (WorkloadPage, error) {
	var p WorkloadPage
	var refused error
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if p.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		if err := p.load(ctx, t, in); err != nil {
			return err
		}
		if p.Aim.VO2max != 0 && p.Ceiling >= intensity.Light {
			work, err := fitness.WorkFor(p.Aim, fitness.PolicyFrom(t.settings))
			if err != nil {
				refused = err // the page is seen all the same
			} else {
				p.Work = &work
			}
		}
		return t.audit(ctx, "workload.view", client, "client/"+client.String(), nil)
	})
	if err == nil {
		err = refused
	}
	if err != nil {
		return p, fmt.Errorf("workload of client %s: %w", client, err)
	}
	return p, nil
}

func (p *WorkloadPage) load(ctx context.Context, t *tx, in WorkloadInput) (err error) {
	id := p.Client.ID
	f, err := t.clearanceFile(ctx, id)
	if err != nil {
		return err
	}
	p.Holds, p.Ceiling = f.Holds, f.Ceiling()
	if p.Ceiling >= intensity.Vigorous && !f.Gate(t.today).Allow {
		p.Ceiling = intensity.Moderate
	}
	prescribed, err := t.prescriptionInForce(ctx, id)
	if err != nil {
		return err
	}
	p.Aim = fitness.Aim{Class: in.Class, Ceiling: p.Ceiling, Cap: heartrate.PolicyFrom(t.settings).VigorousTo}
	if in.Class == intensity.None {
		p.Aim.Class = min(p.Ceiling, intensity.Moderate)
		if prescribed != nil {
			p.Aim.Class = min(prescribed.Class, p.Ceiling)
		}
	}
	if prescribed != nil {
		p.HRTop = prescribed.Zones.Ceiling
	}
	if limit := f.bounds().Top; limit != 0 && (p.HRTop == 0 || limit < p.HRTop) {
		p.HRTop = limit
	}
	if newest := f.Screening; newest != nil && newest.Input.WeightTenths > 0 {
		p.Aim.WeightKg = new(float64(newest.Input.WeightTenths) / 10)
	}
	if in.WeightKg != nil {
		p.Aim.WeightKg = in.WeightKg
	}
	if in.VO2max != nil {
		p.Aim.VO2max = *in.VO2max
		if in.SEE != nil {
			p.Aim.SEE = *in.SEE
		}
		return nil
	}
	list, err := t.tests(ctx, id)
	if err != nil {
		return err
	}
	for _, r := range list {
		if r.InForce() && r.done().ForWorkloads() {
			p.Basis = &r
			p.Aim.VO2max = *r.Result.VO2max
			if r.Result.SEE != nil {
				p.Aim.SEE = *r.Result.SEE
			}
			test, err := fitness.FindTest(r.Test)
			p.Aim.Cycle = err == nil && test.Norms == fitness.Cycle
			return nil
		}
	}
	return nil
}
