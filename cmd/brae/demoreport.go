package main

import (
	"context"
	"time"

	"github.com/google/uuid"

	"brae/domain/report"
	"brae/store"
)

// seedReport signs a report for one of the invented clients.
func seedReport(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, actor store.Actor, client uuid.UUID, given string) error {
	if given != "Jon" {
		return nil
	}
	*clock = today.Add(-2 * time.Hour)
	_, err := s.SignReport(ctx, actor, client, store.ReportSigning{
		Reader: report.ForClient, Language: "en",
		Text: "You walk further than in September, and it feels easier.\nThe hill behind the station is next.",
	})
	return err
}
