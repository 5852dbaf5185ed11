package client

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"strconv"

	"brae/domain/fitness"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// testsView is what the page of a client's own fitness tests shows.
type testsView struct {
	Lines []TestLine
}

// TestLine is one test of a client over time, in plain words. Nobody is compared
// with other people here.
type TestLine struct {
	Title    string
	Sentence string // what the last one came to
	Change   string // from the one before; "" with one result
	Chart    ui.Line
}

// Tests shows a client their own fitness tests.
func (p Pages) Tests(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	series, err := p.Store.TestSeries(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v := testsView{Lines: TestLines(r.Context(), series)}
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(r.Context(), "My fitness tests")), testsPage(v))
}

// TestLines are the tests of a client as they read them, for any page of theirs.
func TestLines(ctx context.Context, series []store.TestSeries) []TestLine {
	var lines []TestLine
	for i, s := range series {
		last := s.Last()
		line := TestLine{Title: plainTest(ctx, s.Test.ID)}
		figure, unit := plainOutcome(ctx, last.Outcome)
		line.Sentence = say.F(ctx, "%s: %s %s.", say.Date(ctx, last.DoneOn.Time()), figure, unit)
		if s.Since != nil {
			line.Change = plainChange(ctx, *s.Since)
		}
		line.Chart = ui.Line{
			ID: "test-" + strconv.Itoa(i), Title: line.Title, Unit: unit, Hidden: true,
			Columns: [3]string{say.T(ctx, "Day"), say.T(ctx, "Result"), ""},
		}
		for _, point := range s.Points {
			shown, _ := plainOutcome(ctx, point.Outcome)
			line.Chart.Points = append(line.Chart.Points, ui.LinePoint{
				Day: point.DoneOn.DaysSince(s.Points[0].DoneOn), Label: point.DoneOn.Time().Format("02.01.06"),
				Name: say.Date(ctx, point.DoneOn.Time()), Value: point.Outcome.Value, Shown: shown,
			})
		}
		lines = append(lines, line)
	}
	return lines
}

// plainTest is what a test was, in a client's words.
func plainTest(ctx context.Context, id fitness.TestID) string {
	switch id {
	case fitness.SixMinuteWalk, fitness.SixMinuteWalkBMI:
		return say.T(ctx, "How far you walk in six minutes")
	case fitness.RockportWalk, fitness.RockportWalkLitres:
		return say.T(ctx, "Your walk over one mile")
	case fitness.SingleStageWalk:
		return say.T(ctx, "Your walk on the treadmill")
	case fitness.TreadmillPeak, fitness.CyclePeak:
		return say.T(ctx, "Your test to the limit")
	case fitness.Run15Mile, fitness.Run15MileCollege, fitness.Cooper12Min, fitness.Jog1Mile, fitness.Jog1MileTeen:
		return say.T(ctx, "Your run")
	case fitness.QueensStep, fitness.StagedStep:
		return say.T(ctx, "Your test on the step")
	case fitness.ThreeMinuteStep:
		return say.T(ctx, "Your pulse after three minutes on the step")
	case fitness.ChairStand:
		return say.T(ctx, "How often you stand up from a chair in 30 seconds")
	case fitness.TwoMinuteStep:
		return say.T(ctx, "Steps on the spot in two minutes")
	}
	return say.T(ctx, "Your fitness, worked out from your answers")
}

// plainOutcome is the figure of a test with a unit that needs no course in
// physiology: oxygen is told as times rest.
func plainOutcome(ctx context.Context, o fitness.Outcome) (figure, unit string) {
	switch o.Unit {
	case "m":
		return fmt.Sprintf("%.0f", o.Value), say.T(ctx, "metres")
	case "stands":
		return fmt.Sprintf("%.0f", o.Value), say.T(ctx, "times")
	case "steps":
		return fmt.Sprintf("%.0f", o.Value), say.T(ctx, "steps")
	case "beats":
		return fmt.Sprintf("%.0f", o.Value), say.T(ctx, "heartbeats in a minute")
	}
	return say.Tenths(ctx, int(math.Round(10*fitness.METs(o.Value)))), say.T(ctx, "times the energy of rest")
}

// plainChange says how much changed, without blame for what did not.
func plainChange(ctx context.Context, c store.TestChange) string {
	since := say.Date(ctx, c.From.Time())
	switch {
	case c.Why != "" || c.Change.Tier == fitness.WithinError || c.Change.By == 0:
		return say.F(ctx, "About the same as on %s. Small ups and downs are normal.", since)
	case !c.Change.Better:
		return say.F(ctx, "Less than on %s. Talk with your practitioner about why. It can come back.", since)
	case c.Change.Tier == fitness.Probable || c.Change.Tier == fitness.Small:
		return say.F(ctx, "A bit better than on %s.", since)
	}
	return say.F(ctx, "Clearly better than on %s.", since)
}
