package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/prescription"
)

// Prescriptions are all versions that were signed for a client.
type Prescriptions struct {
	Client   Client
	Versions []Prescription // the newest first
	Stale    []prescription.Reason
}

// Version returns a version and the one before it, nil before the first.
func (p Prescriptions) Version(n int) (version, before *Prescription) {
	for i := range p.Versions {
		switch p.Versions[i].Version {
		case n:
			version = &p.Versions[i]
		case n - 1:
			before = &p.Versions[i]
		}
	}
	return version, before
}

// Prescriptions returns the versions of a client, and with a number other than 0 that
// one is what is looked at: [domain.ErrNotFound] if there is none.
func (s *Store) Prescriptions(ctx context.Context, actor Actor, client uuid.UUID, version int) (Prescriptions, error) {
	var p Prescriptions
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if p.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `
			SELECT `+prescriptionColumns+` FROM prescriptions p JOIN accounts a ON a.id = p.signed_by
			WHERE p.client_id = $1 ORDER BY p.version DESC`, client)
		if p.Versions, err = pgx.CollectRows(rows, pgx.RowToStructByName[Prescription]); err != nil {
			return err
		}
		if version != 0 {
			if seen, _ := p.Version(version); seen == nil {
				return domain.ErrNotFound
			}
		}
		if len(p.Versions) > 0 {
			f, err := t.clearanceFile(ctx, client)
			if err != nil {
				return err
			}
			if p.Stale, err = t.stale(&p.Versions[0], &f); err != nil {
				return err
			}
		}
		return t.audit(ctx, "prescription.view", client, "client/"+client.String(), map[string]any{"version": version})
	})
	if err != nil {
		return Prescriptions{}, fmt.Errorf("prescriptions of client %s: %w", client, err)
	}
	return p, nil
}

// PreviewPrescription returns what NewPrescription does, or StepPrescription with a
// step, for a form that is being filled in. It leaves no trace: the page that it is for
// has been audited.
func (s *Store) PreviewPrescription(ctx context.Context, actor Actor, client uuid.UUID, equation heartrate.Equation, step *StepAnswer) (PrescriptionDraft, error) {
	if !actor.Role.Staff() {
		return PrescriptionDraft{}, domain.ErrForbidden
	}
	var d PrescriptionDraft
	err := s.look(ctx, actor, func(t *tx) error {
		c, err := t.client(ctx, client)
		if err != nil {
			return err
		}
		if step != nil {
			d, err = t.stepDraft(ctx, c, equation, *step)
			return err
		}
		d, err = t.prescriptionDraft(ctx, c, equation)
		return err
	})
	if err != nil {
		return PrescriptionDraft{}, fmt.Errorf("preview a prescription of client %s: %w", client, err)
	}
	return d, nil
}
