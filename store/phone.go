package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"brae/domain/triage"
	"brae/domain/volume"
)

// Phone is what a client's phone keeps, so that the log and its answer work
// without a connection.
type Phone struct {
	Week    ClientWeek
	LogDays int          // how many days back can still be logged
	Table   triage.Table // for this client, as things are known now
}

// Phone returns what a client's phone keeps of them.
func (s *Store) Phone(ctx context.Context, actor Actor, client uuid.UUID) (Phone, error) {
	var p Phone
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if p.Week, _, err = t.week(ctx, client); err != nil {
			return err
		}
		p.LogDays = volume.PolicyFrom(t.settings).LogDays
		known, err := t.background(ctx, client, uuid.Nil)
		if err != nil {
			return err
		}
		var in triage.Input
		known.into(&in, t.today)
		zones, err := known.zones(t)
		if err != nil {
			return err
		}
		if p.Table, err = triage.NewTable(in.Known, in.Earlier, int(zones.Ceiling), triage.PolicyFrom(t.settings)); err != nil {
			return err
		}
		return t.audit(ctx, "phone.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return Phone{}, fmt.Errorf("phone of client %s: %w", client, err)
	}
	return p, nil
}
