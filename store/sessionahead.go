package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"github.com/google/uuid"

	"brae/domain/intensity"
	"brae/domain/plan"
)

// SessionAhead is the session that a client is about to begin: as it was planned,
// and as it is allowed at this moment.
type SessionAhead struct {
	Week    ClientWeek
	At      time.Time        // when it was asked what is allowed
	Planned plan.NextSession // before holds, ceilings and the gate; zero without a plan and in a break
	Session plan.NextSession // what is left of it; zero if all of it waits
}

// Cut reports whether less is allowed than was planned.
func (a SessionAhead) Cut() bool { return a.Session != a.Planned }

// Seal stands for all that bears on the session: a page that shows another one is
// out of date. What is logged meanwhile changes nothing.
func (a SessionAhead) Seal() string {
	type hold struct{ Scope, Needs, Cause string }
	var holds []hold
	for _, h := range a.Week.Holds {
		holds = append(holds, hold{h.Scope.String(), string(h.Needs), h.Cause})
	}
	what := map[string]any{"session": a.Session, "ceiling": a.Week.Ceiling, "holds": holds, "bounds": a.Week.Bounds}
	if p := a.Week.Prescription; p != nil {
		what["prescription"], what["zones"] = p.Version, p.Zones
	}
	body, err := json.Marshal(what)
	if err != nil { // of numbers and texts: it cannot be
		panic(err)
	}
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:8])
}

// sessionAhead asks the holds, the ceilings and the gate what is allowed now.
func (t *tx) sessionAhead(ctx context.Context, client uuid.UUID) (a SessionAhead, err error) {
	if a.Week, _, err = t.week(ctx, client); err != nil {
		return a, err
	}
	a.At = t.now
	p := a.Week.Prescription
	if p == nil {
		return a, nil
	}
	dose := p.Dose()
	if a.Week.Plan != nil { // that of the week is cut to what is allowed
		planned, err := t.planWeek(ctx, client, a.Week.Week)
		if err != nil {
			return a, err
		}
		if dose = planned.Dose; planned.Sessions == 0 { // a break
			return a, nil
		}
	}
	a.Planned = dose.Next(a.Week.Totals.Vigorous)
	a.Session = a.Planned.Under(a.Week.Allowed())
	return a, nil
}

// SessionAhead returns the session that comes next for a client, with what is
// allowed of it now.
func (s *Store) SessionAhead(ctx context.Context, actor Actor, client uuid.UUID) (SessionAhead, error) {
	var a SessionAhead
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if a, err = t.sessionAhead(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "session.open", client, "client/"+client.String(), a.trail())
	})
	if err != nil {
		return SessionAhead{}, fmt.Errorf("session ahead of client %s: %w", client, err)
	}
	return a, nil
}

// BeginSession is a client who begins the session that they see, and reports
// whether they may: not if anything that bears on it has changed since the page
// with that seal, and not while all exercise waits. Logging is another matter: it
// is never refused.
func (s *Store) BeginSession(ctx context.Context, actor Actor, client uuid.UUID, seal string) (SessionAhead, bool, error) {
	var a SessionAhead
	begun := false
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if _, err = t.lockClient(ctx, client, false); err != nil { // a hold that is being opened comes before or after
			return err
		}
		if a, err = t.sessionAhead(ctx, client); err != nil {
			return err
		}
		begun = a.Session.Class >= intensity.Light && a.Seal() == seal
		trail := a.trail()
		trail["begun"] = begun
		return t.audit(ctx, "session.begin", client, "client/"+client.String(), trail)
	})
	if err != nil {
		return SessionAhead{}, false, fmt.Errorf("begin session of client %s: %w", client, err)
	}
	return a, begun, nil
}

// trail is what the audit trail keeps of what was allowed.
func (a SessionAhead) trail() map[string]any {
	detail := map[string]any{"allowed": a.Session.Hardest().String(), "planned": a.Planned.Hardest().String()}
	if a.Cut() && a.Planned.Hardest() >= intensity.Vigorous {
		detail["gate"] = a.Week.Vigorous.First.Rule
	}
	return detail
}
