package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/url"
	"path/filepath"
	"strings"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/store"
)

// demoPassphrase opens every account of the invented practice, and no other.
const demoPassphrase = "heather over the ridge"

type demoCommand struct {
	listener `embed:""`
	Data     string `env:"BRAE_DATA" default:"${data}" help:"Folder of the private PostgreSQL. The demo keeps to a folder of its own in it."`
}

func (c demoCommand) Run(ctx context.Context, std streams, log *slog.Logger) error {
	d := database{Data: filepath.Join(c.Data, "demo")}
	now := time.Now()
	// While the past is invented, the store's clock is turned back to it.
	clock := func() time.Time { return now }
	s, done, err := d.open(ctx, "brae", clock, log)
	if err != nil {
		return err
	}
	defer done()
	switch _, err := s.Practice(ctx); {
	case errors.Is(err, domain.ErrNotFound):
		if err := seed(ctx, s, &now); err != nil {
			return fmt.Errorf("invent the practice: %w", err)
		}
	case err != nil:
		return err
	}
	live, err := s.Reopen(ctx, time.Now)
	if err != nil {
		return err
	}
	defer live.Close()
	return c.serve(ctx, live, time.Now, log, func(origin *url.URL) error {
		fmt.Fprintf(std.out, `
Brae answers on %s

An invented practice. All three sign in with the passphrase: %s
  lead          lead
  practitioner  mira
  client        jon   (narrow the window, or use a phone)

Stop with Ctrl-C. Do not enter real people here.
`, origin, demoPassphrase)
		return nil
	})
}

// demoClient is an invented client.
type demoClient struct {
	given, family, birth string
	sex                  domain.Sex // empty is not said
	signIn               string     // only for those who can sign in
	answers              map[string]string
	prescribed           *store.PrescriptionInput // nil where nothing is signed
	weekly               [8][]demoSession         // of the last eight weeks, oldest first
}

// demoSession is a session on a day of its week.
type demoSession struct {
	day       int // 0 is the first day of the week
	activity  string
	minutes   int
	talk      intensity.Talk
	heartRate int
}

// seed invents the practice, through the store's own methods, at the times when
// things would have happened.
func seed(ctx context.Context, s *store.Store, clock *time.Time) error {
	today := *clock
	token, err := s.NewSetUpLink(ctx)
	if err != nil {
		return err
	}
	*clock = today.AddDate(0, 0, -190)
	lead, err := s.SetUpPractice(ctx, token, store.SetUp{
		Practice: store.Practice{Name: "Ridge Lane Rehab", Zone: "Europe/Berlin", WeekStart: time.Monday, EmergencyNumber: "112", Phone: "030 555 0142"},
		Name:     "Ines Harrow", SignInName: "lead", Passphrase: demoPassphrase,
	})
	if err != nil {
		return err
	}
	token, err = s.AddPractitioner(ctx, lead.Actor(), "Mira Solberg", "mira")
	if err != nil {
		return err
	}
	mira, err := s.Join(ctx, token, demoPassphrase)
	if err != nil {
		return err
	}
	practice, err := s.Practice(ctx)
	if err != nil {
		return err
	}
	thisWeek := domain.DateOf(today, practice.Location).Week(practice.WeekStart)
	for i, c := range demoClients() {
		*clock = today.AddDate(0, 0, -63).Add(time.Duration(i) * time.Hour)
		actor := mira.Actor()
		if i%4 == 3 {
			actor = lead.Actor()
		}
		if err := c.seed(ctx, s, clock, today, thisWeek, actor); err != nil {
			return fmt.Errorf("%s %s: %w", c.given, c.family, err)
		}
	}
	for _, w := range demoWalkers() {
		if err := w.seedWalker(ctx, s, clock, today, thisWeek, mira.Actor()); err != nil {
			return fmt.Errorf("%s %s: %w", w.given, w.family, err)
		}
	}
	if err := seedDoctor(ctx, s, clock, today, mira.Actor()); err != nil {
		return fmt.Errorf("doctor review: %w", err)
	}
	*clock = today
	return nil
}

// addClient takes the client in and screens them, where the intake is finished.
func (c demoClient) addClient(ctx context.Context, s *store.Store, actor store.Actor) (uuid.UUID, error) {
	birth, err := domain.ParseDate(c.birth)
	if err != nil {
		return uuid.Nil, err
	}
	id, err := s.AddClient(ctx, actor, store.Client{
		GivenName: c.given, FamilyName: c.family, BirthDate: birth, Sex: c.sex,
		Phone: "030 555 01" + fmt.Sprint(10+len(c.family)), EmergencyContact: "Next of kin, 030 555 0199",
	})
	if err != nil {
		return id, err
	}
	answers := store.Answers{}
	for _, t := range screening.Codes() {
		if t.Tier == "" {
			answers[intake.QuestionField(t.Code)] = screening.No.String()
		}
	}
	for field, typed := range c.answers {
		answers[field] = typed
	}
	version, err := s.SaveIntake(ctx, actor, id, 0, answers)
	if err != nil || c.answers["unfinished"] != "" {
		return id, err
	}
	decision, err := s.Screen(ctx, actor, id, version)
	if err == nil && !decision.Decided() {
		err = fmt.Errorf("not decided: %s", strings.Join(decision.Missing, ", "))
	}
	return id, err
}

func (c demoClient) seed(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, thisWeek domain.Date, actor store.Actor) error {
	staff := actor
	id, err := c.addClient(ctx, s, actor)
	if err != nil || c.prescribed == nil {
		return err
	}
	if _, err := s.SignPrescription(ctx, actor, id, *c.prescribed); err != nil {
		return err
	}
	if err := seedTests(ctx, s, clock, today, actor, id, c.given); err != nil {
		return err
	}
	if c.signIn != "" {
		token, err := s.InviteClient(ctx, actor, id, c.signIn)
		if err != nil {
			return err
		}
		account, err := s.Join(ctx, token, demoPassphrase)
		if err != nil {
			return err
		}
		actor = account.Actor()
	}
	for i, sessions := range c.weekly {
		week := thisWeek.AddDays(7 * (i - len(c.weekly) + 1))
		for _, d := range sessions {
			day := week.AddDays(d.day)
			at := day.Time().Add(18 * time.Hour)
			if at.After(today) {
				continue // still to come this week
			}
			*clock = at
			_, err := s.LogSession(ctx, actor, id, store.SessionInput{
				ID: uuid.Must(uuid.NewV7()), Day: day,
				Parts: []store.PartInput{{Activity: d.activity, Minutes: d.minutes, Talk: d.talk, HeartRate: d.heartRate}},
			})
			if err != nil {
				return err
			}
		}
	}
	return seedReport(ctx, s, clock, today, staff, id, c.given)
}
