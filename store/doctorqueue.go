package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
)

// QueueLetter is a letter that waits for something.
type QueueLetter struct {
	Referral
	ClientName string
	Days       int // since it was sent, or since it was begun
}

// QueueDecision is a doctor's decision that somebody must look at.
type QueueDecision struct {
	clearance.Standing
	ID         uuid.UUID
	ClientID   uuid.UUID
	ClientName string
	Lapses     domain.Date
	ConfirmBy  domain.Date // a decision by phone: the last day for its written confirmation
	Days       int         // until it lapses
}

// DoctorQueue is what waits in the doctor review of a caseload, or of the practice.
type DoctorQueue struct {
	Today   domain.Date
	Letters []QueueLetter   // the oldest first
	Confirm []QueueDecision // by phone, not confirmed yet
	Lapsing []QueueDecision // within the warnings, the soonest first
	Review  []QueueDecision // under review
	Lapsed  []QueueDecision // and nothing has taken their place
	Unasked []QueueClient   // a doctor has to answer, and nobody has written
	Policy  clearance.Policy
}

// QueueClient is a client whose hold needs a doctor, and no letter is under way.
type QueueClient struct {
	ID    uuid.UUID
	Name  string
	Scope clearance.Scope
	Since domain.Date // the day the hold was opened
	Days  int
}

// DoctorQueue returns what waits in the doctor review of the clients that the
// actor may see.
func (s *Store) DoctorQueue(ctx context.Context, actor Actor) (DoctorQueue, error) {
	if !actor.Role.Staff() {
		return DoctorQueue{}, domain.ErrForbidden
	}
	var q DoctorQueue
	err := s.change(ctx, actor, func(t *tx) error {
		var err error
		if q, err = t.doctorQueue(ctx); err != nil {
			return err
		}
		return t.audit(ctx, "doctor.queue", uuid.Nil, "doctor", map[string]any{"letters": len(q.Letters)})
	})
	if err != nil {
		return DoctorQueue{}, fmt.Errorf("doctor queue: %w", err)
	}
	return q, nil
}

func (t *tx) doctorQueue(ctx context.Context) (DoctorQueue, error) {
	q := DoctorQueue{Today: t.today, Policy: clearance.PolicyFrom(t.settings)}
	clients, _, err := t.stampedClients(ctx)
	if err != nil {
		return q, err
	}
	names, err := t.names(ctx)
	if err != nil {
		return q, err
	}
	if err := t.queueLetters(ctx, &q, names); err != nil {
		return q, err
	}
	if err := t.queueDecisions(ctx, &q, clients, names); err != nil {
		return q, err
	}
	return q, t.queueUnasked(ctx, &q, names)
}

// names are the open clients that the actor may see.
func (t *tx) names(ctx context.Context) (map[uuid.UUID]string, error) {
	rows, _ := t.Query(ctx, `SELECT c.id, c.given_name || ' ' || c.family_name FROM clients c WHERE c.closed_at IS NULL AND `+seen, t.actor.args(nil))
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		ID   uuid.UUID
		Name string
	}])
	names := map[uuid.UUID]string{}
	for _, c := range list {
		names[c.ID] = c.Name
	}
	return names, err
}

func (t *tx) queueLetters(ctx context.Context, q *DoctorQueue, names map[uuid.UUID]string) error {
	letters, err := t.referralsWhere(ctx, `c.closed_at IS NULL AND (
		(SELECT status FROM referral_events e WHERE e.referral_id = r.id ORDER BY e.at DESC, e.id DESC LIMIT 1) IN ('draft', 'sent', 'received')
		OR EXISTS (SELECT FROM doctor_links l WHERE l.referral_id = r.id AND l.answered_at IS NOT NULL AND l.settled_at IS NULL))`, nil)
	if err != nil {
		return err
	}
	for _, r := range letters {
		since := r.SentOn
		if since.IsZero() {
			since = domain.DateOf(r.CreatedAt, t.practice.Location)
		}
		q.Letters = append(q.Letters, QueueLetter{r, names[r.ClientID], t.today.DaysSince(since)})
	}
	slices.SortStableFunc(q.Letters, func(a, b QueueLetter) int {
		if (a.Pending != nil) != (b.Pending != nil) { // an answer is there: first of all
			return cmp.Compare(boolRank(b.Pending != nil), boolRank(a.Pending != nil))
		}
		return b.Days - a.Days
	})
	return nil
}

func boolRank(b bool) int {
	if b {
		return 1
	}
	return 0
}

