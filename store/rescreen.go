package store

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/screening"
)

// HealthChange is a change in a client's health between two screenings, as a
// practitioner heard of it.
type HealthChange struct {
	ID         uuid.UUID
	Kind       string // of [clearance.ChangeKind]
	Day        domain.Date
	Note       string
	HeartRate  bool // a medicine that bears on it
	Glucose    bool
	RecordedAt time.Time
	RecordedBy string // name of the account
}

func (h HealthChange) change() clearance.Change {
	return clearance.Change{Kind: clearance.ChangeKind(h.Kind), On: h.Day, HeartRate: h.HeartRate, Glucose: h.Glucose}
}

// heard returns the changes of a client that were recorded, the newest first.
func (t *tx) heard(ctx context.Context, client uuid.UUID) (list []HealthChange, err error) {
	err = t.read(ctx, heardOf(&list, client))
	return list, err
}

func heardOf(list *[]HealthChange, client uuid.UUID) reading {
	return rowsInto(list, pgx.RowToStructByName[HealthChange], `
		SELECT h.id, h.kind, h.day, h.note, h.heart_rate, h.glucose, h.recorded_at, a.name AS recorded_by
		FROM health_changes h JOIN accounts a ON a.id = h.recorded_by
		WHERE h.client_id = $1 ORDER BY h.day DESC, h.id DESC`, client)
}

// heardKinds are the kinds of change that a practitioner records.
var heardKinds = []clearance.ChangeKind{
	clearance.NewSymptom, clearance.NewEvent, clearance.NewDiagnosis, clearance.MedicineChange, clearance.PregnancyOrBirth,
}

// ReportChange records a change in a client's health that a practitioner has heard
// of. After a symptom or an event all exercise waits until a practitioner has
// screened the client again and releases it. It returns [domain.Problems] by field.
func (s *Store) ReportChange(ctx context.Context, actor Actor, client uuid.UUID, kind clearance.ChangeKind, day domain.Date, note string) error {
	note = strings.TrimSpace(note)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		var problems domain.Problems
		if !slices.Contains(heardKinds, kind) {
			problems.Add("kind", "Choose what has changed.")
		}
		switch {
		case day.IsZero():
			problems.Add("day", "Type the day on which it began.")
		case day.After(t.today):
			problems.Add("day", "This day is in the future.")
		}
		if note == "" {
			problems.Add("note", "Write what has changed. Of a medicine: its name and dose.")
		} else if utf8.RuneCountInString(note) > 1000 {
			problems.Add("note", "Use 1,000 characters at most.")
		}
		if err := problems.Err(); err != nil {
			return err
		}
		h := HealthChange{ID: newID(), Kind: string(kind), Day: day, Note: note}
		if kind == clearance.MedicineChange {
			h.HeartRate, h.Glucose = bears(note)
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO health_changes (id, client_id, kind, day, note, heart_rate, glucose, recorded_at, recorded_by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
			h.ID, client, h.Kind, h.Day, h.Note, h.HeartRate, h.Glucose, t.now, actor.ID); err != nil {
			return err
		}
		if kind == clearance.NewSymptom || kind == clearance.NewEvent {
			hold := newID()
			if _, err := t.Exec(ctx, `
				INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, opened_at, opened_by)
				VALUES ($1, $2, $3, $4, $5, 'E17', $6, $7, $8, $9, $10)`,
				hold, client, clearance.All, string(clearance.FromPractitioner), string(kind), "Until the client is screened again: "+note,
				string(clearance.NeedsPractitioner), day, t.now, actor.ID); err != nil {
				return err
			}
			if err := t.audit(ctx, "hold.open", client, "hold/"+hold.String(), map[string]any{"scope": clearance.All.String()}); err != nil {
				return err
			}
		}
		return t.audit(ctx, "health.change", client, "change/"+h.ID.String(), map[string]any{"kind": h.Kind})
	})
	if err != nil {
		return fmt.Errorf("report a change of client %s: %w", client, err)
	}
	return nil
}

