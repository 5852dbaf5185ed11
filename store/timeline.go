package store

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/screening"
)

// TimelineKinds are the kinds of what happened, as the timeline can be narrowed to
// them.
var TimelineKinds = []string{
	"screening", "hold", "letter", "decision", "prescription", "plan", "test", "vitals", "note", "session", "message", "flag", "report", "consent",
}

// TimelineLine is something that happened to a client's record.
type TimelineLine struct {
	Kind    string // of [TimelineKinds]
	What    string // what happened, within the kind: open, release
	At      time.Time
	Day     domain.Date // that it is about, where that is another thing; zero if not
	By      string      // name; "" for what nobody did: a doctor with the link
	A, B    string      // what there is to tell, by kind and what
	N       int         // a number, by kind and what
	Place   string      // its page, below the client's record
	Reading *screening.Reading
}

// TimelinePage is a part of what happened to a client's record.
type TimelinePage struct {
	Client Client
	Today  domain.Date
	Lines  []TimelineLine // the newest first; the oldest first of the whole chart
	Counts map[string]int // of all lines, by kind
	Total  int            // that the filter lets through
}

// timelineSQL lists everything that happened, from the tables that keep it.
const timelineSQL = `
	SELECT 'screening' AS kind, 'screening' AS what, s.created_at AS at, s.decided_on AS day, s.created_by AS by, s.rule AS a, s.ceiling AS b, 0 AS n, '/decision' AS place
	FROM screenings s WHERE s.client_id = @client
	UNION ALL SELECT 'screening', 'change', h.recorded_at, h.day, h.recorded_by, h.kind, h.note, 0, '/decision' FROM health_changes h WHERE h.client_id = @client
	UNION ALL SELECT 'hold', 'open', h.opened_at, h.since, h.opened_by, h.scope, h.reason, 0, '/holds' FROM holds h WHERE h.client_id = @client
	UNION ALL SELECT 'hold', 'release', h.released_at, NULL, h.released_by, h.scope, h.release_reason, 0, '/holds' FROM holds h WHERE h.client_id = @client AND h.released_at IS NOT NULL
	UNION ALL SELECT 'letter', e.status, e.at, e.day, e.by, e.channel, e.note, 0, '/letters/' || r.id
		FROM referral_events e JOIN referrals r ON r.id = e.referral_id WHERE r.client_id = @client
	UNION ALL SELECT 'decision', 'recorded', d.recorded_at, d.decided_on, d.recorded_by, d.outcome, d.doctor_name, 0, '/decisions/' || d.id FROM clearances d WHERE d.client_id = @client
	UNION ALL SELECT 'decision', e.kind, e.at, e.day, e.by, d.doctor_name, e.reason, 0, '/decisions/' || d.id
		FROM clearance_events e JOIN clearances d ON d.id = e.clearance_id WHERE d.client_id = @client
	UNION ALL SELECT 'prescription', 'sign', p.signed_at, NULL, p.signed_by, CASE WHEN p.vigorous_minutes > 0 THEN 'moderate' ELSE p.class END, p.sessions_per_week || ' x ' || p.minutes_per_session || ' minutes' || CASE WHEN p.vigorous_minutes > 0 THEN ', of which ' || p.vigorous_minutes || ' minutes vigorous a week' ELSE '' END, p.version, ''
		FROM prescriptions p WHERE p.client_id = @client
	UNION ALL SELECT 'plan', 'sign', p.signed_at, p.changed, p.signed_by, p.origin, p.reason, p.version, '/plan' FROM plans p WHERE p.client_id = @client
	UNION ALL SELECT 'plan', 'pause', p.entered_at, p.from_day, p.entered_by, p.kind, p.note, 0, '/plan' FROM pauses p WHERE p.client_id = @client
	UNION ALL SELECT 'plan', 'pause_end', p.ended_at, p.last_day, p.ended_by, p.kind, '', 0, '/plan' FROM pauses p WHERE p.client_id = @client AND p.ended_at IS NOT NULL
	UNION ALL SELECT 'plan', 'step', s.decided_at, s.week, s.decided_by, s.answer, s.word, 0, '/progress' FROM progress_steps s WHERE s.client_id = @client
	UNION ALL SELECT 'test', CASE WHEN t.supersedes IS NULL THEN 'add' ELSE 'correct' END, t.created_at, t.done_on, t.created_by, t.test, t.reason, 0, '/tests/' || t.test || '/' || t.id
		FROM fitness_tests t WHERE t.client_id = @client
	UNION ALL SELECT 'test', 'error', e.marked_at, t.done_on, e.marked_by, t.test, e.reason, 0, '/tests/' || t.test || '/' || t.id
		FROM fitness_test_errors e JOIN fitness_tests t ON t.id = e.test_id WHERE t.client_id = @client
	UNION ALL SELECT 'vitals', v.change, v.entered_at, NULL, v.entered_by, v.reading::text, v.reason, 0, '/vitals' FROM vitals v WHERE v.client_id = @client
	UNION ALL SELECT 'note', 'sign', n.signed_at, n.event_on, n.author, n.kind, n.body, 0, '/notes/' || n.id FROM notes n WHERE n.client_id = @client AND n.signed_at IS NOT NULL
	UNION ALL SELECT 'note', 'add', d.entered_at, NULL, d.entered_by, d.body, d.reason, 0, '/notes/' || n.id FROM note_addenda d JOIN notes n ON n.id = d.note_id WHERE n.client_id = @client
	UNION ALL SELECT 'session', 'log', s.logged_at, s.day, s.logged_by, '', s.note, (SELECT coalesce(sum(minutes), 0) FROM session_parts p WHERE p.session_id = s.id)::int, '/sessions/' || s.id
		FROM sessions s WHERE s.client_id = @client
	UNION ALL SELECT 'session', v.change, v.replaced_at, s.day, v.replaced_by, '', v.reason, 0, '/sessions/' || s.id
		FROM session_revisions v JOIN sessions s ON s.id = v.session_id WHERE s.client_id = @client
	UNION ALL SELECT 'session', 'report', t.at, t.day, t.by, t.level, t.note, 0, '/sessions' FROM triages t WHERE t.client_id = @client AND t.session_id IS NULL
	UNION ALL SELECT 'message', 'send', m.sent_at, NULL, m.sent_by, m.text, '', 0, '/messages' FROM messages m WHERE m.client_id = @client
	UNION ALL SELECT 'message', 'answer', w.at, NULL, w.by, w.text, '', 0, '/messages' FROM message_answers w JOIN messages m ON m.id = w.message_id WHERE m.client_id = @client
	UNION ALL SELECT 'message', 'withdraw', w.at, NULL, w.by, m.text, w.reason, 0, '/messages' FROM message_withdrawals w JOIN messages m ON m.id = w.message_id WHERE m.client_id = @client
	UNION ALL SELECT 'flag', 'done', f.done_at, NULL, f.done_by, f.text, f.done_reason, 0, substr(f.href, length('/clients/' || f.client_id) + 1) FROM flags f WHERE f.client_id = @client AND f.done_at IS NOT NULL
	UNION ALL SELECT 'report', 'sign', r.signed_at, r.until, r.signed_by, r.reader, '', r.version, '/report' FROM reports r WHERE r.client_id = @client
	UNION ALL SELECT 'report', 'discharge', d.closed_at, NULL, d.closed_by, d.outcome, d.words, 0, '/report' FROM discharges d WHERE d.client_id = @client
	UNION ALL SELECT 'report', 'reopen', o.at, NULL, o.by, o.reason, '', 0, '/report' FROM reopenings o JOIN discharges d ON d.id = o.discharge_id WHERE d.client_id = @client
	UNION ALL SELECT 'consent', c.kind, c.recorded_at, c.given_on, c.recorded_by, c.recipient, c.purpose, 0, '/consent' FROM consents c WHERE c.client_id = @client
	UNION ALL SELECT 'consent', 'withdraw', c.withdrawn_at, c.withdrawn_on, c.withdrawn_by, c.recipient, c.withdrawn_why, 0, '/consent' FROM consents c WHERE c.client_id = @client AND c.withdrawn_at IS NOT NULL`