// doctorsWord is what is remembered of a client about whom a doctor has decided.
type doctorsWord struct {
	ceiling   intensity.Class // as in the file
	hold      clearance.Scope // the widest
	file      clearance.File
	standings []clearance.Standing
}

// doctorsWords are what doctors have decided about the clients that the actor may
// see, of some or of all that are open.
func (t *tx) doctorsWords(ctx context.Context, clients []stamped) (map[uuid.UUID]doctorsWord, error) {
	ids, err := t.cleared(ctx)
	if err != nil {
		return nil, err
	}
	some := stampsOf(clients, ids)
	list, err := recall(ctx, t, &t.memos.word, some, func(ctx context.Context, missing []uuid.UUID) (map[uuid.UUID]doctorsWord, error) {
		words := make(map[uuid.UUID]doctorsWord, len(missing))
		for _, id := range missing {
			f, err := t.clearanceFile(ctx, id)
			if err != nil {
				return nil, err
			}
			words[id] = doctorsWord{f.Ceiling(), widest(f.Holds), f.File, f.Standings(t.today, f.policy)}
		}
		return words, nil
	})
	words := make(map[uuid.UUID]doctorsWord, len(list))
	for i, w := range list {
		words[some[i].ID] = w
	}
	return words, err
}

func (t *tx) queueDecisions(ctx context.Context, q *DoctorQueue, clients []stamped, names map[uuid.UUID]string) error {
	words, err := t.doctorsWords(ctx, clients)
	if err != nil {
		return err
	}
	for _, c := range clients {
		client, word := c.ID, words[c.ID]
		for _, s := range word.standings {
			id, err := uuid.Parse(s.Decision.ID)
			if err != nil {
				return err
			}
			d := QueueDecision{Standing: s, ID: id, ClientID: client, ClientName: names[client], Lapses: s.Decision.Lapses(q.Policy)}
			d.Days = d.Lapses.DaysSince(t.today)
			switch s.State.Status {
			case clearance.Active, clearance.UnderReview:
				if s.Decision.Channel == clearance.Phone && s.Decision.ConfirmedOn.IsZero() {
					d.ConfirmBy = s.Decision.ReceivedOn.AddDays(q.Policy.PhoneDays)
					q.Confirm = append(q.Confirm, d)
				}
				if s.State.Status == clearance.UnderReview {
					q.Review = append(q.Review, d)
				}
				if clearance.Warning(s.Decision, t.today, q.Policy) > 0 {
					q.Lapsing = append(q.Lapsing, d)
				}
			case clearance.Lapsed:
				if !word.file.Followed(s, t.today, q.Policy) {
					q.Lapsed = append(q.Lapsed, d)
				}
			}
		}
	}
	slices.SortStableFunc(q.Lapsing, func(a, b QueueDecision) int { return a.Days - b.Days })
	slices.SortStableFunc(q.Confirm, func(a, b QueueDecision) int { return a.ConfirmBy.DaysSince(b.ConfirmBy) })
	return nil
}

// queueUnasked lists who is held until a doctor answers while no letter is under
// way.
func (t *tx) queueUnasked(ctx context.Context, q *DoctorQueue, names map[uuid.UUID]string) error {
	rows, _ := t.Query(ctx, `
		SELECT c.id, min(h.opened_at), bool_or(h.scope = 'all'), bool_or(h.scope = 'above_light')
		FROM clients c JOIN holds h ON h.client_id = c.id
		WHERE c.closed_at IS NULL AND `+seen+` AND h.released_at IS NULL AND h.needs IN ('doctor', 'resolution')
			AND NOT EXISTS (SELECT FROM referrals r WHERE r.client_id = c.id AND
				(SELECT status FROM referral_events e WHERE e.referral_id = r.id ORDER BY e.at DESC, e.id DESC LIMIT 1) IN ('draft', 'sent', 'received'))
		GROUP BY c.id ORDER BY min(h.opened_at), c.id`, t.actor.args(nil))
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[unaskedRow])
	if err != nil {
		return err
	}
	for _, r := range list {
		c := QueueClient{ID: r.ID, Name: names[r.ID], Scope: clearance.Vigorous, Since: domain.DateOf(r.Since, t.practice.Location)}
		if r.AboveLight {
			c.Scope = clearance.AboveLight
		}
		if r.All {
			c.Scope = clearance.All
		}
		c.Days = t.today.DaysSince(c.Since)
		q.Unasked = append(q.Unasked, c)
	}
	return nil
}

type unaskedRow struct {
	ID              uuid.UUID
	Since           time.Time
	All, AboveLight bool
}
