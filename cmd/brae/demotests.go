package main

import (
	"context"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/fitness"
	"brae/store"
)

// demoTest is a fitness test so many days ago.
type demoTest struct {
	ago        int
	input      fitness.Input
	conditions fitness.Conditions
}

// demoTests are the fitness tests of an invented client.
func demoTests(given string) []demoTest {
	rest := fitness.Conditions{RestingHR: new(66), SBP: new(128), DBP: new(80), Note: "Dry, no wind."}
	course := rest
	course.CourseM = new(30.0)
	walk := func(m float64) fitness.Input {
		return fitness.Input{Test: fitness.SixMinuteWalk, Sex: fitness.Male, WeightKg: new(84.0), HeightCm: new(178.0), DistanceM: &m}
	}
	run := func(minutes float64) fitness.Input {
		return fitness.Input{Test: fitness.Run15Mile, Sex: fitness.Male, Minutes: &minutes}
	}
	switch given {
	case "Jon":
		return []demoTest{{60, walk(468), course}, {31, walk(484), course}, {3, walk(523), course}}
	case "Omar":
		return []demoTest{{59, run(12.6), rest}, {10, run(12.1), rest}}
	}
	return nil
}

// seedTests enters the fitness tests at the times when they were done.
func seedTests(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, actor store.Actor, client uuid.UUID, given string) error {
	practice, err := s.Practice(ctx)
	if err != nil {
		return err
	}
	for _, t := range demoTests(given) {
		*clock = today.AddDate(0, 0, -t.ago)
		_, err := s.AddTest(ctx, actor, client, store.TestInput{
			ID: uuid.Must(uuid.NewV7()), On: domain.DateOf(*clock, practice.Location), Input: t.input, Conditions: t.conditions,
		})
		if err != nil {
			return err
		}
	}
	return nil
}