// Timeline returns what happened to a client's record: of some kinds, or of all if
// none is named. With a limit it returns that many lines from an offset on, the
// newest first; without one, the whole chart, the oldest first.
func (s *Store) Timeline(ctx context.Context, actor Actor, client uuid.UUID, kinds []string, offset, limit int) (TimelinePage, error) {
	p := TimelinePage{Counts: map[string]int{}}
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if p.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		p.Today = t.today
		if len(kinds) == 0 {
			kinds = TimelineKinds
		}
		args := pgx.NamedArgs{"client": client, "kinds": kinds, "offset": offset, "limit": nil}
		order := "l.at, l.kind, l.what, l.place, l.a"
		if limit > 0 {
			args["limit"], order = limit, "l.at DESC, l.kind, l.what, l.place, l.a"
		}
		rows, _ := t.Query(ctx, `SELECT kind, count(*)::int FROM (`+timelineSQL+`) l GROUP BY kind`, args)
		counts, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
			Kind string
			N    int
		}])
		if err != nil {
			return err
		}
		for _, c := range counts {
			p.Counts[c.Kind] = c.N
			if slices.Contains(kinds, c.Kind) {
				p.Total += c.N
			}
		}
		rows, _ = t.Query(ctx, `
			SELECT l.kind, l.what, l.at, l.day, coalesce(a.name, ''), coalesce(l.a, ''), coalesce(l.b, ''), l.n, l.place
			FROM (`+timelineSQL+`) l LEFT JOIN accounts a ON a.id = l.by
			WHERE l.kind = ANY(@kinds) ORDER BY `+order+` OFFSET @offset LIMIT @limit`, args)
		p.Lines, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (l TimelineLine, err error) {
			if err := row.Scan(&l.Kind, &l.What, &l.At, &l.Day, &l.By, &l.A, &l.B, &l.N, &l.Place); err != nil || l.Kind != "vitals" {
				return l, err
			}
			l.Reading = new(screening.Reading)
			err, l.A = json.Unmarshal([]byte(l.A), l.Reading), ""
			return l, err
		})
		if err != nil {
			return err
		}
		action := "timeline.view"
		if limit == 0 {
			action = "chart.view"
		}
		return t.audit(ctx, action, client, "client/"+client.String(), map[string]any{"lines": len(p.Lines)})
	})
	if err != nil {
		return TimelinePage{}, fmt.Errorf("timeline of client %s: %w", client, err)
	}
	return p, nil
}
