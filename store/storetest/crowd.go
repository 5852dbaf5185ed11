package storetest

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"brae/domain"
)

// Multiply makes a practice of one client into one of many, as fast as the database
// copies: each other client has the screening and the prescription of the first, and
// all have so many sessions of half an hour in each of the weeks before a day.
func Multiply(ctx context.Context, pool *pgxpool.Pool, client uuid.UUID, clients, weeks, perWeek int, today domain.Date) error {
	args := pgx.NamedArgs{"client": client, "clients": clients, "weeks": weeks, "sessions": perWeek, "today": today.Time()}
	for _, sql := range []string{
		`INSERT INTO clients (id, practitioner_id, given_name, family_name, birth_date, phone, emergency_contact, created_at)
			SELECT gen_random_uuid(), practitioner_id, 'Client', 'No ' || n, birth_date, '', '', created_at
			FROM clients, generate_series(2, @clients::int) n WHERE id = @client`,
		`INSERT INTO screenings SELECT gen_random_uuid(), c.id, s.decided_on, s.answers, s.input, s.decision, s.rule, s.rule_set, s.ceiling, s.hold, s.created_at, s.created_by
			FROM screenings s, clients c WHERE s.client_id = @client AND c.id <> s.client_id`,
		`INSERT INTO prescriptions SELECT gen_random_uuid(), s.client_id, 1, s.id, p.class, p.sessions_per_week, p.minutes_per_session, p.activities,
				p.target, p.target_light, p.note, p.zones, p.signed_at, p.signed_by
			FROM prescriptions p, screenings s WHERE p.client_id = @client AND s.client_id <> p.client_id`,
		`INSERT INTO sessions SELECT gen_random_uuid(), c.id, d.day, d.day - (extract(isodow FROM d.day)::int - 1), '', sha256('x'), now(), c.practitioner_id
			FROM clients c, (SELECT @today::date - 7 * w - k AS day FROM generate_series(1, @weeks::int) w, generate_series(0, @sessions::int - 1) k) d
			ORDER BY d.day`,
		`INSERT INTO session_parts (session_id, n, activity, minutes, class, safety) SELECT id, 1, 'walk_brisk', 30, 'moderate', 'moderate' FROM sessions`,
		`INSERT INTO week_totals (week, client_id, light, moderate, vigorous, sessions)
			SELECT s.week, s.client_id, 0, sum(p.minutes), 0, count(*) FROM sessions s JOIN session_parts p ON p.session_id = s.id
			GROUP BY s.week, s.client_id ORDER BY s.week`,
		`VACUUM ANALYZE`,
	} {
		if _, err := pool.Exec(ctx, sql, args); err != nil {
			return fmt.Errorf("%s: %w", sql, err)
		}
	}
	return nil
}