// bears says whether a medicine that has changed bears on heart rate or blood
// sugar. One that is not known bears on heart rate until somebody has looked it up.
func bears(text string) (heartRate, glucose bool) {
	found := medicine.Match(text)
	heartRate = len(found.Matches) == 0
	for _, f := range found.Matches {
		f.Certainty = medicine.Exact // what it may be counts
		if stale, err := medicine.AfterChange(medicine.Started, f); err == nil {
			heartRate, glucose = heartRate || stale.ReviewHR, glucose || stale.ReviewSugar
		}
	}
	return heartRate, glucose
}

// rescreens says of each client why they have to be screened again.
func (t *tx) rescreens(ctx context.Context, clients []uuid.UUID) (map[uuid.UUID][]screening.Due, error) {
	policy := screening.PolicyFrom(t.settings)
	args := pgx.NamedArgs{"clients": clients, "since": t.today.Week(t.practice.WeekStart).AddDays(-7 * 13)}
	type newest struct {
		ClientID uuid.UUID
		On       domain.Date
		Regular  bool
		Logs     bool
	}
	rows, _ := t.Query(ctx, `
		SELECT c.id, s.decided_on, s.regular, coalesce((SELECT true FROM sessions WHERE client_id = c.id AND deleted_at IS NULL LIMIT 1), false)
		FROM unnest(@clients::uuid[]) AS c (id)
		JOIN LATERAL (
			SELECT decided_on, coalesce((decision->>'regular')::boolean, false) AS regular FROM screenings
			WHERE client_id = c.id ORDER BY created_at DESC LIMIT 1) s ON true`, args)
	screened, err := pgx.CollectRows(rows, pgx.RowToStructByPos[newest])
	if err != nil {
		return nil, err
	}
	type changed struct {
		ClientID           uuid.UUID
		Kind, Code         string
		On                 domain.Date
		HeartRate, Glucose bool
	}
	rows, _ = t.Query(ctx, `
		SELECT client_id, kind, '', day, heart_rate, glucose FROM health_changes WHERE client_id = ANY(@clients)
		UNION ALL
		SELECT client_id, 'new_symptom', cause, coalesce(since, (opened_at AT TIME ZONE @zone)::date), false, false FROM holds
		WHERE client_id = ANY(@clients) AND kind = 'triage' AND needs IN ('doctor', 'resolution')`,
		pgx.NamedArgs{"clients": clients, "zone": t.practice.Zone})
	changes, err := pgx.CollectRows(rows, pgx.RowToStructByPos[changed])
	if err != nil {
		return nil, err
	}
	type part struct {
		ClientID uuid.UUID
		Day      domain.Date
		Class    intensity.Class
		Minutes  int
	}
	rows, _ = t.Query(ctx, `
		SELECT s.client_id, s.day, p.class, p.minutes
		FROM sessions s CROSS JOIN LATERAL (SELECT class, minutes FROM session_parts WHERE session_id = s.id OFFSET 0) p -- not a scan of all parts
		WHERE s.client_id = ANY(@clients) AND s.day >= @since AND s.deleted_at IS NULL
			AND p.class IN ('moderate', 'vigorous', 'near_maximal')`, args)
	parts, err := pgx.CollectRows(rows, pgx.RowToStructByPos[part])
	if err != nil {
		return nil, err
	}
	inputs := map[uuid.UUID]*screening.RescreenInput{}
	bouts := map[uuid.UUID][]screening.Bout{}
	for _, n := range screened {
		inputs[n.ClientID] = &screening.RescreenInput{On: n.On, Regular: n.Regular, Logs: n.Logs}
	}
	for _, c := range changes {
		if in := inputs[c.ClientID]; in != nil {
			in.Changes = append(in.Changes, clearance.Change{
				Kind: clearance.ChangeKind(c.Kind), Code: c.Code, On: c.On, HeartRate: c.HeartRate, Glucose: c.Glucose,
			})
		}
	}
	for _, p := range parts {
		bouts[p.ClientID] = append(bouts[p.ClientID], screening.Bout{Day: p.Day, Minutes: p.Minutes, Class: p.Class})
	}
	due := map[uuid.UUID][]screening.Due{}
	for id, in := range inputs {
		in.History = screening.RegularFromLogs(bouts[id], t.today, t.practice.WeekStart, policy)
		if list := screening.Rescreen(*in, t.today, policy); len(list) > 0 {
			due[id] = list
		}
	}
	return due, nil
}
