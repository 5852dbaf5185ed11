package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"brae/domain"
)

// Heading is what stands at the head of every page of the practice about a client.
type Heading struct {
	Client Client
	Today  domain.Date
	Holds  []Hold // open ones, the widest first
}

// Heading returns who a client is and what is on hold for them. The page that it
// heads is what goes into the audit trail.
func (s *Store) Heading(ctx context.Context, actor Actor, client uuid.UUID) (Heading, error) {
	if !actor.Role.Staff() {
		return Heading{}, domain.ErrForbidden
	}
	var h Heading
	err := s.look(ctx, actor, func(t *tx) (err error) {
		if h.Client, err = t.client(ctx, client); err != nil {
			return err
		}
		h.Today = t.today
		h.Holds, err = t.openHolds(ctx, client)
		return err
	})
	if err != nil {
		return Heading{}, fmt.Errorf("heading of client %s: %w", client, err)
	}
	return h, nil
}
