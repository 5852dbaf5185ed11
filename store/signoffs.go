package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/worklist"
)

// signOff is the last day on which the sign-off for vigorous work counts that a client
// has or had; zero of who does none, and of whom more keeps from it than the sign-off.
type signOff struct{ Last domain.Date }

// signOffItems are the sign-offs for vigorous work that run out, or have. They are
// worked out from the record each time: signing again ends them.
func (t *tx) signOffItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	stamps, _, err := t.stampedClients(ctx)
	if err != nil {
		return nil, err
	}
	all, err := recall(ctx, t, &t.memos.signed, stamps, t.signOffs)
	var items []WorklistItem
	for i, s := range all {
		if s.Last.IsZero() {
			continue
		}
		if e, ok := worklist.OfSignOff(s.Last, t.today, worklist.PolicyFrom(t.settings)); ok {
			items = append(items, clients[stamps[i].ID].item(e))
		}
	}
	return items, err
}

// signOffs looks at clients for whom vigorous work is prescribed.
func (t *tx) signOffs(ctx context.Context, ids []uuid.UUID) (map[uuid.UUID]signOff, error) {
	rows, _ := t.Query(ctx, `
		SELECT client_id FROM (SELECT DISTINCT ON (client_id) client_id, class FROM prescriptions
			WHERE client_id = ANY($1) ORDER BY client_id, version DESC) p
		WHERE class IN ('vigorous', 'near_maximal')`, ids)
	hard, err := pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
	if err != nil || len(hard) == 0 {
		return nil, err
	}
	week := t.today.Week(t.practice.WeekStart)
	next := week.AddDays(7)
	weeks, err := t.plannedWeeks(ctx, hard, week, next)
	if err != nil {
		return nil, err
	}
	found := make(map[uuid.UUID]signOff, len(hard))
	for _, client := range hard {
		this, now := weeks[plannedKey{client, week}]
		coming, soon := weeks[plannedKey{client, next}]
		if (now || soon) && max(this.Dose.Hardest(), coming.Dose.Hardest()) < intensity.Vigorous {
			continue // the plan has none in these weeks
		}
		p, err := t.prescriptionInForce(ctx, client)
		if err != nil {
			return nil, err
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return nil, err
		}
		if p != nil && f.Gate(t.today).Allow { // what else keeps from it stands on the list for itself
			found[client] = signOff{domain.DateOf(p.SignedAt, t.practice.Location).AddDays(f.policy.SignOffDays)}
		}
	}
	return found, nil
}
