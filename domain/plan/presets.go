package plan

import (
	"slices"

	"brae/domain/intensity"
	"brae/domain/source"
)

var presets = []Preset{
	{
		ID: "walk_12",
		Says: "Twelve weeks of walking: five minutes slowly, then 5 minutes briskly in the first week and 30 in the last, " +
			"then five minutes slowly. At least three times a week, better five. Any week may be repeated.",
		Weeks: 12, Least: 3, Most: 7, Hardest: intensity.Moderate,
		Sources: []source.Key{"nhlbi_walk"},
		week: func(n int, start Start) []Session {
			brisk := [...]int{5, 7, 9, 11, 13, 15, 18, 20, 23, 26, 28, 30}
			return times(start.Sessions, Session{easy(5), steady(brisk[n-1]), easy(5)})
		},
	},
	{
		ID: "cardiac_12",
		Says: "Twelve weeks for clients of cardiac rehabilitation: three sessions a week of 20 minutes, later 45, " +
			"light or moderate as the start says, with 5 minutes of warm-up and of cool-down. " +
			"The frame is published; how the minutes grow within it is the practice's.",
		Weeks: 12, Least: 3, Most: 3, Hardest: intensity.Light,
		Sources: []source.Key{"racgp_cardiac", "practice"},
		week: func(n int, start Start) []Session {
			training := [...]int{20, 20, 25, 25, 30, 30, 35, 35, 40, 40, 45, 45}
			class := min(start.Class, intensity.Moderate)
			return times(3, Session{easy(5), {Class: class, Seconds: training[n-1] * 60}, easy(5)})
		},
	},
	{
		ID: "three_phase_24",
		Says: "Twenty-four weeks from light to vigorous: four light, eight moderate up to five times 30 minutes, " +
			"then vigorous minutes within them, 4 a week at first and 50 at last.",
		Weeks: 24, Least: 3, Most: 5, Hardest: intensity.Vigorous,
		Sources: []source.Key{"practice"},
		week:    func(n int, _ Start) []Session { return threePhases[n-1].sessions() },
	},
	{
		ID: "run_walk_9",
		Says: "Nine weeks from walking to running 30 minutes: three times a week, five minutes of brisk walking first, " +
			"then running and walking in turn. Any week may be repeated. Running is vigorous for most beginners.",
		Weeks: 9, Least: 3, Most: 3, Hardest: intensity.Vigorous, AfterModerate: true,
		Sources: []source.Key{"nhs_run"},
		week: func(n int, _ Start) []Session {
			week := runWalk[n-1]
			if len(week) == 1 {
				return times(3, week[0])
			}
			return slices.Clone(week)
		},
	},
	{
		ID: "heritage_20",
		Says: "Twenty weeks of cycling, three times a week: from 30 minutes at 55 per cent of maximal oxygen uptake " +
			"to 50 minutes at 75 per cent, one part changed every two weeks, the last six weeks the same.",
		Weeks: 20, Least: 3, Most: 3, Hardest: intensity.Vigorous, AfterModerate: true,
		Sources: []source.Key{"heritage", "garber2011"},
		week: func(n int, _ Start) []Session {
			w := heritage[min((n-1)/2, len(heritage)-1)]
			class := intensity.OxygenMaximum.Of(w.percent, 100)
			return times(3, Session{{class, w.minutes * 60, int(w.percent)}})
		},
	},
}

// heritage has a row for every two weeks: per cent of maximal oxygen uptake,
// and minutes. The last row stays.
var heritage = [...]struct {
	percent int64
	minutes int
}{
	{55, 30}, {55, 35}, {65, 35}, {65, 40}, {70, 40}, {70, 45}, {75, 45}, {75, 50},
}

// runWalk has the sessions of each week; one that stands alone is done three
// times.
var runWalk = [...][]Session{
	{warm(alternate(60, 90, 20*60)...)},
	{warm(alternate(90, 120, 20*60)...)},
	{warm(run(90), walk(90), run(180), walk(180), run(90), walk(90), run(180), walk(180))},
	{warm(run(180), walk(90), run(300), walk(150), run(180), walk(90), run(300))},
	{
		warm(run(300), walk(180), run(300), walk(180), run(300)),
		warm(run(480), walk(300), run(480)),
		warm(run(1200)),
	},
	{
		warm(run(300), walk(180), run(480), walk(180), run(300)),
		warm(run(600), walk(180), run(600)),
		warm(run(1500)),
	},
	{warm(run(1500))},
	{warm(run(1680))},
	{warm(run(1800))},
}

// threePhase is a row of the 24-week programme. Vigorous minutes are done in
// hard sessions, the others are at the class.
type threePhase struct {
	class                              intensity.Class
	count, minutes, vigorous, hardOnes int
}

var threePhases = [...]threePhase{
	{intensity.Light, 3, 15, 0, 0}, {intensity.Light, 3, 20, 0, 0}, {intensity.Light, 3, 25, 0, 0}, {intensity.Light, 4, 25, 0, 0},
	{intensity.Moderate, 4, 25, 0, 0}, {intensity.Moderate, 4, 30, 0, 0}, {intensity.Moderate, 4, 30, 0, 0}, {intensity.Moderate, 4, 30, 0, 0},
	{intensity.Moderate, 5, 30, 0, 0}, {intensity.Moderate, 5, 30, 0, 0}, {intensity.Moderate, 5, 30, 0, 0}, {intensity.Moderate, 5, 30, 0, 0},
	{intensity.Moderate, 5, 30, 4, 1}, {intensity.Moderate, 5, 30, 4, 1}, {intensity.Moderate, 5, 30, 8, 1}, {intensity.Moderate, 5, 30, 8, 1},
	{intensity.Moderate, 5, 30, 12, 1}, {intensity.Moderate, 5, 30, 12, 1}, {intensity.Moderate, 5, 30, 20, 2}, {intensity.Moderate, 5, 30, 30, 2},
	{intensity.Moderate, 5, 30, 40, 2}, {intensity.Moderate, 5, 30, 40, 2}, {intensity.Moderate, 5, 30, 50, 2}, {intensity.Moderate, 5, 30, 50, 2},
}

func (t threePhase) sessions() []Session {
	all := times(t.count, Session{{Class: t.class, Seconds: t.minutes * 60}})
	for i := range t.hardOnes {
		hard := t.vigorous * 60 / t.hardOnes
		all[i] = Session{{Class: t.class, Seconds: t.minutes*60 - hard}, run(hard)}
	}
	return all
}

func times(n int, s Session) []Session {
	all := make([]Session, n)
	for i := range all {
		all[i] = s
	}
	return all
}

func easy(minutes int) Bout   { return Bout{Class: intensity.Light, Seconds: minutes * 60} }
func steady(minutes int) Bout { return Bout{Class: intensity.Moderate, Seconds: minutes * 60} }
func walk(seconds int) Bout   { return Bout{Class: intensity.Moderate, Seconds: seconds} }
func run(seconds int) Bout    { return Bout{Class: intensity.Vigorous, Seconds: seconds} }

// warm puts five minutes of brisk walking first.
func warm(bouts ...Bout) Session { return append(Session{steady(5)}, bouts...) }

// alternate runs and walks in turn until the time is up.
func alternate(runs, walks, total int) []Bout {
	var bouts []Bout
	for total > 0 {
		for _, b := range []Bout{run(runs), walk(walks)} {
			b.Seconds = min(b.Seconds, total)
			total -= b.Seconds
			if b.Seconds > 0 {
				bouts = append(bouts, b)
			}
		}
	}
	return bouts
}
