package store

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"

	"brae/domain"
)

// Practice is the practice that this Brae serves.
type Practice struct {
	Name            string
	Zone            string         // IANA name
	Location        *time.Location // of Zone
	WeekStart       time.Weekday   // Monday or Sunday
	EmergencyNumber string
	Phone           string
}

// Check reports what keeps p from being saved.
func (p Practice) Check() domain.Problems {
	var problems domain.Problems
	if p.Name == "" {
		problems.Add("practice", "Type the name of the practice.")
	}
	if p.EmergencyNumber == "" {
		problems.Add("emergency_number", "Type the number that people call in an emergency where you are.")
	} else if strings.Trim(p.EmergencyNumber, "0123456789+ ") != "" {
		problems.Add("emergency_number", "An emergency number has only digits, such as 112.")
	}
	lengthProblem(&problems, "practice", p.Name)
	lengthProblem(&problems, "emergency_number", p.EmergencyNumber)
	lengthProblem(&problems, "phone", p.Phone)
	// LoadLocation takes "" for UTC, which nobody chose.
	if _, err := time.LoadLocation(p.Zone); err != nil || p.Zone == "" {
		problems.Add("zone", "Type a time zone such as Europe/Berlin or America/Denver.")
	}
	if p.WeekStart != time.Monday && p.WeekStart != time.Sunday {
		problems.Add("week_start", "A week starts on Monday or on Sunday.")
	}
	return problems
}

// querier is what a pool and a transaction share.
type querier interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
}

// practiceRow is the practice as it is stored.
type practiceRow struct {
	PracticeName    string
	Zone            string
	WeekStart       int
	EmergencyNumber string
	PracticePhone   string
}

const practiceColumns = `p.name AS practice_name, p.zone, p.week_start, p.emergency_number, p.phone AS practice_phone`

func (r practiceRow) practice() (Practice, error) {
	zone, err := location(r.Zone)
	if err != nil {
		return Practice{}, fmt.Errorf("zone of the practice: %w", err)
	}
	return Practice{
		Name: r.PracticeName, Zone: r.Zone, Location: zone, WeekStart: time.Weekday(r.WeekStart),
		EmergencyNumber: r.EmergencyNumber, Phone: r.PracticePhone,
	}, nil
}

// locations remembers the zones that were asked for: [time.LoadLocation] reads
// its file anew each time.
var locations sync.Map

func location(zone string) (*time.Location, error) {
	if l, ok := locations.Load(zone); ok {
		return l.(*time.Location), nil
	}
	l, err := time.LoadLocation(zone)
	if err == nil {
		locations.Store(zone, l)
	}
	return l, err
}

func loadPractice(ctx context.Context, q querier) (Practice, error) {
	rows, _ := q.Query(ctx, `SELECT `+practiceColumns+` FROM practice p`)
	row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[practiceRow])
	if err != nil {
		return Practice{}, err
	}
	return row.practice()
}

// Practice returns the practice. It returns [domain.ErrNotFound] before the set-up.
func (s *Store) Practice(ctx context.Context) (Practice, error) {
	p, err := loadPractice(ctx, s.pool)
	if err != nil {
		return Practice{}, fmt.Errorf("practice: %w", domainError(err))
	}
	return p, nil
}

// Today returns the practice's day at this moment.
func (s *Store) Today(p Practice) domain.Date { return domain.DateOf(s.now(), p.Location) }

// savePractice writes the one row of the practice. Saving it a second time is
// [domain.ErrConflict].
func (t *tx) savePractice(ctx context.Context, p Practice) error {
	_, err := t.Exec(ctx, `
		INSERT INTO practice (name, zone, week_start, emergency_number, phone, created_at)
		VALUES ($1, $2, $3, $4, $5, $6)`,
		p.Name, p.Zone, int(p.WeekStart), p.EmergencyNumber, p.Phone, t.now)
	return err
}
