package plan_test

import (
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
)

// What a prescription adds up to: a vigorous minute is worth two moderate ones, a light
// one none. Source: PAGA 2018, p. 58 (30 moderate minutes are about 15 vigorous) and p. 65.
func TestPrescribed(t *testing.T) {
	for _, tt := range []struct {
		source                      string
		class                       intensity.Class
		sessions, minutes, vigorous int
		work, hardest               intensity.Class
		want                        int
	}{
		{"PAGA 2018: 150 moderate minutes", moderate, 5, 30, 0, moderate, moderate, 150},
		{"PAGA 2018: or 75 vigorous ones", vigorous, 3, 25, 0, vigorous, vigorous, 150},
		{"PAGA 2018: light ones add nothing", light, 4, 20, 0, light, light, 0},
		{"PAGA 2018: 140 moderate, 10 vigorous count twice", vigorous, 5, 30, 10, moderate, vigorous, 160},
	} {
		d := plan.Prescribed(tt.class, tt.sessions, tt.minutes, tt.vigorous)
		if got := d.Totals().ModerateEquivalent; got != tt.want || d.Class != tt.work || d.Hardest() != tt.hardest {
			t.Errorf("%s: %+v, hardest %v, %d minutes; want %v, %v, %d", tt.source, d, d.Hardest(), got, tt.work, tt.hardest, tt.want)
		}
	}
}

// Above the range by heart rate alone while it feels easier: no step back before the
// resting heart rate was measured again. Practice setting: 4 of 5.
func TestDoubtfulHeartRate(t *testing.T) {
	begin := domain.NewDate(2026, 1, 5)
	stand := func(change func(*plan.Log)) plan.Standing {
		c := plan.Course{Today: begin.AddDays(13), Ceiling: moderate, Goal: 150}
		for w := range 2 {
			c.Weeks = append(c.Weeks, plan.CourseWeek{First: begin.AddDays(7 * w), Dose: plan.Dose{Class: moderate, Sessions: 3, Minutes: 20}})
		}
		for i := range 6 {
			l := plan.Log{
				Day: begin.AddDays(2 * i), Effort: 11, Talk: intensity.TalkSentences, HeartRate: 140, Low: 100, High: 120,
				Compared: true, Pattern: intensity.HeartRateHarder,
			}
			change(&l)
			c.Logs = append(c.Logs, l)
		}
		return c.Stand(policy)
	}
	for _, tt := range []struct {
		what   string
		change func(*plan.Log)
		want   string
	}{
		{"heart rate alone", func(*plan.Log) {}, plan.SuggestMeasure},
		{"it feels hard, too", func(l *plan.Log) { l.Effort, l.Pattern = 16, intensity.Agreeing }, plan.SuggestEasier},
		{"talking was too hard, too", func(l *plan.Log) { l.Talk = intensity.TalkFewWords }, plan.SuggestEasier},
		{"something was reported", func(l *plan.Log) { l.Reported = true }, plan.SuggestEasier},
		{"nothing to compare with", func(l *plan.Log) { l.Compared = false }, plan.SuggestEasier},
	} {
		s := stand(tt.change)
		if s.Status != plan.TooHard || len(s.Step.Reasons) != 1 || s.Step.Reasons[0].Code != tt.want {
			t.Errorf("%s: %s, %+v; want too hard and %s", tt.what, s.Status, s.Step, tt.want)
		}
	}
}
