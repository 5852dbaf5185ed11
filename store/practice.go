package store

import (
	"context"
	"fmt"
	"strings"
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

func loadPractice(ctx context.Context, q querier) (Practice, error) {
	rows, _ := q.Query(ctx, `SELECT name, zone, week_start, emergency_number, phone FROM practice`)
	row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[struct {
		Name, Zone             string
		WeekStart              int
		EmergencyNumber, Phone string
	}])
	if err != nil {
		return Practice{}, err
	}
	zone, err := time.LoadLocation(row.Zone)
	if err != nil {
		return Practice{}, fmt.Errorf("zone of the practice: %w", err)
	}
	return Practice{
		Name: row.Name, Zone: row.Zone, Location: zone, WeekStart: time.Weekday(row.WeekStart),
		EmergencyNumber: row.EmergencyNumber, Phone: row.Phone,
	}, nil
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
