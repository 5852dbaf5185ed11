package store

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"brae/domain/intensity"
	"brae/domain/plan"
)

// FlagDrift is the kind of flags that ask for a new resting heart rate.
const FlagDrift = "drift"

// watchDrift flags a client whose talk test and heart rate have come apart over
// several sessions, once.
func (t *tx) watchDrift(ctx context.Context, s Session) error {
	if !slices.ContainsFunc(s.Parts, func(p Part) bool { return p.HeartRate > 0 }) {
		return nil
	}
	if err := t.flush(ctx); err != nil { // the session itself counts
		return err
	}
	courses, err := t.courses(ctx, []uuid.UUID{s.ClientID})
	if err != nil || courses[s.ClientID] == nil {
		return err
	}
	drift := plan.DriftOf(courses[s.ClientID].Logs, plan.PolicyFrom(t.settings))
	if drift == nil {
		return nil
	}
	open, err := t.openFlags(ctx, s.ClientID)
	if err != nil || slices.ContainsFunc(open, func(f Flag) bool { return f.Kind == FlagDrift }) {
		return err
	}
	return t.raise(ctx, Flag{
		Client: s.ClientID, Kind: FlagDrift, Subject: "session/" + s.ID.String(), Urgency: 1, Cause: string(drift.Pattern), Rule: "plan.drift",
		Text:   fmt.Sprintf("In %d of the last %d sessions %s.", drift.Sessions, drift.Of, driftWords[drift.Pattern]),
		Action: "Measure the resting heart rate again, and look at medicines and the strap.",
		Href:   "/clients/" + s.ClientID.String() + "/progress",
	})
}

var driftWords = map[intensity.Pattern]string{
	intensity.HeartRateHarder: "the heart rate was harder than it felt",
	intensity.FeelsHarder:     "it felt harder than the heart rate says",
}
